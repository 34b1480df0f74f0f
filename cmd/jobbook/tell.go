package main

import (
	"cmp"
	"fmt"
	"io"
	"path/filepath"
	"slices"
	"strings"
	"time"
	"unicode"
	"unicode/utf8"

	"balustrade/jobbook"
	"balustrade/jobbook/changes"
	"balustrade/jobbook/finding"
	"balustrade/jobbook/layout"
	"balustrade/jobbook/length"
	"balustrade/jobbook/rules"
	"balustrade/jobbook/source"
)

// teller puts what a build or a check found into words: findings and what is to be measured on stdout, problems on stderr.
type teller struct {
	result         jobbook.Result
	stdout, stderr io.Writer
}

// alone says that a job that lies among others was planned as if the rack were its own.
func (t teller) alone(dir string) {
	if t.result.Shared != "" {
		fmt.Fprintf(t.stdout, "planned as one of the jobs of %s: with what those before it leave on the rack that they share\n", filepath.Base(t.result.Shared))
		return
	}
	if parent := jobbook.TakesAlone(dir, t.result.Plan); parent != "" {
		fmt.Fprintf(t.stdout, "planned with the whole rack, as if no other job of %s took from it; build that folder to share it out\n", filepath.Base(parent))
	}
}

// failed says which book an error stood in the way of.
func failed(out string, err error) error {
	return fmt.Errorf("cannot make the book in %s: %w", out, err)
}

// problems prints what is wrong in the files, and one line that counts it and says what came of it.
func (t teller) problems(outcome string) {
	problems := t.result.Problems
	source.Print(t.stderr, problems, t.result.Texts.Line, t.result.Texts.Path)
	if then := t.result.Then; then != nil {
		source.Print(t.stderr, then.Problems, then.Texts.Line, then.Texts.Path)
		fmt.Fprintf(t.stderr, "the job as it was in the revision %s can't be understood\n", plain(then.Name))
		problems = slices.Concat(problems, then.Problems)
	}
	if len(problems) == 0 {
		return
	}
	errors := 0
	for _, p := range problems {
		if p.Severity == source.Error {
			errors++
		}
	}
	var counts []string
	if errors > 0 {
		counts = append(counts, plural(errors, "error"))
	}
	if warnings := len(problems) - errors; warnings > 0 {
		counts = append(counts, plural(warnings, "warning"))
	}
	line := strings.Join(counts, ", ")
	if outcome != "" {
		line += "; " + outcome
	}
	fmt.Fprintln(t.stderr, line)
}

// wrote is what a build did to the book's folder.
func (t teller) wrote() string {
	s := t.result.Site
	var words []string
	switch {
	case s.Written+s.Removed == 0:
		return plural(s.Unchanged, "file") + ", nothing changed"
	case s.Unchanged == 0:
		words = append(words, plural(s.Written, "file")+" written")
	default:
		words = append(words, fmt.Sprintf("%s written, %d unchanged", plural(s.Written, "file"), s.Unchanged))
	}
	if s.Removed > 0 {
		words = append(words, fmt.Sprintf("%d removed", s.Removed))
	}
	return strings.Join(words, ", ")
}

// settled counts in a few words what stands between the job and its building.
func (t teller) settled() string {
	fails, missing, waits := t.fails(), len(t.result.Plan.Missing), t.waits()
	words := []string{"no check fails"}
	if fails > 0 {
		words[0] = plural(fails, "failing check")
	}
	switch {
	case missing > 0:
		words = append(words, fmt.Sprintf("%d to be measured", missing))
	case waits > 0: // such as how thick coats dry, which is read at dry fit: nothing is cut or bought by it
		if fails == 0 {
			words = append(words, "what the order rests on is known")
		}
		wait := " still wait for a reading"
		if waits == 1 {
			wait = " still waits for a reading"
		}
		words = append(words, plural(waits, "check")+wait)
	case fails == 0:
		words = append(words, "nothing is left to measure")
	}
	return strings.Join(words, ", ")
}

// waits counts the checks of what is to be built, or stays, that wait for a reading.
func (t teller) waits() (n int) {
	for _, f := range t.result.Plan.Findings {
		if f.Verdict == finding.ToBeMeasured && !t.result.Plan.OfOld(f) {
			n++
		}
	}
	return n
}

