package book

import (
	"bytes"
	"fmt"
	"html"
	"strconv"
	"strings"
	"sync"
	"unicode"
	"unicode/utf8"
)

// markup is HTML that is safe to put on a page: everything a person wrote has been escaped on the way in.
type markup string

// esc makes markup of plain text.
func esc(text string) markup {
	if harmless(text) == len(text) {
		return markup(text)
	}
	return markup(html.EscapeString(text))
}

// harmless is how many bytes of a text stand on a page as they are: up to the first that html.EscapeString writes otherwise.
func harmless(text string) int {
	for i := range len(text) {
		if escaped[text[i]] {
			return i
		}
	}
	return len(text)
}

// escaped are the bytes that html.EscapeString writes otherwise.
var escaped = [256]bool{'<': true, '>': true, '&': true, '\'': true, '"': true}

// say makes markup from a pattern that is markup itself, with %s for any argument, %d for a whole number and %% for a per cent sign. Arguments of type markup go in as they are; every other one
// is escaped, but for a writer and whatever can put itself, which go in without a copy of theirs.
func say(pattern string, args ...any) markup {
	var w writer
	w.say(pattern, args...)
	return w.markup()
}

// pieces are markup in several strings, each with whole tags: the body of a page, which is not put together before it stands in its files.
type pieces []markup

// Len is how many bytes they are.
func (p pieces) Len() int {
	n := 0
	for _, m := range p {
		n += len(m)
	}
	return n
}

// texts are they as the pieces of a file.
func (p pieces) texts() []string {
	texts := make([]string, len(p))
	for i, m := range p {
		texts[i] = string(m)
	}
	return texts
}

// markup puts them together.
func (p pieces) markup() markup {
	if len(p) == 1 {
		return p[0]
	}
	var b strings.Builder
	b.Grow(p.Len())
	for _, m := range p {
		b.WriteString(string(m))
	}
	return markup(b.String())
}

// writer collects markup. Its buffer is lent to it, and goes back when the markup is taken: most of a book is put together of pieces that stand in larger ones, and a buffer that is grown anew for each of them
// asks for many times the memory of the book. What is long, as a drawing is, is kept beside it and not copied.
type writer struct {
	lent *bytes.Buffer
	done pieces // what was put before
}

const (
	longMarkup = 2 << 10  // bytes, from which on markup is not copied
	fullBuffer = 64 << 10 // bytes, from which on a buffer is emptied
)

var buffers = sync.Pool{New: func() any { return new(bytes.Buffer) }}

func (w *writer) buffer() *bytes.Buffer {
	if w.lent == nil {
		w.lent = buffers.Get().(*bytes.Buffer)
	}
	return w.lent
}

// Len is how many bytes were put so far.
func (w *writer) Len() int {
	n := w.done.Len()
	if w.lent != nil {
		n += w.lent.Len()
	}
	return n
}

func (w *writer) put(parts ...markup) {
	b := w.buffer()
	for _, p := range parts {
		if len(p) < longMarkup {
			b.WriteString(string(p))
			continue
		}
		w.flush()
		w.done = append(w.done, p)
	}
	if b.Len() >= fullBuffer && bytes.HasSuffix(b.Bytes(), []byte(">\n")) { // never within a tag: a > in one is escaped
		w.flush()
	}
}

// take puts what another writer holds, never within a tag, and leaves that one empty.
func (w *writer) take(other *writer) {
	if other.lent == nil {
		return
	}
	w.put(other.done...)
	w.buffer().Write(other.lent.Bytes())
	other.done = nil
	other.giveBack()
}

// flush empties the buffer.
func (w *writer) flush() {
	if w.lent.Len() > 0 {
		w.done = append(w.done, markup(w.lent.String()))
		w.lent.Reset()
	}
}

// say writes what the function of the same name makes.
func (w *writer) say(pattern string, args ...any) {
	b := w.buffer()
	for {
		before, after, found := strings.Cut(pattern, "%")
		b.WriteString(before)
		if !found || after == "" {
			return
		}
		if pattern = after[1:]; after[0] == '%' {
			b.WriteByte('%')
			continue
		}
		switch a := args[0].(type) {
		case markup:
			b.WriteString(string(a))
		case string:
			w.text(a)
		case int:
			w.number(int64(a))
		case *writer:
			w.take(a)
		case interface{ put(w *writer) }:
			a.put(w)
		default:
			b.WriteString(string(esc(fmt.Sprint(a))))
		}
		args = args[1:]
	}
}

