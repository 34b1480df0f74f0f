package book

import (
	"bytes"
	"crypto/sha256"
	"embed"
	"encoding/base64"
	"encoding/hex"
	"fmt"
	"html/template"
	"io/fs"
	"regexp"
	"slices"
	"strings"
	"sync"
	"text/template/parse"

	"github.com/cespare/xxhash/v2"
)

// frames are the templates, ready for use, with the style sheet and the typeface in it.
type frames struct {
	templates *template.Template
	style     string // the style sheet's name, with its hash
	css       string
	licence   string
}

const (
	pagesFolder = "pages"
	licenceFile = "font-licence.txt"
)

var (
	framesMade sync.Map // embed.FS to func() (*frames, error), each made once
	fontURL    = regexp.MustCompile(`url\((font/[a-z0-9-]+\.woff2)\)`)
)

// framesOf reads the templates. Those of an embedded folder, which cannot change, are read once.
func framesOf(folder fs.FS) (*frames, error) {
	embedded, ok := folder.(embed.FS)
	if !ok {
		return readFrames(folder)
	}
	made, _ := framesMade.LoadOrStore(embedded, sync.OnceValues(func() (*frames, error) { return readFrames(embedded) }))
	return made.(func() (*frames, error))()
}

func readFrames(folder fs.FS) (*frames, error) {
	sub, err := fs.Sub(folder, pagesFolder)
	if err != nil {
		return nil, err
	}
	f := &frames{}
	if f.templates, err = template.ParseFS(sub, "*.html"); err != nil {
		return nil, err
	}
	css, err := fs.ReadFile(sub, "style.css")
	if err != nil {
		return nil, err
	}
	licence, err := fs.ReadFile(sub, "font/LICENCE.txt")
	if err != nil {
		return nil, err
	}
	var whole []byte
	done := 0                                                  // so much of the style sheet
	for _, at := range fontURL.FindAllSubmatchIndex(css, -1) { // first and last byte of all, and of the file's name
		font, err := fs.ReadFile(sub, string(css[at[2]:at[3]]))
		if err != nil {
			return nil, err
		}
		whole = slices.Grow(whole, len(css)+base64.StdEncoding.EncodedLen(len(font)))
		whole = append(append(whole, css[done:at[0]]...), "url(data:font/woff2;base64,"...)
		whole = append(base64.StdEncoding.AppendEncode(whole, font), ')')
		done = at[1]
	}
	whole = append(whole, css[done:]...)
	const shown = 8 // hexadecimal digits: enough that a changed style sheet gets another name
	sum := sha256.Sum256(whole)
	f.style = "style." + hex.EncodeToString(sum[:])[:shown] + ".css"
	f.css, f.licence = string(whole), string(licence)
	return f, nil
}

// fixed is a passage of text that the templates hold.
func (b *book) fixed(name string, data any) markup {
	if text, ok := b.frames.passage(name); ok {
		return text
	}
	var text strings.Builder
	if err := b.frames.templates.ExecuteTemplate(&text, name, data); err != nil {
		return esc(fmt.Sprintf("this passage could not be made: %v", err))
	}
	return markup(text.String())
}

// passage is a template that is text and nothing else: before the first of its kind is executed all are looked through for what is to be escaped.
func (f *frames) passage(name string) (markup, bool) {
	t := f.templates.Lookup(name)
	if t == nil || t.Tree == nil || len(t.Tree.Root.Nodes) != 1 {
		return "", false
	}
	text, ok := t.Tree.Root.Nodes[0].(*parse.TextNode)
	if !ok || bytes.Contains(text.Text, []byte("<!--")) { // a comment is not written
		return "", false
	}
	return markup(text.Text), true
}

// bodyMark stands in a frame for markup that is put in its place afterwards: a template would copy it several times over, and ask of each line of a list what it holds. It is a byte that no template lets through
// from elsewhere.
const bodyMark template.HTML = "\x00"

// body is what is put in the place of a mark, with its tags turned where there is something to turn them.
type body struct {
	pieces
	turn turn
}

