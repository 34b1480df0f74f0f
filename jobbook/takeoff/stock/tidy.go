package stock

import "slices"

// tidyMost is the number of sticks beyond which a plan is not tidied.
const tidyMost = 60

// tidy moves and exchanges pieces between the sticks of a plan as long as that leaves more in few long pieces: the sum of the squares
// of what is left and of offcuts not touched grows, which for two sticks means that the longer of their leavings does. The cost stays.
func (s *solver) tidy(bins []bin) []bin {
	if len(bins) == 0 || len(bins) > tidyMost {
		return bins
	}
	there := s.limits()
	for _, b := range bins {
		there[b.stick]--
	}
	spare := len(bins)
	for k, n := range there { // offcuts that cost nothing and are not touched
		if s.limit[k] != unlimited && s.cost[k] == 0 {
			for range min(n, tidyMost) {
				bins = append(bins, bin{k, make([]int, len(s.w))})
			}
		}
	}
	if len(bins) > 2*tidyMost {
		return bins[:spare]
	}
	room := make([]int64, len(bins))
	for i, b := range bins {
		room[i] = s.size[b.stick] - s.fill(b)
	}
	for better := true; better; {
		better = false
		for a := range bins {
			for b := range bins {
				if a == b {
					continue
				}
				for i, w := range s.w {
					if bins[a].count[i] == 0 {
						continue
					}
					for j := -1; j < len(s.w); j++ { // -1: nothing comes back
						back := int64(0)
						if j >= 0 {
							if bins[b].count[j] == 0 || j == i {
								continue
							}
							back = s.w[j]
						}
						x, y := room[a]+w-back, room[b]-w+back
						if x < 0 || y < 0 || max(x, y) <= max(room[a], room[b]) {
							continue
						}
						bins[a].count[i]--
						bins[b].count[i]++
						if j >= 0 {
							bins[b].count[j]--
							bins[a].count[j]++
						}
						room[a], room[b], better = x, y, true
						s.steps++
						if bins[a].count[i] == 0 {
							break
						}
					}
				}
			}
		}
	}
	return slices.DeleteFunc(bins, func(b bin) bool { return s.fill(b) == 0 })
}
