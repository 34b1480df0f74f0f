package job

import (
	"fmt"
	"slices"
	"strings"
	"unicode"

	"balustrade/jobbook/source"
	"balustrade/jobbook/working"
)

// resolve follows every name to what it names. A name that refers to nothing is a problem; a blank one is still to be decided.
func (d *decoder) resolve(j *Job, f *decoded) {
	d.amend(j, f)
	j.Rules = find(d, j.RulesName, "rule set", j.RuleSets, func(r *RuleSet) string { return r.Name })
	for i := range j.Posts {
		p := &j.Posts[i]
		p.Part = find(d, p.Newel, "newel", j.Newels, func(n *Newel) string { return n.Name })
		p.Fixing = find(d, p.With, "fixing", j.Fixings, func(x *Fixing) string { return x.Name })
		d.rows(p)
		d.positive(p.Top)
	}
	for i := range j.Finishes {
		u := &j.Finishes[i]
		u.Part = find(d, u.Finish, "finish", j.Coatings, func(c *Finish) string { return c.Name })
	}
	d.sizes(j)
	d.partSizes(j)
	d.heights(j)
	d.sections(j)
	d.leavings(j)
	if c := j.Duration; c.Given && (c.Thousandths < 900 || c.Thousandths > 1600) {
		d.at(c.At, 1, "write 1.0; 1.6 is for loads of minutes, and is named where it is used", "a load duration factor lies from 0.9 to 1.6")
	}
	d.panels(j)
	d.usedUp(j)
	d.defaults(j)
	for _, r := range j.Runs {
		d.run(j, r)
	}
	j.replaced()
	d.fastenings(j)
	d.supply(j)
	d.pricing(j)
	d.delivered(j)
	d.built(j)
	d.punches(j)
	d.made(j)
	d.cutSticks(j)
	d.steps(j)
}

// rows checks where the bolts or lag screws of a post are.
func (d *decoder) rows(p *Post) {
	for i, m := range p.Rows {
		switch {
		case p.Foot.Text != "bolted" && p.Foot.Text != "lagged":
			d.at(m.At, 1, "write foot: bolted or foot: lagged, or leave the rows out", "rows of bolts are for a post that is bolted or lagged")
			return
		case m.Given && m.Length <= 0 || i > 0 && m.Given && p.Rows[i-1].Given && m.Length <= p.Rows[i-1].Length:
			d.at(m.At, 1, "write how far below the floor each row is, the upper first", "a row of bolts is no lower than the one before it")
			return
		}
	}
}

// sections checks the outlines of rails.
func (d *decoder) sections(j *Job) {
	for _, h := range j.Handrails {
		for i, b := range h.Outline {
			at, bad, hint := b.At.At, "", ""
			switch {
			case !b.At.Given || !b.Wide.Given:
				continue
			case i == 0 && b.At.Length != 0:
				bad, hint = "the outline does not begin at the top", "write the first at 0"
			case i > 0 && b.At.Length < h.Outline[i-1].At.Length:
				bad, hint = "the outline goes back up", "write the depths from the top down"
			case i > 1 && b.At.Length == h.Outline[i-2].At.Length:
				bad, hint = "three widths at one depth", "two at one depth make a step"
			case b.Wide.Length <= 0 || h.Wide.Given && b.Wide.Length > h.Wide.Length:
				at, bad, hint = b.Wide.At, "the outline is wider than the rail, or has no width", "write the full width at that depth, as traced from a cut end"
			case i == len(h.Outline)-1 && h.High.Given && b.At.Length != h.High.Length:
				bad, hint = "the outline does not end at the rail's height", "write the last at "+d.print(h.High.Length)
			}
			if bad != "" {
				d.at(at, 1, hint, "%s", bad)
				break
			}
		}
		if len(h.Outline) > 0 && h.Section.Given && h.Section.Text != "other" {
			d.at(h.Outline[0].At.At, 1, "leave the outline out, or write section: other", "a %s section needs no outline", h.Section.Text)
		}
	}
}

func find[T any](d *decoder, ref Ref, what string, among []*T, name func(*T) string) *T {
	if !ref.Given {
		return nil
	}
	for _, x := range among {
		if name(x) == ref.Text {
			return x
		}
	}
	known := make([]string, 0, len(among))
	for _, x := range among {
		known = append(known, name(x))
	}
	d.missing(ref, what, known)
	return nil
}