// file is a frame with what stands in the places of its marks, in order.
func (f *frames) file(name, frame string, data any, places ...[]body) (File, error) {
	var executed, w writer
	defer executed.giveBack()
	if err := f.templates.ExecuteTemplate(executed.buffer(), frame, data); err != nil {
		return File{}, fmt.Errorf("page %s: %w", name, err)
	}
	around := strings.Split(executed.buffer().String(), string(bodyMark))
	if len(around)-1 != len(places) {
		return File{}, fmt.Errorf("page %s: its frame has %d places, and there is something for %d", name, len(around)-1, len(places))
	}
	for i, bodies := range places {
		w.put(markup(around[i]))
		for _, b := range bodies {
			for _, m := range b.pieces {
				if b.turn != nil {
					w.retag(m, b.turn)
				} else {
					w.put(m)
				}
			}
		}
	}
	w.put(markup(around[len(places)]))
	return File{name, w.pieces().texts()}, nil
}

// buildID tells one book of a job from another.
func buildID(pages []page, style string) string {
	const shown = 12    // hexadecimal digits: 48 bits, no two books of a job will share them
	sum := xxhash.New() // which never fails
	for _, p := range pages {
		fmt.Fprintf(sum, "%s %d\n", p.name, p.body.Len())
		for _, m := range p.body {
			_, _ = sum.WriteString(string(m))
		}
	}
	_, _ = sum.WriteString(style)
	return fmt.Sprintf("%016x", sum.Sum64())[:shown]
}

// framed is a page as its template takes it. All of it lies on one level: a template takes long to find what is embedded.
type framed struct {
	// What every page says of its book.
	Job, Client, Place, Measured string
	Build                        string
	Style                        string
	Answer                       string
	Edition                      string // for whom it is, in words; empty for the whole book
	ForClient                    bool
	Unsigned                     bool       // the client has nothing to sign yet
	strips                       []pageLine // pages to print at full size, beside the book's own
	workings                     bool       // there is a book of workings, to print by itself

	Facts template.HTML // some of this in a line, the same on every page

	// What it says of itself.
	Title, Heading string
	Body, Pages    template.HTML // marks
	InIt           template.HTML // of a document to print: a mark for the list of what it has
	Sheets         template.CSS  // and how its sections are named on their sheets
	Workings       bool          // it has no workings: they are in the book of workings
}

// pageLine is a line of the list of pages.
type pageLine struct{ Href, Name string }

// page is the frame of a page, of what is said of the book.
func (f framed) page(p page) framed {
	f.Title, f.Heading, f.Body, f.Pages = p.title+", "+f.Job, p.title, bodyMark, bodyMark
	if p.name == "index" {
		f.Title, f.Heading = f.Job, f.Job
	}
	return f
}

// lines are the list of pages.
func lines(pages []page) []pageLine {
	list := make([]pageLine, 0, len(pages))
	for _, p := range pages {
		list = append(list, pageLine{p.name + ".html", p.short})
	}
	return list
}

// linked is the list of pages as it stands on one of them.
func linked(list []pageLine, here string) []body {
	var w writer
	for _, l := range list {
		w.put(`<li><a href="`, esc(l.Href), `"`)
		if l.Href == here {
			w.put(` aria-current="page"`)
		}
		w.put(">", esc(l.Name), "</a></li>\n")
	}
	return []body{{w.pieces(), nil}}
}

// within turns the tags of a page that is a section among those that are here.
func within(here map[string]bool) turn {
	var dropped unlinked
	return func(b []byte, tag string) []byte {
		if instead, ok := dropped.end(tag); ok {
			return append(b, instead...)
		}
		if at := strings.IndexByte(tag, 'h'); (at == 1 || at == 2 && tag[1] == '/') && at+2 < len(tag) && tag[at+1] >= '2' && tag[at+1] <= '5' { // h6 stays, there is no deeper one
			return append(append(append(b, tag[:at+1]...), tag[at+1]+1), tag[at+2:]...)
		}
		file, place, link := leads(tag)
		name, page := strings.CutSuffix(file, ".html")
		switch {
		case !link:
			if eager, lazy := strings.CutSuffix(tag, ` loading="lazy">`); lazy { // paper waits for no scrolling
				return append(append(b, eager...), '>')
			}
		case tag == clientTag:
			dropped.drop("")
			return b
		case tag == phoneTag:
			dropped.drop(phoneWords)
			return b
		case file == "print.html" && place == "":
			return swapped(b, tag, "#top")
		case page && here[name] && place == "":
			return swapped(b, tag, "#page-", name)
		case page && here[name]:
			return swapped(b, tag, place)
		}
		return append(b, tag...)
	}
}
