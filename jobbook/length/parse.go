package length

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"
	"sync"
	"unicode"

	"balustrade/jobbook/exact"
)

// An Error says why a text is not a length, and what would be accepted instead.
type Error struct {
	Summary string // what is wrong, lower case, no full stop
	Hint    string // what to write
}

func (e *Error) Error() string { return e.Summary }

// One number: whole, whole and fraction, fraction alone, or decimal.
const number = `(?:(\d+)(?: |-)(\d+)/(\d+)|(\d+)/(\d+)|(\d*\.\d+|\d+\.?))`

var (
	metric   = pattern(`^` + number + ` ?(mm|millimetres?|millimeters?|cm|centimetres?|centimeters?|m|metres?|meters?)$`)
	imperial = pattern(`^(?:` + number + ` ?(?:'|ft\.?|foot|feet)(?: ?-? ?` + number + ` ?(?:"|''|in\.?|inch|inches)?)?|` + number + ` ?(?:"|''|in\.?|inch|inches))$`)
	bare     = pattern(`^` + number + `$`)

	date       = pattern(`^\d{4}-\d\d-\d\d$`)
	digit      = pattern(`\d`)
	negative   = pattern(`^[-+−]\s*[\d.]`)
	comma      = pattern(`\d,\d`)
	commaOne   = pattern(`^(\d+),(\d+)$`)
	looseDash  = pattern(`^(\d+) ?- ?(\d+)/(\d+)`)
	leadZero   = pattern(`(^|[^\d.])0\d`)
	manyDigits = pattern(`[\d.]{20,}`) // past Most in nanometres (12 digits); keeps a hostile text cheap
	codeNumber = pattern(`^(0[xob][\da-f]|\d[\d_.]*_|[\d.]+e[+\-]?\d)`)

	folds = strings.NewReplacer(
		"′", "'", "’", "'", "‘", "'", "″", `"`, "”", `"`, "“", `"`, "''", `"`,
		"\u00a0", " ", "\u202f", " ", "\u2009", " ", "\t", " ",
		"\u2010", "-", "\u2011", "-", "\u2012", "-", "\u2013", "-", "⁄", "/", "∕", "/",
		"½", " 1/2", "¼", " 1/4", "¾", " 3/4", "⅛", " 1/8", "⅜", " 3/8", "⅝", " 5/8", "⅞", " 7/8",
	)
)

// pattern is compiled when it is first asked for: most readings need none of them, and every start of the program would wait for all.
func pattern(text string) func() *regexp.Regexp {
	return sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(text) })
}

// Parse reads a length as it is written from a tape: 94 7/16, 94-7/16, 94½, 94.4375, 7' 10 7/16", 7 ft 10 7/16 in,
// 2399 mm, 239.9 cm, 2.399 m. A bare number is in the system given. Typographic primes, dashes and spaces, as a phone
// types them, are taken for what they look like.
//
// Anything that could be meant two ways is refused with an *Error: a comma, twelve inches or more after feet, a sign,
// an improper fraction, a leading zero, a fraction of a millimetre, anything finer than a nanometre, and lengths over Most.
func Parse(text string, system System) (Length, error) {
	if l, ok := plain(text, system); ok {
		return l, nil
	}
	return parse(text, system)
}

