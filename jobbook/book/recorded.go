package book

import (
	"bytes"
	"strings"
	"sync"

	"github.com/alecthomas/chroma/v2"
	"github.com/alecthomas/chroma/v2/formatters/html"

	"balustrade/jobbook/memo"
	"balustrade/jobbook/source"
)

// recordedPage shows the files that the job rests on, line by line, each line with an id to link to.
func (b *book) recordedPage(w *writer) {
	if len(b.job.Documents) == 0 {
		return
	}
	docs := make([]*source.Document, 0, len(b.job.Documents))
	for _, layer := range []source.Layer{source.Job, source.Shop, source.Library} { // nearest first
		for i := range b.job.Documents {
			if b.job.Documents[i].Layer == layer {
				docs = append(docs, &b.job.Documents[i])
			}
		}
	}
	w.put("<p>Every file as it was written. A number in the book leads to the line that it comes from.</p>\n<ul class=\"plain\">\n")
	for _, doc := range docs {
		w.say(`<li><a href="#%s"><code>%s</code></a></li>`+"\n", documentAnchor(doc.File), doc.File)
	}
	w.put("</ul>\n")
	for _, doc := range docs {
		w.say(`<section id="%s"><h2>%s</h2>`+"\n", documentAnchor(doc.File), doc.File)
		w.say("<p>%s file.</p>\n", capital(layerWords(doc.Layer)))
		w.put(listing(doc), "</section>\n")
	}
}

// listings are those of files that are shown again: all but one from one save to the next, and in a yard those of the library and the shop. Long ones would keep too much memory.
var listings = memo.New[markup](256)

const mostListed = 1 << 13 // bytes of the text of one of them; a listing takes ten times as many

// listing is one file with numbered lines.
func listing(doc *source.Document) markup {
	if len(doc.Text) > mostListed {
		return lineByLine(doc.File, doc.Text)
	}
	k := memo.KeyOf(len(doc.File)/8 + len(doc.Text)/8 + 4)
	k.Text(doc.File)
	k.Text(doc.Text)
	return listings.Get(k, func() markup { return lineByLine(doc.File, doc.Text) })
}

// lineByLine sets a text with numbered lines.
func lineByLine(file, text string) markup {
	text, rest := firstLines(strings.ReplaceAll(text, "\r\n", "\n"), source.MostLines)
	var set, w writer
	listing := set.buffer()
	defer set.giveBack()
	tokens, err := recordLexer{}.Tokenise(nil, text)
	if err == nil {
		err = recordFormat().Format(listing, recordStyle, tokens)
	}
	if err != nil {
		return say("<pre>%s</pre>\n", text+rest)
	}
	w.owned(listing.Bytes(), lineAnchor(file))
	if rest != "" {
		w.say("<p>From line %d on, without numbers:</p>\n<pre>%s</pre>\n", source.MostLines+1, rest)
	}
	return w.markup()
}

// owned writes a listing with its file's own prefix in the ids of its lines, and in the links to them. Quotes in the text itself are escaped, so only chroma's own attributes are met.
func (w *writer) owned(listing []byte, prefix string) {
	b := w.buffer()
	for {
		i := bytes.Index(listing, []byte(anyLine))
		if i < 0 {
			b.Write(listing)
			return
		}
		b.Write(listing[:i])
		if bytes.HasSuffix(listing[:i], []byte(`id="`)) || bytes.HasSuffix(listing[:i], []byte(`href="#`)) {
			b.WriteString(prefix)
		} else {
			b.WriteString(anyLine)
		}
		listing = listing[i+len(anyLine):]
	}
}

// firstLines divides a text behind so many lines: a line with its number and its links takes some three hundred bytes, and nothing leads beyond the front matter.
func firstLines(text string, most int) (first, rest string) {
	at := 0
	for range most {
		i := strings.IndexByte(text[at:], '\n')
		if i < 0 {
			return text, ""
		}
		at += i + 1
	}
	return text[:at], text[at:]
}