func (d *decoder) missing(ref Ref, what string, known []string) {
	posts := what == "post" || strings.HasSuffix(what, " or post")
	for _, doc := range d.broken {
		if doc.Name == ref.Text || posts && doc.Name == "job" {
			return
		}
	}
	if posts && d.noPosts {
		return
	}
	slices.Sort(known)
	hint := fmt.Sprintf("there is no %s yet; write one", what)
	near := source.Suggest(ref.Text, known)
	if meant := source.Hint(ref.Text, "known: ", known); meant != "" {
		hint = meant
		if near != "" && strings.ContainsFunc(ref.Text+near, func(c rune) bool { return unicode.Is(unicode.Mn, c) }) { // they look the same
			hint += " One of the two has its accents as characters of their own: write file name and value with the same keyboard"
		}
	}
	d.at(ref.At, len([]rune(ref.Text)), hint, "no %s is named %q", what, clip(ref.Text))
}

// defaults checks the names a job gives for all its runs, also where every run has its own.
func (d *decoder) defaults(j *Job) {
	find(d, j.Defaults.Baluster, "baluster", j.Balusters, func(b *Baluster) string { return b.Name })
	find(d, j.Defaults.Handrail, "handrail", j.Handrails, func(h *Handrail) string { return h.Name })
	find(d, j.Defaults.Bolt, "bolt", j.Bolts, func(b *Bolt) string { return b.Name })
	d.orNone(j.Defaults.Shoe, func(ref Ref) { find(d, ref, "shoe", j.Shoes, func(s *Shoe) string { return s.Name }) })
	for _, ref := range j.Defaults.filletNames() {
		d.orNone(ref, func(ref Ref) { find(d, ref, "fillet", j.Fillets, func(x *Fillet) string { return x.Name }) })
	}
	d.orNone(j.Defaults.Rosette, func(ref Ref) { find(d, ref, "rosette", j.Rosettes, func(r *Rosette) string { return r.Name }) })
}

func (d *decoder) orNone(ref Ref, found func(Ref)) (none bool) {
	if ref.Given && ref.Text == "none" {
		return true
	}
	found(ref)
	return false
}

