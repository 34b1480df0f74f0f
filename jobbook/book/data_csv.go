package book

import (
	"bufio"
	"bytes"
	"encoding/csv"
	"strconv"
	"strings"
	"unicode/utf8"

	"balustrade/jobbook/finding"
	"balustrade/jobbook/finish"
	"balustrade/jobbook/job"
	"balustrade/jobbook/length"
	"balustrade/jobbook/working"
)

// sheet is one table for a spreadsheet, by RFC 4180: commas, a head line, lines that end in CR LF, quotes where they are needed,
// UTF-8 without a byte-order mark. A column of lengths says its unit in the head, in decimals that a spreadsheet can reckon with; the
// column beside it says the same as a tape shows it, with its unit, so that no spreadsheet takes 7/16 for a date.
type sheet struct {
	path string
	head []string

	text *bytes.Buffer // what was written so far, lent as its pen is; the head comes with the first row
	pen  *bufio.Writer
	csv  *csv.Writer
	line []string // of the row that is being written
}

// cell is one cell: a number, or words made harmless.
type cell string

func (s *sheet) row(cells ...cell) {
	s.begin()
	s.line = s.line[:0]
	for _, c := range cells {
		s.line = append(s.line, string(c))
	}
	s.csv.Write(s.line)
}

// begin writes the head. A bytes.Buffer never fails, and encoding/csv has no other reason to.
func (s *sheet) begin() {
	if s.csv != nil {
		return
	}
	s.text, s.pen = buffers.Get().(*bytes.Buffer), pens.Get().(*bufio.Writer)
	s.pen.Reset(s.text)
	s.csv = csv.NewWriter(s.pen)
	s.csv.UseCRLF = true
	s.csv.Write(s.head)
}

// file is the table that was written.
func (s *sheet) file() File {
	s.begin()
	s.csv.Flush()
	f := File{s.path, []string{s.text.String()}}
	s.text.Reset()
	buffers.Put(s.text)
	pens.Put(s.pen)
	return f
}

// cellText is a cell of text. A spreadsheet takes a text that starts with one of = + - @ for a formula, so it gets an apostrophe in
// front, before any blanks too; so do one that starts with a tab or a line break, and the wide forms of the four that some
// programs fold to them. Line breaks, tabs and other control characters become blanks: a cell is one line.
func cellText(text string) cell {
	if plain(text) {
		return cell(text)
	}
	return cell(madeHarmless(text))
}

func madeHarmless(text string) string {
	bare := strings.TrimLeft(text, " \u00a0\ufeff\u200b")
	risky := strings.HasPrefix(bare, "\t") || strings.HasPrefix(bare, "\r") || strings.HasPrefix(bare, "\n")
	bare = strings.TrimSpace(bare)
	first, _ := utf8.DecodeRuneInString(bare)
	risky = risky || bare != "" && strings.ContainsRune("=+-@＝＋－＠", first)
	if strings.ContainsFunc(text, func(r rune) bool { return r < ' ' || r > '~' }) {
		text = strings.Map(func(r rune) rune {
			if r < ' ' || r == '\x7f' {
				return ' '
			}
			return r
		}, strings.ToValidUTF8(text, "\ufffd"))
	}
	if risky {
		return "'" + text
	}
	return text
}

// plain reports a text that begins with a letter or a digit and has nothing but ASCII in it: nearly all have.
func plain(text string) bool {
	for i := range len(text) {
		if text[i] < ' ' || text[i] > '~' {
			return false
		}
	}
	return text == "" || text[0] >= '0' && text[0] <= '9' || text[0] >= 'A' && text[0] <= 'Z' || text[0] >= 'a' && text[0] <= 'z'
}

func cellCount(n int) cell { return cell(strconv.Itoa(n)) }

func cellYesNo(yes bool) cell {
	if yes {
		return "yes"
	}
	return "no"
}

// cellValue is a figure's value, empty where it has none.
func cellValue(f *working.Figure) cell {
	if f == nil {
		return ""
	}
	return cell(working.Decimal(f.Value))
}

func cellUnit(f *working.Figure) cell {
	if f == nil {
		return ""
	}
	return cellText(f.Unit)
}

// decimals is a length as a number of the job's unit, to nine decimals: enough to tell every nanometre apart, so that what a
// spreadsheet works out of two of them comes to the same verdict.
func (d dataWriter) decimals(l length.Length) cell {
	const places = 9 // a nanometre is 0.000 000 039 in
	text := length.Style{System: d.job.System, Rounding: length.Nearest}.Decimal(l, places)
	return cell(strings.TrimRight(strings.TrimRight(text, "0"), "."))
}

// both is a length in decimals, and as a tape shows it; both empty where it is not known.
func (d dataWriter) both(known bool, l length.Length) (number, text cell) {
	if !known {
		return "", ""
	}
	return d.decimals(l), cellText(d.tape(l))
}

// in puts the job's unit behind a column's name.
func (d dataWriter) in(name string) string { return name + " (" + d.job.System.String() + ")" }

