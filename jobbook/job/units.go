package job

import (
	"fmt"

	"balustrade/jobbook/length"
	"balustrade/jobbook/source"
)

// What a bare number in a file means is said by the file itself (units:), else for all files of a job by its job.md, and for all of a shop by its
// settings. The library is in inches. A shop that says nothing is read in inches by a job in inches; to one in millimetres its bare lengths
// could be either, and are refused.

// unitSystems are the words for the systems, as they stand behind units.
var unitSystems = []string{"in", "mm"}

// Units is what a bare number in a file means.
func (j *Job) Units(doc *source.Document) length.System {
	system, _ := j.unitsOf(&decoder{}, doc)
	return system
}

// unitsOf is Units, and whether nobody says so where it could be either.
func (j *Job) unitsOf(d *decoder, doc *source.Document) (system length.System, unsaid bool) {
	if own := d.units(doc); own != 0 {
		return own, false
	}
	if !doc.Front.Get("units").Blank() { // it says something else, which is told
		return j.System, false
	}
	switch doc.Layer {
	case source.Job:
		return j.System, false
	case source.Shop:
		if j.ShopSystem != 0 {
			return j.ShopSystem, false
		}
		return j.System, j.System != length.Inches
	}
	return length.Inches, false
}

// units is what a file says of its own bare numbers; the zero value where it says nothing.
func (d *decoder) units(doc *source.Document) length.System {
	n := doc.Front.Get("units")
	if n.Blank() {
		return 0
	}
	switch t := d.oneOf(n, unitSystems); t.Text {
	case "mm":
		return length.Millimetres
	case "in":
		return length.Inches
	}
	return 0
}

// shopUnits is what the shop's settings say for all of its files. Two that say different things are a problem.
func (d *decoder) shopUnits(documents []source.Document, j *Job) length.System {
	said, first := length.System(0), source.Pos{}
	for i := range documents {
		doc := &documents[i]
		n := doc.Front.Get("units")
		if doc.Layer != source.Shop || kindOf(*doc) != "settings" || n.Blank() {
			continue
		}
		switch own := (&decoder{}).units(doc); { // what is wrong with it is told when the file is read
		case own == 0:
			return j.System
		case said == 0:
			said, first = own, n.At
		case own != said:
			d.problems = append(d.problems, source.Problem{
				Severity: source.Error, At: n.At, Width: width(n), Summary: "the shop's settings say two units for its files", Hint: "keep one of them, for all files of the shop",
				Notes: []source.Note{{At: first, Text: "the other one"}},
			})
			return j.System
		}
	}
	for _, doc := range d.broken { // settings that cannot be read may say it
		if said == 0 && doc.Layer == source.Shop && doc.Name == "settings" {
			return j.System
		}
	}
	return said
}

// bareLengths reports the lengths of a file that could be in either unit: the first of them, for one line says it for all.
func (d *decoder) bareLengths() {
	if len(d.bare) == 0 {
		return
	}
	n, more := d.bare[0], ""
	switch len(d.bare) {
	case 1:
	case 2:
		more = ", and so could another length of this file"
	default:
		more = fmt.Sprintf(", and so could %d more lengths of this file", len(d.bare)-1)
	}
	text, write := clip(n.Text), "write units: mm or units: in, once for all files of the shop, in its settings.md; or "
	switch _, err := length.Parse(n.Text, length.Millimetres); {
	case err != nil: // a fraction
		write += text + " in"
	default:
		write += fmt.Sprintf("%s mm or %s in", text, text)
	}
	d.problem(n, write+" here", "%q could be millimetres or inches%s: the job is in millimetres, and the shop does not say what it measures in", text, more)
	d.bare = nil
}
