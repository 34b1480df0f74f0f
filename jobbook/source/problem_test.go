package source

import (
	"fmt"
	"strings"
	"testing"
	"testing/fstest"
	"unicode/utf8"

	"github.com/google/go-cmp/cmp"
)

// printed reads one file, a.md, and gives its problems as they are printed.
func printed(t *testing.T, text string) string {
	t.Helper()
	f, err := Read(fstest.MapFS{"a.md": {Data: []byte(text)}}, Job, "")
	if err != nil {
		t.Fatal(err)
	}
	var b strings.Builder
	Print(&b, f.Problems, f.Line, func(file string) string { return file })
	return b.String()
}

// Each case is the front matter (`front`) or the whole file (`file`) and the problems as printed. Places are counted by
// hand; with `front` the opening --- is line 1.
func TestProblems(t *testing.T) {
	tests := []struct{ name, front, file, want string }{
		{name: "inch mark in double quotes", front: `length: "8' 9-1/2""` + "\nwidth: 3\n", want: `
a.md:2:9: error: the quotes round this value end at the foot or inch mark inside it
  length: "8' 9-1/2""
          ^^^^^^^^^^^
  hint: write it without the outer quotes: 8' 9-1/2"
`},
		{name: "foot mark in single quotes", front: `length: '8' 9-1/2"'` + "\n", want: `
a.md:2:9: error: the quotes round this value end at the foot or inch mark inside it
  length: '8' 9-1/2"'
          ^^^^^^^^^^^
  hint: write it without the outer quotes: 8' 9-1/2"
`},
		{name: "open quote", front: "a: 1\nnote: 'open\n", want: `
a.md:3:7: error: the quote opened here is never closed
  note: 'open
        ^
  hint: close it, or take it out: a value with foot or inch marks needs no quotes round it
`},
		{name: "a quote that swallows the next key", front: "a: \"5\nb: 6\"\n", want: `
a.md:2:4: error: the quote opened here takes in line 3, which is not indented
  a: "5
     ^
  hint: close the quote on its own line, or indent the lines that go on
`},
		{name: "text behind a quoted value", front: "a: \"94\" wide\n", want: `
a.md:2:9: error: this cannot stand behind the value
  a: "94" wide
          ^^^^
  hint: put the whole value in quotes, or start a new line
`},
		{name: "backslash", front: `a: "x\q"` + "\n", want: `
a.md:2:6: error: in "double quotes" a backslash starts a code, and this is none
  a: "x\q"
       ^
  hint: use 'single quotes', or write the backslash twice
`},
		{name: "at sign", front: "a: @48\n", want: `
a.md:2:4: error: a value cannot start with @
  a: @48
     ^
  hint: leave the @ out, or put the value in quotes
`},
		{name: "backtick", front: "a: `x`\n", want: "\na.md:2:4: error: a value cannot start with `\n  a: `x`\n     ^\n  hint: leave the ` out, or put the value in quotes\n"},
		{name: "percent", front: "a: %5\n", want: `
a.md:2:4: error: a value cannot start with %
  a: %5
     ^
  hint: leave the % out, or put the value in quotes
`},
		{name: "percent at the edge", front: "%YAML 1.1\na: 1\n", want: `
a.md:2:1: error: a line of front matter cannot start with %
  %YAML 1.1
  ^
  hint: put the value in quotes, after its key
`},
		{name: "greater than", front: "a: > 36\n", want: `
a.md:2:4: error: > and | start a block of lines, not a value
  a: > 36
     ^
  hint: put a value that starts with > or | in quotes, or leave the sign out
`},
		{name: "greater than, touching", front: "a: >5\nb: 1\n", want: `
a.md:2:4: error: ">5" starts a block of lines, not a value
  a: >5
     ^^
  hint: put a value that starts with > in quotes, or leave the sign out
`},
		{name: "an empty block of lines", front: "a: |\nb: 1\n", want: `
a.md:2:4: error: "|" starts a block of lines, not a value
  a: |
     ^
  hint: put a value that starts with | in quotes, or leave the sign out
`},
		{name: "tab in front of a key", front: "a:\n\tb: 5\n", want: `
a.md:3:1: error: a tab cannot indent front matter
   b: 5
  ^
  hint: indent with spaces
`},
		{name: "tab on the first line", front: "\tb: 5\n", want: `
a.md:2:1: error: a tab cannot indent front matter
   b: 5
  ^
  hint: indent with spaces
`},
		{name: "alias", front: "a: *5\n", want: `
a.md:2:4: error: & and * are references, which are not part of front matter here
  a: *5
     ^
  hint: put a value that starts with & or * in quotes, and write repeated values out
`},
		{name: "anchor and alias to it", front: "a: &x 7\nb: *x\n", want: `
a.md:2:4: error: & and * are references, which are not part of front matter here
  a: &x 7
     ^
  hint: put a value that starts with & or * in quotes, and write repeated values out
a.md:3:4: error: & and * are references, which are not part of front matter here
  b: *x
     ^
  hint: put a value that starts with & or * in quotes, and write repeated values out
`},
		{name: "a list in itself", front: "a: &x [*x]\n", want: `
a.md:2:4: error: & and * are references, which are not part of front matter here
  a: &x [*x]
     ^
  hint: put a value that starts with & or * in quotes, and write repeated values out
`},
		{name: "tags, also the nameless one", front: "a: ! 5\nb: !!str 6\n", want: `
a.md:2:4: error: a ! starts a type name, which is not part of front matter here
  a: ! 5
     ^
  hint: put a value that starts with ! in quotes
a.md:3:4: error: a ! starts a type name, which is not part of front matter here
  b: !!str 6
     ^
  hint: put a value that starts with ! in quotes
`},
		{name: "merge key", front: "<<: {a: 1}\n", want: `
a.md:2:1: error: merging keys with << is not part of front matter here
  <<: {a: 1}
  ^^
  hint: write the keys out
`},
		{name: "a key twice", front: "a: 35\nb: 2\na: 4\n", want: `
a.md:4:1: error: the key "a" is written twice
  a: 4
  ^
  note: a.md:2:1: first written here
  hint: keep one of the two
`},
		{name: "a key twice, in braces, once quoted", front: "x: {a: 1, 'a': 2}\n", want: `
a.md:2:11: error: the key "a" is written twice
  x: {a: 1, 'a': 2}
            ^^^
  note: a.md:2:5: first written here
  hint: keep one of the two
`},
		{name: "a list as a key", front: "? [a]\n: b\n", want: `
a.md:2:3: error: a key must be a word, found a list or keys and values
  ? [a]
    ^
  hint: write a word before the colon
`},
		{name: "no key", front: ": 5\n", want: `
a.md:2:1: error: the key before the colon is missing
  : 5
  ^
  hint: write a word before the colon
`},
		{name: "hash touching a number", front: "length: #5\n", want: `
a.md:2:9: error: a # starts a comment, so there is no value before "#5"
  length: #5
          ^^
  hint: put a space after the # if it is a comment, or quotes round the value if it is not
`},
		{name: "hash touching a number in a list", front: "a:\n  - #5\n", want: `
a.md:3:5: error: a # starts a comment, so there is no value before "#5"
    - #5
      ^^
  hint: put a space after the # if it is a comment, or quotes round the value if it is not
`},
		{name: "hash in brackets", front: "a: [#5, 6]\n", want: `
a.md:2:5: error: a # touches what stands before it
  a: [#5, 6]
      ^
  hint: put a space before it for a comment, or quotes round the value
`},
		{name: "a value over two lines", front: "length: 35\n  1/2\n", want: `
a.md:2:9: error: "35 1/2" runs over several lines
  length: 35
          ^^
  hint: write it on one line; a longer text needs quotes round it, and the values of a list commas between them
`},
		{name: "no space after the colon, in braces", front: "a: {at:48, w:3}\n", want: `
a.md:2:5: error: "at:48" is read as a key without a value
  a: {at:48, w:3}
      ^^^^^
  hint: a space is needed after the colon: at: 48
a.md:2:12: error: "w:3" is read as a key without a value
  a: {at:48, w:3}
             ^^^
  hint: a space is needed after the colon: w: 3
`},
		{name: "no colon in braces", front: "a: {b 5}\n", want: `
a.md:2:5: error: the key "b 5" has no colon
  a: {b 5}
      ^^^
  hint: write key: value
`},
		{name: "a comment sign that touches a word behind a value", front: "title: Unit #5\n", want: `
a.md:2:13: warning: a # starts a comment, so "#5" is not read
  title: Unit #5
              ^^
  hint: put a space after the # if it is a comment, or quotes round the whole value if it is not
`},
		{name: "no space after the colon, alone", front: "height:38\n", want: `
a.md:2:1: error: "height:38" is read as one value, not as a key and its value
  height:38
  ^^^^^^^^^
  hint: a space is needed after the colon: height: 38
`},
		{name: "no space after the colon, between keys", front: "a: 1\nheight:38\nb: 2\n", want: `
a.md:3:1: error: "height:38" is read as one value, not as a key and its value
  height:38
  ^^^^^^^^^
  hint: a space is needed after the colon: height: 38
`},
		{name: "no space after the colon, below a key", front: "clear:\n  floor:94\n", want: `
a.md:3:3: error: "floor:94" is read as one value, not as a key and its value
    floor:94
    ^^^^^^^^
  hint: a space is needed after the colon: floor: 94
`},
		{name: "no space after the colon, twice below a key", front: "clear:\n  floor:94\n  rail:95\n", want: `
a.md:3:3: error: "floor:94" is read as one value, not as a key and its value
    floor:94
    ^^^^^^^^
  hint: a space is needed after the colon: floor: 94
`},
		{name: "no space after the colon, before a good key", front: "clear:\n  floor:94\n  rail: 95\n", want: `
a.md:3:3: error: "floor:94" is read as one value, not as a key and its value
    floor:94
    ^^^^^^^^
  hint: a space is needed after the colon: floor: 94
`},
		{name: "two colons", front: "a: b: c\n", want: `
a.md:2:5: error: a second colon on one line
  a: b: c
      ^
  hint: put a text with a colon in quotes, or start a new line for the second key
`},
		{name: "a key below a value", front: "a: 5\n  b: 6\n", want: `
a.md:3:4: error: a key cannot stand here, below a value
    b: 6
     ^
  hint: start keys that belong together in the same column, and indent what belongs to a key
`},
		{name: "indented by one too few", front: "a:\n  b: 5\n c: 6\n", want: `
a.md:4:2: error: this line does not fit those above it
   c: 6
   ^^^^
  hint: start keys that belong together in the same column, and indent what belongs to a key
`},
		{name: "a word alone", front: "a: 1\nword\nb: 2\n", want: `
a.md:3:1: error: a key without a colon
  word
  ^^^^
  hint: write key: value
`},
		{name: "dash after a key", front: "a: - b\n", want: `
a.md:2:4: error: a list with dashes cannot start here
  a: - b
     ^
  hint: start it on the line below, or write [first, second]
`},
		{name: "question mark", front: "a: ? b\n", want: `
a.md:2:4: error: a value cannot start with ?
  a: ? b
     ^
  hint: put it in quotes
`},
		{name: "bracket left open", front: "a: [1, 2\nb: 3\n", want: `
a.md:2:4: error: the [ opened here is never closed
  a: [1, 2
     ^
  hint: write ] after its last value
`},
		{name: "brace left open at the end", front: "a: 1\nb: {x: 1,\n", want: `
a.md:3:4: error: the { opened here is never closed
  b: {x: 1,
     ^
  hint: write } after its last value
`},
		{name: "bracket closed by a brace", front: "a: {b: [1, 2}\n", want: `
a.md:2:8: error: the [ opened here is never closed
  a: {b: [1, 2}
         ^
  hint: write ] after its last value
`},
		{name: "a bracket that closes nothing", front: "a: ]\n", want: `
a.md:2:4: error: a value cannot start with ]
  a: ]
     ^
  hint: put it in quotes
`},
		{name: "a comma too many", front: "a: [1,,2]\n", want: `
a.md:2:7: error: a comma with nothing before it
  a: [1,,2]
        ^
  hint: take the comma out, or put the value before it; where it is not known yet, write the list with a line and a dash for each, and nothing behind the dash of that one
`},
		{name: "a comma too many in braces", front: "a: [{b: 1,, c: 2}]\n", want: `
a.md:2:11: error: a comma with nothing before it
  a: [{b: 1,, c: 2}]
            ^
  hint: take the comma out, or put the value before it
`},
		{name: "a key without its colon, above a list", front: "a: 5\nlevel\n  - {at: 0, down: 4}\n", want: `
a.md:3:1: error: a key without a colon
  level
  ^^^^^
  hint: write level:
`},
		{name: "a key without its colon, above keys", front: "a: {b: 1}\nposts:\n  corner\n    newel: box\n", want: `
a.md:4:3: error: a key without a colon
    corner
    ^^^^^^
  hint: write corner:
`},
		{name: "a comma missing", front: "a: [\"1\" 2]\n", want: `
a.md:2:9: error: want a comma or the closing bracket here
  a: ["1" 2]
          ^
  hint: put a comma between values, and quotes round one with signs; a value with foot or inch marks needs no quotes round it
`},
		{name: "a list at the top", front: "- 1\n", want: `
a.md:2:1: error: want keys and values in the front matter, found a list
  - 1
  ^
  hint: write key: value, one to a line
`},
		{name: "a word at the top", front: "hello there\n", want: `
a.md:2:1: error: want keys and values in the front matter, found "hello there"
  hello there
  ^^^^^^^^^^^
  hint: write key: value, one to a line
`},
		{name: "marks of other documents", front: "a: 1\n--- b\n...\n", want: `
a.md:3:1: error: "---" stands inside the front matter
  --- b
  ^^^
  hint: take the line out; only --- alone on its line closes the front matter
a.md:4:1: error: "..." stands inside the front matter
  ...
  ^^^
  hint: take the line out; only --- alone on its line closes the front matter
`},
		// The map at the top is the first level, so the sixteenth bracket, at column 4 + 15, is the seventeenth.
		{name: "too deep in brackets", front: "a: " + strings.Repeat("[", 16) + strings.Repeat("]", 16) + "\n", want: `
a.md:2:19: error: lists and keys stand more than 16 deep in each other
  a: [[[[[[[[[[[[[[[[]]]]]]]]]]]]]]]]
                    ^
  hint: write it with fewer levels
`},
		{name: "several at once", front: "a: #5\nb: {c:1}\nd: |5\n", want: `
a.md:2:4: error: a # starts a comment, so there is no value before "#5"
  a: #5
     ^^
  hint: put a space after the # if it is a comment, or quotes round the value if it is not
a.md:3:5: error: "c:1" is read as a key without a value
  b: {c:1}
      ^^^
  hint: a space is needed after the colon: c: 1
a.md:4:4: error: "|5" starts a block of lines, not a value
  d: |5
     ^^
  hint: put a value that starts with | in quotes, or leave the sign out
`},
		{name: "column in runes", front: "ü: @\n", want: `
a.md:2:4: error: a value cannot start with @
  ü: @
     ^
  hint: leave the @ out, or put the value in quotes
`},
		{name: "never closed", file: "---\na: 1\n", want: `
a.md:1:1: error: the front matter opened here is never closed
  ---
  ^^^
  hint: write --- on a line of its own, at the left edge, after the last key
`},
		{name: "closed by an indented line", file: "---\na: 1\n ---\ntext\n", want: `
a.md:1:1: error: the front matter opened here is never closed
  ---
  ^^^
  note: a.md:3:2: this line, " ---", does not close it
  hint: write --- on a line of its own, at the left edge, after the last key
`},
		{name: "opened after a blank line", file: "\n---\na: 1\n---\n", want: `
a.md:2:1: warning: "---" is not read as the start of front matter
  ---
  ^^^
  hint: write --- alone on the first line of the file, at the left edge
`},
		{name: "opened by a long dash", file: "—-\nkind: run\n---\n", want: `
a.md:1:1: warning: "—-" is not read as the start of front matter
  —-
  ^^
  hint: write --- alone on the first line of the file, at the left edge
`},
		{name: "opening line forgotten", file: "kind: run\nfrom: wall\n---\ntext\n", want: `
a.md:1:1: warning: "kind: run" is not read as the start of front matter
  kind: run
  ^^^^^^^^^
  hint: write --- alone on a line above it, as the first line of the file
`},
		{name: "a heading under a line of text", file: "Note: this\nand that\n---\n", want: "\n"},
		{name: "a rule on the first line of notes", file: "***\ntext\n", want: "\n"},
		// 0xBD is one half in the old Western code page.
		{name: "not UTF-8", file: "---\na: 1\n---\nü 35\xbd\n", want: `
a.md:4:5: error: the byte BD is not UTF-8 text
  ü 35.
      ^
  hint: save the file as UTF-8
`},
		{name: "UTF-16", file: "\xff\xfea\x00", want: `
a.md:1:1: error: the byte FF is not UTF-8 text
  ..a.
  ^
  hint: save the file as UTF-8; it looks like UTF-16
`},
		{name: "escape character in the body", file: "---\na: @\n---\nx\x1b[31m\x00", want: `
a.md:2:4: error: a value cannot start with @
  a: @
     ^
  hint: leave the @ out, or put the value in quotes
a.md:4:2: error: the invisible character U+001B does not belong in text
  x.[31m.
   ^
  hint: take it out, or save the file as plain text
`},
		{name: "line separator in front matter", front: "a: 1\u2028b: 2\n", want: `
a.md:2:5: error: the invisible character U+2028 does not belong in text
  a: 1.b: 2
      ^
  hint: take it out, or save the file as plain text
`},
		{name: "lone carriage return", file: "one\r\ntwo\rthree\rfour\n", want: `
a.md:2:4: warning: a lone carriage return is not taken for a line end
  two.three.four
     ^
  hint: save the file with ordinary line ends
`},
		{name: "nothing but carriage returns", file: "---\ra: 1\r---\r", want: `
a.md:1:4: error: the lines end in lone carriage returns, so the front matter cannot be told from the rest
  ---.a: 1.---
     ^
  hint: save the file with ordinary line ends
`},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			file := test.file
			if file == "" {
				file = "---\n" + test.front + "---\n\ntext\n"
			}
			if diff := cmp.Diff(strings.TrimPrefix(test.want, "\n"), printed(t, file)); diff != "" {
				t.Errorf("-want +got:\n%s", diff)
			}
		})
	}
}

