package book

import (
	"flag"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

var update = flag.Bool("update", false, "write the pages into testdata; read them before accepting them")

// masked are what is another with every page (the build id) and with every colour (the style sheet's name).
var masked = regexp.MustCompile(`[0-9a-f]{12}|style\.[0-9a-f]{8}\.css`)

// golden compares a file of a book with the one that a person has read.
func golden(t *testing.T, file, got string) {
	t.Helper()
	got = masked.ReplaceAllString(got, "...")
	if *update {
		if err := os.MkdirAll(filepath.Dir(file), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(file, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	want, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(strings.Split(string(want), "\n"), strings.Split(got, "\n")); diff != "" {
		t.Errorf("%s: want -, got +:\n%s", file, diff)
	}
}

// noOrphans finds files that nothing was compared with.
func noOrphans(t *testing.T, folder string, seen map[string]bool) {
	t.Helper()
	found, err := filepath.Glob(folder + "/*")
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range found {
		if !seen[f] {
			t.Errorf("%s belongs to no page", f)
		}
	}
}
