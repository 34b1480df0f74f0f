package jobbook_test

import (
	"context"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"balustrade/jobbook"
	"balustrade/jobbook/book"
	"balustrade/jobbook/site"
)

// editionsOf makes the whole book and editions of a job, all of them where none is named, each as its files by path.
func editionsOf(t interface {
	Helper()
	Fatal(...any)
}, dir string, editions ...book.Edition) (jobbook.Result, map[book.Edition]map[string]string) {
	t.Helper()
	list := []jobbook.Edition{{Of: book.Whole}}
	if len(editions) == 0 {
		editions = book.Editions
	}
	for _, e := range editions {
		list = append(list, jobbook.Edition{Of: e})
	}
	result, files, err := new(jobbook.Maker).MakeEditions(context.Background(), dir, list)
	if err != nil {
		t.Fatal(err)
	}
	if result.Plan == nil {
		return result, nil
	}
	made := map[book.Edition]map[string]string{}
	for i, e := range list {
		made[e.Of] = map[string]string{}
		for _, f := range files[i] {
			made[e.Of][f.Path] = strings.Join(f.Pieces, "")
		}
	}
	return result, made
}

var (
	pageLinks = regexp.MustCompile(`\s(?:href|src)="([^"]*)"`)
	pageIDs   = regexp.MustCompile(`\sid="([^"]*)"`)
	styles    = regexp.MustCompile(`(?s)<style>.*?</style>`)
	drawn     = regexp.MustCompile(`(?s)<svg.*?</svg>`)
)

// leadsNowhere checks that an edition is whole in itself: every link leads to a file and a place that it has, every page is reached from the first, ids stand once.
func leadsNowhere(t interface {
	Helper()
	Errorf(string, ...any)
}, where string, files map[string]string) {
	t.Helper()
	ids := map[string]map[string]bool{}
	for path, text := range files {
		if !strings.HasSuffix(path, ".html") {
			continue
		}
		ids[path] = map[string]bool{}
		for _, m := range pageIDs.FindAllStringSubmatch(text, -1) {
			if ids[path][m[1]] {
				t.Errorf("%s, %s: the id %q stands twice", where, path, m[1])
			}
			ids[path][m[1]] = true
		}
	}
	reached := map[string]bool{"index.html": true}
	for path := range ids {
		for _, m := range pageLinks.FindAllStringSubmatch(files[path], -1) {
			if strings.HasPrefix(m[1], "https://") || strings.HasPrefix(m[1], "data:") {
				continue
			}
			file, id, _ := strings.Cut(m[1], "#")
			if file == "" {
				file = path
			}
			reached[file] = true
			if _, ok := files[file]; !ok {
				t.Errorf("%s, %s: a link leads to %q, which is not in the edition", where, path, m[1])
			} else if id != "" && !ids[file][id] {
				t.Errorf("%s, %s: a link leads to %q, which has no such place", where, path, m[1])
			}
		}
	}
	for path := range files {
		if !reached[path] && path != "font-licence.txt" {
			t.Errorf("%s: no link leads to %s", where, path)
		}
	}
}

// TestEditionsAreWhole: each edition of each job stands by itself, with a first page, a print edition and a style sheet; and the same job gives the same bytes.
func TestEditionsAreWhole(t *testing.T) {
	for _, dir := range jobs {
		_, made := editionsOf(t, dir)
		again := made
		if dir == "../testdata/metric-job" { // the one with readings, punch lists and a delivery
			_, again = editionsOf(t, dir)
		}
		for _, e := range book.Editions {
			t.Run(filepath.Base(dir)+", "+string(e), func(t *testing.T) {
				files := made[e]
				for _, want := range []string{"index.html", "print.html"} {
					if files[want] == "" {
						t.Errorf("%s is not there", want)
					}
				}
				leadsNowhere(t, string(e), files)
				if diff := cmp.Diff(files, again[e]); diff != "" {
					t.Errorf("a second time: %s", diff)
				}
				for path, text := range files {
					if !strings.HasPrefix(path, "print") && strings.HasSuffix(path, ".html") && !strings.Contains(text, `aria-current="page"`) && !strings.HasPrefix(path, "strips-") {
						t.Errorf("%s is not in the list of pages", path)
					}
					for _, gone := range []string{"plan.json", "recorded.html", "price-internal"} {
						if strings.Contains(text, gone) {
							t.Errorf("%s holds %q", path, gone)
						}
					}
				}
			})
		}
	}
}

