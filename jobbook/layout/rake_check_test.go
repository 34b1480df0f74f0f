package layout_test

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"balustrade/jobbook/layout"
)

type (
	sameFunc func(what string, got, want float64)
	sayFunc  func(format string, a ...any)
)

// checkStair compares what does not wait for balusters: rail, shoe, heights over the nosings, the triangle.
func checkStair(d *drawn, r *layout.Run, same sameFunc, say sayFunc) {
	c, tan := d.sec(), d.tan()
	angle := r.Rake.Angle.Value.Float64()
	if math.Abs(angle-math.Atan(tan)*180/math.Pi) > 1e-6 {
		say("angle %v", angle)
	}
	along := (d.to - d.from + d.lean) * c
	stick := func(what string, cut *layout.Cut, long, high float64) {
		if cut == nil {
			say("no %s: %+v", what, r.Missing)
			return
		}
		same(what, mm(cut.Exact), long)
		if up := mm(cut.Length) - long; up < -slack || up >= d.division+slack {
			say("%s of %v is cut to %v", what, long, mm(cut.Length))
		}
		if up := mm(cut.Blank) - (long + high*tan); up < -slack || up >= d.division+slack {
			say("blank of %s, %v and %v for the plumb cut, is %v", what, long, high*tan, mm(cut.Blank))
		}
	}
	stick("handrail", r.Handrail, along-(d.rosette[0]+d.rosette[1])*c, d.thick)
	if !d.onTreads() {
		stick("shoe", r.Shoe, (d.to-d.from)*c, d.shoe)
	}

	// Over each nosing that the rail goes over, the nosing of a riser at the lower post's face included.
	least, most := math.Inf(1), math.Inf(-1)
	for n := 1; n <= len(d.risers); n++ {
		x, h := d.tread(n)
		if x < d.from-1e-6 || x-d.nosing > d.to+1e-6 {
			continue
		}
		over := d.line(x-d.nosing) + d.height - h
		least, most = min(least, over), max(most, over)
	}
	triangle := 0.0
	for n := 1; n < len(d.risers); n++ {
		// The corner of tread and riser, the shoe's underside over it; the ball touches all three.
		_, h := d.tread(n)
		x, _ := d.tread(n + 1)
		up := d.line(x) + d.shoeOver - h
		triangle = max(triangle, up+up/tan-math.Hypot(up, up/tan))
	}
	for _, m := range r.Measures {
		switch m.Limit {
		case "guard-height-stair", "handrail-height-least":
			if m.Known {
				same(m.Limit, mm(m.Value), least)
			}
			if m.Known != (least < math.Inf(1)) {
				say("%s known: %v", m.Limit, m.Known)
			}
		case "handrail-height-most":
			if m.Known {
				same(m.Limit, mm(m.Value), most)
			}
		case "guard-triangle":
			if m.Known && mm(m.Value) < triangle-slack {
				say("triangle %v, a ball of %v goes in", mm(m.Value), triangle)
			}
			even := slices.Min(d.risers[1:]) == slices.Max(d.risers[1:]) && slices.Min(d.goings) == slices.Max(d.goings)
			if m.Known && even {
				same("triangle", mm(m.Value), triangle)
			}
			// Uneven steps are taken with their own slope and the higher of their two nosings: on the safe side, and not far.
			if m.Known && mm(m.Value) > triangle+0.35*25.4 {
				say("triangle %v, the largest ball is %v", mm(m.Value), triangle)
			}
		}
	}
}