// text writes plain text.
func (w *writer) text(text string) { w.buffer().WriteString(string(esc(text))) }

// number writes a whole number.
func (w *writer) number(n int64) {
	b := w.buffer()
	b.Write(strconv.AppendInt(b.AvailableBuffer(), n, 10))
}

// anchor writes what the function of the same name makes.
func (w *writer) anchor(name string) {
	b := w.buffer()
	b.Write(appendAnchor(b.AvailableBuffer(), name))
}

// line writes a paragraph of plain text, and nothing for an empty one.
func (w *writer) line(text string) {
	if text != "" {
		w.say("<p>%s</p>\n", text)
	}
}

// markup takes what was put, and leaves the writer empty.
func (w *writer) markup() markup {
	if w.lent == nil {
		return ""
	}
	if len(w.done) > 0 {
		return w.pieces().markup()
	}
	m := markup(w.lent.String())
	w.giveBack()
	return m
}

// pieces takes what was put as it is, and leaves the writer empty; there are none where nothing was.
func (w *writer) pieces() pieces {
	if w.lent == nil {
		return nil
	}
	w.flush()
	list := w.done
	w.giveBack()
	w.done = nil
	return list
}

// giveBack gives the buffer back.
func (w *writer) giveBack() {
	w.lent.Reset()
	buffers.Put(w.lent)
	w.lent = nil
}

// joined puts markup together with a separator, leaving empty parts out.
func joined(separator markup, parts ...markup) markup {
	var w writer
	for _, p := range parts {
		if p == "" {
			continue
		}
		if w.Len() > 0 {
			w.put(separator)
		}
		w.put(p)
	}
	return w.markup()
}

// anchor turns a name or a path into an id: ASCII, without blanks, and different for different names. A slash becomes a
// full stop; every other byte that is neither letter, digit, - nor _ becomes ~ and its two hexadecimal digits.
func anchor(name string) string {
	for i := range len(name) {
		if !inAnchor(name[i]) {
			return string(appendAnchor(make([]byte, 0, 64), name)) // on the stack, for most are shorter
		}
	}
	return name
}

func appendAnchor(b []byte, name string) []byte {
	const hex = "0123456789ABCDEF"
	for i := range len(name) {
		c := name[i]
		switch {
		case inAnchor(c):
			b = append(b, c)
		case c == '/':
			b = append(b, '.')
		default:
			b = append(b, '~', hex[c>>4], hex[c&15]) // 4 and 15: a byte is two hexadecimal digits of four bits
		}
	}
	return b
}

// inAnchor reports a byte that stands in an id as it is.
func inAnchor(c byte) bool {
	return c >= 'a' && c <= 'z' || c >= 'A' && c <= 'Z' || c >= '0' && c <= '9' || c == '-' || c == '_'
}

// capital makes the first letter a capital one, for words of a plan that begin a line of the page.
func capital(text string) string {
	first, long := utf8.DecodeRuneInString(text)
	if first < utf8.RuneSelf && !unicode.IsLower(first) {
		return text
	}
	if first < utf8.RuneSelf {
		return string(unicode.ToUpper(first)) + text[long:]
	}
	return strings.ToUpper(text[:long]) + text[long:]
}

// counted writes a number and its noun: 1 step, 2 steps.
func counted(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return strconv.Itoa(n) + " " + many
}

// listed writes a list in words: a, b and c.
func listed(words []string) string {
	if len(words) < 2 {
		return strings.Join(words, "")
	}
	last := len(words) - 1
	return strings.Join(words[:last], ", ") + " and " + words[last]
}

// sentence makes a sentence of words of a plan or a file: a capital at the start, one full stop at the end.
func sentence(text string) string {
	text = strings.TrimSpace(text)
	if text == "" || strings.HasSuffix(text, ".") || strings.HasSuffix(text, "!") || strings.HasSuffix(text, "?") {
		return capital(text)
	}
	return capital(text) + "."
}
