package job

import (
	"slices"

	"balustrade/jobbook/source"
)

// Alternative is another way to build the job: keys that are laid over those of its files.
type Alternative struct {
	Origin
	Title    Text
	Changes  []Change
	document *source.Document
}

// Change is one key that an alternative changes.
type Change struct {
	Of    string // job.md, the run's name, all runs, the settings
	Key   string // clear: floor
	Value string // as written; empty for a key left blank
	At    source.Pos
}

// alternativeKeys are an alternative's own keys; what stands below them are the keys of the files that they are laid over.
var alternativeKeys = []Key{
	{"title", "words", "name on the page", nil},
	{"job", "keys and values", "keys of job.md, to be laid over those there", nil},
	{"runs", "keys and values", "keys of runs and flights, below the name of each", nil},
	{"all-runs", "keys and values", "keys for every run and flight", nil},
	{"settings", "keys and values", "settings, over the shop's and the job's", nil},
}

// alternative reads what an alternative itself says; the keys below are read when it is laid over the job.
func (d *decoder) alternative(doc *source.Document) *Alternative {
	a := &Alternative{document: doc}
	for _, e := range doc.Front.Entries {
		switch e.Key {
		case "kind":
		case "title":
			a.Title = d.text(e.Value, "words")
		case "units":
			d.problem(e.Value, "write the unit with each length, as in 90 mm", "an alternative is in the units of its job")
		case "job", "all-runs", "settings", "runs":
			if e.Value.Blank() {
				continue
			}
			if e.Value.Kind != source.Map {
				d.problem(e.Value, "write a key and its value below it", "want keys and values for %s, found %s", e.Key, shape(e.Value))
				continue
			}
			if e.Key != "runs" {
				a.note(map[string]string{"job": "job.md", "all-runs": "all runs", "settings": "settings"}[e.Key], "", e.Value)
				continue
			}
			for _, r := range e.Value.Entries {
				if !r.Value.Blank() && r.Value.Kind != source.Map {
					d.problem(r.Value, "write a key and its value below the run's name", "want keys and values for %s, found %s", clip(r.Key), shape(r.Value))
					continue
				}
				a.note(r.Key, "", r.Value)
			}
		default:
			d.unknown(e.At, e.Key, "key", "an alternative", keyNames(alternativeKeys))
		}
	}
	return a
}

// note lists the changes below a node.
func (a *Alternative) note(of, key string, n *source.Node) {
	if n != nil && n.Kind == source.Map {
		for _, e := range n.Entries {
			name := e.Key
			if key != "" {
				name = key + ": " + e.Key
			}
			a.note(of, name, e.Value)
		}
		return
	}
	if key == "" {
		return
	}
	c := Change{Of: of, Key: key}
	if n != nil {
		c.At, c.Value = n.At, n.Text
		if n.Kind == source.List {
			c.Value = "a list"
		}
	}
	a.Changes = append(a.Changes, c)
}

// Over gives the documents of the job with the alternative's keys laid over them: maps key by key, everything else replaced. The documents themselves stay as they are. A problem
// is a run that the job does not have.
func (a *Alternative) Over(documents []source.Document) ([]source.Document, []source.Problem) {
	d := &decoder{}
	list := slices.Clone(documents)
	front := a.document.Front
	var names []string
	used := map[string]bool{}
	for i := range list {
		doc := &list[i]
		if doc.Layer != source.Job || doc.Front == nil {
			continue
		}
		switch kind := doc.Front.Get("kind"); {
		case kind == nil:
		case kind.Text == "job":
			doc.Front = over(doc.Front, front.Get("job"))
		case kind.Text == "run" || kind.Text == "flight":
			names = append(names, doc.Name)
			used[doc.Name] = true
			doc.Front = over(over(doc.Front, front.Get("all-runs")), front.Get("runs").Get(doc.Name))
		}
	}
	if runs := front.Get("runs"); runs != nil && runs.Kind == source.Map {
		for _, e := range runs.Entries {
			if !used[e.Key] {
				d.missing(Text{Text: e.Key, At: e.At, Given: true}, "run", slices.Clone(names))
			}
		}
	}
	if s := front.Get("settings"); s != nil && s.Kind == source.Map {
		kind := source.Entry{Key: "kind", At: s.At, Value: &source.Node{Kind: source.Scalar, At: s.At, Text: "settings"}}
		list = append(list, source.Document{File: a.document.File, Name: "settings", Layer: source.Job, Front: &source.Node{Kind: source.Map, At: s.At, Entries: append([]source.Entry{kind}, s.Entries...)}})
	}
	return list, d.problems
}

// over lays one node over another.
func over(base, top *source.Node) *source.Node {
	if top == nil {
		return base
	}
	if base == nil || base.Kind != source.Map || top.Kind != source.Map {
		return top
	}
	merged := *base
	merged.Entries = slices.Clone(base.Entries)
	for _, e := range top.Entries {
		i := slices.IndexFunc(merged.Entries, func(x source.Entry) bool { return x.Key == e.Key })
		if i < 0 {
			merged.Entries = append(merged.Entries, e)
			continue
		}
		merged.Entries[i] = source.Entry{Key: e.Key, At: e.At, Value: over(merged.Entries[i].Value, e.Value)}
	}
	return &merged
}
