package job

import (
	"fmt"
	"strings"

	"balustrade/jobbook/working"
)

// Reference is every key of every kind of file, as Markdown, from the same tables that the decoder reads by.
func Reference() string {
	var b strings.Builder
	b.WriteString("Every file starts with front matter: `---`, keys, `---`. Any file may have `kind`, which says what it is, and `units`, `in` or `mm`, " +
		"which says what a bare number in it means; without `units`, the job's own files are in the job's units and all others in inches. " +
		"A file without `kind` is a page of notes; it may have `title`, `date` and `for`: whose editions have it beside the whole book, `shop`, `crew`, `client`, `inspector` or a list of them; the crew's alone where absent. A key left blank is a reading still to be taken; one with keys of its own asks for them.\n")
	for _, kind := range Kinds {
		fmt.Fprintf(&b, "\n#### kind: %s\n\n%s.\n\n| key | takes | meaning |\n| --- | --- | --- |\n", kind.Key, sentence(joined(kind.Doc, kind.Form)))
		writeKeys(&b, kind.Sub, "")
	}
	list := func(title, intro string, keys []Key) {
		fmt.Fprintf(&b, "\n#### %s\n\n%s\n\n| name | meaning |\n| --- | --- |\n", title, intro)
		for _, k := range keys {
			doc := k.Doc
			if k.Form != "" {
				doc += " (" + strings.ReplaceAll(k.Form, "-", " ") + ")"
			}
			fmt.Fprintf(&b, "| `%s` | %s |\n", k.Key, cell(doc))
		}
	}
	list("Measures as built", "What `what:` of a reading as built can be.", BuiltMeasures)
	list("Limits", "What a rule set can limit, and how each is compared.", LimitNames)
	list("Traits", "What `when:` of a step or a caution can ask for; each is worked out from the job.", TraitNames)
	list("Quantities", "What `quantities:` and `minutes: {of: }` of a step can count.", Quantities)
	fmt.Fprintf(&b, "\nStatus words: %s. A limit of status memory is never judged as a pass.\n", strings.Join(working.Statuses, ", "))
	return b.String()
}

func writeKeys(b *strings.Builder, keys []Key, under string) {
	for _, k := range keys {
		fmt.Fprintf(b, "| `%s%s` | %s | %s |\n", under, k.Key, cell(k.Form), cell(k.Doc))
		writeKeys(b, k.Sub, under+k.Key+": ")
	}
}

func cell(s string) string { return strings.ReplaceAll(s, "|", "\\|") }

func joined(a, b string) string {
	if b == "" {
		return a
	}
	return a + ", " + b
}

func sentence(s string) string { return strings.ToUpper(s[:1]) + s[1:] }
