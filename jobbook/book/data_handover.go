package book

import (
	"strings"

	"balustrade/jobbook/job"
)

// The hand-over as data: its types, how they are filled, and the table of what is to be put right.

type dataHandOver struct {
	Punch     []dataPunch    `json:"punch" doc:"what is to be put right, list by list in the order of the files" unit:"none"`
	Used      []dataUsed     `json:"used" doc:"what was really put on" unit:"none"`
	Retighten *dataRetighten `json:"retighten,omitempty" doc:"when bolts are tightened for the first time; absent while no day is worked out" unit:"none"`
}

type dataPunch struct {
	List  string     `json:"list" doc:"name of the list" unit:"text"`
	For   []string   `json:"for" doc:"whose editions have it, beside the whole book; the crew's alone where empty" unit:"text"`
	Found string     `json:"found,omitempty" doc:"the day on which it was found" unit:"date"`
	What  string     `json:"what" doc:"what is to be put right" unit:"text"`
	Of    string     `json:"of,omitempty" doc:"the run, flight or post; absent for the job as a whole" unit:"text"`
	Where string     `json:"where,omitempty" doc:"where on it" unit:"text"`
	Owner string     `json:"owner,omitempty" doc:"who sees to it" unit:"text"`
	By    string     `json:"by,omitempty" doc:"day by which" unit:"date"`
	Done  string     `json:"done,omitempty" doc:"day on which it was done; absent while it is open" unit:"date"`
	Note  string     `json:"note,omitempty" doc:"anything else about it" unit:"text"`
	At    *dataPlace `json:"at,omitempty" doc:"where it was written" unit:"none"`
}

type dataUsed struct {
	Finish  string `json:"finish,omitempty" doc:"name of the finish" unit:"text"`
	On      string `json:"on,omitempty" doc:"what it is on" unit:"text"`
	Coat    string `json:"coat,omitempty" doc:"which coat" unit:"text"`
	Product string `json:"product,omitempty" doc:"what it is, as its label has it" unit:"text"`
	Colour  string `json:"colour,omitempty" doc:"the colour as it was mixed" unit:"text"`
	Sheen   string `json:"sheen,omitempty" doc:"flat, satin, ..." unit:"text"`
	Batch   string `json:"batch,omitempty" doc:"batch on the can" unit:"text"`
	Date    string `json:"date,omitempty" doc:"day of the last coat of it" unit:"date"`
	Left    string `json:"left,omitempty" doc:"what is left, and where" unit:"text"`
	Note    string `json:"note,omitempty" doc:"anything else about it" unit:"text"`
}

type dataRetighten struct {
	From   string `json:"from" doc:"the day of the hand-over that it is reckoned from" unit:"date"`
	Stands bool   `json:"stands" doc:"every step is done; else from is the last day of the calendar" unit:"none"`
	Day    string `json:"day" doc:"the day about which to come back" unit:"date"`
	Figure string `json:"figure" doc:"id of its working" unit:"text"`
}

func (d dataWriter) handOver() dataHandOver {
	out := dataHandOver{Punch: []dataPunch{}}
	for _, x := range d.job.Punches {
		for _, p := range x.Items {
			if p.What.Given {
				out.Punch = append(out.Punch, dataPunch{x.Name, eachOf(x.For, func(t job.Text) string { return t.Text }), x.Date.Text, p.What.Text, p.Of.Text, p.Where.Text, p.Owner.Text, p.By.Text, p.Done.Text, p.Note.Text, placeIf(p.At)})
			}
		}
	}
	out.Used = eachOf(d.job.Used, func(u job.Used) dataUsed {
		return dataUsed{u.Finish.Text, u.On.Text, u.Coat.Text, u.Product.Text, u.Colour.Text, u.Sheen.Text, u.Batch.Text, u.Date.Text, u.Left.Text, u.Note.Text}
	})
	if r := d.plan.Retighten; r.Day != "" {
		out.Retighten = &dataRetighten{r.From, r.Stands, r.Day, r.Figure.ID}
	}
	return out
}

func (d dataWriter) punchTable() File {
	s := sheet{path: "data/punch.csv", head: []string{"list", "for", "found", "what", "of", "where", "who", "by", "done", "note"}}
	for _, p := range d.handOver().Punch {
		s.row(cellText(p.List), cellText(strings.Join(p.For, ", ")), cellText(p.Found), cellText(p.What), cellText(p.Of), cellText(p.Where), cellText(p.Owner), cellText(p.By), cellText(p.Done), cellText(p.Note))
	}
	return s.file()
}
