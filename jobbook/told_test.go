package jobbook_test

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"balustrade/jobbook"
	"balustrade/jobbook/book"
	"balustrade/jobbook/job"
	"balustrade/jobbook/source"
)

// wordsIn finds the free words in a file's front matter, each with the path of its key. Names that a job gives to posts and goods are no part of the path.
func wordsIn(n *source.Node, keys []job.Key, path string, found func(path string, n *source.Node)) {
	switch n.Kind {
	case source.List:
		for _, item := range n.Items {
			wordsIn(item, keys, path, found)
		}
	case source.Map:
		for _, e := range n.Entries {
			i := slices.IndexFunc(keys, func(k job.Key) bool { return k.Key == e.Key })
			switch {
			case i < 0:
				wordsIn(e.Value, keys, path, found)
			case len(keys[i].Sub) > 0:
				wordsIn(e.Value, keys[i].Sub, path+" "+e.Key, found)
			case freeWords(keys[i].Form):
				for _, value := range append([]*source.Node{e.Value}, e.Value.Items...) {
					if value.Kind == source.Scalar && !value.Blank() {
						found(path+" "+e.Key, value)
					}
				}
			}
		}
	}
}

func freeWords(form string) bool { return form == "words" || form == "a list of words" }

// keysOf are the keys of a kind of file; a note has a title alone.
func keysOf(front *source.Node) (kind string, keys []job.Key) {
	k := front.Get("kind")
	if k == nil {
		return "note", []job.Key{{Key: "title", Form: "words"}}
	}
	return k.Text, job.Kinds[slices.IndexFunc(job.Kinds, func(j job.Key) bool { return j.Key == k.Text })].Sub
}

// markWords writes a mark before all free words in the files of a job, made of a prefix and the key's path, and gives the paths by mark.
func markWords(t *testing.T, dir, prefix string) map[string]string {
	t.Helper()
	marks := map[string]string{}
	mark := func(file string) error {
		folder, err := source.Read(os.DirFS(filepath.Dir(file)), source.Layer(0), "")
		if err != nil {
			return err
		}
		i := slices.IndexFunc(folder.Documents, func(d source.Document) bool { return d.File == filepath.Base(file) })
		if i < 0 || folder.Documents[i].Front == nil {
			return nil
		}
		doc := folder.Documents[i]
		lines := strings.Split(doc.Text, "\n")
		kind, keys := keysOf(doc.Front)
		type place struct {
			at   source.Pos
			mark string
		}
		var places []place
		wordsIn(doc.Front, keys, kind, func(path string, n *source.Node) {
			if named[path] {
				return
			}
			mark := prefix + strings.NewReplacer(" ", "", "-", "").Replace(path) + "z"
			marks[mark] = path
			at := n.At
			if n.Quoted {
				at.Col++
			}
			places = append(places, place{at, mark})
		})
		for _, p := range slices.Backward(places) {
			line := []rune(lines[p.at.Line-1])
			lines[p.at.Line-1] = string(line[:p.at.Col-1]) + p.mark + " " + string(line[p.at.Col-1:])
		}
		return os.WriteFile(file, []byte(strings.Join(lines, "\n")), 0o644)
	}
	err := filepath.WalkDir(dir, func(file string, d os.DirEntry, err error) error {
		if err != nil || d.IsDir() || !strings.HasSuffix(file, ".md") || strings.Contains(file, "issues") {
			return err
		}
		return mark(file)
	})
	if err != nil {
		t.Fatal(err)
	}
	return marks
}

// withAllWords is the sample with files that have the keys that it lacks.
func withAllWords(t *testing.T) string {
	t.Helper()
	dir := copyOf(t, "../sample-job")
	rewrite(t, dir, "job.md", "\nair:", "\nused: [{product: p, note: n, on: balusters, coat: c, colour: c, sheen: s, batch: b, left: l}]\nfloor-to-come: {thick: 5/8, what: oak}\nair:")
	for file, text := range map[string]string{
		"deliveries/1.md":      "kind: delivery\ntitle: t\nfrom: f\nreceived: 2026-12-10\nitems: [{part: wood-glue, count: 1, batch: b, note: n}]",
		"as-built/1.md":        "kind: as-built\ntitle: t\nby: b\nwith: w\ndate: 2027-01-20\nreadings: [{of: gallery, what: opening, read: 3 13/16, where: between 7 and 8, note: n}]\npush: [{of: corner, where: at rail height, load: a person, moves: no, note: n}]",
		"made/1.md":            "kind: made\ntitle: t\nby: b\ndate: 2027-01-08\npieces: [{mark: G-H, part: cherry-rail, long: 90, note: n}]",
		"finishes/own.md":      "kind: finish\ntitle: t\ntype: paint\nbase: water\nbare: [{grit: [150, 180]}]\ncoats: [{coat: enamel, type: enamel, coverage: 350 sq ft/gal, times: 2, dry: 4 h, sand: s, grit: 220, status: common practice}]\ncure: c\ntools: [t]\nclean: c\ncare: c",
		"species/elm.md":       "kind: species\ntitle: Own maple\nalso: [a]\ng: 0.6\nstatus: published",
		"shop/steps/500.md":    "kind: step\ntitle: t\nhold: h\ntools: [t]\nright: r\nevening: e\ncalendar: {wait: 1 day, source: s, status: common practice}",
		"survey/second.md":     "kind: survey\ntitle: t\nhazards: [h]\nheld: h\nopenings: [{where: w, read: 5}]\nclimb: [{what: w, at: 12}]\nkeeps: [k]",
		"alternatives/4.md":    "kind: alternative\ntitle: t\njob: {height: 40}",
		"notes/9.md":           "title: t\nfor: inspector",
		"shop/rules/more.md":   "kind: rules\namends: our-irc\ntitle: t\nwhy: w\nlimits: {guard-opening: {under: 3 3/4, clause: c, status: local, note: n}}",
		"shop/rack.md":         "kind: rack\noffcuts: [{part: cherry-rail, long: 47 1/2, note: n}]",
		"parts/own-rosette.md": "kind: rosette\ntitle: t\nwide: 3 1/2\nthick: 3/4",
		"parts/own-bolt.md":    "kind: bolt\ntitle: t\nlong: 3 1/2\nwide: 5/16",
	} {
		putFile(t, dir, file, text)
	}
	rewrite(t, dir, "job.md", "balusters: water-enamel", "balusters: own")
	return dir
}