func (d *decoder) run(j *Job, r *Run) {
	d.clears(r)
	own := r.Parts
	quiet := &decoder{broken: d.broken} // names that the job gives were reported once, where the job gives them
	to := func(mine, jobs Ref) (Ref, *decoder) {
		if mine.Given {
			return mine, d
		}
		if jobs.At.IsZero() { // the job does not name the key at all: a blank one here is where it is to be written
			return mine, quiet
		}
		return jobs, quiet
	}
	ref, say := to(own.Baluster, j.Defaults.Baluster)
	r.Parts.Baluster, r.Baluster = ref, find(say, ref, "baluster", j.Balusters, func(b *Baluster) string { return b.Name })
	section := to
	if r.Stays() { // what stands there is not what the job is given new
		section = func(mine, _ Ref) (Ref, *decoder) { return mine, d }
	}
	ref, say = section(own.Handrail, j.Defaults.Handrail)
	r.Parts.Handrail, r.Handrail = ref, find(say, ref, "handrail", j.Handrails, func(h *Handrail) string { return h.Name })
	ref, say = section(own.Shoe, j.Defaults.Shoe)
	r.Parts.Shoe = ref
	r.NoShoe = say.orNone(ref, func(ref Ref) { r.Shoe = find(say, ref, "shoe", j.Shoes, func(s *Shoe) string { return s.Name }) })
	d.fillets(r, own, j.Defaults, section, j.Fillets)
	ref, say = to(own.Bolt, j.Defaults.Bolt)
	r.Parts.Bolt, r.Bolt = ref, find(say, ref, "bolt", j.Bolts, func(b *Bolt) string { return b.Name })
	for _, e := range []*End{&r.From, &r.To} {
		d.end(j, e, r.Stays())
	}
	r.asItStands()
	for i, m := range r.Joints {
		if i > 0 && m.Given && r.Joints[i-1].Given && m.Length <= r.Joints[i-1].Length {
			d.at(m.At, 1, "measure every joint from the datum end, the nearest first", "a joint stands no farther along than the one before it")
		}
	}
	centred := r.Pattern.Text == "centred"
	d.idle(!centred, r.Spacing.Given, r.Spacing.At, "spacing is for a centred pattern", "write pattern: centred, or leave the key out")
	d.idle(!centred, r.Centre.Given, r.Centre.At, "centre is for a centred pattern", "write pattern: centred, or leave the key out")
	d.idle(!r.Radius.Given && r.Radius.At.IsZero(), r.Bends.Given, r.Bends.At, "bends is for a curved run, and this one has no radius", "add radius: , or leave the key out")
	for _, e := range []End{r.From, r.To} {
		wall := e.Where.Text == "wall"
		d.idle(wall, e.Over.Yes, e.Over.At, "over is for a post, and this end is a wall", "leave the key out")
		d.idle(wall, e.BoltUp.Given, e.BoltUp.At, "bolt-up is for the bolt in a post, and this end is a wall", "leave the key out")
		d.idle(wall, e.BoltLow.Given, e.BoltLow.At, "bolt-down is for the bolt in a post, and this end is a wall", "leave the key out")
		d.idle(e.Over.Yes, e.Post != nil && e.Post.Top.Given, e.topAt(), "top is for a post whose rails end at its faces, and one goes over this one, which is cut to it", "leave the key out")
		d.idle(e.Post != nil && (e.Post.Part == nil || !e.Post.Part.Half.Yes), e.Held.Given, e.Held.At, "held is for a wall or a half newel on one, and this end is a post", "leave the key out")
		d.idle(!e.Over.Yes, e.Fitting.Given, e.Fitting.At, "fitting is for a rail that goes over its post", "add over: yes, or leave the key out")
	}
	if r.Stair != nil {
		d.flight(j, r)
	}
	d.standing(j, r)
	if r.From.Post != nil && r.From.Post == r.To.Post {
		d.at(r.To.Where.At, len([]rune(r.To.Where.Text)), "name the post at the other end", "the run starts and ends at the same post, %q", clip(r.To.Where.Text))
	}
	if r.Stair != nil { // drop, height and floor to come of the job are those of its level floors
		return
	}
	if !r.Drop.Given {
		r.Drop = j.Drop
	}
	if !r.Height.Top.Given && r.Height.Top.At.IsZero() || !r.Height.Top.Given && j.Height.Top.Given {
		r.Height = j.Height
	}
	if own := r.ToCome; !own.Thick.Given && !own.What.Given && (own.Thick.At.IsZero() || j.ToCome.Thick.Given) { // a blank one of its own is asked for here
		r.ToCome = j.ToCome
	}
}

// idle refuses a key that would have no effect where it stands.
func (d *decoder) idle(here, given bool, at source.Pos, what, hint string) {
	if here && given {
		d.at(at, 1, hint, "%s", what)
	}
}

