package book

import (
	"bytes"
	"fmt"
	"html/template"
	"regexp"
	"slices"
	"strings"

	"balustrade/jobbook/draw"
	"balustrade/jobbook/job"
	"balustrade/jobbook/length"
	"balustrade/jobbook/source"
)

// clientFile is the document for the client, whole in itself.
const clientFile = "client.html"

// clientCautions are what somebody who lives there must know while the work goes on and after, in the order of the library.
var clientCautions = []string{"temporary-barrier", "open-edge", "lead", "asbestos", "fumes", "evening-tidy", "gates", "head-entrapment"}

// linkTag is a link in prose: its words stay, it leads nowhere.
var linkTag = regexp.MustCompile(`</?a\b[^>]*>`)

// client makes the document for the client: what will be done, how it will look, how to live with it, the price as the job says, a line to sign. Nothing of it comes from the
// shop's own notes, prices or working.
func (b *book) client(c cover) ([]byte, error) {
	if len(b.plan.Layout.Runs) == 0 {
		return nil, nil
	}
	var out bytes.Buffer
	err := b.frames.templates.ExecuteTemplate(&out, "client", struct {
		Title, Heading, Client, Place, Measured string
		CSS                                     template.CSS
		Body                                    template.HTML
	}{b.title() + ", for the client", b.title(), c.Client, c.Place, c.Measured, template.CSS(b.frames.css), template.HTML(b.clientBody())})
	return out.Bytes(), err
}

func (b *book) clientBody() markup {
	var w writer
	w.put(`<section><h2>What will be done</h2>`, "\n", b.scope(), "</section>\n")
	w.put(`<section><h2>How it will look</h2>`, "\n", "<p>Drawn to scale from the measurements taken in the house.</p>\n")
	for _, r := range b.plan.Layout.Runs {
		if r.Chosen != nil {
			one := *r
			one.ID += "-client"
			w.say("<h3>%s</h3>\n<div class=\"panel\">%s</div>\n", r.Title, markup(draw.Elevation(&one, b.style())))
		}
	}
	w.put("</section>\n")
	if care := b.clientCare(); care != "" {
		w.put(`<section><h2>Keeping it</h2>`, "\n", care, "</section>\n")
	}
	if cautions := b.clientCautions(); cautions != "" {
		w.put(`<section><h2>While the work goes on, and after</h2>`, "\n", cautions, "</section>\n")
	}
	switch show := b.job.Price.Show.Text; {
	case b.plan.Price.Offer.Show:
		w.put(`<section><h2>Price</h2>`, "\n", b.offerTable(), "</section>\n")
	case show == "total" || show == "lines":
		w.put(`<section><h2>Price</h2>`, "\n<p>The price follows once everything is measured and every part is priced.</p>\n</section>\n")
	}
	w.put(`<section><h2>Agreed</h2>`, "\n", `<p>The guard as described and drawn here is what is wanted.</p>`+"\n"+`<table class="fill"><tbody><tr><td>Name</td><td></td></tr><tr><td>Date</td><td></td></tr><tr><td>Signature</td><td></td></tr></tbody></table>`, "\n</section>\n")
	return w.markup()
}

// scope is each run in plain words.
func (b *book) scope() markup {
	var w writer
	w.put("<ul>\n")
	for _, r := range b.plan.Layout.Runs {
		var parts []string
		if r.Job == nil {
			continue
		}
		if r.Clear != nil {
			parts = append(parts, "about "+b.roomWords(r.Clear.Exact(b.job.System))+" long")
		}
		if c := r.Chosen; c != nil && c.Count > 0 && r.Job.Baluster != nil {
			parts = append(parts, counted(c.Count, "baluster", "balusters")+of(r.Job.Baluster.Species))
		}
		if h := r.Job.Handrail; h != nil {
			parts = append(parts, "handrail"+of(h.Species))
		}
		if s := r.Job.Shoe; s != nil {
			parts = append(parts, "shoe rail"+of(s.Species))
		}
		if r.Rake == nil && r.Levels.Known && r.Levels.Finished > 0 {
			parts = append(parts, "top of the rail "+b.plain(r.Levels.Finished.Round(b.division, length.Nearest))+" above the floor")
		}
		if len(parts) == 0 {
			parts = append(parts, "still to be measured")
		}
		w.say("<li>%s: %s.</li>\n", r.Title, strings.Join(parts, ", "))
	}
	for _, s := range b.job.Surveys {
		if s.Goes() {
			w.say("<li>The old guard is taken out.</li>\n")
			break
		}
	}
	if n := len(b.job.Posts); n > 0 {
		w.say("<li>%s.</li>\n", counted(n, "new post", "new posts"))
	}
	w.put("</ul>\n")
	for _, f := range b.job.Finishes {
		if f.Part != nil {
			w.say("<p>Finish of the %s: %s.</p>\n", f.Group, strings.ToLower(f.Part.Title.Or(job.Text{Text: f.Part.Name}).Text))
		}
	}
	if b.job.Wanted.Given {
		w.say("<p>The parts are to be there by %s.</p>\n", dayWords(b.job.Wanted.Text))
	}
	return w.markup()
}

func of(species job.Text) string {
	if !species.Given {
		return ""
	}
	return " of " + strings.ToLower(species.Text)
}

// roomWords is a length as one says it of a room: to the nearest foot or half metre, no less than it is taken for.
func (b *book) roomWords(l length.Length) string {
	if b.job.System == length.Millimetres {
		tenths := int((l + 50*length.Millimetre) / (100 * length.Millimetre))
		return strings.TrimSuffix(fmt.Sprintf("%d.%d", tenths/10, tenths%10), ".0") + " m"
	}
	const foot = 12 * length.Inch
	return counted(int((l+foot/2)/foot), "foot", "feet")
}

// clientCare is how the finishes are kept.
func (b *book) clientCare() markup {
	var w writer
	var said []string
	for _, f := range b.job.Finishes {
		if f.Part == nil || !f.Part.Care.Given || slices.Contains(said, f.Part.Care.Text) {
			continue
		}
		said = append(said, f.Part.Care.Text)
		w.say("<p>%s</p>\n", capital(f.Group)+": "+sentence(f.Part.Care.Text))
	}
	return w.markup()
}

// clientCautions are the dangers that the household meets, as the library has them.
func (b *book) clientCautions() markup {
	var w writer
	for _, c := range b.plan.Sequence.Cautions {
		if slices.Contains(clientCautions, c.Name) {
			w.say("<h3>%s</h3>\n", c.Title.Text)
			if p := b.proses[c.File]; p != nil && c.Layer == source.Library { // a shop's own words may be for the shop alone
				w.put(markup(linkTag.ReplaceAllString(string(p.markup), "")))
			}
		}
	}
	return w.markup()
}