// What people write without knowing YAML, and what is read as they mean it.
func TestNoProblem(t *testing.T) {
	for name, front := range map[string]string{
		"a reading to take":               "length:\nwidth: # to take\nrail: ## to take\nfoot: #\n",
		"a reading to take, in braces":    "clear: {floor: , rail: 94, middle:}\n",
		"a reading to take, over lines":   "clear: {floor: # to take\n  , rail:\n  }\n",
		"feet and inches without quotes":  "a: 8' 9-1/2\"\nb: [8', 9\"]\n",
		"a comment behind a value":        "a: 5 # from the tape\nb: 5 # tape\n#c: 7\n",
		"a slope":                         "a: 8:12\nb:\n  8:12\n",
		"a web address on its own line":   "a:\n  https://example.org\n",
		"a quoted text over lines":        "a: \"one\n  two\"\nb:\n  - 'it''s\n    so'\n",
		"text in a block":                 "a: |\n  one\n  two\nb: >-\n  three\n",
		"quotes inside a list in braces":  "a: {b: \"x\", 'c': [\"y\"]}\n",
		"brackets over lines":             "a: [\n  1,\n  2,\n]\n",
		"a text with dashes and dots":     "a: --- b\nc: ...\n",
		"fifteen brackets below the keys": "a: " + strings.Repeat("[", 15) + strings.Repeat("]", 15) + "\n",
	} {
		t.Run(name, func(t *testing.T) {
			if got := printed(t, "---\n"+front+"---\n"); got != "" {
				t.Errorf("got:\n%s", got)
			}
		})
	}
}

