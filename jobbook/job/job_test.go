package job_test

import (
	"strings"
	"testing"
	"testing/fstest"

	"balustrade/jobbook/job"
	"balustrade/jobbook/length"
	"balustrade/jobbook/source"
	"balustrade/jobbook/working"
)

type files = map[string]string

// decode reads three layers of files given by their front matter; a text that starts with --- is the whole file.
func decode(t *testing.T, library, shop, jobs files) (*job.Job, string) {
	t.Helper()
	var documents, broken []source.Document
	var problems []source.Problem
	var folders []*source.Folder
	for _, l := range []struct {
		layer  source.Layer
		prefix string
		files  files
	}{{source.Library, "library/", library}, {source.Shop, "shop/", shop}, {source.Job, "", jobs}} {
		fsys := fstest.MapFS{}
		for name, text := range l.files {
			if !strings.HasPrefix(text, "---") {
				text = "---\n" + text + "\n---\n"
			}
			fsys[name] = &fstest.MapFile{Data: []byte(text)}
		}
		folder, err := source.Read(fsys, l.layer, l.prefix)
		if err != nil {
			t.Fatal(err)
		}
		folders = append(folders, folder)
		documents, broken = append(documents, folder.Documents...), append(broken, folder.Broken...)
		problems = append(problems, folder.Problems...)
	}
	j, more := job.Decode(documents, broken)
	problems = source.Sort(append(problems, more...))
	var b strings.Builder
	source.Print(&b, problems, func(at source.Pos) string {
		for _, f := range folders {
			if line := f.Line(at); line != "" {
				return line
			}
		}
		return ""
	}, func(file string) string { return file })
	return j, b.String()
}

