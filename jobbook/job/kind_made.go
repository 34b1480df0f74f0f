package job

import (
	"slices"
	"strconv"
	"strings"

	"balustrade/jobbook/source"
)

// MadeFile is what was made by one day: pieces cut, drilled, coated.
type MadeFile struct {
	Origin
	Title  Text
	Date   Text // the day, as 2026-12-09
	By     Text
	Pieces []MadeLine
	Sticks []MadeSticks
}

// MadeLine is one piece, or several alike, as somebody recorded them.
type MadeLine struct {
	Mark Text // what is written on them: G-H, or G-B1 to G-B12
	Made
}

// MadeSticks are delivered sticks that were cut into: they are whole no more.
type MadeSticks struct {
	Part Text
	Kind Text
	Cut  []Measure // their lengths, as the delivery has them
	At   source.Pos
}

// Made is one piece that is made, as far as it is.
type Made struct {
	Mark   Mark
	Of     Ref // the run or post it was made for; by its mark where nobody says
	Part   Text
	Kind   Text
	Long   Measure // as the cut list has it: of a baluster at its axis, of a raked rail along an edge, from plumb cut to plumb cut
	Lower  Ratio   // how far off square the lower end is cut, the foot or the one at the datum; square where absent
	Upper  Ratio   // the other end
	Wide   Measure // of its section
	High   Measure
	Radius Measure // at the balusters, of one that is bent
	Off    Measure // taken off the foot of a newel
	Holes  []Measure
	Hole   MadeHole
	Bored  Bored
	Skew   Skew // of a rail
	Bolt   Ref
	Bolts  []BoltBore // of a newel
	Finish Ref
	Coats  Whole // of its finish that are on it, from the first on; 0 for bare wood
	Lost   Flag  // spoiled, or used elsewhere
	Note   Text
	At     source.Pos
	Day    Text // of its file

	Run    *Run // nil where no run of the job has the name or the mark any more
	Post   *Post
	Bolted *Bolt
}

// MadeHole is how wide and deep the holes of a shoe or rail are.
type MadeHole struct{ Wide, Deep Measure }

// Bored is the ends of a rail that are bored for a bolt: how high over the rail's underside the middle of the bore is. One that is there and not given is to be gauged.
type Bored struct{ From, To Measure }

// Skew is the turns at the posts that a rail's ends were cut for, off square in plan.
type Skew struct{ From, To Turn }

// BoltBore is a bore in a newel for the bolt of a rail, above what the newel stands on.
type BoltBore struct {
	Of Ref
	Up Measure
}

// degrees are the units of a bevel.
var degrees = []string{"°", "deg"}

var madeFields = []field[MadeLine]{
	textField("mark", "what is written on it, or on several alike: G-H; G-B1 to G-B12, G-B15", func(l *MadeLine) *Text { return &l.Mark }),
	textField("part", "the part it was made of", func(l *MadeLine) *Text { return &l.Part }),
	kindField(func(l *MadeLine) *Text { return &l.Kind }),
	nameField("of", "run, flight or post", "what it was made for; by its mark where absent", func(l *MadeLine) *Ref { return &l.Of }),
	lengthField("long", "its length as it is now, measured like the cut list's: of a baluster at its axis, of a raked rail or shoe along an edge", func(l *MadeLine) *Measure { return &l.Long }),
	ratioField("lower-bevel", "how far off square its lower end is cut, the foot or the end at the datum; square where absent", degrees, func(l *MadeLine) *Ratio { return &l.Lower }),
	ratioField("upper-bevel", "how far off square its other end is cut", degrees, func(l *MadeLine) *Ratio { return &l.Upper }),
	lengthField("wide", "width of its section, or across its foot; the part's where absent", func(l *MadeLine) *Measure { return &l.Wide }),
	lengthField("high", "height of its section; the part's where absent", func(l *MadeLine) *Measure { return &l.High }),
	lengthField("radius", "of one that is bent, at the line of the balusters", func(l *MadeLine) *Measure { return &l.Radius }),
	lengthField("off", "what was taken off the foot of a newel", func(l *MadeLine) *Measure { return &l.Off }),
	lengthsField("holes", "of a shoe or a rail: the middle of each hole for a baluster, from its end at the datum, along it", func(l *MadeLine) *[]Measure { return &l.Holes }),
	mapField("hole", "how wide and deep those holes are", holeFields, func(l *MadeLine) *MadeHole { return &l.Hole }),
	mapField("bored", "of a rail: ends that are bored for a bolt, each with how high over the rail's underside the middle of the bore is", boredFields, func(l *MadeLine) *Bored { return &l.Bored }),
	mapField("skew", "of a rail whose end is cut off square in plan: the turn at the post there that it was cut for, as the job has it", skewFields, func(l *MadeLine) *Skew { return &l.Skew }),
	nameField("bolt", "bolt", "the bolt that it is bored for", func(l *MadeLine) *Ref { return &l.Bolt }),
	listField("bolts", "of a newel: bores for the bolts of its rails", boltBoreFields, func(l *MadeLine) *[]BoltBore { return &l.Bolts }),
	nameField("finish", "finish", "what it is coated with, any coat of it", func(l *MadeLine) *Ref { return &l.Finish }),
	wholeField("coats", "how many coats of its finish are on it, from the first on, coats alike counted each; 0 for bare wood", 0, 100, func(l *MadeLine) *Whole { return &l.Coats }),
	flagField("lost", "it was spoiled, or went elsewhere; a line after this one is about another piece of that mark", func(l *MadeLine) *Flag { return &l.Lost }),
	textField("note", "anything else about it", func(l *MadeLine) *Text { return &l.Note }),
}

