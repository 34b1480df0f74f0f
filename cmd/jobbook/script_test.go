package main

import (
	"bytes"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"
)

func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){"jobbook": main})
}

// TestScripts runs the command as a person does. Each script finds a copy of the sample in sample-job, and of the job in
// millimetres in metric-job. Beside the usual commands of scripts there are
//
//	code N COMMAND...          the command ends with the exit code N
//	replace FILE OLD NEW       once, and it must be there; \n, \r and \ufeff are what they are in Go
//	same DIR OTHER             the two folders hold the same files with the same bytes
//	copy DIR OTHER             the folder with all that is in it
//	recipe NAME FILE           the block of the README below <!-- recipe: NAME -->, as a file that can be run
func TestScripts(t *testing.T) {
	testscript.Run(t, testscript.Params{
		Dir:                 "testdata",
		RequireExplicitExec: true,
		Setup: func(env *testscript.Env) error {
			for name, from := range map[string]string{"sample-job": "../../sample-job", "metric-job": "../../testdata/metric-job"} {
				if err := os.CopyFS(filepath.Join(env.WorkDir, name), os.DirFS(from)); err != nil {
					return err
				}
			}
			return nil
		},
		Condition: func(name string) (bool, error) { return name == "root" && os.Geteuid() == 0, nil },
		Cmds: map[string]func(ts *testscript.TestScript, neg bool, args []string){
			"code":    code,
			"replace": replace,
			"same":    same,
			"copy":    copyFolder,
			"recipe":  recipe,
		},
	})
}

func need(ts *testscript.TestScript, neg bool, args []string, n int, usage string) {
	if neg || len(args) < n {
		ts.Fatalf("usage: %s", usage)
	}
}

func code(ts *testscript.TestScript, neg bool, args []string) {
	need(ts, neg, args, 2, "code N COMMAND...")
	err := ts.Exec(args[1], args[2:]...)
	got := "0"
	if err != nil {
		got = strings.TrimPrefix(err.Error(), "exit status ")
	}
	if got != args[0] {
		ts.Fatalf("ended with %s, want %s", got, args[0])
	}
}

func replace(ts *testscript.TestScript, neg bool, args []string) {
	need(ts, neg, args, 3, "replace FILE OLD NEW")
	written := strings.NewReplacer(`\n`, "\n", `\r`, "\r", `\ufeff`, "\ufeff")
	text, old := ts.ReadFile(args[0]), written.Replace(args[1])
	if strings.Count(text, old) != 1 {
		ts.Fatalf("%q is %d times in %s, want once", old, strings.Count(text, old), args[0])
	}
	ts.Check(os.WriteFile(ts.MkAbs(args[0]), []byte(strings.Replace(text, old, written.Replace(args[2]), 1)), 0o644))
}

func copyFolder(ts *testscript.TestScript, neg bool, args []string) {
	need(ts, neg, args, 2, "copy DIR OTHER")
	ts.Check(os.CopyFS(ts.MkAbs(args[1]), os.DirFS(ts.MkAbs(args[0]))))
}

func recipe(ts *testscript.TestScript, neg bool, args []string) {
	need(ts, neg, args, 2, "recipe NAME FILE")
	text, err := os.ReadFile("../../README.md")
	ts.Check(err)
	_, after, found := strings.Cut(string(text), "<!-- recipe: "+args[0]+" -->\n```")
	_, block, opened := strings.Cut(after, "\n")
	block, _, closed := strings.Cut(block, "\n```\n")
	if !found || !opened || !closed {
		ts.Fatalf("the README has no recipe %s", args[0])
	}
	file := ts.MkAbs(args[1])
	ts.Check(os.MkdirAll(filepath.Dir(file), 0o755))
	ts.Check(os.WriteFile(file, []byte(block+"\n"), 0o755))
}

func same(ts *testscript.TestScript, neg bool, args []string) {
	need(ts, neg, args, 2, "same DIR OTHER")
	a, b := filesOf(ts, args[0]), filesOf(ts, args[1])
	for name, data := range a {
		if other, ok := b[name]; !ok {
			ts.Fatalf("%s is not in %s", name, args[1])
		} else if !bytes.Equal(data, other) {
			ts.Fatalf("%s differs", name)
		}
	}
	for name := range b {
		if _, ok := a[name]; !ok {
			ts.Fatalf("%s is not in %s", name, args[0])
		}
	}
}

func filesOf(ts *testscript.TestScript, dir string) map[string][]byte {
	files := map[string][]byte{}
	root := os.DirFS(ts.MkAbs(dir))
	ts.Check(fs.WalkDir(root, ".", func(name string, entry fs.DirEntry, err error) error {
		if err != nil || entry.IsDir() {
			return err
		}
		files[name], err = fs.ReadFile(root, name)
		return err
	}))
	return files
}
