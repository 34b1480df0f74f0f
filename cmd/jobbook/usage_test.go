package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/spf13/pflag"
)

func TestBookFolder(t *testing.T) {
	here := filepath.Join(t.TempDir(), "yard", "job")
	if err := os.MkdirAll(here, 0o755); err != nil {
		t.Fatal(err)
	}
	t.Chdir(here)
	up := filepath.Dir(here)
	for _, tt := range []struct{ name, dir, want string }{
		{"a name", "job", "job-book"},
		{"a slash at the end", "yard/job/", "yard/job-book"},
		{"where we are", ".", here + "-book"},
		{"one up", "..", up + "-book"},
		{"up and down again", "../job", "../job-book"},
		{"a way that leads back here", "x/..", here + "-book"},
		{"absolute", "/yard/job", "/yard/job-book"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			got, err := bookFolder(filepath.FromSlash(tt.dir))
			if err != nil || got != filepath.FromSlash(tt.want) {
				t.Errorf("got %q (%v), want %q", got, err, tt.want)
			}
		})
	}
}

func TestTook(t *testing.T) {
	for _, tt := range []struct {
		d    time.Duration
		want string
	}{
		{400 * time.Microsecond, "1 ms"},
		{38*time.Millisecond + 600*time.Microsecond, "38 ms"},
		{999 * time.Millisecond, "999 ms"},
		{1240 * time.Millisecond, "1.2 s"},
	} {
		t.Run(tt.want, func(t *testing.T) {
			if got := took(tt.d); got != tt.want {
				t.Errorf("got %q, want %q", got, tt.want)
			}
		})
	}
}

func TestQuoted(t *testing.T) {
	for _, tt := range []struct{ name, path, want string }{
		{"plain", "larkspur", "larkspur"},
		{"with a slash at the end", "yard/larkspur/", "yard/larkspur"},
		{"a space", "mill house", "'mill house'"},
		{"an apostrophe", "o'hara", `'o'\''hara'`},
		{"what a shell would act on", "a;b", "'a;b'"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			if got := quoted(tt.path); got != tt.want {
				t.Errorf("got %s, want %s", got, tt.want)
			}
		})
	}
}

func TestPlain(t *testing.T) {
	if got, want := plain("a\x1b[31mb\u202ec\n"), "a.[31mb.c."; got != want {
		t.Errorf("got %q, want %q", got, want)
	}
}

// TestReadmeCommands: the README's table has every command, and every flag that one takes.
func TestReadmeCommands(t *testing.T) {
	text, err := os.ReadFile("../../README.md")
	if err != nil {
		t.Fatal(err)
	}
	_, table, _ := strings.Cut(string(text), "\n## The command\n")
	table, _, _ = strings.Cut(table, "\n## ")
	for _, c := range commands().Commands() {
		if c.Name() == "help" {
			continue
		}
		rows := ""
		for _, line := range strings.Split(table, "\n") {
			if strings.HasPrefix(line, "| `jobbook "+c.Name()+" ") {
				rows += line
			}
		}
		if rows == "" {
			t.Errorf("no row for %s", c.Name())
		}
		c.LocalFlags().VisitAll(func(f *pflag.Flag) {
			if f.Name != "help" && !strings.Contains(rows, "--"+f.Name) {
				t.Errorf("%s: --%s is not told", c.Name(), f.Name)
			}
		})
	}
}
