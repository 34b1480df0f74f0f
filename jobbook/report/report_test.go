package report

import (
	"bytes"
	"encoding/json"
	"encoding/xml"
	"os"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/santhosh-tekuri/jsonschema/v6"
)

// items are one of each level, with what forms are easily broken by: signs of XML, a space and letters beyond ASCII in a path, a place past the end of its line.
var items = []Item{
	{Level: Broken, Rule: Rule{"file", "a file that can be understood", "Put it right."}, Suite: "files", Name: `"94,5" could be two things`, Message: `"94,5" could be two things; write 94.5`,
		At:      Place{Path: "elm landing/runs/1-hall.md", Line: 6, Col: 8, Width: 4, Text: "clear: 94,5"},
		Related: []Place{{Path: "elm landing/job.md", Line: 2, Col: 1, Text: "kind: job", Note: "the other one"}}},
	{Level: Failed, Rule: Rule{ID: "guard-opening", About: "openings"}, Suite: "Hall <upper> & stair", Name: "worst opening", Message: "fail: 4 1/8 in, under 4 in", Key: "check/run/hall/guard-opening",
		At: Place{Path: "größe/1.md", Line: 4, Col: 6, Text: "höhe: ½ 3"}},
	{Level: Warning, Rule: Rule{ID: "file-doubt", About: "looks odd"}, Suite: "files", Name: "odd", Message: "odd", At: Place{Path: "a:b.md", Line: 1, Col: 40, Width: 3, Text: "short"}},
	{Level: Note, Rule: Rule{ID: "to-be-measured", About: "a reading"}, Suite: "to be measured or decided", Name: "the drop", Message: "the drop", At: Place{Path: "job.md"}},
	{Level: Passed, Rule: Rule{ID: "guard-drop", About: "a guard is required"}, Suite: "Hall <upper> & stair", Name: "guard required", Message: "pass", At: Place{Path: "job.md", Line: 3, Col: 1}},
	{Level: Note, Rule: Rule{ID: "guard-opening", About: "another word for it"}, Suite: "Hall <upper> & stair", Name: "no place", Message: "x"},
}

// TestSARIFSchema holds a report to the schema that was published with the standard: testdata/sarif-2.1.0.json is 2.1.0-rtm.5 as the npm package @microsoft/jest-sarif 1.0.0-beta.0 has it, less descriptions and its id.
func TestSARIFSchema(t *testing.T) {
	f, err := os.Open("testdata/sarif-2.1.0.json")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	document, err := jsonschema.UnmarshalJSON(f)
	if err != nil {
		t.Fatal(err)
	}
	c := jsonschema.NewCompiler()
	if err := c.AddResource("sarif.json", document); err != nil {
		t.Fatal(err)
	}
	schema, err := c.Compile("sarif.json")
	if err != nil {
		t.Fatal(err)
	}
	for name, list := range map[string][]Item{"nothing": nil, "one of each": items} {
		t.Run(name, func(t *testing.T) {
			text, err := SARIF(list)
			if err != nil {
				t.Fatal(err)
			}
			log, err := jsonschema.UnmarshalJSON(bytes.NewReader(text))
			if err != nil {
				t.Fatal(err)
			}
			if err := schema.Validate(log); err != nil {
				t.Error(err)
			}
		})
	}
	t.Run("the schema can say no", func(t *testing.T) {
		text, err := SARIF(items)
		if err != nil {
			t.Fatal(err)
		}
		log, err := jsonschema.UnmarshalJSON(strings.NewReader(strings.Replace(string(text), `"level": "error"`, `"level": "grave"`, 1)))
		if err != nil {
			t.Fatal(err)
		}
		if schema.Validate(log) == nil {
			t.Error("a level that is none was taken")
		}
	})
}

