package job

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"balustrade/jobbook/source"
)

// AsBuilt is what was read on the guard as it stands, on one day.
type AsBuilt struct {
	Origin
	Title    Text
	Date     Text    // the day of the readings, as 2027-02-12
	By       Text    // who read them
	With     Text    // what they were read with
	Division Measure // finest division of that tape; the job's where absent
	Readings []BuiltReading
	Pushes   []Push
}

// BuiltReading is one reading on a run or a flight that stands.
type BuiltReading struct {
	Of    Ref
	What  Text // one of BuiltMeasures
	Read  Measure
	Where Text
	Note  Text
	At    source.Pos
	Run   *Run // nil while it is not said of what
}

// Push is what a push by hand showed: an observation, no proof of a load.
type Push struct {
	Of    Ref
	Where Text
	Load  Text // how hard, in words
	Moves Flag
	Note  Text
	At    source.Pos
	Run   *Run  // the run or flight that was pushed, or
	Post  *Post // the post
}

// BuiltMeasures are what is read on a guard that stands, by the words that a file has for them; Form says on what.
var BuiltMeasures = []Key{
	{"opening", "", "the largest ball that passes between two balusters, with the place in where: between 7 and 8, counted from the datum end", nil},
	{"end opening", "", "the largest ball that passes between the last baluster and the wall or post, with the end in where: from, to, or what stands there", nil},
	{"height", "", "top of the handrail above the finished floor, or plumb above a nosing of the flight, with its number in where, counted from below", nil},
	{"drop", "", "from the walking surface down beside the guard", nil},
	{"landing opening", "of a flight", "the largest ball that passes between two balusters on its landing", nil},
	{"landing height", "of a flight", "top of the handrail plumb above its landing, where the guard goes on over that, at the face of the highest riser", nil},
	{"triangle", "of a flight", "the largest ball that passes between riser, tread and the underside of an open shoe", nil},
	{"handrail height", "of a flight", "top of the handrail plumb above a nosing, with its number in where; that of the rail on the wall where there is one", nil},
	{"wall clearance", "of a flight", "between the rail on the wall and the wall", nil},
	{"projection", "of a flight", "how far the rail on the wall stands out", nil},
	{"riser", "of a flight", "a riser, with its number in where, counted from below; the greatest of all without one", nil},
	{"tread", "of a flight", "depth of a tread, nosing to nosing, with its number in where, counted from below; the least of all without one", nil},
	{"nosing", "of a flight", "how far a nosing stands out", nil},
	{"riser opening", "of a flight", "the largest ball that passes between two treads without a riser", nil},
	{"diameter", "of a flight", "of a round handrail; where: wall rail says that it is the one on the wall, here and below", nil},
	{"girth", "of a flight", "round a handrail that is not round, with a string", nil},
	{"across", "of a flight", "greatest distance across a handrail that is not round", nil},
	{"recess start", "of a flight", "where the finger recess begins, below the tallest part", nil},
	{"recess depth", "of a flight", "depth of the finger recess", nil},
	{"recess within", "of a flight", "how far below the widest part it is that deep", nil},
	{"recess kept", "of a flight", "depth that the recess keeps to its lower end", nil},
	{"recess end", "of a flight", "where its lower end is, below the tallest part", nil},
	{"recess width", "of a flight", "width of the handrail above its recess", nil},
}

func builtNames(stair bool) []string {
	var list []string
	for _, k := range BuiltMeasures {
		if stair || k.Form == "" {
			list = append(list, k.Key)
		}
	}
	return list
}

var builtReadingFields = []field[BuiltReading]{
	nameField("of", "run or flight", "what was read", func(r *BuiltReading) *Ref { return &r.Of }),
	{"what", "a measure as built, see below", "which of its measures", nil, func(d *decoder, n *source.Node, r *BuiltReading) {
		r.What = d.text(n, "a measure as built")
		if r.What.Given && !slices.Contains(builtNames(true), r.What.Text) {
			d.unknown(n.At, r.What.Text, "measure", "what is read as built", builtNames(true))
			r.What.Given = false
		}
	}},
	lengthField("read", "the reading", func(r *BuiltReading) *Measure { return &r.Read }),
	textField("where", "where it was read; a later reading of the same measure at the same place takes its place", func(r *BuiltReading) *Text { return &r.Where }),
	textField("note", "anything else about it", func(r *BuiltReading) *Text { return &r.Note }),
}