// TestEditionPages: which pages there are for whom.
func TestEditionPages(t *testing.T) {
	_, made := editionsOf(t, "../sample-job")
	for e, want := range map[book.Edition]struct{ has, not string }{
		book.Crew:      {"cut-list cutting setups labels layout strips-letter strips-a4 sequence days hand-over notes buying-list working inspection", "price alternatives recorded client"},
		book.Client:    {"drawings work after notes price", "cut-list layout buying-list checks working sequence calendar hand-over measured"},
		book.Inspector: {"checks inspection loads layout posts measured working", "price alternatives recorded client cut-list buying-list sequence calendar days notes hand-over cautions"},
	} {
		for _, name := range strings.Fields(want.has) {
			if made[e][name+".html"] == "" {
				t.Errorf("%s: %s is missing", e, name)
			}
		}
		for _, name := range strings.Fields(want.not) {
			if made[e][name+".html"] != "" {
				t.Errorf("%s: %s is there", e, name)
			}
		}
	}
	if made[book.Client]["print.html"] != made[book.Whole]["client.html"] {
		t.Error("what the client prints is not what the whole book shows the shop")
	}
	if made[book.Crew]["schedule.ics"] == "" || made[book.Client]["schedule.ics"] != "" {
		t.Error("the crew has the calendar for its phones, and the client has none")
	}
}

// marks are put into everything that somebody is not to see: a word, and the editions that may have it beside the whole book.
var marks = map[string]string{
	"Qzsupplier": "crew", "Qzsupplierprose": "", "Qzphone": "", "Qzmail": "", "Qzshopprose": "", "Qzrack": "", "Qzcurrency": "", "Qzwhy": "crew",
	"Qzstep": "crew", "Qzcaution": "crew", "Qzpost": "crew inspector", "Qzjobprose": "crew", "Qzrunprose": "crew", "Qzpartprose": "crew", "Qzsurvey": "crew", "Qzmeasurer": "crew inspector",
	"Qzalternative": "", "Qznote": "crew", "Qzshopnote": "", "Qzclientnote": "client", "Qzinspectornote": "inspector", "Qzbothnote": "client inspector",
	"Qzpicture": "crew", "Qzshows": "crew", "Qzexif": "", "Qzfile": "crew", "Qzreadings": "crew inspector", "Qzdelivery": "crew", "Qzdeliverynote": "crew", "Qzbuilt": "crew inspector", "Qzmade": "crew", "Qzmadenote": "crew", "Qzreader": "crew inspector",
	"Qzpunch": "crew", "Qzowner": "crew", "Qzpunchnote": "crew", "Qzpunchprose": "crew", "Qzshared": "crew client", "Qzsharednote": "crew", "Qzsharedowner": "crew",
	"Qzused": "crew client", "Qzusednote": "crew", "Qzextra": "client", "Qzwords": "client", "Qzsettled": "",
}

// nowhere are marks that stand on no page of the whole book either: they are lost on the way in, or no page shows them.
var nowhere = []string{"Qzexif"}

// amounts that are the shop's own, each of them nowhere else in the job.
var amounts = []string{"1373.17", "31.719", "23.357", "8.139", "1313.13", "7319.37", "917.91", "4371.93"}

