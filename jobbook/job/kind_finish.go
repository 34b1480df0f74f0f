package job

import (
	"slices"
	"strings"

	"balustrade/jobbook/exact"
	"balustrade/jobbook/length"
	"balustrade/jobbook/source"
	"balustrade/jobbook/working"
)

// Finish is a finish system: coats in order.
type Finish struct {
	Origin
	Title   Text
	Type    Text // paint, clear, stain
	Base    Text // oil, water, shellac
	Bare    []Sanding
	Coats   []Coat
	Loss    Ratio // per cent of the volume
	Turned  Ratio // per cent more on turned work
	Weather Weather
	Drying  DryingRule
	Hands   Span // from the last coat until it is dry to the hand
	Tape    Span // from the last coat until it takes tape and hard cleaning
	Cure    Text // the same in words
	Care    Text
	Tools   []Text // what it is put on with
	Clean   Text   // what they are cleaned with
}

// Coat is one coat of a finish.
type Coat struct {
	Name     Text
	Type     Text    // one of CoatTypes
	Base     Text    // the finish's where absent
	Dewaxed  Flag    // of shellac
	Coverage Ratio   // sq ft/gal or m2/L
	Film     Measure // how thick one coat is once it is dry
	Times    Whole   // how many coats alike; one where absent
	Dry      Text    // before the next coat, as written
	Dries    Span    // the same, where it begins with a time
	Within   Span    // how long the next coat may wait without sanding
	Sand     Text    // what it is sanded with before the next
	Grit     Whole   // the same as a number
	Weather  Weather
	Drying   DryingRule
	Status   working.Status
}

// CoatTypes are what a coat can be, in the order in which they go on.
var CoatTypes = []string{"conditioner", "filler", "stain", "sealer", "primer", "clear", "enamel"}

// FinishBases are what a coat can be thinned with.
var FinishBases = []string{"oil", "water", "shellac"}

// Sanding is how bare wood is sanded: grits in order, for some woods or for all that no other line names.
type Sanding struct {
	Woods []Text
	Grits []Whole
	At    source.Pos
}

// Span is a time as a can has it: from so long to so long, in minutes; the same where only one is written.
type Span struct {
	Least, Most int // minutes, 1 to mostSpan
	At          source.Pos
	Given       bool
}

// CoverageUnits are the units a coverage can be written in.
var CoverageUnits = []string{"sq ft/gal", "m2/L"}

const overShop = ", over the shop's settings, key by key"

var sandingFields = []field[Sanding]{
	wordsField("woods", "a list of words", "the woods that this holds for, each a species or a word of its name, as in oak; all that no other line names where absent", func(s *Sanding) *[]Text { return &s.Woods }),
	gritsField("grit", "from the first to the last", func(s *Sanding) *[]Whole { return &s.Grits }),
}

const (
	leastGrit = 24
	mostGrit  = 3000
)

func gritsField[T any](key, doc string, at func(*T) *[]Whole) field[T] {
	return field[T]{key, "a list of whole numbers", doc, nil, func(d *decoder, n *source.Node, to *T) {
		*at(to) = nil
		for _, item := range d.items(n) {
			if w := d.whole(item, leastGrit, mostGrit); w.Given {
				*at(to) = append(*at(to), w)
			}
		}
	}}
}

var coatFields = []field[Coat]{
	textField("coat", "what it is: primer, enamel, sealer, ...", func(c *Coat) *Text { return &c.Name }),
	wordField("type", "what it does, by which it is judged what may go over it", CoatTypes, func(c *Coat) *Text { return &c.Type }),
	wordField("base", "what it is thinned with; the finish's where absent", FinishBases, func(c *Coat) *Text { return &c.Base }),
	flagField("dewaxed", "of shellac: whether its wax is taken out; other finishes hold only over shellac without it", func(c *Coat) *Flag { return &c.Dewaxed }),
	ratioField("coverage", "surface that one can-measure covers once", CoverageUnits, func(c *Coat) *Ratio { return &c.Coverage }),
	lengthField("film", "how thick one coat is once it is dry, as its can or its data sheet has it: 0.04 mm", func(c *Coat) *Measure { return &c.Film }),
	wholeField("times", "how many coats alike; one where absent", 1, 20, func(c *Coat) *Whole { return &c.Times }),
	{"dry", "words that begin with a time, as in 4 h, 16 to 24 h, 2 days", "until the next coat; of two times the longer is reckoned with", nil, func(d *decoder, n *source.Node, c *Coat) {
		c.Dry = d.text(n, "words")
		c.Dries, _ = span(c.Dry)
	}},
	spanField("within", "the next coat goes on without sanding if it goes on within this", func(c *Coat) *Span { return &c.Within }),
	textField("sand", "what it is sanded with before the next", func(c *Coat) *Text { return &c.Sand }),
	wholeField("grit", "the same as a number; not sanded where absent", leastGrit, mostGrit, func(c *Coat) *Whole { return &c.Grit }),
	weatherField("what the air must be like for this coat"+overShop, func(c *Coat) *Weather { return &c.Weather }),
	dryingField("how much longer this coat dries in cold and damp"+overShop, func(c *Coat) *DryingRule { return &c.Drying }),
	statusField("status", "how sure these values are; common practice where absent", func(c *Coat) *working.Status { return &c.Status }),
}

