package book

import (
	"net/url"
	"path"
	"strings"

	"github.com/yuin/goldmark/ast"

	"balustrade/jobbook/job"
	"balustrade/jobbook/photo"
	"balustrade/jobbook/plan"
	"balustrade/jobbook/source"
)

// PhotographsFolder is where the copies lie in a book.
const PhotographsFolder = "photographs/"

// Pictures lists the pictures that the book would show, in the order that it does: those of surveys, and those that words name. Each is
// listed as often as it is named. Their copies belong into the plan before the book is made.
func Pictures(p *plan.Plan) []source.Named {
	b := newBook(p, nil)
	list := SurveyPictures(b.job)
	seen := map[string]bool{}
	for _, x := range b.homes() {
		if x.doc == nil || seen[x.doc.File] || !strings.Contains(x.doc.Body, "![") { // however a picture is written, it begins so
			continue
		}
		seen[x.doc.File] = true
		if b.parse(x); x.root == nil {
			continue
		}
		_ = ast.Walk(x.root, func(n ast.Node, entering bool) (ast.WalkStatus, error) {
			if image, ok := n.(*ast.Image); ok && entering {
				if file, ok := pictureFile(x.doc.File, unescaped(image.Destination)); ok {
					list = append(list, source.Named{File: file, At: x.at(image.Pos()), Width: len("![")})
				}
			}
			return ast.WalkContinue, nil
		})
	}
	return list
}

// SurveyPictures are those of Pictures that surveys name, which need no plan.
func SurveyPictures(j *job.Job) (list []source.Named) {
	for _, s := range j.Surveys {
		for _, x := range s.Photos {
			if file, ok := surveyPicture(s, x); ok {
				list = append(list, source.Named{File: file, At: x.File.At, Width: len([]rune(x.File.Text))})
			}
		}
	}
	return list
}

// surveyPicture is the file of a survey's photograph; false for one still to be taken. An address stays one, and is in no folder.
func surveyPicture(s *job.Survey, x job.SurveyPhoto) (file string, ok bool) {
	if strings.Contains(x.File.Text, "://") {
		return x.File.Text, true
	}
	return beside(s.File, x.File.Text), x.File.Given
}

// pictureFile is the file that a picture in a text of the file doc is in; false for one from elsewhere.
func pictureFile(doc, where string) (file string, ok bool) {
	if u, err := url.Parse(where); err == nil && (u.Scheme != "" || u.Host != "") {
		return "", false
	}
	if plain, err := url.PathUnescape(where); err == nil {
		where = plain
	}
	return beside(doc, where), true
}

// beside is the file that a path in another file leads to; a slash at its start stands for the job's folder.
func beside(file, to string) string {
	if strings.HasPrefix(to, "/") {
		return strings.TrimPrefix(path.Clean(to), "/")
	}
	return path.Join(path.Dir(file), to)
}

// pictured is a photograph with its caption; empty where there is no copy of it.
func (b *book) pictured(x photograph) markup {
	made := b.plan.Photographs[x.file]
	if made == nil {
		return ""
	}
	caption := esc(x.title)
	if x.title == "" {
		caption = esc(x.words)
	}
	hidden := markup("")
	switch {
	case x.words == "":
		caption = joined("; ", caption, toBeWritten)
	case x.title == "": // who hears the words as the picture's alternative need not hear them again
		hidden = ` aria-hidden="true"`
	}
	class := "photo"
	if made.High > made.Wide {
		class += " tall"
	}
	return say("<figure class=\"%s\">%s<figcaption%s>%s</figcaption></figure>\n", class, b.img(x, made), hidden, caption)
}

// inText is the picture alone, for a line of words.
func (b *book) inText(x photograph) markup {
	made := b.plan.Photographs[x.file]
	if made == nil {
		return ""
	}
	return say(`<span class="photo">%s</span>`, b.img(x, made))
}

func (b *book) img(x photograph, made *photo.Copy) markup {
	b.shown(made)
	words := x.words
	if words == "" {
		words = "photograph, what it shows is still to be written"
	}
	return say(`<img src="%s" alt="%s" width="%d" height="%d" loading="lazy">`, PhotographsFolder+made.Name, words, made.Wide, made.High)
}