// flight checks what the readings of a flight must have in common, and follows the name of a rail on its wall.
func (d *decoder) flight(j *Job, r *Run) {
	s := r.Stair
	if n, m := s.Risers.N(), s.Goings.N(); n > 1 && m > 0 && m != n-1 {
		hint := fmt.Sprintf("a going lies between two risers: write %s, or the riser that is missing", goings(n-1))
		if swapped(s.Risers, s.Goings) {
			hint = fmt.Sprintf("the two look swapped: with %d risers and %s it comes out, and the goings are the longer ones", m, goings(n))
		}
		d.at(s.Goings.At, 1, hint, "the flight has %d risers and %s", n, goings(m))
	}
	if s.Risers.N() == 1 {
		d.at(s.Risers.At, 1, "write two risers or more; a single step has no nosings to lay a rail over", "the flight has one riser")
	}
	for _, steps := range []Steps{s.Risers, s.Goings} {
		for _, m := range append(steps.Each, steps.Total) {
			if m.Given && m.Length <= 0 {
				d.at(m.At, 1, "write it as measured", "a riser or going of nothing")
			}
		}
	}
	for _, e := range []End{r.From, r.To} {
		if e.Before.Given && e.Past.Given {
			d.at(e.Past.At, 1, "keep before: or past: , whichever side of the riser its face stands on", "an end has both before and past")
		}
		if n := s.Risers.N(); n > 0 && e.Stands.Given && e.Stands.N > n {
			d.at(e.Stands.At, 1, fmt.Sprintf("the landing is %d", n), "a post stands on tread %d of a flight of %d risers", e.Stands.N, n)
		}
	}
	d.idle(r.NoShoe, r.Count.Given, r.Count.At, "count is for balusters on a raked shoe, and this flight has none", "write per-tread: for balusters on the treads")
	d.idle(r.NoShoe, s.ShoeOver.Given, s.ShoeOver.At, "shoe-over is for a raked shoe, and this flight has none", "name a shoe, or leave the key out")
	d.idle(r.NoShoe, s.Under.Given, s.Under.At, "under-shoe is for a raked shoe, and this flight has none", "name a shoe, or leave the key out")
	d.idle(r.Shoe != nil, s.PerTread.Given, s.PerTread.At, "per-tread is for balusters on the treads, and this flight has a shoe", "write shoe: none, or count: for balusters on the shoe")
	d.idle(r.Shoe != nil, len(s.OneMore) > 0, s.OneMoreAt, "one-more is for balusters on the treads, and this flight has a shoe", "write shoe: none, or count: for balusters on the shoe")
	for i, w := range s.OneMore {
		if n := s.Risers.N(); n > 1 && w.N >= n {
			d.at(w.At, 1, fmt.Sprintf("the treads are 1 to %d; what stands on floor and landing follows from them", n-1), "one-more names tread %d of a flight of %d risers", w.N, n)
		}
		for _, before := range s.OneMore[:i] {
			if before.N == w.N {
				d.at(w.At, 1, "name each tread once", "one-more names tread %d twice", w.N)
				break
			}
		}
	}
	d.idle(r.Shoe != nil, s.Bracket.Given, s.Bracket.At, "bracket is for balusters on the treads, and this flight has a shoe", "write shoe: none, or leave the key out")
	d.idle(!s.OpenRisers.Yes, s.RiserOpening.Given, s.RiserOpening.At, "riser-opening is for a stair without risers", "write open-risers: yes, or leave the key out")
	ref := s.WallRail.Handrail
	if s.WallRail.Given() {
		s.WallRail.Part = find(d, ref, "handrail", j.Handrails, func(h *Handrail) string { return h.Name })
		if !ref.Given {
			s.WallRail.Part = r.Handrail
		}
	}
}

func (d *decoder) end(j *Job, e *End, old bool) {
	d.leans(e.Plumb)
	if e.Plumb.Away.Given && e.Plumb.In.Given {
		d.at(e.Plumb.In.At, 1, "keep away: or in: , whichever the level showed", "a plumb reading has both away and in")
	}
	if e.BoltUp.Given && e.BoltLow.Given {
		d.at(e.BoltLow.At, 1, "keep bolt-up: or bolt-down: , whichever way it is moved", "an end has both bolt-up and bolt-down")
	}
	if !e.Where.Given {
		return
	}
	if e.Where.Text == "wall" {
		if e.Face.Text == "post" || e.Face.Text == "base trim" {
			d.at(e.Face.At, len(e.Face.Text), "write wall or baseboard", "the end is a wall, its face cannot be %s", e.Face.Text)
		}
		ref := e.Rosette
		if old && ref.At.IsZero() { // whether there is one was not read, and the job's is a new one
			ref.At = e.Where.At
		}
		if !ref.Given && !old && !j.Defaults.Rosette.At.IsZero() { // where the job does not name the key, a blank one here is where it is to be written
			ref = j.Defaults.Rosette
		}
		say := d
		if !e.Rosette.Given {
			say = &decoder{broken: d.broken}
		}
		e.NoPlate = say.orNone(ref, func(ref Ref) {
			e.Plate = find(say, ref, "rosette", j.Rosettes, func(r *Rosette) string { return r.Name })
		})
		e.Rosette = ref
		return
	}
	if e.Post = j.Post(e.Where.Text); e.Post == nil {
		known := []string{"wall", "baseboard"}
		for _, p := range j.Posts {
			known = append(known, p.Name)
		}
		d.missing(e.Where, "post", known)
	}
	if e.Face.Text == "wall" || e.Face.Text == "baseboard" {
		d.at(e.Face.At, len(e.Face.Text), "write post or base trim", "the end is a post, its face cannot be %s", e.Face.Text)
	}
}

