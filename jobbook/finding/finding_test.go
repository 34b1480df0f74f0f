package finding

import (
	"slices"
	"testing"

	"balustrade/jobbook/length"
)

// One nanometre under the limit, on it, and one over. "Must not pass a 4 in sphere" is under: exactly 4 fails. A height of at least
// 36 passes at exactly 36.
func TestOp(t *testing.T) {
	const limit = 4 * length.Inch
	for _, c := range []struct {
		op              Op
		under, on, over bool
		margins         [3]length.Length // positive inside
	}{
		{Under, true, false, false, [3]length.Length{1, 0, -1}},
		{AtMost, true, true, false, [3]length.Length{1, 0, -1}},
		{AtLeast, false, true, true, [3]length.Length{-1, 0, 1}},
		{Over, false, false, true, [3]length.Length{-1, 0, 1}},
	} {
		for i, at := range []struct {
			name  string
			value length.Length
			want  bool
		}{{"a nanometre under", limit - 1, c.under}, {"on", limit, c.on}, {"a nanometre over", limit + 1, c.over}} {
			t.Run(c.op.String()+", "+at.name, func(t *testing.T) {
				if got := c.op.Holds(at.value, limit); got != at.want {
					t.Errorf("holds: %v, want %v", got, at.want)
				}
				if got := c.op.Margin(at.value, limit); got != c.margins[i] {
					t.Errorf("margin %d nm, want %d nm", got, c.margins[i])
				}
			})
		}
	}
	t.Run("no comparison holds for nothing", func(t *testing.T) {
		for _, op := range []Op{0, Over + 1, -1} {
			for _, value := range []length.Length{limit - 1, limit, limit + 1} {
				if op.Holds(value, limit) {
					t.Errorf("comparison %d holds at %d", op, value)
				}
			}
		}
	})
}

func TestWords(t *testing.T) {
	t.Run("comparisons", func(t *testing.T) {
		var got []string
		for _, op := range []Op{0, Under, AtMost, AtLeast, Over, Over + 1} {
			got = append(got, op.String())
		}
		if want := []string{"unknown", "under", "at most", "at least", "over", "unknown"}; !slices.Equal(got, want) {
			t.Errorf("got %q, want %q", got, want)
		}
	})
	t.Run("verdicts, worst first", func(t *testing.T) {
		var got []string
		for _, v := range []Verdict{0, Fail, ToBeMeasured, AskAuthority, NotRequired, Pass, Pass + 1} {
			got = append(got, v.String())
		}
		if want := []string{"unknown", "fail", "to be measured", "check with the authority", "not required", "pass", "unknown"}; !slices.Equal(got, want) {
			t.Errorf("got %q, want %q", got, want)
		}
	})
}