func TestPrintStops(t *testing.T) {
	var problems []Problem
	for i := range mostPrinted + 3 {
		severity := Warning
		if i == mostPrinted+1 {
			severity = Error
		}
		problems = append(problems, Problem{Severity: severity, At: Pos{"a.md", 0, 0}, Summary: fmt.Sprint(i)})
	}
	var b strings.Builder
	Print(&b, problems, func(Pos) string { return "" }, func(file string) string { return file })
	lines := strings.Split(strings.TrimSuffix(b.String(), "\n"), "\n")
	if got := lines[len(lines)-1]; got != "and 3 more, of which errors: 1" {
		t.Errorf("last line %q", got)
	}
	if got, want := lines[len(lines)-2], fmt.Sprintf("a.md: warning: %d", mostPrinted-1); got != want {
		t.Errorf("line before it %q, want %q", got, want)
	}
}

func TestSort(t *testing.T) {
	place := func(file string, line, col int) Problem {
		return Problem{Severity: Error, At: Pos{file, line, col}, Summary: "x"}
	}
	got := Sort([]Problem{place("runs/10-b.md", 1, 1), place("runs/2-a.md", 3, 1), place("runs/2-a.md", 1, 9), place("runs/2-a.md", 1, 9), place("runs/2-a.md", 1, 2)})
	want := []Problem{place("runs/2-a.md", 1, 2), place("runs/2-a.md", 1, 9), place("runs/2-a.md", 3, 1), place("runs/10-b.md", 1, 1)}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("-want +got:\n%s", diff)
	}
}

