package rules

import (
	"slices"
	"testing"
)

// TestBuiltNosing: one nosing named in two ways is one place, so the reading that was put right takes the other's place; another nosing stands beside it.
func TestBuiltNosing(t *testing.T) {
	for where, want := range map[string][]string{
		"over nosing 1": {"guard-height-stair pass"},
		"2":             {"guard-height-stair/1 pass", "guard-height-stair/2 fail"},
	} {
		in := inspect(stands(t, map[string]string{
			"as-built/1.md": "kind: as-built\ndate: 2027-02-12\nreadings: [{of: stair, what: height, where: 1, read: 33}]",
			"as-built/2.md": "kind: as-built\ndate: 2027-02-19\nreadings: [{of: stair, what: height, where: " + where + ", read: 36}]",
		}))
		got := slices.DeleteFunc(told(in, "as-built/stair"), func(line string) bool { return line[0] == 'o' }) // otherwise than planned
		if !slices.Equal(got, want) {
			t.Errorf("%s: got %v, want %v", where, got, want)
		}
	}
}
