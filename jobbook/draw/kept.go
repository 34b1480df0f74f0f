package draw

import (
	"fmt"

	"balustrade/jobbook/layout"
)

// olds are the balusters of an old guard that stays, in millimetres from the datum face, level.
func (m *model) olds() (list []layout.OldBaluster) {
	if m.r.Kept == nil || m.r.Kept.Part == nil || !m.r.Kept.Part.Sized {
		return nil
	}
	for _, o := range m.r.Kept.Old {
		if sane(o.At) && sane(o.Lean) {
			list = append(list, o)
		}
	}
	return list
}

// old draws a baluster that stands there already, in the thin line, without a body: at x on the sheet, from a height up, its head leaning as it was read.
func (p pen) old(m *model, o layout.OldBaluster, x, z, room float64) {
	var left, right []point
	for _, s := range m.r.Kept.Part.Profile.Stations {
		at := min(mm(s.At), room)
		lean := 0.0
		if room > 0 {
			lean = float64(mm(o.Lean) * at / room)
		}
		half := mm(s.Width) / 2
		left = append(left, point{x + float64((lean-half)*p.scale), p.up(z + at)})
		right = append(right, point{x + float64((lean+half)*p.scale), p.up(z + at)})
	}
	for i := len(right) - 1; i >= 0; i-- {
		left = append(left, right[i])
	}
	p.s.path(was, true, left...)
}

// oldWords says what the thin lines are.
func (m *model) oldWords() string {
	n := len(m.olds())
	if n == 0 {
		return ""
	}
	return fmt.Sprintf("Thin: %s; rail and shoe are the old ones too.", counted(n, "old baluster that stays", "old balusters that stay"))
}

// counted names what the drawing counts: where an old guard stays, the new balusters.
func (m *model) counted(n int) string {
	if m.r.Kept != nil {
		return counted(n, "new baluster", "new balusters")
	}
	return counted(n, "baluster", "balusters")
}