var holeFields = []field[MadeHole]{
	lengthField("wide", "diameter, or side of a square one", func(h *MadeHole) *Measure { return &h.Wide }),
	lengthField("deep", "depth", func(h *MadeHole) *Measure { return &h.Deep }),
}

var boredFields = []field[Bored]{
	lengthField("from", "at the datum, or lower, end", func(b *Bored) *Measure { return &b.From }),
	lengthField("to", "at the other end", func(b *Bored) *Measure { return &b.To }),
}

func turnField[T any](key, doc string, at func(*T) *Turn) field[T] {
	return field[T]{key, "left or right and degrees", doc, nil, func(d *decoder, n *source.Node, to *T) { *at(to) = d.turn(n) }}
}

var skewFields = []field[Skew]{
	turnField("from", "at the datum, or lower, end", func(s *Skew) *Turn { return &s.From }),
	turnField("to", "at the other end", func(s *Skew) *Turn { return &s.To }),
}

var boltBoreFields = []field[BoltBore]{
	nameField("of", "run or flight", "whose rail it is for", func(b *BoltBore) *Ref { return &b.Of }),
	lengthField("up", "its middle above what the newel stands on", func(b *BoltBore) *Measure { return &b.Up }),
}

var madeSticksFields = []field[MadeSticks]{
	textField("part", "the part", func(s *MadeSticks) *Text { return &s.Part }),
	kindField(func(s *MadeSticks) *Text { return &s.Kind }),
	lengthsField("cut", "lengths of the sticks that were cut into, as the delivery has them; what is left of them goes on the rack", func(s *MadeSticks) *[]Measure { return &s.Cut }),
}

var madeFileFields = []field[MadeFile]{
	textField("title", "name on the page", func(f *MadeFile) *Text { return &f.Title }),
	dateField("date", "the day", func(f *MadeFile) *Text { return &f.Date }),
	textField("by", "who made them", func(f *MadeFile) *Text { return &f.By }),
	placedList("pieces", "what is made, a line for a piece or for several alike; a later line adds to what an earlier one says of a mark, or takes its place, key by key", madeFields, func(f *MadeFile) *[]MadeLine { return &f.Pieces }, func(l *MadeLine) *source.Pos { return &l.At }),
	placedList("sticks", "delivered sticks that were cut into", madeSticksFields, func(f *MadeFile) *[]MadeSticks { return &f.Sticks }, func(s *MadeSticks) *source.Pos { return &s.At }),
}

// over lays what a later line says over what an earlier one did.
func (m Made) over(later Made) Made {
	out := m
	out.Of, out.Part, out.Kind = later.Of.or(m.Of), later.Part.or(m.Part), later.Kind.or(m.Kind)
	out.Long, out.Wide, out.High = later.Long.Or(m.Long), later.Wide.Or(m.Wide), later.High.Or(m.High)
	out.Radius, out.Off = later.Radius.Or(m.Radius), later.Off.Or(m.Off)
	if later.Lower.Given {
		out.Lower = later.Lower
	}
	if later.Upper.Given {
		out.Upper = later.Upper
	}
	if len(later.Holes) > 0 {
		out.Holes = later.Holes
	}
	out.Hole = MadeHole{later.Hole.Wide.Or(m.Hole.Wide), later.Hole.Deep.Or(m.Hole.Deep)}
	bore := func(now, was Measure) Measure {
		if now.At.IsZero() {
			return was
		}
		return now
	}
	out.Bored = Bored{bore(later.Bored.From, m.Bored.From), bore(later.Bored.To, m.Bored.To)}
	if later.Skew.From.Given {
		out.Skew.From = later.Skew.From
	}
	if later.Skew.To.Given {
		out.Skew.To = later.Skew.To
	}
	out.Bolt, out.Finish = later.Bolt.or(m.Bolt), later.Finish.or(m.Finish)
	switch {
	case later.Coats.Given && later.Coats.N == 0 && !later.Finish.Given:
		out.Coats, out.Finish = later.Coats, Ref{} // stripped
	case later.Coats.Given:
		out.Coats = later.Coats
	case later.Finish.Given && later.Finish.Text != m.Finish.Text:
		out.Coats = Whole{} // those that were counted are of another finish
	}
	if len(later.Bolts) > 0 {
		out.Bolts = later.Bolts
	}
	if later.Lost.Given {
		out.Lost = later.Lost
	}
	out.Note, out.At, out.Day = later.Note.or(m.Note), later.At, later.Day.or(m.Day)
	return out
}

