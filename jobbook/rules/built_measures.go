package rules

import (
	"strconv"
	"strings"

	"balustrade/jobbook/finding"
	"balustrade/jobbook/layout"
	"balustrade/jobbook/working"
)

// measured is the measure of the plan that a limit judges; where several rails have it, the one whose subject ends so.
func (s *inspector) measured(limit, ending string) (finding.Measure, bool) {
	for _, m := range s.run.Measures {
		if m.Limit == limit && strings.HasSuffix(m.Subject, ending) {
			return m, true
		}
	}
	return finding.Measure{}, false
}

// opening is the run's planned opening of a part, the worst where there are several, and the limit that judges it.
func (s *inspector) opening(part string, landing bool) (found layout.Opening, limit string) {
	limit = s.openLimit()
	of := limit
	if len(s.run.Openings) == 0 && part == "to" && s.run.Job.Stair != nil || landing { // not laid out: it may stand on the landing, whose limit is the stricter one
		of = "guard-opening"
	}
	for _, o := range s.run.Openings {
		by := limit
		for _, m := range s.run.Measures {
			if m.Figure == o.Figure && m.Figure != "" {
				by = m.Limit
			}
		}
		if o.Part == part && (part != "between" || landing == (by != limit)) && (found.Part == "" || o.Worst > found.Worst) {
			found, of = o, by
		}
	}
	return found, of
}

// openLimit names the limit on the run's openings, as the layout does.
func (s *inspector) openLimit() string {
	if s.run.Job.Stair != nil && (s.job.Rules == nil || s.job.Rules.Limit("guard-opening-stair") != nil) {
		return "guard-opening-stair"
	}
	return "guard-opening"
}

// grips are the limits on a handrail's section, by what is read.
var grips = map[string][]string{
	"diameter": {"grip-round-least", "grip-round-most"}, "girth": {"grip-girth-least", "grip-girth-most"}, "across": {"grip-across-most"},
	"recess start": {"recess-starts-most"}, "recess depth": {"recess-deep-least"}, "recess within": {"recess-within-most"},
	"recess kept": {"recess-kept-least"}, "recess end": {"recess-to-least"}, "recess width": {"recess-wide-least", "recess-wide-most"},
}

// limits names the limits that judge a reading.
func (s *inspector) limits(t *taken) []string {
	flight := s.run.Job.Stair != nil
	switch what := t.What.Text; what {
	case "opening":
		return []string{s.openLimit()}
	case "landing opening":
		return []string{"guard-opening"}
	case "end opening":
		_, limit := s.opening([]string{"from", "to"}[max(0, t.End())], false)
		return []string{limit}
	case "height":
		switch {
		case !flight:
			return []string{"guard-height-level"}
		case isHandrail(s.run.Job):
			return []string{"guard-height-stair", "handrail-height-least", "handrail-height-most"}
		}
		return []string{"guard-height-stair"}
	case "landing height":
		return []string{"guard-height-level"}
	case "handrail height":
		return []string{"handrail-height-least", "handrail-height-most"}
	case "drop":
		return []string{drop}
	case "triangle":
		return []string{"guard-triangle"}
	case "wall clearance":
		return []string{"handrail-wall-clearance"}
	case "projection":
		return []string{"handrail-projection"}
	case "riser":
		return []string{"riser-most"}
	case "tread":
		return []string{"tread-least"}
	case "nosing":
		return []string{"nosing-least", "nosing-most"}
	case "riser opening":
		return []string{"open-riser"}
	case "girth": // a larger section is judged by its finger recess
		if _, byGirth := s.measured("grip-girth-most", railEnding(t.wallRail())); !byGirth && s.byRecess(t.wallRail()) {
			return nil
		}
	}
	return grips[t.What.Text]
}

func railEnding(wall bool) string {
	if wall {
		return " of the wall rail"
	}
	return " of the handrail"
}

func (s *inspector) byRecess(wall bool) bool {
	for _, m := range s.run.Measures {
		if strings.HasPrefix(m.Limit, "recess-") && strings.HasSuffix(m.Subject, railEnding(wall)) {
			return true
		}
	}
	return false
}

