package book

import (
	"cmp"
	"encoding/json"
	"reflect"
	"strings"
)

// dataJSON writes a value on one line, with a line break at the end: who wants to read it has a program that indents it, and to do that here costs more than all the rest of it.
// An encoder collects what it is given before it hands it on, in memory that it asks for many times over as that grows. So it is given what lies outermost property by property, and the records of a list one by one.
func dataJSON[T any](v *T) ([]string, error) {
	var w writer
	e := jsonPieces{writer: &w, encoder: json.NewEncoder(w.buffer())}
	e.encoder.SetEscapeHTML(false)
	e.put(reflect.ValueOf(v).Elem())
	w.put("\n")
	return w.pieces().texts(), e.failed
}

// jsonPieces encodes a value piece by piece into a writer.
type jsonPieces struct {
	*writer
	encoder *json.Encoder // into the writer's buffer
	failed  error         // the first of them
}

func (e *jsonPieces) put(v reflect.Value) {
	b := e.buffer()
	switch {
	case v.Kind() == reflect.Struct && allTold(v.Type()):
		before := "{"
		for i := range v.NumField() {
			b.WriteString(before + `"` + v.Type().Field(i).Tag.Get("json") + `":`)
			e.put(v.Field(i))
			before = ","
		}
		b.WriteString("}")
	case v.Kind() == reflect.Slice && v.Len() > 0:
		before := "["
		for i := range v.Len() {
			b.WriteString(before)
			e.encode(v.Index(i))
			before = ","
		}
		b.WriteString("]")
	default:
		e.encode(v)
	}
}

// encode writes a value at once, less the line break that an encoder puts behind it.
func (e *jsonPieces) encode(v reflect.Value) {
	b := e.buffer()
	if err := e.encoder.Encode(v.Addr().Interface()); err != nil {
		e.failed = cmp.Or(e.failed, err)
		return
	}
	b.Truncate(b.Len() - len("\n"))
	if b.Len() >= fullBuffer {
		e.flush()
	}
}

// allTold reports a record whose properties all have their names and nothing else in their tags: they are written whatever they hold.
func allTold(t reflect.Type) bool {
	for i := range t.NumField() {
		if tag := t.Field(i).Tag.Get("json"); tag == "" || tag == "-" || strings.Contains(tag, ",") {
			return false
		}
	}
	return true
}
