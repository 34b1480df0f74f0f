package job

import (
	"fmt"
	"slices"
	"strings"

	"golang.org/x/text/unicode/norm"

	"balustrade/jobbook/length"
	"balustrade/jobbook/source"
	"balustrade/jobbook/working"
)

// Kinds are the kinds of file, with their keys, as the reference prints them.
var Kinds = []Key{
	{"job", "one to a folder", "the job as a whole", keysOf(jobFields)},
	{"run", "", "one level run of guard between two ends", keysOf(runFields)},
	{"flight", "", "the guard along one flight of stairs", keysOf(flightFields)},
	{"baluster", "", "a baluster as bought", keysOf(balusterFields)},
	{"newel", "", "a post as bought", keysOf(newelFields)},
	{"handrail", "", "a handrail's section", keysOf(handrailFields)},
	{"shoe", "", "the rail under the balusters", keysOf(shoeFields)},
	{"fillet", "", "the strip that fills a plow between balusters", keysOf(filletFields)},
	{"rosette", "", "the plate between a rail and a wall", keysOf(rosetteFields)},
	{"bolt", "", "what holds a rail to a post", keysOf(boltFields)},
	{"finish", "", "a finish system", keysOf(finishFields)},
	{"alternative", "", "another way to build the job, set beside it", alternativeKeys},
	{"survey", "", "an old guard as found", keysOf(surveyFields)},
	{"rules", "", "what a guard is judged by, or an amendment of it", keysOf(ruleSetFields)},
	{"species", "", "a wood", keysOf(speciesFields)},
	{"fixing", "", "screws, bolts, plugs, brackets", keysOf(fixingFields)},
	{"fastening", "", "how one sort of joint is made", keysOf(fasteningFields)},
	{"supplier", "", "who sells what, in which sizes and at which price", keysOf(supplierFields)},
	{"issue", "", "the plan as it was handed out, recorded by the command issue", keysOf(issueFields)},
	{"delivery", "", "what came: counted, gauged, measured", keysOf(deliveryFields)},
	{"as-built", "", "what was read on the guard as it stands", keysOf(asBuiltFields)},
	{"punch", "", "what is still to be put right, found on one walk round the guard", keysOf(punchFields)},
	{"made", "", "pieces that are cut, drilled or coated already", keysOf(madeFileFields)},
	{"rack", "", "what the shop or the job has on hand", keysOf(rackFields)},
	{"settings", "", "the shop's ways; a nearer file replaces them key by key", keysOf(settingsFields)},
	{"step", "", "a step of the work", keysOf(stepFields)},
	{"caution", "", "a danger and what to do about it", keysOf(cautionFields)},
}

// everywhere are the keys that a file of any kind may have.
var everywhere = []string{"kind", "units"}

// Decode reads the documents of all layers, library first, into one job. What is blank stays to be measured; what cannot be
// understood is a problem, all of them together. broken are files already reported, so that their names are not reported as missing.
func Decode(documents, broken []source.Document) (*Job, []source.Problem) {
	d := &decoder{system: length.Inches, broken: broken, kinds: Kinds}
	j := &Job{System: length.Inches}
	files := &decoded{}

	jobFile := d.jobFile(documents, j)
	j.ShopSystem = d.shopUnits(documents, j)
	for i := range documents {
		if doc := &documents[i]; doc != jobFile {
			d.file(doc, j, files)
		}
	}
	d.system = j.System // what is said of several files together is in the job's own
	d.duplicates(documents)
	j.collect(files)
	d.resolve(j, files)
	if jobFile != nil {
		j.Prose = Prose{jobFile}
	}
	j.Documents = j.used(documents)
	underlined(d.problems, documents)
	return j, d.problems
}

// jobFile finds and reads the one file of kind job, whose units the other files of the job are read in.
func (d *decoder) jobFile(documents []source.Document, j *Job) *source.Document {
	var first *source.Document
	for i := range documents {
		doc := &documents[i]
		kind := doc.Front.Get("kind")
		if kind == nil || kind.Text != "job" {
			continue
		}
		if doc.Layer != source.Job {
			d.problem(kind, "move it into the job's own folder", "a file of kind job stands in the %s", doc.Layer)
			continue
		}
		if first != nil {
			d.problem(kind, "keep one of them", "a second file of kind job, the first is %s", first.File)
			continue
		}
		first = doc
	}
	if first == nil {
		d.noPosts = true
		for _, doc := range d.broken {
			if doc.Layer == source.Job && doc.Name == "job" {
				return nil
			}
		}
		d.at(source.Pos{File: "job.md"}, 1, "write a job.md that starts with ---, kind: job, ---", "no file of kind job in the folder")
		return nil
	}
	j.File = first.File
	if own := d.units(first); own != 0 {
		j.System = own
	}
	d.system = j.System
	decode(d, first.Front, "a job", jobFields, j, everywhere...)
	return first
}

