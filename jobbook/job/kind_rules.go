package job

import (
	"slices"
	"strings"

	"balustrade/jobbook/exact"
	"balustrade/jobbook/finding"
	"balustrade/jobbook/length"
	"balustrade/jobbook/source"
	"balustrade/jobbook/working"
)

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
	Title   Text
	Amends  Ref
	Country Text    // whose law the set is of; that of the set it amends where it says nothing
	Limits  []Limit // after amendment, in the order of the first set
	Loads   []Load  // likewise
	Why     Text    // what the amendment rests on
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

// LimitNames are the limits that a rule set can hold, each with what it judges. A name that is not here is a problem in the file.
var LimitNames = []Key{
	{"guard-drop", "over", "a guard is required where the drop is over this", nil},
	{"guard-height-level", "at-least", "height of a guard along a level floor", nil},
	{"guard-height-stair", "at-least", "height of a guard on the open side of a stair, above the nosing line", nil},
	{"guard-opening", "under", "openings from the walking surface to the required height", nil},
	{"guard-opening-stair", "under", "openings on the open side of a stair", nil},
	{"guard-triangle", "under", "the triangle of riser, tread and bottom rail", nil},
	{"handrail-height-least", "at-least", "height of a handrail above the nosing line", nil},
	{"handrail-height-most", "at-most", "height of a handrail above the nosing line", nil},
	{"handrail-wall-clearance", "at-least", "from a handrail to the wall", nil},
	{"handrail-projection", "at-most", "how far a handrail stands into the stair", nil},
	{"riser-most", "at-most", "height of a riser", nil},
	{"riser-spread", "at-most", "greatest less least riser in a flight", nil},
	{"tread-least", "at-least", "depth of a tread", nil},
	{"tread-spread", "at-most", "greatest less least tread in a flight", nil},
	{"nosing-least", "at-least", "projection of a nosing", nil},
	{"nosing-most", "at-most", "projection of a nosing", nil},
	{"open-riser", "under", "opening between treads", nil},
	{"grip-round-least", "at-least", "diameter of a round handrail", nil},
	{"grip-round-most", "at-most", "diameter of a round handrail", nil},
	{"grip-girth-least", "at-least", "girth of a handrail that is not round", nil},
	{"grip-girth-most", "at-most", "girth of a handrail that is not round; a larger one needs a finger recess", nil},
	{"grip-across-most", "at-most", "greatest distance across a handrail that is not round", nil},
	{"recess-starts-most", "at-most", "where a finger recess begins, below the tallest part", nil},
	{"recess-deep-least", "at-least", "depth of a finger recess", nil},
	{"recess-within-most", "at-most", "how far below the widest part it is that deep", nil},
	{"recess-kept-least", "at-least", "depth that a finger recess keeps to its lower end", nil},
	{"recess-to-least", "at-least", "where its lower end is, below the tallest part", nil},
	{"recess-wide-least", "at-least", "width of a handrail above its finger recess", nil},
	{"recess-wide-most", "at-most", "width of a handrail above its finger recess", nil},
	{"foothold-low", "at-most", "top of a bottom rail, or of anything else that a child could stand on, above the floor: no help for a climb while it is this low", nil},
	{"foothold-high", "at-least", "top of what lies higher: no help for a climb from here on", nil},
}

// LoadNames are the loads that a rule set can hold, each acting by itself; Form lists the units it can be in.
var LoadNames = []Key{
	{"rail-point", "lb or kN", "one load at any point of the top rail, in any direction", nil},
	{"rail-line", "lb/ft or kN/m", "along the top rail, square to the guard", nil},
	{"infill-square", "lb or kN", "on a square of the infill, square to the guard", nil},
	{"infill-pressure", "lb/ft2 or kN/m2", "all over the infill", nil},
	{"infill-point", "lb or kN", "at any point of the infill", nil},
}

