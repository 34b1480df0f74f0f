package draw_test

import (
	"strings"
	"testing"

	"balustrade/jobbook/draw"
	"balustrade/jobbook/layout"
)

// TestOverview: an overview has no marks, says nothing of any that it leaves out nor of what only the work asks for, and fits its width; nothing is drawn of no run.
func TestOverview(t *testing.T) {
	for name, r := range map[string]*layout.Run{"gallery": gallery(), "flight": stair().run(), "unread": unread(), "ghost": ghost(), "begun": begun(), "bay": bay()} {
		for _, width := range []int{draw.Phone, 680} {
			svg := draw.Overview(r, inches, width)
			for _, words := range []string{"to each centre", "that follow", "Too long for its marks", "Marks from", "orst opening", "lear at the", "Handrail ", "Shoe ", "Gap ", "Rake ", "plumb", "evel clear", "oing", " nosing", "iser"} {
				if strings.Contains(svg, words) {
					t.Errorf("%s, %d px: it says %q", name, width, words)
				}
			}
			if !strings.HasPrefix(svg, "<svg") {
				t.Errorf("%s, %d px: no drawing", name, width)
			}
		}
	}
	if draw.Overview(nil, inches, 680) != "" {
		t.Error("a drawing of no run")
	}
}
