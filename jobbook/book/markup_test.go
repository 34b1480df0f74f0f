package book

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"balustrade/jobbook/finding"
	"balustrade/jobbook/job"
	"balustrade/jobbook/length"
)

func TestAnchor(t *testing.T) {
	seen := map[string]string{}
	for name, want := range map[string]string{
		"run/gallery/gap":    "run.gallery.gap",
		"run/a.b/c":          "run.a~2Eb.c",
		"run/a/b.c":          "run.a.b~2Ec",
		"front porch":        "front~20porch",
		"ü":                  "~C3~BC",
		"a~b":                "a~7Eb",
		`"><script>`:         "~22~3E~3Cscript~3E",
		"parts/oak_1-1-4.md": "parts.oak_1-1-4~2Emd",
		"":                   "",
	} {
		got := anchor(name)
		if got != want {
			t.Errorf("%q: want %q, got %q", name, want, got)
		}
		if other, ok := seen[got]; ok {
			t.Errorf("%q and %q get the same id", name, other)
		}
		seen[got] = name
	}
}

func inches(t *testing.T, division length.Length) *book {
	t.Helper()
	return &book{job: &job.Job{System: length.Inches}, division: division}
}

// TestLengths: expected texts are written by hand from the definition of the inch.
func TestLengths(t *testing.T) {
	b := inches(t, length.Inch/16)
	mm := &book{job: &job.Job{System: length.Millimetres}, division: length.Millimetre}
	const in = length.Inch
	for _, c := range []struct {
		name      string
		got, want markup
	}{
		{"a fraction", b.near(94*in + in*7/16), `94 <span class="frac">7/16</span>`},
		{"whole", b.near(100 * in), "100"},
		{"less than one", b.near(in / 8), `<span class="frac">1/8</span>`},
		{"nothing", b.near(0), "0"},
		{"negative", b.near(-in / 16), `-<span class="frac">1/16</span>`},
		{"a reading in 64ths is kept", b.exact(in * 3 / 64), `<span class="frac">3/64</span>`},
		{"a reading in mm in a job in inches", b.exact(2399 * length.Millimetre), "94.4488"}, // 2399 / 25.4 = 94.448819
		{"mm", mm.near(2399*length.Millimetre + length.Millimetre/4), "2399"},
		{"mm with tenths", mm.exact(2399*length.Millimetre + length.Millimetre/2), "2399.5"},
		{"a reading in inches in a job in mm", mm.exact(in / 16), "1.59"}, // 1.5875
	} {
		t.Run(c.name, func(t *testing.T) {
			if c.got != c.want {
				t.Errorf("want %s, got %s", c.want, c.got)
			}
		})
	}
}

// TestJudged: a value never looks like its limit unless it is, and is rounded to the bad side.
func TestJudged(t *testing.T) {
	b := inches(t, length.Inch/16)
	const four = 4 * length.Inch
	for _, c := range []struct {
		name         string
		value        length.Length
		op           finding.Op
		want, limits markup
	}{
		{"well under", four - length.Inch/16, finding.Under, "3.938", "4.000"},                    // 3.9375, up
		{"a hair under", four - length.Inch/4096, finding.Under, "3.9998", "4.0000"},              // 3.99975586, up at 3 places is 4.000
		{"on it", four, finding.Under, "4.000", "4.000"},                                          //
		{"a hair over", four + length.Inch/4096, finding.Under, "4.001", "4.000"},                 // 4.00024414, up
		{"a hair short", four - length.Inch/4096, finding.AtLeast, "3.999", "4.000"},              // down
		{"a hair more than enough", four + length.Inch/4096, finding.AtLeast, "4.0002", "4.0000"}, // 4.000 down at 3 places
		{"one nanometre under", four - 1, finding.Under, "4.000000", "4.000000"},                  // finer than any decimal shown: the margin says so
	} {
		t.Run(c.name, func(t *testing.T) {
			v, l := b.judged(c.value, four, c.op)
			if v != c.want || l != c.limits {
				t.Errorf("want %s and %s, got %s and %s", c.want, c.limits, v, l)
			}
		})
	}
}

func TestWords(t *testing.T) {
	for _, c := range [][2]string{
		{sentence("the floor is level"), "The floor is level."}, {sentence("Stop!"), "Stop!"}, {sentence(""), ""}, {sentence("él"), "Él."},
		{listed([]string{"a", "b", "c"}), "a, b and c"}, {listed(nil), ""}, {duration(59), "59 min"}, {duration(120), "2 h"}, {duration(61), "1 h 1 min"},
		{string(say("<p>%s %d</p>", `<a href="x">`, 3)), "<p>&lt;a href=&#34;x&#34;&gt; 3</p>"},
	} {
		if c[0] != c[1] {
			t.Errorf("want %q, got %q", c[1], c[0])
		}
	}
}

// TestRecordLexer: the tokens together are the text, and a foot mark opens no string.
func TestRecordLexer(t *testing.T) {
	text := "---\nclear: 8' 9-1/2\" # as read\nlist:\n  - {at: 0, round: 1}\nurl: a#b\n---\n\n# Head\n\nkey: no\n---\n"
	tokens, err := recordLexer{}.Tokenise(nil, text)
	if err != nil {
		t.Fatal(err)
	}
	var all strings.Builder
	var kinds []string
	for _, token := range tokens.Tokens() {
		all.WriteString(token.Value)
		if token.Type.String() != "Text" {
			kinds = append(kinds, token.Type.String()+" "+strings.TrimSpace(token.Value))
		}
	}
	if all.String() != text {
		t.Errorf("want the text back, got %q", all.String())
	}
	want := []string{"Punctuation ---", "NameTag clear:", "Comment # as read", "NameTag list:", "NameTag url:", "Punctuation ---", "GenericHeading # Head"}
	if diff := cmp.Diff(want, kinds); diff != "" {
		t.Error(diff)
	}
}

// TestBits: a bit is written the same wherever it is named: in inches as its fraction; in millimetres to the tenth, with the fraction where it is no metric bit. By hand: 3/8 is 9.525, 1/2 is 12.7, 49/64
// is 19.446875; 8 mm is 0.31496 in.
func TestBits(t *testing.T) {
	for l, want := range map[length.Length][2]markup{
		length.Inch * 3 / 8:   {`<b><span class="frac">3/8</span></b> in bit`, `<b>9.5</b> mm bit (<span class="frac">3/8</span> in)`},
		length.Inch / 2:       {`<b><span class="frac">1/2</span></b> in bit`, `<b>12.7</b> mm bit (<span class="frac">1/2</span> in)`},
		length.Inch * 49 / 64: {`<b><span class="frac">49/64</span></b> in bit`, `<b>19.4</b> mm bit (<span class="frac">49/64</span> in)`},
		8 * length.Millimetre: {`<b>0.3150</b> in bit`, `<b>8</b> mm bit`},
	} {
		for i, sys := range []length.System{length.Inches, length.Millimetres} {
			b := &book{job: &job.Job{System: sys}}
			if got := b.bitWords(l); got != want[i] {
				t.Errorf("%q, want %q", got, want[i])
			}
		}
	}
}