// keysTold are the keys with words that a person writes as he likes, by who reads them in an edition: a new one belongs to one of these. A note's and a punch list's are read by those they are for.
var keysTold = map[string]string{
	"client": `job title, job client, job place, job used product, job used coat, job used colour, job used sheen, job used batch, job used left, job price lines what, job price extras what, job price allowances what,
		job price words, run title, flight title, finish title, finish care, alternative title, settings name, settings contact, note title, punch items what, punch items where`,
	"inspector": `job title, job client, job place, job measured-by, job posts note, job floor-to-come what, run title, run floor-to-come what, flight title, baluster title, newel title, handrail title, shoe title, fillet title,
		finish title, survey title, survey openings where, survey inside where, survey inside note, survey members what, rules title, rules why, rules limits clause, fixing title, fixing rated by,
		as-built title, as-built by, as-built with, as-built readings note, as-built push where, as-built push load, as-built push note, note title`,
	"neither": `job used note, job calendar family why, rosette title, bolt title, finish bare woods, finish coats sand, finish coats coat, finish cure, finish tools, finish clean, survey photos shows, survey held, survey climb what,
		survey hazards, survey leaves what, survey keeps, rules limits note, rules loads clause, rules loads note, species title, species also, fixing driver, fastening title, fastening note, supplier title, supplier sells coat,
		delivery title, delivery from, delivery items batch, delivery items note, punch title, punch by, punch items owner, punch items note, made title, made by, made pieces note, rack offcuts note, settings currency,
		step title, step hold, step tools, step right, step evening, step calendar source, caution title, caution source,
		caution law country, caution law says, caution law source, rules country`,
	"names": `job panels species, job used on, job floor species, job floor framing, run floor species, run floor framing, flight floor species, flight floor framing, run match, baluster species, newel species, handrail species,
		shoe species, fillet species, rosette species, survey of, survey photos file, survey inside framing, survey leaves run, survey leaves post, delivery items part, delivery items coat, as-built readings where, made pieces mark,
		made pieces part, made sticks part, rack offcuts part, rack pieces part, rack cans finish, rack cans coat`,
}

// named are the keys whose words name something else of the job, so that no mark can stand before them.
var named = func() map[string]bool {
	m := map[string]bool{}
	for _, path := range toldList("names") {
		m[path] = true
	}
	return m
}()

func toldList(who string) []string {
	return strings.Split(strings.Join(strings.Fields(keysTold[who]), " "), ", ")
}

// TestToldKeys: for every key with words somebody decided who reads them.
func TestToldKeys(t *testing.T) {
	var all []string
	for who := range keysTold {
		all = append(all, toldList(who)...)
	}
	known := []string{"note title"}
	var walk func(path string, keys []job.Key)
	walk = func(path string, keys []job.Key) {
		for _, k := range keys {
			walk(path+" "+k.Key, k.Sub)
			if freeWords(k.Form) {
				known = append(known, path+" "+k.Key)
			}
		}
	}
	for _, kind := range job.Kinds {
		walk(kind.Key, kind.Sub)
	}
	for _, path := range known {
		if !slices.Contains(all, path) {
			t.Errorf("who reads the words of %q? Put it into keysTold", path)
		}
	}
	for _, path := range all {
		if !slices.Contains(known, path) {
			t.Errorf("keysTold has %q, which is no key with words", path)
		}
	}
}