// TestProblems has each kind of mistake in a file that YAML can read, with the whole text that the terminal shows.
func TestProblems(t *testing.T) {
	cases := []struct {
		name string
		jobs files
		want string
	}{
		{"unknown key", files{"job.md": "kind: job\nheigth: 38"}, `
job.md:3:1: error: unknown key "heigth" in a job
  heigth: 38
  ^^^^^^
  hint: did you mean height?
`},
		{"unknown kind", files{"job.md": "kind: job", "a.md": "kind: balluster"}, `
a.md:2:7: error: unknown kind "balluster" in this file
  kind: balluster
        ^^^^^^^^^
  hint: did you mean baluster?
`},
		{"wrong shape", files{"job.md": "kind: job", "runs/a.md": "kind: run\nmost: [3, 4]"}, `
runs/a.md:3:7: error: want a length, found a list
  most: [3, 4]
        ^
  hint: write one value
`},
		{"a decimal comma in braces", files{"job.md": "kind: job", "runs/a.md": "kind: run\nclear: {floor: 94,5}"}, `
runs/a.md:3:19: error: the key "5" has no colon
  clear: {floor: 94,5}
                    ^
  hint: a comma in braces starts a new key; write a decimal with a point
`},
		{"a comma", files{"job.md": "kind: job", "runs/a.md": "kind: run\nclear: 94,5"}, `
runs/a.md:3:8: error: "94,5" could be a decimal or thousands
  clear: 94,5
         ^^^^
  hint: write 94.5 for the decimal, or 945 without the comma
`},
		{"names that refer to nothing", files{"job.md": "kind: job\nrules: irc-2021\nposts: {corner: {newel: oak}}", "runs/a.md": "kind: run\nfrom: cornr\nto: wall\nbaluster: thin"}, `
job.md:3:8: error: no rule set is named "irc-2021"
  rules: irc-2021
         ^^^^^^^^
  hint: there is no rule set yet; write one
job.md:4:25: error: no newel is named "oak"
  posts: {corner: {newel: oak}}
                          ^^^
  hint: there is no newel yet; write one
runs/a.md:3:7: error: no post is named "cornr"
  from: cornr
        ^^^^^
  hint: did you mean corner?
runs/a.md:5:11: error: no baluster is named "thin"
  baluster: thin
            ^^^^
  hint: there is no baluster yet; write one
`},
		{"two files of one name", files{"job.md": "kind: job", "runs/1-a.md": "kind: run", "runs/2-a.md": "kind: run"}, `
runs/2-a.md:1:1: error: two files are named "a", a name is the file's without its leading number, capitals or not
  ---
  ^
  note: runs/1-a.md:1:1: the other one
  hint: rename one of them
`},
		{"no job", files{"runs/a.md": "kind: run"}, `
job.md: error: no file of kind job in the folder
  hint: write a job.md that starts with ---, kind: job, ---
`},
		{"two jobs", files{"job.md": "kind: job", "other.md": "kind: job"}, `
other.md:2:7: error: a second file of kind job, the first is job.md
  kind: job
        ^^^
  hint: keep one of them
`},
		{"a kind forgotten", files{"job.md": "kind: job", "runs/a.md": "clear: 94"}, `
runs/a.md:2:1: error: a file without a kind is a page of notes, it has no key "clear"
  clear: 94
  ^^^^^
  hint: add kind: , one of job, run, flight, baluster, newel, handrail, shoe, fillet, rosette, bolt, finish, alternative, survey, rules, species, fixing, fastening, supplier, issue, delivery, as-built, punch, made, rack, settings, step, caution; or keep only title, date and for
`},
		{"a note for nobody", files{"job.md": "kind: job", "note.md": "for: [crew, clint]"}, `
note.md:2:13: error: want one of shop, crew, client, inspector, found "clint"
  for: [crew, clint]
              ^^^^^
  hint: did you mean client?
`},
		{"a punch list of what is not there", files{"job.md": "kind: job\nposts: {corner: }", "p.md": "kind: punch\ndate: 2027-01-22\nitems:\n  - {what: a dent, of: cornr}\n  - {owner: I. B.}\n  - {what: a drip, done: 2027-01-21}"}, `
p.md:5:24: error: no run, flight or post is named "cornr"
    - {what: a dent, of: cornr}
                         ^^^^^
  hint: did you mean corner?
p.md:6:5: error: an item does not say what is to be put right
    - {owner: I. B.}
      ^
  hint: add what: and what is to be put right
p.md:7:26: error: done on 2027-01-21, before it was found on 2027-01-22
    - {what: a drip, done: 2027-01-21}
                           ^^^^^^^^^^
  hint: write the day on which it was put right
`},
		{"a day that no year has", files{"job.md": "kind: job\nused: [{colour: red}, {finish: nosuch}]", "s.md": "kind: settings\nretighten: {ends: 02-30, standing: soon}"}, `
job.md:3:8: error: what was used does not say what it is
  used: [{colour: red}, {finish: nosuch}]
         ^
  hint: add finish: or product:
job.md:3:32: error: no finish is named "nosuch"
  used: [{colour: red}, {finish: nosuch}]
                                 ^^^^^^
  hint: there is no finish yet; write one
s.md:3:19: error: want a day of the year as month-day, found "02-30"
  retighten: {ends: 02-30, standing: soon}
                    ^^^^^
  hint: write month and day, as in 04-15
s.md:3:36: error: want a time up to a year, found "soon"
  retighten: {ends: 02-30, standing: soon}
                                     ^^^^
  hint: write 30 min, 4 h, 2 to 4 h, or 7 days
`},
		{"a limit judged the other way", files{"job.md": "kind: job", "r.md": "kind: rules\nlimits:\n  guard-opening: {at-most: 4, clause: X, status: published}"}, `
r.md:4:28: error: guard-opening is judged by under, found at-most
    guard-opening: {at-most: 4, clause: X, status: published}
                             ^
  hint: write under
`},
		{"a limit without clause and status", files{"job.md": "kind: job", "r.md": "kind: rules\nlimits:\n  guard-opening: {under: 4}"}, `
r.md:4:3: error: the limit guard-opening has no clause
    guard-opening: {under: 4}
    ^^^^^^^^^^^^^
  hint: add clause: , where the rule stands
r.md:4:3: error: the limit guard-opening has no status
    guard-opening: {under: 4}
    ^^^^^^^^^^^^^
  hint: add status: , one of published, derived, common practice, local, memory
`},
		{"a profile out of order", files{"job.md": "kind: job", "b.md": "kind: baluster\nprofile:\n  - {at: 0, square: 1 1/4}\n  - {at: 7, square: 1 1/4}\n  - {at: 6, square: 1 1/4}"}, `
b.md:6:5: error: stations must go upwards from the bottom, none lower than the one before it
    - {at: 6, square: 1 1/4}
      ^
  hint: write the stations from the bottom up, the first at 0 and the last at the length as bought
`},
		{"a plumb reading both ways", files{"job.md": "kind: job", "runs/a.md": "kind: run\nfrom: {at: wall, plumb: {at: 36, away: 3/4, in: 1/8}}"}, `
runs/a.md:3:49: error: a plumb reading has both away and in
  from: {at: wall, plumb: {at: 36, away: 3/4, in: 1/8}}
                                                  ^^^
  hint: keep away: or in: , whichever the level showed
`},
		{"a bolt moved both ways", files{"job.md": "kind: job\nposts: {post: {}}", "runs/a.md": "kind: run\nfrom: {at: post, bolt-up: 1/4, bolt-down: 1/8}"}, `
runs/a.md:3:43: error: an end has both bolt-up and bolt-down
  from: {at: post, bolt-up: 1/4, bolt-down: 1/8}
                                            ^^^
  hint: keep bolt-up: or bolt-down: , whichever way it is moved
`},
		{"turns", files{"job.md": "kind: job\nposts:\n  a: {turn: [left 90, around]}\n  b: {turn: right 171}\n  c: {turn: [straight, right 22.5]}"}, `
job.md:4:23: error: want left or right and up to 170 degrees, found "around"
    a: {turn: [left 90, around]}
                        ^^^^^^
  hint: write left 90, right 45, or straight
job.md:5:13: error: want left or right and up to 170 degrees, found "right 171"
    b: {turn: right 171}
              ^^^^^^^^^
  hint: write left 90, right 45, or straight
`},
		{"a limit left blank", files{"job.md": "kind: job", "r.md": "kind: rules\nlimits:\n  guard-opening: {under: , clause: X, status: published}"}, `
r.md:4:3: error: the limit guard-opening has no length
    guard-opening: {under: , clause: X, status: published}
    ^^^^^^^^^^^^^
  hint: write the length, or leave the limit out
`},
		{"no space after a colon", files{"job.md": "kind: job", "b.md": "kind: baluster\nprofile:\n  - at:48"}, `
b.md:4:5: error: want keys and values for a station, found "at:48"
    - at:48
      ^^^^^
  hint: put a space after the colon
`},
		{"traits and steps", files{"job.md": "kind: job", "s.md": "kind: step\nwhen: [payntd]\nafter: [nothing]\ncautions: [x]\nquantities: [baluster]"}, `
s.md:3:8: error: no trait is named "payntd"
  when: [payntd]
         ^^^^^^
  hint: did you mean painted?
s.md:4:9: error: no step is named "nothing"
  after: [nothing]
          ^^^^^^^
  hint: known: s
s.md:5:12: error: no caution is named "x"
  cautions: [x]
             ^
  hint: there is no caution yet; write one
s.md:6:14: error: no quantity is named "baluster"
  quantities: [baluster]
               ^^^^^^^^
  hint: did you mean balusters?
`},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			_, got := decode(t, nil, nil, c.jobs)
			if want := strings.TrimPrefix(c.want, "\n"); got != want {
				t.Errorf("got\n%s\nwant\n%s", got, want)
			}
		})
	}
}

