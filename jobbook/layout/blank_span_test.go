package layout_test

import (
	"strings"
	"testing"
)

// TestBlankReadingIsAsked: of the level clear and the two faces any two give the third (four goings are 42, both faces at their risers). One left blank is a reading to take: it is what the other two are compared with. One whose key is
// not written was not going to be read.
func TestBlankReadingIsAsked(t *testing.T) {
	type keys = map[string]string
	const level, face = "clear: {level: }", "before: or past: "
	cases := []struct {
		name string
		keys keys
		asks []string // keys, of those two
	}{
		{"level blank", keys{"clear": "{level: , rake: 51 5/8}"}, []string{level}},
		{"level not written", nil, nil},
		{"lower face blank", keys{"from": "{at: low, before: }", "clear": "{level: 42, rake: 51 5/8}"}, []string{"from: {" + face}},
		{"upper face blank", keys{"to": "{at: high, past: }", "clear": "{level: 42, rake: 51 5/8}"}, []string{"to: {" + face}},
		{"lower face not written", keys{"from": "{at: low}", "clear": "{level: 42, rake: 51 5/8}"}, nil},
		{"all three", keys{"clear": "{level: 42, rake: 51 5/8}"}, nil},
		{"two blank", keys{"from": "{at: low, before: }", "clear": "{level: , rake: 51 5/8}"}, []string{"from: {" + face}}, // the level clear is asked for once there is a face to compare with
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			r, _ := flight(t, c.keys, nil)
			var asks []string
			for _, m := range r.Missing {
				for _, key := range []string{level, face} {
					if strings.Contains(m.Where, key) {
						asks = append(asks, m.Where)
						if !strings.Contains(m.Why, "read right") && c.name != "two blank" {
							t.Errorf("what waits for %s: %s", m.Where, m.Why)
						}
					}
				}
			}
			if len(asks) != len(c.asks) {
				t.Fatalf("asks for %q, want %q", asks, c.asks)
			}
			for i, want := range c.asks {
				if !strings.Contains(asks[i], want) {
					t.Errorf("asks for %q, want %q", asks[i], want)
				}
			}
		})
	}
}