// ofTheJob are the kinds of file that the shop and the library have none of, and what is said of one there.
var ofTheJob = map[string]string{
	"run": "a run stands", "flight": "a flight stands", "survey": "a survey stands", "alternative": "an alternative stands", "delivery": "a delivery stands", "issue": "an issue stands",
	"as-built": "readings as built stand", "punch": "a punch list stands", "made": "pieces that are made stand",
}

// file reads one file by its kind.
func (d *decoder) file(doc *source.Document, j *Job, files *decoded) {
	kind := doc.Front.Get("kind")
	if doc.Front == nil || kind == nil {
		d.note(doc, files)
		return
	}
	d.system, d.unsaid = j.unitsOf(d, doc)
	word := d.text(kind, "a kind")
	if stands, ok := ofTheJob[word.Text]; ok && doc.Layer != source.Job {
		d.problem(kind, "move it into the job's own folder", "%s in the %s", stands, doc.Layer)
		return
	}
	switch word.Text {
	case "job": // a second one, reported already
	case "run":
		read(d, doc, "a run", runFields, &Run{Name: doc.Name, File: doc.File, Prose: Prose{doc}}, &files.runs)
	case "flight":
		read(d, doc, "a flight", flightFields, &Run{Name: doc.Name, File: doc.File, Prose: Prose{doc}, Stair: &Stair{}}, &files.runs)
	case "survey":
		read(d, doc, "a survey", surveyFields, &Survey{Name: doc.Name, File: doc.File, Prose: Prose{doc}}, &files.surveys)
	case "alternative":
		files.alternatives = append(files.alternatives, shelved[Alternative]{d.alternative(doc), doc})
	case "baluster":
		files.balusters = append(files.balusters, once(d, doc, func(d *decoder) *Baluster {
			b := &balusterFile{}
			decode(d, doc.Front, "a baluster", balusterFields, b, everywhere...)
			b.Baluster.Profile, b.Baluster.Sized = b.profile(d)
			b.Baluster.Blank, b.Baluster.Plain = b.blank, b.plain()
			b.Baluster.Long, b.Baluster.Wide = b.sizes(b.Baluster.Sized)
			b.overPin()
			return &b.Baluster
		}))
	case "newel":
		files.newels = append(files.newels, once(d, doc, func(d *decoder) *Newel {
			p := &newelFile{}
			decode(d, doc.Front, "a newel", newelFields, p, everywhere...)
			p.Newel.Profile, p.Newel.Sized = p.profile(d)
			p.Newel.Plain = p.plain()
			p.Newel.Long, p.Newel.Wide = p.sizes(p.Newel.Sized)
			return &p.Newel
		}))
	case "handrail":
		readOnce(d, doc, "a handrail", handrailFields, &files.handrails)
	case "shoe":
		readOnce(d, doc, "a shoe", shoeFields, &files.shoes)
	case "fillet":
		readOnce(d, doc, "a fillet", filletFields, &files.fillets)
	case "rosette":
		readOnce(d, doc, "a rosette", rosetteFields, &files.rosettes)
	case "bolt":
		readOnce(d, doc, "a bolt", boltFields, &files.bolts)
	case "finish":
		files.finishes = append(files.finishes, once(d, doc, func(d *decoder) *Finish {
			f := &Finish{}
			decode(d, doc.Front, "a finish", finishFields, f, everywhere...)
			for i := range f.Coats {
				if f.Coats[i].Status == 0 {
					f.Coats[i].Status = working.CommonPractice
				}
			}
			return f
		}))
	case "rules":
		files.rules = append(files.rules, once(d, doc, func(d *decoder) *RuleSet {
			r := &RuleSet{}
			decode(d, doc.Front, "a rule set", ruleSetFields, r, everywhere...)
			r.sign(doc.Name)
			return r
		}))
	case "species":
		share(d, doc, "a species", speciesFields, keepSpecies, &files.species)
	case "fixing":
		share(d, doc, "a fixing", fixingFields, keepFixing, &files.fixings)
	case "fastening":
		readOnce(d, doc, "a fastening", fasteningFields, &files.fastenings)
	case "supplier":
		readOnce(d, doc, "a supplier", supplierFields, &files.suppliers)
	case "delivery":
		read(d, doc, "a delivery", deliveryFields, &Delivery{}, &files.deliveries)
	case "issue":
		i := &Issue{Origin: Origin{Name: doc.Name, File: doc.File, Layer: doc.Layer}, Text: doc.Body}
		decode(d, doc.Front, "an issue", issueFields, i, everywhere...)
		j.Issues = append(j.Issues, i)
	case "as-built":
		read(d, doc, "readings as built", asBuiltFields, &AsBuilt{}, &files.built)
	case "punch":
		read(d, doc, "a punch list", punchFields, &Punch{}, &files.punches)
	case "made":
		read(d, doc, "what is made", madeFileFields, &MadeFile{}, &files.made)
	case "rack":
		readOnce(d, doc, "a rack", rackFields, &files.racks)
	case "settings":
		readOnce(d, doc, "settings", settingsFields, &files.settings)
	case "step":
		share(d, doc, "a step", stepFields, keepStep, &files.steps)
	case "caution":
		share(d, doc, "a caution", cautionFields, keepCaution, &files.cautions)
	default:
		d.broken = append(slices.Clip(d.broken), *doc) // it may be what other files name
		switch {
		case word.Given:
			d.unknown(kind.At, word.Text, "kind", "this file", keyNames(Kinds))
		case kind.Blank():
			d.at(kind.At, 1, "write one of: "+strings.Join(keyNames(Kinds), ", ")+"; or leave the key out for a page of notes", "the kind of this file is blank")
		}
	}
}