// TestNearestWins has one name in all three layers, and settings key by key.
func TestNearestWins(t *testing.T) {
	j, problems := decode(t,
		files{"settings.md": "kind: settings\nfit: 1/16\nscribe: 1/4", "b.md": "kind: baluster\ntitle: library", "c.md": "kind: baluster\ntitle: library"},
		files{"settings.md": "kind: settings\nfit: 1/8", "b.md": "kind: baluster\ntitle: shop", "c.md": "kind: baluster\ntitle: shop"},
		files{"job.md": "kind: job", "b.md": "kind: baluster\ntitle: job"})
	if problems != "" {
		t.Fatal(problems)
	}
	if got := j.Balusters[0]; got.Title.Text != "job" || got.Layer != source.Job || len(got.Over) != 2 {
		t.Errorf("b is %q of the %s over %v", got.Title.Text, got.Layer, got.Over)
	}
	if got := j.Balusters[1]; got.Title.Text != "shop" || got.File != "shop/c.md" {
		t.Errorf("c is %q from %s", got.Title.Text, got.File)
	}
	if j.Shop.Fit.Length != length.Inch/8 || j.Shop.Scribe.Length != length.Inch/4 {
		t.Errorf("fit %v, scribe %v", j.Shop.Fit.Length, j.Shop.Scribe.Length)
	}
}