func (d dataWriter) tables(whole dataPlan) []File {
	return []File{
		d.marksTable(), d.cutsTable(), d.buyingTable(), d.sticksTable(), d.orderTable(), d.priceCSV(), d.labelsTable(), d.fixingsTable(), d.openingsTable(), d.countsTable(),
		d.checksTable(), d.inspectionTable(), d.readingsTable(), d.coatsTable(), d.loadsTable(), d.stepsTable(), calendarTable(whole.Calendar), d.alternativesTable(), d.changesTable(), d.madeTable(), d.punchTable(),
	}
}

func (d dataWriter) marksTable() File {
	s := sheet{path: "data/marks.csv", head: []string{
		"run", "baluster", d.in("from the datum face"), "from the datum face",
		d.in("from the end of the shoe"), "from the end of the shoe", d.in("from the end of the rail"), "from the end of the rail",
		"tread", d.in("from the riser"), "from the riser", d.in("along the rake"), "along the rake",
	}}
	for _, r := range d.plan.Layout.Runs {
		for _, m := range r.Marks {
			at, atText := d.both(true, m.At)
			shoe, shoeText := d.both(true, m.Shoe)
			rail, railText := d.both(!m.Plumbed, m.Rail)
			tread := cellText("")
			if r.Rake != nil && r.Rake.OnTreads {
				tread = cellCount(m.Tread)
			}
			riser, riserText := d.both(r.Rake != nil && r.Rake.OnTreads, m.Riser)
			along, alongText := d.both(r.Rake != nil, m.Along)
			s.row(cellText(r.Name), cellCount(m.K), at, atText, shoe, shoeText, rail, railText, tread, riser, riserText, along, alongText)
		}
	}
	return s.file()
}

func (d dataWriter) cutsTable() File {
	s := sheet{path: "data/cuts.csv", head: []string{
		"run", "piece", "part", "title", "count", d.in("cut length"), "cut length", d.in("exact length"), "rounded", "which", "fit", "working",
		d.in("long point"), "long point", d.in("short point"), "short point", d.in("blank"), "blank", "treads",
	}}
	for _, c := range d.plan.Takeoff.Pieces {
		cut, cutText := d.both(!c.ToFit, c.Length)
		exact, _ := d.both(!c.ToFit, c.Exact)
		long, longText := d.both(c.Long > 0, c.Long)
		short, shortText := d.both(c.Long > 0, c.Short)
		blank, blankText := d.both(c.Blank > 0, c.Blank)
		s.row(cellText(c.Run), cellText(c.What), cellText(c.Part), cellText(c.Title), cellCount(c.Count), cut, cutText, exact,
			cellText(c.Rounding.String()), cellText(c.Which), cellText(c.Fit), cellText(c.Figure), long, longText, short, shortText, blank, blankText, cellText(c.Treads))
	}
	return s.file()
}

func (d dataWriter) buyingTable() File {
	s := sheet{path: "data/buying.csv", head: []string{
		"kind", "part", "title", "species", "needed", "spare", "order",
		d.in("length in all"), "length in all", d.in("longest piece"), "longest piece", d.in("length as bought"), "length as bought", "file", "working",
	}}
	for _, n := range d.plan.Takeoff.Needs {
		running, runningText := d.both(n.Running != 0, n.Running)
		longest, longestText := d.both(n.Longest != 0, n.Longest)
		bought, boughtText := d.both(n.Bought != 0, n.Bought)
		s.row(cellText(n.Kind), cellText(n.Part), cellText(n.Title), cellText(n.Species), cellCount(n.Count), cellCount(n.Spare), cellCount(n.Order),
			running, runningText, longest, longestText, bought, boughtText, cellText(n.Origin.File), cellText(n.Figure))
	}
	return s.file()
}

func (d dataWriter) openingsTable() File {
	s := sheet{path: "data/openings.csv", head: []string{
		"run", "place", "part", "shape known", d.in("gap at the foot"), "gap at the foot",
		d.in("opening as laid out"), d.in("opening at its worst"), "ball across (mm)", "ball up (mm)", "working",
	}}
	for _, r := range d.plan.Layout.Runs {
		for _, o := range r.Openings {
			foot, footText := d.both(true, o.Foot)
			x, _ := thousandths(o.Found.X)
			z, _ := thousandths(o.Found.Z)
			s.row(cellText(r.Name), cellText(o.Where), cellText(o.Part), cellYesNo(o.Known), foot, footText, d.decimals(o.Nominal), d.decimals(o.Worst),
				cell(x), cell(z), cellText(o.Figure))
		}
	}
	return s.file()
}

