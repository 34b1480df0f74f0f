package changes

import (
	"slices"
	"strings"
)

// isOver is what the last day of a step is recorded as. It is no change by itself: the day on which the step begins is told.
const isOver = "is over"

// Planned is the last day of a step in a record, year-month-day; empty where it was not recorded.
type Planned struct {
	Step, Over string
}

// planned reads the last days of the steps out of a record, in its order.
func planned(list []Line) (out []Planned) {
	at := map[string]int{}
	for _, l := range list {
		name, ok := strings.CutPrefix(l.Of, "step/")
		if l.Sort != Date || !ok {
			continue
		}
		i, had := at[name]
		if !had {
			i = len(out)
			at[name] = i
			out = append(out, Planned{Step: name})
		}
		if l.What == isOver {
			out[i].Over = l.Value
		}
	}
	return out
}

// end is the day on which the work was to be over; empty where it was not recorded.
func end(list []Line) string {
	for _, l := range list {
		if l.Sort == Date && l.Of == "job" {
			return l.Value
		}
	}
	return ""
}

// withoutEnds leaves the last days of steps out.
func withoutEnds(list []Line) []Line {
	return slices.DeleteFunc(slices.Clone(list), func(l Line) bool { return l.Sort == Date && l.What == isOver })
}
