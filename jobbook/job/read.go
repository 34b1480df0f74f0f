package job

import (
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"sync"
	"time"

	"balustrade/jobbook/exact"
	"balustrade/jobbook/length"
	"balustrade/jobbook/source"
)

// decoder reads nodes into values and collects what is wrong with them.
type decoder struct {
	system   length.System
	unsaid   bool           // nobody says what a bare number in the file means, and it could be either; see units.go
	bare     []*source.Node // lengths in it without a unit
	problems []source.Problem
	broken   []source.Document // files whose form could not be made out: what they would have named is not reported again
	noPosts  bool              // the job's posts could not be made out either
	kinds    []Key             // the kinds of file, to say which of them has a key that stands in another
}

func (d *decoder) problem(n *source.Node, hint, format string, args ...any) {
	d.at(n.At, width(n), hint, format, args...)
}

func (d *decoder) at(at source.Pos, width int, hint, format string, args ...any) {
	d.problems = append(d.problems, source.Problem{Severity: source.Error, At: at, Width: width, Summary: fmt.Sprintf(format, args...), Hint: hint})
}

// decode reads the keys of a map. Keys that are not in fields are problems, unless `also` knows them.
func decode[T any](d *decoder, n *source.Node, what string, fields []field[T], to *T, also ...string) {
	if n.Kind != source.Map {
		hint := "write " + sample(fields)
		if key, _, ok := strings.Cut(n.Text, ":"); ok && slices.Contains(names(fields), key) {
			hint = "put a space after the colon"
		}
		d.problem(n, hint, "want keys and values for %s, found %s", what, shape(n))
		return
	}
	for _, e := range n.Entries {
		i := slices.IndexFunc(fields, func(f field[T]) bool { return f.key == e.Key })
		switch {
		case i >= 0:
			fields[i].set(d, e.Value, to)
		case slices.Contains(also, e.Key):
		default:
			if kinds := d.elsewhere(e.Key, names(fields), also); kinds != "" {
				d.at(e.At, max(1, len([]rune(e.Key))), "it is a key of files of kind "+kinds, "unknown key %q in %s", clip(e.Key), what)
				continue
			}
			d.unknown(e.At, e.Key, "key", what, append(names(fields), also...))
		}
	}
}

// elsewhere says which kinds of file have a key that stands by itself in a file of another kind: a run or flight. Empty where none or many do, where it
// is more likely misspelt, and for the keys below a key.
func (d *decoder) elsewhere(key string, known, also []string) string {
	if !slices.Equal(also, everywhere) || source.Suggest(key, known) != "" {
		return ""
	}
	var kinds []string
	for _, k := range d.kinds {
		if slices.Contains(keyNames(k.Sub), key) {
			kinds = append(kinds, k.Key)
		}
	}
	const most = 3 // beyond that a key is no sign of a kind
	if len(kinds) == 0 || len(kinds) > most {
		return ""
	}
	return strings.Join(kinds, " or ")
}

func (d *decoder) unknown(at source.Pos, word, sort, what string, known []string) {
	hint := "known here: " + strings.Join(known, ", ")
	if near := source.Suggest(word, known); near != "" {
		hint = fmt.Sprintf("did you mean %s?", near)
	}
	d.at(at, max(1, len([]rune(word))), hint, "unknown %s %q in %s", sort, clip(word), what)
}

func names[T any](fields []field[T]) []string {
	var list []string
	for _, f := range fields {
		list = append(list, f.key)
	}
	return list
}

func sample[T any](fields []field[T]) string {
	var keys []string
	for _, f := range fields[:min(2, len(fields))] {
		keys = append(keys, f.key+": ")
	}
	return "{" + strings.Join(keys, ", ") + "}"
}

func shape(n *source.Node) string {
	if n.Kind == source.Scalar {
		return strconv.Quote(clip(n.Text))
	}
	return n.Kind.String()
}

func clip(s string) string {
	if r := []rune(s); len(r) > 40 {
		return string(r[:40]) + "..."
	}
	return s
}

// scalar takes the text of a single value; false for blank ones, and for lists and maps, which are problems.
func (d *decoder) scalar(n *source.Node, want string) (string, bool) {
	if n.Blank() {
		return "", false
	}
	if n.Kind != source.Scalar {
		d.problem(n, "write one value", "want %s, found %s", want, n.Kind)
		return "", false
	}
	if n.Block && want != "words" {
		d.problem(n, "write it on the line of its key", "want %s, found a block of text", want)
		return "", false
	}
	return n.Text, true
}

