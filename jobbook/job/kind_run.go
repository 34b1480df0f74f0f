package job

import (
	"slices"

	"balustrade/jobbook/source"
)

// Run is one stretch of guard between two ends: level, straight or curved; or along a flight of stairs, where Stair is set.
type Run struct {
	Name     string
	File     string
	Title    Text
	From, To End
	Clears   []Clear // by height; the first is at the floor
	Height   Height
	Drop     Measure
	Level    []Level // readings down from a level line
	ToCome   ToCome
	Floor    FloorWood // what it is fixed to; the job's for what it does not say
	StandsOn Text      // bare (default) or finished: what the shoe is fixed to
	FloorOut Text      // scribe or lengths; empty: the shop's rule decides
	Parts    Parts
	Most     Measure // worst opening no more than this, tighter than the rules
	Count    Whole   // exactly so many balusters
	Pattern  Text    // even (default) or centred
	Spacing  Measure // of a centred pattern, centre to centre
	Centre   Text    // baluster or gap, of a centred pattern
	Match    Text    // runs of one group get gaps that differ least
	Radius   Measure // of a curved run, at the line of the balusters
	Bends    Text    // of a curved run: left or right, seen from above, coming from its datum end
	Edge     Edge
	Joints   []Measure  // joints in the handrail
	JointsAt source.Pos // of the key, where it is left blank
	OneStick []Text     // parts of which all pieces come from one stick
	Stair    *Stair     // nil for a level run
	Standing *Standing  // the old guard that stays; nil where all is new
	Prose    Prose

	Baluster               *Baluster // nil while not chosen; likewise below
	Handrail               *Handrail
	Shoe                   *Shoe   // nil as well where there is none
	RailFillet, ShoeFillet *Fillet // what fills the plow of each
	Bolt                   *Bolt
	NoShoe                 bool

	NoRailFillet, NoShoeFillet bool // none is wanted there
}

// End is where a run stops.
type End struct {
	Where   Text // wall, or the name of a post
	Post    *Post
	Face    Text    // what the clear was taken to: post, base trim, baseboard, wall
	Thick   Measure // of the baseboard or base trim
	High    Measure // of the baseboard or base trim
	Stays   Flag    // the baseboard or base trim stays when the guard is built
	Plumb   Plumb
	Rosette Ref
	Plate   *Rosette // nil where there is none
	NoPlate bool
	Before  Measure // of a flight: how far its face stands before the face of the riser there, downhill
	Past    Measure // or past it, uphill
	Stands  Whole   // of a flight: the tread that the post stands on, counted from below; 0 is the floor
	Lining  Measure // at a wall: of plaster or board over the stud or blocking
	Held    Text    // what holds the rail at a wall: stud, blocking, toggles
	Over    Flag    // the rail goes on over the post
	Fitting Measure // from the middle of the post to the joint, where the rail goes over it on a fitting
	BoltUp  Measure // how far the rail's bolt is moved up from the middle of the rail, to clear another one
	BoltLow Measure // or down
}

// Trimmed reports that the clear was taken to trim that stands before the end, and not to the end itself.
func (e End) Trimmed() bool { return e.Face.Text == "baseboard" || e.Face.Text == "base trim" }

// TrimStays reports whether trim at the end is still there when the guard is built.
func (e End) TrimStays() bool { return !e.Stays.Given || e.Stays.Yes }

// IsWall reports whether the run stops at a wall.
func (e End) IsWall() bool { return e.Where.Given && e.Post == nil }

// Plumb is how far an end leans: its face, at a height, away from or into the opening.
type Plumb struct {
	At   Measure // height of the reading
	Away Measure // the opening grows upward by this
	In   Measure // the opening shrinks upward by this
}

// Clear is a clear length between the two ends, read at a height.
type Clear struct {
	Name string // floor, middle, rail, or empty where a height is given
	At   Measure
	Read Measure
}

// Level is a reading down from a level line to the floor.
type Level struct {
	At   Measure // from the end that the run is measured from
	Down Measure
	Step Flag // the floor steps here, from the reading before it at the same place
}

var plumbFields = []field[Plumb]{
	lengthField("at", "height of the reading above the floor as it is now", func(p *Plumb) *Measure { return &p.At }),
	lengthField("away", "how far the face leans away from the opening there", func(p *Plumb) *Measure { return &p.Away }),
	lengthField("in", "how far the face leans into the opening there", func(p *Plumb) *Measure { return &p.In }),
}

// Faces are what a clear can be taken to.
var Faces = []string{"post", "base trim", "baseboard", "wall"}