func read[T any](d *decoder, doc *source.Document, what string, fields []field[T], to *T, on *shelf[T]) {
	decode(d, doc.Front, what, fields, to, everywhere...)
	*on = append(*on, shelved[T]{to, doc})
}

// note takes a file without a kind as a page of notes. Keys of another kind in it show that the kind was forgotten.
func (d *decoder) note(doc *source.Document, files *decoded) {
	if doc.Layer == source.Library {
		return
	}
	if first, _, _ := strings.Cut(strings.TrimLeft(doc.Text, " \t\r\n"), ":"); doc.Front == nil && first == "kind" {
		line := 1 + strings.Count(doc.Text[:strings.Index(doc.Text, "kind")], "\n")
		d.at(source.Pos{File: doc.File, Line: line, Col: 1}, len("kind"), "write --- on a line of its own above the keys, and below them", "the keys of this file are not between two lines of ---")
		return
	}
	if doc.Front != nil {
		for _, e := range doc.Front.Entries {
			switch e.Key {
			case "title":
				d.text(e.Value, "words")
			case "date":
				d.date(e.Value)
			case "for":
				d.readers(e.Value)
				continue
			}
			if e.Key != "title" && e.Key != "date" {
				d.at(e.At, len([]rune(e.Key)), "add kind: , one of "+strings.Join(keyNames(Kinds), ", ")+"; or keep only title, date and for", "a file without a kind is a page of notes, it has no key %q", clip(e.Key))
				break
			}
		}
	}
	if doc.Layer == source.Job {
		files.notes = append(files.notes, doc)
	}
}

// duplicates reports two files of one name and kind in one layer.
func (d *decoder) duplicates(documents []source.Document) {
	type key struct {
		layer      source.Layer
		kind, name string
	}
	first := map[key]*source.Document{}
	for i := range documents {
		doc := &documents[i]
		if doc.Layer == source.Library { // a test holds it to one
			continue
		}
		kind := ""
		if k := doc.Front.Get("kind"); k != nil {
			kind = k.Text
		}
		if kind == "job" || kind == "settings" || kind == "issue" { // two people may each have recorded an issue of one name, in branches of their own
			continue
		}
		if kind == "flight" { // runs and flights share their names
			kind = "run"
		}
		// Two names that differ in capitals only, or in how an accent is written, are one to many a disk, and to a reader.
		k := key{doc.Layer, kind, norm.NFC.String(strings.ToLower(doc.Name))}
		if other, ok := first[k]; ok {
			hint := "rename one of them"
			if !strings.EqualFold(other.Name, doc.Name) {
				hint += "; they look alike, but one has its accents as characters of their own"
			}
			d.problems = append(d.problems, source.Problem{
				Severity: source.Error, At: source.Pos{File: doc.File, Line: 1, Col: 1}, Width: 1,
				Summary: fmt.Sprintf("two files are named %q, a name is the file's without its leading number, capitals or not", clip(doc.Name)),
				Hint:    hint,
				Notes:   []source.Note{{At: source.Pos{File: other.File, Line: 1, Col: 1}, Text: "the other one"}},
			})
			continue
		}
		first[k] = doc
	}
}

func kindOf(doc source.Document) string {
	if k := doc.Front.Get("kind"); k != nil {
		return k.Text
	}
	return ""
}