// TestAmend changes one limit of a set and keeps the others, by another name and by the same name in a nearer layer.
func TestAmend(t *testing.T) {
	base := "kind: rules\nlimits:\n  guard-opening: {under: 4, clause: A, status: published}\n  guard-height-level: {at-least: 36, clause: B, status: published}"
	change := "kind: rules\namends: base\nwhy: town ordinance 12\nlimits:\n  guard-height-level: {at-least: 42, clause: T 3}"
	for _, file := range []string{"town.md", "base.md"} {
		t.Run(file, func(t *testing.T) {
			name := strings.TrimSuffix(file, ".md")
			j, problems := decode(t, files{"rules/base.md": base}, files{"rules/" + file: change}, files{"job.md": "kind: job\nrules: " + name})
			if problems != "" {
				t.Fatal(problems)
			}
			h := j.Rules.Limit("guard-height-level")
			if h.Value.Length != 42*length.Inch || h.Status != working.Local || h.Amends != "base" || h.At.File != "shop/rules/"+file {
				t.Errorf("height %+v", h)
			}
			o := j.Rules.Limit("guard-opening")
			if o.Value.Length != 4*length.Inch || o.Status != working.Published || o.Amends != "" || o.At.File != "library/rules/base.md" {
				t.Errorf("opening %+v", o)
			}
		})
	}
	t.Run("itself", func(t *testing.T) {
		_, problems := decode(t, nil, nil, files{"job.md": "kind: job", "r.md": "kind: rules\namends: r"})
		if !strings.Contains(problems, `the rule set "r" amends itself`) {
			t.Error(problems)
		}
	})
	t.Run("in a ring", func(t *testing.T) { // ends, whatever it says
		decode(t, nil, nil, files{"job.md": "kind: job", "r.md": "kind: rules\namends: s", "s.md": "kind: rules\namends: r"})
	})
}

// TestUnits: a bare number is in the job's units, in a file of another layer in inches, unless the file says otherwise.
func TestUnits(t *testing.T) {
	j, problems := decode(t, files{"b.md": "kind: baluster\nwide: 1", "m.md": "kind: baluster\nunits: mm\nwide: 32"}, nil,
		files{"job.md": "kind: job\nunits: mm\nheight: 965", "own.md": "kind: baluster\nwide: 40", "runs/a.md": "kind: run\nunits: in\nclear: 94 7/16"})
	if problems != "" {
		t.Fatal(problems)
	}
	if j.Height.Top.Length != 965*length.Millimetre || j.Balusters[0].Wide.Length != length.Inch || j.Balusters[1].Wide.Length != 32*length.Millimetre || j.Balusters[2].Wide.Length != 40*length.Millimetre {
		t.Error("a bare number was read in the wrong units")
	}
	if got := j.Runs[0].Clear("floor").Length; got != 94*length.Inch+7*length.Inch/16 {
		t.Errorf("clear %v", got)
	}
}

// TestTraits is one job and what it calls for.
func TestTraits(t *testing.T) {
	j, problems := decode(t, files{"p.md": "kind: finish\ntype: paint\nbase: oil", "oak.md": "kind: newel\nspecies: white oak\nwide: 3\nlong: 48"}, nil, files{
		"job.md": "kind: job\nbuilt: 1978\nsurfacing: 1980\ndrop: 71\nchildren: no\nposts: {a: {newel: oak, foot: bolted}}\nfinishes: {balusters: p}",
		"r.md":   "kind: run\nfrom: baseboard\nto: a", "s.md": "kind: survey\nloose: yes\ncoated: shellac"})
	if problems != "" {
		t.Fatal(problems)
	}
	want := "level-run level-rail wall-end unbacked-end post-end new-guard bolted-foot baseboard painted oil-finish finish balusters-finished old-guard survey loose-guard coated-old-guard built-before-1978 surfacing-before-1981 for-pay oak-or-beech" // without a rule set nobody knows whose law it is, and the year is that of the US
	if got := strings.Join(j.Traits(), " "); got != want {
		t.Errorf("got  %s\nwant %s", got, want)
	}
}

