package book

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math/rand/v2"
	"reflect"
	"strconv"
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
	return b.String()
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
		if v.Type() == reflect.TypeFor[json.Number]() {
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
				if got, want := string(dataJSON(v.Interface())), slowJSON(t, v.Interface()); got != want {
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
			if v := d.wholePlan(); string(dataJSON(v)) != slowJSON(t, v) {
				t.Errorf("%s is written otherwise", c.name)
			}
		}
	})
}

// A number that is none must not make the file unreadable: it is written as a text, which its schema refuses.
func TestNumbersInJSON(t *testing.T) {
	for _, c := range []struct {
		number json.Number
		want   string
	}{
		{"", "0"}, {"0", "0"}, {"-0.000", "-0.000"}, {"31.479167", "31.479167"}, {"-12", "-12"},
		{"-", `"-"`}, {".5", `".5"`}, {"5.", `"5."`}, {"007", `"007"`}, {"+1", `"+1"`}, {"1/3", `"1/3"`}, {"NaN", `"NaN"`}, {"1,5", `"1,5"`}, {"1 ", `"1 "`},
	} {
		t.Run(string(c.number), func(t *testing.T) {
			if got := string(dataJSON(c.number)); got != c.want+"\n" {
				t.Errorf("got %q, want %q", got, c.want)
			}
		})
	}
}

func FuzzDataJSON(f *testing.F) {
	for _, text := range hostileTexts {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		v := dataCitation{Text: text, Status: text}
		if got, want := string(dataJSON(v)), slowJSON(t, v); got != want {
			t.Errorf("got  %q\nwant %q", got, want)
		}
		if isNumber(text) && !json.Valid([]byte(text)) {
			t.Errorf("%q is taken for a number", text)
		}
	})
}