// or is the text, or another where it is blank.
func (t Text) or(other Text) Text {
	if t.Given {
		return t
	}
	return other
}

// made follows the names in what was recorded as made, and gives every piece by itself what its lines say of it.
func (d *decoder) made(j *Job) {
	at := map[string]int{} // the piece that a mark stands for now
	for _, f := range j.MadeFiles {
		for _, s := range f.Sticks {
			d.part(j, f.Layer, s.Part, s.Kind, s.At)
		}
		for i := range f.Pieces {
			l := &f.Pieces[i]
			for _, m := range d.madeLine(j, l) {
				one := l.Made
				one.Mark, one.Day = m, f.Date
				if k, ok := at[m.Text]; ok && !j.Made[k].Lost.Yes {
					*j.Made[k] = j.Made[k].over(one)
					continue
				}
				at[m.Text] = len(j.Made)
				j.Made = append(j.Made, &one)
			}
		}
	}
	for _, m := range j.Made {
		switch {
		case !m.Part.Given && !slices.ContainsFunc(d.problems, func(p source.Problem) bool { return p.At == m.At }):
			d.at(m.At, 1, "add part: , the name of what it was made of", "%s: nobody says which part it was made of", clip(m.Mark.Text))
		case m.Part.Given && d.part(j, source.Job, m.Part, m.Kind, m.At) && !slices.Contains(j.Wares(m.Part.Text), madeKind(m.Mark.What)):
			d.at(m.Part.At, len([]rune(m.Part.Text)), "write the part it was made of, or the mark that is on it", "%s is the mark of a %s, and %q is none", clip(m.Mark.Text), m.Mark.What, clip(m.Part.Text))
		}
		d.madeCoats(j, m)
		m.place(j)
	}
}

// madeCoats holds the coats that are said to be on a piece to the finish that they are of.
func (d *decoder) madeCoats(j *Job, m *Made) {
	at, width := m.Coats.At, len(strconv.Itoa(m.Coats.N))
	known := slices.ContainsFunc(d.problems, func(p source.Problem) bool { return p.At == at }) // a line of several marks is told once
	switch {
	case !m.Coats.Given || known:
	case m.Coats.N > 0 && !m.Finish.Given:
		d.at(at, width, "add finish: , what it is coated with", "coats are on it, and nobody says of which finish")
	case m.Coats.N == 0 && m.Finish.Given:
		d.at(at, width, "leave finish: out of it, or write how many coats are on it", "bare wood that is coated with %q", clip(m.Finish.Text))
	default:
		for _, f := range j.Coatings {
			if n := f.AllCoats(); f.Name == m.Finish.Text && m.Coats.N > n {
				d.at(at, width, "count coats alike each: a coat with times: 2 is two", "%d coats are on it, and %s has %d", m.Coats.N, clip(f.Name), n)
			}
		}
	}
}

// madeKind is the kind of part that a sort of piece is made of.
func madeKind(what string) string {
	switch what {
	case "wall rail":
		return "handrail"
	case "shoe fillet", "rail fillet":
		return "fillet"
	}
	return what
}

// Ware is the kind of part that it was made of.
func (m *Made) Ware() string { return madeKind(m.Mark.What) }

