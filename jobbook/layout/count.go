package layout

import (
	"cmp"
	"math"
	"slices"
	"strconv"
	"strings"

	"balustrade/jobbook/exact"
	"balustrade/jobbook/finding"
	"balustrade/jobbook/length"
	"balustrade/jobbook/profile"
	"balustrade/jobbook/working"
)

// limit finds what the run is laid out to: the rule set's limit on openings, or the run's own where that is tighter.
func (b *builder) limit() {
	if l := b.job.Rules.Limit(b.openLimit()); l != nil && l.Value.Given {
		b.Limit = Limit{Value: l.Value.Length, Op: finding.Under, From: l.Set + " " + l.Clause.Text, Known: true, Unconfirmed: l.Status == working.Memory}
	}
	if b.r.Most.Given && (!b.Limit.Known || b.r.Most.Length < b.Limit.Value) {
		b.Limit = Limit{Value: b.r.Most.Length, Op: finding.AtMost, From: "most: in " + b.r.File, Known: true, Unconfirmed: b.Limit.Unconfirmed}
	}
	if m := b.r.Most; !m.Given && !m.At.IsZero() {
		b.need("how wide the worst opening is to be at the most; leave most out where the rules alone decide", "most: ", "how many balusters it takes", m.At)
	}
	if b.job.Rules == nil || !b.Limit.Known {
		b.needIn(b.job.File, "which rule set the guard is judged by; ask the building department", "rules: ", "how many balusters it takes, every check", b.job.RulesName.At)
	}
}

// openLimit names the limit on the run's openings: the one for the open side of a stair, where the rules have one.
func (b *builder) openLimit() string {
	if b.Rake != nil && (b.job.Rules == nil || b.job.Rules.Limit("guard-opening-stair") != nil) {
		return "guard-opening-stair"
	}
	return "guard-opening"
}

// place gives the exact centre k (from 1) of n, in nanometres.
func (b *builder) place(k, n int) exact.Number {
	of := func(x length.Length) exact.Number { return exact.Of(int64(x)) }
	if b.centred() { // L/2 + (k - (n+1)/2)·s
		return of(b.clearLen).Add(exact.Of(int64(2*k - n - 1)).Mul(of(b.r.Spacing.Length))).Quo(exact.Of(2))
	}
	// k·(L + b)/(n + 1) - b/2
	return exact.New(int64(k), int64(n+1)).Mul(of(b.clearLen + b.foot)).Sub(of(b.foot).Quo(exact.Of(2)))
}

func (b *builder) centred() bool { return b.r.Pattern.Text == "centred" }

// round puts a centre on the tape.
func (b *builder) round(k, n int) length.Length {
	if at, ok := b.inHole(k, n); ok {
		return at
	}
	at := b.place(k, n)
	if b.Rake != nil { // marked along the rake: what is judged is the level place of the rounded mark
		c := b.Rake.Secant.Value
		along := length.Rounded(at.Mul(c), b.div.Length, length.Nearest)
		return length.Rounded(exact.Of(int64(along)).Quo(c), length.Nanometre, length.Nearest)
	}
	return length.Rounded(at, b.div.Length, length.Nearest)
}

// exact is a centre to the nanometre.
func (b *builder) exact(k, n int) length.Length {
	if at, ok := b.inHole(k, n); ok {
		return at
	}
	return length.Rounded(b.place(k, n), length.Nanometre, length.Nearest)
}

// fits reports whether n balusters have room side by side in the run.
func (b *builder) fits(n int) bool {
	if n == 0 {
		return true
	}
	if b.centred() {
		return b.r.Spacing.Length >= b.foot && b.exact(1, n) >= b.foot/2
	}
	return int64(n) <= int64(b.room()/max(b.foot, 1))
}

// room is the length that balusters share when they stand side by side: the clear, on a curve along their inner edges.
func (b *builder) room() length.Length {
	if b.Curve == nil {
		return b.clearLen
	}
	return length.Length(length.MulDiv(int64(b.clearLen), int64(b.Curve.Radius-b.foot/2), int64(b.Curve.Radius)))
}