var pushFields = []field[Push]{
	nameField("of", "run, flight or post", "what was pushed", func(p *Push) *Ref { return &p.Of }),
	textField("where", "where, and which way; a later push there takes its place", func(p *Push) *Text { return &p.Where }),
	textField("load", "how hard: a person's weight, or what a spring scale showed", func(p *Push) *Text { return &p.Load }),
	flagField("moves", "whether anything moves, opens or creaks", func(p *Push) *Flag { return &p.Moves }),
	textField("note", "what was seen", func(p *Push) *Text { return &p.Note }),
}

var asBuiltFields = []field[AsBuilt]{
	textField("title", "name on the page", func(x *AsBuilt) *Text { return &x.Title }),
	dateField("date", "the day of the readings; of several files the newest reading of a place counts", func(x *AsBuilt) *Text { return &x.Date }),
	textField("by", "who read them", func(x *AsBuilt) *Text { return &x.By }),
	textField("with", "what they were read with", func(x *AsBuilt) *Text { return &x.With }),
	lengthField("division", "finest division of that tape; the job's where absent", func(x *AsBuilt) *Measure { return &x.Division }),
	placedList("readings", "what was read, place by place", builtReadingFields, func(x *AsBuilt) *[]BuiltReading { return &x.Readings }, func(r *BuiltReading) *source.Pos { return &r.At }),
	placedList("push", "what a push by hand showed: an observation, no proof of a load", pushFields, func(x *AsBuilt) *[]Push { return &x.Pushes }, func(p *Push) *source.Pos { return &p.At }),
}

// built follows the names in as-built files, and holds each reading to what can be read there.
func (d *decoder) built(j *Job) {
	for _, x := range j.AsBuilt {
		if x.Division.Given && x.Division.Length <= 0 {
			d.at(x.Division.At, 1, "write the finest division of the tape, as in 1/16", "a tape without a division")
		}
		for i := range x.Readings {
			d.builtReading(j, &x.Readings[i])
		}
		for i := range x.Pushes {
			d.pushed(j, &x.Pushes[i])
		}
	}
}

func (d *decoder) builtReading(j *Job, r *BuiltReading) {
	r.Run = j.run(r.Of.Text)
	switch {
	case !r.Of.Given:
		if r.Read.Given {
			d.at(r.At, 1, "add of: and the name of a run or a flight", "a reading does not say what it was read on")
		}
		return
	case r.Run == nil && j.Post(r.Of.Text) != nil:
		d.at(r.Of.At, len([]rune(r.Of.Text)), "write what a push showed: push: [{of: "+clip(r.Of.Text)+", moves: no}]", "of a post nothing is judged by a length, and %q is one", clip(r.Of.Text))
		return
	case r.Run == nil:
		d.missing(r.Of, "run or flight", j.runNames())
		return
	}
	if !r.What.Given {
		told := slices.ContainsFunc(d.problems, func(p source.Problem) bool { return p.At == r.What.At })
		if r.Read.Given && r.What.Text == "" && !told {
			d.at(r.At, 1, "add what: , one of "+strings.Join(builtNames(r.Run.Stair != nil), ", "), "a reading does not say what was read")
		}
		return
	}
	if r.Run.Stair == nil && !slices.Contains(builtNames(false), r.What.Text) {
		d.at(r.What.At, len(r.What.Text), "of a level run are read: "+strings.Join(builtNames(false), ", "), "%s is read on a flight, and %q is a level run", r.What.Text, clip(r.Of.Text))
	}
	if r.Read.Given && (r.Read.Length < 0 || r.Read.Length == 0 && r.What.Text != "nosing" && r.What.Text != "opening" && r.What.Text != "end opening" && r.What.Text != "drop") {
		d.at(r.Read.At, 1, "write it as measured", "a reading of nothing")
	}
	d.builtPlace(r)
}

