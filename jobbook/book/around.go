package book

import (
	"bytes"
	"strings"
	"sync"
)

// around is the frame of a book's pages. It is the same on all of them but for the heading, so it is executed once, with a word in the heading's place.
type around struct {
	once  sync.Once
	parts []string // what stands before, between and behind the headings; none where the frame could not be made
}

// pageFrame is the template of a page.
const pageFrame = "page"

// around writes the frame of a page as executing its template would; false, and nothing, where it has to be executed.
func (f *frames) around(w *bytes.Buffer, frame string, p framed) bool {
	if p.around == nil || frame != pageFrame || p.Title != p.Heading+", "+p.Job || !plainHeading(p.Heading) {
		return false
	}
	p.around.once.Do(func() {
		standIn := "Heading" + p.Build // in no words of the book: its build is worked out from them
		of := p
		of.Title, of.Heading = standIn+", "+p.Job, standIn
		var whole strings.Builder
		if f.templates.ExecuteTemplate(&whole, frame, of) == nil {
			p.around.parts = strings.Split(whole.String(), standIn)
		}
	})
	for i, part := range p.around.parts {
		if i > 0 {
			w.WriteString(p.Heading)
		}
		w.WriteString(part)
	}
	return len(p.around.parts) > 0
}

// plainHeading reports a heading that a template writes as it is wherever it stands: in the text, in the title, in the style sheet.
func plainHeading(text string) bool {
	for i := range len(text) {
		c := text[i]
		if (c < 'a' || c > 'z') && (c < 'A' || c > 'Z') && (c < '0' || c > '9') && c != ' ' && c != ',' && c != '-' {
			return false
		}
	}
	return text != ""
}