// TestBroken: a file that cannot be read is reported once, not again by every name that refers to it.
func TestBroken(t *testing.T) {
	_, problems := decode(t, nil, nil, files{"job.md": "kind: job\nbaluster: b", "b.md": "---\nkind: baluster\nwide: [\n---\n"})
	if n := strings.Count(problems, "error:"); n != 1 {
		t.Errorf("%d errors:\n%s", n, problems)
	}
}

// TestTurns: to the left is negative, in thousandths of a degree; a list goes on with the third run at the post.
func TestTurns(t *testing.T) {
	j, problems := decode(t, nil, nil, files{"job.md": "kind: job\nposts:\n  a: {turn: left 22.5}\n  b: {turn: [right 90, straight, ]}\n  c: {turn: }"})
	if problems != "" {
		t.Fatal(problems)
	}
	if a := j.Posts[0]; !a.Turn.Given || a.Turn.Milli != -22_500 || len(a.Then) != 0 {
		t.Errorf("%+v", a)
	}
	if b := j.Posts[1]; b.Turn.Milli != 90_000 || len(b.Then) < 1 || !b.Then[0].Given || b.Then[0].Milli != 0 {
		t.Errorf("%+v", b)
	}
	if c := j.Posts[2]; c.Turn.Given || c.Turn.At.Line != 6 {
		t.Errorf("%+v", c)
	}
}

// TestIdleKeys: a key that would have no effect where it stands is refused, with what to write.
func TestIdleKeys(t *testing.T) {
	const head = "---\nkind: flight\nfrom: wall\nto: wall\n"
	for name, c := range map[string]struct{ text, want string }{
		"count on treads":       {head + "shoe: none\ncount: 9\n---\n", "count is for balusters on a raked shoe"},
		"over without a shoe":   {head + "shoe: none\nshoe-over: 1\n---\n", "shoe-over is for a raked shoe"},
		"under without a shoe":  {head + "shoe: none\nunder-shoe: open\n---\n", "under-shoe is for a raked shoe"},
		"per-tread on a shoe":   {head + "shoe: s\nper-tread: 2\n---\n", "per-tread is for balusters on the treads"},
		"bracket on a shoe":     {head + "shoe: s\nbracket: 1/4\n---\n", "bracket is for balusters on the treads"},
		"opening with risers":   {head + "shoe: none\nriser-opening: 4\n---\n", "riser-opening is for a stair without risers"},
		"bends without radius":  {"---\nkind: run\nbends: left\n---\n", "bends is for a curved run"},
		"spacing of even gaps":  {"---\nkind: run\nspacing: 5\n---\n", "spacing is for a centred pattern"},
		"centre of even gaps":   {"---\nkind: run\npattern: even\ncentre: gap\n---\n", "centre is for a centred pattern"},
		"over a wall":           {"---\nkind: run\nfrom: {at: wall, over: yes}\n---\n", "over is for a post"},
		"bolt-up in a wall":     {"---\nkind: run\nto: {at: wall, bolt-up: 1/2}\n---\n", "bolt-up is for the bolt in a post"},
		"bolt-down in a wall":   {"---\nkind: run\nto: {at: wall, bolt-down: 1/2}\n---\n", "bolt-down is for the bolt in a post"},
		"held by a post":        {"---\nkind: run\nto: {at: a, held: stud}\n---\n", "held is for a wall"},
		"fitting without over":  {"---\nkind: run\nfrom: {at: wall, fitting: 3}\n---\n", "fitting is for a rail that goes over its post"},
		"goings for the risers": {head + "shoe: none\nrisers: [7, 7, 7]\ngoings: [10, 10, 10]\n---\n", "the flight has 3 risers and 3 goings"},
		"before and past":       {"---\nkind: flight\nto: {at: wall, before: 1, past: 1}\n---\n", "an end has both before and past"},
	} {
		t.Run(name, func(t *testing.T) {
			_, said := decode(t, nil, nil, files{"job.md": "---\nkind: job\nposts: {a: {}}\n---\n", "parts/s.md": "kind: shoe", "runs/1-r.md": c.text})
			if !strings.Contains(said, c.want) || !strings.Contains(said, "runs/1-r.md:") || !strings.Contains(said, "hint: ") {
				t.Errorf("nobody says %q: %s", c.want, said)
			}
		})
	}
}
