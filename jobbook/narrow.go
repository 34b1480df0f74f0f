package jobbook

import (
	"fmt"
	"slices"

	"balustrade/jobbook/job"
	"balustrade/jobbook/layout"
	"balustrade/jobbook/length"
	"balustrade/jobbook/plan"
	"balustrade/jobbook/source"
	"balustrade/jobbook/takeoff"
)

// narrowed lays the job out without the widths of balusters that came, where they change a count or whether it passes: what they ask for, and down to which width they would not. One narrow baluster is a reason to order more, or to set it aside; nobody should find out by
// the count alone.
func narrowed(p *plan.Plan, documents []source.Document, taken []job.Taken) {
	if p.Written == nil {
		return
	}
	for _, b := range p.Job.Balusters {
		if !moved(p, p.Written.Layout, b.Name) {
			continue
		}
		w := widths{plan: p, documents: documents, taken: taken, part: b}
		for _, d := range p.Job.Deliveries {
			for _, r := range d.Items {
				if r.Part.Text == b.Name && (!r.Kind.Given || r.Kind.Text == "baluster") && !r.Gone() {
					w.items = append(w.items, item{r, d.Title.Or(d.From).Or(job.Text{Text: d.Name}).Text})
				}
			}
		}
		p.Narrow = append(p.Narrow, w.find()...)
	}
}

// moved reports that a run with a baluster comes to something else in another layout of the job.
func moved(p *plan.Plan, other layout.Layout, part string) bool {
	for i, r := range p.Layout.Runs {
		if r.Job.Baluster != nil && r.Job.Baluster.Name == part && i < len(other.Runs) {
			n, passes := plan.Outcome(r)
			m, passed := plan.Outcome(other.Runs[i])
			if n != m || passes != passed {
				return true
			}
		}
	}
	return false
}

// item is one line of a delivery.
type item struct {
	job.Received
	from string
}

// widths are the readings of one baluster.
type widths struct {
	plan      *plan.Plan
	documents []source.Document
	taken     []job.Taken
	part      *job.Baluster
	items     []item
}

// find tells what the narrowest change, and what the width of most of them does.
func (w *widths) find() (list []plan.Narrow) {
	usual := w.part.Wide
	lowest := usual.Length
	for _, x := range w.items {
		if x.Narrowest.Given {
			lowest = min(lowest, x.Narrowest.Length)
		}
	}
	now, ok := w.plan.Layout, true
	if usual.Given && lowest < usual.Length {
		var alike layout.Layout
		if alike, ok = w.with(usual.Length, false); ok && moved(w.plan, alike, w.part.Name) {
			n := w.told(now, alike)
			n.Least = w.least(lowest, usual.Length, alike)
			for _, x := range w.items {
				if x.Narrowest.Given && x.Narrowest.Length < n.Least {
					n.Came, n.From = append(n.Came, x.Narrowest), append(n.From, x.from)
				}
			}
			if fills := takeoff.Fills(now.Runs, w.part, w.plan.Job.Shop.Loose); fills > n.Least { // what keeps the counts is not to stand loose in a plow
				n.Least = fills.Round(w.step(), length.Up)
			}
			n.Stays = !moved(&plan.Plan{Layout: alike}, w.plan.Written.Layout, w.part.Name)
			list = append(list, n)
		}
		now = alike
	}
	if !ok {
		return nil
	}
	if without, ok := w.with(0, true); ok {
		n := w.told(now, without)
		n.Usual = true
		for _, x := range w.items {
			if x.Wide.Given {
				n.Came, n.From = append(n.Came, x.Wide), append(n.From, x.from)
			}
		}
		if len(n.Runs) > 0 && len(n.Came) > 0 {
			list = append(list, n)
		}
	}
	return list
}

