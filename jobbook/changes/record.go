// Package changes compares a plan with one that was recorded: what was read otherwise, and what follows from it.
package changes

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"

	"balustrade/jobbook/exact"
	"balustrade/jobbook/finding"
	"balustrade/jobbook/job"
	"balustrade/jobbook/layout"
	"balustrade/jobbook/length"
	"balustrade/jobbook/price"
	"balustrade/jobbook/sequence"
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
	Of    string // what it belongs to: run/gallery, post/corner, handrail/cherry-rail, job
	What  string // clear: floor; mark 12; handrail; of a check the stem of its id
	Value string
	Title string // of a check, in words: it holds numbers that move, so nothing is compared by it

	// Only of the plan at hand, not of one that was recorded.
	Figure string        // the id of its working
	At     source.Pos    // where it was written
	Set    source.Pos    // of a check, where its limit was written
	System length.System // of a reading, the unit of a bare number
}

// Words are what a line is about, for a reader.
func (l Line) Words() string {
	if l.Title != "" {
		return l.Title
	}
	return l.What
}

// short are keys that take one value for what can be written out below them.
var short = map[string]string{"from": "from: at", "to": "to: at", "height": "height: top", "clear": "clear: floor"}

// key is the same for a fact however its key was written.
func (l Line) key() string {
	if long := short[l.What]; long != "" && l.written() {
		l.What = long
	}
	return string(l.Sort) + "|" + l.Of + "|" + l.What
}

// Input is a plan, room by room.
type Input struct {
	Job      *job.Job
	Layout   layout.Layout
	Takeoff  takeoff.Takeoff
	Buying   takeoff.Buying
	Schedule sequence.Schedule
	Price    price.Estimate
	Findings []finding.Finding
	Figures  []*working.Figure
}

func (in Input) tape(l length.Length) string {
	return layout.Tape(l, in.Job.System, in.Job.Division.Length)
}

// recorder collects lines, each under a name of its own.
type recorder struct {
	Input
	lines []Line
	seen  map[string]int
}

func (r *recorder) add(l Line) {
	l.Of, l.What, l.Value, l.Title = plain(l.Of), plain(l.What), plain(l.Value), plain(l.Title)
	key := l.key()
	if n := r.seen[key]; n > 0 { // a second one of the same name
		l.What += " (" + strconv.Itoa(n+1) + ")"
	}
	r.seen[key]++
	r.lines = append(r.lines, l)
}

// Of lists the facts of a plan that somebody may have acted on: every reading and choice of the job's and the shop's files, counts, marks, holes, pieces, what is needed and bought, verdicts, the price, days.
func Of(in Input) []Line {
	r := &recorder{Input: in, seen: map[string]int{}}
	r.written()
	r.laidOut()
	r.cut()
	r.bought()
	for _, f := range in.Findings {
		r.add(Line{Sort: Check, Of: f.Group, What: strings.TrimPrefix(strings.TrimPrefix(f.ID, "check/"), f.Group+"/"), Value: f.Verdict.String(), Title: f.Title, Figure: f.Figure, At: f.At, Set: f.Set})
	}
	if in.Price.Known {
		r.add(Line{Sort: Price, Of: "job", What: "total", Value: in.Price.Total.String(), Figure: in.Price.Figure})
	}
	r.days()
	return r.lines
}

// fileOf is what the lines of a file belong to.
func fileOf(doc source.Document) string {
	switch kind := doc.Front.Get("kind").Text; kind {
	case "job":
		return "job"
	case "flight":
		return "run/" + doc.Name
	default:
		return kind + "/" + doc.Name
	}
}

// told reports that what a file says is recorded.
func told(doc source.Document) bool {
	kind := doc.Front.Get("kind")
	return doc.Layer != source.Library && kind != nil && !slices.Contains(untold, kind.Text)
}

