package book

import (
	"slices"
	"strings"

	"balustrade/jobbook/finding"
	"balustrade/jobbook/length"
)

// shapes are the marks of the verdicts, each of its own shape; the words beside them say the same.
var shapes = map[finding.Verdict]markup{
	finding.Fail:         `<rect x="1" y="1" width="14" height="14" fill="currentColor"/><path d="M5 5l6 6M11 5l-6 6" class="on" fill="none" stroke-width="2"/>`,
	finding.ToBeMeasured: `<circle cx="8" cy="8" r="6" fill="none" stroke="currentColor" stroke-width="1.6" stroke-dasharray="3 2.2"/>`,
	finding.AskAuthority: `<path d="M8 1l7 7-7 7-7-7z" fill="none" stroke="currentColor" stroke-width="1.6"/><circle cx="8" cy="8" r="1.5" fill="currentColor"/>`,
	finding.Screened:     `<circle cx="8" cy="8" r="6" fill="none" stroke="currentColor" stroke-width="1.6"/><path d="M5 8h6" fill="none" stroke="currentColor" stroke-width="1.6"/>`,
	finding.NotRequired:  `<path d="M2 8h12" fill="none" stroke="currentColor" stroke-width="1.6"/>`,
	finding.Pass:         `<path d="M2 8.5l4 4L14 3" fill="none" stroke="currentColor" stroke-width="2"/>`,
}

// verdictMark is the mark and the word of a verdict.
func verdictMark(v finding.Verdict, words string) markup {
	var w writer
	putVerdict(&w, v, words)
	return w.markup()
}

// putVerdict writes it where it stands.
func putVerdict(w *writer, v finding.Verdict, words string) {
	class := strings.ReplaceAll(v.String(), " ", "-")
	w.say(`<span class="verdict %s"><svg class="shape" viewBox="0 0 16 16" width="16" height="16" aria-hidden="true">%s</svg> %s</span>`, class, shapes[v], words)
}

// answer is what the whole plan comes to.
type answer struct {
	verdict finding.Verdict
	words   string
}

// answer sums up the findings about what is to be built. Those about an old guard are told apart.
func (b *book) answer() answer {
	var n [finding.Pass + 1]int
	for _, f := range b.checked() {
		if !b.plan.OfOld(f) && f.Verdict >= finding.Fail && f.Verdict <= finding.Pass {
			n[f.Verdict]++
		}
	}
	missing := len(b.open())
	switch {
	case n[finding.Fail] > 0:
		return answer{finding.Fail, "No: " + counted(n[finding.Fail], "check fails", "checks fail")}
	case missing > 0:
		return answer{finding.ToBeMeasured, "Not known yet: " + counted(missing, "thing is", "things are") + " still to be measured or decided"}
	case n[finding.ToBeMeasured] > 0:
		return answer{finding.ToBeMeasured, "Not known yet: " + counted(n[finding.ToBeMeasured], "check waits", "checks wait") + " for a reading"}
	case n[finding.AskAuthority] > 0:
		return answer{finding.AskAuthority, "Ask first: " + counted(n[finding.AskAuthority], "point", "points") + " to check with the authority"}
	case n[finding.Pass] > 0:
		return answer{finding.Pass, "Yes: every check passes, by the readings in this book"}
	}
	return answer{finding.ToBeMeasured, "Not known yet: nothing has been checked"}
}

// checked are the findings that the book tells of: for the inspector those about the guard itself, old and new. Sizes that go together without a clause are the shop's own care, and
// the inspector's where they do not; days, deliveries and coats are between the shop and the household.
func (b *book) checked() []finding.Finding {
	if b.edition != Inspector {
		return b.plan.Findings
	}
	return slices.DeleteFunc(slices.Clone(b.plan.Findings), func(f finding.Finding) bool {
		kind, _, _ := strings.Cut(f.Group, "/")
		return !slices.Contains([]string{"run", "post", "survey", "as-built"}, kind) || f.Verdict == finding.Pass && f.Clause == "" && kind != "as-built"
	})
}

