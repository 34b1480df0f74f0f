package job

import (
	"slices"
	"strings"

	"balustrade/jobbook/length"
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
	{"all-runs", "keys and values", "keys for every run and flight that can have them", nil},
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
		case "runs":
			if !d.layable(e.Value, e.Key, "write a run's name, and its keys below it") {
				continue
			}
			for _, r := range e.Value.Entries {
				if d.layable(r.Value, clip(r.Key), "write a key and its value below the run's name") {
					a.note(r.Key, "", r.Value)
				}
			}
		case "job", "all-runs", "settings":
			if !d.layable(e.Value, e.Key, "write a key and its value below it") {
				continue
			}
			if e.Key == "all-runs" {
				known := append(names(runFields), names(flightFields)...)
				for _, r := range e.Value.Entries {
					if !slices.Contains(known, r.Key) && !slices.Contains(everywhere, r.Key) {
						d.unknown(r.At, r.Key, "key", "a run or a flight", known)
					}
				}
			}
			a.note(map[string]string{"job": "job.md", "all-runs": "all runs", "settings": "settings"}[e.Key], "", e.Value)
		default:
			d.unknown(e.At, e.Key, "key", "an alternative", keyNames(alternativeKeys))
		}
	}
	return a
}

// layable reports keys and values that can be laid over a file; a blank one lays nothing over it.
func (d *decoder) layable(n *source.Node, what, hint string) bool {
	if n.Blank() {
		return false
	}
	if n.Kind != source.Map {
		d.problem(n, hint, "want keys and values for %s, found %s", what, shape(n))
		return false
	}
	for _, e := range n.Entries {
		switch e.Key {
		case "kind":
			d.at(e.At, len(e.Key), "leave the key out", "an alternative does not change the kind of a file")
		case "units":
			d.at(e.At, len(e.Key), "write the unit with each length, as in 90 mm", "an alternative is in the units of the file that it is laid over")
		}
	}
	return true
}

// note lists the changes below a node.
func (a *Alternative) note(of, key string, n *source.Node) {
	if n != nil && n.Kind == source.Map && (len(n.Entries) > 0 || key == "") {
		for _, e := range n.Entries {
			name := e.Key
			if key != "" {
				name = key + ": " + e.Key
			}
			a.note(of, name, e.Value)
		}
		return
	}
	a.Changes = append(a.Changes, Change{Of: of, Key: key, Value: written(n), At: n.At})
}

// written is a node on one line, as it could have been written.
func written(n *source.Node) string {
	var list []string
	switch {
	case n.Kind == source.List:
		for _, item := range n.Items {
			list = append(list, written(item))
		}
		return "[" + strings.Join(list, ", ") + "]"
	case n.Kind == source.Map:
		for _, e := range n.Entries {
			list = append(list, e.Key+": "+written(e.Value))
		}
		return "{" + strings.Join(list, ", ") + "}"
	}
	return n.Text
}

// Over gives the documents of the job with the alternative's keys laid over them: maps key by key, everything else replaced. The documents themselves stay as they are. A problem
// is a run or a post that the job does not have.
func (a *Alternative) Over(documents []source.Document) ([]source.Document, []source.Problem) {
	d := &decoder{}
	list := slices.Clone(documents)
	front := a.document.Front
	var runs, ends []string
	var posts *source.Node // of the job itself
	for i := range list {
		doc := &list[i]
		if doc.Layer != source.Job || doc.Front == nil {
			continue
		}
		kind := doc.Front.Get("kind")
		switch {
		case kind == nil:
		case kind.Text == "job":
			posts = doc.Front.Get("posts")
			doc.Front = overFile(doc.Front, front.Get("job"))
		case kind.Text == "run" || kind.Text == "flight":
			known := names(runFields)
			if kind.Text == "flight" {
				known = names(flightFields)
			}
			runs = append(runs, doc.Name)
			doc.Front = overFile(overFile(doc.Front, only(front.Get("all-runs"), known)), front.Get("runs").Get(doc.Name))
			for _, end := range []*source.Node{doc.Front.Get("from"), doc.Front.Get("to")} {
				if at := end.Get("at"); at != nil {
					end = at
				}
				if end != nil {
					ends = append(ends, end.Text)
				}
			}
		}
	}
	for _, e := range entries(front.Get("runs")) {
		if !slices.Contains(runs, e.Key) {
			d.missing(Text{Text: e.Key, At: e.At, Given: true}, "run", slices.Clone(runs))
		}
	}
	var known []string
	for _, e := range entries(posts) {
		known = append(known, e.Key)
	}
	for _, e := range entries(front.Get("job").Get("posts")) {
		if !slices.Contains(known, e.Key) && !slices.Contains(ends, e.Key) { // a new post is one that a run comes to
			d.missing(Text{Text: e.Key, At: e.At, Given: true}, "post", slices.Clone(known))
		}
	}
	if s := front.Get("settings"); len(entries(s)) > 0 {
		kind := source.Entry{Key: "kind", At: s.At, Value: &source.Node{Kind: source.Scalar, At: s.At, Text: "settings"}}
		doc := *a.document // its text is what a place in it is shown by
		doc.Name, doc.Front = "settings", &source.Node{Kind: source.Map, At: s.At, Entries: append([]source.Entry{kind}, s.Entries...)}
		list = append(list, doc)
	}
	return list, d.problems
}