// fails counts the failing checks of what is to be built, or stays. What an old guard fails that goes is why there is a job.
func (t teller) fails() int { return len(t.failed(false)) }

// failed lists the failing checks, of an old guard that goes or of all else.
func (t teller) failed(old bool) []finding.Finding {
	var list []finding.Finding
	for _, f := range t.result.Plan.Findings {
		if f.Verdict == finding.Fail && t.result.Plan.OfOld(f) == old {
			list = append(list, f)
		}
	}
	return list
}

func (t teller) of(v finding.Verdict) int {
	n := 0
	for _, f := range t.result.Plan.Findings {
		if f.Verdict == v {
			n++
		}
	}
	return n
}

// count is the number of findings of each verdict that there are.
func (t teller) count() string {
	var words []string
	for v := finding.Fail; v <= finding.Pass; v++ {
		n := t.of(v)
		if v == finding.Fail {
			n -= len(t.failed(true))
		}
		if n > 0 {
			words = append(words, fmt.Sprintf("%d %s", n, v))
		}
	}
	if old := len(t.failed(true)); old > 0 {
		words = append(words, fmt.Sprintf("%d of the old guard fail, as found", old))
	}
	if len(words) == 0 {
		return "nothing to check yet"
	}
	return strings.Join(words, ", ")
}

// findings prints the checks group by group: those that somebody has to act on, and how many pass, are screened or not required; with all, every one of them.
func (t teller) findings(all bool) {
	list := t.result.Plan.Findings
	width := 0
	for _, f := range list {
		if all || toAct(f) {
			width = max(width, utf8.RuneCountInString(t.verdict(f)))
		}
	}
	for len(list) > 0 {
		group := list[0].Group
		n := slices.IndexFunc(list, func(f finding.Finding) bool { return f.Group != group })
		if n < 0 {
			n = len(list)
		}
		var of []finding.Finding
		of, list = list[:n], list[n:]
		title := plain(t.title(group))
		if counts := passing(of); !all && counts != "" {
			title += ": " + counts
		}
		fmt.Fprintln(t.stdout, title)
		for _, f := range of {
			if all || toAct(f) && f.Unlimited == "" {
				fmt.Fprintf(t.stdout, "  %-*s  %s\n", width, t.verdict(f), plain(t.line(f)))
				t.cure(f)
			}
		}
		if n, sorts := rules.Unlimited(of); n > 0 && !all {
			fmt.Fprintf(t.stdout, "  %-*s  no limit in %s for %s: %s (check --all lists them)\n", width, finding.AskAuthority, plain(t.result.Plan.Job.Rules.Name), plural(n, "measure"), strings.Join(sorts, ", "))
		}
	}
}

// verdict is that of a finding. What an old guard fails that goes fails nothing, and has to look so to who greps for what fails.
func (t teller) verdict(f finding.Finding) string {
	if f.Verdict == finding.Fail && t.result.Plan.OfOld(f) {
		return "as found, it fails"
	}
	return f.Verdict.String()
}

// toAct reports a check that fails, waits for a reading or is to be asked about.
func toAct(f finding.Finding) bool {
	return f.Verdict == finding.Fail || f.Verdict == finding.ToBeMeasured || f.Verdict == finding.AskAuthority
}

// passing counts the others by their verdicts: 12 pass, 2 screened. Empty where there are none.
func passing(list []finding.Finding) string {
	var words []string
	for v := finding.Pass; v >= finding.Screened; v-- {
		n := 0
		for _, f := range list {
			if f.Verdict == v {
				n++
			}
		}
		if n > 0 {
			words = append(words, fmt.Sprintf("%d %s", n, v))
		}
	}
	return strings.Join(words, ", ")
}

// cure says below a check that fails what would put it right, where that is known.
func (t teller) cure(f finding.Finding) {
	if f.Verdict != finding.Fail || f.Cure == "" || t.result.Plan.OfOld(f) {
		return
	}
	fmt.Fprintf(t.stdout, "    what would cure it: %s\n", plain(strings.TrimSuffix(lowerFirst(f.Cure), ".")))
}

func lowerFirst(s string) string {
	r, n := utf8.DecodeRuneInString(s)
	return string(unicode.ToLower(r)) + s[n:]
}

