package draw

import (
	"bytes"
	"encoding/xml"
	"strings"
	"sync"
	"unicode/utf8"
)

// ink is what a sheet is written with: the room for its lines and its words, and for what stands where. It is lent to a sheet until that is written, for a book has hundreds of drawings, and room that is grown
// anew for each of them asks for many times their bytes.
type ink struct {
	pens   [layers][]byte
	texts  []byte
	taken  taken
	points []point // of one body
}

var inks = sync.Pool{New: func() any { return new(ink) }}

// inked is the sheet's ink.
func (s *sheet) inked() *ink {
	if s.ink == nil {
		s.ink = inks.Get().(*ink)
	}
	return s.ink
}

// remember lets a sheet keep in mind what it holds, from nothing on.
func (s *sheet) remember() {
	s.taken = &s.inked().taken
	s.taken.empty()
}

// done gives the ink back.
func (s *sheet) done() {
	if s.ink == nil {
		return
	}
	for l := range s.ink.pens {
		s.ink.pens[l] = s.ink.pens[l][:0]
	}
	s.ink.texts = s.ink.texts[:0]
	inks.Put(s.ink)
	s.ink, s.taken = nil, nil
}

// body is room for the points of a part; it holds until the next one is asked for.
func (k *ink) body(n int) []point {
	if cap(k.points) < n {
		k.points = make([]point, n)
	}
	return k.points[:n]
}

// appendEscaped writes what somebody wrote as character data; what can't stand in a document becomes U+FFFD.
func appendEscaped(b []byte, words string) []byte {
	if harmless(words) {
		return append(b, words...)
	}
	escaped := bytes.NewBuffer(b)
	_ = xml.EscapeText(escaped, []byte(words)) // a buffer never returns an error
	return escaped.Bytes()
}

// writeEscaped writes the same.
func writeEscaped(b *strings.Builder, words string) {
	if harmless(words) {
		b.WriteString(words)
		return
	}
	_ = xml.EscapeText(b, []byte(words)) // nor does a builder
}

// harmless reports words that stand in a document as they are.
func harmless(words string) bool {
	for _, r := range words {
		switch {
		case r < ' ', r == '"', r == '\'', r == '&', r == '<', r == '>', r == utf8.RuneError, r == 0xFFFE, r == 0xFFFF:
			return false
		}
	}
	return true
}
