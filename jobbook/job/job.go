// Package job is the typed job: what the files say, checked for form, with every value knowing where it was written.
//
// A file kind_*.go here for each kind of file there, or for kinds that belong together: its type, its keys with their meaning, and how they
// are read. The keys are data (see schema.go), so that the reference (reference.go), the messages about unknown keys and the decoder
// (decode.go for files, read.go for single values) cannot differ. The nearest of several files of a name wins (layers.go), what names refer
// to is found afterwards (resolve.go), and what no job can mean is told (sizes.go).
package job

import (
	"balustrade/jobbook/length"
	"balustrade/jobbook/source"
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
	ShopSystem length.System // what a bare number in a file of the shop means; the zero value where the shop does not say
	Division   Measure       // marks and cuts are rounded to this
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
	supplyNames             []string // of what the finishes within reach can ask for
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
	Top    Measure   // how high its top is to be above what it stands on; as bought where absent
	Rows   []Measure // how far below what the post stands on each row of its bolts or lag screws is
	Solid  Measure   // how thick the framing is that lag screws go into
	Bears  Measure   // how far below the floor the upper edge of the wood is that one with lag screws bears against
	Notch  Measure   // how deep its foot is notched from the inside; 0 where it is not
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
	Baluster, Handrail, Shoe, RailFillet, ShoeFillet, Rosette, Bolt Ref
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

// FinishGroups are the groups of parts that a finish can be given to, in the order they are shown.
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
