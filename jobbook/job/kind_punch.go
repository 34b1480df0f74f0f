package job

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"

	"balustrade/jobbook/source"
)

// Readers are whom a page of notes or a punch list can be for. The shop's is the whole book, which has everything.
var Readers = []string{"shop", "crew", "client", "inspector"}

// For lists whom a file is for, as its key for: says; nil where it says nothing.
func For(doc *source.Document) []string {
	if doc == nil {
		return nil
	}
	n := doc.Front.Get("for")
	if n.Blank() {
		return nil
	}
	items := []*source.Node{n}
	if n.Kind == source.List {
		items = n.Items
	}
	var list []string
	for _, item := range items {
		if item.Kind == source.Scalar && slices.Contains(Readers, strings.TrimSpace(item.Text)) {
			list = append(list, strings.TrimSpace(item.Text))
		}
	}
	return list
}

// readers holds the key for: to the words that there are.
func (d *decoder) readers(n *source.Node) (list []Text) {
	for _, item := range d.items(n) {
		if t := d.oneOf(item, Readers); t.Given {
			list = append(list, t)
		}
	}
	return list
}

const forForm = "shop or crew or client or inspector; or a list of them"

// Punch is what is still to be put right, as it was found on one walk round the guard.
type Punch struct {
	Origin
	Title Text
	Date  Text // the day of the walk
	By    Text // who walked
	For   []Text
	Items []PunchItem
}

// PunchItem is one thing that is to be put right.
type PunchItem struct {
	What  Text
	Of    Ref // run, flight or post; the whole job where absent
	Where Text
	Owner Text // who sees to it
	By    Text // day by which
	Done  Text // day on which it was done
	Note  Text // for the shop and the crew
	At    source.Pos
}

// Open reports an item that is still to be done.
func (p PunchItem) Open() bool { return p.What.Given && !p.Done.Given }

var punchItemFields = []field[PunchItem]{
	textField("what", "what is to be put right", func(p *PunchItem) *Text { return &p.What }),
	nameField("of", "run, flight or post", "what it is on; the whole job where absent", func(p *PunchItem) *Ref { return &p.Of }),
	textField("where", "where on it", func(p *PunchItem) *Text { return &p.Where }),
	textField("owner", "who sees to it", func(p *PunchItem) *Text { return &p.Owner }),
	dateField("by", "day by which it is to be done", func(p *PunchItem) *Text { return &p.By }),
	dateField("done", "day on which it was done; open where blank or absent", func(p *PunchItem) *Text { return &p.Done }),
	textField("note", "anything else about it, for the shop and the crew alone", func(p *PunchItem) *Text { return &p.Note }),
}

var punchFields = []field[Punch]{
	textField("title", "name on the page", func(p *Punch) *Text { return &p.Title }),
	dateField("date", "the day on which it was walked", func(p *Punch) *Text { return &p.Date }),
	textField("by", "who walked", func(p *Punch) *Text { return &p.By }),
	{"for", forForm, "whose editions have it, beside the whole book: the crew's alone where absent", nil, func(d *decoder, n *source.Node, p *Punch) { p.For = d.readers(n) }},
	placedList("items", "what is to be put right", punchItemFields, func(p *Punch) *[]PunchItem { return &p.Items }, func(p *PunchItem) *source.Pos { return &p.At }),
}

// punches holds items to what there is, and their days to an order that can be.
func (d *decoder) punches(j *Job) {
	known := j.runNames()
	for _, post := range j.Posts {
		known = append(known, post.Name)
	}
	for _, x := range j.Punches {
		for _, p := range x.Items {
			if !p.What.Given && (p.Owner.Given || p.By.Given || p.Done.Given) {
				d.at(p.At, 1, "add what: and what is to be put right", "an item does not say what is to be put right")
			}
			if p.Of.Given && !slices.Contains(known, p.Of.Text) {
				d.missing(p.Of, "run, flight or post", known)
			}
			if p.By.Given && x.Date.Given && p.By.Text < x.Date.Text {
				d.at(p.By.At, len(p.By.Text), "write a day after the walk, by which it is to be put right", "to be done by %s, before it was found on %s", p.By.Text, x.Date.Text)
			}
			if p.Done.Given && x.Date.Given && p.Done.Text < x.Date.Text { // days are written so that words are in their order
				d.at(p.Done.At, len(p.Done.Text), "write the day on which it was put right", "done on %s, before it was found on %s", p.Done.Text, x.Date.Text)
			}
		}
	}
}