// TestSARIF: what no schema can see. Expected values by hand, from the standard (clauses from memory): ruleIndex points into rules (3.27.6), which are each there once and sorted here; columns count runes and endColumn is the one behind the
// last (3.30.8); a path is percent-encoded, and one whose first part has a colon begins with ./ so that it is no scheme (RFC 3986, 4.2).
func TestSARIF(t *testing.T) {
	text, err := SARIF(items)
	if err != nil {
		t.Fatal(err)
	}
	var log sarifLog
	if err := json.Unmarshal(text, &log); err != nil {
		t.Fatal(err)
	}
	var rules, got []string
	for _, r := range log.Runs[0].Tool.Driver.Rules {
		rules = append(rules, r.ID+": "+r.Short.Text)
	}
	if diff := cmp.Diff([]string{"file: a file that can be understood", "file-doubt: looks odd", "guard-opening: openings", "to-be-measured: a reading"}, rules); diff != "" {
		t.Errorf("rules (-want +got):\n%s", diff)
	}
	for _, r := range log.Runs[0].Results {
		line := r.Level + " " + r.Rule
		if log.Runs[0].Tool.Driver.Rules[r.Index].ID != r.Rule {
			t.Errorf("%s: ruleIndex %d", r.Rule, r.Index)
		}
		for _, l := range r.Locations {
			line += " " + l.Physical.Artifact.URI
			if g := l.Physical.Region; g != nil {
				place, err := json.Marshal(g)
				if err != nil {
					t.Fatal(err)
				}
				line += " " + string(place)
			}
		}
		got = append(got, line)
	}
	want := []string{
		`error file elm%20landing/runs/1-hall.md {"startLine":6,"startColumn":8,"endColumn":12,"snippet":{"text":"94,5"}}`,
		`error guard-opening gr%C3%B6%C3%9Fe/1.md {"startLine":4,"startColumn":6,"snippet":{"text":" ½ 3"}}`,
		`warning file-doubt ./a:b.md {"startLine":1,"startColumn":40}`,
		`note to-be-measured job.md`,
		`note guard-opening`,
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("results (-want +got):\n%s", diff)
	}
	if related := log.Runs[0].Results[0].Related; len(related) != 1 || related[0].Message.Text != "the other one" {
		t.Errorf("related %+v", related)
	}
	again, err := SARIF(items)
	if err != nil || !bytes.Equal(text, again) {
		t.Errorf("not the same twice (%v)", err)
	}
}

// TestJUnit reads a report back with types of the test's own. Numbers by hand: the hall has three cases, one failing, one skipped; files have two, one an error and one that passes.
func TestJUnit(t *testing.T) {
	text, err := JUnit(items)
	if err != nil {
		t.Fatal(err)
	}
	var log struct {
		Tests    int `xml:"tests,attr"`
		Failures int `xml:"failures,attr"`
		Errors   int `xml:"errors,attr"`
		Skipped  int `xml:"skipped,attr"`
		Suites   []struct {
			Name  string `xml:"name,attr"`
			Tests int    `xml:"tests,attr"`
			Cases []struct {
				Name    string `xml:"name,attr"`
				File    string `xml:"file,attr"`
				Line    int    `xml:"line,attr"`
				Failure *struct {
					Message string `xml:"message,attr"`
				} `xml:"failure"`
				Error *struct {
					Text string `xml:",chardata"`
				} `xml:"error"`
				Skipped *struct{} `xml:"skipped"`
			} `xml:"testcase"`
		} `xml:"testsuite"`
	}
	if err := xml.Unmarshal(text, &log); err != nil {
		t.Fatal(err)
	}
	if log.Tests != 6 || log.Failures != 1 || log.Errors != 1 || log.Skipped != 2 || len(log.Suites) != 3 {
		t.Fatalf("%+v", log)
	}
	files, hall := log.Suites[0], log.Suites[1]
	if files.Name != "files" || files.Tests != 2 || files.Cases[0].Error == nil || files.Cases[0].Error.Text != "elm landing/runs/1-hall.md:6:8\nclear: 94,5" || files.Cases[1].Error != nil || files.Cases[1].Failure != nil {
		t.Errorf("files %+v", files)
	}
	if hall.Name != "Hall <upper> & stair" || hall.Cases[0].Failure == nil || hall.Cases[0].Failure.Message != "fail: 4 1/8 in, under 4 in" || hall.Cases[0].Line != 4 || hall.Cases[1].Failure != nil || hall.Cases[1].Skipped != nil || hall.Cases[2].Skipped == nil {
		t.Errorf("hall %+v", hall)
	}
}

// TestIs: what is written over is a report, nothing else.
func TestIs(t *testing.T) {
	for _, write := range []func([]Item) ([]byte, error){SARIF, JUnit} {
		text, err := write(nil)
		if err != nil || !Is(text) {
			t.Errorf("%v %s", err, text)
		}
	}
	for _, text := range []string{"", "---\nkind: job\n", "{\n  \"name\": 1}", "<?xml version=\"1.0\"?>\n<testsuites>"} {
		if Is([]byte(text)) {
			t.Errorf("%q is taken for a report", text)
		}
	}
}