// TestTold: the words of a job's files, and those of an issue of it that reads otherwise in everything, reach the client and the inspector where keysTold says so, and nowhere else in the bytes of their editions.
func TestTold(t *testing.T) {
	before, dir := withAllWords(t), withAllWords(t)
	old := markWords(t, before, "Qy")
	if r, _, err := jobbook.Issue(before, "first", "2026-11-20"); err != nil || r.Plan == nil {
		t.Fatal(err, r.Problems)
	}
	marks := markWords(t, dir, "Qz")
	if err := os.CopyFS(filepath.Join(dir, "issues"), os.DirFS(filepath.Join(before, "issues"))); err != nil {
		t.Fatal(err)
	}
	result, made := editionsOf(t, dir)
	if result.Plan == nil {
		t.Fatal(result.Problems)
	}
	reads := func(e book.Edition, mark string) (where []string) {
		for file, text := range made[e] {
			if strings.Contains(strings.ToLower(file+"\n"+text), strings.ToLower(mark)) {
				where = append(where, file)
			}
		}
		slices.Sort(where)
		return where
	}
	for _, e := range []book.Edition{book.Client, book.Inspector} {
		told := toldList(string(e))
		for mark, path := range marks {
			where := reads(e, mark)
			switch may := slices.Contains(told, path); {
			case !may && len(where) > 0:
				t.Errorf("the %s reads the words of %q: %s", e, path, where)
			case may && len(where) == 0:
				t.Errorf("the %s does not read the words of %q", e, path)
			}
		}
		for mark, path := range old {
			if where := reads(e, mark); len(where) > 0 {
				t.Errorf("the %s reads what an issue said of %q: %s", e, path, where)
			}
		}
	}
	seen := 0
	for mark := range old {
		if len(reads(book.Whole, mark)) > 0 {
			seen++
		}
	}
	if seen < 20 {
		t.Errorf("the whole book tells of %d words of the issue; the test sees nothing", seen)
	}
}

// TestEditionsOfTrouble: days and deliveries that go wrong are the shop's and the household's; the client signs nothing that cannot be built as drawn, and the inspector reads of the guard alone.
func TestEditionsOfTrouble(t *testing.T) {
	const late, short, low = "the goods are not there by the day", "delivered that can be used", "height of the guard"
	for _, c := range []struct {
		name   string
		change func(dir string)
		stops  bool
		whole  string // what the whole book says of it
	}{
		{"days", func(dir string) { rewrite(t, dir, "job.md", "wanted: 2026-12-11", "wanted: 2026-11-24") }, false, late},
		{"a delivery", func(dir string) {
			if err := os.MkdirAll(filepath.Join(dir, "deliveries"), 0o755); err != nil {
				t.Fatal(err)
			}
			text := "---\nkind: delivery\nfrom: Qzyard\nreceived: 2026-12-10\nitems: [{part: maple-baluster, count: 12, broken: 3, narrowest: 1 1/4, widest: 1 1/4}]\n---\n"
			if err := os.WriteFile(filepath.Join(dir, "deliveries", "1-Qzyard.md"), []byte(text), 0o644); err != nil {
				t.Fatal(err)
			}
		}, false, short},
		{"a guard that is too low", func(dir string) { rewrite(t, dir, "job.md", "\nheight: 38", "\nheight: 34") }, true, low},
	} {
		t.Run(c.name, func(t *testing.T) {
			dir := copyOf(t, "../sample-job")
			c.change(dir)
			result, made := editionsOf(t, dir, book.Client, book.Inspector)
			if result.Plan == nil {
				t.Fatal(result.Problems)
			}
			if !strings.Contains(made[book.Whole]["checks.html"], c.whole) {
				t.Fatalf("the whole book does not say %q; the test sees nothing", c.whole)
			}
			client, inspector := made[book.Client], made[book.Inspector]
			for words, want := range map[string]bool{"Signature": !c.stops, "cannot be built as drawn": c.stops, "These days do not keep yet": c.whole == late} {
				if strings.Contains(client["print.html"], words) != want {
					t.Errorf("the client reads %q: %v", words, !want)
				}
			}
			if strings.Contains(client["index.html"], "rint and sign") == c.stops {
				t.Errorf("the client is asked to sign: %v", c.stops)
			}
			if strings.Contains(inspector["index.html"], "What stops it") != c.stops {
				t.Errorf("the inspector reads of something that stops it: %v", !c.stops)
			}
			for path, text := range inspector {
				for _, words := range []string{late, short, "the family allows", "Qzyard"} {
					if strings.Contains(text, words) {
						t.Errorf("the inspector reads %q in %s", words, path)
					}
				}
			}
		})
	}
}

// TestEditionsAsk: of the seven things that the loft's book asks for, two are about the bits for its screws: five are the client's and the inspector's matter. Counted by hand on its first page.
func TestEditionsAsk(t *testing.T) {
	_, made := editionsOf(t, "../testdata/metric-job", book.Client, book.Inspector)
	for e, want := range map[book.Edition]string{book.Client: "5 things are still to be measured or decided", book.Inspector: "Not known yet: 5 things"} {
		if !strings.Contains(made[e]["index.html"], want) {
			t.Errorf("the %s does not read %q", e, want)
		}
	}
	if n := strings.Count(made[book.Whole]["index.html"], "Waiting for it"); n != 7 {
		t.Errorf("the whole book asks for %d things, not 7", n)
	}
}
