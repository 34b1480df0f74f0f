package takeoff

import (
	"fmt"
	"slices"
	"testing"

	"balustrade/jobbook/job"
	"balustrade/jobbook/layout"
	"balustrade/jobbook/length"
	"balustrade/jobbook/wood"
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

// What is on the wood stays: a run and a post that come later, with names like the first ones, change no mark.
func TestMarksStay(t *testing.T) {
	before := codes([]string{"gallery", "return"})
	after := codes([]string{"gallery", "return", "garden", "gable"})
	if !slices.Equal(after[:2], before) || !slices.Equal(after[2:], []string{"GA", "GAB"}) {
		t.Errorf("%q became %q", before, after)
	}
}

// A piece that is chosen and waits for a reading has a label without a length, under the mark that it will have.
func TestBlanks(t *testing.T) {
	j := twoRuns(t, "")
	l := laid(j)
	rail := cut("handrail", "rail", "long", 1, inches(94), "from the wall to corner")
	l.Runs[0].Handrail = &rail
	l.Runs[1].Chosen = chosen(2)
	newel := cut("newel", "post", "", 1, inches(46), "corner")
	l.Posts = []layout.Post{{Name: "corner", Cut: &newel}, {Name: "landing"}}
	var got []string
	for _, x := range Take(j, l).Blanks {
		got = append(got, fmt.Sprintf("%s %s %d/%d", x.Mark, x.What, x.Number, x.Of))
	}
	want := []string{"L-S shoe 1/1", "S-H handrail 1/1", "S-S shoe 1/1", "S-B1 baluster 1/2", "S-B2 baluster 2/2", "L-N newel 1/1"}
	if !slices.Equal(got, want) {
		t.Errorf("got  %q\nwant %q", got, want)
	}
}

// The top of a newel under a raked rail is cut at the rake, and not square; one as bought is not cut, in whatever units. Pieces that are cut
// to the opening have no stop. By hand.
func TestNewelsAtTheSaw(t *testing.T) {
	j := twoRuns(t, "")
	l := laid(j)
	angle := working.Work("run/short/angle", "angle", "a", "degrees", working.Constant(36))
	l.Runs[1].Rake = &layout.Rake{Angle: angle}
	under := cut("newel", "post", "", 1, inches(40), "corner")
	under.Long, under.Short = inches(41), inches(39)
	bought := cut("newel", "post", "", 1, inches(48), "landing")
	bought.Fit, bought.Length = "as bought", 1219*length.Millimetre
	l.Posts = []layout.Post{{Name: "corner", Cut: &under, Arrivals: []layout.Arrival{{Run: "long"}, {Run: "short", Over: true}}}, {Name: "landing", Cut: &bought}}
	loose := cut("shoe fillet", "strip", "long", 2, 0, "the first and the last")
	loose.ToFit = true
	l.Runs[0].Fillets = []layout.Cut{loose}
	s := Take(j, l).Setups
	if len(s.Saws) != 1 || s.Saws[0].Angle != angle || len(s.Saws[0].Stops) != 1 {
		t.Fatalf("saws are %+v", s.Saws)
	}
	if stop := s.Saws[0].Stops[0]; stop.Long != inches(41) || stop.Short != inches(39) || stop.Point != "long point" || stop.Pieces[0].Mark != "C-N" || stop.Pieces[0].Bevel == "" {
		t.Errorf("the newel is cut at %+v", stop)
	}
	if len(s.Loose) != 2 {
		t.Errorf("without a stop are %+v", s.Loose)
	}
}

// Holes of a level and a raked run, counted by hand: 4 in the level rail and 3 in the raked one, for the same pins. One bit and one depth, and two
// guides; a through hole has no collar. The pilot in the post goes on in line with the raked rail.
func TestDrills(t *testing.T) {
	j := twoRuns(t, "")
	l := laid(j)
	angle := working.Work("run/short/angle", "angle", "a", "degrees", working.Constant(36))
	l.Runs[1].Rake = &layout.Rake{Angle: angle}
	hole := layout.Hole{Where: "in the handrail", Wide: in64(49), Deep: inches(1), Round: true, Count: 4}
	l.Runs[0].Holes = []layout.Hole{hole}
	hole.Count = 3
	l.Runs[1].Holes = []layout.Hole{hole}
	bolt := &job.Bolt{Pilot: job.Measure{Length: in64(16), Given: true}, InPost: job.Measure{Length: inches(2), Given: true}}
	l.Runs[1].Job.Bolt = bolt
	l.Runs[0].Job.Bolt = nil
	held := []Fixing{{Run: "long", Where: "post", Count: 2, With: &job.Fixing{}, Bores: []Bore{{For: "right through", Hole: wood.Hole{Bit: in64(33)}, Through: true}}}}
	var got []string
	for _, d := range drills(j, l, held) {
		n := 0
		for _, h := range d.Holes {
			n += h.Count
		}
		got = append(got, fmt.Sprintf("%s by %s: %d, angle %v %s, through %v", inch(d.Wide), inch(d.Deep), n, d.Angle != nil, d.Lies, d.Through))
	}
	want := []string{
		"1/4 by 2: 2, angle true in line with the rail, through false", // two posts
		"33/64 by 0: 2, angle false , through true",
		"49/64 by 1: 4, angle false , through false",
		"49/64 by 1: 3, angle true plumb, through false",
	}
	if !slices.Equal(got, want) {
		t.Errorf("got  %q\nwant %q", got, want)
	}
}
