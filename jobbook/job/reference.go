package job

import (
	"strings"

	"balustrade/jobbook/working"
)

// A Topic is one part of the reference: the keys of a kind of file, or the names that can stand behind one sort of key.
type Topic struct {
	Name  string // one word: a kind, or what the names are
	About string // what it is, without a capital and a full stop
	Kind  bool   // a kind of file; else a list of names
	Keys  []Key  // of a list of names: Form says how each is compared or what it is of, "" where there is nothing to say
}

// Topics gives the reference part by part: every kind of file in the order of Kinds, then the lists of names.
func Topics() []Topic {
	var topics []Topic
	for _, kind := range Kinds {
		topics = append(topics, Topic{kind.Key, joined(kind.Doc, kind.Form), true, kind.Sub})
	}
	for _, list := range []Topic{
		{Name: "measures", About: "what a reading as built can be of, behind `what:`", Keys: BuiltMeasures},
		{Name: "limits", About: "what a rule set can limit, and how each is compared", Keys: LimitNames},
		{Name: "traits", About: "what `when:` of a step or a caution can ask for; each is worked out from the job", Keys: TraitNames},
		{Name: "quantities", About: "what `quantities:` and `minutes: {of: }` of a step can count", Keys: Quantities},
	} {
		names := make([]Key, len(list.Keys))
		for i, k := range list.Keys {
			names[i] = k
			names[i].Form = strings.ReplaceAll(k.Form, "-", " ")
		}
		list.Keys = names
		topics = append(topics, list)
	}
	return topics
}

// AboutFiles says what holds for every file, whatever its kind; code stands in backquotes.
const AboutFiles = "Every file starts with front matter: `---`, keys, `---`. Any file may have `kind`, which says what it is, and `units`, `in` or `mm`, " +
	"which says what a bare number in it means. Without it a file of a job is in the units of its job.md, inches where that says nothing, and a file of a shop in those of the shop's settings; " +
	"where these say nothing either, a job in inches reads the shop in inches, and a job in millimetres refuses lengths of the shop without their unit. The built-in library is in inches, but for rule sets that say otherwise. " +
	"A file without `kind` is a page of notes; it may have `title`, `date` and `for`: whose editions have it beside the whole book, `shop`, `crew`, `client`, `inspector` or a list of them; the crew's alone where absent. A key left blank is a reading still to be taken; one with keys of its own asks for them."

// AboutStatuses says what can stand behind a limit's status.
var AboutStatuses = "Status words: " + strings.Join(working.Statuses, ", ") + ". A limit of status memory is never judged as a pass."

func joined(a, b string) string {
	if b == "" {
		return a
	}
	return a + ", " + b
}
