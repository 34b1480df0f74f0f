package job

import (
	"balustrade/jobbook/length"
	"balustrade/jobbook/source"
)

// Fixing is a piece of hardware, or what takes its place.
type Fixing struct {
	Origin
	Title  Text
	Type   Text // one of FixingTypes
	Gauge  Whole
	Wide   Measure // diameter of shank, plug or bolt; of a wood screw without a gauge over its thread
	Root   Measure // diameter at the root of such a screw's thread
	Long   Measure
	Thread Measure // of the length; not given where it is not known
	Tip    Measure // tapered end of a lag screw, part of the thread, which holds nothing; taken as long as it is wide where not given
	Washer Measure // across, of the washer under its head: what the bore for a sunk head must take
	Driver Text
	Rated  Rating
}

// Rating is what the maker of a fixing says that it takes, by a test.
type Rating struct {
	Load Ratio   // lb or kN
	At   Measure // how far from it the load acts: above the floor for a plate; nothing for what is drawn straight
	Is   Text    // allowable, or tested: the load it was tested to, of which only a part may be used
	By   Text    // the maker's paper: report, table, date
}

// FixingTypes are the sorts of fixing.
var FixingTypes = []string{"wood screw", "lag screw", "bolt", "brad", "plug", "bracket", "plate", "glue"}

// Fastening is how one sort of joint is made.
type Fastening struct {
	Origin
	Title   Text
	Joins   Text // one of Joints
	With    Ref
	Part    *Fixing // nil while not chosen
	Count   Whole   // at each place; one where absent
	Each    Measure // from one to the next along a run
	End     Measure // from the end of the piece to the first
	Through Text    // what it passes, one of Members
	Into    Text    // what it holds in, one of Members
	Sunk    Measure // how deep its head is sunk, for a plug
	Plug    Ref
	Cover   *Fixing
	Glue    Flag // goes in as well
	Note    Text
	Omit    Flag
}

// Joints are what a fastening can join; each is counted and placed from the plan.
var Joints = []Key{
	{"shoe to floor", "", "along a shoe, in the middle of gaps between balusters", nil},
	{"shoe to stair", "", "along a raked shoe", nil},
	{"rosette to wall", "", "each rosette", nil},
	{"rail to rosette", "", "each end of a rail at a rosette", nil},
	{"half newel to wall", "", "each half newel", nil},
	{"newel on a plate", "", "each post with foot: plate", nil},
	{"newel bolted", "", "each post with foot: bolted", nil},
	{"newel lagged", "", "each post with foot: lagged", nil},
	{"newel let in", "", "each post with foot: let in", nil},
	{"baluster to shoe", "", "the foot of each baluster in a shoe", nil},
	{"baluster to floor", "", "the foot of each baluster on a floor or a tread", nil},
	{"baluster to rail", "", "the head of each baluster", nil},
	{"new baluster to shoe", "", "the foot of each new baluster between old ones that stay, in the old shoe", nil},
	{"new baluster to floor", "", "the same on a floor", nil},
	{"new baluster to rail", "", "the head of each, under the old handrail", nil},
	{"fillet", "", "each fillet", nil},
	{"wall rail bracket", "", "along a rail on a wall", nil},
	{"bracket to rail", "", "each of those brackets", nil},
	{"access bore", "", "each bore from below for a rail bolt", nil},
}

// Members are what a fixing passes or holds in.
var Members = []string{"floor", "framing", "wall framing", "shoe", "handrail", "newel", "baluster", "rosette", "fillet"}

var fixingFields = []field[Fixing]{
	textField("title", "name on the page", func(f *Fixing) *Text { return &f.Title }),
	wordField("type", "what it is", FixingTypes, func(f *Fixing) *Text { return &f.Type }),
	wholeField("gauge", "of a wood screw; one without, such as a metric one, has wide and root", 0, 30, func(f *Fixing) *Whole { return &f.Gauge }),
	lengthField("wide", "diameter of a lag screw, a bolt or a plug; of a wood screw without a gauge, as in 5 mm, over its thread", func(f *Fixing) *Measure { return &f.Wide }),
	lengthField("root", "of such a wood screw: its diameter at the root of the thread, by caliper; its lead hole is a share of it", func(f *Fixing) *Measure { return &f.Root }),
	lengthField("long", "length", func(f *Fixing) *Measure { return &f.Long }),
	lengthField("thread", "how much of the length is threaded", func(f *Fixing) *Measure { return &f.Thread }),
	lengthField("tip", "of a lag screw: the tapered end of the thread, which holds nothing; taken as long as the screw is wide where absent", func(f *Fixing) *Measure { return &f.Tip }),
	lengthField("washer", "across the washer under its head: the bore for a sunk head is no narrower", func(f *Fixing) *Measure { return &f.Washer }),
	mapField("rated", "what its maker says that it takes, for loads; only for what the paper names", ratingFields, func(f *Fixing) *Rating { return &f.Rated }),
	textField("driver", "bit or wrench that drives it; for a wood screw by its gauge where absent", func(f *Fixing) *Text { return &f.Driver }),
}