// failing prints the checks that fail.
func (t teller) failing() {
	if old := len(t.failed(true)); old > 0 {
		fmt.Fprintf(t.stdout, "the old guard, as found, fails %s\n", plural(old, "check"))
	}
	failed := t.failed(false)
	if len(failed) == 0 {
		return
	}
	fmt.Fprintln(t.stdout, plural(len(failed), "failing check"))
	for _, f := range failed {
		fmt.Fprintf(t.stdout, "  %s  %s: %s\n", f.Verdict, plain(t.title(f.Group)), plain(t.line(f)))
		t.cure(f)
	}
}

// title is the name of what findings belong to, as the book gives it.
func (t teller) title(group string) string {
	if post, ok := strings.CutPrefix(group, "as-built/post/"); ok {
		return "Post " + post + ", as built"
	}
	if run, ok := strings.CutPrefix(group, "as-built/"); ok {
		return t.title("run/"+run) + ", as built"
	}
	for _, r := range t.result.Plan.Layout.Runs {
		if r.ID == group {
			return r.Title
		}
	}
	for _, p := range t.result.Plan.Layout.Posts {
		if p.ID == group {
			return "Post " + p.Name
		}
	}
	for _, s := range t.result.Job.Surveys {
		if "survey/"+s.Name == group && s.Title.Text != "" {
			return s.Title.Text
		}
	}
	return group
}

// line is a finding in one line: what, measured, limit, clause, place.
func (t teller) line(f finding.Finding) string {
	words := []string{f.Title}
	var judged []string
	if f.HasValue {
		judged = append(judged, t.tape(f))
	}
	if f.HasLimit {
		if f.HasValue {
			judged[0] += ","
		}
		judged = append(judged, "wanted", f.Op.String()+" "+layout.Tape(f.Limit, t.result.Job.System, t.result.Job.Division.Length))
	}
	if f.Clause != "" {
		judged = append(judged, "("+f.Clause+")")
	}
	if len(judged) > 0 {
		words = append(words, strings.Join(judged, " "))
	}
	if (strings.Contains(f.ID, "/load-") || strings.Contains(f.ID, "/film/") || f.Group == "calendar") && f.Note != "" { // the days, or what a load comes to
		words = append(words, f.Note)
	}
	if place := t.place(f.At); place != "" {
		words = append(words, place)
	}
	return strings.Join(words, "  ")
}

// tape is what was measured, as a tape shows it; what lies on no mark of a tape in decimals, rounded to the bad side, and with
// so many of them that it does not look like its limit, as on the pages.
func (t teller) tape(f finding.Finding) string {
	fine := length.Inch / 64
	if t.result.Job.System == length.Millimetres {
		fine = t.result.Job.Division.Length
	}
	if f.HasLimit && f.Measured.Round(fine, length.Nearest) != f.Measured {
		style, places := length.Style{System: t.result.Job.System, Division: length.Nanometre, Rounding: length.Up}, 3
		if f.Op == finding.AtLeast || f.Op == finding.Over {
			style.Rounding = length.Down
		}
		if style.System == length.Millimetres {
			places = 2
		}
		const most = 6 // a millionth of an inch
		exact := style
		exact.Rounding = length.Nearest
		for places < most && f.Measured != f.Limit && style.Decimal(f.Measured, places) == exact.Decimal(f.Limit, places) {
			places++
		}
		return style.Decimal(f.Measured, places) + " " + style.System.String()
	}
	return layout.Tape(f.Measured, t.result.Job.System, t.result.Job.Division.Length)
}

// place is a place in a file as the terminal can open it.
func (t teller) place(at source.Pos) string {
	if at.IsZero() {
		return ""
	}
	at.File = t.result.Texts.Path(at.File)
	return at.String()
}

// missing prints what is still to be measured or decided, each with the file and the key to write it under.
func (t teller) missing() {
	readings := t.result.Plan.Missing
	if len(readings) == 0 {
		return
	}
	fmt.Fprintf(t.stdout, "%d to be measured or decided\n", len(readings))
	for _, r := range byFile(readings) {
		_, key, _ := strings.Cut(r.Where, ", ")
		line := t.place(writtenAt(r))
		if key = strings.TrimSpace(key); key != "" {
			line += ": " + key
		}
		what := r.What
		if strings.HasPrefix(r.Where, "library/") {
			what += "; copy the file from templates/library into the job's folder, and write it there"
		}
		fmt.Fprintf(t.stdout, "  %s  %s\n", plain(line), plain(what))
	}
}

