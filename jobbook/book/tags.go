package book

import "strings"

// retag writes markup with each of its tags as turn gives it; what stands between them stays. A > within a tag ends it: in what a person wrote it is escaped, in attributes too.
func (w *writer) retag(m markup, turn func(tag string) string) {
	b, rest := w.buffer(), string(m)
	for {
		start := strings.IndexByte(rest, '<')
		if start < 0 {
			break
		}
		long := strings.IndexByte(rest[start:], '>') + 1
		if long == 0 {
			break
		}
		b.WriteString(rest[:start])
		b.WriteString(turn(rest[start : start+long]))
		rest = rest[start+long:]
	}
	b.WriteString(rest)
}

// tags reads the tags of some markup.
func tags(m markup, read func(tag string)) {
	rest := string(m)
	for {
		start := strings.IndexByte(rest, '<')
		if start < 0 {
			return
		}
		long := strings.IndexByte(rest[start:], '>') + 1
		if long == 0 {
			return
		}
		read(rest[start : start+long])
		rest = rest[start+long:]
	}
}

// attribute is the value of an attribute in a tag, as it stands there.
func attribute(tag, name string) (value string, ok bool) {
	_, after, found := strings.Cut(tag, " "+name+`="`)
	if !found {
		return "", false
	}
	return before(after, `"`)
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
	href, ok := attribute(tag, "href")
	if at := strings.IndexByte(href, '#'); at >= 0 {
		return href[:at], href[at:], ok
	}
	return href, "", ok
}

// swapped is a link's tag with another href.
func swapped(tag, href string) string {
	head, after, _ := strings.Cut(tag, ` href="`)
	_, tail, _ := strings.Cut(after, `"`)
	return head + ` href="` + href + `"` + tail
}

// unlinked drops tags of links and keeps their words: while one is open its end is dropped too, with some words put in its place. One link never stands in another.
type unlinked struct {
	open  bool
	words string
}

func (u *unlinked) drop(words string) string {
	u.open, u.words = true, words
	return ""
}

// end is what stands for the tag if it ends a link that was dropped.
func (u *unlinked) end(tag string) (instead string, ok bool) {
	if !u.open || tag != "</a>" {
		return "", false
	}
	u.open = false
	return u.words, true
}