var endFields = []field[End]{
	nameField("at", "post", "wall, or the name of a post of the job", func(e *End) *Text { return &e.Where }),
	wordField("face", "what the floor reading was taken to; where absent, the post or the wall itself", Faces, func(e *End) *Text { return &e.Face }),
	lengthField("thick", "thickness of the baseboard or base trim", func(e *End) *Measure { return &e.Thick }),
	lengthField("high", "height of the baseboard or base trim above the floor as it is now", func(e *End) *Measure { return &e.High }),
	flagField("stays", "whether the baseboard or base trim stays there; yes where absent", func(e *End) *Flag { return &e.Stays }),
	mapField("plumb", "a reading with a level that says which end leans, and which way", plumbFields, func(e *End) *Plumb { return &e.Plumb }),
	nameField("rosette", "rosette", "rosette between rail and wall, or none", func(e *End) *Ref { return &e.Rosette }),
	lengthField("lining", "at a wall: how thick plaster or board is over the stud or blocking, for the screws", func(e *End) *Measure { return &e.Lining }),
	wordField("held", "what holds the rail at a wall; look inside", []string{"stud", "blocking", "toggles"}, func(e *End) *Text { return &e.Held }),
	flagField("over", "yes where the rail goes over the post instead of into its face", func(e *End) *Flag { return &e.Over }),
	lengthField("fitting", "from the middle of a post that the rail goes over to the joint with its fitting", func(e *End) *Measure { return &e.Fitting }),
	lengthField("bolt-up", "how far the bolt of the rail is moved up from the middle of its section, to clear another bolt in the post", func(e *End) *Measure { return &e.BoltUp }),
	lengthField("bolt-down", "how far it is moved down", func(e *End) *Measure { return &e.BoltLow }),
}

// flightEndFields are those of an end on a stair, which stands somewhere beside a riser.
var flightEndFields = append(slices.Clone(endFields),
	lengthField("before", "how far the face stands before, downhill of, the face of the lowest riser (lower end) or the highest (upper end)", func(e *End) *Measure { return &e.Before }),
	lengthField("past", "how far it stands past it, uphill", func(e *End) *Measure { return &e.Past }),
	wholeField("stands", "the tread that the post stands on, counted from below, 0 for the floor; from its place where absent", 0, mostSteps, func(e *End) *Whole { return &e.Stands }),
)

func endField(key, doc string, fields []field[End], at func(*Run) *End) field[Run] {
	return orMap(key, "wall, baseboard or the name of a post; or keys and values", doc, fields, at, func(d *decoder, n *source.Node, e *End) {
		e.Where = d.text(n, "wall, baseboard or the name of a post")
		if e.Where.Text == "baseboard" { // a wall, and what was measured to
			e.Face = e.Where
			e.Where.Text = "wall"
		}
	})
}

var clearFields = []field[Clear]{
	lengthField("at", "height of the reading above the floor", func(c *Clear) *Measure { return &c.At }),
	lengthField("read", "the clear length there", func(c *Clear) *Measure { return &c.Read }),
}

// ClearNames are the heights at which a clear is named: at the floor, halfway up the guard, and at the middle of the rail.
var ClearNames = []string{"floor", "middle", "rail"}

var clearField = field[Run]{
	key:  "clear",
	form: "a length (at the floor); or floor, middle and rail; or a list of {at, read}",
	doc:  "clear length between the faces of the two ends, as read from the tape, at one height or several",
	sub: []Key{
		{"floor", "a length", "at the floor, where the shoe goes", nil},
		{"middle", "a length", "halfway up the guard", nil},
		{"rail", "a length", "at the middle of the handrail", nil},
		{"at", "a length", "in a list: height of the reading above the floor", nil},
		{"read", "a length", "in a list: the clear length there", nil},
	},
	set: func(d *decoder, n *source.Node, r *Run) {
		switch n.Kind {
		case source.Map:
			for _, e := range n.Entries {
				found := false
				for _, name := range ClearNames {
					if e.Key == name {
						r.Clears = append(r.Clears, Clear{Name: name, Read: d.measure(e.Value)})
						found = true
					}
				}
				if !found {
					d.unknown(e.At, e.Key, "key", "clear", ClearNames)
				}
			}
		case source.List:
			for _, item := range n.Items {
				var c Clear
				decode(d, item, "clear", clearFields, &c)
				if c.At.Given && c.At.Length == 0 {
					c.Name = "floor"
				}
				r.Clears = append(r.Clears, c)
			}
		default:
			r.Clears = append(r.Clears, Clear{Name: "floor", Read: d.measure(n)})
		}
	},
}

// Clear finds a named reading; a Measure not given when there is none.
func (r *Run) Clear(name string) Measure {
	for _, c := range r.Clears {
		if c.Name == name {
			return c.Read
		}
	}
	return Measure{}
}

var heightFields = []field[Height]{
	lengthField("top", "top of the handrail above the floor", func(h *Height) *Measure { return &h.Top }),
	wordField("above", "which floor it is reckoned from; finished where absent", []string{"finished", "bare"}, func(h *Height) *Text { return &h.Above }),
	wordField("at", "where along the run: at the datum end, or at the highest point of the floor; datum where absent", []string{"datum", "highest"}, func(h *Height) *Text { return &h.At }),
}

func heightField[T any](doc string, at func(*T) *Height) field[T] {
	return orMap("height", "a length; or keys and values", doc, heightFields, at, func(d *decoder, n *source.Node, h *Height) {
		h.Top = d.measure(n)
	})
}

