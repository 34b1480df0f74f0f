package layout

import (
	"slices"
	"strconv"
	"strings"

	"balustrade/jobbook/length"
)

// mostNamed is how many treads with one baluster more a cure names; beyond it one more to every tread is plainer.
const mostNamed = 3

// openingCure says what makes every opening of the run pass, as far as another number of balusters does: each is tried as the layout tries counts.
func (b *builder) openingCure() string {
	switch {
	case b.Chosen == nil || b.Chosen.Passes || !b.Limit.Known || b.Kept != nil || b.Drilled != nil:
		return ""
	case b.slip() != nil:
		return "first put right what fails here: " + b.slip().Title + "; openings hang on it"
	case b.Rake != nil && b.Rake.OnTreads:
		return b.treadCure()
	case b.Least >= 0 && b.r.Count.Given && b.r.Count.N != b.Least:
		return "write count: " + strconv.Itoa(b.Least) + ", the fewest that pass; or leave count: out"
	}
	return "no count of this baluster passes here: take another baluster, bring the ends in, or measure again"
}

// treadCure looks for the fewest treads with one baluster more that make every opening pass: one, then those beside the openings that fail; then for another number to all of them.
func (b *builder) treadCure() string {
	m := b.Rake.PerTread
	if m < 1 {
		return ""
	}
	defer func() { b.oneMore = nil }()
	passes := func(treads []int) (Candidate, bool) {
		for _, n := range treads {
			if b.r.Stair.More(n) > 0 || n < 1 || n >= len(b.Rake.Treads) || int64(b.Rake.Treads[n-1].Going)/int64(max(b.foot, 1)) < int64(m+1) || m+1 > mostPerTread {
				return Candidate{}, false
			}
		}
		b.oneMore = treads
		c := b.judgeTreads(m).Candidate
		return c, c.Passes
	}
	write := func(treads []int, worst length.Length) string {
		all := slices.Clone(treads)
		for _, w := range b.r.Stair.OneMore {
			all = append(all, w.N)
		}
		slices.Sort(all)
		word := "tread "
		if len(treads) > 1 {
			word = "treads "
		}
		return "one baluster more on " + word + listed(treads) + " (one-more: [" + listed(all) + "]); the worst opening is then " + b.decimal(worst)
	}
	var one []int
	var least Candidate
	for n := range b.Rake.Treads {
		if c, ok := passes([]int{n}); ok && (one == nil || c.Worst < least.Worst) {
			one, least = []int{n}, c
		}
	}
	if one != nil {
		return write(one, least.Worst)
	}
	b.oneMore = nil
	if beside := b.failingTreads(); len(beside) > 1 && len(beside) <= mostNamed {
		if c, ok := passes(beside); ok {
			return write(beside, c.Worst)
		}
	}
	b.oneMore = nil
	for n := 1; n <= b.roomOnTreads(); n++ {
		if c := b.judgeTreads(n).Candidate; n != m && c.Passes {
			return "write per-tread: " + strconv.Itoa(n) + "; the worst opening is then " + b.decimal(c.Worst)
		}
	}
	return "no number of this baluster passes here: have the newel stand nearer to the balusters, where the opening is beside it; take another baluster; or measure again"
}

// failingTreads are the treads that have to the left of an opening that fails a baluster, or the last or first one beside an end, without those that have one more already.
func (b *builder) failingTreads() (list []int) {
	add := func(tread int) {
		if tread >= 1 && tread < len(b.Rake.Treads) && b.r.Stair.More(tread) == 0 && !slices.Contains(list, tread) {
			list = append(list, tread)
		}
	}
	s := b.stands
	if len(s) == 0 {
		return nil
	}
	between, end := b.tolerances()
	fails := func(l length.Length) bool { return !b.Limit.Op.Holds(l, b.Limit.Value) }
	if fails(b.postBall(atDatum, s[0], end).Opening) {
		add(s[0].tread)
	}
	for i := 1; i < len(s); i++ {
		if fails(b.treadBall(s[i-1], s[i], between).Opening) {
			add(s[i-1].tread)
		}
	}
	if fails(b.postBall(atFar, s[len(s)-1], end).Opening) {
		add(s[len(s)-1].tread)
	}
	slices.Sort(list)
	return list
}

// roomOnTreads is how many balusters stand side by side on the narrowest tread, less the one more that it may have.
func (b *builder) roomOnTreads() int {
	room := 0
	for i, t := range b.Rake.Treads[:len(b.Rake.Treads)-1] {
		if n := int(t.Going/max(b.foot, 1)) - b.r.Stair.More(t.N); i == 0 || n < room {
			room = n
		}
	}
	return min(room, mostPerTread)
}

func listed(numbers []int) string {
	words := make([]string, len(numbers))
	for i, n := range numbers {
		words[i] = strconv.Itoa(n)
	}
	return strings.Join(words, ", ")
}

// more is how many balusters more than the others a tread gets: what the job says, and what is tried.
func (b *builder) more(tread int) int {
	if slices.Contains(b.oneMore, tread) {
		return 1
	}
	return b.r.Stair.More(tread)
}
