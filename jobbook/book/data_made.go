package book

import (
	"encoding/json"

	"balustrade/jobbook/job"
	"balustrade/jobbook/takeoff"
)

// This file is what is made already as data.

type dataMade struct {
	Mark   string       `json:"mark" doc:"what is written on it" unit:"text"`
	Part   string       `json:"part" doc:"name of the part it was made of" unit:"text"`
	Kind   string       `json:"kind" doc:"kind of that part" unit:"text"`
	Run    string       `json:"run,omitempty" doc:"run it was made for; absent for a newel, and where the job has no such run any more" unit:"text"`
	Post   string       `json:"post,omitempty" doc:"post it was made for" unit:"text"`
	Long   *dataLength  `json:"long,omitempty" doc:"its length; absent where it was not read" unit:"length"`
	Holes  []dataLength `json:"holes" doc:"middle of each hole for a baluster, from its end at the datum" unit:"length"`
	Finish string       `json:"finish,omitempty" doc:"what it is coated with" unit:"text"`
	Coats  *int         `json:"coats,omitempty" min:"0" doc:"how many coats of it are on it, 0 for bare wood; absent where nobody says" unit:"coats"`
	Fate   string       `json:"fate" enum:"fate" doc:"what becomes of it" unit:"text"`
	Place  string       `json:"place,omitempty" doc:"mark of the piece that it is to be; absent where it takes no place" unit:"text"`
	Piece  *int         `json:"piece,omitempty" min:"0" doc:"which of the takeoff's pieces that is, from 0" unit:"none"`
	To     *dataLength  `json:"to,omitempty" doc:"what it is trimmed to" unit:"length"`
	Off    *dataLength  `json:"off,omitempty" doc:"what comes off it" unit:"length"`
	Cuts   []string     `json:"cuts" doc:"marks of the pieces that are cut from it, or from what is trimmed off it" unit:"text"`
	Rest   *dataLength  `json:"rest,omitempty" doc:"what goes to the rack" unit:"length"`
	Why    string       `json:"why,omitempty" doc:"why it takes no place, what it waits for, or what else is done to it first" unit:"text"`
	Cost   json.Number  `json:"cost,omitempty" doc:"of the material in one that is lost; absent where no price is known" unit:"the shop's currency"`
	Figure string       `json:"figure,omitempty" doc:"id of the working of that" unit:"text"`
	At     *dataPlace   `json:"at,omitempty" doc:"where it was written last" unit:"none"`
}

// fateNames are the words for takeoff.Fate, in order.
var fateNames = []string{"as it is", "trimmed", "recut", "rack", "left over", "lost", "to be measured"}

func (d dataWriter) marksOf(list []takeoff.StickPiece) (names []string) {
	names = []string{}
	for _, p := range list {
		for _, l := range d.plan.Takeoff.Labels {
			if l.Piece == p.Piece && l.N == p.N {
				names = append(names, l.Mark)
			}
		}
	}
	return names
}

func (d dataWriter) made(x takeoff.Made) dataMade {
	m := x.Of
	out := dataMade{
		Mark: m.Mark.Text, Part: m.Part.Text, Kind: m.Ware(), Long: d.lengthIf(m.Long.Given, m.Long.Length), Holes: eachOf(m.Holes, func(h job.Measure) dataLength { return d.length(h.Length) }),
		Finish: m.Finish.Text, Fate: fateNames[x.Fate-1], Place: x.Mark, To: d.lengthIf(x.Fate == takeoff.Trimmed, x.To), Off: d.lengthIf(x.Fate == takeoff.Trimmed, x.Off),
		Cuts: d.marksOf(x.Cuts), Rest: d.lengthIf(x.Rest > 0, x.Rest), Why: x.Why, Figure: x.Figure, At: placeIf(m.At),
	}
	if m.Run != nil {
		out.Run = m.Run.Name
	}
	if m.Post != nil {
		out.Post = m.Post.Name
	}
	if x.Piece >= 0 {
		out.Piece = &x.Piece
	}
	if m.Coats.Given {
		out.Coats = &m.Coats.N
	}
	if x.Cost.Given {
		out.Cost = amountOf(x.Cost.Money)
	}
	return out
}

func (d dataWriter) madeTable() File {
	s := sheet{path: "data/made.csv", head: []string{"mark", "part", "kind", "run or post", d.in("length"), "length", "what becomes of it", "place", d.in("trimmed to"), "trimmed to", "cut from it", d.in("to the rack"), "to the rack", "why", "cost", "currency", "written at"}}
	for _, x := range d.plan.Takeoff.Made.Pieces {
		m := d.made(x)
		long, longText := d.both(x.Of.Long.Given, x.Of.Long.Length)
		to, toText := d.both(x.Fate == takeoff.Trimmed, x.To)
		rest, restText := d.both(x.Rest > 0, x.Rest)
		s.row(cellText(m.Mark), cellText(m.Part), cellText(m.Kind), cellText(m.Run+m.Post), long, longText, cellText(m.Fate), cellText(m.Place), to, toText, cellText(marks(m.Cuts)), rest, restText, cellText(m.Why),
			cell(string(m.Cost)), cellText(d.job.Shop.Currency.Text), cellText(x.Of.At.String()))
	}
	return s.file()
}