// checkPlaces compares where the balusters stand.
func checkPlaces(d *drawn, r *layout.Run, same sameFunc, say sayFunc) {
	var want []stand
	if d.onTreads() {
		want = d.pattern(r.Chosen.PerTread)
		first := 0
		for first < len(want) && len(r.Marks) > 0 && math.Abs(want[first].x-d.from-mm(r.Marks[0].At)) > slack {
			first++
		}
		if first+len(r.Marks) > len(want) {
			say("%d balusters, %d to the tread have places %+v", len(r.Marks), r.Chosen.PerTread, want)
		}
		want = want[first : first+len(r.Marks)] // those left out beside the posts are looked at with the openings
	} else {
		want = d.onShoe(r.Chosen.Count)
	}
	if len(want) != len(r.Marks) || len(want) != r.Chosen.Count {
		say("%d marks for %d", len(r.Marks), r.Chosen.Count)
	}
	before := math.Inf(-1)
	for i, m := range r.Marks {
		s := want[i]
		name := fmt.Sprintf("baluster %d ", m.K)
		same(name+"place", mm(m.At), s.x-d.from)
		if mm(m.At) <= before {
			say("mark %d does not rise", m.K)
		}
		before = mm(m.At)
		if d.onTreads() {
			same(name+"from its riser", mm(m.Riser), s.riser)
			if m.Tread != s.tread {
				say("baluster %d stands on tread %d, not %d", m.K, s.tread, m.Tread)
			}
		} else {
			same(name+"along", mm(m.Along), d.round((s.x-d.from)*d.sec()))
		}
		same(name+"foot", mm(m.Stands), d.foot(s.x, s.tread))
		same(name+"bottom as bought", mm(m.Lift), d.lift(s.x, s.tread))
		same(name+"head", mm(m.Head), d.railUnder(s.x))
	}
}

// checkBalusters compares their lengths, how they are grouped, and their points.
func checkBalusters(d *drawn, r *layout.Run, same sameFunc, say sayFunc) {
	foot, head := d.bevels()
	lengths := make([]float64, len(r.Marks))
	for i, m := range r.Marks {
		lengths[i] = d.cut(d.from+mm(m.At), m.Tread)
	}
	in := make([]int, len(r.Marks))
	for _, c := range r.Balusters {
		group := counted(c.Which)
		if len(group) != c.Count {
			say("%d balusters in the group %q", c.Count, c.Which)
		}
		least, most := math.Inf(1), math.Inf(-1)
		for _, k := range group {
			in[k-1]++
			least, most = min(least, lengths[k-1]), max(most, lengths[k-1])
		}
		same("shortest of "+c.Which, mm(c.Exact), least)
		if !d.cutAlike(least, most) {
			say("balusters %s differ by %v and are cut alike", c.Which, most-least)
		}
		if down := least - mm(c.Length); down < -slack || down >= d.division+slack {
			say("%v is cut to %v", least, mm(c.Length))
		}
		if up := mm(c.Blank) - (least + foot + head); up < -slack || up >= d.division+slack {
			say("a stick for %v, with points of %v and %v, is %v", least, foot, head, mm(c.Blank))
		}
		switch {
		case head == 0:
		case foot > 0: // both ends alike: its edges are as long as its axis
			same("edge", mm(c.Long), mm(c.Length))
			same("edge", mm(c.Short), mm(c.Length))
		default:
			if math.Abs(mm(c.Long)-mm(c.Length)-head) > d.division/2+slack || math.Abs(mm(c.Length)-mm(c.Short)-head) > d.division/2+slack {
				say("points of %v at %v and %v, want %v either way", mm(c.Length), mm(c.Short), mm(c.Long), head)
			}
		}
	}
	for i, n := range in {
		if n != 1 {
			say("baluster %d is in %d groups", i+1, n)
		}
	}
	if n := d.fewest(lengths); len(r.Balusters) != n {
		say("%d cuts, %d would do: %v", len(r.Balusters), n, lengths)
	}
}

// counted reads "1 to 3, 7".
func counted(which string) (list []int) {
	for _, word := range strings.Split(which, ", ") {
		var a, b int
		if n, _ := fmt.Sscanf(word, "%d to %d", &a, &b); n == 1 {
			b = a
		}
		for k := a; k <= b; k++ {
			list = append(list, k)
		}
	}
	return list
}

// cutAlike reports lengths that the shop does not tell apart, or that come to one mark on the tape.
func (d *drawn) cutAlike(short, long float64) bool {
	down := func(v float64) float64 { return math.Floor(v/d.division + 1e-6) }
	return long-short <= d.alike+slack || down(short) == down(long)
}

// fewest is how many groups lengths can be put in that are cut alike: the least over every way of parting the sorted lengths.
func (d *drawn) fewest(lengths []float64) int {
	sorted := slices.Sorted(slices.Values(lengths))
	best := make([]int, len(sorted)+1)
	for n := 1; n <= len(sorted); n++ {
		best[n] = n
		for k := range n {
			if d.cutAlike(sorted[k], sorted[n-1]) {
				best[n] = min(best[n], best[k]+1)
			}
		}
	}
	return best[len(sorted)]
}

