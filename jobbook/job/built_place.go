package job

import (
	"slices"
	"strconv"
	"strings"
)

// Gap is the number of the lower of the two balusters that an opening was read between, which are neighbours; 0 where it is not said so.
func (r BuiltReading) Gap() int {
	if low, high, ok := r.pair(); ok && low > 0 && high == low+1 {
		return low
	}
	return 0
}

// Baluster is the greatest number of a baluster in the place of an opening, that of a place that is a number alone too; 0 where there is none.
func (r BuiltReading) Baluster() int {
	if !strings.HasSuffix(r.What.Text, "opening") || r.What.Text == "end opening" || r.What.Text == "riser opening" {
		return 0
	}
	if r.Gap() > 0 {
		return r.Gap() + 1
	}
	list, _ := numbers(r.Where.Text, "baluster", "at")
	if len(list) != 1 {
		return 0
	}
	return max(list[0], 0)
}

// pair are the two balusters that an opening was read between, the lower number first. False where its place is no pair of numbers.
func (r BuiltReading) pair() (low, high int, ok bool) {
	list, _ := numbers(r.Where.Text, "between", "baluster", "balusters", "and")
	if len(list) != 2 {
		return 0, 0, false
	}
	return min(list[0], list[1]), max(list[0], list[1]), true
}

// Nosing is the number of the nosing of a flight that a height, or how far it stands out, was read at: counted from below, the landing's last; 0 where the place is no number.
func (r BuiltReading) Nosing() int {
	if r.Run == nil || r.Run.Stair == nil || !slices.Contains([]string{"height", "handrail height", "nosing"}, r.What.Text) {
		return 0
	}
	if list, _ := numbers(r.Where.Text, stepWords...); len(list) == 1 {
		return max(list[0], 0)
	}
	return 0
}

// stepWords go with the number of a step.
var stepWords = []string{"over", "above", "at", "on", "under", "the", "of", "nosing", "tread", "riser"}

// numbers are those of a place that has nothing but numbers and the given words; none where it has other words. bare says that it has no words at all.
func numbers(place string, with ...string) (list []int, bare bool) {
	bare = true
	for _, w := range strings.FieldsFunc(Place(place), func(c rune) bool { return c == ' ' || c == '-' || c == '–' || c == ',' }) {
		switch n, err := strconv.Atoi(w); {
		case err == nil:
			list = append(list, n)
		case slices.Contains(with, w):
			bare = false
		default:
			return nil, false
		}
	}
	return list, bare
}

// bareNumber reports a place that is a number and nothing else, whole or broken, with no unit and no word to it.
func bareNumber(place string) bool {
	return strings.ContainsAny(place, "0123456789") && strings.Trim(place, "0123456789 .,/½¼¾") == ""
}

// numberedPlace holds the numbers in a place to what there can be: neighbours, the nosings of the flight, and none where a measure has no numbered places. How many balusters there are only the plan knows.
func (d *decoder) numberedPlace(r *BuiltReading, refuse func(hint, format string, args ...any)) {
	name, where := clip(r.Of.Text), clip(r.Where.Text)
	s := r.Run.Stair
	switch what := r.What.Text; {
	case !r.Where.Given:
	case what == "opening" || what == "landing opening":
		low, high, ok := r.pair()
		switch list, _ := numbers(r.Where.Text, "baluster", "at"); {
		case ok && (low < 1 || low == high), !ok && len(list) == 1 && list[0] < 1:
			refuse("balusters are counted from 1, from the datum end: write between 7 and 8", "no two balusters of %q are named %q", name, where)
		case ok && high != low+1:
			refuse("write two that stand next to each other, as in between "+strconv.Itoa(low)+" and "+strconv.Itoa(low+1), "balusters %d and %d of %q are no neighbours, and an opening is between two that are", low, high, name)
		case !ok && len(list) != 1 && bareNumber(r.Where.Text):
			refuse("write between 7 and 8", "no two balusters of %q are named %q", name, where)
		}
	case what == "end opening" || what == "riser" || what == "tread": // held to their own
	case s != nil && slices.Contains([]string{"height", "handrail height", "nosing", "triangle", "riser opening"}, what):
		n := s.Risers.N() // as many nosings, the landing's among them
		list, _ := numbers(r.Where.Text, stepWords...)
		if len(list) == 1 && (list[0] < 1 || n > 0 && list[0] > n) || len(list) != 1 && bareNumber(r.Where.Text) {
			most := "counted from below"
			if n > 0 {
				most = "from 1 to " + strconv.Itoa(n) + ", " + most
			}
			step := map[string]string{"triangle": "tread", "riser opening": "riser"}[what]
			if step == "" {
				step, most = "nosing", most+", the landing's last"
			}
			refuse("write the number of the "+step+", "+most+"; or the place in words; or leave where: out for the worst of all", "no %s of %q is named %q", step, name, where)
		}
	case bareNumber(r.Where.Text):
		refuse("write the place in words, as in where: "+strings.TrimSpace(r.Where.Text)+" "+d.system.String()+" from the datum end; or leave where: out", "%s has no numbered places, and its place is %q", what, where)
	}
}