func (d *decoder) measure(n *source.Node) Measure {
	m := Measure{At: n.At}
	text, ok := d.scalar(n, "a length")
	if !ok {
		return m
	}
	l, err := length.Parse(text, d.system)
	if d.unsaid && length.Bare(text) { // told by bareLengths, and nothing else for it
		d.bare = append(d.bare, n)
		m.Given, m.Length = true, max(l, length.Millimetre)
		return m
	}
	if err != nil {
		hint := ""
		if e, ok := err.(*length.Error); ok {
			hint = e.Hint
		}
		d.problem(n, hint, "%s", err)
		return m
	}
	m.Length, m.Given = l, true
	return m
}

func (d *decoder) text(n *source.Node, want string) Text {
	t := Text{At: n.At}
	t.Text, t.Given = d.scalar(n, want)
	t.Text = strings.TrimSpace(t.Text)
	t.Given = t.Given && t.Text != ""
	return t
}

func (d *decoder) oneOf(n *source.Node, words []string) Text {
	want := "one word"
	if n.Kind != source.Scalar || n.Block { // it will be said
		want = "one of " + strings.Join(words, ", ")
	}
	t := d.text(n, want)
	if t.Given && !slices.Contains(words, t.Text) {
		all := strings.Join(words, ", ")
		hint := "write one of: " + all
		if near := source.Suggest(t.Text, words); near != "" {
			hint = fmt.Sprintf("did you mean %s?", near)
		}
		const most = 80 // a longer list stands in the hint alone
		if len(all) > most {
			d.problem(n, hint, "%q is none of the %d words that can stand here", clip(t.Text), len(words))
		} else {
			d.problem(n, hint, "want one of %s, found %q", all, clip(t.Text))
		}
		t.Given = false
	}
	return t
}

func (d *decoder) whole(n *source.Node, least, most int) Whole {
	w := Whole{At: n.At}
	text, ok := d.scalar(n, "a whole number")
	if !ok {
		return w
	}
	i, err := strconv.Atoi(text)
	if err != nil || i < least || i > most || strconv.Itoa(i) != text {
		d.problem(n, fmt.Sprintf("write a whole number from %d to %d", least, most), "want a whole number from %d to %d, found %q", least, most, clip(text))
		return w
	}
	w.N, w.Given = i, true
	return w
}

func (d *decoder) flag(n *source.Node) Flag {
	f := Flag{At: n.At}
	switch text, ok := d.scalar(n, "yes or no"); {
	case !ok:
	case text == "yes" || text == "no":
		f.Yes, f.Given = text == "yes", true
	default:
		hint := "write yes or no"
		switch strings.ToLower(text) {
		case "y", "yes", "true", "on":
			hint = "write yes"
		case "n", "no", "false", "off":
			hint = "write no"
		}
		d.problem(n, hint, "want yes or no, found %q", clip(text))
	}
	return f
}

// ratio reads a plain number with one of the units: 400 sq ft/gal.
func (d *decoder) ratio(n *source.Node, units []string) Ratio {
	r := Ratio{At: n.At}
	text, ok := d.scalar(n, "a number with its unit")
	if !ok {
		return r
	}
	digits, unit := text, ""
	if i := strings.IndexFunc(text, func(c rune) bool { return (c < '0' || c > '9') && c != '.' }); i >= 0 {
		digits, unit = text[:i], strings.TrimSpace(text[i:])
	}
	const most = 100_000
	v, valid := exact.Parse(digits)
	if len(digits) > 12 || !valid || !slices.Contains(units, unit) {
		example, ok := unitExamples[units[0]]
		if !ok {
			example = "a number and its unit, " + strings.Join(units, " or ")
		}
		hint := "write " + example
		if valid && unit == "" && len(digits) <= 12 { // what was meant, with each unit that it can have
			var list []string
			for _, u := range units {
				list = append(list, digits+" "+u)
			}
			hint = "write the unit with it: " + strings.Join(list, " or ")
		}
		d.problem(n, hint, "want %s, found %q", unitForm(units), clip(text))
		return r
	}
	v = v.Mul(exact.Of(1000))
	if !v.IsInt() || v.Cmp(exact.Of(most*1000)) > 0 {
		d.problem(n, "write at most three decimals", "want a number up to %d with at most three decimals, found %q", most, clip(text))
		return r
	}
	r.Thousandths, _ = v.Int64()
	r.Unit, r.Given = unit, true
	return r
}

