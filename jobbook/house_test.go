package jobbook_test

import (
	"flag"
	"go/parser"
	"go/token"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
)

var update = flag.Bool("update", false, "write templates/KEYS.md anew")

// rooms are the packages from the ground up: a package imports only what stands before it.
var rooms = []string{
	"exact", "length", "memo", "money", "photo", "report", "source", "fronts", "working", "working/evaluator", "finding", "profile", "job", "job/jobtest", "wood", "layout", "load", "finish", "takeoff/stock", "takeoff", "sequence", "price", "rules", "changes",
	"plan", "yard", "draw", "book", "revision", "site", "watch", "", // the empty one is jobbook itself
}

// TestHouse reads every import: everything goes one way, only jobbook hands templates down, and only main exits.
func TestHouse(t *testing.T) {
	const module = "balustrade/"
	err := filepath.WalkDir("..", func(path string, e os.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if e.IsDir() && (strings.HasPrefix(e.Name(), ".") && len(e.Name()) > 2 || e.Name() == "node_modules" || e.Name() == "testdata") {
			return filepath.SkipDir
		}
		if !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, "_test.go") {
			return nil
		}
		file, err := parser.ParseFile(token.NewFileSet(), path, nil, parser.ImportsOnly)
		if err != nil {
			return err
		}
		dir := filepath.ToSlash(filepath.Dir(path))[len("../"):]
		room, inHouse := strings.CutPrefix(dir+"/", "jobbook/")
		here := slices.Index(rooms, strings.Trim(room, "/"))
		if inHouse && here < 0 {
			t.Errorf("%s: the room %q is not in the list", path, room)
		}
		for _, imported := range file.Imports {
			name := strings.Trim(imported.Path.Value, `"`)
			inner, ours := strings.CutPrefix(name, module)
			if !ours {
				continue
			}
			if inner == "templates" && dir != "jobbook" {
				t.Errorf("%s imports templates, only jobbook does", path)
			}
			if inner == "templates" || dir == "cmd/jobbook" {
				continue
			}
			there := slices.Index(rooms, strings.Trim(strings.TrimPrefix(inner+"/", "jobbook/"), "/"))
			if !inHouse || there < 0 || there >= here {
				t.Errorf("%s imports %s, which does not stand below it", path, inner)
			}
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
}

// TestDependencies holds go.mod to a reason beside every module that is asked for by name, and the program to a start without
// chroma's lexers and styles, which would cost more each time than a whole build.
func TestDependencies(t *testing.T) {
	text, err := os.ReadFile("../go.mod")
	if err != nil {
		t.Fatal(err)
	}
	for _, line := range strings.Split(string(text), "\n") {
		module, reason, _ := strings.Cut(strings.TrimSpace(line), "//")
		if strings.Count(module, "/") > 0 && strings.TrimSpace(reason) == "" {
			t.Errorf("go.mod gives no reason for %s", module)
		}
	}
	deps, err := exec.Command("go", "list", "-deps", "../cmd/jobbook").Output()
	if err != nil {
		t.Fatal(err)
	}
	for _, heavy := range []string{"chroma/v2/lexers", "chroma/v2/styles", "chroma/v2/quick", "chroma/v2/formatters\n"} {
		if strings.Contains(string(deps), heavy) {
			t.Errorf("the program links %s", strings.TrimSpace(heavy))
		}
	}
}

// TestTopLevel holds the tree to its fixed top level.
func TestTopLevel(t *testing.T) {
	known := []string{"cmd", "jobbook", "templates", "sample-job", "testdata", "go.mod", "go.sum", "README.md", "DEVELOPERS.md", "Makefile"}
	entries, err := os.ReadDir("..")
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range entries {
		if !strings.HasPrefix(e.Name(), ".") && !slices.Contains(known, e.Name()) && !strings.HasSuffix(e.Name(), "-book") {
			t.Errorf("%s stands at the top level", e.Name())
		}
	}
}

var (
	mdHeading = regexp.MustCompile(`(?m)^#+ (.*)$`)
	mdLink    = regexp.MustCompile(`\]\(([^)\s]*)\)`)
	mdCode    = regexp.MustCompile("(?s)(?m)^ *```.*?^ *```$|`[^`\n]*`")
	noAnchor  = regexp.MustCompile(`[^\p{L}\p{N}\- ]`)
)

// TestLinks: the links of what is read first lead to files that are there, and to headings that a page has.
func TestLinks(t *testing.T) {
	anchors := func(file string) map[string]bool {
		text, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		list := map[string]bool{}
		for _, m := range mdHeading.FindAllStringSubmatch(mdCode.ReplaceAllStringFunc(string(text), func(code string) string {
			if strings.Contains(code, "\n") {
				return ""
			}
			return strings.Trim(code, "`")
		}), -1) {
			list[strings.ReplaceAll(strings.ToLower(noAnchor.ReplaceAllString(m[1], "")), " ", "-")] = true
		}
		return list
	}
	for _, file := range []string{"../README.md", "../DEVELOPERS.md", "../templates/KEYS.md"} {
		text, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		links := mdLink.FindAllStringSubmatch(mdCode.ReplaceAllString(string(text), ""), -1)
		for _, m := range links {
			path, anchor, _ := strings.Cut(m[1], "#")
			to := file
			if path != "" {
				to = filepath.Join(filepath.Dir(file), filepath.FromSlash(path))
			}
			if _, err := os.Stat(to); err != nil {
				t.Errorf("%s: %s leads nowhere", file, m[1])
			} else if anchor != "" && !anchors(to)[anchor] {
				t.Errorf("%s: %s has no heading %s", file, to, anchor)
			}
		}
		if file != "../DEVELOPERS.md" && len(links) == 0 {
			t.Errorf("%s has no links", file)
		}
	}
}
