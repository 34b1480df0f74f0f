package jobbook_test

import (
	"bytes"
	"encoding/json"
	"fmt"
	"html"
	"strings"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"

	"balustrade/jobbook"
	"balustrade/jobbook/working/evaluator"
)

var jobs = []string{"../sample-job", "../testdata/metric-job", "../testdata/kept-job"}

func bookOf(t *testing.T, dir string) map[string]string {
	t.Helper()
	result, files, err := jobbook.Make(dir)
	if err != nil || result.Plan == nil {
		t.Fatal(err, result.Problems)
	}
	book := map[string]string{}
	for _, f := range files {
		book[f.Path] = strings.Join(f.Pieces, "")
	}
	return book
}

// printedFigure is a figure as data/plan.json has it.
type printedFigure struct {
	ID, Formula, Numbers, Unit string
	Result                     json.Number
	Rounded                    bool
	Inputs                     []struct {
		Symbol, Name, Figure string
		Value                json.Number
		Rounded              bool
	}
	Citations []struct{ Text, Status string }
	Series    *struct {
		Vars []string
		Rows []struct {
			Vars    []json.Number
			Value   json.Number
			Rounded bool
		}
	}
}

func figuresOf(t *testing.T, book map[string]string) []printedFigure {
	t.Helper()
	var plan struct{ Figures []printedFigure }
	if err := json.Unmarshal([]byte(book["data/plan.json"]), &plan); err != nil {
		t.Fatal(err)
	}
	if len(plan.Figures) == 0 {
		t.Fatal("the book has no figures")
	}
	return plan.Figures
}

// TestFigures puts every printed number of the books back into its printed formula, with an evaluator that shares no code with what
// printed them. Every figure has a source, and every figure it rests on is there.
func TestFigures(t *testing.T) {
	for _, dir := range jobs {
		t.Run(dir, func(t *testing.T) {
			checkFigures(t, figuresOf(t, bookOf(t, dir)))
		})
	}
}

func checkFigures(t *testing.T, figures []printedFigure) {
	t.Helper()
	known := map[string]bool{}
	for _, f := range figures {
		if known[f.ID] {
			t.Errorf("two figures have the id %s", f.ID)
		}
		known[f.ID] = true
	}
	for _, f := range figures {
		checkFigure(t, f)
		if len(f.Citations) == 0 {
			t.Errorf("%s has no source", f.ID)
		}
		for _, c := range f.Citations {
			if c.Text == "" || c.Status == "" || c.Status == "unknown" {
				t.Errorf("%s has a blank source: %+v", f.ID, c)
			}
		}
		for _, in := range f.Inputs {
			if in.Figure != "" && !known[in.Figure] {
				t.Errorf("%s rests on %s, which is not in the book", f.ID, in.Figure)
			}
		}
	}
}

func checkFigure(t *testing.T, f printedFigure) {
	t.Helper()
	values, rounded := map[string]string{}, map[string]bool{}
	for _, in := range f.Inputs {
		values[in.Symbol] = string(in.Value)
		if in.Rounded {
			rounded[strings.TrimPrefix(string(in.Value), "-")] = true
		}
	}
	check := func(formula string, vars map[string]string, result json.Number, isRounded bool) {
		got, err := evaluator.Evaluate(formula, vars, func(n string) bool { return rounded[strings.TrimPrefix(n, "-")] })
		switch {
		case err != nil && result != "":
			t.Errorf("%s: %s: %v, printed %s", f.ID, formula, err, result)
		case err == nil && !got.Holds(string(result), isRounded):
			t.Errorf("%s: %s is not %s", f.ID, formula, result)
		}
	}
	if f.Series == nil {
		check(f.Numbers, nil, f.Result, f.Rounded)
		check(f.Formula, values, f.Result, f.Rounded)
		return
	}
	for _, row := range f.Series.Rows {
		vars := map[string]string{}
		for symbol, value := range values {
			vars[symbol] = value
		}
		for i, symbol := range f.Series.Vars {
			vars[symbol] = string(row.Vars[i])
			if _, decimals, _ := strings.Cut(vars[symbol], "."); len(decimals) == 6 { // printed to six places, where it may be rounded
				rounded[strings.TrimPrefix(vars[symbol], "-")] = true
			}
		}
		check(f.Numbers, vars, row.Value, row.Rounded)
		check(f.Formula, vars, row.Value, row.Rounded)
	}
}

// TestFiguresOnThePage: what the page of workings prints is what the data holds, figure by figure.
func TestFiguresOnThePage(t *testing.T) {
	for _, dir := range jobs {
		t.Run(dir, func(t *testing.T) {
			book := bookOf(t, dir)
			page := plainText(book["working.html"])
			for _, f := range figuresOf(t, book) {
				if !strings.Contains(page, f.Numbers) {
					t.Errorf("working.html does not print %s of %s", f.Numbers, f.ID)
				}
			}
		})
	}
}

// plainText takes the tags out of a page.
func plainText(page string) string {
	var b strings.Builder
	in := false
	for _, r := range page {
		switch {
		case r == '<':
			in = true
		case r == '>':
			in = false
		case !in:
			b.WriteRune(r)
		}
	}
	return html.UnescapeString(b.String())
}

// TestSchema validates the data of both books against the schema that is written beside it.
func TestSchema(t *testing.T) {
	for _, dir := range jobs {
		t.Run(dir, func(t *testing.T) {
			validate(t, bookOf(t, dir))
		})
	}
}

// validate holds a book's data to the description that it carries.
func validate(t *testing.T, book map[string]string) {
	t.Helper()
	schema, err := jsonschema.UnmarshalJSON(strings.NewReader(book["data/plan.schema.json"]))
	if err != nil {
		t.Fatal(err)
	}
	compiler := jsonschema.NewCompiler()
	if err := compiler.AddResource("plan.schema.json", schema); err != nil {
		t.Fatal(err)
	}
	compiled, err := compiler.Compile("plan.schema.json")
	if err != nil {
		t.Fatal(err)
	}
	data, err := jsonschema.UnmarshalJSON(strings.NewReader(book["data/plan.json"]))
	if err != nil {
		t.Fatal(err)
	}
	if err := compiled.Validate(data); err != nil {
		t.Error(err)
	}
}

// TestSameBytes makes each book twice, and once from a copy of the folder at another place.
func TestSameBytes(t *testing.T) {
	for _, dir := range jobs {
		t.Run(dir, func(t *testing.T) {
			first, second, moved := bookOf(t, dir), bookOf(t, dir), bookOf(t, copyOf(t, dir))
			for _, other := range []map[string]string{second, moved} {
				if len(first) != len(other) {
					t.Errorf("%d files and %d", len(first), len(other))
				}
				for path, data := range first {
					if other[path] != data {
						t.Errorf("%s differs: %s", path, firstDifference(data, other[path]))
					}
				}
			}
		})
	}
}

func firstDifference(a, b string) string {
	i := 0
	for i < len(a) && i < len(b) && a[i] == b[i] {
		i++
	}
	from := max(0, i-40)
	return fmt.Sprintf("%q and %q", a[from:min(len(a), i+40)], b[from:min(len(b), i+40)])
}

// TestNoPlaceOfThisMachine: no book holds the path of the folder it was made from.
func TestNoPlaceOfThisMachine(t *testing.T) {
	dir := copyOf(t, jobs[0])
	for path, data := range bookOf(t, dir) {
		if bytes.Contains([]byte(data), []byte(dir)) {
			t.Errorf("%s holds %s", path, dir)
		}
	}
}