// told sets the layout with a width beside the one without it, run by run.
func (w *widths) told(with, without layout.Layout) plan.Narrow {
	n := plan.Narrow{Part: w.part.Name, Title: w.part.Title.Or(job.Text{Text: w.part.Name}).Text, Wide: w.part.Wide.Length, Complete: true}
	for i, r := range with.Runs {
		if r.Job.Baluster == nil || r.Job.Baluster.Name != w.part.Name || i >= len(without.Runs) {
			continue
		}
		x := plan.NarrowRun{Run: r.Name}
		x.With, x.Passing = plan.Outcome(r)
		x.Without, x.Passed = plan.Outcome(without.Runs[i])
		n.Complete = n.Complete && x.Without >= 0
		n.Needed += max(0, x.Without)
		if x.With == x.Without && x.Passing == x.Passed {
			continue
		}
		n.Runs = append(n.Runs, x)
		if x.With >= 0 && x.Without >= 0 {
			n.More += x.With - x.Without
		}
	}
	for _, x := range w.items {
		n.Usable += x.Usable()
	}
	return n
}

// least is the least width of the narrowest with which the layout comes out as it does where all are alike, up to what a rule or a calliper tells. A wider one leaves narrower gaps, so that it lies between two widths of which one does it and one does not; what is
// given was laid out.
func (w *widths) least(low, high length.Length, alike layout.Layout) length.Length {
	step := w.step()
	same := func(l layout.Layout) bool {
		for i, r := range l.Runs {
			n, passes := plan.Outcome(r)
			m, passed := plan.Outcome(alike.Runs[i])
			if n != m || passes != passed {
				return false
			}
		}
		return true
	}
	from, to := low/step, high.Round(step, length.Down)/step // from does not do it
	if to <= from {
		return high
	}
	if l, ok := w.with(to*step, false); !ok || !same(l) {
		return high
	}
	for to-from > 1 {
		mid := (from + to) / 2
		if l, ok := w.with(mid*step, false); ok && same(l) {
			to = mid
		} else {
			from = mid
		}
	}
	return to * step
}

// step is how fine a width is told.
func (w *widths) step() length.Length { return w.plan.Job.System.Finest() }

// with lays the job out as though no baluster of the part had come narrower than a width; or as though none had been gauged.
func (w *widths) with(least length.Length, ungauged bool) (layout.Layout, bool) {
	write := map[source.Pos]string{}
	for _, x := range w.items {
		if ungauged {
			for _, m := range []job.Measure{x.Wide, x.Narrowest, x.Widest} {
				if m.Given {
					write[m.At] = ""
				}
			}
		} else if x.Narrowest.Given && x.Narrowest.Length < least {
			text := fmt.Sprintf("%d.%06d mm", int64(least/length.Millimetre), int64(least%length.Millimetre))
			write[x.Narrowest.At] = text
			if x.Wide.Given && x.Wide.Length < least {
				write[x.Narrowest.At] = fmt.Sprintf("%d.%06d mm", int64(x.Wide.Length/length.Millimetre), int64(x.Wide.Length%length.Millimetre))
			}
		}
	}
	documents := slices.Clone(w.documents)
	for i, d := range documents {
		if kind := d.Front.Get("kind"); kind != nil && kind.Text == "delivery" {
			documents[i].Front = rewritten(d.Front, write)
		}
	}
	j, problems := job.Decode(documents, nil)
	if source.AnyError(problems) {
		return layout.Layout{}, false
	}
	j.Take(w.taken)
	l := plan.LaidOut(j)
	return l, len(l.Runs) == len(w.plan.Layout.Runs)
}

// rewritten is a node with other texts at some places.
func rewritten(n *source.Node, write map[source.Pos]string) *source.Node {
	if n == nil {
		return nil
	}
	c := *n
	if text, ok := write[n.At]; ok && n.Kind == source.Scalar {
		c.Text, c.Quoted = text, false
	}
	c.Items, c.Entries = slices.Clone(n.Items), slices.Clone(n.Entries)
	for i, x := range c.Items {
		c.Items[i] = rewritten(x, write)
	}
	for i, e := range c.Entries {
		c.Entries[i].Value = rewritten(e.Value, write)
	}
	return &c
}
