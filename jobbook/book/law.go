package book

import (
	"regexp"
	"strconv"

	"balustrade/jobbook/exact"
	"balustrade/jobbook/job"
	"balustrade/jobbook/length"
)

// askLaw is said of a danger wherever the law that the library knows of it is not the job's.
const askLaw = "Ask what the law of the place says"

// laws are what the law says of a danger: as law where it is that of the job's rule set, else as another country's, which says what was thought fit elsewhere and binds nobody here.
func (b *book) laws(c *job.Caution) markup {
	var w writer
	ask := markup(askLaw + ". ") // once
	for _, l := range c.Laws {
		if !l.Says.Given {
			continue
		}
		behind := joined(", ", b.words(l.Source))
		if l.Status != 0 {
			behind = joined(", ", behind, esc(l.Status.String()))
		}
		if behind != "" {
			behind = " (" + behind + ")"
		}
		says := b.recorded(l.Says.At, esc(b.lengthsIn(l.Says.Text)))
		switch {
		case b.job.IsLaw(l.Country.Text):
			w.put("<p>The law (", esc(l.Country.Text), "): ", says, behind, ".</p>\n")
		case l.Country.Given:
			w.put("<p>", ask, "In ", esc(country(l.Country.Text)), ", as an example: ", says, behind, ".</p>\n")
			ask = ""
		default:
			w.put("<p>", ask, "Elsewhere: ", says, behind, ".</p>\n")
			ask = ""
		}
	}
	return w.markup()
}

// country is a country's name as it stands in a sentence.
func country(name string) string {
	if name == job.US {
		return "the " + name
	}
	return name
}

// measuresIn are lengths and surfaces in braces within words: {6 ft}, {42 in}, {6 sq ft}.
var measuresIn = regexp.MustCompile(`\{(\d{1,6}(?:\.\d{1,4})?) (ft|in|sq ft)\}`)

// lengthsIn writes the lengths in braces within words as they were written, and in millimetres behind them for a job that has those.
func (b *book) lengthsIn(words string) string {
	return measuresIn.ReplaceAllStringFunc(words, func(found string) string {
		m := measuresIn.FindStringSubmatch(found)
		written := m[1] + " " + m[2]
		if b.job.System != length.Millimetres {
			return written
		}
		n, err := strconv.ParseFloat(m[1], 64)
		if err != nil {
			return written
		}
		switch m[2] {
		case "ft":
			return written + " (" + strconv.FormatFloat(float64(n*304.8), 'f', 0, 64) + " mm)"
		case "in":
			return written + " (" + strconv.FormatFloat(float64(n*25.4), 'f', 0, 64) + " mm)"
		}
		return written + " (" + strconv.FormatFloat(float64(n*0.09290304), 'f', 2, 64) + " m²)"
	})
}

// surface is a surface that is reckoned in sq ft, in the job's unit.
func (b *book) surface(v exact.Number) markup {
	if b.job.System != length.Millimetres {
		return esc(decimal(v, 1, length.Nearest) + " sq ft")
	}
	const metre, all = 9_290_304, 100_000_000 // m² in a sq ft, exact
	return esc(decimal(v.Mul(exact.New(metre, all)), 2, length.Nearest) + " m²")
}
