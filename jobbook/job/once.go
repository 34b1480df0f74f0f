package job

import (
	"balustrade/jobbook/memo"
	"balustrade/jobbook/source"
)

// typed is what one document is decoded to, and what is wrong with it.
type typed struct {
	item     any // of the type of its kind
	problems []source.Problem
}

// decodedOnce are documents of the library and the shop, which serve every job, each of its alternatives, and the next save. Each is known by its front matter, which nobody writes to: it says in which file it stands, and in which units.
var decodedOnce = memo.NewBy[*source.Node, typed](512)

const mostDecodedOnce = 1 << 15 // bytes of one of them: what is remembered keeps its text

// once decodes a document, or remembers what it was decoded to. The item is a copy, but its lists are shared with every other job: who writes to one of them writes to a copy of it. Documents of the job itself, which are
// read in its units, are decoded each time: other jobs have no use for them.
func once[T any](d *decoder, doc *source.Document, read func(*decoder) T) shelved[T] {
	work := func() typed {
		own := &decoder{system: d.system, kinds: d.kinds}
		item := read(own)
		return typed{&item, own.problems}
	}
	var found typed
	if doc.Layer == source.Job || len(doc.Text) > mostDecodedOnce {
		found = work()
	} else {
		found = decodedOnce.Get(doc.Front, work)
	}
	d.problems = append(d.problems, found.problems...)
	item := *found.item.(*T)
	return shelved[T]{&item, doc}
}

// readOnce is once for a kind of file that is its keys.
func readOnce[T any](d *decoder, doc *source.Document, what string, fields []field[T], on *shelf[T]) {
	*on = append(*on, once(d, doc, func(d *decoder) T {
		var item T
		decode(d, doc.Front, what, fields, &item, everywhere...)
		return item
	}))
}
