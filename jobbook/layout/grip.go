package layout

import (
	"slices"
	"strings"

	"balustrade/jobbook/finding"
	"balustrade/jobbook/job"
	"balustrade/jobbook/length"
	"balustrade/jobbook/source"
	"balustrade/jobbook/working"
)

// grip judges whether a hand closes round a rail: one that is round by its diameter, another by its girth, a larger one by its recess.
func (b *builder) grip(h *job.Handrail, whose string) {
	if h == nil {
		return
	}
	measure := func(limit, subject string, m job.Measure, missing string) {
		b.Measures = append(b.Measures, finding.Measure{Limit: limit, Subject: subject + " of " + whose, Group: b.ID, Value: m.Length, Known: m.Given, At: m.At, Missing: missing})
	}
	ask := func(given bool, what, key string, at source.Pos) {
		if !given {
			b.needIn(h.File, what+" of "+whose+"'s section", key, "whether a hand closes round it", at)
		}
	}
	round := h.Section.Text == "round"
	if set := b.job.Rules; set != nil && !limitsGrip(set, round) { // nothing of the section is asked for or judged
		b.Findings = append(b.Findings, finding.Finding{
			ID: "check/" + b.ID + "/grip/" + strings.ReplaceAll(whose, " ", "-"), Group: b.ID, Verdict: finding.AskAuthority, At: source.Pos{File: h.File}, Status: working.Derived, Rules: set.Name,
			Title: "whether a hand closes round " + whose, Note: "the rule set " + set.Name + " has no limit for this", Unlimited: "grip of the handrail",
		})
		return
	}
	if round {
		ask(h.Wide.Given, "diameter", "wide: ", h.Wide.At)
		measure("grip-round-least", "diameter", h.Wide, "diameter of the section")
		measure("grip-round-most", "diameter", h.Wide, "diameter of the section")
		return
	}
	if !b.inHand(h, whose, measure, ask) {
		b.recess(h, whose, measure)
	}
}

// recess judges the finger recess of a rail that is more than a hand goes round.
func (b *builder) recess(h *job.Handrail, whose string, measure func(limit, subject string, m job.Measure, missing string)) {
	r := h.Recess
	var missing []string
	sizes := []struct {
		limits  []string
		subject string
		key     string
		m       job.Measure
	}{
		{[]string{"recess-starts-most"}, "where the finger recess begins, below the tallest part,", "starts", r.Starts},
		{[]string{"recess-deep-least"}, "depth of the finger recess", "deep", r.Deep},
		{[]string{"recess-within-most"}, "how far below the widest part the finger recess is that deep,", "within", r.Within},
		{[]string{"recess-kept-least"}, "depth that the finger recess keeps", "kept", r.Kept},
		{[]string{"recess-to-least"}, "how far down the finger recess goes, below the tallest part,", "to", r.To},
		{[]string{"recess-wide-least", "recess-wide-most"}, "width above the finger recess", "wide", r.Wide},
	}
	for _, x := range sizes {
		if !x.m.Given {
			missing = append(missing, x.key+": ")
		}
	}
	if len(missing) > 0 {
		b.needIn(h.File, "the finger recess of "+whose+": its girth is more than a hand goes round", "recess: {"+strings.Join(missing, ", ")+"}", "whether a hand closes round it", r.Starts.Or(r.Deep).At)
	}
	if len(missing) == len(sizes) { // none of it is known: one line says so
		measure("recess-deep-least", "finger recess", r.Deep, "the finger recess of the section, all its sizes")
		return
	}
	for _, x := range sizes {
		for _, limit := range x.limits {
			measure(limit, x.subject, x.m, x.subject)
		}
	}
}

// limitsGrip reports that a rule set has a limit on what a hand closes round.
func limitsGrip(set *job.RuleSet, round bool) bool {
	for _, l := range set.Limits {
		ofRound := strings.HasPrefix(l.Name, "grip-round-")
		if l.Value.Given && (round && ofRound || !round && (strings.HasPrefix(l.Name, "grip-") && !ofRound || strings.HasPrefix(l.Name, "recess-"))) {
			return true
		}
	}
	return false
}

