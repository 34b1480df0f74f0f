package job

import (
	"slices"
	"strings"

	"balustrade/jobbook/source"
	"balustrade/jobbook/working"
)

// Species is a wood, as the handbooks have it.
type Species struct {
	Origin
	Title              Text
	Also               []Text // other names it goes by in a part's species:
	G                  Ratio  // specific gravity that the fastening tables assign to it (NDS Table 12.3.3A), not the handbook's; not given where they have no row
	Status             working.Status
	SG                 Ratio          // specific gravity of the handbook, at 12 % moisture: not the one for fastenings
	Radial, Tangential Ratio          // how much a width changes for each per cent of moisture, per cent of it; across the rings and along them
	Coefficients       working.Status // of those two
	Shrinkage          Shrinkage
	MOE                Ratio  // stiffness, million psi
	MOR                Ratio  // strength in bending, psi
	Memory             []Text // which of sg, moe, mor and shrinkage were not confirmed
	Hard               Flag   // counted among the hardwoods by workshop charts for pilot holes
}

// Shrinkage is how much a width shrinks from green to dry as an oven makes it, per cent.
type Shrinkage struct {
	Radial, Tangential Ratio
}

var speciesFields = []field[Species]{
	textField("title", "name on the page", func(s *Species) *Text { return &s.Title }),
	wordsField("also", "a list of words", "other names that a part's species can have", func(s *Species) *[]Text { return &s.Also }),
	ratioField("g", "specific gravity that the fastening tables assign to it; blank where they have no row: none is made up", []string{""}, func(s *Species) *Ratio { return &s.G }),
	statusField("status", "how sure that is; in a wood of your own, for its strength in bending as well: only what is published is screened by", func(s *Species) *working.Status { return &s.Status }),
	ratioField("sg", "specific gravity of the handbook, at 12 % moisture", []string{""}, func(s *Species) *Ratio { return &s.SG }),
	ratioField("radial", "how much a quarter-sawn width changes for each per cent of moisture", []string{"%"}, func(s *Species) *Ratio { return &s.Radial }),
	ratioField("tangential", "how much a flat-sawn width changes for each per cent of moisture", []string{"%"}, func(s *Species) *Ratio { return &s.Tangential }),
	statusField("coefficients", "how sure those two are", func(s *Species) *working.Status { return &s.Coefficients }),
	mapField("shrinkage", "from green to oven-dry", shrinkageFields, func(s *Species) *Shrinkage { return &s.Shrinkage }),
	ratioField("moe", "stiffness in bending", []string{"Mpsi"}, func(s *Species) *Ratio { return &s.MOE }),
	ratioField("mor", "strength in bending", []string{"psi"}, func(s *Species) *Ratio { return &s.MOR }),
	wordsField("memory", "a list of sg, moe, mor and shrinkage", "which of them are from memory, not read in the handbook", func(s *Species) *[]Text { return &s.Memory }),
	flagField("hard", "whether workshop charts count it among the hardwoods", func(s *Species) *Flag { return &s.Hard }),
}

var shrinkageFields = []field[Shrinkage]{
	ratioField("radial", "across the rings", []string{"%"}, func(s *Shrinkage) *Ratio { return &s.Radial }),
	ratioField("tangential", "along the rings", []string{"%"}, func(s *Shrinkage) *Ratio { return &s.Tangential }),
}

// Wood finds the species that a part's words mean. More than one are names that could be either; none is a wood that is not in the library.
func (j *Job) Wood(words Text) (list []*Species) {
	if !words.Given {
		return nil
	}
	want := strings.TrimSpace(words.Text)
	name := strings.ReplaceAll(strings.ToLower(want), " ", "-")
	for _, s := range j.SpeciesList {
		if s.Name == name || strings.EqualFold(s.Title.Text, want) {
			return []*Species{s}
		}
		if slices.ContainsFunc(s.Also, func(t Text) bool { return strings.EqualFold(t.Text, want) }) {
			list = append(list, s)
		}
	}
	return list
}

// NoWood says that no species goes by a part's words, and which ones may have been meant: those that are like it by any of their names. others
// are all that there are, where none is like it.
func (j *Job) NoWood(words Text) (says, others string) {
	var names []string
	of := map[string]*Species{}
	for _, s := range j.SpeciesList {
		for _, name := range append([]Text{{Text: s.called()}, s.Title}, s.Also...) {
			name.Text = strings.ToLower(name.Text)
			if of[name.Text] == nil {
				of[name.Text] = s
				names = append(names, name.Text)
			}
		}
	}
	alike := source.Alike(words.Text, names)
	if len(alike) == 0 { // tulipwood is the wood of a tulip tree
		alike = source.Alike(strings.TrimSuffix(strings.ToLower(words.Text), "wood"), names)
	}
	var meant []string
	for _, name := range alike {
		if called := of[name].called(); !slices.Contains(meant, called) {
			meant = append(meant, called)
		}
	}
	const none = "no species goes by that name"
	if len(meant) > 0 {
		return none + ", but " + strings.Join(meant, " or ") + " does", ""
	}
	for _, s := range j.SpeciesList {
		meant = append(meant, s.called())
	}
	return none, source.Hint("", "woods that are known: ", meant)
}

// called is the name of a species as it stands in a part.
func (s *Species) called() string { return strings.ReplaceAll(s.Name, "-", " ") }