// parse is the whole of Parse.
func parse(text string, system System) (Length, error) {
	s := strings.ToLower(strings.Join(strings.FieldsFunc(folds.Replace(text), unicode.IsSpace), " "))
	switch {
	case s == "":
		return 0, &Error{"no length is written here", example(system)}
	case codeNumber().MatchString(s):
		return 0, &Error{fmt.Sprintf("%s is a programmer's number, not a reading", quote(text)), example(system)}
	case strings.ContainsFunc(s, func(c rune) bool { return c > unicode.MaxASCII && unicode.IsDigit(c) }):
		return 0, &Error{fmt.Sprintf("%s has digits of another script", quote(text)), "write it with the digits 0 to 9"}
	case date().MatchString(s):
		return 0, &Error{fmt.Sprintf("%s is a date, a length is wanted", quote(text)), example(system)}
	case !digit().MatchString(s):
		return 0, &Error{fmt.Sprintf("%s has no digits, a length is wanted", quote(text)), example(system)}
	case negative().MatchString(s):
		return 0, &Error{fmt.Sprintf("%s has a sign, a reading is never negative", quote(text)), "write the length without a sign"}
	case comma().MatchString(s):
		if m := commaOne().FindStringSubmatch(s); m != nil {
			return 0, &Error{fmt.Sprintf("%s could be a decimal or thousands", quote(text)), fmt.Sprintf("write %s.%s for the decimal, or %s%s without the comma", m[1], m[2], m[1], m[2])}
		}
		return 0, &Error{fmt.Sprintf("%s has a comma, which could be a decimal or thousands", quote(text)), "write a decimal point, or leave the comma out"}
	case manyDigits().MatchString(s):
		return 0, &Error{fmt.Sprintf("%s has more digits than a tape can show", quote(text)), example(system)}
	case leadZero().MatchString(s):
		return 0, &Error{fmt.Sprintf("%s starts a number with a zero", quote(text)), "leave the zero out; a comma in a list, as in 1,000, also leaves one behind"}
	}
	if m := metric().FindStringSubmatch(s); m != nil {
		if m[2] != "" || m[4] != "" {
			return 0, &Error{fmt.Sprintf("%s has a fraction of a metric unit", quote(text)), "write metric lengths with a decimal point, or inches with in"}
		}
		unit := Metre
		switch {
		case strings.HasPrefix(m[7], "mm"), strings.HasPrefix(m[7], "milli"):
			unit = Millimetre
		case strings.HasPrefix(m[7], "c"):
			unit = Centimetre
		}
		return whole(text, decimal(m[6]), unit)
	}
	if m := bare().FindStringSubmatch(s); m != nil {
		if system == Millimetres && m[6] == "" {
			return 0, &Error{fmt.Sprintf("%s is a fraction, and a bare number is in millimetres here", quote(text)), "write in after it for inches, or units: in above for the whole file; millimetres have a decimal point"}
		}
		l, err := sized(text, m[1:7], system.Unit())
		if e, ok := err.(*Error); ok && e.Hint == checkUnit { // which nobody wrote
			e.Hint = overBare(s, system)
		}
		return l, err
	}
	if m := imperial().FindStringSubmatch(s); m != nil {
		if anyOf(m[13:19]) {
			return sized(text, m[13:19], Inch)
		}
		feet, err := sized(text, m[1:7], Foot)
		if err != nil || !anyOf(m[7:13]) {
			return feet, err
		}
		inches, err := sized(text, m[7:13], Inch)
		if err != nil {
			return 0, err
		}
		if feet%Foot != 0 {
			return 0, &Error{fmt.Sprintf("%s has a part of a foot and inches as well", quote(text)), "write whole feet before inches"}
		}
		if inches >= Foot {
			right := Style{System: Inches, Division: Nanometre, Rounding: Nearest, Feet: true}.Print(feet + inches)
			return 0, &Error{fmt.Sprintf("%s has twelve inches or more after the feet", quote(text)), "write " + right + " if that is what was read"}
		}
		return bounded(text, feet+inches)
	}
	if m := looseDash().FindStringSubmatch(s); m != nil {
		return 0, &Error{fmt.Sprintf("%s could be a subtraction", quote(text)), fmt.Sprintf("write %s %s/%s", m[1], m[2], m[3])}
	}
	return 0, &Error{fmt.Sprintf("%s is not a length", quote(text)), example(system)}
}

// plain reads the forms that most readings have, whole numbers, fractions and decimals with no unit or with " in", " ft", a mark for feet or " mm" behind them, and feet and inches with their marks; false where there is anything to be said of it.
func plain(text string, system System) (Length, bool) {
	if feet, inches, ok := strings.Cut(text, "' "); ok {
		inches, ok = strings.CutSuffix(inches, `"`)
		f := digits(feet)
		i, read := simple(inches, Inches, int64(Inch))
		if !ok || !read || f < 0 || i >= Foot {
			return 0, false
		}
		return within(f*int64(Foot) + int64(i))
	}
	unit := int64(0)
	if number, ok := strings.CutSuffix(text, " in"); ok {
		text, system = number, Inches
	} else if number, ok := strings.CutSuffix(text, " ft"); ok {
		text, system, unit = number, Inches, int64(Foot)
	} else if number, ok := strings.CutSuffix(text, "'"); ok {
		text, system, unit = number, Inches, int64(Foot)
	} else if number, ok := strings.CutSuffix(text, " mm"); ok {
		text, system = number, Millimetres
	}
	if unit == 0 {
		unit = int64(system.Unit())
	}
	return simple(text, system, unit)
}