// forceUnits are what a force can be written in.
var forceUnits = []string{"lb", "kN"}

var ratingFields = []field[Rating]{
	ratioField("load", "the load", forceUnits, func(r *Rating) *Ratio { return &r.Load }),
	lengthField("at", "of a plate: the height above the floor that the load acts at", func(r *Rating) *Measure { return &r.At }),
	wordField("is", "allowable, which may be used as it is, or tested, of which one part in two and a half may", []string{"allowable", "tested"}, func(r *Rating) *Text { return &r.Is }),
	textField("by", "whose paper says so: report, table, date; without it the rating is not used", func(r *Rating) *Text { return &r.By }),
}

var fasteningFields = []field[Fastening]{
	textField("title", "name on the page", func(f *Fastening) *Text { return &f.Title }),
	wordField("joins", "the joint it makes", keyNames(Joints), func(f *Fastening) *Text { return &f.Joins }),
	nameField("with", "fixing", "what it is made with", func(f *Fastening) *Ref { return &f.With }),
	wholeField("count", "how many at each place; one where absent", 1, 100, func(f *Fastening) *Whole { return &f.Count }),
	lengthField("each", "from one to the next along a run", func(f *Fastening) *Measure { return &f.Each }),
	lengthField("end", "from the end of the piece to the first", func(f *Fastening) *Measure { return &f.End }),
	wordField("through", "what it passes, bored so wide that the shank turns freely", Members, func(f *Fastening) *Text { return &f.Through }),
	wordField("into", "what it holds in", Members, func(f *Fastening) *Text { return &f.Into }),
	lengthField("sunk", "how deep its head is sunk", func(f *Fastening) *Measure { return &f.Sunk }),
	nameField("plug", "fixing", "what covers it", func(f *Fastening) *Ref { return &f.Plug }),
	flagField("glue", "yes where glue goes in as well", func(f *Fastening) *Flag { return &f.Glue }),
	textField("note", "what one must know", func(f *Fastening) *Text { return &f.Note }),
	flagField("omit", "yes drops the fastening of this name from farther layers", func(f *Fastening) *Flag { return &f.Omit }),
}

// FloorWood is what the guard is fixed to.
type FloorWood struct {
	Species Text
	Thick   Measure
	Framing Text // wood of joists, trimmers and studs
}

var floorWoodFields = []field[FloorWood]{
	textField("species", "wood of the floor under the guard; plywood, chipboard", func(f *FloorWood) *Text { return &f.Species }),
	textField("framing", "wood of joists, trimmers and studs under and behind it", func(f *FloorWood) *Text { return &f.Framing }),
	lengthField("thick", "of floor and subfloor together", func(f *FloorWood) *Measure { return &f.Thick }),
}

// Under is what a run is fixed to: its own floor, and for what it does not say the job's. nil for a post.
func (j *Job) Under(r *Run) FloorWood {
	if r == nil {
		return j.Floor
	}
	f := r.Floor
	if !f.Species.Given {
		f.Species = j.Floor.Species
		if !f.Thick.Given { // the job's thickness is that of the job's floor
			f.Thick = j.Floor.Thick
		}
	}
	if !f.Framing.Given {
		f.Framing = j.Floor.Framing
	}
	return f
}

// Ways are the fastenings of a joint: all of the nearest layer that has any. A shop's own way stands instead of the library's, whatever its file is called, and one layer may join with
// several fixings.
func (j *Job) Ways(joint string) (list []*Fastening) {
	nearest := source.Layer(0)
	for _, f := range j.Fastenings {
		if f.Joins.Text != joint {
			continue
		}
		if f.Layer > nearest {
			list = nil
		}
		if f.Layer >= nearest {
			nearest, list = f.Layer, append(list, f)
		}
	}
	return list
}

// fastenings follows their names, and calls what has no title by its file's name.
func (d *decoder) fastenings(j *Job) {
	for _, f := range j.Fastenings {
		if !f.Title.Given {
			f.Title.Text = f.Name
		}
		f.Part = find(d, f.With, "fixing", j.Fixings, func(x *Fixing) string { return x.Name })
		f.Cover = find(d, f.Plug, "fixing", j.Fixings, func(x *Fixing) string { return x.Name })
		if f.Each.Given && f.Each.Length < length.Inch {
			d.at(f.Each.At, 1, "write the distance from one to the next, an inch at the least", "fixings closer than an inch to each other")
		}
	}
	for _, f := range j.Fixings {
		if f.Thread.Given && f.Long.Given && f.Thread.Length > f.Long.Length {
			d.at(f.Thread.At, 1, "write how much of its length is threaded", "more thread than the fixing is long")
		}
		if f.Root.Given && f.Wide.Given && f.Root.Length >= f.Wide.Length {
			d.at(f.Root.At, 1, "measure in the thread, between two turns of it", "the root of the thread is as wide as the screw, or wider")
		}
	}
}