// open is what is still to be measured or decided of what the book tells: the shop's own questions, of screws, goods and days, change nothing that the client or the inspector sees.
func (b *book) open() []finding.Reading {
	if b.edition != Inspector && b.edition != Client {
		return b.plan.Missing
	}
	return slices.DeleteFunc(slices.Clone(b.plan.Missing), func(m finding.Reading) bool {
		return slices.Contains([]string{"fixings", "made", "coating", "calendar", "buying", "price"}, m.Group)
	})
}

func findingAnchor(f finding.Finding) string {
	return "check-" + anchor(strings.TrimPrefix(f.ID, "check/"))
}

// saidOf is what a value is: planned, for a guard that is still to be built; measured, for what was read.
func saidOf(f finding.Finding) string {
	if (strings.HasPrefix(f.Group, "run/") || strings.HasPrefix(f.Group, "post/")) && !strings.HasSuffix(f.ID, "/guard-drop") {
		return "Planned"
	}
	return "Measured"
}

// comparedWith puts a finding's numbers in words: 3.934 in, under 4.000 in wanted, 0.066 in inside.
func (b *book) comparedWith(f finding.Finding) markup {
	var measured, limit, margin markup
	v, l := b.decimals(f.Measured, 0, b.places()), b.decimals(f.Limit, 0, b.places())
	switch {
	case f.Clause == "": // sizes for the saw, not a code's
		v, l = b.exact(f.Measured), b.exact(f.Limit)
	case f.HasValue && f.HasLimit:
		v, l = b.judged(f.Measured, f.Limit, f.Op)
		if n := b.whole(f.Measured); n > 0 {
			v = b.decimals(f.Measured, length.Nearest, n)
		}
	}
	if f.HasValue {
		measured = say("%s %s %s", saidOf(f), b.figured(f.Figure, v), b.unit())
	}
	if f.HasLimit {
		limit = say("wanted %s", b.comparison(f.Op, b.recorded(f.Set, l)))
	}
	if f.HasValue && f.HasLimit {
		margin = b.margin(f)
	}
	return joined(", ", measured, limit, margin)
}

// margin is how far inside or outside its limit a finding lies, in words.
func (b *book) margin(f finding.Finding) markup {
	inside, outside := "inside", "outside"
	if f.Op == finding.Over {
		inside, outside = "over", "under"
	}
	apart := b.difference
	if f.Clause == "" {
		apart = b.exact
	}
	switch {
	case f.Margin < 0:
		return say("%s %s %s", apart(-f.Margin), b.unit(), outside)
	case f.Margin == 0:
		return "exactly on the limit"
	}
	return say("%s %s %s", apart(f.Margin), b.unit(), inside)
}

// standing is what stands behind a finding: clause, status, rule set, amendment.
func standing(f finding.Finding) markup {
	var parts []markup
	if f.Clause != "" {
		parts = append(parts, esc(f.Clause))
	}
	if f.Status != 0 {
		parts = append(parts, esc(f.Status.String()))
	}
	if f.Rules != "" {
		parts = append(parts, esc(f.Rules))
	}
	if f.Amends != "" {
		parts = append(parts, say("amends %s", f.Amends))
	}
	return joined(", ", parts...)
}

// groupTitle is the title of what a finding or a figure belongs to: run/gallery.
func (b *book) groupTitle(group string) string {
	kind, name, _ := strings.Cut(group, "/")
	switch kind {
	case "run":
		return b.runTitle(name)
	case "post":
		return "Post " + name
	case "as-built":
		if post, ok := strings.CutPrefix(name, "post/"); ok {
			return "Post " + post + ", as built"
		}
		if name != "" {
			return b.runTitle(name) + ", as built"
		}
	case "survey":
		for _, s := range b.job.Surveys {
			if s.Name == name && s.Title.Text != "" {
				return s.Title.Text
			}
		}
	case "":
		return "The whole job"
	}
	if name == "" {
		return capital(strings.ReplaceAll(kind, "-", " "))
	}
	return capital(strings.ReplaceAll(name, "-", " "))
}

// groups lists the groups of findings in the order they come.
func groups(list []finding.Finding) (names []string, of map[string][]finding.Finding) {
	of = map[string][]finding.Finding{}
	for _, f := range list {
		if of[f.Group] == nil {
			names = append(names, f.Group)
		}
		of[f.Group] = append(of[f.Group], f)
	}
	return names, of
}
