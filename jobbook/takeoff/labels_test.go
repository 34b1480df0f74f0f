package takeoff

import (
	"fmt"
	"slices"
	"testing"

	"balustrade/jobbook/layout"
	"balustrade/jobbook/working"
)

func TestCodes(t *testing.T) { // by hand from the rule: first letters, and more of the last word where an earlier name has them
	for _, c := range []struct{ names, want []string }{
		{[]string{"gallery", "return", "bridge", "lower-flight", "corner", "stair-head"}, []string{"G", "R", "B", "LF", "C", "SH"}},
		{[]string{"landing", "lower"}, []string{"L", "LO"}},
		{[]string{"upper-hall", "upper-house"}, []string{"UH", "UHO"}},
		{[]string{"a", "a-b", "ab"}, []string{"A", "AB", "AB2"}},
		{[]string{"2", "étage", "--"}, []string{"2", "É", "X"}},
		{[]string{"st", "st!", "st?", "st."}, []string{"S", "ST", "ST2", "ST3"}},
		{[]string{"stair", "stair!"}, []string{"S", "ST"}},
	} {
		if got := codes(c.names); !slices.Equal(got, c.want) {
			t.Errorf("%q are %q, want %q", c.names, got, c.want)
		}
	}
}

// Every single piece has a label of its own, and balusters carry their number along the run.
func TestLabels(t *testing.T) {
	j := twoRuns(t, "")
	l := laid(j)
	rail := cut("handrail", "rail", "long", 1, inches(94), "from the wall to corner")
	l.Runs[0].Handrail = &rail
	a, b := cut("baluster", "stick", "long", 2, inches(33), "1, 3"), cut("baluster", "stick", "long", 1, inches(34), "2")
	a.Numbers, b.Numbers = []int{1, 3}, []int{2}
	l.Runs[0].Balusters = []layout.Cut{a, b}
	l.Runs[0].Fillets = []layout.Cut{cut("shoe fillet", "strip", "long", 2, 0, "the first and the last")}
	newel := cut("newel", "post", "", 1, inches(46), "corner")
	l.Posts = []layout.Post{{Name: "corner", Cut: &newel}}
	var got []string
	for _, x := range Take(j, l).Labels {
		got = append(got, fmt.Sprintf("%s %d/%d %s", x.Mark, x.Number, x.Of, x.Ends))
	}
	want := []string{
		"C-N 1/1 this end up", "L-H 1/1 this end to corner; the other to the wall",
		"L-B2 2/3 this end up", "L-B1 1/3 this end up", "L-B3 3/3 this end up", "L-F1 1/2 in the shoe", "L-F2 2/2 in the shoe",
	}
	if !slices.Equal(got, want) {
		t.Errorf("got  %q\nwant %q", got, want)
	}
}

// Square cuts come first and at one angle; each cut stands at one stop. By hand.
func TestSaws(t *testing.T) {
	j := twoRuns(t, "")
	l := laid(j)
	angle := working.Work("run/short/angle", "angle", "a", "degrees", working.Constant(36))
	l.Runs[1].Rake = &layout.Rake{Angle: angle}
	rail := cut("handrail", "rail", "short", 1, inches(94), "")
	rail.Blank, rail.Beveled = inches(96), [2]bool{true, true}
	l.Runs[1].Handrail = &rail
	tread := cut("baluster", "stick", "short", 2, inches(33), "1, 2")
	tread.Long, tread.Short, tread.Beveled = inches(34), inches(32), [2]bool{false, true}
	l.Runs[1].Balusters = []layout.Cut{tread}
	l.Runs[0].Balusters = []layout.Cut{cut("baluster", "stick", "long", 3, inches(33), "a"), cut("baluster", "stick", "long", 4, inches(34), "b")}
	l.Runs[0].Fillets = []layout.Cut{cut("shoe fillet", "strip", "long", 5, inches(3), ""), cut("rail fillet", "strip", "long", 5, inches(3), "")}
	var got []string
	n := 0
	for _, s := range Take(j, l).Setups.Saws {
		a := "square"
		if s.Angle != nil {
			a = s.Angle.Result()
		}
		for _, stop := range s.Stops {
			n += len(stop.Pieces)
			got = append(got, fmt.Sprintf("%s: %d of %s, %s %s", a, len(stop.Pieces), stop.What, inch(stop.Long), stop.Point))
		}
	}
	want := []string{"square: 4 of baluster, 34 ", "square: 3 of baluster, 33 ", "square: 10 of fillet, 3 ", "36: 1 of handrail, 96 blank", "36: 2 of baluster, 34 long point"}
	if !slices.Equal(got, want) || n != 20 {
		t.Errorf("got  %q\nwant %q", got, want)
	}
}