var loadFields = []field[Load]{
	{"load", "a number in lb, lb/ft, lb/ft2, kN, kN/m or kN/m2", "the load, in the unit that its name calls for", nil, nil},
	lengthField("side", "of infill-square: the side of the square", func(l *Load) *Measure { return &l.Side }),
	textField("clause", "where the rule stands; it must be given", func(l *Load) *Text { return &l.Clause }),
	statusField("status", "how sure the value is; it must be given, but in an amendment, where it is local", func(l *Load) *working.Status { return &l.Status }),
	textField("note", "what a reader must know with it", func(l *Load) *Text { return &l.Note }),
}

// loadsField takes the loads of a rule set by name.
var loadsField = field[RuleSet]{"loads", "keys and values", "what the guard is to take, by name, and below each", keysOf(loadFields), func(d *decoder, n *source.Node, r *RuleSet) {
	if n.Blank() {
		return
	}
	if n.Kind != source.Map {
		d.problem(n, "write rail-point: {load: 200 lb}", "want keys and values for loads, found %s", shape(n))
		return
	}
	for _, e := range n.Entries {
		at := slices.IndexFunc(LoadNames, func(k Key) bool { return k.Key == e.Key })
		if at < 0 {
			d.unknown(e.At, e.Key, "load", "a rule set", keyNames(LoadNames))
			continue
		}
		l := Load{Name: e.Key, At: e.At}
		fields := slices.Clone(loadFields)
		fields[0].set = func(d *decoder, n *source.Node, l *Load) {
			l.Value = d.ratio(n, strings.Split(LoadNames[at].Form, " or "))
		}
		before := len(d.problems)
		decode(d, e.Value, e.Key, fields, &l)
		switch {
		case len(d.problems) > before:
		case !l.Value.Given || l.Value.Thousandths == 0:
			d.at(e.At, len([]rune(e.Key)), "write load: and the value, or leave the load out", "the load %s has no value", e.Key)
		case e.Key == "infill-square" && (!l.Side.Given || l.Side.Length <= 0):
			d.at(e.At, len([]rune(e.Key)), "add side: , the side of the square that the load lies on, as in 12 in", "the load %s has no side of its square", e.Key)
		case e.Key != "infill-square" && l.Side.Given:
			d.at(l.Side.At, 1, "leave side: out; it is for infill-square alone", "the load %s does not lie on a square", e.Key)
		}
		r.Loads = append(r.Loads, l)
	}
}}

func limitFields() []field[Limit] {
	var fields []field[Limit]
	for _, words := range finding.Ops {
		op := strings.ReplaceAll(words, " ", "-")
		doc := "the limit; exactly on it " + map[string]string{"under": "fails", "at-most": "passes", "at-least": "passes", "over": "is not over"}[op]
		fields = append(fields, field[Limit]{op, "a length", doc, nil, func(d *decoder, n *source.Node, l *Limit) {
			if l.Op != "" {
				d.problem(n, "keep one of them", "a limit has both %s and %s", l.Op, op)
				return
			}
			l.Op, l.Value = op, d.measure(n)
		}})
	}
	return append(fields,
		textField("clause", "where the rule stands, as R312.1.3; it must be given", func(l *Limit) *Text { return &l.Clause }),
		statusField("status", "how sure the value is; it must be given, but in an amendment, where it is local", func(l *Limit) *working.Status { return &l.Status }),
		textField("note", "what a reader must know with it", func(l *Limit) *Text { return &l.Note }),
	)
}

var limitKeys = limitFields()

