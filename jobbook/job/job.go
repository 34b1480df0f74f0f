// Package job is the typed job: what the files say, checked for form, with every value knowing where it was written.
//
// One file here for each kind of file there: its type, its keys with their meaning, and how they are read. The keys are
// data (see schema.go), so that the reference in the README, the messages about unknown keys and the decoder cannot differ.
package job

import (
	"balustrade/jobbook/length"
	"balustrade/jobbook/profile"
	"balustrade/jobbook/source"
	"balustrade/jobbook/working"
)

// Job is one job, with the parts, rules, steps and settings that were found nearest to it.
type Job struct {
	File       string // of job.md
	Title      Text
	Client     Text
	Place      Text
	Measured   Text // date of measuring, as 2026-11-20
	MeasuredBy Text
	System     length.System
	Division   Measure // marks and cuts are rounded to this
	RulesName  Text
	Rules      *RuleSet // nil while not chosen
	Drop       Measure  // default for runs
	Height     Height   // default for runs
	Built      Whole    // year the house was built
	Surfacing  Whole    // year of the flooring and wall surfacing that will be disturbed
	Children   Flag     // small children live or visit here
	ForPay     Flag     // the work is done for pay
	Posts      []Post   // in the order written
	Defaults   Parts    // parts for every run that names none of its own
	Finishes   []FinishUse
	Wanted     Text      // day by which the goods are to be there
	Tolerance  Tolerance // the job's own over the shop's
	ToCome     ToCome    // default for runs
	Price      Pricing
	Climate    Climate
	Floor      FloorWood // what the guard is fixed to
	Duration   Ratio     // load duration factor C_D that fixings are screened with; 1.0 where absent
	Calendar   Calendar
	Done       []Ticked // steps that are done, in the order written
	Panels     []Panel  // test panels that the client signed
	Used       []Used   // what was really put on
	Prose      Prose

	Shop         Settings
	Runs         []*Run // in path order
	Surveys      []*Survey
	Alternatives []*Alternative
	Issues       []*Issue   // in path order; LastIssue is the one that a plan is compared with
	Steps        []*Step    // all that may apply, library order, nearest wins; those with Omit are never done, but keep their place in the order
	Cautions     []*Caution // likewise, omitted ones dropped
	Notes        []*source.Document

	Balusters   []*Baluster // every one within reach, nearest wins; likewise below
	Newels      []*Newel
	Handrails   []*Handrail
	Shoes       []*Shoe
	Fillets     []*Fillet
	Rosettes    []*Rosette
	Bolts       []*Bolt
	Coatings    []*Finish
	RuleSets    []*RuleSet
	SpeciesList []*Species
	Fixings     []*Fixing
	Fastenings  []*Fastening // those with Omit dropped
	Suppliers   []*Supplier  // nearest wins by name
	Racks       []*Rack      // all of the shop's and the job's: what lies on them adds up
	Deliveries  []*Delivery  // in path order
	AsBuilt     []*AsBuilt   // in path order
	Punches     []*Punch     // in path order
	MadeFiles   []*MadeFile  // in path order
	Made        []*Made      // every piece by itself, in the order of the files
	OffRack     []OffRack    // what other jobs of the yard take off the shop's racks; see Take

	// Documents are the files that the job rests on, as recorded: all of the job's and the shop's, and those of the library that are used.
	Documents []source.Document

	stepNames, cautionNames []string // every name in any layer, omitted ones too
}

// Post is a newel's place in the job, named so that runs can end at it.
type Post struct {
	Name   string
	At     source.Pos
	Newel  Ref
	Part   *Newel    // nil while not chosen
	Foot   Text      // how it is fixed: plate, bolted, lagged, let in
	Deep   Measure   // how far its foot goes below the floor
	Off    Measure   // taken off its foot, as bought
	Rows   []Measure // how far below what the post stands on each row of its bolts or lag screws is
	Solid  Measure   // how thick the framing is that lag screws go into
	With   Ref       // the plate, bolt or lag screw at its foot, where not the library's
	Fixing *Fixing   // nil where none is named
	Stays  Flag      // it stands there already and stays; see Job.Stays
	Turn   Turn      // how one turns there, seen from above, into the second run that comes to it
	Then   []Turn    // and into the third, the fourth ...
	Note   Text
}

