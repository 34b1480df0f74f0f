package book

import (
	"encoding/json"
	"fmt"
	"reflect"
	"strconv"
	"strings"
	"sync"
	"unicode/utf8"
)

// dataJSON writes a value with two spaces a level and a line break at the end: the bytes that encoding/json makes, indented and without care for HTML. That package makes them three times over; here every byte is put
// where it stays. A value is made of what the types of data are made of: objects, lists, texts, numbers, true and false.
func dataJSON(v any) []byte {
	const most = 3 << 19 // bytes, what a large job takes; more is found room for
	out := formOf(reflect.TypeOf(v)).append(make([]byte, 0, most), reflect.ValueOf(v), 0)
	return append(out, '\n')
}

// jsonForm is how values of a type are written.
type jsonForm struct {
	kind   reflect.Kind
	number bool        // a text that is a number
	inner  *jsonForm   // of what is in a list, or behind a pointer
	fields []jsonField // of a struct, in order
}

type jsonField struct {
	key      string // in quotes, with the colon and the blank behind it
	optional bool   // absent where there is nothing to say
	form     *jsonForm
}

var jsonForms sync.Map // reflect.Type to *jsonForm, of the types that formOf was asked for

// formOf is the form of a type, which is worked out once. No type of data holds itself.
func formOf(t reflect.Type) *jsonForm {
	if known, ok := jsonForms.Load(t); ok {
		return known.(*jsonForm)
	}
	f := &jsonForm{kind: t.Kind(), number: t == reflect.TypeFor[json.Number]()}
	switch f.kind {
	case reflect.Pointer, reflect.Slice:
		f.inner = formOf(t.Elem())
	case reflect.Struct:
		f.fields = make([]jsonField, t.NumField())
		for i := range f.fields {
			x := t.Field(i)
			name, optional := strings.CutSuffix(x.Tag.Get("json"), ",omitempty")
			f.fields[i] = jsonField{strconv.Quote(name) + ": ", optional, formOf(x.Type)}
		}
	}
	jsonForms.Store(t, f)
	return f
}

// append writes a value behind what is written, at a depth of so many objects and lists.
func (f *jsonForm) append(out []byte, v reflect.Value, depth int) []byte {
	switch f.kind {
	case reflect.Struct:
		return f.appendObject(out, v, depth)
	case reflect.Slice:
		if !v.IsNil() {
			return f.appendList(out, v, depth)
		}
	case reflect.Pointer:
		if !v.IsNil() {
			return f.inner.append(out, v.Elem(), depth)
		}
	case reflect.String:
		if f.number {
			return appendNumber(out, v.String())
		}
		return appendText(out, v.String())
	case reflect.Bool:
		return strconv.AppendBool(out, v.Bool())
	case reflect.Int, reflect.Int64:
		return strconv.AppendInt(out, v.Int(), 10)
	}
	return append(out, "null"...)
}

func (f *jsonForm) appendObject(out []byte, v reflect.Value, depth int) []byte {
	out = append(out, '{')
	empty := true
	for i := range f.fields {
		field, x := &f.fields[i], v.Field(i)
		if field.optional && field.form.absent(x) {
			continue
		}
		if !empty {
			out = append(out, ',')
		}
		out = append(appendLine(out, depth+1), field.key...)
		out = field.form.append(out, x, depth+1)
		empty = false
	}
	if !empty {
		out = appendLine(out, depth)
	}
	return append(out, '}')
}

// absent reports what omitempty leaves out.
func (f *jsonForm) absent(v reflect.Value) bool {
	switch f.kind {
	case reflect.Slice, reflect.String:
		return v.Len() == 0
	case reflect.Struct:
		return false
	}
	return v.IsZero()
}

func (f *jsonForm) appendList(out []byte, v reflect.Value, depth int) []byte {
	out = append(out, '[')
	for i := range v.Len() {
		if i > 0 {
			out = append(out, ',')
		}
		out = f.inner.append(appendLine(out, depth+1), v.Index(i), depth+1)
	}
	if v.Len() > 0 {
		out = appendLine(out, depth)
	}
	return append(out, ']')
}

// appendLine begins a new line.
func appendLine(out []byte, depth int) []byte {
	const line = "\n                        " // as deep as plan.json goes, and deeper
	if n := 1 + 2*depth; n <= len(line) {
		return append(out, line[:n]...)
	}
	return append(append(out, '\n'), strings.Repeat("  ", depth)...)
}

// appendNumber writes a number that stands in a text: 0 for an empty one, and in quotes what is none.
func appendNumber(out []byte, text string) []byte {
	switch {
	case text == "":
		return append(out, '0')
	case !isNumber(text):
		return appendText(out, text)
	}
	return append(out, text...)
}

// isNumber reports a number as a plan has them: digits, with a sign, with a point and more digits.
func isNumber(text string) bool {
	text = strings.TrimPrefix(text, "-")
	whole, places, point := strings.Cut(text, ".")
	return isDigits(whole) && (whole[0] != '0' || len(whole) == 1) && (!point || isDigits(places))
}

func isDigits(text string) bool {
	for i := range len(text) {
		if text[i] < '0' || text[i] > '9' {
			return false
		}
	}
	return text != ""
}

// appendText writes a text in quotes. What is not UTF-8 becomes the sign for that; the two line ends that JavaScript knows and JSON does not are escaped.
func appendText(out []byte, text string) []byte {
	out = append(out, '"')
	written := 0
	for i := 0; i < len(text); {
		c := text[i]
		if c >= ' ' && c < utf8.RuneSelf && c != '"' && c != '\\' { // most of it
			i++
			continue
		}
		r, size := utf8.DecodeRuneInString(text[i:])
		escape := ""
		switch {
		case r == utf8.RuneError && size == 1:
			escape = `\ufffd`
		case r == '\u2028':
			escape = `\u2028`
		case r == '\u2029':
			escape = `\u2029`
		case r < utf8.RuneSelf:
			escape = escapeOf(c)
		}
		if escape != "" {
			out = append(append(out, text[written:i]...), escape...)
			written = i + size
		}
		i += size
	}
	return append(append(out, text[written:]...), '"')
}

// escapeOf is what stands for a quote, a backslash or a control character.
func escapeOf(c byte) string {
	switch c {
	case '"', '\\':
		return `\` + string(rune(c))
	case '\b':
		return `\b`
	case '\f':
		return `\f`
	case '\n':
		return `\n`
	case '\r':
		return `\r`
	case '\t':
		return `\t`
	}
	return fmt.Sprintf(`\u%04x`, c)
}