// anyLine stands before the number in the ids of lines until the file's own prefix takes its place: chroma works its style
// out anew for each prefix, which costs more than the file.
const anyLine = "line-"

var recordFormat = sync.OnceValue(func() *html.Formatter {
	return html.New(html.WithClasses(true), html.ClassPrefix("c-"), html.WithLineNumbers(true), html.WithLinkableLineNumbers(true, anyLine), html.WithPreWrapper(plainPre{}))
})

// plainPre leaves the tab stop out that chroma gives its listings: the links of the lines take the keyboard already.
type plainPre struct{}

// Start opens a listing.
func (plainPre) Start(bool, string) string { return `<pre class="c-chroma"><code>` }

// End closes it.
func (plainPre) End(bool) string { return "</code></pre>\n" }

// recordStyle names the kinds of token that get a class; what they look like stands in the style sheet.
var recordStyle = chroma.MustNewStyle("record", chroma.StyleEntries{
	chroma.Comment: "#666666", chroma.NameTag: "#333333", chroma.GenericHeading: "#000000", chroma.Punctuation: "#666666",
})

// recordLexer knows front matter and just enough of Markdown to set it off. It goes line by line, and a foot mark is only a
// foot mark to it.
type recordLexer struct{}

var recordConfig = chroma.Config{Name: "record"}

// Config names the lexer.
func (recordLexer) Config() *chroma.Config { return &recordConfig }

// SetRegistry does nothing: the lexer needs no others.
func (l recordLexer) SetRegistry(*chroma.LexerRegistry) chroma.Lexer { return l }

// SetAnalyser does nothing: files are not guessed at.
func (l recordLexer) SetAnalyser(func(string) float32) chroma.Lexer { return l }

// AnalyseText does nothing either.
func (recordLexer) AnalyseText(string) float32 { return 0 }

// Tokenise takes a file apart: keys, comments and the rest of its front matter, headings and the rest of its words. The
// tokens together are the text, whatever it is.
func (recordLexer) Tokenise(_ *chroma.TokeniseOptions, text string) (chroma.Iterator, error) {
	tokens := make([]chroma.Token, 0, 3*(strings.Count(text, "\n")+1)) // few lines have more
	put := func(kind chroma.TokenType, value string) {
		if value != "" {
			tokens = append(tokens, chroma.Token{Type: kind, Value: value})
		}
	}
	front := false
	for n := 0; text != ""; n++ {
		line := text
		if i := strings.IndexByte(text, '\n'); i >= 0 {
			line = text[:i+1]
		}
		text = text[len(line):]
		fence := strings.TrimRight(line, " \t\r\n") == "---"
		switch {
		case fence && (n == 0 || front):
			front = n == 0
			put(chroma.Punctuation, line)
		case front:
			recordFront(put, line)
		case strings.HasPrefix(line, "#"):
			put(chroma.GenericHeading, line)
		default:
			put(chroma.Text, line)
		}
	}
	return chroma.Literator(tokens...), nil
}

// recordFront takes a line of front matter apart.
func recordFront(put func(chroma.TokenType, string), line string) {
	comment := ""
	if i := commentStart(line); i >= 0 {
		line, comment = line[:i], line[i:]
	}
	start := len(line) - len(strings.TrimLeft(line, " \t-"))
	if i := strings.Index(line[start:], ":"); i > 0 && !strings.ContainsAny(line[start:start+i], `{["'`) {
		put(chroma.Text, line[:start])
		put(chroma.NameTag, line[start:start+i+1])
		put(chroma.Text, line[start+i+1:])
	} else {
		put(chroma.Text, line)
	}
	put(chroma.Comment, comment)
}

// commentStart is where a comment begins: a # at the start or after a blank; -1 where there is none.
func commentStart(line string) int {
	for i := range len(line) {
		if line[i] == '#' && (i == 0 || line[i-1] == ' ' || line[i-1] == '\t') {
			return i
		}
	}
	return -1
}
