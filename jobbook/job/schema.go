package job

import (
	"fmt"
	"slices"
	"strings"

	"balustrade/jobbook/source"
	"balustrade/jobbook/working"
)

// A field is one key of a kind of file: what it means, what it takes, and how its value is read into a T.
type field[T any] struct {
	key  string
	form string // what it takes, for the reference and for messages: a length
	doc  string // what it means, for the reference
	sub  []Key  // the keys below it
	set  func(d *decoder, n *source.Node, to *T)
}

// Key is one key as the reference prints it.
type Key struct {
	Key, Form, Doc string
	Sub            []Key
}

func keysOf[T any](fields []field[T]) []Key {
	keys := make([]Key, 0, len(fields))
	for _, f := range fields {
		keys = append(keys, Key{f.key, f.form, f.doc, f.sub})
	}
	return keys
}

// The field makers, one for each form a value takes.

func lengthField[T any](key, doc string, at func(*T) *Measure) field[T] {
	return field[T]{key, "a length", doc, nil, func(d *decoder, n *source.Node, to *T) { *at(to) = d.measure(n) }}
}

func lengthsField[T any](key, doc string, at func(*T) *[]Measure) field[T] {
	return field[T]{key, "a list of lengths", doc, nil, func(d *decoder, n *source.Node, to *T) {
		*at(to) = nil
		for _, item := range d.items(n) {
			if m := d.measure(item); m.Given {
				if m.Length <= 0 {
					d.problem(item, "write the length as it is sold", "a length of nothing")
					continue
				}
				*at(to) = append(*at(to), m)
			}
		}
	}}
}

func textField[T any](key, doc string, at func(*T) *Text) field[T] {
	return field[T]{key, "words", doc, nil, func(d *decoder, n *source.Node, to *T) { *at(to) = d.text(n, "words") }}
}

func nameField[T any](key, of, doc string, at func(*T) *Ref) field[T] {
	form := "the name of a " + of
	return field[T]{key, form, doc, nil, func(d *decoder, n *source.Node, to *T) { *at(to) = d.text(n, form) }}
}

func dateField[T any](key, doc string, at func(*T) *Text) field[T] {
	return field[T]{key, "a date, year-month-day", doc, nil, func(d *decoder, n *source.Node, to *T) { *at(to) = d.date(n) }}
}

func wordField[T any](key, doc string, words []string, at func(*T) *Text) field[T] {
	return field[T]{key, strings.Join(words, " or "), doc, nil, func(d *decoder, n *source.Node, to *T) { *at(to) = d.oneOf(n, words) }}
}

func wholeField[T any](key, doc string, least, most int, at func(*T) *Whole) field[T] {
	return field[T]{key, "a whole number", doc, nil, func(d *decoder, n *source.Node, to *T) { *at(to) = d.whole(n, least, most) }}
}

func flagField[T any](key, doc string, at func(*T) *Flag) field[T] {
	return field[T]{key, "yes or no", doc, nil, func(d *decoder, n *source.Node, to *T) { *at(to) = d.flag(n) }}
}

func ratioField[T any](key, doc string, units []string, at func(*T) *Ratio) field[T] {
	return field[T]{key, unitForm(units), doc, nil, func(d *decoder, n *source.Node, to *T) { *at(to) = d.ratio(n, units) }}
}

func ratiosField[T any](key, doc string, units []string, at func(*T) *[]Ratio) field[T] {
	return field[T]{key, "a list of numbers in " + strings.Join(units, " or "), doc, nil, func(d *decoder, n *source.Node, to *T) {
		*at(to) = nil
		for _, item := range d.items(n) {
			if r := d.ratio(item, units); r.Given {
				*at(to) = append(*at(to), r)
			}
		}
	}}
}

func wordsField[T any](key, form, doc string, at func(*T) *[]Text) field[T] {
	return field[T]{key, form, doc, nil, func(d *decoder, n *source.Node, to *T) {
		items := d.items(n)
		list := slices.Grow([]Text(nil), len(items))
		for _, item := range items {
			if t := d.text(item, form); t.Given {
				list = append(list, t)
			}
		}
		*at(to) = list
	}}
}

func statusField[T any](key, doc string, at func(*T) *working.Status) field[T] {
	return field[T]{key, strings.Join(working.Statuses, " or "), doc, nil, func(d *decoder, n *source.Node, to *T) {
		if t := d.oneOf(n, working.Statuses); t.Given {
			*at(to) = working.Status(slices.Index(working.Statuses, t.Text) + 1)
		}
	}}
}

// mapField is a key with keys of its own below it. Where it is left blank, each of them is.
func mapField[T, U any](key, doc string, fields []field[U], at func(*T) *U) field[T] {
	return field[T]{key, "keys and values", doc, keysOf(fields), func(d *decoder, n *source.Node, to *T) {
		if !n.Blank() {
			decode(d, n, key, fields, at(to))
			return
		}
		for _, f := range fields {
			f.set(d, &source.Node{Kind: source.Scalar, At: n.At}, at(to))
		}
	}}
}

// listField is a key with a list of maps below it.
func listField[T, U any](key, doc string, fields []field[U], at func(*T) *[]U) field[T] {
	return placedList(key, doc, fields, at, func(*U) *source.Pos { return new(source.Pos) })
}

// placedList is a list of maps that each know where they were written.
func placedList[T, U any](key, doc string, fields []field[U], at func(*T) *[]U, place func(*U) *source.Pos) field[T] {
	return field[T]{key, "a list", doc, keysOf(fields), func(d *decoder, n *source.Node, to *T) {
		if n.Blank() {
			return
		}
		if n.Kind != source.List {
			d.problem(n, "write a list: - "+sample(fields), "want a list for %s, found %s", key, shape(n))
			return
		}
		*at(to) = slices.Grow(*at(to), len(n.Items))
		for _, item := range n.Items {
			list := append(*at(to), *new(U))
			u := &list[len(list)-1]
			*place(u) = item.At
			decode(d, item, key, fields, u)
			*at(to) = list
		}
	}}
}

// orMap is a key that takes a single value, or a map of keys where more must be said.
func orMap[T, U any](key, form, doc string, fields []field[U], at func(*T) *U, single func(d *decoder, n *source.Node, to *U)) field[T] {
	return field[T]{key, form, doc, keysOf(fields), func(d *decoder, n *source.Node, to *T) {
		if n.Kind == source.Map {
			decode(d, n, key, fields, at(to))
			return
		}
		single(d, n, at(to))
	}}
}

// percentField is a number in % with a greatest that makes sense.
func percentField[T any](key, doc string, most int64, at func(*T) *Ratio) field[T] {
	units := []string{"%"}
	return field[T]{key, unitForm(units), doc, nil, func(d *decoder, n *source.Node, to *T) {
		r := d.ratio(n, units)
		if r.Given && r.Thousandths > most*1000 {
			d.problem(n, fmt.Sprintf("write a number up to %d %%", most), "want at most %d %%, found %q", most, clip(n.Text))
			r = Ratio{At: r.At}
		}
		*at(to) = r
	}}
}