// marked is the sample with marks in everything, and with every part of it priced.
func marked(t *testing.T, price string) string {
	t.Helper()
	dir := copyOf(t, "../sample-job")
	edit := func(file string, how func(string) string) { t.Helper(); change(t, dir, file, how) }
	write := func(file, text string) { t.Helper(); put(t, filepath.Join(dir, file), []byte(text)) }
	behind := func(words string) func(string) string {
		return func(s string) string { return s + "\n" + words + "\n" }
	}
	swap := func(old, new string) func(string) string {
		return func(s string) string { return strings.Replace(s, old, new, 1) }
	}
	edit("shop/settings.md", func(s string) string {
		s = regexp.MustCompile(`rates: .*`).ReplaceAllString(s, "rates: {hour: 1373.17, overhead: 31.719 %, mark-up: 23.357 %, tax: 8.139 %, tax-on: materials, round: 50.00}\ncurrency: Qzcurrency")
		return s + "\nQzshopprose\n"
	})
	edit("job.md", func(s string) string {
		s = regexp.MustCompile(`(?s)\nprice:\n.*?\nair:`).ReplaceAllString(s, "\nprice: "+price+"\nused: [{product: Qzused, note: Qzusednote, on: balusters, batch: 7}]\nair:")
		s = strings.Replace(s, "measured-by: M. Osterhaven", "measured-by: Qzmeasurer", 1)
		s = strings.Replace(s, "why: the youngest sleeps", "why: Qzwhy", 1)
		return strings.Replace(s, "note: \"", "note: \"Qzpost ", 1) + "\nQzjobprose\n"
	})
	edit("runs/1-gallery.md", behind("Qzrunprose"))
	edit("parts/cherry-rail.md", behind("Qzpartprose"))
	edit("survey/old-guard.md", func(s string) string {
		return strings.Replace(strings.Replace(s, "photographs/corner.jpg, shows: \"", "photographs/Qzfile.jpg, shows: \"Qzshows ", 1), "![Sketch", "![Qzpicture Sketch", 1) + "\nQzsurvey\n"
	})
	photograph, err := os.ReadFile(filepath.Join(dir, "survey", "photographs", "corner.jpg"))
	if err != nil {
		t.Fatal(err)
	}
	comment := append([]byte{0xff, 0xfe, 0, 8}, "Qzexif"...) // a comment segment: its length counts itself
	write("survey/photographs/Qzfile.jpg", string(photograph[:2])+string(comment)+string(photograph[2:]))
	edit("notes/1-access.md", behind("Qznote"))
	write("notes/5-shop.md", "---\ntitle: Qzshopnote\nfor: shop\n---\n\nQzshopnote\n")
	write("notes/6-Qzfile.md", "---\ntitle: Of the client\nfor: [client]\n---\n\n# Qzclientnote\n\nSee [the gallery](../runs/1-gallery.md), [this](plan-Qzsettled.pdf)[^1].\n\n![a drawing](Qzsettled.png)\n\n```table buying\n```\n\n[^1]: a foot note\n")
	write("notes/7-inspector.md", "---\ntitle: Of the inspector\nfor: inspector\n---\n\nQzinspectornote\n")
	write("notes/8-both.md", "---\ntitle: Of both\nfor: [client, inspector]\n---\n\nQzbothnote\n")
	edit("alternatives/1-tighter.md", behind("Qzalternative"))
	edit("shop/rack.md", func(s string) string { return s + "\nQzrack\n" })
	edit("shop/suppliers/2-otterhead-turners.md", func(s string) string {
		s = regexp.MustCompile(`title: .*`).ReplaceAllString(s, "title: Qzsupplier")
		return strings.Replace(s, "price: 6.30", "price: 7319.37", 1) + "\nQzsupplierprose, telephone Qzphone, Qzmail@example.org\n"
	})
	edit("shop/suppliers/1-withy-lane-joinery-timber.md", swap("price: 148.00", "price: 917.91"))
	write("deliveries/1-Qzfile.md", "---\nkind: delivery\ntitle: Qzdelivery\nreceived: 2026-12-10\nitems: [{part: wood-glue, count: 1, note: Qzdeliverynote}]\n---\n")
	write("as-built/1-Qzreadings.md", "---\nkind: as-built\ntitle: Qzbuilt\nby: Qzreader\ndate: 2027-01-20\nreadings: [{of: gallery, what: opening, read: 3 13/16, where: between 7 and 8, note: Qzbuilt}]\n---\n")
	write("made/1-Qzfile.md", "---\nkind: made\ntitle: Qzmade\ndate: 2027-01-08\npieces: [{mark: G-H, part: cherry-rail, long: 90, note: Qzmadenote}]\n---\n")
	write("punch/8-ours.md", "---\nkind: punch\ntitle: Qzpunch\nby: Qzowner\nitems: [{what: Qzpunch, owner: Qzowner, note: Qzpunchnote}]\n---\n\nQzpunchprose\n")
	write("punch/9-Qzfile.md", "---\nkind: punch\nfor: [client, crew]\nitems: [{what: Qzshared, owner: Qzsharedowner, note: Qzsharednote}]\n---\n")
	write("shop/steps/500-more.md", "---\nkind: step\ntitle: Qzstep\nminutes: {once: 43}\n---\n\nQzstep\n")
	write("shop/cautions/900-more.md", "---\nkind: caution\ntitle: Qzcaution\n---\n\nQzcaution\n")
	write("shop/cautions/050-lead.md", "---\nkind: caution\ntitle: Qzcaution\n---\n\nQzcaution\n")
	return dir
}

