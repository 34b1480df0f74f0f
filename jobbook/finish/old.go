package finish

import (
	"strconv"

	"balustrade/jobbook/exact"
	"balustrade/jobbook/job"
	"balustrade/jobbook/length"
	"balustrade/jobbook/source"
	"balustrade/jobbook/working"
)

// LeadThreshold is the coated surface in sq ft, in one room within 30 days, above which taking it out for pay in a house from
// before 1978 is lead renovation work: 40 CFR 745.83 (published).
const LeadThreshold = 6

var (
	threshold = exact.Of(LeadThreshold)
	members   = working.Citation{Text: "girth times length of every coated part; the rule of the US, 40 CFR 745.83, counts the whole of a part that is taken out", Status: working.Published}
)

// old adds up the coated surface of every old guard that is taken out.
func (w *worker) old() {
	for _, s := range w.job.Surveys {
		if s.Goes() {
			w.out.Old = append(w.out.Old, w.oldSurface(s))
		}
	}
	var terms []working.Expr
	for i := range w.out.Old {
		switch o := &w.out.Old[i]; {
		case o.Survey.Coated.Text == "bare":
		case o.Area == nil:
			return
		default:
			terms = append(terms, o.Area.As("S_"+strconv.Itoa(len(terms)+1)))
		}
	}
	if len(terms) < 2 {
		return
	}
	all := working.Work("survey/old-surface", "coated surface of all old guards that go", "S", "sq ft", working.Total(terms), members)
	w.out.Figures = append(w.out.Figures, all)
	for i := range w.out.Old {
		if w.out.Old[i].Area != nil {
			w.out.Old[i].Together = all
		}
	}
}

// oldSurface is one old guard's. What it is coated with may be unknown: only bare wood is not counted.
func (w *worker) oldSurface(s *job.Survey) OldSurface {
	o := OldSurface{Survey: s, Built: w.job.Built, ForPay: w.job.ForPay}
	if s.Coated.Text == "bare" {
		return o
	}
	why := "how much coated surface is taken out, which may hold lead"
	if len(s.Members) == 0 {
		w.ask(s.File, "the coated parts of the old guard, counted and measured", "members: ", why, source.Pos{})
		return o
	}
	var terms []working.Expr
	for i, m := range s.Members {
		if !m.Count.Given || !m.Wide.Given || !m.Long.Given {
			what := m.What.Text
			if what == "" {
				what = "member " + strconv.Itoa(i+1)
			}
			w.ask(s.File, "count, width and length of the old guard's "+what, "members: {count: , wide: , long: }", why, m.At)
			continue
		}
		terms = append(terms, w.member(m, i))
	}
	if len(terms) == 0 {
		return o
	}
	area := working.Total(terms)
	if w.job.System == length.Millimetres {
		const foot = 9_290_304 // mm² in a sq ft times a hundred, exact: 304.8²
		area = working.Quotient(area, (&working.Input{Symbol: "k", Name: "square millimetres in a square foot", Value: exact.New(foot, 100)}).Because("exact: 304.8 mm squared"))
	} else {
		const foot = 144 // sq in in a sq ft
		area = working.Quotient(area, working.Constant(foot))
	}
	f := working.Work("survey/"+s.Name+"/old-surface", "coated surface of the old guard", "S", "sq ft", area, members)
	o.Over = f.Value.Known() && f.Value.Cmp(threshold) > 0
	if len(terms) < len(s.Members) {
		if !o.Over {
			return o
		}
		o.AtLeast = true
		f.Note = "At least: not every part has been counted, and those that have are over 6 sq ft already."
	}
	o.Area = f
	w.out.Figures = append(w.out.Figures, f)
	return o
}

// member is count by girth by length of one sort of part, in square units of length.
func (w *worker) member(m job.SurveyMember, i int) working.Expr {
	n, sys := strconv.Itoa(i+1), w.job.System
	what := m.What.Text
	if what == "" {
		what = "member " + n
	}
	count := working.Count("c_"+n, what+", how many", int64(m.Count.N), m.Count.At)
	wide := working.Length("w_"+n, what+", width", m.Wide.Length, sys, m.Wide.At)
	long := working.Length("l_"+n, what+", length", m.Long.Length, sys, m.Long.At)
	const sides = 4
	switch {
	case m.Section.Text == "round":
		return working.Product(count, working.Pi(), wide, long)
	case m.Deep.Given:
		deep := working.Length("d_"+n, what+", the other side", m.Deep.Length, sys, m.Deep.At)
		return working.Product(count, working.Constant(2), working.Sum(wide, deep), long)
	}
	return working.Product(count, working.Constant(sides), wide, long)
}
