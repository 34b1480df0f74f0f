package sequence

import (
	"iter"
	"slices"
)

// weekday is a day's, Monday 0; day 1 is counted as 0.
func (w *Work) weekday(day int) int { return (((day+w.Weekday)%7 + 7) % 7) }

// few is room for the hours of a day, for those who ask for one day after the other.
type few [8]Span

// hours are the working hours of a day, nothing on a day off.
func (w *Work) hours(day int) []Span { return w.addHours(nil, day) }

// addHours adds them to a list.
func (w *Work) addHours(list []Span, day int) []Span {
	if slices.ContainsFunc(w.Off, func(s Span) bool { return s.From <= day && day < s.To }) {
		return list
	}
	for _, s := range w.Hours[w.weekday(day)] {
		list = append(list, Span{day*Day + s.From, day*Day + s.To})
	}
	return list
}

// open are the working hours of a day that the family leaves to a task, or all of them where nobody is heeded; in the room, where there is enough of it.
func (w *Work) open(t *Task, day int, heed bool, room *few) []Span {
	list := w.addHours(room[:0], day)
	if !heed || t.Makes == (Makes{}) {
		return list
	}
	for i := range w.Unwanted {
		if b := &w.Unwanted[i]; b.No.meets(t.Makes) {
			for out := range b.on(w, day) {
				list = without(list, out)
			}
		}
	}
	return list
}

// on are its hours of a day.
func (b *Unwanted) on(w *Work, day int) iter.Seq[Span] {
	return func(yield func(Span) bool) {
		if !b.Days[w.weekday(day)] || b.Bounded && (day < b.First || day > b.Last) {
			return
		}
		for _, s := range b.Hours {
			if !yield(Span{day*Day + s.From, day*Day + s.To}) {
				return
			}
		}
	}
}

// meets finds the first unwanted time that a stretch of time comes into.
func (w *Work) meets(s Span, makes Makes) (Span, bool) {
	for day := floorDiv(s.From, Day); day*Day < s.To; day++ {
		for i := range w.Unwanted {
			if b := &w.Unwanted[i]; b.No.meets(makes) {
				for out := range b.on(w, day) {
					if s.From < out.To && out.From < s.To {
						return out, true
					}
				}
			}
		}
	}
	return Span{}, false
}

// without cuts a stretch out of spans.
func without(list []Span, cut Span) []Span {
	var out []Span
	for _, s := range list {
		if cut.To <= s.From || s.To <= cut.From {
			out = append(out, s)
			continue
		}
		if s.From < cut.From {
			out = append(out, Span{s.From, cut.From})
		}
		if cut.To < s.To {
			out = append(out, Span{cut.To, s.To})
		}
	}
	return out
}

// longestDay is the most that is worked on a day.
func (w *Work) longestDay() int {
	most := 0
	for _, spans := range w.Hours {
		most = max(most, length(spans))
	}
	return most
}

// moment is the first time from then on at which somebody works; the end of the day's work counts as well.
func (w *Work) moment(from int) int {
	var room few
	for day := floorDiv(from, Day); day < floorDiv(from, Day)+mostDays; day++ {
		for _, s := range w.addHours(room[:0], day) {
			if from <= s.To {
				return max(from, s.From)
			}
		}
	}
	return from
}

// between is how much of the working hours lies between two times.
func (w *Work) between(from, to int) int {
	var room few
	sum := 0
	for day := floorDiv(from, Day); day*Day < to; day++ {
		for _, s := range w.addHours(room[:0], day) {
			sum += max(0, min(s.To, to)-max(s.From, from))
		}
	}
	return sum
}
