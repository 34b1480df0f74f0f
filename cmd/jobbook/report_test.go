package main

import (
	"bytes"
	"encoding/json"
	"encoding/xml"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"
)

// TestReportsOfJobs holds the reports of whole jobs to the published schema (see package report), and every place in them to the file that it names.
func TestReportsOfJobs(t *testing.T) {
	f, err := os.Open("../../jobbook/report/testdata/sarif-2.1.0.json")
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
	t.Chdir("../..")
	for _, dir := range []string{"sample-job", "testdata/metric-job", "testdata/kept-job"} {
		t.Run(dir, func(t *testing.T) {
			var out, said bytes.Buffer
			if code := run(t.Context(), []string{"check", dir, "--format", "sarif"}, nil, &out, &said); code != exitDone && code != exitFault {
				t.Fatalf("%d %s", code, said.String())
			}
			text := out.String()
			log, err := jsonschema.UnmarshalJSON(strings.NewReader(text))
			if err != nil {
				t.Fatal(err)
			}
			if err := schema.Validate(log); err != nil {
				t.Error(err)
			}
			var read struct {
				Runs []struct {
					Results []struct {
						Message             struct{ Text string }
						PartialFingerprints map[string]string
						Locations           []struct {
							PhysicalLocation struct {
								ArtifactLocation struct{ URI string }
								Region           struct{ StartLine, StartColumn int }
								ContextRegion    struct{ Snippet struct{ Text string } }
							}
						}
					}
				}
			}
			if err := json.Unmarshal([]byte(text), &read); err != nil {
				t.Fatal(err)
			}
			seen := map[string]string{}
			for _, r := range read.Runs[0].Results {
				if key := r.PartialFingerprints["finding/v1"]; key != "" {
					if other, twice := seen[key]; twice {
						t.Errorf("%q and %q are known by one name, %s", other, r.Message.Text, key)
					}
					seen[key] = r.Message.Text
				}
				if len(r.Locations) != 1 {
					t.Errorf("%q stands nowhere", r.Message.Text)
					continue
				}
				at := r.Locations[0].PhysicalLocation
				file, err := os.ReadFile(filepath.FromSlash(at.ArtifactLocation.URI))
				if err != nil {
					t.Errorf("%q: %v", r.Message.Text, err)
					continue
				}
				lines := strings.Split(string(file), "\n")
				if n := at.Region.StartLine; n > len(lines) || n > 0 && at.ContextRegion.Snippet.Text != "" && lines[n-1] != at.ContextRegion.Snippet.Text {
					t.Errorf("%s:%d is not %q", at.ArtifactLocation.URI, n, at.ContextRegion.Snippet.Text)
				}
			}
			out.Reset()
			run(t.Context(), []string{"check", dir, "--format", "junit"}, nil, &out, &said)
			if err := xml.Unmarshal(out.Bytes(), new(struct {
				XMLName xml.Name `xml:"testsuites"`
			})); err != nil {
				t.Error(err)
			}
		})
	}
}