// builtPlace holds the place of a reading to those there are, where the measure has a place of its own.
func (d *decoder) builtPlace(r *BuiltReading) {
	s := r.Run.Stair
	refuse := func(hint, format string, args ...any) {
		at, width := r.Where.At, max(1, len([]rune(r.Where.Text)))
		if !r.Where.Given {
			at, width = r.At, 1
		}
		d.at(at, width, hint, format, args...)
	}
	d.numberedPlace(r, refuse)
	switch r.What.Text {
	case "height": // of a stair, which may be lower than that of a landing
		if place := strings.Fields(Place(r.Where.Text)); s != nil && slices.Contains(place, "landing") && !slices.Contains(place, "nosing") {
			refuse("write what: landing height; or in where: the nosing that it was read over", "the height of %q is read over a nosing, and this one on a landing", clip(r.Of.Text))
		}
	case "end opening":
		if r.End() < 0 {
			hint := fmt.Sprintf("write where: from (%s), or where: to (%s)", or(r.Run.From.Where.Text), or(r.Run.To.Where.Text))
			refuse(hint, "an end opening does not say at which end of %q it was read", clip(r.Of.Text))
		}
	case "riser", "tread":
		n := 0
		if s != nil {
			n = s.Risers.N()
			if r.What.Text == "tread" && n > 0 {
				n--
			}
		}
		if k := r.Number(); r.Where.Given && (k == 0 || n > 0 && k > n) {
			most := "its number, counted from below"
			if n > 0 {
				most = "a number from 1 to " + strconv.Itoa(n) + ", counted from below"
			}
			refuse("write "+most+"; or leave where: out for the worst of all", "no %s of %q is named %q", r.What.Text, clip(r.Of.Text), clip(r.Where.Text))
		}
	case "wall clearance", "projection":
		if s != nil && !s.WallRail.Given() {
			d.at(r.What.At, len(r.What.Text), "add wall-rail: to the flight", "%s is read on a rail on the wall, and %q has none", r.What.Text, clip(r.Of.Text))
		}
	}
}

func or(name string) string {
	if name == "" {
		return "not named yet"
	}
	return name
}

// End is the end of the run that an end opening was read at: 0 for from, 1 for to, -1 where that is not said. A name that both ends have says nothing.
func (r BuiltReading) End() int {
	place := strings.TrimPrefix(Place(r.Where.Text), "at ")
	from, to := Place(r.Run.From.Where.Text), Place(r.Run.To.Where.Text)
	switch {
	case place == "":
		return -1
	case place == "from", place == from && from != to, r.Run.Stair != nil && place == "lower end":
		return 0
	case place == "to", place == to && from != to, r.Run.Stair != nil && place == "upper end":
		return 1
	}
	return -1
}

// Number is the number of the riser or tread that was read; 0 where none is said, and of all that is read elsewhere.
func (r BuiltReading) Number() int {
	if r.What.Text != "riser" && r.What.Text != "tread" {
		return 0
	}
	n, err := strconv.Atoi(strings.TrimSpace(strings.TrimPrefix(Place(r.Where.Text), r.What.Text)))
	if err != nil || n < 1 {
		return 0
	}
	return n
}

// Place is how the words for a place are compared: without regard to capitals and blanks.
func Place(words string) string { return strings.ToLower(strings.Join(strings.Fields(words), " ")) }

func (d *decoder) pushed(j *Job, p *Push) {
	p.Run, p.Post = j.run(p.Of.Text), j.Post(p.Of.Text)
	switch {
	case !p.Of.Given:
		p.Run, p.Post = nil, nil
		if p.Moves.Given {
			d.at(p.At, 1, "add of: and the name of a run, a flight or a post", "a push does not say what was pushed")
		}
	case p.Run != nil && p.Post != nil:
		d.at(p.Of.At, len([]rune(p.Of.Text)), "give one of them another name", "a run and a post are both named %q", clip(p.Of.Text))
	case p.Run == nil && p.Post == nil:
		known := j.runNames()
		for _, post := range j.Posts {
			known = append(known, post.Name)
		}
		d.missing(p.Of, "run, flight or post", known)
	}
}

func (j *Job) run(name string) *Run {
	for _, r := range j.Runs {
		if r.Name == name {
			return r
		}
	}
	return nil
}

func (j *Job) runNames() []string {
	var list []string
	for _, r := range j.Runs {
		list = append(list, r.Name)
	}
	return list
}