var toComeFields = []field[ToCome]{
	textField("what", "carpet and pad, new boards, ...", func(t *ToCome) *Text { return &t.What }),
	lengthField("thick", "how much it raises the floor, laid and walked on", func(t *ToCome) *Measure { return &t.Thick }),
}

func toComeField[T any](doc string, at func(*T) *ToCome) field[T] {
	return mapField("floor-to-come", doc, toComeFields, at)
}

var levelFields = []field[Level]{
	lengthField("at", "distance from the end the run is measured from", func(l *Level) *Measure { return &l.At }),
	lengthField("down", "from the level line down to the floor", func(l *Level) *Measure { return &l.Down }),
	flagField("step", "yes where the floor steps up or down there: the second of two readings at one place, the first taken before the step, this one beyond it, as in - {at: 36, down: 44} and - {at: 36, down: 37, step: yes}", func(l *Level) *Flag { return &l.Step }),
}

func partFields[T any](whose string, at func(*T) *Parts) []field[T] {
	return []field[T]{
		nameField("baluster", "baluster", "baluster"+whose, func(t *T) *Ref { return &at(t).Baluster }),
		nameField("handrail", "handrail", "handrail"+whose, func(t *T) *Ref { return &at(t).Handrail }),
		nameField("shoe", "shoe", "shoe, or none where the balusters stand on the floor"+whose, func(t *T) *Ref { return &at(t).Shoe }),
		filletField(whose, at),
		nameField("bolt", "bolt", "bolt that holds the rail to its posts"+whose, func(t *T) *Ref { return &at(t).Bolt }),
	}
}

// stickParts are the parts that are cut from sticks.
var stickParts = []string{"handrail", "shoe", "fillet"}

// oneStickField is a list of parts whose pieces, of this run, are cut from one stick, so that grain and colour match.
var oneStickField = field[Run]{"one-stick", "a list of handrail, shoe and fillet", "parts of which all pieces of this run come from one stick, so that grain and colour go on", nil, func(d *decoder, n *source.Node, r *Run) {
	r.OneStick = nil
	for _, item := range d.items(n) {
		if t := d.oneOf(item, stickParts); t.Given {
			r.OneStick = append(r.OneStick, t)
		}
	}
}}

var runFields = append([]field[Run]{
	textField("title", "name on the page", func(r *Run) *Text { return &r.Title }),
	endField("from", "the end that the run is measured from: its face is the datum of the marks", endFields, func(r *Run) *End { return &r.From }),
	endField("to", "the other end", endFields, func(r *Run) *End { return &r.To }),
	clearField,
	heightField("top of the handrail above the finished floor", func(r *Run) *Height { return &r.Height }),
	lengthField("drop", "from the floor as it is now, at the end the run is measured from, down to the floor or grade below; the job's where absent", func(r *Run) *Measure { return &r.Drop }),
	listField("level", "readings from a level line down to the floor, along the run; two at one place where the floor steps", levelFields, func(r *Run) *[]Level { return &r.Level }),
	toComeField("floor that is still to be laid; the job's where absent", func(r *Run) *ToCome { return &r.ToCome }),
	mapField("floor", "what the guard is fixed to here, for its screws; the job's for what it does not say", floorWoodFields, func(r *Run) *FloorWood { return &r.Floor }),
	wordField("stands-on", "the floor that the shoe or the balusters are fixed to; bare where absent", []string{"bare", "finished"}, func(r *Run) *Text { return &r.StandsOn }),
	wordField("floor-out", "what takes up a floor out of level: the shoe is scribed, or balusters get lengths of their own; the shop's rule where absent", []string{"scribe", "lengths"}, func(r *Run) *Text { return &r.FloorOut }),
	lengthField("most", "the worst opening is to be no more than this; only ever tighter than the rules", func(r *Run) *Measure { return &r.Most }),
	wholeField("count", "exactly this many balusters", 0, mostBalusters, func(r *Run) *Whole { return &r.Count }),
	wordField("pattern", "even gaps all along, or a fixed spacing centred in the run; even where absent", []string{"even", "centred"}, func(r *Run) *Text { return &r.Pattern }),
	lengthField("spacing", "of a centred pattern, from centre to centre", func(r *Run) *Measure { return &r.Spacing }),
	wordField("centre", "of a centred pattern, what stands at the middle of the run; whichever needs fewer where absent", []string{"baluster", "gap"}, func(r *Run) *Text { return &r.Centre }),
	lengthField("radius", "of a curved run: the radius at the line of the balusters; its clears are read along the curve", func(r *Run) *Measure { return &r.Radius }),
	wordField("bends", "of a curved run: which way, seen from above, coming from the end it is measured from", []string{"left", "right"}, func(r *Run) *Text { return &r.Bends }),
	edgeField(),
	jointsField(),
	textField("match", "a word of your own: runs with the same word get, of the smallest count that passes and the two above it, those whose gaps differ least", func(r *Run) *Text { return &r.Match }),
	oneStickField,
	standingField(),
}, partFields("; the job's where absent", func(r *Run) *Parts { return &r.Parts })...)

// mostBalusters bounds a run's count; at 1 in spacing it is longer than the longest length accepted.
const mostBalusters = 10_000
