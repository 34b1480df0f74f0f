package book

import (
	"math"
	"slices"

	"balustrade/jobbook/draw"
	"balustrade/jobbook/layout"
	"balustrade/jobbook/length"
	"balustrade/jobbook/profile"
)

// How wide a panel of a drawing is, in CSS px: what a phone of 360 shows beside its margins, and what a desk or a sheet of
// Letter or A4 does.
const (
	phoneWidth = 328
	sheetWidth = 680
)

func (b *book) style() length.Style {
	return length.Style{System: b.job.System, Division: b.division, Rounding: length.Nearest}
}

// drawings are the elevation of a run: for a phone as a whole and in pieces in which its marks can be read, and for a desk or paper.
// The style sheet shows the one or the other. All markup with drawings in it is a list of what it is put together of, so that a drawing is not copied for each thing that it stands in.
type drawings struct{ whole, pieces []markup }

func (b *book) drawings(r *layout.Run) (d drawings) {
	if r.Chosen == nil {
		return d
	}
	phone := draw.Panels(r, b.style(), phoneWidth)
	wide := *r
	wide.ID += "-sheet" // ids in the drawing are the run's
	d.whole = sized(b.sheets(draw.Panels(&wide, b.style(), sheetWidth)), panels(phone[:1]))
	if len(phone) > 1 {
		d.pieces = slices.Concat([]markup{"<div class=\"drawings phone\">\n"}, panels(phone[1:]), []markup{"</div>\n"})
	}
	return d
}

// sized is what a desk or paper shows, and what a phone shows.
func sized(wide, phone []markup) []markup {
	return slices.Concat([]markup{"<div class=\"wide\">\n"}, wide, []markup{"</div>\n<div class=\"phone\">\n"}, phone, []markup{"</div>\n"})
}

// both is a drawing for a desk or paper and one for a phone; nothing where there is neither.
func (b *book) both(of func(width int) []string) []markup {
	wide, phone := b.sheets(of(sheetWidth)), panels(of(phoneWidth))
	if len(wide) == 0 && len(phone) == 0 {
		return nil
	}
	return sized(wide, phone)
}

// one is a drawing that may be nothing.
func one(svg string) []string {
	if svg == "" {
		return nil
	}
	return []string{svg}
}

const panel markup = `<div class="panel">`

func panels(drawings []string) []markup {
	list := make([]markup, 0, 3*len(drawings))
	for _, d := range drawings {
		list = append(list, panel, markup(d), "</div>\n")
	}
	return list
}

// sheets are drawings for a desk or paper, each with its scale on paper and the day its readings are from.
func (b *book) sheets(drawings []string) []markup {
	const perInch, inch = 96, 25.4 // CSS px and mm
	list := make([]markup, 0, 3*len(drawings))
	for _, d := range drawings {
		var words []markup
		open, less := panel, fitsSheet(d)
		if less < 1 {
			open = `<div class="panel tall">`
		}
		if scale := draw.Scale(d); scale > 0 {
			if n := math.Round(perInch / inch / scale / less); n >= 1 {
				words = append(words, say("Scale about 1 : %d on paper", int(n)))
			}
		}
		if b.job.Measured.Given {
			words = append(words, say("measured %s", b.job.Measured.Text))
		}
		list = append(list, open, markup(d), say(`<p class="scale">%s</p></div>`+"\n", joined(", ", words...)))
	}
	return list
}

// fitsSheet is how much smaller a drawing is put on paper so that it stands on one sheet with its heading and what is said over it; 1 where it fits as it is, or where its words would come out under 2.5 mm.
func fitsSheet(svg string) float64 {
	const (
		wide  = 176.0 // mm, as wide as a drawing is on paper: see the style sheet
		most  = 185.0 // mm, as high as such a one is there; the type area of Letter has 246
		least = 0.74  // words of 13 px come out as 2.5 mm
	)
	high := draw.High(svg) * wide / sheetWidth
	if high <= most || most/high < least {
		return 1
	}
	return most / high
}

func (b *book) profileFigure(p profile.Profile, title string) []markup {
	return panels(one(draw.ProfileFigure(p, title, b.style())))
}
