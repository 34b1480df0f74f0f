package book

import (
	"go/ast"
	"go/parser"
	"go/token"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
)

// TestPatterns reads every call of say: its pattern has a place for each argument and knows no other verb, which go vet sees to for fmt alone.
func TestPatterns(t *testing.T) {
	names, err := filepath.Glob("*.go")
	if err != nil {
		t.Fatal(err)
	}
	verb := regexp.MustCompile(`%.`)
	seen := 0
	for _, name := range names {
		file, err := parser.ParseFile(token.NewFileSet(), name, nil, 0)
		if err != nil {
			t.Fatal(err)
		}
		ast.Inspect(file, func(n ast.Node) bool {
			call, ok := n.(*ast.CallExpr)
			if !ok || len(call.Args) == 0 || call.Ellipsis.IsValid() {
				return true
			}
			switch f := call.Fun.(type) {
			case *ast.Ident:
				ok = f.Name == "say"
			case *ast.SelectorExpr:
				ok = f.Sel.Name == "say"
			}
			pattern, literal := written(call.Args[0])
			if !ok || !literal {
				return true
			}
			seen++
			verbs := 0
			for _, v := range verb.FindAllString(pattern, -1) {
				switch v {
				case "%s", "%d":
					verbs++
				case "%%":
				default:
					t.Errorf("%s: %q has %s", name, pattern, v)
				}
			}
			if verbs != len(call.Args)-1 {
				t.Errorf("%s: %q has places for %d, and is given %d", name, pattern, verbs, len(call.Args)-1)
			}
			return true
		})
	}
	if seen < 500 {
		t.Errorf("only %d calls were read", seen)
	}
}

// written is a string that is written out, in one piece or in several.
func written(e ast.Expr) (string, bool) {
	switch e := e.(type) {
	case *ast.BasicLit:
		if s, err := strconv.Unquote(e.Value); e.Kind == token.STRING && err == nil {
			return s, true
		}
	case *ast.BinaryExpr:
		a, ok := written(e.X)
		b, also := written(e.Y)
		return strings.Join([]string{a, b}, ""), ok && also && e.Op == token.ADD
	}
	return "", false
}
