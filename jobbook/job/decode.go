package job

import (
	"fmt"
	"path"
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

// decoded is everything the files of all layers say, before nearest wins.
type decoded struct {
	runs         shelf[Run]
	balusters    shelf[Baluster]
	newels       shelf[Newel]
	handrails    shelf[Handrail]
	shoes        shelf[Shoe]
	fillets      shelf[Fillet]
	rosettes     shelf[Rosette]
	bolts        shelf[Bolt]
	finishes     shelf[Finish]
	alternatives shelf[Alternative]
	surveys      shelf[Survey]
	rules        shelf[RuleSet]
	species      shelf[Species]
	fixings      shelf[Fixing]
	fastenings   shelf[Fastening]
	suppliers    shelf[Supplier]
	racks        shelf[Rack]
	deliveries   shelf[Delivery]
	built        shelf[AsBuilt]
	punches      shelf[Punch]
	made         shelf[MadeFile]
	settings     shelf[Settings]
	steps        shelf[Step]
	cautions     shelf[Caution]
	notes        []*source.Document
}

// shelf holds what was found of one kind, in reading order: library, then shop, then job.
type shelf[T any] []shelved[T]

type shelved[T any] struct {
	item *T
	doc  *source.Document
}

// nearest gives, for each name in the order first found, the item of the nearest layer, after keep was called on it with where it came from.
func (s shelf[T]) nearest(keep func(*T, Origin)) []*T {
	at := map[string]int{}
	var items []*T
	origins := []Origin{}
	for _, e := range s {
		i, ok := at[e.doc.Name]
		if !ok {
			i = len(items)
			at[e.doc.Name] = i
			items, origins = append(items, nil), append(origins, Origin{})
		} else {
			origins[i].Over = append(origins[i].Over, origins[i].Layer)
		}
		items[i] = e.item
		origins[i].Name, origins[i].File, origins[i].Layer, origins[i].Prose = e.doc.Name, e.doc.File, e.doc.Layer, Prose{e.doc}
	}
	for i := range items {
		keep(items[i], origins[i])
	}
	return items
}

// Decode reads the documents of all layers, library first, into one job. What is blank stays to be measured; what cannot be
// understood is a problem, all of them together. broken are files already reported, so that their names are not reported as missing.
func Decode(documents, broken []source.Document) (*Job, []source.Problem) {
	d := &decoder{system: length.Inches, broken: broken}
	j := &Job{System: length.Inches}
	files := &decoded{}

	jobFile := d.jobFile(documents, j)
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
	j.System = d.units(first, length.Inches)
	d.system = j.System
	decode(d, first.Front, "a job", jobFields, j, everywhere...)
	return first
}

func (d *decoder) units(doc *source.Document, otherwise length.System) length.System {
	n := doc.Front.Get("units")
	if n.Blank() {
		return otherwise
	}
	switch t := d.oneOf(n, []string{"in", "mm"}); t.Text {
	case "mm":
		return length.Millimetres
	case "in":
		return length.Inches
	}
	return otherwise
}

// file reads one file by its kind. Files outside the job are in inches unless they say otherwise.
func (d *decoder) file(doc *source.Document, j *Job, files *decoded) {
	kind := doc.Front.Get("kind")
	if doc.Front == nil || kind == nil {
		d.note(doc, files)
		return
	}
	d.system = j.System
	if doc.Layer != source.Job {
		d.system = length.Inches
	}
	d.system = d.units(doc, d.system)
	word := d.text(kind, "a kind")
	switch word.Text {
	case "job": // a second one, reported already
	case "run":
		r := &Run{Name: doc.Name, File: doc.File, Prose: Prose{doc}}
		if doc.Layer != source.Job {
			d.problem(kind, "move it into the job's own folder", "a run stands in the %s", doc.Layer)
			return
		}
		read(d, doc, "a run", runFields, r, &files.runs)
	case "flight":
		if doc.Layer != source.Job {
			d.problem(kind, "move it into the job's own folder", "a flight stands in the %s", doc.Layer)
			return
		}
		read(d, doc, "a flight", flightFields, &Run{Name: doc.Name, File: doc.File, Prose: Prose{doc}, Stair: &Stair{}}, &files.runs)
	case "survey":
		if doc.Layer != source.Job {
			d.problem(kind, "move it into the job's own folder", "a survey stands in the %s", doc.Layer)
			return
		}
		read(d, doc, "a survey", surveyFields, &Survey{Name: doc.Name, File: doc.File, Prose: Prose{doc}}, &files.surveys)
	case "alternative":
		if doc.Layer != source.Job {
			d.problem(kind, "move it into the job's own folder", "an alternative stands in the %s", doc.Layer)
			return
		}
		files.alternatives = append(files.alternatives, shelved[Alternative]{d.alternative(doc), doc})
	case "baluster":
		b := &balusterFile{}
		decode(d, doc.Front, "a baluster", balusterFields, b, everywhere...)
		b.Baluster.Profile, b.Baluster.Sized = b.profile(d)
		b.Baluster.Blank, b.Baluster.Plain = b.blank, b.plain()
		b.Baluster.Long, b.Baluster.Wide = b.sizes(b.Baluster.Profile, b.Baluster.Sized)
		b.overPin()
		files.balusters = append(files.balusters, shelved[Baluster]{&b.Baluster, doc})
	case "newel":
		p := &newelFile{}
		decode(d, doc.Front, "a newel", newelFields, p, everywhere...)
		p.Newel.Profile, p.Newel.Sized = p.profile(d)
		p.Newel.Plain = p.plain()
		p.Newel.Long, p.Newel.Wide = p.sizes(p.Newel.Profile, p.Newel.Sized)
		files.newels = append(files.newels, shelved[Newel]{&p.Newel, doc})
	case "handrail":
		read(d, doc, "a handrail", handrailFields, &Handrail{}, &files.handrails)
	case "shoe":
		read(d, doc, "a shoe", shoeFields, &Shoe{}, &files.shoes)
	case "fillet":
		read(d, doc, "a fillet", filletFields, &Fillet{}, &files.fillets)
	case "rosette":
		read(d, doc, "a rosette", rosetteFields, &Rosette{}, &files.rosettes)
	case "bolt":
		read(d, doc, "a bolt", boltFields, &Bolt{}, &files.bolts)
	case "finish":
		read(d, doc, "a finish", finishFields, &Finish{}, &files.finishes)
	case "rules":
		read(d, doc, "a rule set", ruleSetFields, &RuleSet{}, &files.rules)
	case "species":
		read(d, doc, "a species", speciesFields, &Species{}, &files.species)
	case "fixing":
		read(d, doc, "a fixing", fixingFields, &Fixing{}, &files.fixings)
	case "fastening":
		read(d, doc, "a fastening", fasteningFields, &Fastening{}, &files.fastenings)
	case "supplier":
		read(d, doc, "a supplier", supplierFields, &Supplier{}, &files.suppliers)
	case "delivery":
		if doc.Layer != source.Job {
			d.problem(kind, "move it into the job's own folder", "a delivery stands in the %s", doc.Layer)
			return
		}
		read(d, doc, "a delivery", deliveryFields, &Delivery{}, &files.deliveries)
	case "issue":
		if doc.Layer != source.Job {
			d.problem(kind, "move it into the job's own folder", "an issue stands in the %s", doc.Layer)
			return
		}
		i := &Issue{Origin: Origin{Name: doc.Name, File: doc.File, Layer: doc.Layer}, Text: doc.Body}
		decode(d, doc.Front, "an issue", issueFields, i, everywhere...)
		j.Issues = append(j.Issues, i)
	case "as-built":
		if doc.Layer != source.Job {
			d.problem(kind, "move it into the job's own folder", "readings as built stand in the %s", doc.Layer)
			return
		}
		read(d, doc, "readings as built", asBuiltFields, &AsBuilt{}, &files.built)
	case "punch":
		if doc.Layer != source.Job {
			d.problem(kind, "move it into the job's own folder", "a punch list stands in the %s", doc.Layer)
			return
		}
		read(d, doc, "a punch list", punchFields, &Punch{}, &files.punches)
	case "made":
		if doc.Layer != source.Job {
			d.problem(kind, "move it into the job's own folder", "pieces that are made stand in the %s", doc.Layer)
			return
		}
		read(d, doc, "what is made", madeFileFields, &MadeFile{}, &files.made)
	case "rack":
		read(d, doc, "a rack", rackFields, &Rack{}, &files.racks)
	case "settings":
		read(d, doc, "settings", settingsFields, &Settings{}, &files.settings)
	case "step":
		read(d, doc, "a step", stepFields, &Step{}, &files.steps)
	case "caution":
		read(d, doc, "a caution", cautionFields, &Caution{}, &files.cautions)
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
			if strings.ToLower(other.Name) != strings.ToLower(doc.Name) {
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

// collect applies nearest wins to every kind.
func (j *Job) collect(f *decoded) {
	for _, r := range f.runs {
		j.Runs = append(j.Runs, r.item)
	}
	for _, s := range f.surveys {
		j.Surveys = append(j.Surveys, s.item)
	}
	for _, e := range f.alternatives {
		e.item.Origin = Origin{Name: e.doc.Name, File: e.doc.File, Layer: e.doc.Layer, Prose: Prose{e.doc}}
		j.Alternatives = append(j.Alternatives, e.item)
	}
	for _, s := range f.settings {
		s.item.Files = nil
		j.Shop.nearest(*s.item)
		j.Shop.Files = append(j.Shop.Files, source.Pos{File: s.doc.File})
	}
	j.Notes = f.notes
	j.Balusters = f.balusters.nearest(func(b *Baluster, o Origin) { b.Origin = o })
	j.Newels = f.newels.nearest(func(n *Newel, o Origin) { n.Origin = o })
	j.Handrails = f.handrails.nearest(func(h *Handrail, o Origin) { h.Origin = o })
	j.Shoes = f.shoes.nearest(func(s *Shoe, o Origin) { s.Origin = o })
	j.Fillets = f.fillets.nearest(func(x *Fillet, o Origin) { x.Origin = o })
	j.Rosettes = f.rosettes.nearest(func(r *Rosette, o Origin) { r.Origin = o })
	j.Bolts = f.bolts.nearest(func(b *Bolt, o Origin) { b.Origin = o })
	j.Coatings = f.finishes.nearest(func(x *Finish, o Origin) { x.Origin = o })
	for _, x := range j.Coatings {
		for i := range x.Coats {
			if x.Coats[i].Status == 0 {
				x.Coats[i].Status = working.CommonPractice
			}
		}
	}
	j.RuleSets = f.rules.nearest(func(r *RuleSet, o Origin) { r.Origin = o })
	j.Steps = f.steps.nearest(func(s *Step, o Origin) { s.Origin = o })
	for _, s := range j.Steps {
		if !s.Omit.Yes {
			continue
		}
		for _, e := range f.steps { // a dropped step still stands between those before and after it
			if e.doc.Name == s.Name && e.item != s {
				s.After = append(s.After, e.item.After...)
			}
		}
	}
	j.SpeciesList = f.species.nearest(func(s *Species, o Origin) { s.Origin = o })
	j.Fixings = f.fixings.nearest(func(x *Fixing, o Origin) { x.Origin = o })
	j.Fastenings = slices.DeleteFunc(f.fastenings.nearest(func(x *Fastening, o Origin) { x.Origin = o }), func(x *Fastening) bool { return x.Omit.Yes })
	j.Suppliers = f.suppliers.nearest(func(s *Supplier, o Origin) { s.Origin = o })
	for _, e := range f.deliveries {
		e.item.Origin = Origin{Name: e.doc.Name, File: e.doc.File, Layer: e.doc.Layer, Prose: Prose{e.doc}}
		j.Deliveries = append(j.Deliveries, e.item)
	}
	for _, e := range f.built {
		e.item.Origin = Origin{Name: e.doc.Name, File: e.doc.File, Layer: e.doc.Layer, Prose: Prose{e.doc}}
		j.AsBuilt = append(j.AsBuilt, e.item)
	}
	for _, e := range f.punches {
		e.item.Origin = Origin{Name: e.doc.Name, File: e.doc.File, Layer: e.doc.Layer, Prose: Prose{e.doc}}
		j.Punches = append(j.Punches, e.item)
	}
	for _, e := range f.made {
		e.item.Origin = Origin{Name: e.doc.Name, File: e.doc.File, Layer: e.doc.Layer, Prose: Prose{e.doc}}
		j.MadeFiles = append(j.MadeFiles, e.item)
	}
	for _, e := range f.racks {
		e.item.Origin = Origin{Name: e.doc.Name, File: e.doc.File, Layer: e.doc.Layer, Prose: Prose{e.doc}}
		j.Racks = append(j.Racks, e.item)
	}
	j.Cautions = slices.DeleteFunc(f.cautions.nearest(func(c *Caution, o Origin) { c.Origin = o }), func(c *Caution) bool { return c.Omit.Yes })
	for _, s := range f.steps {
		j.stepNames = append(j.stepNames, s.doc.Name)
	}
	for _, c := range f.cautions {
		j.cautionNames = append(j.cautionNames, c.doc.Name)
	}
	j.Division = j.division()
	if c := j.Calendar; c.Start.Given || c.Crew.Given || c.Inspection.Given || len(c.Off) > 0 || len(c.Family) > 0 {
		j.Calendar = c.usual(j.Shop.Calendar)
	}
	j.Tolerance = j.Tolerance.Or(j.Shop.Tolerance)
}

// used keeps the documents that the book shows as recorded: the job's, the shop's but for parts and rules that this job does not name, and those of the library that a number can rest on.
func (j *Job) used(documents []source.Document) []source.Document {
	files := map[string]bool{}
	use := func(o Origin) { files[o.File] = true }
	for _, r := range j.Runs {
		if r.Baluster != nil {
			use(r.Baluster.Origin)
		}
		if s := r.Standing; s != nil && s.Part != nil {
			use(s.Part.Origin)
		}
		if r.Handrail != nil {
			use(r.Handrail.Origin)
		}
		if r.Shoe != nil {
			use(r.Shoe.Origin)
		}
		if r.Fillet != nil {
			use(r.Fillet.Origin)
		}
		if r.Bolt != nil {
			use(r.Bolt.Origin)
		}
		if s := r.Stair; s != nil && s.WallRail.Part != nil {
			use(s.WallRail.Part.Origin)
		}
		for _, e := range []End{r.From, r.To} {
			if e.Plate != nil {
				use(e.Plate.Origin)
			}
		}
	}
	for _, p := range j.Posts {
		if p.Part != nil {
			use(p.Part.Origin)
		}
		if p.Fixing != nil {
			use(p.Fixing.Origin)
		}
	}
	for _, f := range j.Finishes {
		if f.Part != nil {
			use(f.Part.Origin)
		}
	}
	if j.Rules != nil {
		use(j.Rules.Origin)
		for _, l := range j.Rules.Limits {
			files[l.At.File] = true
		}
		for _, l := range j.Rules.Loads {
			files[l.At.File] = true
		}
	}
	for _, p := range j.Panels {
		if p.Part != nil {
			use(p.Part.Origin)
		}
	}
	for _, p := range j.Shop.Files {
		files[p.File] = true
	}
	var list []source.Document
	for _, doc := range documents {
		if kind := doc.Front.Get("kind"); kind != nil && kind.Text == "issue" { // it says what was, and no number rests on it
			continue
		}
		if doc.Layer == source.Job || files[doc.File] || doc.Layer == source.Shop && (!ByName(kindOf(doc)) || linked(documents, doc)) {
			list = append(list, doc)
		}
	}
	return list
}

// byName are the kinds of file in a shop that say nothing to a job which does not name them.
var byName = []string{"baluster", "newel", "handrail", "shoe", "fillet", "rosette", "bolt", "finish", "rules"}

// ByName reports a kind of file of which a shop may have any number: a job rests on those that it names, and the others are no part of its book.
func ByName(kind string) bool { return slices.Contains(byName, kind) }

func kindOf(doc source.Document) string {
	if k := doc.Front.Get("kind"); k != nil {
		return k.Text
	}
	return ""
}

// linked reports that the words of another file of the job or the shop may lead to a file.
func linked(documents []source.Document, to source.Document) bool {
	return slices.ContainsFunc(documents, func(d source.Document) bool {
		return d.Layer != source.Library && d.File != to.File && strings.Contains(d.Body, path.Base(to.File))
	})
}

// RestOn adds the files that an alternative rests on and the job does not, so that the book can show where its numbers come from.
func (j *Job) RestOn(other *Job) {
	for _, doc := range other.Documents {
		if !slices.ContainsFunc(j.Documents, func(d source.Document) bool { return d.File == doc.File }) {
			j.Documents = append(j.Documents, doc)
		}
	}
}
