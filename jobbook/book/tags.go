package book

import "strings"

// turn writes the tag of a link, a heading or a picture, or what stands in its place.
type turn func(b []byte, tag string) []byte

// retag writes markup with each of those tags turned; all else stays. A > within a tag ends it: in what a person wrote it is escaped, in attributes too, and so is a <.
func retag(b []byte, m markup, turn turn) []byte {
	if drawing(m) {
		return append(b, m...)
	}
	rest, at := string(m), 0
	for {
		start := strings.IndexByte(rest[at:], '<')
		if start < 0 {
			break
		}
		start += at
		if !turned(rest[start+1:]) {
			at = start + 1
			continue
		}
		long := strings.IndexByte(rest[start:], '>') + 1
		if long == 0 {
			break
		}
		b = append(b, rest[:start]...)
		b = turn(b, rest[start:start+long])
		rest, at = rest[start+long:], 0
	}
	return append(b, rest...)
}

// drawing reports markup that is one drawing and nothing else, which has none of those tags.
func drawing(m markup) bool {
	const end = "</svg>"
	return strings.HasPrefix(string(m), "<svg ") && strings.Index(string(m), end) == len(strings.TrimSpace(string(m)))-len(end)
}

// turned reports whether what follows on a < may be the tag of a link, a heading or a picture.
func turned(tag string) bool {
	tag = strings.TrimPrefix(tag, "/")
	return tag != "" && (tag[0] == 'a' || tag[0] == 'h' || tag[0] == 'i')
}

// retag puts what the function of the same name makes of markup that has whole tags.
func (w *writer) retag(m markup, turn turn) {
	if drawing(m) { // which need not be copied
		w.put(m)
		return
	}
	b := w.buffer()
	if b.Len()+len(m) > fullBuffer {
		w.flush()
	}
	b.Grow(len(m))
	b.Write(retag(b.AvailableBuffer(), m, turn))
}

// identify notes the ids in some markup. What looks like one outside of a tag has its quotes escaped.
func identify(ids map[string]bool, m markup) {
	for rest, found := string(m), true; found; {
		if _, rest, found = strings.Cut(rest, ` id="`); found {
			var id string
			id, rest, _ = strings.Cut(rest, `"`)
			ids[id] = true
		}
	}
}

// before is what stands before a mark.
func before(text, mark string) (string, bool) {
	head, _, found := strings.Cut(text, mark)
	return head, found
}

// leads is where a link leads: to a file, and to a place in it with its #; ok is false for a tag that is no link.
func leads(tag string) (file, place string, ok bool) {
	if !strings.HasPrefix(tag, "<a ") {
		return "", "", false
	}
	_, after, ok := strings.Cut(tag, ` href="`)
	if !ok {
		return "", "", false
	}
	href, ok := before(after, `"`)
	if at := strings.IndexByte(href, '#'); at >= 0 {
		return href[:at], href[at:], ok
	}
	return href, "", ok
}

// swapped writes a link's tag with another href, which may be in parts.
func swapped(b []byte, tag string, href ...string) []byte {
	const key = ` href="`
	head, after, _ := strings.Cut(tag, key)
	_, tail, _ := strings.Cut(after, `"`)
	b = append(append(b, head...), key...)
	for _, part := range href {
		b = append(b, part...)
	}
	return append(append(b, '"'), tail...)
}

// unlinked drops tags of links and keeps their words: while one is open its end is dropped too, with some words put in its place. One link never stands in another.
type unlinked struct {
	open  bool
	words string
}

func (u *unlinked) drop(words string) { u.open, u.words = true, words }

// end is what stands for the tag if it ends a link that was dropped.
func (u *unlinked) end(tag string) (instead string, ok bool) {
	if !u.open || tag != "</a>" {
		return "", false
	}
	u.open = false
	return u.words, true
}