// leaks are the marks in the bytes and the names of an edition's files that it must not have.
func leaks(files map[string]string, e book.Edition, marks map[string]string) (found []string) {
	for path, text := range files {
		text = styles.ReplaceAllString(text, "")
		if strings.HasSuffix(path, ".css") { // a typeface in base64 holds anything by chance
			text = ""
		}
		for mark, may := range marks {
			if !strings.Contains(text, mark) && !strings.Contains(path, mark) {
				continue
			}
			whole := regexp.MustCompile(mark + `($|[^a-z])`) // Qznote is not Qznotes
			if !slices.Contains(strings.Fields(may), string(e)) && (whole.MatchString(text) || whole.MatchString(path)) {
				found = append(found, path+": "+mark)
			}
		}
	}
	slices.Sort(found)
	return found
}

// TestEditionsLeakNothing: no word, amount, name or path that is not for its readers is anywhere in the bytes of an edition: pages, drawings, the file for phones, pictures, names of files.
func TestEditionsLeakNothing(t *testing.T) {
	const rest = "words: Qzwords, contingency: 1313.13, extras: [{what: Qzextra, price: 87.65}], allowances: [{what: A gate, price: 76.54}], discount: 3 %, valid: 20 days, choices: [tighter, square-and-clear]}"
	for name, price := range map[string]string{"nothing": "{" + rest, "lines": "{show: lines, lines: [{what: Timber, of: materials}, {what: Work, of: labour}], " + rest} {
		t.Run(name, func(t *testing.T) {
			result, made := editionsOf(t, marked(t, price))
			if result.Plan == nil {
				t.Fatal(result.Problems)
			}
			var all strings.Builder
			for path, text := range made[book.Whole] {
				all.WriteString(path + "\n" + text + "\n")
			}
			for mark := range marks {
				if !strings.Contains(all.String(), mark) != slices.Contains(nowhere, mark) {
					t.Errorf("%s is in the whole book: %v; the test sees nothing", mark, strings.Contains(all.String(), mark))
				}
			}
			p := pricesOf(t, made[book.Whole])
			if !p.Complete || !p.Known {
				t.Fatalf("the price is not whole: %+v", p.Asks)
			}
			shown := map[string]bool{}
			for _, l := range p.Offer {
				shown[rat(l.Amount).FloatString(2)] = true
			}
			internal := slices.Clone(amounts)
			for _, l := range slices.Concat(p.Materials, p.Labour, p.Sums, p.Offer) {
				if text := rat(l.Amount).FloatString(2); len(text) >= len("1000.00") { // shorter ones are the numbers of openings and forces too
					internal = append(internal, text)
				}
			}
			for _, e := range book.Editions {
				files := made[e]
				leadsNowhere(t, string(e), files)
				may := map[string]string{}
				for mark, editions := range marks {
					may[mark] = editions
				}
				if name != "nothing" {
					may["Qzcurrency"] += " client"
				} else {
					may["Qzextra"] = ""
				}
				for _, found := range leaks(files, e, may) {
					t.Errorf("%s reads %s", e, found)
				}
				for path, text := range files {
					if !strings.HasSuffix(path, ".html") && !strings.HasSuffix(path, ".ics") {
						continue
					}
					text = drawn.ReplaceAllStringFunc(styles.ReplaceAllString(text, ""), plainText) // coordinates are numbers of their own
					text = strings.ReplaceAll(text, "\u202f", "")                                   // between thousands
					for _, amount := range internal {
						if e == book.Client && shown[amount] {
							continue
						}
						if strings.Contains(text, amount) && regexp.MustCompile(`(^|[^0-9])`+regexp.QuoteMeta(amount)+`($|[^0-9])`).MatchString(text) {
							t.Errorf("%s, %s: reads %s", e, path, amount)
						}
					}
					low := strings.ToLower(plainText(text))
					for _, word := range map[book.Edition][]string{
						book.Client:    {".md", "shop/", "library/", "mark-up", "overhead", "contingency", "supplier", "photographs/", "working.html"},
						book.Crew:      {"mark-up", "overhead", "contingency"},
						book.Inspector: {"mark-up", "overhead", "contingency", "supplier", "per-foot"},
					}[e] {
						if strings.Contains(low, word) {
							t.Errorf("%s, %s: reads %q", e, path, word)
						}
					}
				}
			}
			for mark, may := range marks { // and what is for somebody does reach them
				for _, e := range strings.Fields(may) {
					text := ""
					for path, page := range made[book.Edition(e)] {
						text += path + page
					}
					if !strings.Contains(text, mark) && mark != "Qzfile" && !(name == "nothing" && mark == "Qzextra") {
						t.Errorf("%s does not read %s", e, mark)
					}
				}
			}
		})
	}
}

