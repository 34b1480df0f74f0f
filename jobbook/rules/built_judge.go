package rules

import (
	"slices"
	"strconv"

	"balustrade/jobbook/finding"
)

// judge has every reading judged: those that count for the findings, older ones by themselves, to be shown beside them.
func (s *inspector) judge() {
	var current []finding.Measure
	var owners []*taken
	var older []*taken
	own := false // the drop was read here
	for _, t := range s.taken {
		if !t.counts {
			older = append(older, t)
			continue
		}
		for _, m := range s.measures(t) {
			current, owners = append(current, m), append(owners, t)
		}
		own = own || t.What.Text == "drop"
	}
	spreads := s.spreads()
	fall := s.fall()
	if own {
		fall = nil
	}
	list := Judge(s.job.Rules, slices.Concat(fall, current, spreads))[len(fall):]
	for i, f := range list {
		if i < len(owners) {
			f = s.asked(owners[i], f)
		}
		if f.Verdict == finding.Fail {
			f.Cure = "put it right, read it again, and write the new reading under its own date with the same where:"
		}
		if i < len(owners) {
			owners[i].found = append(owners[i].found, judged{current[i].Limit, f})
		} else {
			m := spreads[i-len(owners)]
			b := s.spread[m.Limit]
			b.Verdict = f.Verdict
			s.spread[m.Limit] = b
		}
		s.all.Findings = append(s.all.Findings, f)
	}
	if !own {
		fall = s.fall()
	} else {
		fall = slices.DeleteFunc(slices.Clone(current), func(m finding.Measure) bool { return m.Limit != drop })
	}
	for _, t := range older {
		ms := s.measures(t)
		for i, f := range Judge(s.job.Rules, slices.Concat(fall, ms))[len(fall):] {
			t.found = append(t.found, judged{ms[i].Limit, s.asked(t, f)})
		}
	}
}

// asked makes no pass of a reading between balusters that the plan does not have.
func (s *inspector) asked(t *taken, f finding.Finding) finding.Finding {
	if n, beyond := s.beyond(t); beyond && f.Verdict == finding.Pass {
		f.Verdict, f.Note = finding.AskAuthority, t.Note.Text
		f.Title = "built otherwise than planned: " + f.Title + ", and the plan has " + strconv.Itoa(n) + " balusters"
		f.Cure = "count from the datum end and write the two it was read between; or write what stands into the job's files, so that the book is of what was built"
	}
	return f
}

// fill puts the readings into their rows.
func (s *inspector) fill() {
	for i := range s.Checks {
		c := &s.Checks[i]
		for _, t := range s.taken {
			if !c.takes(t) {
				continue
			}
			b := Built{Value: t.Read.Length, At: t.Read.At, Place: t.Where.Text, Number: t.Number(), Date: t.date(), By: t.file.By.Text, Note: t.Note.Text, Counts: t.counts}
			for _, j := range t.found {
				if slices.Contains(c.limits, j.limit) && (b.Verdict == 0 || j.Verdict < b.Verdict) {
					b.Verdict = j.Verdict
				}
			}
			if b.Verdict == 0 { // no limit judges it
				b.Verdict = finding.NotRequired
			}
			c.Read = append(c.Read, b)
		}
		for _, limit := range c.limits {
			if b, ok := s.spread[limit]; ok {
				c.Read = append(c.Read, b)
			}
		}
		c.Verdict = finding.ToBeMeasured
		for _, b := range c.Read {
			if b.Counts && (c.Verdict == finding.ToBeMeasured || b.Verdict < c.Verdict) {
				c.Verdict = b.Verdict
			}
		}
		c.Verdict = s.settled(c)
		c.worst()
	}
}

// settled is a row's verdict: while boxes are empty, a pass of the others is none of the row.
func (s *inspector) settled(c *Check) finding.Verdict {
	if len(c.Boxes) < 2 || c.Verdict == finding.Fail {
		return c.Verdict
	}
	seen, whole := map[int]bool{}, false
	for _, b := range c.Read {
		if b.Counts && b.Number > 0 {
			seen[b.Number] = true
		}
		whole = whole || b.Counts && b.Number == 0 // the greatest or the least of all
	}
	if whole || len(seen) >= len(c.Boxes) {
		return c.Verdict
	}
	return finding.ToBeMeasured
}

// worst marks the reading of all boxes that the limit is held against: the greatest riser, the least tread.
func (c *Check) worst() {
	if len(c.Boxes) < 2 {
		return
	}
	at := -1
	for i, b := range c.Read {
		larger := at < 0 || b.Value > c.Read[at].Value
		if slices.Contains(c.limits, "tread-least") {
			larger = at < 0 || b.Value < c.Read[at].Value
		}
		if b.Counts && larger {
			at = i
		}
	}
	if at >= 0 {
		c.Read[at].Worst = true
	}
}