// written is what somebody wrote. A post is told as though it had a file of its own.
func (r *recorder) written() {
	for _, doc := range r.Job.Documents {
		if !told(doc) {
			continue
		}
		kind, of, system := doc.Front.Get("kind").Text, fileOf(doc), r.Job.Units(&doc)
		leaves(doc.Front, nil, "", func(keys []string, what string, n *source.Node) {
			l := Line{Sort: Choice, Of: of, What: what, Value: n.Text, At: n.At}
			if name, rest, ok := strings.Cut(strings.TrimPrefix(what, "posts: "), ": "); kind == "job" && keys[0] == "posts" && ok {
				l.Of, l.What = "post/"+name, rest
			}
			if _, err := length.Parse(n.Text, system); err == nil && measured(kind, keys) {
				l.Sort, l.System = Reading, system
			}
			r.add(l)
		})
	}
}

// laidOut are counts, marks and holes.
func (r *recorder) laidOut() {
	for _, run := range r.Layout.Runs {
		if run.Chosen == nil {
			continue
		}
		figure := ""
		if run.Gap != nil {
			figure = run.Gap.ID
		}
		r.add(Line{Sort: Count, Of: run.ID, What: "balusters", Value: strconv.Itoa(run.Chosen.Count), Figure: figure})
		id := figure
		if run.MarkFig != nil {
			id = run.MarkFig.ID
		}
		for _, m := range run.Marks {
			at := m.At
			if run.Rake != nil && m.Along != 0 {
				at = m.Along
			}
			r.add(Line{Sort: Mark, Of: run.ID, What: fmt.Sprintf("mark %d", m.K), Value: r.tape(at), Figure: id})
		}
		for _, h := range run.Holes {
			r.add(Line{Sort: Mark, Of: run.ID, What: "holes " + h.Where, Value: r.tape(h.Wide) + " wide, " + r.tape(h.Deep) + " deep", Figure: h.Deeps})
		}
	}
	for _, post := range r.Layout.Posts {
		for _, a := range post.Arrivals {
			if a.Known && a.Bolt > 0 {
				r.add(Line{Sort: Mark, Of: post.ID, What: "bolt of " + a.Run + ", above the floor", Value: r.tape(a.Bolt.Round(r.Job.Division.Length, length.Nearest)), Figure: post.ID + "/bolt/" + a.Run})
			}
		}
	}
}

// cut are the pieces. Those that are counted along a run stand on one line, so that one that is a little longer changes that line and not the names of several.
func (r *recorder) cut() {
	together := map[string]int{} // place in lines
	alike := map[string]int{}    // pieces of one sort in one run
	for _, c := range r.Takeoff.Pieces {
		alike[c.Run+"|"+c.What]++
	}
	for _, c := range r.Takeoff.Pieces {
		of, what := "parts", c.What
		numbered := c.Run != "" && len(c.Numbers) > 0
		switch {
		case c.Run != "":
			of = "run/" + c.Run
		case c.What == "newel" && slices.ContainsFunc(r.Layout.Posts, func(p layout.Post) bool { return p.Name == c.Which }):
			of = "post/" + c.Which
		}
		if c.Which != "" && !numbered && of != "post/"+c.Which && (c.Run == "" || alike[c.Run+"|"+c.What] > 1) { // the only rail of a run is the same one between other posts
			what += ", " + c.Which
		}
		value := strconv.Itoa(c.Count)
		if !c.ToFit {
			value += " at " + r.tape(c.Length)
		}
		if c.Long > 0 {
			value += ", long point " + r.tape(c.Long)
		}
		if !numbered {
			r.add(Line{Sort: Piece, Of: of, What: what, Value: value, Figure: c.Figure})
			continue
		}
		if c.Which != "all" {
			value += ": " + c.Which
		}
		if i, ok := together[of+"|"+what]; ok {
			r.lines[i].Value += "; " + plain(value)
			continue
		}
		together[of+"|"+what] = len(r.lines)
		r.add(Line{Sort: Piece, Of: of, What: what, Value: value, Figure: c.Figure})
	}
}

