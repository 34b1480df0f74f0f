package book

import (
	"bytes"
	"encoding/json"
	"strings"
	"testing"
)

// encoded is what an encoder makes of a value at once.
func encoded(t *testing.T, v any) string {
	t.Helper()
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	if err := e.Encode(v); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// TestDataPieceByPiece holds what is encoded piece by piece to the same at once.
func TestDataPieceByPiece(t *testing.T) {
	for _, c := range handMadePlans() {
		t.Run(c.name, func(t *testing.T) {
			got := dataFilesOf(t, c.plan)["data/plan.json"]
			var p dataPlan
			if err := json.Unmarshal([]byte(got), &p); err != nil {
				t.Fatal(err)
			}
			if want := encoded(t, p); got != want {
				t.Errorf("got %s\nwant %s", got, want)
			}
		})
	}
	type record struct {
		Text string `json:"text,omitempty"`
		N    *int   `json:"n"`
	}
	type data struct {
		None  []record          `json:"none"`
		Empty []record          `json:"empty"`
		Words []string          `json:"words"`
		Named map[string]record `json:"named"`
		Long  []record          `json:"long"` // more than stands in a buffer at a time
		Told  struct {
			Within []record `json:"within"`
			Last   record   `json:"last"`
		} `json:"told"`
		Last record `json:"last"`
	}
	x := data{Empty: []record{}, Words: []string{"<&>", "\u2028", "\"\\\n"}, Named: map[string]record{"b": {"1", new(1)}, "a": {}}, Last: record{"end", new(-1)}}
	x.Told.Within, x.Told.Last = []record{{"a", nil}, {}}, record{N: new(7)}
	for i := range 3 * fullBuffer / 1000 {
		x.Long = append(x.Long, record{strings.Repeat("oak ", 250), new(i)})
	}
	got, err := dataJSON(&x)
	if err != nil || strings.Join(got, "") != encoded(t, x) {
		t.Errorf("%v, %.200q", err, got)
	}
	for _, bad := range []json.Number{"1e", "x"} {
		if _, err := dataJSON(&struct {
			A json.Number `json:"a"`
			B json.Number `json:"b"`
		}{bad, "1"}); err == nil {
			t.Errorf("%s was written", bad)
		}
	}
}
