package takeoff

import (
	"fmt"
	"slices"
	"strings"

	"balustrade/jobbook/exact"
	"balustrade/jobbook/finding"
	"balustrade/jobbook/job"
	"balustrade/jobbook/layout"
	"balustrade/jobbook/length"
)

// place is a joint of the job, ready for whatever fastening the shop has for it.
type place struct {
	joint    string
	run      *layout.Run
	post     *job.Post
	where    string
	times    int             // joints alike
	from, to length.Length   // of a joint that goes along the run
	clear    []length.Length // places along it where a fixing is hidden: in the middle of gaps
	pinned   bool            // a pin goes in there, which is glued
	plate    *job.Rosette
	rail     *job.Handrail
	fillet   *job.Fillet
}

// places lists every joint of the job, run by run and then post by post.
func (t *taking) places(l layout.Layout) (list []place) {
	for _, r := range l.Runs {
		list = append(list, t.along(r)...)
		n := len(r.Marks)
		part := r.Job.Baluster
		for i, e := range []job.End{r.Job.From, r.Job.To} {
			if r.Job.Stays() { // what holds the old rail holds it
				break
			}
			end := []layout.End{r.From, r.To}[i].Name
			if e.Plate != nil {
				list = append(list, place{joint: "rosette to wall", run: r, where: end, times: 1, plate: e.Plate}, place{joint: "rail to rosette", run: r, where: end, times: 1, plate: e.Plate, rail: r.Job.Handrail})
			}
			if e.Post != nil && !e.Over.Yes && r.Job.Bolt != nil {
				list = append(list, place{joint: "access bore", run: r, where: end, times: 1})
			}
		}
		if joints := len(r.RailPieces) - 1; joints > 0 && r.Job.Bolt != nil {
			list = append(list, place{joint: "access bore", run: r, where: "joints in the rail", times: joints})
		}
		if part != nil && n > 0 {
			foot := place{joint: r.Job.FootJoint(), run: r, times: n, pinned: part.Bottom.Text == "pin" || part.Bottom.Text == "let in"}
			head := place{joint: "baluster to rail", run: r, times: n, pinned: part.Top.Text == "pin", rail: r.Job.Handrail}
			if r.Job.Stays() { // there is no getting at their ends from below or above
				head.joint = "new " + head.joint
			}
			if t.job.FootLoose(r.Job) {
				t.loose(r)
			} else {
				list = append(list, foot)
			}
			list = append(list, head)
		}
		for _, part := range r.Job.Fillets() { // one that serves rail and shoe is told once
			fillets, where := 0, map[string]string{"shoe fillet": "in the shoe", "rail fillet": "in the handrail"}
			in := place{joint: "fillet", run: r, fillet: part}
			for _, c := range r.Fillets {
				if r.Job.FilletOf(c.What) == part {
					fillets += c.Count
					in.where = where[c.What]
				}
			}
			if len(r.Job.Fillets()) == 1 {
				in.where = ""
			}
			if in.times = fillets; fillets > 0 {
				list = append(list, in)
			}
		}
		if r.WallRail != nil {
			list = append(list, place{joint: "wall rail bracket", run: r, where: "wall rail", to: r.WallRail.Length},
				place{joint: "bracket to rail", run: r, where: "wall rail", rail: r.Job.Stair.WallRail.Part})
		}
	}
	for i := range t.job.Posts {
		p := &t.job.Posts[i]
		joint := map[string]string{"plate": "newel on a plate", "bolted": "newel bolted", "lagged": "newel lagged", "let in": "newel let in"}[p.Foot.Text]
		if p.Part != nil && p.Part.Half.Yes {
			joint = "half newel to wall"
		}
		if joint != "" && !t.job.Stays(p) {
			list = append(list, place{joint: joint, post: p, where: p.Name, times: 1})
		}
	}
	return list
}

