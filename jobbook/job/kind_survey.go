package job

import "balustrade/jobbook/source"

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

var openingFields = []field[SurveyOpening]{
	textField("where", "where it was read", func(o *SurveyOpening) *Text { return &o.Where }),
	lengthField("read", "the widest that a ball passes there, or the clear gap", func(o *SurveyOpening) *Measure { return &o.Read }),
}

var memberFields = []field[SurveyMember]{
	textField("what", "balusters, rail, newels, shoe, fillets, ...", func(m *SurveyMember) *Text { return &m.What }),
	wholeField("count", "how many", 0, 100_000, func(m *SurveyMember) *Whole { return &m.Count }),
	lengthField("wide", "width across the flats, or diameter", func(m *SurveyMember) *Measure { return &m.Wide }),
	lengthField("deep", "the other side of an oblong section; as wide where absent", func(m *SurveyMember) *Measure { return &m.Deep }),
	lengthField("long", "length of one", func(m *SurveyMember) *Measure { return &m.Long }),
	wordField("section", "square where absent", []string{"square", "round"}, func(m *SurveyMember) *Text { return &m.Section }),
}

var photoFields = []field[SurveyPhoto]{
	textField("file", "the JPEG or PNG, from the folder of this file; one that is still to be taken where blank", func(p *SurveyPhoto) *Text { return &p.File }),
	textField("shows", "what is to be seen on it, in words that do without it", func(p *SurveyPhoto) *Text { return &p.Shows }),
}

var footholdFields = []field[Foothold]{
	textField("what", "what it is", func(f *Foothold) *Text { return &f.What }),
	lengthField("at", "height of its top above the floor", func(f *Foothold) *Measure { return &f.At }),
}

var insideFields = []field[Inside]{
	textField("where", "where it was opened", func(i *Inside) *Text { return &i.Where }),
	textField("framing", "what carries the edge: sizes and state of joists, header, trimmer", func(i *Inside) *Text { return &i.Framing }),
	wordField("joists", "which way the joists run under the edge", []string{"along", "across"}, func(i *Inside) *Text { return &i.Joists }),
	flagField("blocking", "whether there is blocking where posts are to stand", func(i *Inside) *Flag { return &i.Blocking }),
	textField("note", "anything else that was seen", func(i *Inside) *Text { return &i.Note }),
}

var leavingFields = []field[Leaving]{
	textField("what", "a footprint of a newel, a bare strip under the bottom rail, a scar on the wall", func(l *Leaving) *Text { return &l.What }),
	textField("run", "the run whose shoe comes over it", func(l *Leaving) *Text { return &l.Run }),
	textField("post", "or the post that comes over it", func(l *Leaving) *Text { return &l.Post }),
	lengthField("wide", "how wide it is, square to the guard", func(l *Leaving) *Measure { return &l.Wide }),
	lengthField("shift", "how far its middle lies from the middle of the new guard; a reading to take where absent", func(l *Leaving) *Measure { return &l.Shift }),
}

// leavings checks the runs and posts that marks of an old guard are to be covered by.
func (d *decoder) leavings(j *Job) {
	for _, s := range j.Surveys {
		for _, l := range s.Leaves {
			if l.Run.Given && l.Post.Given {
				d.at(l.Post.At, len([]rune(l.Post.Text)), "keep run: or post: , whichever comes over it", "a mark names both a run and a post")
			}
			find(d, l.Run, "run", j.Runs, func(r *Run) string { return r.Name })
			if l.Post.Given && j.Post(l.Post.Text) == nil {
				var known []string
				for _, p := range j.Posts {
					known = append(known, p.Name)
				}
				d.missing(l.Post, "post", known)
			}
		}
	}
}

// Coatings are what an old guard can be covered with. All but bare count as painted for lead.
var Coatings = []string{"paint", "varnish", "shellac", "bare", "unknown"}

var surveyFields = []field[Survey]{
	textField("title", "name on the page", func(s *Survey) *Text { return &s.Title }),
	textField("of", "what was looked at", func(s *Survey) *Text { return &s.Of }),
	lengthField("height", "top of the old handrail above the floor", func(s *Survey) *Measure { return &s.Height }),
	lengthField("drop", "from the walking surface down; the job's where absent", func(s *Survey) *Measure { return &s.Drop }),
	listField("openings", "gaps of the old guard", openingFields, func(s *Survey) *[]SurveyOpening { return &s.Openings }),
	flagField("loose", "whether it gives when pushed", func(s *Survey) *Flag { return &s.Loose }),
	wordField("coated", "what the old parts are covered with", Coatings, func(s *Survey) *Text { return &s.Coated }),
	placedList("photos", "photographs of what was found", photoFields, func(s *Survey) *[]SurveyPhoto { return &s.Photos }, func(p *SurveyPhoto) *source.Pos { return &p.At }),
	lengthField("moves", "how far the top of its rail goes under a push with one hand", func(s *Survey) *Measure { return &s.Moves }),
	textField("held", "how it is fixed, as far as that shows: toe-nailed, on a plate, through the joist", func(s *Survey) *Text { return &s.Held }),
	wholeField("coated-in", "year of its last coat, as far as anybody knows", 1000, 2999, func(s *Survey) *Whole { return &s.CoatedIn }),
	listField("climb", "what a child can stand on to climb: rails across, shelves, a chest beside it", footholdFields, func(s *Survey) *[]Foothold { return &s.Climb }),
	wordsField("hazards", "a list of words", "what the work meets in the house: wires, pipes, a stove flue, a light over the stair well", func(s *Survey) *[]Text { return &s.Hazards }),
	mapField("inside", "what a look inside showed", insideFields, func(s *Survey) *Inside { return &s.Inside }),
	placedList("leaves", "what stays to be seen where the old guard comes off", leavingFields, func(s *Survey) *[]Leaving { return &s.Leaves }, func(l *Leaving) *source.Pos { return &l.At }),
	wordsField("keeps", "a list of words", "what of it stays, or is used again", func(s *Survey) *[]Text { return &s.Keeps }),
	flagField("removed", "whether the old guard is taken out; yes where absent", func(s *Survey) *Flag { return &s.Removes }),
	{"members", "a list", "the old parts, counted for their coated surface", keysOf(memberFields), func(d *decoder, n *source.Node, s *Survey) {
		if n.Blank() {
			return
		}
		if n.Kind != source.List {
			d.problem(n, "write a list: - {what: balusters, count: 18, wide: 1 1/4, long: 36}", "want a list for members, found %s", shape(n))
			return
		}
		for _, item := range n.Items {
			m := SurveyMember{At: item.At}
			decode(d, item, "members", memberFields, &m)
			s.Members = append(s.Members, m)
		}
	}},
}
