package main

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"balustrade/jobbook/job"
)

func keysCommand() *cobra.Command {
	return &cobra.Command{
		Use:   "keys [KIND [KEY]]",
		Short: "every key that a file can have, and what it means",
		Long: `Without a word, lists the kinds of file. With a KIND, lists its keys: what each
means and what it takes. With a KEY behind it, that one and those below it, as
in "jobbook keys run clear" and "jobbook keys job posts turn".`,
		DisableFlagsInUseLine: true,
		RunE: func(cmd *cobra.Command, args []string) error {
			if len(args) == 0 {
				listTopics(cmd.OutOrStdout())
				return nil
			}
			topics := job.Topics()
			at := slices.IndexFunc(topics, func(t job.Topic) bool { return t.Name == args[0] })
			if at < 0 {
				return unknownTopic(args[0], topics)
			}
			var found [][]job.Key
			path := keyPath(args[1:])
			if len(path) > 0 {
				if found = findKeys(topics[at].Keys, path); found == nil {
					return unknownKey(topics[at], path)
				}
			}
			writeTopic(cmd.OutOrStdout(), topics[at], found)
			return nil
		},
	}
}

// listTopics lists what can be asked about.
func listTopics(out io.Writer) {
	fmt.Fprintf(out, "%s\n\nkinds\n", folded(job.AboutFiles, ""))
	topics := job.Topics()
	widest := 0
	for _, t := range topics {
		widest = max(widest, len(t.Name))
	}
	for i, t := range topics {
		if i > 0 && !t.Kind && topics[i-1].Kind {
			fmt.Fprint(out, "\nnames that stand behind keys\n")
		}
		indent := strings.Repeat(" ", 2+widest+2)
		fmt.Fprintf(out, "  %-*s  %s\n", widest, t.Name, folded(t.About, indent))
	}
	fmt.Fprint(out, "\n  jobbook keys KIND       its keys, and what they take\n  jobbook keys KIND KEY   one of them, and those below it\n")
}

// keyPath is a key as it is typed or copied from the reference, "posts: turn" or posts turn, from the outermost key in.
func keyPath(words []string) []string {
	return strings.Fields(strings.ReplaceAll(strings.Join(words, " "), ":", " "))
}

// findKeys gives the way to each key that a path leads to: from the top alone where there is one, else from any key further in.
func findKeys(keys []job.Key, path []string) (ways [][]job.Key) {
	var walk func(keys []job.Key, under []job.Key)
	walk = func(keys []job.Key, under []job.Key) {
		for _, k := range keys {
			way := append(slices.Clone(under), k)
			if endsWith(way, path) {
				ways = append(ways, way)
			}
			walk(k.Sub, way)
		}
	}
	walk(keys, nil)
	for _, way := range ways {
		if strings.Join(names(way), " ") == strings.Join(path, " ") {
			return [][]job.Key{way}
		}
	}
	return ways
}

func endsWith(way []job.Key, path []string) bool {
	return strings.HasSuffix(" "+strings.Join(names(way), " "), " "+strings.Join(path, " "))
}

func names(keys []job.Key) (list []string) {
	for _, k := range keys {
		list = append(list, k.Key)
	}
	return list
}

func unknownTopic(word string, topics []job.Topic) error {
	var known, having []string
	for _, t := range topics {
		known = append(known, t.Name)
		if slices.Contains(names(t.Keys), word) {
			having = append(having, t.Name)
		}
	}
	m := &mistake{summary: fmt.Sprintf("unknown kind %q", word), hint: meant(word, known, "list the kinds with: jobbook keys")}
	switch {
	case len(having) == 1:
		m.hint = fmt.Sprintf("put the kind before the key: jobbook keys %s %s", having[0], word)
	case len(having) > 1:
		m.hint = fmt.Sprintf("put the kind before the key, one of %s: jobbook keys %s %s", strings.Join(having, ", "), having[0], word)
	}
	return m
}

func unknownKey(t job.Topic, path []string) error {
	var known []string
	var walk func(keys []job.Key)
	walk = func(keys []job.Key) {
		for _, k := range keys {
			known = append(known, k.Key)
			walk(k.Sub)
		}
	}
	walk(t.Keys)
	last := path[len(path)-1]
	known = slices.DeleteFunc(known, func(k string) bool { return k == last }) // it is a key, below another one
	return &mistake{summary: fmt.Sprintf("%s has no key %q", t.Name, strings.Join(path, ": ")), hint: meant(last, known, "list its keys with: jobbook keys "+t.Name)}
}

// writeTopic writes the keys of a kind, or those alone to which the ways lead, as they stand in a file: each below its own, further in.
func writeTopic(out io.Writer, t job.Topic, ways [][]job.Key) {
	fmt.Fprintf(out, "%s\n\n", folded(t.Name+": "+t.About, ""))
	if ways == nil {
		for _, k := range t.Keys {
			writeKey(out, k, 1, t.Kind)
		}
	}
	last := []string{}
	for _, way := range ways {
		above := names(way[:len(way)-1])
		for depth, key := range above {
			if !slices.Equal(above[:depth+1], last[:min(depth+1, len(last))]) {
				fmt.Fprintf(out, "%s%s:\n", strings.Repeat("  ", depth+1), key)
			}
		}
		last = above
		writeKey(out, way[len(way)-1], len(way), t.Kind)
	}
	if t.Name == "rules" || t.Name == "limits" {
		fmt.Fprintf(out, "\n%s\n", folded(job.AboutStatuses, ""))
	}
}

// writeKey writes one key with what it means and takes, and those below it; a name that stands behind a key has no colon of its own.
func writeKey(out io.Writer, k job.Key, depth int, kind bool) {
	const column = 24 // where meanings begin
	indent := strings.Repeat(" ", column)
	head, tail := strings.Repeat("  ", depth)+k.Key, ""
	switch {
	case kind:
		head, tail = head+":", "\n"+indent+folded("takes "+k.Form, indent)
	case k.Form != "":
		tail = " (" + k.Form + ")"
	}
	if len(head) > column-2 {
		head += "\n" + indent
	}
	if kind {
		fmt.Fprintf(out, "%-*s%s%s\n", column, head, folded(k.Doc, indent), tail)
	} else {
		fmt.Fprintf(out, "%-*s%s\n", column, head, folded(k.Doc+tail, indent))
	}
	for _, s := range k.Sub {
		writeKey(out, s, depth+1, kind)
	}
}

// folded puts words into lines of at most 80 letters, the first of which begins as far in as the others; what is marked as code for Markdown
// loses its marks.
func folded(text, indent string) string {
	const width = 80
	var b strings.Builder
	at := len(indent)
	for i, word := range strings.Fields(strings.ReplaceAll(text, "`", "")) {
		long := len([]rune(word))
		switch {
		case i == 0:
		case at+1+long > width:
			b.WriteString("\n" + indent)
			at = len(indent)
		default:
			b.WriteString(" ")
			at++
		}
		b.WriteString(word)
		at += long
	}
	return b.String()
}
