// Package changes compares a plan with one that was recorded: what was read otherwise, and what follows from it.
package changes

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"balustrade/jobbook/finding"
	"balustrade/jobbook/job"
	"balustrade/jobbook/layout"
	"balustrade/jobbook/length"
	"balustrade/jobbook/price"
	"balustrade/jobbook/source"
	"balustrade/jobbook/takeoff"
	"balustrade/jobbook/working"
)

// Sort is what a line of a record is about.
type Sort string

// The sorts, in the order in which changes are told: what somebody wrote, then what follows from it.
const (
	Reading Sort = "reading" // a length
	Choice  Sort = "choice"  // anything else that is written in a file
	Count   Sort = "count"
	Mark    Sort = "mark"
	Piece   Sort = "piece"
	Order   Sort = "order"
	Check   Sort = "check"
	Price   Sort = "price"
	Date    Sort = "date"
)

// Sorts are all of them, in order.
var Sorts = []Sort{Reading, Choice, Count, Mark, Piece, Order, Check, Price, Date}

// Line is one fact of a plan.
type Line struct {
	Sort  Sort
	Of    string // what it belongs to: run/gallery, handrail/cherry-rail, job
	What  string // clear: floor; mark 12; handrail
	Value string

	// Only of the plan at hand, not of one that was recorded.
	Figure string     // the id of its working
	At     source.Pos // where it was written
}

func (l Line) key() string { return string(l.Sort) + "|" + l.Of + "|" + l.What }

// Input is a plan, room by room.
type Input struct {
	Job      *job.Job
	Layout   layout.Layout
	Takeoff  takeoff.Takeoff
	Buying   takeoff.Buying
	Price    price.Estimate
	Findings []finding.Finding
	Figures  []*working.Figure
}

// Of lists the facts of a plan that somebody may have acted on: every reading and choice of the job's and the shop's files, counts, marks, pieces, what is ordered, verdicts, the price, days to order by.
func Of(in Input) (list []Line) {
	seen := map[string]int{}
	add := func(l Line) {
		l.Of, l.What, l.Value = plain(l.Of), plain(l.What), plain(l.Value)
		if n := seen[l.key()]; n > 0 { // a second one of the same name
			seen[l.key()]++
			l.What += " (" + strconv.Itoa(n+1) + ")"
		}
		seen[l.key()]++
		list = append(list, l)
	}
	tape := func(l length.Length) string { return layout.Tape(l, in.Job.System, in.Job.Division.Length) }
	for _, doc := range in.Job.Documents {
		kind := doc.Front.Get("kind")
		if doc.Layer == source.Library || kind == nil || slices.Contains(untold, kind.Text) {
			continue
		}
		of := kind.Text + "/" + doc.Name
		switch kind.Text {
		case "job":
			of = "job"
		case "flight":
			of = "run/" + doc.Name
		}
		leaves(doc.Front, "", func(what string, n *source.Node) {
			sort := Choice
			if _, err := length.Parse(n.Text, in.Job.System); err == nil && !slices.Contains(counted, what[strings.LastIndex(what, " ")+1:]) {
				sort = Reading
			}
			add(Line{Sort: sort, Of: of, What: what, Value: n.Text, At: n.At})
		})
	}
	for _, r := range in.Layout.Runs {
		if r.Chosen == nil {
			continue
		}
		figure := ""
		if r.Gap != nil {
			figure = r.Gap.ID
		}
		add(Line{Sort: Count, Of: r.ID, What: "balusters", Value: strconv.Itoa(r.Chosen.Count), Figure: figure})
		id := figure
		if r.MarkFig != nil {
			id = r.MarkFig.ID
		}
		for _, m := range r.Marks {
			at := m.At
			if r.Rake != nil && m.Along != 0 {
				at = m.Along
			}
			add(Line{Sort: Mark, Of: r.ID, What: fmt.Sprintf("mark %d", m.K), Value: tape(at), Figure: id})
		}
	}
	for _, c := range in.Takeoff.Pieces {
		of := "parts"
		if c.Run != "" {
			of = "run/" + c.Run
		}
		value := strconv.Itoa(c.Count)
		if !c.ToFit {
			value += " at " + tape(c.Length)
		}
		what := c.What
		if c.Which != "" {
			what += ", " + c.Which
		}
		add(Line{Sort: Piece, Of: of, What: what, Value: value, Figure: c.Figure})
	}
	for _, n := range in.Takeoff.Needs {
		value := strconv.Itoa(n.Order)
		if n.Running > 0 {
			value = tape(n.Running) + " run together"
		}
		add(Line{Sort: Order, Of: n.Kind + "/" + n.Part, What: "needed", Value: value, Figure: n.Figure})
	}
	for _, f := range in.Findings {
		add(Line{Sort: Check, Of: f.Group, What: f.Title, Value: f.Verdict.String(), Figure: f.Figure, At: f.At})
	}
	if in.Price.Known {
		add(Line{Sort: Price, Of: "job", What: "total", Value: in.Price.Total.String(), Figure: in.Price.Figure})
	}
	for _, o := range in.Buying.Orders {
		if o.By != "" {
			add(Line{Sort: Date, Of: "order from " + o.Supplier.Title, What: "by", Value: o.By})
		}
	}
	return list
}