// TestRandomEditions makes every edition of random jobs with marks in what is not theirs.
func TestRandomEditions(t *testing.T) {
	hidden := map[string]string{"Qzshopname": "client", "Qzyard": "crew", "Qzyardprose": "", "Qzmoney": "", "Qznote": "crew", "Qzinspector": "inspector", "Qzprose": "crew", "Qzpunch": "crew", "Qzreader": "crew inspector"}
	rapid.Check(t, func(rt *rapid.T) {
		dir, err := os.MkdirTemp(t.TempDir(), "job")
		if err != nil {
			rt.Fatal(err)
		}
		files := randomJob(rt)
		files["settings.md"] = "kind: settings\nname: Qzshopname\ncurrency: Qzmoney\nrates: {hour: 61.00, overhead: 10 %, mark-up: 5 %, tax: 0 %, tax-on: everything, round: 1.00}\n"
		files["yard.md"] = "kind: supplier\ntitle: Qzyard\nsells:\n  square-1-1-4: {price: 4.10}\n  turned-tapered: [{pack: 7, price: 61.00}, {price: 9.20}]\n  rail-plow-1-1-4: {lengths: [8', 12', 16'], per-foot: 5.15}\n"
		files["job.md"] += "price: {contingency: 12.00}\n"
		files["notes/1.md"] = "title: Qznote\n"
		files["notes/2.md"] = "title: Qzinspector\nfor: inspector\n"
		files["punch/1.md"] = "kind: punch\nitems: [{what: Qzpunch}]\n"
		for name, text := range files {
			path := filepath.Join(dir, filepath.FromSlash(name))
			if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
				rt.Fatal(err)
			}
			words := "Qzprose\n"
			if name == "yard.md" {
				words = "Qzyardprose\n"
			}
			if strings.HasPrefix(name, "notes/") {
				words = ""
			}
			if err := os.WriteFile(path, []byte("---\n"+text+"---\n"+words), 0o644); err != nil {
				rt.Fatal(err)
			}
		}
		result, made := editionsOf(rt, dir, rapid.SampledFrom(book.Editions).Draw(rt, "edition"))
		if result.Plan == nil {
			if !contradicts(result.Problems) {
				rt.Fatal(result.Problems)
			}
			return
		}
		for e := range made {
			if e == book.Whole {
				continue
			}
			leadsNowhere(rt, string(e), made[e])
			may := map[string]string{}
			for mark, editions := range hidden {
				may[mark] = editions
			}
			if e == book.Inspector { // words beside what was read on the guard, and of rules
				may["Qzprose"] = "inspector"
			}
			for _, found := range leaks(made[e], e, may) {
				rt.Errorf("%s reads %s", e, found)
			}
		}
	})
}

