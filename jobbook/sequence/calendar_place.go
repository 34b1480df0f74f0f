package sequence

// after is when so many minutes have passed. Where clocks are put on in between, they show an hour more.
func (w *Work) after(from, minutes int) int {
	to := from + minutes
	for _, f := range w.Forward {
		if from <= f && f < to {
			to += Hour
		}
	}
	return to
}

// before is the last time from which so many minutes have passed by then.
func (a *arranger) before(to, minutes int) int {
	from := to - minutes
	for _, f := range a.Forward {
		if from-Hour <= f && f < to {
			from -= Hour
		}
	}
	return from
}

// ready is when what comes after a task may begin that is over then.
func (a *arranger) ready(end int, t *Task) int {
	at := a.after(end, t.Wait)
	if t.Days > 0 {
		at = max(at, (floorDiv(end, Day)+t.Days)*Day)
	}
	return at
}

// over is the last time at which a task may be over so that what comes after it can begin then.
func (a *arranger) over(latest int, t *Task) int {
	by := a.before(latest, t.Wait)
	if t.Days > 0 {
		by = min(by, (floorDiv(latest, Day)-t.Days+1)*Day-1)
	}
	return by
}

// place finds the first time from then on at which a task can be done.
func (a *arranger) place(i, from int) (Placed, []Fault) {
	t := &a.Tasks[i]
	need := a.clock(t)
	if need == 0 {
		at := a.moment(from)
		return Placed{Start: at, End: at, Ready: a.ready(at, t)}, nil
	}
	whole, tail := t.Whole || t.Opens, a.tail[i]
	var faults []Fault
	if whole && need+tail > a.longestDay() {
		if t.Opens {
			faults = append(faults, Fault{Kind: OpenOver, Task: i})
		} else {
			faults = append(faults, Fault{Kind: OverDays, Task: i})
		}
		whole = false
	}
	if tail > 0 && need+tail <= a.longestDay() {
		whole = true
	} else {
		tail = 0
	}
	for _, heed := range []bool{true, false} { // the family, and where there is never a time, without
		if spans, ok := a.find(t, need, tail, from, whole, heed); ok {
			end := spans[len(spans)-1].To
			return Placed{Start: spans[0].From, End: end, Ready: a.ready(end, t), Spans: spans}, faults
		}
		faults = append(faults, Fault{Kind: NoTime, Task: i})
	}
	// Days off for ten years: it stands where it would have begun, and says so.
	return Placed{Start: from, End: from, Ready: a.ready(from, t)}, faults
}

// find looks for the first spans from then on.
func (a *arranger) find(t *Task, need, tail, from int, whole, heed bool) ([]Span, bool) {
	limit := floorDiv(from, Day) + mostDays
	var room few
	for floorDiv(from, Day) < limit {
		var spans []Span
		left := need
		for day := floorDiv(from, Day); left > 0 && day < limit; day++ {
			open := a.open(t, day, heed, &room)
			today := open[:0]
			for _, s := range open {
				if s.From = max(s.From, from); s.From < s.To {
					today = append(today, s)
				}
			}
			sum := length(today)
			if whole && sum < need+tail || len(spans) == 0 && sum < min(left, least) {
				continue
			}
			for _, s := range today {
				if left == 0 {
					break
				}
				s.To = min(s.To, s.From+left)
				left -= s.To - s.From
				spans = append(spans, s)
			}
		}
		if left > 0 {
			return nil, false
		}
		if lasting := t.Makes.lasting(); heed && lasting != (Makes{}) {
			dry := Span{spans[0].From, a.after(spans[len(spans)-1].To, t.Wait)}
			if out, ok := a.meets(dry, lasting); ok {
				from = max(out.To, from+1)
				continue
			}
		}
		return spans, true
	}
	return nil, false
}

// findBack looks for the last spans that are over by then; it goes back no further than to where the task stands.
func (a *arranger) findBack(i, by int) (start int, ok bool) {
	t, at := &a.Tasks[i], a.at.Placed[i]
	need := a.clock(t)
	if need == 0 {
		return by, true
	}
	var room few
	for by > at.Start {
		start, end, left := 0, 0, need
		for day := floorDiv(by-1, Day); left > 0 && day >= floorDiv(at.Start, Day); day-- {
			open := a.open(t, day, true, &room)
			today := open[:0]
			for _, s := range open {
				if s.To = min(s.To, by); s.From < s.To {
					today = append(today, s)
				}
			}
			if (t.Whole || t.Opens) && length(today) < need {
				continue
			}
			for k := len(today) - 1; k >= 0 && left > 0; k-- {
				s := today[k]
				s.From = max(s.From, s.To-left)
				if left == need {
					end = s.To
				}
				left -= s.To - s.From
				start = s.From
			}
		}
		if left > 0 {
			return 0, false
		}
		if lasting := t.Makes.lasting(); lasting != (Makes{}) {
			if out, ok := a.meets(Span{start, a.after(end, t.Wait)}, lasting); ok {
				by = min(by-1, max(end-1, out.From-t.Wait))
				continue
			}
		}
		return start, true
	}
	return 0, false
}

// slack goes back from the end: what has to be over by when so that nothing after it moves.
func (a *arranger) slack() {
	for n := len(a.at.Order) - 1; n >= 0; n-- {
		i := a.at.Order[n]
		t, p := &a.Tasks[i], &a.at.Placed[i]
		if t.Done {
			p.Latest = p.Start
			continue
		}
		by := a.at.End
		if t.HasBy {
			by = min(by, max(t.By, p.End))
		}
		for _, f := range a.next[i] {
			latest := a.at.Placed[f.task].Latest
			if f.wait {
				latest = a.over(latest, t)
			}
			by = min(by, latest)
		}
		p.Latest = p.Start
		if start, ok := a.findBack(i, by); ok {
			p.Latest = max(p.Start, start)
		}
		p.Slack = a.between(p.Start, p.Latest)
		p.Critical = p.Slack == 0
	}
}