// writtenAt is the place that a reading is to be written at: that of its blank key, or else its file.
func writtenAt(r finding.Reading) source.Pos {
	if !r.At.IsZero() {
		return r.At
	}
	file, _, _ := strings.Cut(r.Where, ", ")
	return source.Pos{File: file}
}

// byFile puts readings in the order in which somebody fills in the files: job.md first, the other files by their paths, the built-in
// library last; in a file from the top down, what has no line yet at its end.
func byFile(readings []finding.Reading) []finding.Reading {
	const last = 1 << 30
	rank := func(r finding.Reading) (int, source.Pos) {
		at := writtenAt(r)
		if at.Line == 0 {
			at.Line = last
		}
		switch {
		case at.File == "job.md":
			return 0, at
		case strings.HasPrefix(at.File, "library/"):
			return 2, at
		}
		return 1, at
	}
	sorted := slices.Clone(readings)
	slices.SortStableFunc(sorted, func(a, b finding.Reading) int {
		i, at := rank(a)
		j, bt := rank(b)
		return cmp.Or(cmp.Compare(i, j), cmp.Compare(at.File, bt.File), cmp.Compare(at.Line, bt.Line))
	})
	return sorted
}

// plain keeps what somebody wrote from steering a terminal: characters that are not for reading become dots.
func plain(text string) string {
	return strings.Map(func(r rune) rune {
		if !unicode.IsGraphic(r) {
			return '.'
		}
		return r
	}, text)
}

func plural(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}

// took is a time to the millisecond below a second, to the tenth above.
func took(d time.Duration) string {
	if d < time.Second {
		return fmt.Sprintf("%d ms", max(1, d.Milliseconds()))
	}
	return fmt.Sprintf("%.1f s", d.Seconds())
}

// quoted is a path as a shell takes it.
func quoted(path string) string {
	path = filepath.Clean(path)
	if strings.ContainsFunc(path, func(r rune) bool {
		return !strings.ContainsRune("-_./,+@%", r) && (r < '0' || r > '9') && (r < 'A' || r > 'Z') && (r < 'a' || r > 'z') && r < utf8.RuneSelf
	}) {
		return "'" + strings.ReplaceAll(path, "'", `'\''`) + "'"
	}
	return path
}

// changed says in a line or two what is not as it was in the last issue.
// where names the page that has all of it, and may be empty.
func (t teller) changed(where string) {
	c := t.result.Plan.Changes
	if c == nil {
		return
	}
	for _, n := range c.Notes {
		fmt.Fprintln(t.stdout, plain(n))
	}
	if c.Same() {
		fmt.Fprintf(t.stdout, "as in %s\n", plain(c.With()))
		return
	}
	var words []string
	for _, s := range changes.Sorts {
		if n := len(c.Of(s)); n > 0 {
			words = append(words, plural(n, string(s)))
		}
	}
	if n := len(c.Renamed) + len(c.Gone) + len(c.Added); n > 0 {
		words = append(words, plural(n, "file")+" renamed, gone or new")
	}
	fmt.Fprintf(t.stdout, "not as in %s: %s%s\n", plain(c.With()), strings.Join(words, ", "), where)
	for _, r := range c.Renamed {
		fmt.Fprintf(t.stdout, "  %s is called %s now\n", plain(r.Was), plain(r.Is))
	}
	for _, of := range c.Gone {
		fmt.Fprintf(t.stdout, "  %s is gone\n", plain(of))
	}
	for _, of := range c.Added {
		fmt.Fprintf(t.stdout, "  %s is new\n", plain(of))
	}
	for _, x := range append(c.Of(changes.Reading), c.Of(changes.Choice)...) {
		fmt.Fprintf(t.stdout, "  %s, %s: %s, was %s\n", plain(t.title(x.Line.Of)), plain(x.What), plain(isNow(x)), plain(was(x)))
	}
}

func isNow(x changes.Change) string {
	if x.Gone {
		return "left out"
	}
	return x.Value
}

func was(x changes.Change) string {
	if x.New {
		return "left out"
	}
	return x.Was
}