// inHand judges a section by its girth and the greatest distance across it; false where its girth is more than a hand goes round. What was not read of
// a rectangle follows from its width and height as far as it has to: sharp edges make it the most, and no section so wide and high goes below the least.
func (b *builder) inHand(h *job.Handrail, whose string, measure func(limit, subject string, m job.Measure, missing string), ask func(given bool, what, key string, at source.Pos)) bool {
	limit := func(name string) (length.Length, bool) {
		l := b.job.Rules.Limit(name)
		return limitOf(l)
	}
	girthMost, hasMost := limit("grip-girth-most")
	girthLeast, hasLeast := limit("grip-girth-least")
	acrossMost, hasAcross := limit("grip-across-most")
	var girths, acrosses *span
	if h.Section.Text == "rectangular" && h.Wide.Given && h.High.Given && b.job.Rules != nil {
		id := strings.ReplaceAll(whose, " ", "-")
		w, t := b.in("w", "width of "+whose, h.Wide), b.in("t", "height of "+whose, h.High)
		corner := working.Root(working.Sum(working.Product(w, w), working.Product(t, t)))
		two := working.Constant(2)
		if !h.Girth.Given {
			girths = b.between(id+"-girth", "girth of "+whose, "G", working.Product(two, corner), working.Product(two, working.Sum(w, t)))
		}
		if !h.Across.Given {
			acrosses = b.between(id+"-across", "greatest distance across "+whose, "D", working.Greatest(w, t), corner)
		}
	}
	switch {
	case h.Girth.Given && hasMost && h.Girth.Length > girthMost, girths != nil && hasMost && girths.least > girthMost:
		return false
	case h.Girth.Given:
		measure("grip-girth-least", "girth", h.Girth, "girth of the section")
		measure("grip-girth-most", "girth", h.Girth, "girth of the section")
	case girths != nil && (!hasMost || girths.most <= girthMost) && (!hasLeast || girths.least >= girthLeast || girths.most < girthLeast):
		under := girths.most < girthLeast
		b.bound(girths, "grip-girth-least", "girth of "+whose, h.Wide.At, under)
		b.bound(girths, "grip-girth-most", "girth of "+whose, h.Wide.At, true)
	default:
		ask(false, "girth, with a string", "girth: ", h.Girth.At)
		measure("grip-girth-least", "girth", h.Girth, "girth of the section")
		measure("grip-girth-most", "girth", h.Girth, "girth of the section")
	}
	switch {
	case !h.Across.Given && acrosses != nil && (!hasAcross || acrosses.most <= acrossMost || acrosses.least > acrossMost):
		b.bound(acrosses, "grip-across-most", "greatest distance across of "+whose, h.Wide.At, !hasAcross || acrosses.most <= acrossMost)
	default:
		ask(h.Across.Given, "greatest distance across", "across: ", h.Across.At)
		measure("grip-across-most", "greatest distance across", h.Across, "greatest distance across the section")
	}
	return true
}

func limitOf(l *job.Limit) (length.Length, bool) {
	if l == nil || !l.Value.Given {
		return 0, false
	}
	return l.Value.Length, true
}

// span is what a size that was not read lies between.
type span struct {
	least, most       length.Length
	leastFig, mostFig *working.Figure // kept where they are judged
}

func (b *builder) between(id, title, symbol string, least, most working.Expr) *span {
	grid := length.Inch / 1000
	if b.sys == length.Millimetres {
		grid = length.Millimetre / 100
	}
	step := working.Length("u", "rounded to a multiple of", grid, b.sys, source.Pos{})
	work := func(end, what, sub string, e working.Expr, how length.Rounding) *working.Figure {
		return working.Work(b.ID+"/"+id+"-"+end, title+", "+what, symbol+"_"+sub, b.sys.String(), working.RoundTo(e, step, how), working.Geometry)
	}
	s := &span{
		leastFig: work("least", "at least: any section as wide and high", "l", least, length.Down),
		mostFig:  work("most", "at most: a rectangle with sharp edges", "m", most, length.Up),
	}
	s.least, s.most = s.leastFig.Exact(b.sys), s.mostFig.Exact(b.sys)
	return s
}

// bound is a measure of which an end of its span is judged: where that holds, so does the size itself.
func (b *builder) bound(s *span, limit, subject string, at source.Pos, most bool) {
	m, f := finding.Measure{Limit: limit, Subject: subject, Group: b.ID, Value: s.least, Known: true, At: at, Bound: true, Note: "from width and height, at least, however its edges are eased"}, s.leastFig
	if most {
		m.Value, f, m.Note = s.most, s.mostFig, "from width and height, at most: eased edges make it less"
	}
	if m.Figure = f.ID; !slices.Contains(b.Figures, f) {
		b.Figures = append(b.Figures, f)
	}
	b.Measures = append(b.Measures, m)
}
