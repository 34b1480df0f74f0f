package job

import (
	"balustrade/jobbook/length"
	"balustrade/jobbook/memo"
	"balustrade/jobbook/source"
)

// typed is what one document is decoded to, and what is wrong with it.
type typed struct {
	item     any // of the type of its kind
	problems []source.Problem
}

// asking is everything that a document is decoded by: its front matter, which nobody writes to and which knows its file, and what a bare number in it means.
type asking struct {
	front  *source.Node
	system length.System
}

// decodedOnce are documents that serve every alternative of a job, and the next save; those of the library and the shop serve other jobs too.
var decodedOnce = memo.NewBy[asking, typed](512)

const mostDecodedOnce = 1 << 15 // bytes of one of them: what is remembered keeps its text

// once decodes a document, or remembers what it was decoded to. The item is a copy, but its lists are shared with all others: who writes to one of them writes to a copy of it.
func once[T any](d *decoder, doc *source.Document, read func(*decoder) T) shelved[T] {
	work := func() typed {
		own := &decoder{system: d.system, kinds: d.kinds}
		item := read(own)
		return typed{&item, own.problems}
	}
	var found typed
	if len(doc.Text) > mostDecodedOnce {
		found = work()
	} else {
		found = decodedOnce.Get(asking{doc.Front, d.system}, work)
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
