package book

import (
	"strings"
	"testing"
)

// TestPassages: a passage that is text and nothing else is what executing its template writes.
func TestPassages(t *testing.T) {
	frames, err := readFrames(templatesFolder())
	if err != nil {
		t.Fatal(err)
	}
	seen := 0
	for _, of := range frames.templates.Templates() {
		got, ok := frames.passage(of.Name())
		if !ok {
			continue
		}
		seen++
		var want strings.Builder
		if err := frames.templates.ExecuteTemplate(&want, of.Name(), nil); err != nil {
			t.Errorf("%s: %v", of.Name(), err)
		}
		if string(got) != want.String() {
			t.Errorf("%s is %q, want %q", of.Name(), got, want.String())
		}
	}
	if seen < 10 {
		t.Errorf("only %d are text and nothing else", seen)
	}
}