func TestUnderlineLongLine(t *testing.T) {
	excerpt, caret := underline(strings.Repeat("a", 500)+"X"+strings.Repeat("b", 500), 501, 1)
	if len(excerpt) != excerptWidth || excerpt[strings.IndexByte(caret, '^')] != 'X' {
		t.Errorf("the caret is not under the X:\n%s\n%s", excerpt, caret)
	}
}

func FuzzPrint(f *testing.F) {
	f.Add("length: 94,5", 9, 4)
	f.Add("\x1b[31m\xff\u202e\t", 2, 400)
	f.Add(strings.Repeat("ab ", 200), 590, 40)
	f.Add("", -1, -1)
	f.Fuzz(func(t *testing.T, line string, col, width int) {
		excerpt, caret := underline(line, col, width)
		if n := utf8.RuneCountInString(excerpt); n > excerptWidth || len(caret) > n+1 || !strings.HasSuffix(caret, "^") {
			t.Errorf("excerpt of %d runes, caret line of %d", n, len(caret))
		}
		var b strings.Builder
		Print(&b, []Problem{{Error, Pos{line, 1, col}, width, line, line, []Note{{Pos{line, 1, 1}, line}}}}, func(Pos) string { return excerpt }, func(file string) string { return file })
		for _, r := range b.String() {
			if r < ' ' && r != '\n' || r == 0x7f || r == 0x1b || !utf8.ValidRune(r) {
				t.Errorf("%q reaches the terminal", r)
			}
		}
	})
}