// TestNotesAreForSomebody: a word that names nobody is a mistake, with its place.
func TestNotesAreForSomebody(t *testing.T) {
	dir := copyOf(t, "../sample-job")
	rewrite(t, dir, "notes/1-access.md", "date: 2026-11-17", "for: [crew, famly]")
	result, err := jobbook.Check(dir)
	if err != nil || result.Plan != nil {
		t.Fatal(err, "a plan")
	}
	if p := result.Problems[0]; p.At.File != "notes/1-access.md" || p.At.Line != 3 || !strings.Contains(p.Summary, `found "famly"`) {
		t.Errorf("%+v", p)
	}
}

// TestBuildEditions writes them, and never one over another.
func TestBuildEditions(t *testing.T) {
	top, job := t.TempDir(), folder(t, simple)
	to := func(e book.Edition, name string) []jobbook.Edition {
		return []jobbook.Edition{{Of: e, Out: filepath.Join(top, name)}}
	}
	if _, written, err := new(jobbook.Maker).BuildEditions(t.Context(), job, to(book.Client, "client")); err != nil || len(written) != 1 || written[0].Written == 0 {
		t.Fatal(written, err)
	}
	before := jobbook.FilesBelow(filepath.Join(top, "client"))
	for _, e := range []book.Edition{book.Crew, book.Inspector, book.Whole} {
		_, _, err := new(jobbook.Maker).BuildEditions(t.Context(), job, to(e, "client"))
		if _, foreign := err.(*site.ForeignError); !foreign || !strings.Contains(err.Error(), "belongs to the client's edition") {
			t.Errorf("%q: %v", e, err)
		}
	}
	if _, err := jobbook.Build(t.Context(), job, filepath.Join(top, "client")); err == nil {
		t.Error("the whole book goes over the client's edition")
	}
	if diff := cmp.Diff(before, jobbook.FilesBelow(filepath.Join(top, "client"))); diff != "" {
		t.Error(diff)
	}
	if _, written, err := new(jobbook.Maker).BuildEditions(t.Context(), job, to(book.Client, "client")); err != nil || written[0].Written != 0 {
		t.Errorf("a second time: %+v, %v", written, err)
	}
	if _, err := jobbook.Build(t.Context(), job, filepath.Join(top, "whole")); err != nil {
		t.Fatal(err)
	}
	if _, _, err := new(jobbook.Maker).BuildEditions(t.Context(), job, to(book.Client, "whole")); err == nil || !strings.Contains(err.Error(), "the whole book") {
		t.Error(err)
	}
}