// checkFillets compares the fillets of both grooves with the gaps between the marks.
func checkFillets(d *drawn, r *layout.Run, same sameFunc, say sayFunc) {
	for _, groove := range []struct {
		what  string
		there bool
		ends  [2]float64
	}{{"rail fillet", d.plow > 0 && !d.pinTop, d.rosette}, {"shoe fillet", d.groove > 0, [2]float64{}}} {
		var got, want []float64
		for _, c := range r.Fillets {
			if c.What != groove.what {
				continue
			}
			if c.ToFit {
				say("%s is to be fitted, though nothing leans", c.What)
			}
			for range c.Count {
				got = append(got, mm(c.Length))
			}
		}
		if !groove.there || r.Chosen == nil { // without balusters it is filled from end to end
			if len(got) > 0 {
				say("%d of %s, and no groove", len(got), groove.what)
			}
			continue
		}
		face, short := d.from+groove.ends[0]-d.wide/2, false
		add := func(gap float64) {
			if gap > slack {
				want = append(want, math.Floor(gap*d.sec()/d.division+1e-6)*d.division)
			} else {
				short = true // nothing to fill
			}
		}
		for _, m := range r.Marks {
			add(d.from + mm(m.At) - face - d.wide)
			face = d.from + mm(m.At)
		}
		add(d.to - groove.ends[1] + d.wide/2 - face - d.wide)
		if short {
			continue
		}
		slices.Sort(got)
		slices.Sort(want)
		if len(got) != len(want) {
			say("%s: %v, want %v", groove.what, got, want)
		}
		for i := range got {
			same(groove.what, got[i], want[i])
		}
	}
}

// checkOpenings compares the worst openings, and looks whether fewer balusters would do, or those that were left out are needed.
func checkOpenings(d *drawn, r *layout.Run, say sayFunc) {
	const near = 0.1 // mm
	found := searches{}
	var list []stand
	for _, m := range r.Marks {
		list = append(list, stand{d.from + mm(m.At), mm(m.Riser), m.Tread})
	}
	if len(list) == 0 {
		return
	}
	lean := near + 1.5*math.Abs(d.lean) // the end openings may take it in
	w := d.openings(list, found)
	for _, o := range r.Openings {
		var want span
		more := near
		switch {
		case o.Part == "from":
			want, more = w.from, lean
		case o.Part == "to":
			want, more = w.to, lean
		case strings.Contains(o.Where, "landing"):
			want = w.landing
		default:
			want = w.between
		}
		if mm(o.Worst) < want[0]-near {
			say("opening %s is called %.3f, and a ball of %.3f goes through", o.Where, mm(o.Worst), want[0])
		}
		if o.Part == "from" && d.across(0) || o.Part == "to" && d.across(1) { // which surface such a post stands on is asked; until then the wider opening may be taken
			continue
		}
		if mm(o.Worst) > want[1]+more {
			say("opening %s is called %.3f, no ball over %.3f was found", o.Where, mm(o.Worst), want[1])
		}
		if o.Nominal > o.Worst {
			say("opening %s: %.3f by the marks, and %.3f at the worst", o.Where, mm(o.Nominal), mm(o.Worst))
		}
	}
	if name, bad := w.fails(near); bad && r.Chosen.Passes {
		say("passes, and %s", name)
	}
	if d.onTreads() {
		for m := 1; m < r.Chosen.PerTread && d.perTread == 0; m++ {
			if list := d.pattern(m); len(list) > 0 && d.openings(list, found).keeps(lean) {
				say("%d to the tread were taken, and %d pass: %+v", r.Chosen.PerTread, m, r.Candidates)
			}
		}
		return
	}
	for n := r.Least - 1; n >= 1 && (d.to-d.from+d.wide)/float64(n+1)-d.wide < 2*stairLimit; n-- {
		if d.openings(d.onShoe(n), found).keeps(lean) {
			say("%d is called the least, and %d pass", r.Least, n)
		}
	}
}