// Turn is how far one turns at a post, seen from above, coming along the first of its runs and leaving along another.
type Turn struct {
	Milli int64 // thousandths of a degree, to the right; to the left where negative
	At    source.Pos
	Given bool
}

// Post finds a post by name; nil when there is none.
func (j *Job) Post(name string) *Post {
	for i := range j.Posts {
		if j.Posts[i].Name == name {
			return &j.Posts[i]
		}
	}
	return nil
}

// Parts names the parts of a run, or the defaults of a job.
type Parts struct {
	Baluster, Handrail, Shoe, Fillet, Rosette, Bolt Ref
}

// Tolerance is what may go wrong at each baluster, all of it counted the bad way.
type Tolerance struct {
	Mark   Measure // marking error of one centre
	Drill  Measure // drilling error of one centre
	Width  Measure // how far under its nominal width a baluster may be
	Season Measure // shrinkage of a baluster's width over the year; "season not counted" where absent
}

// Height is the top of the handrail above the floor.
type Height struct {
	Top   Measure
	Above Text // finished (the default) or bare
	At    Text // datum (the default: at the end the run is measured from) or highest
}

// ToCome is floor that is still to be laid when the guard is measured.
type ToCome struct {
	What  Text
	Thick Measure
}

// Finishes are the groups of parts that a finish can be given to, in the order they are shown.
var FinishGroups = []string{"balusters", "newels", "handrail", "shoe"}

// FinishUse is a group of parts and the finish it gets. Fillets go with the groove they fill.
type FinishUse struct {
	Group  string
	Finish Ref
	Part   *Finish
}

// Origin says which file a part, step or rule set was taken from.
type Origin struct {
	Name  string
	File  string
	Layer source.Layer
	Over  []source.Layer // layers that hold a file of the same name, which this one replaces
	Prose Prose
}

// Baluster is a baluster as bought.
type Baluster struct {
	Origin
	Title   Text
	Species Text
	Profile profile.Profile
	Sized   bool       // the profile is complete
	Plain   string     // square or round, of one without stations
	Blank   source.Pos // the first station that is left blank; zero where there is none
	Long    Measure
	Wide    Measure // across the foot, as bought
	Trim    Text    // the end that is cut: top or bottom
	Top     Text    // square or pin
	Bottom  Text    // square, pin or let in
	Pin     Pin
	LetIn   Measure // how deep the foot goes into the tread or the floor
	Under   Measure // how far under its width the narrowest is that was delivered; the shop's tolerance holds while it is not given
	Widest  Measure // the widest that was delivered, where any was gauged
}

// Pin is the turned tenon at the end of a baluster.
type Pin struct {
	Wide, Long Measure
}

// Newel is a post as bought.
type Newel struct {
	Origin
	Title   Text
	Species Text
	Profile profile.Profile
	Sized   bool
	Plain   string // square or round, of one without stations
	Long    Measure
	Wide    Measure
	Half    Flag // split down its length and planted on a wall
}

// Plow is the groove that takes balusters and fillets.
type Plow struct {
	Wide, Deep Measure
}

// Handrail is a rail's section.
type Handrail struct {
	Origin
	Title   Text
	Species Text
	Wide    Measure
	High    Measure
	Plow    Plow
	Girth   Measure   // round the section, for finishing and the grip; from width and height where not given
	Section Text      // round, rectangular, or another; empty while nobody says
	Outline []Breadth // the section from its top down, plow not counted; the last at its height
	Across  Measure   // greatest distance across the section
	Recess  Recess
}

// Breadth is how wide a rail's section is at a depth below its top. Two at one depth are a step; between two depths it runs straight.
type Breadth struct {
	At, Wide Measure
}

// Recess is the finger recess of a handrail too large to close a hand round.
type Recess struct {
	Starts Measure // below the tallest part
	Deep   Measure // at the place where it is that deep
	Within Measure // how far below the widest part it is that deep
	Kept   Measure // how deep it still is down to
	To     Measure // this far below the tallest part
	Wide   Measure // width of the rail above the recess
}