// amend fills every amending rule set with the limits of the set it amends.
func (d *decoder) amend(j *Job, f *decoded) {
	// An amendment of the same name as the set it amends changes the farther one: shop/irc-2021.md amends: irc-2021.
	base := func(r *RuleSet) *RuleSet {
		if !r.Amends.Given {
			return nil
		}
		if r.Amends.Text != r.Name {
			return find(d, r.Amends, "rule set", j.RuleSets, func(x *RuleSet) string { return x.Name })
		}
		var under *RuleSet
		for _, e := range f.rules {
			if e.doc.Name == r.Name && e.doc.Layer < r.Layer {
				under = e.item
				under.Origin = Origin{Name: e.doc.Name, File: e.doc.File, Layer: e.doc.Layer, Prose: Prose{e.doc}}
			}
		}
		if under == nil {
			d.at(r.Amends.At, len(r.Amends.Text), "name the rule set that it changes", "the rule set %q amends itself", r.Name)
		}
		return under
	}
	done, busy := map[*RuleSet]bool{}, map[*RuleSet]bool{}
	var fill func(r *RuleSet, depth int)
	fill = func(r *RuleSet, depth int) {
		if done[r] {
			return
		}
		done[r], busy[r] = true, true
		defer delete(busy, r)
		under := base(r)
		if busy[under] {
			d.at(r.Amends.At, len([]rune(r.Amends.Text)), "let one of them amend the code itself, or leave its amends: out", "the rule sets %q and %q amend each other", r.Name, under.Name)
			under = nil
		}
		for _, l := range r.Limits {
			if l.Status == 0 {
				d.at(l.At, len(l.Name), "add status: , one of "+strings.Join(working.Statuses, ", "), "the limit %s has no status", l.Name)
			}
			if !l.Clause.Given {
				d.at(l.At, len(l.Name), "add clause: , where the rule stands", "the limit %s has no clause", l.Name)
			}
		}
		for _, l := range r.Loads {
			if l.Status == 0 {
				d.at(l.At, len(l.Name), "add status: , one of "+strings.Join(working.Statuses, ", "), "the load %s has no status", l.Name)
			}
			if !l.Clause.Given {
				d.at(l.At, len(l.Name), "add clause: , where the rule stands", "the load %s has no clause", l.Name)
			}
		}
		if under == nil {
			return
		}
		if depth > len(j.RuleSets) {
			return
		}
		fill(under, depth+1)
		if !r.Country.Given {
			r.Country = under.Country
		}
		r.Loads = slices.Clone(r.Loads)
		own := slices.Clone(r.Limits)
		r.Limits = make([]Limit, 0, len(own)+len(under.Limits))
		for _, l := range under.Limits {
			if i := slices.IndexFunc(own, func(o Limit) bool { return o.Name == l.Name }); i >= 0 {
				own[i].Base = l.Value
				continue
			}
			r.Limits = append(r.Limits, l)
		}
		r.Limits = append(r.Limits, own...)
		for _, l := range under.Loads {
			if own := r.Load(l.Name); own != nil {
				own.Base = &l
				continue
			}
			r.Loads = append(r.Loads, l)
		}
		slices.SortStableFunc(r.Loads, func(a, b Load) int { return loadOrder(a.Name) - loadOrder(b.Name) })
		slices.SortStableFunc(r.Limits, func(a, b Limit) int { return limitOrder(a.Name) - limitOrder(b.Name) })
	}
	for _, r := range j.RuleSets {
		fill(r, 0)
	}
}

func loadOrder(name string) int {
	return slices.IndexFunc(LoadNames, func(k Key) bool { return k.Key == name })
}

func limitOrder(name string) int {
	return slices.IndexFunc(LimitNames, func(k Key) bool { return k.Key == name })
}

// steps checks the names that steps and cautions use. Names of steps that were omitted still count as known.
func (d *decoder) steps(j *Job) {
	traits, quantities := keyNames(TraitNames), keyNames(Quantities)
	for _, s := range j.Steps {
		d.words(s.When, "trait", traits)
		d.words(s.After, "step", j.stepNames)
		d.words(s.Time.With, "step", j.stepNames)
		d.words(s.Cautions, "caution", j.cautionNames)
		d.words(s.Quantities, "quantity", quantities)
	}
	d.ticks(j)
	d.words(j.Calendar.stepNamesOf(), "step", j.stepNames)
	for _, c := range j.Cautions {
		d.words(c.When, "trait", traits)
	}
}

func (d *decoder) words(list []Text, what string, known []string) {
	for _, t := range list {
		if !slices.Contains(known, t.Text) {
			d.missing(t, what, slices.Clone(known))
		}
	}
}