// bought is what is needed, and in which packs, sticks and cans it comes.
func (r *recorder) bought() {
	for _, n := range r.Takeoff.Needs {
		value := strconv.Itoa(n.Order)
		if n.Running > 0 {
			value = r.tape(n.Running) + runTogether
		}
		r.add(Line{Sort: Order, Of: n.Kind + "/" + n.Part, What: "needed", Value: value, Figure: n.Figure})
	}
	for _, o := range r.Buying.Orders {
		if o.Supplier.Name == "" {
			continue
		}
		for _, l := range o.Lines {
			size := ""
			switch {
			case l.Pack > 1:
				size = fmt.Sprintf(", packs of %d", l.Pack)
			case l.Long > 0 && l.Pack == 0:
				size = ", sticks of " + r.tape(l.Long)
			case l.Can.Given:
				size = ", cans of " + working.Decimal(exact.New(l.Can.Thousandths, 1000)) + " " + l.Can.Unit
			}
			what := "from " + o.Supplier.Title + size
			if l.Coat != "" {
				what = l.Coat + " " + what
			}
			r.add(Line{Sort: Order, Of: l.Kind + "/" + l.Part, What: what, Value: strconv.Itoa(l.Count), Figure: l.Figure})
		}
	}
}

// runTogether ends how a record has the length of a part that is cut from sticks.
const runTogether = " run together"

// days are when to order, when each step begins, and when the work is over.
func (r *recorder) days() {
	for _, o := range r.Buying.Orders {
		if o.By != "" {
			r.add(Line{Sort: Date, Of: "order from " + o.Supplier.Title, What: "by", Value: o.By})
		}
	}
	s := r.Schedule
	if !s.Known || !s.Dated {
		return
	}
	seen := map[string]bool{}
	last := 0
	ends, names := map[string]int{}, []string{}
	for i, t := range s.Tasks {
		if t.Done || i >= len(s.Table.Placed) || i >= len(s.Of) || s.Of[i].Step == nil {
			continue
		}
		last = max(last, s.Table.Placed[i].End)
		name := s.Of[i].Step.Step.Name
		for _, x := range append([]*sequence.Step{s.Of[i].Step}, s.Of[i].With...) {
			if _, had := ends[x.Step.Name]; !had {
				names = append(names, x.Step.Name)
			}
			ends[x.Step.Name] = max(ends[x.Step.Name], s.Table.Placed[i].End)
		}
		if !seen[name] {
			seen[name] = true
			r.add(Line{Sort: Date, Of: "step/" + name, What: "begins", Value: s.Date(s.Table.Placed[i].Start).Format(time.DateOnly)})
		}
	}
	for _, name := range names {
		r.add(Line{Sort: Date, Of: "step/" + name, What: isOver, Value: s.Date(max(ends[name]-1, 0)).Format(time.DateOnly)})
	}
	if last > 0 {
		r.add(Line{Sort: Date, Of: "job", What: "the work is over", Value: s.Date(last).Format(time.DateOnly)})
	}
}

// untold are kinds of file whose words change no number that somebody acts on, and those of the shop whose numbers show in what is ordered and in the price.
var untold = []string{"issue", "punch", "step", "caution", "alternative", "supplier", "rack", "species"}

// wordy are keys whose words change nothing.
var wordy = []string{"kind", "title", "note", "words", "done", "used", "retighten", "photos", "shows", "why"}

// measured reports that a key of a kind of file takes lengths: a crew of 2 and an hour's 58.00 are none. Names that stand between keys, such as those of posts and limits, are passed over.
func measured(kind string, keys []string) bool {
	at := slices.IndexFunc(job.Kinds, func(k job.Key) bool { return k.Key == kind })
	if at < 0 {
		return false
	}
	known, form := job.Kinds[at].Sub, ""
	for _, key := range keys {
		if i := slices.IndexFunc(known, func(k job.Key) bool { return k.Key == key }); i >= 0 {
			form = known[i].Form
			if len(known[i].Sub) > 0 {
				known = known[i].Sub
			}
		}
	}
	for _, other := range []string{"number", "money", "words", "yes", "date", "hours", "time,"} {
		if strings.Contains(form, other) {
			return false
		}
	}
	return true
}