func (d dataWriter) countsTable() File {
	s := sheet{path: "data/counts.csv", head: []string{
		"run", "balusters", d.in("gap"), d.in("end gap"), d.in("spacing"), d.in("worst opening"), "where", d.in("limit"), "comparison", "passes", "chosen",
	}}
	for _, r := range d.plan.Layout.Runs {
		for _, c := range r.Candidates {
			limit, comparison, passes := cell(""), cell(""), cell("")
			if r.Limit.Known {
				limit, comparison = d.decimals(r.Limit.Value), cellText(r.Limit.Op.String())
			}
			if v := c.Verdict(); v == finding.Pass || v == finding.Fail {
				passes = cellYesNo(c.Passes)
			}
			s.row(cellText(r.Name), cellCount(c.Count), d.decimals(c.Gap), d.decimals(c.EndGap), d.decimals(c.Spacing), d.decimals(c.Worst),
				cellText(c.Where), limit, comparison, passes, cellYesNo(c.Chosen))
		}
	}
	return s.file()
}

func (d dataWriter) checksTable() File {
	s := sheet{path: "data/checks.csv", head: []string{
		"check", "group", "what was judged", "verdict", d.in("measured"), "comparison", d.in("limit"), d.in("margin"),
		"clause", "status", "rules", "amends", "limit written at", "value written at", "working", "note", "cure",
	}}
	for _, f := range d.plan.Findings {
		measured, _ := d.both(f.HasValue, f.Measured)
		limit, _ := d.both(f.HasLimit, f.Limit)
		margin, _ := d.both(f.HasValue && f.HasLimit, f.Margin)
		comparison := cell("")
		if f.HasLimit {
			comparison = cellText(f.Op.String())
		}
		s.row(cellText(f.ID), cellText(f.Group), cellText(f.Title), cellText(f.Verdict.String()), measured, comparison, limit, margin,
			cellText(f.Clause), cellText(statusIf(f.Status)), cellText(f.Rules), cellText(f.Amends), cellText(f.Set.String()), cellText(f.At.String()),
			cellText(f.Figure), cellText(f.Note), cellText(f.Cure))
	}
	return s.file()
}

func (d dataWriter) readingsTable() File {
	s := sheet{path: "data/readings-to-take.csv", head: []string{"what to read", "write it under", "what waits for it", "group", "place", d.in("reading")}}
	for _, r := range d.plan.Missing {
		s.row(cellText(r.What), cellText(r.Where), cellText(r.Why), cellText(r.Group), cellText(r.At.String()), "")
	}
	return s.file()
}

func (d dataWriter) coatsTable() File {
	s := sheet{path: "data/coats.csv", head: []string{
		"group", "finish", "coat", "name", "coats alike", "area", "area unit", "coverage", "coverage unit", "volume", "volume unit", "drying", "drying here (min)", "sand", "status", "working",
	}}
	for _, g := range d.plan.Finishing.Groups {
		name := ""
		if g.Finish != nil {
			name = g.Finish.Name
		}
		for _, c := range g.Coats {
			s.coat(g, name, c)
		}
	}
	return s.file()
}

// minutesCell is a time that is known.
func minutesCell(n int) cell {
	if n <= 0 {
		return ""
	}
	return cellCount(n)
}

func (s *sheet) coat(g finish.Group, finishName string, c finish.Coat) {
	about := c.Coat
	if about == nil {
		about = &job.Coat{}
	}
	coverage := cell("")
	if about.Coverage.Given {
		coverage = cell(ratioDecimals(about.Coverage))
	}
	figure := ""
	if c.Volume != nil {
		figure = c.Volume.ID
	}
	s.row(cellText(g.Name), cellText(finishName), cellCount(c.N), cellText(about.Name.Text), cellCount(coatsAlike(c)), cellValue(g.Area), cellUnit(g.Area), coverage, cellText(about.Coverage.Unit),
		cellValue(c.Volume), cellUnit(c.Volume), cellText(about.Dry.Text), minutesCell(c.Drying.Minutes), cellText(about.Sand.Text), cellText(statusIf(about.Status)), cellText(figure))
}

func (d dataWriter) stepsTable() File {
	s := sheet{path: "data/steps.csv", head: []string{
		"step", "name", "title", "hold", "working time (min)", "counted", "quantities", "tools", "cautions", "how to know it is right",
	}}
	for _, step := range d.plan.Sequence.Steps {
		of := step.Step
		if of == nil {
			of = &job.Step{}
		}
		var quantities, tools, cautions []string
		for _, q := range step.Quantities {
			n := "to be measured"
			if q.Known {
				n = strconv.Itoa(q.N)
			}
			quantities = append(quantities, q.Name+": "+n)
		}
		for _, t := range of.Tools {
			tools = append(tools, t.Text)
		}
		for _, c := range step.Cautions {
			cautions = append(cautions, c.Name)
		}
		s.row(cellCount(step.N), cellText(of.Name), cellText(of.Title.Text), cellText(of.Hold.Text), cellCount(step.Minutes), cellYesNo(step.Counted),
			cellText(strings.Join(quantities, "; ")), cellText(strings.Join(tools, "; ")), cellText(strings.Join(cautions, "; ")), cellText(of.Right.Text))
	}
	return s.file()
}