// ReadAt are the heights of the middle of a level run's guard and of the middle of its rail, above the floor that it stands on.
type ReadAt struct {
	Middle, Rail length.Length
}

// Moved is a run whose rail an alternative puts at another height than the one at which the job's clears were read.
type Moved struct {
	Run     string
	Was, Is ReadAt // of a level run
}

// Keep leaves readings where they were taken: a clear that the job names middle or rail was read at the job's own rail, and an alternative's rail at another height is no
// reason to think that it would be the same there. They become readings at the heights they were taken at; the one along a flight's rail, which has no such form, is to
// be read again. What the alternative itself says stays.
func (a *Alternative) Keep(documents []source.Document, moved []Moved) []source.Document {
	list := slices.Clone(documents)
	for i := range list {
		doc := &list[i]
		at := slices.IndexFunc(moved, func(m Moved) bool { return m.Run == doc.Name })
		kind, clear := doc.Front.Get("kind"), doc.Front.Get("clear")
		if at < 0 || doc.Layer != source.Job || kind == nil || clear == nil || clear.Kind != source.Map {
			continue
		}
		switch kind.Text {
		case "flight":
			if rake := clear.Get("rake"); rake != nil && rake.At.File != a.document.File {
				blank := &source.Node{Kind: source.Map, At: clear.At, Entries: []source.Entry{{Key: "rake", At: rake.At, Value: &source.Node{Kind: source.Scalar, At: rake.At}}}}
				doc.Front = over(doc.Front, &source.Node{Kind: source.Map, Entries: []source.Entry{{Key: "clear", At: clear.At, Value: blank}}})
			}
		case "run":
			fixed := &source.Node{Kind: source.List, At: clear.At}
			for _, name := range ClearNames {
				read := clear.Get(name)
				if read == nil || name == "rail" && read.Blank() { // without one it is asked for
					continue
				}
				heights := moved[at].Was
				if read.At.File == a.document.File {
					heights = moved[at].Is
				}
				height := map[string]length.Length{"middle": heights.Middle, "rail": heights.Rail}[name]
				text := length.Style{System: length.Millimetres, Division: length.Nanometre, Rounding: length.Nearest}.Decimal(height, 6) + " mm" // six places: exact
				fixed.Items = append(fixed.Items, &source.Node{Kind: source.Map, At: read.At, Entries: []source.Entry{
					{Key: "at", At: read.At, Value: &source.Node{Kind: source.Scalar, At: read.At, Text: text}},
					{Key: "read", At: read.At, Value: read},
				}})
			}
			doc.Front = over(doc.Front, &source.Node{Kind: source.Map, Entries: []source.Entry{{Key: "clear", At: clear.At, Value: fixed}}})
		}
	}
	return list
}

func entries(n *source.Node) []source.Entry {
	if n == nil {
		return nil
	}
	return n.Entries
}

// only keeps the known keys of a map.
func only(n *source.Node, known []string) *source.Node {
	if n == nil || n.Kind != source.Map {
		return n
	}
	kept := *n
	kept.Entries = slices.DeleteFunc(slices.Clone(n.Entries), func(e source.Entry) bool { return !slices.Contains(known, e.Key) })
	return &kept
}

// overFile lays keys over a file's; a blank where keys could be lays nothing over it.
func overFile(base, top *source.Node) *source.Node {
	if top.Blank() {
		return base
	}
	return over(base, top)
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