// photograph is one that somebody named.
type photograph struct {
	file  string
	words string // what it shows, for who cannot see it
	title string // the caption, the words where it is empty
}

const (
	toBeWritten markup = `<span class="open">words still to be written</span>`
	toBeTaken   markup = `<span class="open">still to be taken</span>`
)

// shown notes a copy for the book's folder.
func (b *book) shown(made *photo.Copy) {
	for _, other := range b.photographs {
		if other.Name == made.Name {
			return
		}
	}
	b.photographs = append(b.photographs, made)
}

// surveyPhotos are the photographs of an old guard.
func (b *book) surveyPhotos(s *job.Survey) markup {
	var w, taken writer
	for _, x := range s.Photos {
		words := strings.Join(strings.Fields(x.Shows.Text), " ")
		if file, ok := surveyPicture(s, x); !ok {
			w.say("<p>Photograph %s%s</p>\n", b.recorded(x.At, toBeTaken), joined("", ": ", esc(words)))
		} else if m := b.pictured(photograph{file: file, words: words}); m != "" {
			taken.put(m)
		} else {
			w.say("<p>[%s]</p>\n", pictureWords(words, file))
		}
	}
	if taken.Len() > 0 {
		return "<div class=\"photos\">\n" + taken.markup() + "</div>\n" + w.markup()
	}
	return w.markup()
}

// pictureWords name a picture that the book cannot show.
func pictureWords(words, file string) string {
	if words == "" {
		words = "what it shows is still to be written"
	}
	return "picture: " + words + ", in the job's folder: " + file
}

// picture puts a photograph in the place of a picture in somebody's words, as a figure where it stands by itself; words where there is
// no copy.
func (b *book) picture(p *prose, n *ast.Image) {
	where := unescaped(n.Destination)
	words := strings.Join(strings.Fields(unescaped([]byte(alt(n, p.source)))), " ")
	file, ok := pictureFile(p.doc.File, where)
	if !ok {
		b.warn(p.at(n.Pos()), 1, "put the picture beside the job and link to it there", "a picture from elsewhere is not fetched: %s", clip(where))
		replace(n, false, "["+strings.TrimSuffix("picture: "+words, ": ")+", not fetched]")
		return
	}
	if b.edition == Client { // no photograph leaves the house
		replace(n, false, "["+strings.TrimSuffix("picture: "+words, ": ")+"]")
		return
	}
	shown := photograph{file: file, words: words, title: strings.Join(strings.Fields(unescaped(n.Title)), " ")}
	alone, around := n.Parent(), n.Parent().Parent()
	if around == nil || !onlyPictures(alone, p.source) {
		if m := b.inText(shown); m != "" {
			text := ast.NewString([]byte(m))
			text.SetCode(true) // as it is
			n.Parent().ReplaceChild(n.Parent(), n, text)
			return
		}
	} else if m := b.pictured(shown); m != "" {
		around.InsertBefore(around, alone, &placedBlock{before: m})
		if next, isText := n.NextSibling().(*ast.Text); isText { // the end of its line
			alone.RemoveChild(alone, next)
		}
		if alone.RemoveChild(alone, n); !holdsPicture(alone) {
			around.RemoveChild(around, alone)
		}
		return
	}
	replace(n, false, "["+pictureWords(words, file)+"]")
}

// onlyPictures reports a paragraph of pictures and nothing else.
func onlyPictures(n ast.Node, source []byte) bool {
	if n.Kind() != ast.KindParagraph && n.Kind() != ast.KindTextBlock {
		return false
	}
	for c := n.FirstChild(); c != nil; c = c.NextSibling() {
		text, isText := c.(*ast.Text)
		if c.Kind() != ast.KindImage && !(isText && strings.TrimSpace(string(text.Segment.Value(source))) == "") {
			return false
		}
	}
	return true
}

func holdsPicture(n ast.Node) bool {
	for c := n.FirstChild(); c != nil; c = c.NextSibling() {
		if c.Kind() == ast.KindImage {
			return true
		}
	}
	return false
}