// along are the pieces of a run's shoe, each with the middles of the gaps over it.
func (t *taking) along(r *layout.Run) (list []place) {
	if empty := r.Chosen != nil && r.Chosen.Count == 0; r.Job.Shoe == nil || r.Shoe == nil || len(r.Marks) == 0 && !empty {
		return nil
	}
	p := place{joint: "shoe to floor", run: r, where: "shoe", times: 1, from: r.From.Proud}
	at := func(m layout.Mark) length.Length { return m.At }
	whole := r.Shoe.Length
	half := length.Length(0)
	if b := r.Job.Baluster; b != nil {
		half = b.Wide.Length / 2
	}
	if r.Rake != nil {
		p.joint = "shoe to stair"
		at = func(m layout.Mark) length.Length { return m.Along }
		if sec := r.Rake.Secant; sec != nil && sec.Value.Known() {
			along := func(l length.Length) length.Length {
				return length.Rounded(exact.Of(int64(l)).Mul(sec.Value), length.Nanometre, length.Nearest)
			}
			p.from, half = along(p.from), along(half)
		}
	}
	starts := []length.Length{p.from}
	for _, more := range r.ShoeMore {
		starts = append(starts, starts[len(starts)-1]+whole)
		whole = more.Length
	}
	ends := append(slices.Clone(starts[1:]), starts[len(starts)-1]+whole)
	for i := range starts {
		one := p
		one.from, one.to = starts[i], ends[i]
		if len(starts) > 1 {
			one.where = fmt.Sprintf("piece %d of the shoe", i+1)
		}
		before, last := one.from, one.to
		for _, m := range r.Marks {
			switch {
			case at(m) <= one.from: // it may still stand over the joint
				before = max(before, at(m)+half)
			case at(m) < one.to:
				one.clear = append(one.clear, (before+at(m)-half)/2)
				before = at(m) + half
			default:
				last = min(last, at(m)-half)
			}
		}
		if len(one.clear) > 0 { // where no baluster stands they are spread evenly
			one.clear = append(one.clear, (before+last)/2)
		}
		list = append(list, one)
	}
	return list
}

// spread places fixings along a piece: the first so far from its end, the last likewise, none farther from the next than said; where balusters stand, in the
// middle of gaps, of as few as do the ones that are spread most evenly.
func (p place) spread(end, each length.Length) (list []length.Length) {
	if p.to <= p.from || each <= 0 {
		return nil
	}
	if len(p.clear) == 0 { // evenly
		first, last := p.from+end, p.to-end
		if last <= first {
			return []length.Length{(p.from + p.to) / 2}
		}
		n := int(min((last-first+each-1)/each, most))
		for i := 0; i <= n; i++ {
			list = append(list, first+(last-first)*length.Length(i)/length.Length(n))
		}
		return list
	}
	near := func(at length.Length) int { // the gap whose middle is nearest
		best := 0
		for i, c := range p.clear {
			if max(c-at, at-c) < max(p.clear[best]-at, at-p.clear[best]) {
				best = i
			}
		}
		return best
	}
	first := near(p.from + end)
	last := max(near(p.to-end), first)
	gaps := []int{first}
	for i := first; i < last; {
		next := i + 1
		for next < last && p.clear[next+1]-p.clear[i] <= each {
			next++
		}
		gaps = append(gaps, next)
		i = next
	}
	if n := len(gaps) - 1; n > 1 && n <= most {
		even := []int{first}
		for k := 1; k <= n; k++ {
			even = append(even, near(p.clear[first]+(p.clear[last]-p.clear[first])*length.Length(k)/length.Length(n)))
			if a, b := even[k-1], even[k]; b <= a || b > a+1 && p.clear[b]-p.clear[a] > each {
				even = nil
				break
			}
		}
		if even != nil {
			gaps = even
		}
	}
	for _, i := range gaps {
		list = append(list, p.clear[i])
	}
	return list
}

// loose asks what holds a foot that has no pin, no plow and no fastening.
func (t *taking) loose(r *layout.Run) {
	part := r.Job.Baluster
	t.miss(finding.Reading{
		What:  "what holds the foot of " + part.Title.Or(job.Text{Text: part.Name}).Text + ", which has no pin and stands in no plow: a fastening of your own, such as a screw from below or at a slant; a shoe; or a baluster with a pin",
		Where: "fastenings/" + strings.ReplaceAll(r.Job.FootJoint(), " ", "-") + ".md, joins: " + r.Job.FootJoint() + ", with: ", Why: "what is bored and ordered, and how the balusters bear a push", Group: r.ID, At: r.Job.Parts.Baluster.At,
	})
}
