package book

import (
	"strconv"
	"strings"

	"github.com/alecthomas/chroma/v2"

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
		b.listing(w, doc)
		w.put("</section>\n")
	}
}

// listing is one file with numbered lines.
func (b *book) listing(w *writer, doc *source.Document) {
	text, rest := firstLines(strings.ReplaceAll(doc.Text, "\r\n", "\n"), source.MostLines)
	w.recorded(lineAnchor(doc.File), recordTokens(text))
	if rest != "" {
		w.say("<p>From line %d on, without numbers:</p>\n<pre>%s</pre>\n", source.MostLines+1, rest)
	}
}

// recorded writes the tokens of a text line by line, each line with a number that leads to itself. A token ends with its line. It is what chroma's own formatter makes of them, with fewer copies: a test holds the one against the other.
func (w *writer) recorded(anchor string, tokens []chroma.Token) {
	lines := 0
	for i, t := range tokens {
		if i == len(tokens)-1 || strings.HasSuffix(t.Value, "\n") {
			lines++
		}
	}
	digits := len(strconv.Itoa(lines))
	w.put(`<pre class="c-chroma"><code>`) // without the tab stop that chroma gives its listings: the links of the lines take the keyboard already
	line, open := 0, false
	for _, t := range tokens {
		if !open {
			line, open = line+1, true
			w.put(`<span class="c-line"><span class="c-ln" id="`, markup(anchor))
			w.number(int64(line))
			w.put(`"><a class="c-lnlinks" href="#`, markup(anchor))
			w.number(int64(line))
			w.put(`">`)
			for n := len(strconv.Itoa(line)); n < digits; n++ {
				w.put(" ")
			}
			w.number(int64(line))
			w.put(`</a></span><span class="c-cl">`)
		}
		if class := chroma.StandardTypes[t.Type]; class != "" {
			w.put(`<span class="c-`, markup(class), `">`)
			w.text(t.Value)
			w.put("</span>")
		} else {
			w.text(t.Value)
		}
		if strings.HasSuffix(t.Value, "\n") {
			w.put("</span></span>")
			open = false
		}
	}
	if open {
		w.put("</span></span>")
	}
	w.put("</code></pre>\n")
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

// recordTokens knows front matter and just enough of Markdown to set it off: keys, comments and the rest of the front matter, headings and the rest of the words. It goes line by line, and a foot mark is only a
// foot mark to it. The tokens together are the text, whatever it is.
func recordTokens(text string) []chroma.Token {
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
	return tokens
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