// Bolt is the hardware that holds a rail to a post, hidden in the rail's end.
type Bolt struct {
	Origin
	Title    Text
	Wide     Measure // diameter
	Long     Measure
	InPost   Measure // length of the end that is screwed into the post
	Pilot    Measure // bore in the post
	Bore     Measure // bore in the end of the rail
	Access   Measure // bore from below, for the washer and the nut
	Reach    Measure // from the end of the rail to the middle of the access bore
	AccessUp Measure // how deep the access bore is
}

// Shoe is the rail under the balusters.
type Shoe struct {
	Origin
	Title   Text
	Species Text
	Wide    Measure
	High    Measure
	Plow    Plow
}

// Fillet fills a plow between balusters.
type Fillet struct {
	Origin
	Title   Text
	Species Text
	Wide    Measure
	Thick   Measure
}

// Rosette is the plate between a rail and a wall.
type Rosette struct {
	Origin
	Title   Text
	Species Text
	Wide    Measure
	Thick   Measure
}

// Limit is one rule: what it limits, how, and what stands behind it.
type Limit struct {
	Name   string
	Op     string // a key of finding's comparisons: under, at-most, at-least, over
	Value  Measure
	System length.System // that the rule set has it in
	Clause Text
	Status working.Status
	Note   Text
	At     source.Pos
	Set    string  // the rule set it was read in
	Amends string  // the rule set it amends, where it does
	Base   Measure // the limit that it amends, where there is one
}

// RuleSet is the limits that a guard is judged by.
type RuleSet struct {
	Origin
	Title  Text
	Amends Ref
	Limits []Limit // after amendment, in the order of the first set
	Loads  []Load  // likewise
	Why    Text    // what the amendment rests on
}

// Limit finds a limit by name; nil when the set has none.
func (r *RuleSet) Limit(name string) *Limit {
	if r == nil {
		return nil
	}
	for i := range r.Limits {
		if r.Limits[i].Name == name {
			return &r.Limits[i]
		}
	}
	return nil
}

// Load is one load that a guard is to take, by itself.
type Load struct {
	Name   string  // one of LoadNames
	Value  Ratio   // in lb or kN; in lb/ft or kN/m; in lb/ft2 or kN/m2
	Side   Measure // of the square that it is spread over
	Clause Text
	Status working.Status
	Note   Text
	At     source.Pos
	Set    string // the rule set it was read in
	Amends string // the rule set it amends, where it does
	Base   *Load  // the load that it amends; nil where there is none
}

// Load finds a load by name; nil when the set has none.
func (r *RuleSet) Load(name string) *Load {
	if r == nil {
		return nil
	}
	for i := range r.Loads {
		if r.Loads[i].Name == name {
			return &r.Loads[i]
		}
	}
	return nil
}

// Settings are the shop's ways: nearest wins key by key, so that a shop need only write what differs from the library's.
type Settings struct {
	Tolerance Tolerance
	Division  Measure // of marks and cuts, in inches
	DivisionM Measure // of marks and cuts, in millimetres
	Fit       Measure // taken off a baluster so that it goes in
	Scribe    Measure // the most that a shoe is scribed; beyond, balusters are cut to their own lengths
	Plumb     Measure // how far two clears may differ before a post or wall is called out of plumb; the job's division where absent
	Spare     Ratio   // balusters ordered beyond those needed, per cent
	Alike     Measure // cut lengths that differ by no more than this are cut alike, to the shortest
	Hole      Measure // how much wider than its pin a hole is bored
	HoleDeep  Measure // how much deeper
	Room      Measure // the least gap beside a new baluster between old ones
	Reveal    Measure // how much of a newel's block stands over the highest rail
	Rates     Rates
	Calendar  Calendar   // usual hours and crew
	Name      Text       // of the shop, for the client
	Contact   Text       // where it is reached
	Currency  Text       // sign of the money that prices are in
	Kerf      Measure    // width of a saw cut
	EndTrim   Measure    // taken off each end of a bought stick, to get behind checks and staples
	Rough     Measure    // what rails and shoes are cut longer off the stick, to be fitted
	Within    Measure    // how far off its length a piece may be and be used as it is
	Keep      Measure    // an offcut this long is worth keeping
	Bow       Measure    // the most that a piece may be bowed
	Settled   Ratio      // how near the moisture of delivered wood must be to what it comes to in the room, in points
	Sticks    []Measure  // lengths that sticks are sold in where no supplier says, of jobs in inches
	SticksM   []Measure  // the same, of jobs in millimetres
	Weather   Weather    // what the air must be like for any coat
	Drying    DryingRule // how much longer coats dry in cold and damp
	Strips    Strips
	Horses    Horses
	Supplies  Supplies
	Retighten Retighten
	Files     []source.Pos
}

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
	Joints   []Measure // joints in the handrail
	OneStick []Text    // parts of which all pieces come from one stick
	Stair    *Stair    // nil for a level run
	Standing *Standing // the old guard that stays; nil where all is new
	Prose    Prose

	Baluster *Baluster // nil while not chosen; likewise below
	Handrail *Handrail
	Shoe     *Shoe // nil as well where there is none
	Fillet   *Fillet
	Bolt     *Bolt
	NoShoe   bool
	NoFillet bool
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