// judge works one count out and judges it by the limit.
func (b *builder) judge(n int) Candidate {
	c := Candidate{
		Count: n, Gap: b.clearLen, EndGap: b.clearLen, Judged: b.Limit.Known,
		Unmeasured: !b.From.Known || !b.To.Known || b.fallback || b.waistless() || b.Rake != nil && !b.Rake.Measured, Unconfirmed: b.Limit.Unconfirmed,
	}
	worse := func(p passage) {
		if f := b.ball(p, true); f.Opening > c.Worst {
			c.Worst, c.Where = f.Opening, b.where(p)
		}
	}
	ends, between := b.passages(n)
	for _, p := range append(between, ends...) {
		worse(p)
	}
	if n > 1 {
		c.Spacing = b.exact(2, n) - b.exact(1, n)
		c.Gap = c.Spacing - b.foot
	}
	if n > 0 {
		c.EndGap = b.exact(1, n) - b.foot/2
	}
	if n == 1 {
		c.Gap = c.EndGap
		c.Spacing = c.EndGap + b.foot
	}
	if _, ok := b.inHole(1, n); ok && n > 1 {
		c.Spacing = b.drill.widest(b.foot)
		c.Gap = c.Spacing - b.foot
	}
	if k, s := b.onStep(n); k > 0 {
		c.Where += "; baluster " + strconv.Itoa(k) + " would stand on the step at " + b.tape(s.At)
		c.onStep = true
	}
	c.Passes = c.Judged && !c.onStep && b.Limit.Op.Holds(c.Worst, b.Limit.Value)
	return c
}

// hopeless reports that a count can't pass: a ball fits between two balusters wherever they are at their widest.
func (b *builder) hopeless(n int) bool {
	if n < 2 {
		return false
	}
	spacing := b.exact(2, n) - b.exact(1, n)
	widest := b.shapes[0].widest
	for _, s := range b.shapes {
		widest = min(widest, s.widest)
	}
	if b.Curve != nil {
		return b.inside(spacing, widest) > b.Limit.Value
	}
	return spacing-widest > b.Limit.Value
}

// endsOpen reports that a count can't pass for one of its ends: a ball fits there wherever the sides of it stand out furthest. Of a straight level run whose balusters are all alike.
func (b *builder) endsOpen(n int) bool {
	if b.Rake != nil || b.Curve != nil || b.Floor.How == "lengths" {
		return false
	}
	ends := []passage{{place: endToEnd, to: b.clearLen, step: b.stepBetween(0, b.clearLen)}}
	if n > 0 {
		ends = b.endPassages(b.round(1, n), b.round(n, n))
	}
	baluster := furthest(b.shapes[0].face)
	for _, p := range ends {
		room := p.apart().Float()
		switch p.place {
		case atDatum, atFar:
			room -= baluster + b.furthest(p.place)
		default:
			room -= b.furthest(atDatum) + b.furthest(atFar)
		}
		const nanometre = 1e-6 // that an opening is rounded by
		if p.step == 0 && room > b.Limit.Value.Float()+nanometre {
			return true
		}
	}
	return false
}

// furthest is how far an end stands out at its furthest, mm: of the faces that lean may give it, the one that stands out least.
func (b *builder) furthest(place int) float64 {
	out := math.Inf(1)
	for _, face := range b.sides[place] {
		out = min(out, furthest(face))
	}
	return out
}

// furthest is how far a face stands out at its furthest, mm.
func furthest(f profile.Face) float64 {
	out := math.Inf(-1)
	for _, p := range f.Points {
		out = max(out, p.Out)
	}
	return out
}

// endsFail reports that a count fails at one of its ends, which takes two marks to see and not all of them.
func (b *builder) endsFail(n int) bool {
	if n == 0 {
		return false
	}
	for _, p := range b.endPassages(b.round(1, n), b.round(n, n)) {
		if !b.Limit.Op.Holds(b.ball(p, true).Opening, b.Limit.Value) {
			return true
		}
	}
	return false
}

