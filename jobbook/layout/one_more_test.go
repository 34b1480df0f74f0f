package layout_test

import (
	"strings"
	"testing"

	"balustrade/jobbook/layout"
)

// onTread writes the marks of one tread, each from the face of its riser.
func onTread(r *layout.Run, tread int) string {
	var list []string
	for _, m := range r.Marks {
		if m.Tread == tread {
			list = append(list, tape(m.Riser))
		}
	}
	return strings.Join(list, " ")
}

// TestOneMore: two to a going of 10 1/2 stand 5/8 and 5 1/4 more from the riser, on the treads that get one more three, 3 1/2 apart (by hand). All else
// is as it was, and every mark follows from the formula that is printed.
func TestOneMore(t *testing.T) {
	plain, _ := flight(t, map[string]string{"per-tread": "2"}, nil)
	r, _ := flight(t, map[string]string{"per-tread": "2", "one-more": "[4, 2]"}, nil)
	for tread, want := range []string{1: "5/8 5 7/8", 2: "5/8 4 1/8 7 5/8", 3: "5/8 5 7/8", 4: "5/8 4 1/8 7 5/8"} {
		if got := onTread(r, tread); tread > 0 && got != want {
			t.Errorf("tread %d: %s, want %s", tread, got, want)
		}
	}
	if r.Chosen.Count != plain.Chosen.Count+2 || r.Chosen.PerTread != 2 {
		t.Errorf("%d balusters, %d without", r.Chosen.Count, plain.Chosen.Count)
	}
	for i, row := range r.MarkFig.Series.Rows {
		if got := tape(inches(t, row.Value.Fixed(6))); got != tape(r.Marks[i].Riser) {
			t.Errorf("baluster %d: the formula says %s, the mark %s", i+1, got, tape(r.Marks[i].Riser))
		}
	}
	// The lengths go by where each stands: on tread 2, 0, 3 1/2 and 7 on from the first of them the rail has climbed 0, 2 1/2 and 5.
	var on []layout.Mark
	for _, m := range r.Marks {
		if m.Tread == 2 {
			on = append(on, m)
		}
	}
	for i, m := range on {
		near(t, "head", m.Head-on[0].Head, 2.5*float64(i), 1e-6)
	}
	// The fewest that pass are found with them: one to a going of 4 1/2 is 3 1/4 apart; one more is needed nowhere.
	short, _ := flight(t, map[string]string{"risers": alike(5, "7"), "goings": alike(4, "4 1/2"), "clear": "{rake: 22 3/4}", "one-more": "[1]"}, nil)
	if short.Chosen == nil || short.Chosen.PerTread != 1 || onTread(short, 1) != "5/8 2 7/8" {
		t.Errorf("%+v, on tread 1 %s", short.Chosen, onTread(short, 1))
	}
	if blank, _ := flight(t, map[string]string{"one-more": ""}, nil); !asked(blank, "one-more:") {
		t.Errorf("left blank: %+v", blank.Missing)
	}
}
