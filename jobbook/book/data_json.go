package book

import (
	"github.com/go-json-experiment/json"
	"github.com/go-json-experiment/json/jsontext"
	like "github.com/go-json-experiment/json/v1"
)

// dataNumber is a number of the data as it is written there; an empty one is 0.
type dataNumber string

// MarshalJSONTo writes it.
func (n dataNumber) MarshalJSONTo(to *jsontext.Encoder) error {
	if n == "" {
		n = "0"
	}
	return to.WriteValue(jsontext.Value(n))
}

// dataJSON writes a value with two spaces a level and a line break at the end: the bytes that encoding/json makes, indented and without care for HTML. That package makes them three times over, this one puts each where it stays.
func dataJSON(v any) ([]byte, error) {
	out, err := json.Marshal(v, like.DefaultOptionsV1(), jsontext.EscapeForHTML(false), jsontext.WithIndent("  "))
	return append(out, '\n'), err
}
