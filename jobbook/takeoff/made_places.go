package takeoff

import (
	"fmt"
	"slices"
	"strings"

	"balustrade/jobbook/finding"
	"balustrade/jobbook/job"
)

// own reports that a slot is that of a piece's own run or post, and sort.
func own(m *job.Made, s *slot) bool {
	if s.cut.What != m.Mark.What {
		return false
	}
	if s.cut.What == "newel" {
		return m.Post != nil && s.cut.Which == m.Post.Name
	}
	return m.Run != nil && s.run != nil && s.run.Job == m.Run
}

// sorted is pieces or places alike.
type sorted struct {
	list []int
}

func alike[T any](list []T, key func(T) string) (out []sorted) {
	at := map[string]int{}
	for i, x := range list {
		k := key(x)
		n, ok := at[k]
		if !ok {
			n = len(out)
			at[k], out = n, append(out, sorted{})
		}
		out[n].list = append(out[n].list, i)
	}
	return out
}

// place puts the pieces of one part in places.
func (t *taking) place(pieces []*Made, places []*slot) {
	have := alike(pieces, func(x *Made) string {
		m := *x.Of
		whose := ""
		if m.Run != nil {
			whose = m.Run.Name
		}
		if m.Post != nil {
			whose = "post " + m.Post.Name
		}
		one := ""
		if len(m.Holes) > 0 || len(m.Bolts) > 0 {
			one = m.Mark.Text
		}
		return fmt.Sprint(whose, "|", m.Mark.What, "|", one, "|", m.Coats.Given, m.Coats.N, m.Long.Given, m.Long.Length, m.Lower.Thousandths, m.Upper.Thousandths, m.Wide.Given, m.Wide.Length, m.High.Given, m.High.Length, m.Radius.Given, m.Radius.Length,
			m.Off.Given, m.Off.Length, bore(m.Bored.From), bore(m.Bored.To), m.Skew.From.Given, m.Skew.From.Milli, m.Skew.To.Given, m.Skew.To.Milli, "|", m.Bolt.Text, "|", m.Finish.Text)
	})
	want := alike(places, func(s *slot) string { return fmt.Sprint(s.piece) })
	var sample []*slot // one of each sort
	for _, w := range want {
		sample = append(sample, places[w.list[0]])
	}
	ways := make([][]way, len(have))
	for i, h := range have {
		for _, s := range sample {
			ways[i] = append(ways[i], t.fit(pieces[h.list[0]].Of, s))
		}
	}
	counts := func(list []sorted) (n []int) {
		for _, s := range list {
			n = append(n, len(s.list))
		}
		return n
	}
	x := assign(counts(have), counts(want), func(i, j int) (worth, bool) {
		m, s, w := pieces[have[i].list[0]].Of, sample[j], ways[i][j]
		if !w.fits {
			return worth{}, false
		}
		// What it saves comes first: of what is cut from sticks the length, of the rest the piece.
		v := worth{1, 1, 0, -int64(w.off)}
		if slices.Contains(stockable, kind(s.cut)) {
			v[0] = int64(s.cut.Stick())
		}
		if w.trim {
			v[1] = 0
		}
		if own(m, s) {
			v[2] = 1
		}
		return v, true
	})
	for i := range have {
		left := slices.Clone(have[i].list)
		for j := range want {
			n := x[i][j]
			if n == 0 {
				continue
			}
			// Those that are on their own place first, then in order.
			put := func(k, s int) {
				p := pieces[left[k]]
				at := places[want[j].list[s]]
				p.Piece, p.N, p.Mark, p.Own, p.slot, p.way = at.piece, at.n, at.label.Mark, own(p.Of, at), at, ways[i][j]
				p.Fate, p.Off = AsItIs, 0
				if ways[i][j].trim {
					p.Fate, p.To, p.Off = Trimmed, ways[i][j].to, ways[i][j].off
				}
				if ways[i][j].deepen {
					p.Why = "once its holes are drilled on, from " + t.tape(p.Of.Hole.Deep.Length) + " to " + t.tape(at.hole.Deep) + " deep"
				}
				left = slices.Delete(left, k, k+1)
				want[j].list = slices.Delete(want[j].list, s, s+1)
				n--
			}
			for k := 0; k < len(left) && n > 0; {
				s := slices.IndexFunc(want[j].list, func(s int) bool { return places[s].is(pieces[left[k]].Of) })
				if s < 0 {
					k++
					continue
				}
				put(k, s)
			}
			for n > 0 {
				put(0, 0)
			}
		}
		for _, k := range left {
			t.unplaced(pieces[k], ways[i], sample)
		}
	}
}

func bore(m job.Measure) string {
	if m.At.IsZero() {
		return "-"
	}
	return fmt.Sprint(m.Given, int64(m.Length))
}

// unplaced says why a piece is in no place: by its own place first, then by any.
func (t *taking) unplaced(x *Made, ways []way, sample []*slot) {
	pick := -1
	reads := -1
	goes := false
	home := false // its own place would take it
	for j, w := range ways {
		home = home || w.fits && own(x.Of, sample[j])
		switch {
		case w.fits:
			goes = true
		case w.ask != "" && reads < 0:
			reads = j
		}
		if !w.fits && (pick < 0 || own(x.Of, sample[j]) && !own(x.Of, sample[pick])) {
			pick = j
		}
	}
	switch {
	case reads >= 0:
		x.Fate, x.Why = Unknown, ways[reads].ask+" is still to be read"
		at := x.Of.Long.At
		if at.IsZero() {
			at = x.Of.At
		}
		t.missing = append(t.missing, finding.Reading{What: x.Of.Mark.Text + ": " + ways[reads].ask, Where: at.File + ", pieces: " + x.Of.Mark.Text, Why: "whether it can still be used", At: at, Group: "made"})
	case goes && !home && pick >= 0 && own(x.Of, sample[pick]): // it was made for a place that does not take it, and others are in the one that would
		x.Why = ways[pick].why
		if !strings.Contains(x.Why, "to be measured") {
			if strings.HasSuffix(x.Why, "too short") {
				x.Why += " for its own place"
			}
			x.Fate, x.Why = Left, x.Why+"; no other place is left for it"
		}
	case goes:
		x.Fate, x.Why = Left, "no place is left for it"
	case pick >= 0:
		x.Why = ways[pick].why
	case !x.Of.Long.Given && x.Of.Mark.What != "rosette":
		x.Fate, x.Why = Unknown, "its length as it is now is still to be read"
	default:
		x.Why = "the job needs none of this part any more"
	}
	if x.Fate == 0 && strings.Contains(x.Why, "to be measured") {
		x.Fate = Unknown
	}
}