// fall is the planned drop of the run, which decides whether the limits on guards apply.
func (s *inspector) fall() []finding.Measure {
	m, ok := s.measured(drop, "")
	if !ok {
		return nil
	}
	m.Group = s.ID
	return []finding.Measure{m}
}

func (s *inspector) measures(t *taken) []finding.Measure {
	var list []finding.Measure
	limits := s.limits(t)
	for _, limit := range limits {
		m := finding.Measure{Limit: limit, Subject: t.title(), Group: s.ID, Value: t.Read.Length, Known: true, At: t.Read.At, Note: t.Note.Text}
		switch {
		case strings.HasPrefix(limit, "handrail-height") && t.What.Text == "height":
			m.Subject += ", as a handrail"
		case len(limits) > 1 && strings.HasSuffix(limit, "-least"):
			m.Subject += ", against the least"
		}
		if len(limits) > 1 && strings.HasSuffix(limit, "-most") {
			m.Subject += ", against the most"
		}
		if n, beyond := s.beyond(t); beyond {
			m.Note = note(m.Note, "the plan has "+strconv.Itoa(n)+" balusters")
		}
		list = append(list, m)
	}
	return list
}

// beyond reports an opening whose balusters the plan does not have, and how many it has. What was read there is no pass: either other balusters stand there than were planned, or they were counted otherwise.
func (s *inspector) beyond(t *taken) (int, bool) {
	n, ok := s.balusters()
	return n, ok && t.Baluster() > n
}

// balusters are how many stand in the run by the plan, those of an old guard that stays among them; false where none are laid out.
func (s *inspector) balusters() (int, bool) {
	c := s.run.Chosen
	if c == nil {
		return 0, false
	}
	n := c.Count
	if k := s.run.Kept; k != nil {
		n += len(k.Old)
	}
	return n, true
}

// spreads are the greatest less the least of the risers and of the treads, where each was read, or where those that were read differ too much already.
func (s *inspector) spreads() (list []finding.Measure) {
	st := s.run.Job.Stair
	if st == nil {
		return nil
	}
	for _, x := range []struct {
		what, limit, symbol string
		n                   int
	}{{"riser", "riser-spread", "r", st.Risers.N()}, {"tread", "tread-spread", "a", st.Risers.N() - 1}} {
		var least, most *taken
		seen := map[int]bool{}
		for _, t := range s.taken {
			if !t.counts || t.What.Text != x.what || t.Number() == 0 {
				continue
			}
			seen[t.Number()] = true
			if least == nil || t.Read.Length < least.Read.Length {
				least = t
			}
			if most == nil || t.Read.Length > most.Read.Length {
				most = t
			}
		}
		if len(seen) < 2 {
			continue
		}
		l := s.job.Rules.Limit(x.limit)
		over := l != nil && l.Value.Given && most.Read.Length-least.Read.Length > l.Value.Length
		if len(seen) < x.n && !over || x.n < 2 && !over {
			continue
		}
		f := working.Work(s.ID+"/"+x.limit, "greatest "+x.what+" less the least, as built", "d_"+x.symbol, s.job.System.String(),
			working.Difference(
				working.Length(x.symbol+"_g", most.title()+", the greatest, as built", most.Read.Length, s.job.System, most.Read.At),
				working.Length(x.symbol+"_l", least.title()+", the least, as built", least.Read.Length, s.job.System, least.Read.At)),
			working.Geometry)
		s.all.Figures = append(s.all.Figures, f)
		m := finding.Measure{Limit: x.limit, Subject: "greatest " + x.what + " less the least", Group: s.ID, Value: most.Read.Length - least.Read.Length, Known: true, At: most.Read.At, Figure: f.ID}
		if len(seen) < x.n {
			m.Note = "of those that were read: " + strconv.Itoa(len(seen)) + " of " + strconv.Itoa(x.n)
		}
		s.spread[x.limit] = Built{Value: m.Value, At: m.At, Date: most.date(), Counts: true, Figure: f.ID, Note: m.Note}
		list = append(list, m)
	}
	return list
}
