package book

import (
	"bytes"
	"cmp"
	"encoding/json"
	"fmt"
	"math/rand/v2"
	"reflect"
	"strconv"
	"strings"
	"testing"
)

// slowJSON is a value as encoding/json writes it.
func slowJSON(t testing.TB, v any) string {
	t.Helper()
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	if err := e.Encode(v); err != nil {
		t.Fatal(err)
	}
	return strings.ReplaceAll(b.String(), `\ufffd`, "\ufffd") // what is not UTF-8 has that sign in its place, here as an escape and in the book as it is
}

// What a writer of JSON trips over: quotes, control characters, what is not UTF-8, line ends of JavaScript, the sign for what is not UTF-8 itself, runes of every length, and what is escaped for HTML only.
var hostileTexts = []string{
	"", " ", `"`, `\`, `a "b" \c\`, "\x00", "\x1f\x7f", "\b\f\n\r\t", "\v", "\xff", "a\xc3", "\xed\xa0\x80", "\xf4\x90\x80\x80", "\u2028\u2029", "\ufffd", "½ 3⁄16 é", "𝄞", "<a href='x'>&</a>", "\u0085\ufeff",
}

// fill puts something into every field of a value by chance: nothing, too.
func fill(v reflect.Value, r *rand.Rand) {
	switch v.Kind() {
	case reflect.Struct:
		for i := range v.NumField() {
			fill(v.Field(i), r)
		}
	case reflect.Pointer:
		if r.IntN(3) > 0 {
			v.Set(reflect.New(v.Type().Elem()))
			fill(v.Elem(), r)
		}
	case reflect.Slice:
		if n := r.IntN(5) - 1; n >= 0 { // else it is nil
			v.Set(reflect.MakeSlice(v.Type(), n, n))
			for i := range n {
				fill(v.Index(i), r)
			}
		}
	case reflect.Bool:
		v.SetBool(r.IntN(2) > 0)
	case reflect.Int, reflect.Int64:
		v.SetInt(int64(r.Uint64()) >> r.IntN(64))
	case reflect.String:
		if v.Type() == reflect.TypeFor[dataNumber]() {
			v.SetString([]string{"", "0", "-0", "12.50", "-1", strconv.FormatFloat(r.NormFloat64(), 'f', r.IntN(9), 64)}[r.IntN(6)])
			return
		}
		text := hostileTexts[r.IntN(len(hostileTexts))]
		for r.IntN(3) > 0 {
			text += string(rune(r.IntN(0x3000))) + hostileTexts[r.IntN(len(hostileTexts))]
		}
		v.SetString(text)
	default:
		panic(fmt.Sprintf("%s is no type of data", v.Type()))
	}
}

// TestDataJSON holds the bytes to those of encoding/json, of every type that data is made of.
func TestDataJSON(t *testing.T) {
	for _, of := range []reflect.Type{reflect.TypeFor[dataPlan](), reflect.TypeFor[yardClash](), reflect.TypeFor[yardJob](), reflect.TypeFor[yardLine](), reflect.TypeFor[*[][]*int]()} {
		t.Run(of.String(), func(t *testing.T) {
			for seed := range uint64(40) {
				v := reflect.New(of).Elem()
				fill(v, rand.New(rand.NewPCG(seed, 1)))
				if got, want := fastJSON(t, v.Interface()), slowJSON(t, v.Interface()); got != want {
					at := 0
					for at < min(len(got), len(want)) && got[at] == want[at] {
						at++
					}
					t.Fatalf("seed %d, byte %d:\ngot  %.80q\nwant %.80q", seed, at, got[max(at-40, 0):], want[max(at-40, 0):])
				}
			}
		})
	}
	t.Run("plans made by hand", func(t *testing.T) {
		for _, c := range handMadePlans() {
			d := dataWriter{plan: c.plan, job: c.plan.Job}
			if d.job == nil {
				continue
			}
			if v := d.wholePlan(); fastJSON(t, v) != slowJSON(t, v) {
				t.Errorf("%s is written otherwise", c.name)
			}
		}
	})
}

// MarshalJSON is for encoding/json.
func (n dataNumber) MarshalJSON() ([]byte, error) { return []byte(cmp.Or(n, "0")), nil }

// UnmarshalJSON reads what stands there.
func (n *dataNumber) UnmarshalJSON(text []byte) error {
	*n = dataNumber(text)
	return nil
}

// fastJSON is a value as the book has it.
func fastJSON(t testing.TB, v any) string {
	t.Helper()
	out, err := dataJSON(v)
	if err != nil {
		t.Fatal(err)
	}
	return string(out)
}

// TestNumbersInJSON: an empty number is 0, and what is no number stops the book.
func TestNumbersInJSON(t *testing.T) {
	for _, n := range []dataNumber{"0", "-0.000", "31.479167", "-12"} {
		if got := fastJSON(t, n); got != string(n)+"\n" {
			t.Errorf("%s is written %q", n, got)
		}
	}
	if got := fastJSON(t, dataNumber("")); got != "0\n" {
		t.Errorf("an empty one is written %q", got)
	}
	for _, n := range []dataNumber{"-", ".5", "5.", "007", "+1", "1/3", "NaN", "1,5", "1 2", "true x"} {
		if got, err := dataJSON(n); err == nil {
			t.Errorf("%s is written %q", n, got)
		}
	}
}

func FuzzDataJSON(f *testing.F) {
	for _, text := range hostileTexts {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		if strings.Contains(text, `\ufffd`) {
			t.Skip("taken for an escape")
		}
		v := dataCitation{Text: text, Status: text}
		if got, want := fastJSON(t, v), slowJSON(t, v); got != want {
			t.Errorf("got  %q\nwant %q", got, want)
		}
	})
}