// mostCounts bounds the search for a count.
const mostCounts = 20_000

// count finds the smallest count that passes. Every count is judged on its way: pass and fail are not assumed to change only once.
func (b *builder) count() {
	if b.Clear == nil || len(b.shapes) == 0 || b.foot <= 0 {
		return
	}
	if b.centred() && (!b.r.Spacing.Given || b.r.Spacing.Length <= 0) {
		b.need("spacing of the centred pattern", "spacing: ", "count and marks", b.r.Spacing.At)
		return
	}
	if b.Limit.Known {
		for n := 0; n <= mostCounts && b.fits(n); n++ {
			if !b.parity(n) || b.hopeless(n) || b.endsOpen(n) || b.endsFail(n) {
				continue
			}
			if c := b.judge(n); c.Passes {
				b.Least = n
				break
			}
		}
	}
	chosen := -1
	switch {
	case b.r.Count.Given:
		chosen, b.Why = b.r.Count.N, "written in the job: count: "+strconv.Itoa(b.r.Count.N)
		if !b.fits(chosen) {
			b.check("count", "room for the balusters side by side", length.Length(chosen)*b.foot, finding.AtMost, b.room(), b.r.Count.At, b.footAt, b.ID+"/clear", "fewer balusters, or narrower ones")
			return
		}
	case b.Least >= 0:
		chosen, b.Why = b.Least, "the smallest count whose worst opening is "+b.Limit.Op.String()+" "+b.tape(b.Limit.Value)+" ("+b.Limit.From+")"
	case b.Limit.Known:
		b.noCount()
		return
	default:
		return
	}
	b.choose(chosen)
	b.trimDecides()
	if b.r.Match.Given {
		b.candidatesToMatch()
	}
}

// noCount says that nothing passes, and where to look.
func (b *builder) noCount() {
	at, cure := b.footAt, "take another baluster, bring the ends in, or measure again"
	if b.Limit.Op == finding.AtMost {
		at, cure = b.r.Most.At, "ask for less with most:, or take another baluster"
	}
	if b.div.Length > length.Inch/2 {
		at, cure = b.div.At, "marks are rounded to "+b.tape(b.div.Length)+"; a tape's division is meant, such as 1/16 or 1 mm"
	}
	if f := b.slip(); f != nil {
		at, cure = f.At, "first put right what fails here: "+f.Title+"; openings hang on it"
	}
	b.Findings = append(b.Findings, finding.Finding{
		ID: "check/" + b.ID + "/any-count", Group: b.ID, Verdict: finding.Fail, At: at, Status: working.Derived, Rules: b.Limit.From,
		Title: "no count of this baluster keeps every opening " + b.Limit.Op.String() + " " + b.tape(b.Limit.Value), Cure: cure,
	})
}

// slip is the first reading of the run that fails by itself; nil where none does.
func (b *builder) slip() *finding.Finding {
	for i := range b.Findings {
		f := &b.Findings[i]
		name := strings.TrimPrefix(f.ID, "check/"+b.ID+"/")
		if f.Verdict == finding.Fail && slices.Contains([]string{"clears", "plumb-readings", "level-slip", "level-step", "level-twice", "level-inside", "level-stair"}, name) {
			return f
		}
	}
	return nil
}

// trimDecides says where the opening above a baseboard or base trim, and not the one between balusters, calls for the count.
func (b *builder) trimDecides() {
	for _, end := range []struct {
		e    End
		side string
	}{{b.From, "from"}, {b.To, "to"}} {
		if name := b.endName(end.e, end.side); end.e.Recess > 0 && b.Chosen.Where == "at "+name {
			b.Why += "; the opening above the " + end.e.Taken + " at " + name + " decides it: with the clear taken above that trim (face: wall or post, with its thick and high), the gap there is like the others and fewer may do"
		}
	}
}