// Used is a can, or another thing, that was really used: what somebody needs who touches it up in ten years.
type Used struct {
	Finish  Ref
	Part    *Finish // nil where no finish is named
	On      Text    // balusters, handrail, ...
	Coat    Text
	Product Text // as the label has it
	Colour  Text
	Sheen   Text
	Batch   Text
	Date    Text
	Left    Text // what is left of it, and where it is kept
	Note    Text
	At      source.Pos
}

var usedFields = []field[Used]{
	nameField("finish", "finish", "the finish that it belongs to", func(u *Used) *Ref { return &u.Finish }),
	textField("on", "what it is on: balusters, handrail, the old boards", func(u *Used) *Text { return &u.On }),
	textField("coat", "which coat of the finish", func(u *Used) *Text { return &u.Coat }),
	textField("product", "what it is, as its label has it", func(u *Used) *Text { return &u.Product }),
	textField("colour", "name or number of the colour, as it was mixed", func(u *Used) *Text { return &u.Colour }),
	textField("sheen", "flat, satin, semi-gloss, ...", func(u *Used) *Text { return &u.Sheen }),
	textField("batch", "batch number on the can", func(u *Used) *Text { return &u.Batch }),
	dateField("date", "the day of the last coat of it", func(u *Used) *Text { return &u.Date }),
	textField("left", "what is left of it, and where it is kept", func(u *Used) *Text { return &u.Left }),
	textField("note", "anything else about it, for the shop and the crew alone", func(u *Used) *Text { return &u.Note }),
}

// usedUp follows the names of finishes.
func (d *decoder) usedUp(j *Job) {
	for i := range j.Used {
		u := &j.Used[i]
		u.Part = find(d, u.Finish, "finish", j.Coatings, func(c *Finish) string { return c.Name })
		if !u.Finish.Given && !u.Product.Given && !u.Coat.Given && (u.Colour.Given || u.Batch.Given || u.On.Given) {
			d.at(u.At, 1, "add finish: or product:", "what was used does not say what it is")
		}
	}
}

// Retighten is the shop's rule for the day on which bolts are tightened for the first time.
type Retighten struct {
	Ends     YearDay // heating is over by this day of the year
	Standing Span    // the guard has to have stood in the heated house so long by then
}

// YearDay is a day of any year.
type YearDay struct {
	Month, Day int
	Given      bool
}

// In is the day in a year. 29 February is 1 March where there is none.
func (y YearDay) In(year int) time.Time {
	return time.Date(year, time.Month(y.Month), y.Day, 0, 0, 0, 0, time.UTC)
}

// String is the day as it is written: 04-15.
func (y YearDay) String() string { return fmt.Sprintf("%02d-%02d", y.Month, y.Day) }

var retightenFields = []field[Retighten]{
	{"ends", "a day of the year, month-day, as in 04-15", "the day by which heating is over for the year, where you work", nil, func(d *decoder, n *source.Node, r *Retighten) {
		r.Ends = d.yearDay(n)
	}},
	spanField("standing", "how long the guard has to have stood in the heated house by then; if it has not, it is the year after", func(r *Retighten) *Span { return &r.Standing }),
}

func (d *decoder) yearDay(n *source.Node) YearDay {
	var y YearDay
	text, ok := d.scalar(n, "a day of the year")
	if !ok {
		return y
	}
	month, day, cut := strings.Cut(text, "-")
	m, err := strconv.Atoi(month)
	k, other := strconv.Atoi(day)
	const leap = 2000 // a year that has every day
	if at := time.Date(leap, time.Month(m), k, 0, 0, 0, 0, time.UTC); !cut || len(month) != 2 || len(day) != 2 || err != nil || other != nil || m < 1 || m > 12 || at.Month() != time.Month(m) || at.Day() != k {
		d.problem(n, "write month and day, as in 04-15", "want a day of the year as month-day, found %q", clip(text))
		return y
	}
	y.Month, y.Day, y.Given = m, k, true
	return y
}