// Survey is what is there now.
type Survey struct {
	Name     string
	File     string
	Title    Text
	Of       Text
	Height   Measure
	Drop     Measure
	Openings []SurveyOpening
	Loose    Flag
	Moves    Measure // how far the top of its rail goes under a push with one hand
	Held     Text    // how it is fixed, as far as that shows
	CoatedIn Whole   // year of the last coat, as far as anybody knows
	Climb    []Foothold
	Hazards  []Text // of the house, that the work meets
	Inside   Inside
	Leaves   []Leaving
	Keeps    []Text // what of it stays, or is used again
	Coated   Text   // paint, varnish, shellac, bare, unknown
	Removes  Flag   // the old guard is taken out (the default)
	Replaced bool   // every guard that could have stayed is replaced after all: the runs' standing: says so
	Members  []SurveyMember
	Photos   []SurveyPhoto
	Prose    Prose
}

// SurveyPhoto is a photograph of what was found. One without a file is still to be taken; one without words, still to be described.
type SurveyPhoto struct {
	File  Text // its slash path from the survey's own file
	Shows Text // what is to be seen on it, for who cannot see it
	At    source.Pos
}

// Ticked is a step that is done, or a piece of one.
type Ticked struct {
	Step  Ref
	Piece Ref // a coat of a group, a group, an old guard; not given where the whole step is done
	Day   Text
}

// Foothold is what a child could stand on to climb.
type Foothold struct {
	What Text
	At   Measure // height of its top above the floor
}

// Inside is what was found where the floor, the wall or the ceiling was opened.
type Inside struct {
	Where, Framing, Note Text
	Joists               Text // along or across the edge
	Blocking             Flag // there is some where posts are to stand
}

// Leaving is what stays to be seen where an old part comes off: a footprint, a bare strip, a scar.
type Leaving struct {
	What  Text
	Run   Text    // whose shoe goes over it, or
	Post  Text    // whose newel does
	Wide  Measure // square to the guard
	Shift Measure // how far its middle lies off the middle of the new guard
	At    source.Pos
}

// SurveyOpening is a gap read on the old guard.
type SurveyOpening struct {
	Where Text
	Read  Measure
}

// SurveyMember is a kind of part of the old guard, counted for its coated surface.
type SurveyMember struct {
	What    Text
	Count   Whole
	Wide    Measure // across flats, or diameter
	Deep    Measure // the other side of an oblong section; as wide where absent
	Long    Measure
	Section Text // square (default) or round
	At      source.Pos
}

// Step is one step of the work, from the library, the shop or the job.
type Step struct {
	Origin
	Title      Text
	When       []Text
	After      []Text
	Hold       Text // what must be settled before the work goes on; empty where the step is no hold point
	Tools      []Text
	Quantities []Text
	Cautions   []Text
	Right      Text // how to know it is right
	Evening    Text // how the place is left on a day on which it is worked on
	Minutes    Minutes
	Time       StepTime
	Omit       Flag
}

// Minutes is the working time of a step: once, and for each of something that is counted.
type Minutes struct {
	Once Whole
	Each Whole
	Of   Text
	Made Text // one of MadeStates: pieces that were made so far take no time; empty where the step makes none
}

// Caution is a danger and what to do about it.
type Caution struct {
	Origin
	Title  Text
	When   []Text
	Source Text
	Status working.Status
	Omit   Flag
}