// naming are the keys that tell the entries of a list apart, so that one has the same name wherever it stands in the list.
var naming = []string{"mark", "of", "at", "where", "what", "part", "coat", "batch"}

// leaves calls f with every value below a node, with the keys that lead to it and its name made of them. An entry of a list goes by what tells it from the others, else by its number; words in a list stand together.
func leaves(n *source.Node, keys []string, name string, f func(keys []string, name string, n *source.Node)) {
	switch {
	case n.Blank() || n.Block:
	case n.Kind == source.Map:
		for _, e := range n.Entries {
			if !slices.Contains(wordy, e.Key) {
				leaves(e.Value, append(slices.Clip(keys), e.Key), strings.TrimPrefix(name+": "+e.Key, ": "), f)
			}
		}
	case n.Kind == source.List && together(n):
		var words []string
		for _, item := range n.Items {
			words = append(words, item.Text)
		}
		f(keys, name, &source.Node{Text: strings.Join(words, ", "), At: n.Items[0].At})
	case n.Kind == source.List:
		for i, item := range n.Items {
			entry, rest := strconv.Itoa(i+1), *item
			if item.Kind == source.Map {
				var by []string
				rest.Entries = nil
				for _, e := range item.Entries {
					if slices.Contains(naming, e.Key) && e.Value.Kind == source.Scalar && !e.Value.Blank() {
						by = append(by, e.Key+" "+e.Value.Text)
					} else {
						rest.Entries = append(rest.Entries, e)
					}
				}
				if len(by) > 0 && len(rest.Entries) > 0 {
					entry = strings.Join(by, ", ")
				} else {
					rest.Entries = item.Entries
				}
			}
			leaves(&rest, keys, name+" ["+entry+"]", f)
		}
	default:
		f(keys, name, n)
	}
}

// together reports a list of words, which are told on one line: a number first makes it a list of readings.
func together(n *source.Node) bool {
	for _, item := range n.Items {
		if item.Kind != source.Scalar || item.Blank() || item.Block {
			return false
		}
		_, inches := length.Parse(item.Text, length.Inches)
		_, mm := length.Parse(item.Text, length.Millimetres)
		if inches == nil || mm == nil {
			return false
		}
	}
	return len(n.Items) > 0
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
		line := string(l.Sort) + " | " + l.Of + " | " + l.What + " | " + l.Value
		if l.Title != "" {
			line += ": " + l.Title
		}
		lines = append(lines, line)
	}
	return strings.Join(lines, "\n") + "\n"
}

// Parse reads what Text wrote, whatever its line ends. bad is the first line that is none, or that gives a fact for the second time, as where two records were merged; counted from 1, 0 where all are good.
func Parse(text string) (list []Line, bad int) {
	seen := map[string]bool{}
	for i, line := range strings.Split(text, "\n") {
		line = strings.TrimSpace(line)
		if line == "" {
			continue
		}
		parts := strings.SplitN(line, " | ", 4)
		if len(parts) == 3 && strings.HasSuffix(parts[2], " |") { // an empty value
			parts = append(parts[:2], strings.TrimSuffix(parts[2], " |"), "")
		}
		if len(parts) != 4 || !slices.Contains(Sorts, Sort(parts[0])) {
			return list, i + 1
		}
		l := Line{Sort: Sort(parts[0]), Of: parts[1], What: parts[2], Value: parts[3]}
		if l.Sort == Check {
			l.Value, l.Title, _ = strings.Cut(l.Value, ": ")
		}
		if seen[l.key()] {
			return list, i + 1
		}
		seen[l.key()] = true
		list = append(list, l)
	}
	return list, 0
}
