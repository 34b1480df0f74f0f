package job

import (
	"path"
	"slices"
	"strings"

	"balustrade/jobbook/source"
)

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

// all gives every item, whatever its name, after keep was called on it with where it came from.
func (s shelf[T]) all(keep func(*T, Origin)) (items []*T) {
	for _, e := range s {
		keep(e.item, originOf(e.doc))
		items = append(items, e.item)
	}
	return items
}

func originOf(doc *source.Document) Origin {
	return Origin{Name: doc.Name, File: doc.File, Layer: doc.Layer, Prose: Prose{doc}}
}

// nearest gives, for each name in the order first found, the item of the nearest layer, after keep was called on it with where it came from.
func (s shelf[T]) nearest(keep func(*T, Origin)) []*T {
	at := make(map[string]int, len(s))
	won, over := make(shelf[T], 0, len(s)), map[string][]source.Layer{}
	for _, e := range s {
		i, ok := at[e.doc.Name]
		if !ok {
			at[e.doc.Name] = len(won)
			won = append(won, e)
			continue
		}
		over[e.doc.Name] = append(over[e.doc.Name], won[i].doc.Layer)
		won[i] = e
	}
	items := slices.Grow([]*T(nil), len(won))
	for _, e := range won {
		from := originOf(e.doc)
		from.Over = over[e.doc.Name]
		keep(e.item, from)
		items = append(items, e.item)
	}
	return items
}

// collect applies nearest wins to every kind.
func (j *Job) collect(f *decoded) {
	for _, r := range f.runs {
		j.Runs = append(j.Runs, r.item)
	}
	for _, s := range f.surveys {
		j.Surveys = append(j.Surveys, s.item)
	}
	j.Alternatives = f.alternatives.all(func(x *Alternative, o Origin) { x.Origin = o })
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
	j.supplyNames = j.supplies()
	j.RuleSets = f.rules.nearest(func(r *RuleSet, o Origin) { r.Origin = o })
	j.Steps = f.steps.nearestShared(keepStep)
	for _, s := range j.Steps {
		if !s.Omit.Yes {
			continue
		}
		for _, e := range f.steps { // a dropped step still stands between those before and after it
			if e.doc.Name == s.Name && e.doc.File != s.File {
				s.After = slices.Concat(s.After, e.item.After)
			}
		}
	}
	j.SpeciesList = f.species.nearestShared(keepSpecies)
	j.Fixings = f.fixings.nearestShared(keepFixing)
	j.Fastenings = slices.DeleteFunc(f.fastenings.nearest(func(x *Fastening, o Origin) { x.Origin = o }), func(x *Fastening) bool { return x.Omit.Yes })
	j.Suppliers = f.suppliers.nearest(func(s *Supplier, o Origin) { s.Origin = o })
	j.Deliveries = f.deliveries.all(func(x *Delivery, o Origin) { x.Origin = o })
	j.AsBuilt = f.built.all(func(x *AsBuilt, o Origin) { x.Origin = o })
	j.Punches = f.punches.all(func(x *Punch, o Origin) { x.Origin = o })
	j.MadeFiles = f.made.all(func(x *MadeFile, o Origin) { x.Origin = o })
	j.Racks = f.racks.all(func(x *Rack, o Origin) { x.Origin = o })
	j.Cautions = slices.DeleteFunc(f.cautions.nearestShared(keepCaution), func(c *Caution) bool { return c.Omit.Yes })
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
		for _, f := range r.Fillets() {
			use(f.Origin)
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
