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

// asking is everything that a document is decoded by: its front matter, which nobody writes to and which knows its file, what a bare number in it means, and where it was found.
type asking struct {
	front  *source.Node
	system length.System
	unsaid bool
	layer  source.Layer
}

// decodedOnce are documents that serve every alternative of a job, and the next save; those of the library and the shop serve other jobs too.
var decodedOnce = memo.NewBy[asking, typed](512)

const mostDecodedOnce = 1 << 15 // bytes of one of them: what is remembered keeps its text

// once decodes a document, or remembers what it was decoded to. The item is a copy, but its lists are shared with all others: who writes to one of them writes to a copy of it.
func once[T any](d *decoder, doc *source.Document, read func(*decoder) *T) shelved[T] {
	item := *remembered(d, doc, read)
	return shelved[T]{&item, doc}
}

// remembered is the item itself, to which nobody writes.
func remembered[T any](d *decoder, doc *source.Document, read func(*decoder) *T) *T {
	work := func() typed {
		own := &decoder{system: d.system, unsaid: d.unsaid, kinds: d.kinds}
		item := read(own)
		own.bareLengths()
		return typed{item, own.problems}
	}
	var found typed
	if len(doc.Text) > mostDecodedOnce {
		found = work()
	} else {
		found = decodedOnce.Get(asking{doc.Front, d.system, d.unsaid, doc.Layer}, work)
	}
	d.problems = append(d.problems, found.problems...)
	return found.item.(*T)
}

// readOnce is once for a kind of file that is its keys.
func readOnce[T any](d *decoder, doc *source.Document, what string, fields []field[T], on *shelf[T]) {
	*on = append(*on, once(d, doc, func(d *decoder) *T {
		item := new(T)
		decode(d, doc.Front, what, fields, item, everywhere...)
		return item
	}))
}

// share is readOnce for a kind of which there are many and to which nobody writes: items are no copies, and know where they come from, of which keep is told.
func share[T any](d *decoder, doc *source.Document, what string, fields []field[T], keep func(*T, Origin), on *shelf[T]) {
	item := remembered(d, doc, func(d *decoder) *T {
		item := new(T)
		decode(d, doc.Front, what, fields, item, everywhere...)
		own := *doc // not the list of all documents that it stands in
		keep(item, originOf(&own))
		return item
	})
	*on = append(*on, shelved[T]{item, doc})
}

// nearestShared is nearest for items that are shared: one that replaces others is a copy that says so.
func (s shelf[T]) nearestShared(keep func(*T, Origin)) []*T {
	over := map[*T]Origin{}
	items := s.nearest(func(x *T, o Origin) {
		if len(o.Over) > 0 {
			over[x] = o
		}
	})
	for i, x := range items {
		if o, ok := over[x]; ok {
			own := *x
			keep(&own, o)
			items[i] = &own
		}
	}
	return items
}

func keepStep(s *Step, o Origin)       { s.Origin = o }
func keepCaution(c *Caution, o Origin) { c.Origin = o }

// What has no title is called by its file's name.

func keepSpecies(s *Species, o Origin) {
	s.Origin = o
	s.Title.Text = s.Title.Or(Text{Text: o.Name}).Text
}

func keepFixing(f *Fixing, o Origin) {
	f.Origin = o
	f.Title.Text = f.Title.Or(Text{Text: o.Name}).Text
}
