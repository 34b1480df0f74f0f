package book

import (
	"fmt"
	"strconv"

	"balustrade/jobbook/exact"
	"balustrade/jobbook/finding"
	"balustrade/jobbook/job"
	"balustrade/jobbook/length"
	"balustrade/jobbook/working"
)

// tape writes a length for the tape, to the job's division, in the direction named: 94 and a real fraction.
func (b *book) tape(l length.Length, how length.Rounding) markup {
	return typeset(length.Style{System: b.job.System, Division: b.division, Rounding: how}.Parts(l))
}

// near writes a length for the tape, to the nearest division.
func (b *book) near(l length.Length) markup { return b.tape(l, length.Nearest) }

// mark writes a length that is read from the tape or set out with it: the only bold on a page.
func (b *book) mark(l length.Length) markup { return "<b>" + b.near(l) + "</b>" }

const mostPlaces = 6 // decimals: a millionth of an inch settles any comparison that nine digits of nanometres can

// exact writes a reading as it was taken: as a fraction where a tape has one, else in decimals.
func (b *book) exact(l length.Length) markup {
	finest := b.job.System.Finest()
	if l%finest == 0 {
		return typeset(length.Style{System: b.job.System, Division: finest, Rounding: length.Nearest}.Parts(l))
	}
	return b.decimals(l, length.Nearest, b.places()+1)
}

// places is how many decimals the limits of a code are quoted in: thousandths of an inch, tenths of a millimetre.
func (b *book) places() int {
	if b.job.System == length.Millimetres {
		return 1
	}
	return 3
}

func (b *book) decimals(l length.Length, how length.Rounding, places int) markup {
	return esc(length.Style{System: b.job.System, Division: length.Nanometre, Rounding: how}.Decimal(l, places))
}

// whole is how many decimals a length needs so that none of it is cut off, where it is one of sixteenths of an inch, as most tapes
// are read: 35.9375 for 35 15/16, which with 0.0625 makes 36 again. 0 for all others.
func (b *book) whole(l length.Length) int {
	if b.job.System == length.Inches && l%(length.Inch/16) == 0 && l%(length.Inch/1000) != 0 {
		return 4
	}
	return 0
}

// judged writes a value and its limit in decimals: the value rounded towards the bad side, and with so many places that
// the two look different unless they are the same.
func (b *book) judged(value, limit length.Length, op finding.Op) (v, l markup) {
	bad := length.Up
	if op == finding.AtLeast || op == finding.Over {
		bad = length.Down
	}
	for places := b.places(); ; places++ {
		v, l = b.decimals(value, bad, places), b.decimals(limit, length.Nearest, places)
		if v != l || value == limit || places >= mostPlaces {
			return v, l
		}
	}
}

// limit writes a limit by itself.
func (b *book) limit(l length.Length) markup { return b.decimals(l, length.Nearest, b.places()) }

// difference writes how far apart a value and its limit are, never larger than it is and never as nothing where it is something.
func (b *book) difference(l length.Length) markup {
	for places := b.places(); ; places++ {
		m := b.decimals(l, length.Down, max(places, b.whole(l)))
		if places >= mostPlaces || m != b.decimals(0, length.Down, places) {
			return m
		}
	}
}

func typeset(p length.Parts) markup {
	var room [64]byte // more than any takes: two numbers in a tag, and one before it
	b := room[:0]
	if p.Negative {
		b = append(b, '-')
	}
	if p.Whole != 0 || p.Num == 0 {
		b = strconv.AppendInt(b, p.Whole, 10)
		if p.Num != 0 {
			b = append(b, ' ')
		}
	}
	if p.Num != 0 {
		b = strconv.AppendInt(append(b, `<span class="frac">`...), p.Num, 10)
		b = strconv.AppendInt(append(b, '/'), p.Den, 10)
		b = append(b, "</span>"...)
	}
	if p.Decimals != "" {
		b = append(append(b, '.'), p.Decimals...)
	}
	return markup(b)
}

// unit is the job's unit as the head of a column carries it.
func (b *book) unit() string { return b.job.System.String() }

// unitWords is the job's unit in a sentence.
func (b *book) unitWords() string {
	if b.job.System == length.Millimetres {
		return "millimetres"
	}
	return "inches"
}

// rounded names the division and the direction: rounded down to 1/16 in.
func (b *book) rounded(how length.Rounding) string {
	if how == length.Nearest {
		return "rounded to the nearest " + b.divisionWords()
	}
	return fmt.Sprintf("rounded %s to %s", how, b.divisionWords())
}

func (b *book) divisionWords() string {
	return length.Style{System: b.job.System, Division: b.division, Rounding: length.Nearest}.With(b.division)
}

// figured makes markup a quiet link to the working of a figure; it stays plain where there is no such figure.
func (b *book) figured(id string, m markup) markup {
	n, ok := b.figures[id]
	if !ok || m == "" {
		return m
	}
	var w writer
	w.put(`<a class="w" href="working.html#`)
	b.putAnchor(&w, id)
	w.put(`" data-w="`)
	w.number(int64(n))
	w.put(`">`, m, "</a>")
	return w.markup()
}

// putAnchor writes the place of a figure's working on its page.
func (b *book) putAnchor(w *writer, id string) {
	if own := b.anchors[id]; own != "" {
		w.text(own)
		return
	}
	w.put("fig-")
	w.anchor(id)
}

func (b *book) figure(f *working.Figure, m markup) markup {
	if f == nil {
		return m
	}
	return b.figured(f.ID, m)
}

// workingAnchor is where the working of a figure stands on its page.
func (b *book) workingAnchor(id string) string {
	if own := b.anchors[id]; own != "" {
		return own
	}
	return figureAnchor(id)
}

func figureAnchor(id string) string { return "fig-" + anchor(id) }

// amount writes a figure's value rounded to so many decimals, nearest or up; "to be measured" where it has none.
func (b *book) amount(f *working.Figure, places int, how length.Rounding) markup {
	if f == nil || !f.Value.Known() {
		return toBeMeasured
	}
	return b.figure(f, esc(decimal(f.Value, places, how)))
}

func decimal(r exact.Number, places int, how length.Rounding) string {
	scale := exact.Of(1)
	for range places {
		scale = scale.Mul(exact.Of(10))
	}
	n := length.Rounded(r.Mul(scale), length.Nanometre, how) // a plain whole number, not a length
	return exact.Of(int64(n)).Quo(scale).Fixed(places)
}

// read writes a reading as a quiet link to the line where it was recorded; where it is not given, that it is to be measured.
func (b *book) read(m job.Measure) markup {
	if !m.Given {
		return b.recorded(m.At, toBeMeasured)
	}
	return b.recorded(m.At, b.exact(m.Length))
}

// words writes a text as a quiet link to the line where it was recorded.
func (b *book) words(t job.Text) markup {
	if !t.Given {
		return ""
	}
	return b.recorded(t.At, esc(t.Text))
}

// ratio writes a ratio in thousandths without trailing zeros and with its unit.
func ratio(r job.Ratio) string {
	text := working.Decimal(exact.New(r.Thousandths, 1000))
	if r.Unit == "%" {
		return text + " %"
	}
	return text + " " + r.Unit
}

const toBeMeasured markup = `<span class="open">to be measured</span>`

// comparison puts a limit in words: under 4.000 in.
func (b *book) comparison(op finding.Op, limit markup) markup {
	return say("%s %s %s", op.String(), limit, b.unit())
}
