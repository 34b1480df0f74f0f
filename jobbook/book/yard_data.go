package book

import (
	"strconv"

	"balustrade/jobbook/yard"
)

// YardData is the name of the file in which the jobs of a yard stand as data. It lists the folders whose books were made.
const YardData = "yard.json"

type yardJob struct {
	Folder  string `json:"folder"`
	Title   string `json:"title"`
	Client  string `json:"client"`
	Place   string `json:"place"`
	State   string `json:"state"`
	Problem string `json:"problem,omitempty"`
	Stops   int    `json:"failing-checks"`
	Asks    int    `json:"to-ask"`
	Missing int    `json:"to-measure"`
	Next    string `json:"next"`
	NextDay string `json:"next-day"`
	OrderBy string `json:"order-by"`
	Wanted  string `json:"wanted"`
	First   string `json:"first-day"`
	Last    string `json:"last-day"`
}

type yardClash struct {
	Date   string   `json:"date"`
	From   int      `json:"from"` // minutes from midnight
	To     int      `json:"to"`
	People int      `json:"people"`
	Crew   *int     `json:"crew"` // null where the shop does not say
	Jobs   []string `json:"jobs"`
}

type yardLine struct {
	Supplier string     `json:"supplier"`
	Kind     string     `json:"kind"`
	Part     string     `json:"part"`
	Title    string     `json:"title"`
	Coat     string     `json:"coat,omitempty"`
	Count    int        `json:"count"`
	Size     string     `json:"size"`
	Each     *string    `json:"each"`
	Amount   *string    `json:"amount"`
	Complete bool       `json:"complete"`
	For      []yardPart `json:"for"`
}

type yardPart struct {
	Job    string `json:"job"`
	Count  int    `json:"count,omitempty"`
	Volume string `json:"volume,omitempty"`
}

// data is the yard as data: yard.json, and a table of the jobs.
func (b *yardBook) data() ([]File, error) {
	all := struct {
		Shop   string      `json:"shop"`
		Jobs   []yardJob   `json:"jobs"`
		People []yardClash `json:"people"`
		Order  []yardLine  `json:"order"`
	}{Shop: b.yard.Name, Jobs: []yardJob{}, People: []yardClash{}, Order: []yardLine{}}
	table := sheet{path: "jobs.csv", head: []string{"folder", "title", "client", "place", "state", "failing checks", "to ask", "to measure", "next", "next day", "order by", "wanted", "first day", "last day"}}
	for _, s := range b.yard.Jobs {
		all.Jobs = append(all.Jobs, yardJob{s.Folder, s.Title, s.Client, s.Place, s.State.String(), s.Problem, len(s.Stops), s.Asks, s.Missing, s.Next, s.NextDay, s.OrderBy, s.Wanted, s.First, s.Last})
		number := func(n int) cell { return cell(strconv.Itoa(n)) }
		table.row(cellText(s.Folder), cellText(s.Title), cellText(s.Client), cellText(s.Place), cellText(s.State.String()), number(len(s.Stops)), number(s.Asks), number(s.Missing), cellText(s.Next), cellText(s.NextDay), cellText(s.OrderBy), cellText(s.Wanted), cellText(s.First), cellText(s.Last))
	}
	for _, c := range b.yard.Clashes {
		x := yardClash{Date: c.Date, From: c.From, To: c.To, People: c.People, Jobs: c.Jobs}
		if c.Known {
			x.Crew = &b.yard.Crew.N
		}
		all.People = append(all.People, x)
	}
	for _, o := range b.yard.Buying.Orders {
		for _, l := range o.Lines {
			all.Order = append(all.Order, b.line(l))
		}
	}
	data, err := dataJSON(&all)
	return []File{{YardData, data}, table.file()}, err
}

func (b *yardBook) line(l yard.Together) yardLine {
	x := yardLine{Supplier: l.Supplier, Kind: l.Kind, Part: l.Part, Title: l.Title, Coat: l.Coat, Count: l.Count, Complete: l.Complete}
	switch {
	case l.Long > 0:
		x.Size = string(taped(l.Long, l.System))
	case l.Can.Given:
		x.Size = ratio(l.Can)
	case l.Pack > 1:
		x.Size = "pack of " + strconv.Itoa(l.Pack)
	}
	if l.Priced {
		each, amount := l.Each.String(), l.Amount.String()
		x.Each, x.Amount = &each, &amount
	}
	for _, p := range l.For {
		part := yardPart{Job: p.Folder, Count: p.Count}
		if l.Kind == "finish" {
			part.Count, part.Volume = 0, string(poured(p.Volume, l.System))
		}
		x.For = append(x.For, part)
	}
	return x
}