// simple reads a whole number, a fraction or a decimal of a unit in nanometres.
func simple(text string, system System, unit int64) (Length, bool) {
	head, part, mixed := strings.Cut(text, " ")
	if !mixed && strings.Contains(text, "/") {
		head, part, mixed = "0", text, true
	}
	if mixed {
		over, under, _ := strings.Cut(part, "/")
		n, d := digits(over), digits(under)
		w := digits(head)
		if system != Inches || w < 0 || n < 0 || d <= n || unit*n%d != 0 {
			return 0, false
		}
		return within(w*unit + unit*n/d)
	}
	head, part, broken := strings.Cut(text, ".")
	w := digits(head)
	if w < 0 || broken && (part == "" || len(part) > 6) {
		return 0, false
	}
	nm := w * unit
	for _, c := range []byte(part) {
		if c < '0' || c > '9' || unit%10 != 0 { // a place finer than a nanometre
			return 0, false
		}
		unit /= 10
		nm += int64(c-'0') * unit
	}
	return within(nm)
}

func within(nm int64) (Length, bool) { return Length(nm), nm <= int64(Most) }

// digits is a number of up to seven digits without a nought before it; -1 for anything else.
func digits(s string) int64 {
	if s == "" || len(s) > 7 || s[0] == '0' && len(s) > 1 {
		return -1
	}
	n := int64(0)
	for _, c := range []byte(s) {
		if c < '0' || c > '9' {
			return -1
		}
		n = 10*n + int64(c-'0')
	}
	return n
}

// sized turns the six groups of a number into a length of the given unit.
func sized(text string, g []string, unit Length) (Length, error) {
	switch {
	case g[0] != "":
		f, err := fraction(text, g[1], g[2])
		if err != nil {
			return 0, err
		}
		return whole(text, f.Add(decimal(g[0])), unit)
	case g[3] != "":
		f, err := fraction(text, g[3], g[4])
		if err != nil {
			return 0, err
		}
		return whole(text, f, unit)
	}
	return whole(text, decimal(g[5]), unit)
}

func fraction(text, num, den string) (exact.Number, error) {
	n, d := decimal(num), decimal(den)
	if d.Sign() == 0 {
		return exact.Number{}, &Error{fmt.Sprintf("%s divides by zero", quote(text)), "write a fraction such as 7/16"}
	}
	if n.Cmp(d) >= 0 {
		return exact.Number{}, &Error{fmt.Sprintf("%s has a fraction of one or more", quote(text)), "write the whole inches apart, as in 1 1/16"}
	}
	return n.Quo(d), nil
}

func decimal(s string) exact.Number {
	s = strings.TrimSuffix(s, ".")
	x, ok := exact.Parse(s)
	if !ok {
		return exact.Of(0)
	}
	return x
}

func whole(text string, x exact.Number, unit Length) (Length, error) {
	nm := x.Mul(exact.Of(int64(unit)))
	if nm.Cmp(exact.Of(int64(Most))) > 0 {
		return bounded(text, Most+1)
	}
	n, whole := nm.Int64() // one over Most never comes here
	if !whole {
		return 0, &Error{fmt.Sprintf("%s is finer than a nanometre", quote(text)), "write a fraction that a tape shows, such as 7/16, or fewer decimals"}
	}
	return bounded(text, Length(n))
}

func bounded(text string, l Length) (Length, error) {
	if l > Most {
		return 0, &Error{fmt.Sprintf("%s is over 100 m", quote(text)), checkUnit}
	}
	return l, nil
}

const checkUnit = "check the number and its unit"

// overBare says what a bare number over Most was taken for, and how to write it in the other unit.
func overBare(number string, system System) string {
	if system == Millimetres {
		return "a bare number is in millimetres here: check it, or write its unit with it"
	}
	if _, err := Parse(number, Millimetres); err != nil {
		return "a bare number is in inches here: check it, or write its unit with it"
	}
	return "a bare number is in inches here: write " + number + " mm if millimetres are meant"
}

// Bare reports that a text is a number without a unit, whose length hangs on the system that it is read in. Nothing is the same in both.
func Bare(text string) bool {
	a, errA := Parse(text, Inches)
	b, errB := Parse(text, Millimetres)
	return errA == nil && (errB != nil || a != b) || errA != nil && errB == nil
}

func anyOf(g []string) bool {
	for _, s := range g {
		if s != "" {
			return true
		}
	}
	return false
}

func example(system System) string {
	if system == Millimetres {
		return "write a length such as 2399, 2399.5 or 94 7/16 in"
	}
	return `write a length such as 94 7/16, 7' 10 7/16" or 2399 mm`
}

// quote puts a text in quotes, short enough for one line of a message. Marks for inches stay as they were written.
func quote(text string) string {
	text = strings.TrimSpace(text)
	if r := []rune(text); len(r) > mostQuoted {
		text = string(r[:mostQuoted]) + "..."
	}
	return strings.ReplaceAll(strconv.Quote(text), `\"`, `"`)
}

const mostQuoted = 40 // runes: several times the longest reading, and room for the rest of the line
