package layout_test

import (
	"testing"
)

// TestOpeningAtANewelAcrossARiser: the upper newel's face 2 before the face of riser 5, 3 1/2 wide, so that it stands across it (by hand). While nobody says on what, the opening at it is no pass, nor is the count; at the lower
// end, with a newel that is as wide all the way up, nothing hangs on it.
func TestOpeningAtANewelAcrossARiser(t *testing.T) {
	for stands, known := range map[string]bool{"": false, ", stands: 4": true, ", stands: 5": true} {
		r, _ := flight(t, map[string]string{"to": "{at: high, before: 2" + stands + "}", "clear": "{level: 40}"}, nil)
		o := r.Openings[len(r.Openings)-1]
		if o.Part != "to" || o.Known != known || r.Chosen.Unmeasured == known {
			t.Errorf("stands %q: %+v, count %+v", stands, o, r.Chosen)
		}
	}
	r, _ := flight(t, map[string]string{"from": "{at: low, past: 2}", "clear": "{level: 40}"}, nil)
	if o := r.Openings[0]; o.Part != "from" || !o.Known {
		t.Errorf("%+v", o)
	}
}