// unitForm says what a number with one of the units is.
func unitForm(units []string) string {
	if units[0] != "" {
		return "a number in " + strings.Join(units, " or ")
	}
	return strings.Join(append([]string{"a number"}, units[1:]...), ", or one in ")
}

// unitExamples are numbers as one writes them, by the first unit that the key can have.
var unitExamples = map[string]string{
	"": "a number, as in 1.5", "°": "degrees, as in 37.5°", "%": "a number and its sign, as in 8 %", "°F": "a number and its unit, as in 66 °F", "h": "a number and its unit, as in 62 h",
	"sq ft/gal": "a number and its unit, as in 400 sq ft/gal", "sq ft": "a number and its unit, as in 25 sq ft", "gal": "a number and its unit, as in 1 gal",
	"lb": "a number and its unit, as in 200 lb", "lb/ft": "a number and its unit, as in 50 lb/ft", "lb/ft2": "a number and its unit, as in 50 lb/ft2",
	"psi": "a number and its unit, as in 14300 psi", "Mpsi": "a number and its unit, as in 1.8 Mpsi",
}

// turn reads how one turns: left 90, right 22.5, straight.
func (d *decoder) turn(n *source.Node) Turn {
	t := Turn{At: n.At}
	text, ok := d.scalar(n, "a turn")
	if !ok {
		return t
	}
	way, size, _ := strings.Cut(strings.TrimSpace(text), " ")
	v, valid := exact.Parse(strings.TrimSpace(size))
	if way == "straight" && size == "" {
		t.Given = true
		return t
	}
	const most = 170 // a guard that turns back on itself leaves no room between its rails
	if way != "left" && way != "right" || !valid || len(size) > 8 || v.Sign() <= 0 || v.Cmp(exact.Of(most)) > 0 || strings.ContainsAny(size, "/eE") {
		d.problem(n, "write left 90, right 45, or straight", "want left or right and up to %d degrees, found %q", most, clip(text))
		return t
	}
	v = v.Mul(exact.Of(1000))
	if !v.IsInt() {
		d.problem(n, "write at most three decimals", "want degrees with at most three decimals, found %q", clip(text))
		return t
	}
	t.Milli, _ = v.Int64()
	t.Given = true
	if way == "left" {
		t.Milli = -t.Milli
	}
	return t
}

// items gives the elements of a list; a single value counts as a list of one.
func (d *decoder) items(n *source.Node) []*source.Node {
	switch {
	case n.Blank():
		return nil
	case n.Kind == source.List:
		return n.Items
	}
	return []*source.Node{n}
}

// pattern is compiled when it is first asked for: every start of the program would wait for all of them.
func pattern(text string) func() *regexp.Regexp {
	return sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(text) })
}

var dateForm = pattern(`^\d{4}-\d\d-\d\d$`)

func (d *decoder) date(n *source.Node) Text {
	t := d.text(n, "a date")
	if t.Given {
		switch _, err := time.Parse(time.DateOnly, t.Text); {
		case err == nil:
		case dateForm().MatchString(t.Text):
			d.problem(n, "look the day up again; the month stands in the middle", "there is no day %s", t.Text)
			t.Given = false
		default:
			d.problem(n, "write the date as "+dateSample(t.Text), "want a date as year-month-day, found %q", clip(t.Text))
			t.Given = false
		}
	}
	return t
}

// A date as it is often written, with the year last.
var yearLast = pattern(`^(\d{1,2})[./-](\d{1,2})[./-](\d{4})$`)

// dateSample is a date as it is to be written: the one that was meant, where the month can be told from the day, else any.
func dateSample(text string) string {
	if m := yearLast().FindStringSubmatch(strings.TrimSpace(text)); m != nil {
		number := func(i int) int { v, _ := strconv.Atoi(m[i]); return v } // four digits at most
		year, month, day := number(3), number(1), number(2)
		if month > 12 {
			month, day = day, month
		}
		meant := fmt.Sprintf("%04d-%02d-%02d", year, month, day)
		_, err := time.Parse(time.DateOnly, meant)
		switch {
		case err != nil:
		case day > 12 || month == day:
			return meant
		default:
			return fmt.Sprintf("%s or %04d-%02d-%02d, whichever is meant", meant, year, day, month)
		}
	}
	return "2026-11-20"
}