// untold are kinds of file whose words change no number that somebody acts on, and those of the shop whose numbers show in what is ordered and in the price.
var untold = []string{"issue", "step", "caution", "alternative", "supplier", "rack", "species"}

// counted are keys of plain numbers, which are no lengths.
var counted = []string{"count", "built", "surfacing", "coated-in", "per-tread", "stands", "load-duration", "times"}

// wordy are keys whose words change nothing.
var wordy = []string{"kind", "title", "note", "words", "done", "photos", "shows", "why"}

// leaves calls f with every value below a node, named by the keys that lead to it; an entry of a list goes by the place or name it gives itself, else by its number.
func leaves(n *source.Node, path string, f func(what string, n *source.Node)) {
	switch {
	case n.Blank() || n.Block:
	case n.Kind == source.Map:
		for _, e := range n.Entries {
			if !slices.Contains(wordy, e.Key) {
				leaves(e.Value, strings.TrimPrefix(path+": "+e.Key, ": "), f)
			}
		}
	case n.Kind == source.List:
		for i, item := range n.Items {
			name := strconv.Itoa(i + 1)
			for _, k := range []string{"at", "where", "what", "part"} {
				if v := item.Get(k); !v.Blank() && v.Kind == source.Scalar {
					name = k + " " + v.Text
					break
				}
			}
			leaves(item, path+" ["+name+"]", f)
		}
	default:
		f(path, n)
	}
}

// plain keeps a text to one line without the mark that parts of a line are told apart by.
func plain(text string) string {
	return strings.Join(strings.Fields(strings.Map(func(r rune) rune {
		if r == '|' {
			return '/'
		}
		return r
	}, text)), " ")
}

// Text writes lines one below the other, in order, so that two records of one job merge line by line.
func Text(list []Line) string {
	lines := make([]string, 0, len(list))
	for _, l := range list {
		lines = append(lines, string(l.Sort)+" | "+l.Of+" | "+l.What+" | "+l.Value)
	}
	return strings.Join(lines, "\n") + "\n"
}

// Parse reads what Text wrote. bad is the first line that is none, counted from 1; 0 where all are.
func Parse(text string) (list []Line, bad int) {
	for i, line := range strings.Split(text, "\n") {
		if strings.TrimSpace(line) == "" {
			continue
		}
		parts := strings.SplitN(strings.TrimSuffix(line, "\r"), " | ", 4)
		if len(parts) == 3 && strings.HasSuffix(parts[2], " |") { // an empty value
			parts = append(parts[:2], strings.TrimSuffix(parts[2], " |"), "")
		}
		if len(parts) != 4 || !slices.Contains(Sorts, Sort(parts[0])) {
			return list, i + 1
		}
		list = append(list, Line{Sort: Sort(parts[0]), Of: parts[1], What: parts[2], Value: parts[3]})
	}
	return list, 0
}
