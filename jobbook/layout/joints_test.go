package layout_test

import (
	"strings"
	"testing"

	"balustrade/jobbook/layout"
)

func pieces(r *layout.Run) string {
	var list []string
	for _, c := range r.RailCuts() {
		list = append(list, tape(c.Length)+" "+tape(c.Stick())+" "+c.Which)
	}
	return strings.Join(list, "; ")
}

// By hand. Level: 200 between a wall's plaster and a post; a rosette of 3/4, so the rail is 199 1/4. Joints at 80 and 150 from the plaster: 79 1/4, 70 and 50.
// Over the post at the datum end, 3 1/2 wide, the rail begins 1 3/4 behind its face: 201 3/4 in all.
func TestRailInPieces(t *testing.T) {
	for _, c := range []struct{ run, want string }{
		{"from: {at: wall, rosette: plate}\nto: a\nclear: {floor: 200, rail: 200}\njoints: [80, 150]", "79 1/4 79 1/4 from the wall to joint 1; 70 70 from joint 1 to joint 2; 50 50 from joint 2 to a"},
		{"from: {at: a, over: yes}\nto: b\nclear: {floor: 200, rail: 200}\njoints: [80]", "81 3/4 81 3/4 from a to joint 1; 120 120 from joint 1 to b"},
		{"from: a\nto: b\nclear: {floor: 200, rail: 200}\njoints:\n  - 80\n  -", "200 200 from a to b"},
		{"from: a\nto: b\nclear: {floor: 200, rail: 200}\njoints: [240]", "200 200 from a to b"},
	} {
		if got := pieces(one(t, jobHead, c.run)); got != c.want {
			t.Errorf("%s\ngot  %s\nwant %s", c.run, got, c.want)
		}
	}
}

// By hand: the rail is 2 3/8 high, and 2.375 x 7.75/10 is 1.840625, so a plumb cut runs out 1.84: 24 needs a blank of 25 7/8, and 50 5/8 - 24 = 26 5/8
// one of 28 1/2, rounded up to sixteenths.
func TestRakedRailInPieces(t *testing.T) {
	r, _ := flight(t, map[string]string{"risers": alike(5, "7 3/4"), "goings": alike(4, "10"), "clear": "{rake: 50 5/8}", "per-tread": "2", "joints": "[24]"}, nil)
	if got, want := pieces(r), "24 25 7/8 from low to joint 1; 26 5/8 28 1/2 from joint 1 to high"; got != want {
		t.Errorf("got %s, want %s", got, want)
	}
}