var finishFields = []field[Finish]{
	textField("title", "name on the page", func(f *Finish) *Text { return &f.Title }),
	wordField("type", "what it is", []string{"paint", "clear", "stain"}, func(f *Finish) *Text { return &f.Type }),
	wordField("base", "what it is thinned with", FinishBases, func(f *Finish) *Text { return &f.Base }),
	placedList("bare", "how bare wood is sanded before the first coat", sandingFields, func(f *Finish) *[]Sanding { return &f.Bare }, func(s *Sanding) *source.Pos { return &s.At }),
	listField("coats", "the coats, first to last", coatFields, func(f *Finish) *[]Coat { return &f.Coats }),
	percentField("loss", "lost in brush and can; none where absent", 100, func(f *Finish) *Ratio { return &f.Loss }),
	percentField("turned", "lost besides on turned work; none where absent", 100, func(f *Finish) *Ratio { return &f.Turned }),
	weatherField("what the air must be like"+overShop, func(f *Finish) *Weather { return &f.Weather }),
	dryingField("how much longer it dries in cold and damp"+overShop, func(f *Finish) *DryingRule { return &f.Drying }),
	spanField("hands", "from the last coat until it is dry to the hand", func(f *Finish) *Span { return &f.Hands }),
	spanField("tape", "from the last coat until it takes tape and hard cleaning", func(f *Finish) *Span { return &f.Tape }),
	textField("cure", "until hands, tape and cleaning, in words", func(f *Finish) *Text { return &f.Cure }),
	textField("care", "how the client keeps it", func(f *Finish) *Text { return &f.Care }),
	wordsField("tools", "a list of words", "what it is put on with: brushes, rags", func(f *Finish) *[]Text { return &f.Tools }),
	textField("clean", "what the brushes are cleaned with", func(f *Finish) *Text { return &f.Clean }),
}

// mostSpan is the longest time of a finish in minutes: a year. Who means longer has slipped on the unit.
const mostSpan = 365 * 24 * 60

// spanForm is a time at the beginning of words: a number, perhaps to another one, and a unit.
var spanForm = pattern(`^([0-9]{1,5}(?:\.[0-9]{1,3})?)(?:\s*(?:to|-|–)\s*([0-9]{1,5}(?:\.[0-9]{1,3})?))?\s*(minutes?|min|hours?|h|days?|d|weeks?)\b`)

// span reads the time that words begin with; the rest of them, and Given only where there is a time. Minutes are rounded up.
func span(t Text) (s Span, rest string) {
	s = Span{At: t.At}
	m := spanForm().FindStringSubmatch(t.Text)
	if !t.Given || m == nil {
		return s, t.Text
	}
	per := int64(1)
	switch m[3][0] {
	case 'h':
		per = 60
	case 'd':
		per = 24 * 60
	case 'w':
		per = 7 * 24 * 60
	}
	minutes := func(text string) int {
		x, _ := exact.Parse(text)
		return int(length.Rounded(x.Mul(exact.Of(per)), length.Nanometre, length.Up)) // at most five digits of weeks
	}
	s.Least = minutes(m[1])
	s.Most = s.Least
	if m[2] != "" {
		s.Most = minutes(m[2])
	}
	if s.Least < 1 || s.Most < s.Least || s.Most > mostSpan {
		return Span{At: t.At}, t.Text
	}
	s.Given = true
	return s, t.Text[len(m[0]):]
}

func spanField[T any](key, doc string, at func(*T) *Span) field[T] {
	return field[T]{key, "a time, as in 4 h, 2 to 4 h, 7 days", doc, nil, func(d *decoder, n *source.Node, to *T) {
		t := d.text(n, "a time")
		s, rest := span(t)
		if t.Given && (!s.Given || strings.TrimSpace(rest) != "") {
			d.problem(n, "write 30 min, 4 h, 2 to 4 h, or 7 days", "want a time up to a year, found %q", clip(t.Text))
			s = Span{At: t.At}
		}
		*at(to) = s
	}}
}

// Panel is a test panel of a finish on a wood, as the client signed it.
type Panel struct {
	Finish  Ref
	Part    *Finish
	Species Text
	Signed  Text // date
	At      source.Pos
}

var panelFields = []field[Panel]{
	nameField("finish", "finish", "the finish on it", func(p *Panel) *Ref { return &p.Finish }),
	textField("species", "the wood, as the parts have it", func(p *Panel) *Text { return &p.Species }),
	dateField("signed", "day on which the client signed it", func(p *Panel) *Text { return &p.Signed }),
}

// panels follows the names of finishes.
func (d *decoder) panels(j *Job) {
	for i := range j.Panels {
		p := &j.Panels[i]
		p.Part = find(d, p.Finish, "finish", j.Coatings, func(c *Finish) string { return c.Name })
	}
}

// Signed finds the panel of a finish on a wood; nil when none was signed.
func (j *Job) Signed(f *Finish, species string) *Panel {
	i := slices.IndexFunc(j.Panels, func(p Panel) bool {
		return p.Part == f && p.Signed.Given && strings.EqualFold(strings.TrimSpace(p.Species.Text), strings.TrimSpace(species))
	})
	if i < 0 {
		return nil
	}
	return &j.Panels[i]
}

// Sanded gives the grits of the line that names a wood, or else of the line that names none.
func (f *Finish) Sanded(species string) *Sanding {
	word := func(w Text) bool {
		return strings.Contains(" "+strings.ToLower(species)+" ", " "+strings.ToLower(strings.TrimSpace(w.Text))+" ")
	}
	for _, named := range []bool{true, false} {
		for i := range f.Bare {
			if s := &f.Bare[i]; named && slices.ContainsFunc(s.Woods, word) || !named && len(s.Woods) == 0 {
				return s
			}
		}
	}
	return nil
}

// AllCoats is how many coats a finish has, coats alike counted each.
func (f *Finish) AllCoats() (n int) {
	for _, c := range f.Coats {
		n += max(c.Times.N, 1)
	}
	return n
}