var ruleSetFields = []field[RuleSet]{
	textField("title", "name on the page", func(r *RuleSet) *Text { return &r.Title }),
	{"country", "words", "the country whose law it is of, as US or England: what other laws of that country say is then told as law; that of the set it amends where absent", nil, func(d *decoder, n *source.Node, r *RuleSet) {
		if r.Country = d.text(n, "words"); otherUS[strings.ToLower(r.Country.Text)] {
			d.problem(n, "write country: "+US, "what the laws of %s say is known here by another name", clip(r.Country.Text))
		}
	}},
	nameField("amends", "rule set", "the rule set that this one changes, limit by limit", func(r *RuleSet) *Ref { return &r.Amends }),
	textField("why", "what the amendment rests on: an ordinance, the shop's own way", func(r *RuleSet) *Text { return &r.Why }),
	{"limits", "keys and values", "the limits by name, and below each", keysOf(limitKeys), func(d *decoder, n *source.Node, r *RuleSet) {
		if n.Blank() {
			return
		}
		if n.Kind != source.Map {
			d.problem(n, "write guard-opening: {under: 4}", "want keys and values for limits, found %s", shape(n))
			return
		}
		known := keyNames(LimitNames)
		for _, e := range n.Entries {
			l := Limit{Name: e.Key, At: e.At, System: d.system}
			if limitSort(e.Key) == "" {
				d.unknown(e.At, e.Key, "limit", "a rule set", known)
				continue
			}
			before := len(d.problems)
			decode(d, e.Value, e.Key, limitKeys, &l)
			if e.Value.Kind != source.Map {
				continue
			}
			if l.Op != "" && !l.Value.Given && len(d.problems) == before {
				d.at(e.At, len([]rune(e.Key)), "write the length, or leave the limit out", "the limit %s has no length", e.Key)
			}
			switch want := limitSort(e.Key); {
			case l.Op == "":
				d.at(e.At, len([]rune(e.Key)), "write "+want+": and the length", "the limit %s has no length", e.Key)
			case l.Op != want && (e.Key != "guard-drop" || l.Op != "at-least"): // some codes count a drop of just that much
				d.at(l.Value.At, 1, "write "+want, "%s is judged by %s, found %s", e.Key, want, l.Op)
			}
			r.Limits = append(r.Limits, l)
		}
	}},
	loadsField,
}

// sign says in every limit and load whose it is; one of a set that changes another is local where it does not say otherwise.
func (r *RuleSet) sign(name string) {
	for i := range r.Limits {
		l := &r.Limits[i]
		l.Set, l.Amends = name, r.Amends.Text
		if r.Amends.Given && l.Status == 0 {
			l.Status = working.Local
		}
	}
	for i := range r.Loads {
		l := &r.Loads[i]
		l.Set, l.Amends = name, r.Amends.Text
		if r.Amends.Given && l.Status == 0 {
			l.Status = working.Local
		}
	}
}

func keyNames(keys []Key) []string {
	list := make([]string, 0, len(keys))
	for _, k := range keys {
		list = append(list, k.Key)
	}
	return list
}

// limitSort is the comparison that a limit's name calls for; empty for a name that is not known.
func limitSort(name string) string {
	for _, k := range LimitNames {
		if k.Key == name {
			return k.Form
		}
	}
	return ""
}

// Looser reports an amendment that allows more than the limit it amends: a ball that is larger, a guard that is lower.
func (l *Limit) Looser() bool {
	if !l.Base.Given || !l.Value.Given {
		return false
	}
	if l.Op == "at-least" {
		return l.Value.Length < l.Base.Length
	}
	return l.Value.Length > l.Base.Length
}

// Looser reports an amendment that asks for less than the load it amends: a smaller one, or one spread over a larger square.
func (l *Load) Looser() bool {
	if l.Base == nil {
		return false
	}
	newtons := func(r Ratio) exact.Number { // of a foot and of a metre alike: the names of loads keep their kinds apart
		v := exact.New(r.Thousandths, 1000)
		factor := map[string]string{"lb": "4.4482216152605", "lb/ft": "14.593902937206365", "lb/ft2": "47.880258980335840"}[r.Unit]
		if factor == "" {
			factor = "1000"
		}
		f, _ := exact.Parse(factor)
		return v.Mul(f)
	}
	return newtons(l.Value).Cmp(newtons(l.Base.Value)) < 0 || l.Base.Side.Given && l.Side.Length > l.Base.Side.Length
}