// parity holds a centred pattern to what stands in the middle.
func (b *builder) parity(n int) bool {
	switch {
	case !b.centred() || b.r.Centre.Text == "" || n == 0:
		return true
	case b.r.Centre.Text == "baluster":
		return n%2 == 1
	}
	return n%2 == 0
}

// choose sets the count and puts its neighbours beside it: one below to two above.
func (b *builder) choose(n int) {
	b.Candidates = nil
	b.Chosen = nil
	for c := n - 1; c <= n+2; c++ {
		if c < 0 || !b.fits(c) {
			continue
		}
		candidate := b.judge(c)
		candidate.Chosen = c == n
		b.Candidates = append(b.Candidates, candidate)
	}
	for i := range b.Candidates {
		if b.Candidates[i].Chosen {
			b.Chosen = &b.Candidates[i]
		}
	}
}

// candidatesToMatch are the counts a matched run may take: those that pass from its smallest to two above, the ones shown side
// by side. Beyond, gaps could always be made more alike by crowding in more balusters.
func (b *builder) candidatesToMatch() {
	if b.r.Count.Given || b.Least < 0 {
		b.passing = []int{b.Chosen.Count}
		return
	}
	for n := b.Least; n <= b.Least+2 && b.fits(n); n++ {
		if b.parity(n) && b.judge(n).Passes {
			b.passing = append(b.passing, n)
		}
	}
}

// match gives the runs of each group the passing counts whose gaps differ least; among equals, the fewest balusters.
func match(runs []*builder) {
	var groups [][]*builder
	at := map[string]int{}
	for _, b := range runs {
		if !b.r.Match.Given || b.Chosen == nil {
			continue
		}
		i, ok := at[b.r.Match.Text]
		if !ok {
			i = len(groups)
			at[b.r.Match.Text] = i
			groups = append(groups, nil)
		}
		groups[i] = append(groups[i], b)
	}
	for _, group := range groups {
		if len(group) > 1 {
			matchGroup(group)
		}
	}
}

func matchGroup(group []*builder) {
	type option struct {
		gap   length.Length
		count int
	}
	options := make([][]option, len(group))
	var lowest []length.Length
	for i, b := range group {
		for _, n := range b.passing {
			gap := b.gap(n)
			options[i] = append(options[i], option{gap, n})
			lowest = append(lowest, gap)
		}
		slices.SortFunc(options[i], func(x, y option) int { return cmp.Compare(x.gap, y.gap) })
	}
	slices.SortFunc(lowest, func(x, y length.Length) int { return cmp.Compare(y, x) }) // widest gaps first: fewest balusters among equals
	best, bestSpread := []int(nil), length.Length(0)
	for _, low := range lowest {
		counts, spread, whole := make([]int, len(group)), length.Length(0), true
		for i := range group {
			j := slices.IndexFunc(options[i], func(o option) bool { return o.gap >= low })
			if j < 0 {
				whole = false
				break
			}
			counts[i] = options[i][j].count
			spread = max(spread, options[i][j].gap-low)
		}
		if whole && (best == nil || spread < bestSpread) {
			best, bestSpread = counts, spread
		}
	}
	for i, b := range group {
		names := ""
		for j, other := range group {
			if j != i {
				names = joinWords(names, other.Title)
			}
		}
		if best[i] != b.Chosen.Count {
			b.choose(best[i])
			b.Why = "matched with " + names + ": of the counts that pass, the gaps differ least (by " + b.tape(bestSpread) + ")"
		} else {
			b.Why += "; matched with " + names + ", gaps differ by " + b.tape(bestSpread)
		}
	}
}

func (b *builder) gap(n int) length.Length {
	if n < 2 {
		return b.exactEnd(n)
	}
	return b.exact(2, n) - b.exact(1, n) - b.foot
}

func (b *builder) exactEnd(n int) length.Length {
	if n == 0 {
		return b.clearLen
	}
	return b.exact(1, n) - b.foot/2
}

func joinWords(a, b string) string {
	if a == "" {
		return b
	}
	return a + ", " + b
}
