package book

import (
	"balustrade/jobbook/draw"
	"balustrade/jobbook/layout"
	"balustrade/jobbook/length"
	"balustrade/jobbook/profile"
)

// panelWidth is how wide a panel of a drawing is, in CSS px: what a phone of 360 shows beside its margins.
const panelWidth = 328

func (b *book) style() length.Style {
	return length.Style{System: b.job.System, Division: b.division, Rounding: length.Nearest}
}

// drawings are the elevation of a run as a whole, and in pieces in which its marks can be read on a phone.
func (b *book) drawings(r *layout.Run) (whole, pieces markup) {
	if r.Chosen == nil {
		return "", ""
	}
	var w writer
	for i, p := range draw.Panels(r, b.style(), panelWidth) {
		panel := say(`<div class="panel">%s</div>`+"\n", markup(p))
		if i == 0 {
			whole = panel
			continue
		}
		w.put(panel)
	}
	if w.Len() > 0 {
		pieces = say("<div class=\"drawings\">\n%s</div>\n", w.markup())
	}
	return whole, pieces
}

func (b *book) profileFigure(p profile.Profile, title string) markup {
	svg := draw.ProfileFigure(p, title, b.style())
	if svg == "" {
		return ""
	}
	return say(`<div class="panel">%s</div>`+"\n", markup(svg))
}