// madeLine reads the marks of one line and refuses what can't be.
func (d *decoder) madeLine(j *Job, l *MadeLine) []Mark {
	if !l.Mark.Given {
		d.at(l.At, 1, "add mark: , as the book's labels and its cutting plan have it: G-B7", "a piece without its mark")
		return nil
	}
	marks, err := Marks(l.Mark.Text)
	if err != nil {
		d.at(l.Mark.At, len([]rune(l.Mark.Text)), "write marks as the labels have them: G-H; G-B1 to G-B12, G-B15", "%q: %s", clip(l.Mark.Text), err)
		return nil
	}
	var letters []string
	for _, m := range marks {
		if !slices.Contains(letters, m.What) {
			letters = append(letters, m.What)
		}
	}
	if len(letters) > 1 {
		d.at(l.Mark.At, len([]rune(l.Mark.Text)), "write a line for each", "one line of %s", strings.Join(letters, " and "))
		return nil
	}
	for _, m := range []Measure{l.Long, l.Wide, l.High, l.Radius, l.Hole.Wide, l.Hole.Deep} {
		if m.Given && m.Length <= 0 {
			d.at(m.At, 1, "write it as measured", "a size of nothing")
		}
	}
	if l.Off.Given && l.Off.Length < 0 {
		d.at(l.Off.At, 1, "write what was taken off", "less than nothing taken off")
	}
	const most = 80_000 // thousandths of a degree off square: no saw cuts beyond
	for _, r := range []Ratio{l.Lower, l.Upper} {
		if r.Given && r.Thousandths > most {
			d.at(r.At, 1, "write it off square, as the set-up cards have it", "a bevel of more than %d degrees off square", most/1000)
		}
	}
	for i, h := range l.Holes {
		switch {
		case i > 0 && h.Length <= l.Holes[i-1].Length:
			d.at(h.At, 1, "write them from the end at the datum on", "a hole is no farther along than the one before it")
		case l.Long.Given && h.Length >= l.Long.Length:
			d.at(h.At, 1, "measure both again", "a hole beyond the end of the piece")
		default:
			continue
		}
		break
	}
	what := letters[0]
	for _, x := range []struct {
		said  bool
		at    source.Pos
		key   string
		kinds []string
	}{
		{len(l.Holes) > 0, first(l.Holes).At, "holes", []string{"shoe", "handrail"}},
		{!l.Bored.From.At.IsZero() || !l.Bored.To.At.IsZero(), l.Bored.From.Or(l.Bored.To).At, "bored", []string{"handrail"}},
		{l.Skew.From.Given || l.Skew.To.Given, l.Skew.From.At, "skew", []string{"handrail"}},
		{len(l.Bolts) > 0, firstBore(l.Bolts).Up.At, "bolts", []string{"newel"}},
		{l.Off.Given, l.Off.At, "off", []string{"newel"}},
		{l.Radius.Given, l.Radius.At, "radius", []string{"handrail", "shoe"}},
	} {
		if x.said && !slices.Contains(x.kinds, what) {
			if x.at.IsZero() {
				x.at = l.At
			}
			d.at(x.at, 1, "leave it out", "%s: says nothing of a %s", x.key, what)
		}
	}
	if len(marks) > 1 && (len(l.Holes) > 0 || len(l.Bolts) > 0) {
		d.at(l.Mark.At, len([]rune(l.Mark.Text)), "write a line for each", "what is drilled is drilled piece by piece, and this line is of %d", len(marks))
	}
	l.Bolted = find(d, l.Bolt, "bolt", j.Bolts, func(b *Bolt) string { return b.Name })
	if l.Finish.Given {
		find(d, l.Finish, "finish", j.Coatings, func(f *Finish) string { return f.Name })
	}
	return marks
}

func first(list []Measure) Measure {
	if len(list) == 0 {
		return Measure{}
	}
	return list[0]
}

func firstBore(list []BoltBore) BoltBore {
	if len(list) == 0 {
		return BoltBore{}
	}
	return list[0]
}

// place finds the run or the post that a piece was made for, by name or by its mark. There may be none any more: the piece is there all the same.
func (m *Made) place(j *Job) {
	if m.Bolt.Given && m.Bolted == nil {
		for _, b := range j.Bolts {
			if b.Name == m.Bolt.Text {
				m.Bolted = b
			}
		}
	}
	newel := m.Mark.What == "newel"
	if m.Of.Given {
		if newel {
			m.Post = j.Post(m.Of.Text)
		} else {
			m.Run = j.run(m.Of.Text)
		}
		return
	}
	if newel {
		var names []string
		for _, p := range j.Posts {
			names = append(names, p.Name)
		}
		if i := slices.Index(Codes(names), m.Mark.Code); i >= 0 {
			m.Post = &j.Posts[i]
		}
		return
	}
	if i := slices.Index(Codes(j.runNames()), m.Mark.Code); i >= 0 {
		m.Run = j.Runs[i]
	}
}
