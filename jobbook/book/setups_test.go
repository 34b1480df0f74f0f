package book

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"balustrade/jobbook/exact"
	"balustrade/jobbook/job"
	"balustrade/jobbook/length"
	"balustrade/jobbook/plan"
	"balustrade/jobbook/takeoff"
	"balustrade/jobbook/working"
)

// The half degree that a saw is set to, and the angle in hundredths. A riser of 7 3/4 on a going of 10 rises at 37.776 degrees, 7 1/2 on 10 at
// 36.870, 7 on 11 at 32.471 (by hand, from a table of tangents).
func TestAngleWords(t *testing.T) {
	b := &book{job: &job.Job{System: length.Inches}}
	for _, c := range []struct {
		thousandths int64
		want        string
	}{
		{37776, "<b>38.0°</b> off square (37.78°)"},
		{36870, "<b>37.0°</b> off square (36.87°)"},
		{32471, "<b>32.5°</b> off square (32.47°)"},
		{35250, "<b>35.5°</b> off square (35.25°)"}, // halfway goes away from zero
	} {
		if got := b.angleWords(&working.Figure{Value: exact.New(c.thousandths, 1000)}); string(got) != c.want {
			t.Errorf("%d is %s, want %s", c.thousandths, got, c.want)
		}
	}
	if got := b.angleWords(nil); got != "square" {
		t.Errorf("no angle is %s", got)
	}
	if got := b.angleWords(&working.Figure{}); !strings.Contains(string(got), "to be measured") {
		t.Errorf("an angle that is not known is %s", got)
	}
}

// Cards hold every piece once, in order; rails, balusters and fillets have cards of their own, and a card is no longer than a sheet.
func TestSawCards(t *testing.T) {
	var saw takeoff.SawSetup
	stop := func(what string, long int64, pieces int) {
		s := takeoff.SawStop{Setting: takeoff.Setting{What: what, Long: length.Length(long) * length.Inch}}
		for range pieces {
			s.Pieces = append(s.Pieces, takeoff.Label{Mark: fmt.Sprint(what, long, "-", len(s.Pieces)+1)})
		}
		saw.Stops = append(saw.Stops, s)
	}
	stop("handrail", 90, 1)
	stop("shoe", 80, 1)
	for i := range int64(40) {
		stop("baluster", 60-i, 2)
	}
	stop("fillet", 3, 1000)
	var want, got []string
	for _, s := range saw.Stops {
		for _, l := range s.Pieces {
			want = append(want, l.Mark)
		}
	}
	cards := sawCards(saw)
	for _, card := range cards {
		lines := 0
		for _, s := range card {
			lines += 1 + (len(s.Pieces)+lineMarks-1)/lineMarks
			for _, l := range s.Pieces {
				got = append(got, l.Mark)
			}
			if (s.What == "baluster") != (card[0].What == "baluster") || (s.What == "fillet") != (card[0].What == "fillet") {
				t.Errorf("%s on a card of %s", s.What, card[0].What)
			}
		}
		if lines > cardLines {
			t.Errorf("a card has %d lines", lines)
		}
	}
	if !slices.Equal(got, want) {
		t.Errorf("%d pieces on cards, want %d, in order", len(got), len(want))
	}
	if len(cards) < 5 { // rails; 40 stops of 2 lines on 3 cards; fillets
		t.Errorf("%d cards", len(cards))
	}
}

// What a test piece must measure, by the points of the first stop; and where it comes from.
func TestTestPiece(t *testing.T) {
	in := length.Inch
	b := &book{job: &job.Job{System: length.Inches}, division: in / 16, plan: &plan.Plan{}}
	b.plan.Takeoff.Needs = []takeoff.Need{
		{Kind: "fillet", Part: "stick"}, // a part of another kind by the same name
		{Kind: "baluster", Part: "stick", Spare: 2}, {Kind: "baluster", Part: "short", Spare: 3, Came: true}, {Kind: "baluster", Part: "enough", Spare: 3, Came: true, Over: 1},
	}
	angle := &working.Figure{Value: exact.New(36, 1)}
	for _, c := range []struct {
		name  string
		angle *working.Figure
		set   takeoff.Setting
		want  string
	}{
		{"a square baluster", nil, takeoff.Setting{What: "baluster", Part: "stick", Long: 35 * in}, "must measure 35 in along both edges. Cut it from an offcut, or from a spare: 2 are ordered."},
		{"one of which fewer came than were ordered", nil, takeoff.Setting{What: "baluster", Part: "short", Long: 35 * in}, "along both edges. Cut it from an offcut: none is there beyond those needed."},
		{"one of which more came than are needed", nil, takeoff.Setting{What: "baluster", Part: "enough", Long: 35 * in}, "along both edges. Cut it from an offcut, or from a spare: 1 is there beyond those needed."},
		{"a beveled head", angle, takeoff.Setting{What: "baluster", Part: "stick", Long: 35 * in, Short: 34 * in, Point: "long point"}, "must measure 35 in to the long point and 34 to the short one."},
		{"a fillet", angle, takeoff.Setting{What: "fillet", Part: "strip", Long: 4 * in, Both: true}, "must measure 4 in along both edges, from point to point. No spare is ordered"},
		{"a foot", angle, takeoff.Setting{What: "baluster", Long: 35 * in, Foot: true, Point: "at the axis, to the middle of the foot"}, "must measure 35 in at the axis, to the middle of the foot."},
		{"a rail", nil, takeoff.Setting{What: "handrail", Long: 90 * in}, "left long and marked from the work"},
	} {
		t.Run(c.name, func(t *testing.T) {
			if got := string(b.testPiece(c.angle, takeoff.SawStop{Setting: c.set})); !strings.Contains(got, c.want) {
				t.Errorf("got  %s\nwant %s", got, c.want)
			}
		})
	}
}

// A hole that goes right through has no collar and is not waiting; one whose depth is not known says so.
func TestDrillCard(t *testing.T) {
	b := &book{job: &job.Job{System: length.Inches}, division: length.Inch / 16, plan: &plan.Plan{}}
	card := func(d takeoff.DrillSetup) string {
		var w writer
		b.drillCard(&w, 1, d)
		return string(w.markup())
	}
	through := card(takeoff.DrillSetup{Wide: length.Inch / 2, Through: true, Round: true, Holes: []takeoff.DrillHoles{{Where: "post", Count: 2}}})
	if !strings.Contains(through, "right through") || strings.Contains(through, "still to be worked out") {
		t.Error(through)
	}
	open := card(takeoff.DrillSetup{Wide: length.Inch / 2, Round: true, Holes: []takeoff.DrillHoles{{Count: 1}}})
	if !strings.Contains(open, "still to be worked out") || !strings.Contains(open, "1 hole.") {
		t.Error(open)
	}
}
