package jobbook_test

import (
	"fmt"
	"os"
	"strings"
	"testing"

	"balustrade/jobbook/job"
)

// TestReference fails when the page of every key is not what the decoder reads by; -update writes it.
func TestReference(t *testing.T) {
	const file = "../templates/KEYS.md"
	if *update {
		if err := os.WriteFile(file, []byte(reference()), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	if text, err := os.ReadFile(file); err != nil || string(text) != reference() {
		t.Fatalf("templates/KEYS.md is stale (%v): go test ./jobbook -run TestReference -update", err)
	}
}

// reference is every key of every kind of file, as a page of Markdown, from the same tables that the decoder reads by.
func reference() string {
	var b strings.Builder
	b.WriteString("# Every key\n\nThe same in the terminal: `jobbook keys`, `jobbook keys KIND`, `jobbook keys KIND KEY`.\n\n" + job.AboutFiles + "\n\n")
	for i, t := range job.Topics() {
		if i > 0 {
			b.WriteString(" · ")
		}
		fmt.Fprintf(&b, "[%s](#%s)", t.Name, strings.ReplaceAll(strings.ReplaceAll(topicHeading(t), ":", ""), " ", "-"))
	}
	b.WriteString("\n")
	for _, t := range job.Topics() {
		fmt.Fprintf(&b, "\n## %s\n\n%s.\n\n", topicHeading(t), strings.ToUpper(t.About[:1])+t.About[1:])
		if t.Kind {
			b.WriteString("| key | takes | meaning |\n| --- | --- | --- |\n")
			writeKeys(&b, t.Keys, "")
			continue
		}
		b.WriteString("| name | meaning |\n| --- | --- |\n")
		for _, k := range t.Keys {
			doc := k.Doc
			if k.Form != "" {
				doc += " (" + k.Form + ")"
			}
			fmt.Fprintf(&b, "| `%s` | %s |\n", k.Key, tableCell(doc))
		}
	}
	fmt.Fprintf(&b, "\n%s\n", job.AboutStatuses)
	return b.String()
}

func topicHeading(t job.Topic) string {
	if t.Kind {
		return "kind: " + t.Name
	}
	return t.Name
}

func writeKeys(b *strings.Builder, keys []job.Key, under string) {
	for _, k := range keys {
		fmt.Fprintf(b, "| `%s%s` | %s | %s |\n", under, k.Key, tableCell(k.Form), tableCell(k.Doc))
		writeKeys(b, k.Sub, under+k.Key+": ")
	}
}

func tableCell(s string) string { return strings.ReplaceAll(s, "|", "\\|") }
