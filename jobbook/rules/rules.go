// Package rules judges measures by the limits of a rule set: those of a layout, of an old guard, and of one as built.
//
// The verdict is about the number and the clause. Local code and the authority having jurisdiction govern, and a limit that was
// recalled rather than read is never judged as a pass.
package rules

import (
	"slices"
	"strconv"
	"strings"
	"unicode"

	"balustrade/jobbook/finding"
	"balustrade/jobbook/job"
	"balustrade/jobbook/working"
)

// drop is the limit that decides whether a guard is required; the limits with this prefix are for guards that are.
const (
	drop   = "guard-drop"
	guards = "guard-"
)

// Judge gives each measure its finding, in the same order. Every measure is judged by the limit of its name; the drop of a group
// decides whether the limits on guards apply to that group at all. While it is not known, or its limit is not confirmed, they
// are taken to apply. A nil set judges nothing.
func Judge(set *job.RuleSet, measures []finding.Measure) []finding.Finding {
	free := notRequired(set, measures)
	name := namer(measures)
	list := slices.Grow([]finding.Finding(nil), len(measures))
	for _, m := range measures {
		f := finding.Finding{ID: name(m), Group: m.Group, Title: m.Subject, Measured: m.Value, HasValue: m.Known, At: m.At, Figure: m.Figure, Note: m.Note}
		if !m.Known {
			f.Measured = 0
		}
		l := set.Limit(m.Limit)
		op := opOf(l)
		if op != 0 {
			f.Op, f.Limit, f.HasLimit = op, l.Value.Length, true
			f.Clause, f.Status, f.Rules, f.Set, f.Amends = l.Clause.Text, l.Status, l.Set, l.Value.At, l.Amends
			if f.Rules == "" {
				f.Rules = set.Name
			}
			if m.Known {
				f.Margin = op.Margin(m.Value, l.Value.Length)
			}
		} else if set != nil {
			f.Rules = set.Name
		}
		judge(&f, m, set, l)
		if free[m.Group] && m.Limit != drop && strings.HasPrefix(m.Limit, guards) {
			f.Verdict = finding.NotRequired
			f.Note = note(m.Note, "a guard is not required here, so the rule does not apply"+holdsAnyway(m.Group))
		}
		list = append(list, f)
	}
	return list
}

// judge gives the verdict on one measure by itself.
func judge(f *finding.Finding, m finding.Measure, set *job.RuleSet, l *job.Limit) {
	if m.Limit == drop {
		f.Title = "guard required"
	}
	switch {
	case set == nil:
		f.Verdict = finding.ToBeMeasured
		f.Note = note(f.Note, "no rule set is chosen; ask the building department which code it goes by")
		if !m.Known {
			f.Note = note(f.Note, missing(m))
		}
	case !m.Known:
		f.Verdict = finding.ToBeMeasured
		f.Note = note(f.Note, missing(m))
		if m.Limit == drop {
			f.Note = note(f.Note, "until then a guard is taken to be required")
		}
	case !f.HasLimit:
		f.Verdict = finding.AskAuthority
		f.Note = note(f.Note, "the rule set "+set.Name+" has no limit for this")
		unlimited(f, m.Limit)
	case !confirmed(l.Status):
		f.Verdict = finding.AskAuthority
		f.Note = note(f.Note, "the limit was recalled and not confirmed")
		if m.Limit == drop {
			f.Note = note(f.Note, "until it is, a guard is taken to be required")
		}
		f.Note = note(f.Note, l.Note.Text)
	case m.Limit == drop && f.Op.Holds(m.Value, f.Limit):
		f.Verdict = finding.Pass
		f.Note = note(f.Note, "a guard is required here; the rules below apply")
	case m.Limit == drop:
		f.Verdict = finding.NotRequired
		f.Note = note(f.Note, "a guard is not required here")
	case f.Op.Holds(m.Value, f.Limit) && l.Looser() && !f.Op.Holds(m.Value, l.Base.Length):
		f.Verdict = finding.AskAuthority
		f.Note = note(f.Note, "inside the amended limit only, which is looser than the one of "+l.Amends+": show that the authority allows it")
	case f.Op.Holds(m.Value, f.Limit):
		f.Verdict = finding.Pass
	default:
		f.Verdict, f.Cure = finding.Fail, m.Cure
	}
}

// notRequired lists the groups whose every drop is known and within a confirmed limit.
func notRequired(set *job.RuleSet, measures []finding.Measure) map[string]bool {
	l := set.Limit(drop)
	op := opOf(l)
	if op == 0 || !confirmed(l.Status) {
		return nil
	}
	free := map[string]bool{}
	for _, m := range measures {
		if m.Limit != drop {
			continue
		}
		within := m.Known && !op.Holds(m.Value, l.Value.Length)
		if before, seen := free[m.Group]; seen {
			within = within && before
		}
		free[m.Group] = within
	}
	return free
}

// opOf is the comparison of a limit; 0 where there is no limit, or none that can be used.
func opOf(l *job.Limit) finding.Op {
	if l == nil || !l.Value.Given {
		return 0
	}
	return finding.Op(slices.Index(finding.Ops, strings.ReplaceAll(l.Op, "-", " ")) + 1)
}

// confirmed reports a status on which a pass can rest.
func confirmed(s working.Status) bool { return s != 0 && s != working.Memory }

// namer gives findings their ids: the group and the limit, and where several share those, what the figure's name says beyond
// them, or a number.
func namer(measures []finding.Measure) func(finding.Measure) string {
	base := func(m finding.Measure) string { return "check/" + m.Group + "/" + m.Limit }
	times := map[string]int{}
	for _, m := range measures {
		times[base(m)]++
	}
	used := map[string]bool{}
	return func(m finding.Measure) string {
		id := base(m)
		if times[id] > 1 {
			if part := m.Figure[strings.LastIndexAny(m.Figure, "/-")+1:]; part != "" && !used[id+"/"+part] {
				id += "/" + part
			} else {
				n := 1
				for used[id+"/"+strconv.Itoa(n)] {
					n++
				}
				id += "/" + strconv.Itoa(n)
			}
		}
		used[id] = true
		return id
	}
}

func missing(m finding.Measure) string {
	if m.Missing == "" {
		return "still to be measured"
	}
	return "still to be measured: " + m.Missing
}

// holdsAnyway says of a layout, which is made by the rules all the same, that it keeps them.
func holdsAnyway(group string) string {
	if strings.HasPrefix(group, surveys) || strings.HasPrefix(group, asBuilt) {
		return ""
	}
	return "; the layout holds to it anyway"
}

func note(a, b string) string {
	switch {
	case a == "":
		return b
	case b == "":
		return a
	case unicode.IsUpper([]rune(b)[0]): // a sentence of its own
		return a + ". " + b
	}
	return a + "; " + b
}
