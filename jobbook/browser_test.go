//go:build browser

package jobbook

import (
	"bufio"
	"bytes"
	"context"
	"encoding/json"
	"encoding/xml"
	"fmt"
	"html"
	"net/url"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp"
)

// These tests look at the sample's book as its readers do: in a browser, on paper, in a validator. They need chromium, java,
// pdftotext and what testdata/browser lists; "make test" sees to all of it.

const (
	sample  = "../sample-job"
	checks  = "../testdata/browser/node_modules"
	phone   = 360             // px: the narrowest phone in common use
	patient = 2 * time.Minute // for one step of a browser on a busy machine; none is waited out when all is well
)

// bookOf makes the book of a job and gives its folder.
func bookOf(t *testing.T, job string) string {
	t.Helper()
	out := filepath.Join(t.TempDir(), "book")
	result, err := Build(t.Context(), job, out)
	if err != nil {
		t.Fatal(err)
	}
	if result.Plan == nil {
		t.Fatalf("no book: %v", result.Problems)
	}
	return out
}

// sampleCopy is a copy of the sample that a test may write to.
func sampleCopy(t *testing.T) string {
	t.Helper()
	dir := filepath.Join(t.TempDir(), "job")
	if err := os.CopyFS(dir, os.DirFS(sample)); err != nil {
		t.Fatal(err)
	}
	return dir
}

func pagesOf(t *testing.T, book string) []string {
	t.Helper()
	pages, err := filepath.Glob(filepath.Join(book, "*.html"))
	if err != nil || len(pages) == 0 {
		t.Fatalf("no pages in the book (%v)", err)
	}
	return pages
}

func fileURL(name string) string {
	return (&url.URL{Scheme: "file", Path: filepath.ToSlash(name)}).String()
}

// tab is one tab of a browser, and what was seen in it.
type tab struct {
	t   *testing.T
	ctx context.Context

	mu       sync.Mutex
	requests []string // addresses
	console  []string // errors and exceptions
	dialogs  []string
}

func newTab(t *testing.T) *tab {
	t.Helper()
	path, err := exec.LookPath("chromium")
	if err != nil {
		t.Fatal("chromium is not installed; make test installs it")
	}
	options := append(chromedp.DefaultExecAllocatorOptions[:], chromedp.ExecPath(path),
		chromedp.NoSandbox, // the pages are our own, and containers often lack what the sandbox needs
		chromedp.Flag("disable-gpu", true), chromedp.Flag("disable-quic", true), chromedp.Flag("disable-component-update", true))
	ctx, cancel := chromedp.NewExecAllocator(context.Background(), options...)
	t.Cleanup(cancel)
	ctx, cancel = chromedp.NewContext(ctx)
	t.Cleanup(cancel)
	if err := chromedp.Do(ctx); err != nil { // starts the browser, which would end with a deadline of this context
		t.Fatal(err)
	}
	b := &tab{t: t, ctx: ctx}
	if err := chromedp.Listen(ctx, b.saw); err != nil {
		t.Fatal(err)
	}
	return b
}

func (b *tab) saw(event any) {
	b.mu.Lock()
	defer b.mu.Unlock()
	switch e := event.(type) {
	case *network.EventRequestWillBeSent:
		b.requests = append(b.requests, e.Request.URL)
	case *runtime.EventConsoleAPICalled:
		if e.Type == "error" || e.Type == "warning" || e.Type == "assert" {
			text := string(e.Type)
			for _, arg := range e.Args {
				text += " " + string(arg.Value) + arg.Description
			}
			b.console = append(b.console, text)
		}
	case *runtime.EventExceptionThrown:
		b.console = append(b.console, e.ExceptionDetails.Text)
	case *page.EventJavascriptDialogOpening:
		b.dialogs = append(b.dialogs, e.Message)
	}
}

// seen gives what was seen since it was asked last.
func (b *tab) seen() (requests, console, dialogs []string) {
	b.mu.Lock()
	defer b.mu.Unlock()
	requests, console, dialogs = b.requests, b.console, b.dialogs
	b.requests, b.console, b.dialogs = nil, nil, nil
	return requests, console, dialogs
}

func (b *tab) do(steps ...chromedp.Action[chromedp.Void]) {
	b.t.Helper()
	ctx, cancel := context.WithTimeout(b.ctx, patient)
	defer cancel()
	if err := chromedp.Do(ctx, steps...); err != nil {
		b.t.Fatal(err)
	}
}

func (b *tab) visit(address string) { b.t.Helper(); b.do(chromedp.Navigate(address)) }

// scheme has pages drawn as on a device that asks for light or dark.
func (b *tab) scheme(name string) {
	b.t.Helper()
	ctx, cancel := context.WithTimeout(b.ctx, patient)
	defer cancel()
	_, err := chromedp.Call(ctx, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{
		Features: []*emulation.MediaFeature{{Name: "prefers-color-scheme", Value: name}},
	})
	if err != nil {
		b.t.Fatal(err)
	}
}

// evaluate gives the value of an expression in the page; a promise is waited for.
func evaluate[T any](b *tab, expression string) (T, error) {
	ctx, cancel := context.WithTimeout(b.ctx, patient)
	defer cancel()
	return chromedp.Run(ctx, chromedp.Evaluate[T](expression, chromedp.EvalAwaitPromise))
}

func value[T any](b *tab, expression string) T {
	b.t.Helper()
	v, err := evaluate[T](b, expression)
	if err != nil {
		b.t.Fatal(err)
	}
	return v
}

// until waits for an expression to be true, whatever pages come and go meanwhile.
func (b *tab) until(what, expression string) {
	b.t.Helper()
	end := time.NewTimer(patient)
	defer end.Stop()
	again := time.NewTicker(50 * time.Millisecond) // often enough that a person would not notice
	defer again.Stop()
	for {
		if yes, err := evaluate[bool](b, expression); err == nil && yes { // an error: the page is being replaced
			return
		}
		select {
		case <-again.C:
		case <-end.C:
			text, _ := evaluate[string](b, `document.body.innerText.slice(0, 2000)`)
			b.t.Fatalf("waited %s in vain for %s; the page says:\n%s", patient, what, text)
		}
	}
}

// violation is a fault that axe found.
type violation struct {
	ID, Impact, Help string
	Nodes            []struct {
		Target         []any
		FailureSummary string
	}
}

// onAPhone measures what a narrow page must not do.
const onAPhone = `(() => {
	const small = [];
	for (const text of document.querySelectorAll("svg text")) {
		if (text.getClientRects().length === 0 || text.textContent.trim() === "") continue;
		const m = text.getScreenCTM();
		const size = parseFloat(getComputedStyle(text).fontSize) * Math.sqrt(Math.abs(m.a * m.d - m.b * m.c));
		if (size < 11.99) small.push(size.toFixed(2) + " px: " + text.textContent.trim());
	}
	const edge = document.documentElement.clientWidth;
	const wide = [];
	if (document.scrollingElement.scrollWidth > edge) {
		for (const e of document.querySelectorAll("body *")) {
			const r = e.getBoundingClientRect();
			if (r.right > edge + 0.5 && r.width > 0) wide.push(e.tagName + "." + (e.getAttribute("class") ?? "") + " to " + r.right.toFixed(0) + ": " + e.textContent.trim().slice(0, 40));
		}
	}
	return {Width: document.scrollingElement.scrollWidth, Small: small.slice(0, 8), Wide: wide.slice(0, 8)};
})()`

// axe is the accessibility checker, to be run in a page.
func axe(t *testing.T) string {
	t.Helper()
	script, err := os.ReadFile(filepath.Join(checks, "axe-core", "axe.min.js"))
	if err != nil {
		t.Fatalf("axe-core is not installed; make test installs it (%v)", err)
	}
	return string(script) + "; undefined"
}

// faultsOnScreen says what is wrong with a page on a phone, in light and dark; only addresses that start with from are its own.
func (b *tab) faultsOnScreen(address, from, axe string) []string {
	b.t.Helper()
	var faults []string
	fault := func(format string, args ...any) { faults = append(faults, fmt.Sprintf(format, args...)) }
	b.do(chromedp.EmulateViewport(phone, 2*phone))
	for _, scheme := range []string{"light", "dark"} {
		b.scheme(scheme)
		b.seen()
		b.visit(address)
		requests, console, _ := b.seen()
		for _, r := range requests {
			if !strings.HasPrefix(r, from) && !strings.HasPrefix(r, "data:") {
				fault("%s: it asks for %s, which is not in the book", scheme, r)
			}
		}
		for _, line := range console {
			fault("%s: the console says %s", scheme, line)
		}
		if len(requests) == 0 {
			fault("no request was seen, not even for the page")
		}
		if _, err := evaluate[chromedp.Void](b, axe); err != nil {
			b.t.Fatal(err)
		}
		for _, v := range value[[]violation](b, `axe.run().then(r => r.violations)`) {
			for _, n := range v.Nodes[:min(len(v.Nodes), 3)] { // three places are enough to find the fault
				fault("%s: %s (%s): %s at %v: %s", scheme, v.ID, v.Impact, v.Help, n.Target, n.FailureSummary)
			}
		}
	}
	got := value[struct {
		Width       int
		Small, Wide []string
	}](b, onAPhone)
	if got.Width > phone {
		fault("it is %d px wide on a phone of %d; what sticks out: %q", got.Width, phone, got.Wide)
	}
	for _, text := range got.Small {
		fault("in a drawing on a phone, text under 12 px: %s", text)
	}
	return faults
}

func TestBrowserPages(t *testing.T) {
	axe := axe(t)
	book := bookOf(t, sample)
	b := newTab(t)
	for _, name := range pagesOf(t, book) {
		t.Run(filepath.Base(name), func(t *testing.T) {
			b.t = t
			for _, fault := range b.faultsOnScreen(fileURL(name), fileURL(book)+"/", axe) {
				t.Error(fault)
			}
		})
	}
}

// planted is a page with a fault of every kind that the tests of this file look for.
const planted = `<!doctype html><html lang="en"><head><title>Planted</title><meta charset="utf-8">
<style>@media (prefers-color-scheme: dark) { body { background: #222; color: #333 } }</style></head><body><main><h1>Planted</h1>
<p style="width:500px">wide</p><img src="http://127.0.0.1:9/picture.png" alt="">
<svg viewBox="0 0 720 100" width="360"><text y="50" font-size="20">small</text></svg>
<table><tbody><tr><td style="height:15in">tall</td></tr></tbody></table>
<script>console.error("a fault")</script><img src="data:image/gif;base64,R0lGODlhAQABAAAAACwAAAAAAQABAAA="></main></body></html>`

func TestBrowserSeesPlantedFaults(t *testing.T) {
	name := filepath.Join(t.TempDir(), "planted.html")
	if err := os.WriteFile(name, []byte(planted), 0o644); err != nil {
		t.Fatal(err)
	}
	b := newTab(t)
	t.Run("on the screen", func(t *testing.T) {
		b.t = t
		faults := strings.Join(b.faultsOnScreen(fileURL(name), fileURL(filepath.Dir(name))+"/", axe(t)), "\n")
		for _, want := range []string{
			"it asks for http://127.0.0.1:9/picture.png", "the console says error", "light: image-alt", "dark: color-contrast",
			"px wide on a phone", "10.00 px: small",
		} {
			if !strings.Contains(faults, want) {
				t.Errorf("not seen: %s; seen are\n%s", want, faults)
			}
		}
	})
	t.Run("on paper", func(t *testing.T) {
		b.t = t
		b.do(chromedp.EmulateReset())
		b.visit(fileURL(name))
		faults := strings.Join(b.splitOnPaper(chromedp.PaperLetter), "\n")
		if !regexp.MustCompile(`split: it starts on sheet .* row: tall`).MatchString(faults) {
			t.Errorf("a row of fifteen inches is not seen to be split; seen are\n%s", faults)
		}
	})
	t.Run("in the validator", func(t *testing.T) {
		if faults := validate(t, name); !strings.Contains(strings.Join(faults, "\n"), "alt") {
			t.Errorf("a picture without words is not seen; seen are %q", faults)
		}
	})
}

// validate gives the errors and warnings of the HTML validator, all pages in one call.
func validate(t *testing.T, pages ...string) []string {
	t.Helper()
	jar := filepath.Join(checks, "vnu-jar", "build", "dist", "vnu.jar")
	if _, err := os.Stat(jar); err != nil {
		t.Fatalf("the validator is not installed; make test installs it (%v)", err)
	}
	command := exec.Command("java", append([]string{"-jar", jar, "--format", "json", "--exit-zero-always"}, pages...)...)
	var said, failed bytes.Buffer
	command.Stdout, command.Stderr = &failed, &said // its messages come on stderr
	if err := command.Run(); err != nil {
		t.Fatalf("java: %v\n%s%s", err, said.String(), failed.String())
	}
	var report struct {
		Messages *[]struct {
			Type, SubType, URL, Message, Extract string
			LastLine                             int
		}
	}
	if err := json.Unmarshal(said.Bytes(), &report); err != nil || report.Messages == nil {
		t.Fatalf("the validator's report cannot be read (%v): %.500s", err, said.String())
	}
	var faults []string
	for _, m := range *report.Messages {
		if m.Type != "info" || m.SubType == "warning" {
			faults = append(faults, fmt.Sprintf("%s:%d: %s %s: %s\n%s", filepath.Base(m.URL), m.LastLine, m.Type, m.SubType, m.Message, m.Extract))
		}
	}
	return faults
}

func TestBrowserHTML(t *testing.T) {
	for _, fault := range validate(t, pagesOf(t, bookOf(t, sample))...) {
		t.Error(fault)
	}
}

// mark puts small words at the top and the bottom of everything that must not be split between two sheets, and four inches
// apart at the top, so that they can be found on the paper.
const mark = `(() => {
	const word = (text, style) => {
		const s = document.createElement("span");
		s.textContent = text;
		s.style.cssText = "position:absolute;font:3px/1 monospace;letter-spacing:0;white-space:nowrap;margin:0;padding:0;" + style;
		return s;
	};
	const names = [];
	const add = (kind, e, host, about) => {
		const n = names.length;
		names.push(kind + ": " + about.replace(/\s+/g, " ").trim().slice(0, 60));
		host.style.position = "relative";
		host.append(word("qq" + n + "top", "top:0;left:0"), word("qq" + n + "end", "bottom:0;left:0"));
	};
	for (const row of document.querySelectorAll("tr")) {
		if (row.cells.length > 0) add("row", row, row.cells[0], row.textContent);
	}
	const isDrawing = svg => svg.querySelector("text, path, line, rect, circle") && svg.getBoundingClientRect().height > 48;
	for (const svg of document.querySelectorAll("svg")) {
		if (!isDrawing(svg) || svg.ownerSVGElement) continue;
		const name = svg.querySelector("title")?.textContent ?? "drawing";
		const n = names.length;
		names.push("drawing: " + name);
		const box = svg.viewBox.baseVal;
		for (const [end, y] of [["top", box.y + 3], ["end", box.y + box.height - 1]]) {
			const t = document.createElementNS("http://www.w3.org/2000/svg", "text");
			t.textContent = "qq" + n + end;
			t.setAttribute("style", "font:3px monospace;fill:#000;stroke:none");
			t.setAttribute("x", box.x + 1);
			t.setAttribute("y", y);
			svg.append(t);
		}
	}
	document.body.prepend(word("rulerleft", "top:0;left:0"), word("rulerright", "top:0;left:4in"));
	return names;
})()`

// sheet is one page of a PDF as pdftotext -bbox gives it, lengths in points.
type sheet struct {
	Width  float64 `xml:"width,attr"`
	Height float64 `xml:"height,attr"`
	Words  []struct {
		X    float64 `xml:"xMin,attr"`
		Text string  `xml:",chardata"`
	} `xml:"word"`
}

func (s sheet) text() string {
	var words []string
	for _, w := range s.Words {
		words = append(words, w.Text)
	}
	return strings.Join(words, " ")
}

// printed prints the page of the tab, and reads the sheets back.
func (b *tab) printed(paper chromedp.PaperSize) []sheet {
	b.t.Helper()
	ctx, cancel := context.WithTimeout(b.ctx, 2*patient) // a book of fifty sheets takes some seconds
	defer cancel()
	pdf, err := chromedp.Run(ctx, chromedp.PrintToPDF(chromedp.PDFPaper(paper)))
	if err != nil {
		b.t.Fatal(err)
	}
	name := filepath.Join(b.t.TempDir(), "print.pdf")
	if err := os.WriteFile(name, pdf, 0o644); err != nil {
		b.t.Fatal(err)
	}
	out, err := exec.Command("pdftotext", "-bbox", name, "-").Output()
	if err != nil {
		b.t.Fatalf("pdftotext (make test installs it): %v", err)
	}
	var doc struct {
		Sheets []sheet `xml:"body>doc>page"`
	}
	decoder := xml.NewDecoder(bytes.NewReader(out))
	decoder.Strict = false
	decoder.Entity = xml.HTMLEntity
	if err := decoder.Decode(&doc); err != nil || len(doc.Sheets) == 0 {
		b.t.Fatalf("pdftotext says nothing that can be read (%v)", err)
	}
	return doc.Sheets
}

func TestBrowserPaper(t *testing.T) {
	book := bookOf(t, sample)
	title := titleOf(t, sample)
	b := newTab(t)
	for _, paper := range []struct {
		name string
		size chromedp.PaperSize
	}{{"Letter", chromedp.PaperLetter}, {"A4", chromedp.PaperA4}} {
		t.Run(paper.name, func(t *testing.T) {
			b.t = t
			b.visit(fileURL(filepath.Join(book, "print.html")))
			t.Run("as it is", func(t *testing.T) {
				b.t = t
				sheets := b.printed(paper.size)
				for i, s := range sheets {
					text := s.text()
					if want := fmt.Sprintf("page %d of %d", i+1, len(sheets)); !strings.Contains(text, want) {
						t.Errorf("sheet %d does not say %q: %.200s", i+1, want, text)
					}
					if !strings.Contains(text, title) {
						t.Errorf("sheet %d does not name the job %q: %.200s", i+1, title, text)
					}
				}
			})
			t.Run("marked", func(t *testing.T) {
				b.t = t
				for _, fault := range b.splitOnPaper(paper.size) {
					t.Error(fault)
				}
			})
		})
	}
}

// splitOnPaper marks the page of the tab, prints it, and says which rows and drawings are split, and whether it was shrunk.
func (b *tab) splitOnPaper(paper chromedp.PaperSize) []string {
	b.t.Helper()
	var faults []string
	fault := func(format string, args ...any) { faults = append(faults, fmt.Sprintf(format, args...)) }
	names := value[[]string](b, mark)
	where := map[string][]int{}
	ruler := map[string]float64{}
	words := regexp.MustCompile(`qq\d+(?:top|end)|rulerleft|rulerright`)
	for i, s := range b.printed(paper) {
		for _, w := range s.Words {
			for _, found := range words.FindAllString(w.Text, -1) {
				where[found] = append(where[found], i+1)
				ruler[found] = w.X
			}
		}
	}
	// Four inches on paper are 288 points. Chromium shrinks a whole page without a word if something on it is too wide.
	const inch, four, near = 72, 4, 0.5
	if got := ruler["rulerright"] - ruler["rulerleft"]; got < four*inch-near || got > four*inch+near {
		fault("four inches are printed as %.2f points, want %d: something is wider than the paper", got, four*inch)
	}
	missed := 0
	for n, name := range names {
		top, end := where[fmt.Sprintf("qq%dtop", n)], where[fmt.Sprintf("qq%dend", n)]
		switch {
		case len(top) == 0 && len(end) == 0:
			missed++ // not on paper
		case len(top) == 0 || len(end) == 0:
			fault("half of it is on the paper (top on sheets %v, end on %v): %s", top, end, name)
		case slices.Max(end) != slices.Min(top) && !repeats(top, end):
			fault("split: it starts on sheet %v and ends on %v: %s", top, end, name)
		}
	}
	if missed*2 > len(names) {
		fault("only %d of %d rows and drawings are found on the paper", len(names)-missed, len(names))
	}
	return faults
}

// repeats reports a heading of a table that stands again on every sheet: whole on each.
func repeats(top, end []int) bool { return len(top) > 1 && slices.Equal(top, end) }

// titleOf is the title in a job's own file.
func titleOf(t *testing.T, job string) string {
	t.Helper()
	result, err := Check(job)
	if err != nil || result.Job.Title.Text == "" {
		t.Fatalf("the job has no title (%v)", err)
	}
	return result.Job.Title.Text
}

const hostile = `---
title: "Hostile </title><script>window.__x = 'title'</script>"
date: 2026-11-20
---

# Heading <img src="nowhere.png" onerror="window.__x = 'heading'">

<script>window.__x = 'block'; alert('block')</script>

Inline <script>window.__x = 'inline'</script> and <b onclick="window.__x = 'click'">bold</b>.

[plain](javascript:window.__x='plain') [upper](JaVaScRiPt:window.__x='upper') [coded](java&#115;cript:window.__x='coded')
[tab](<java	script:window.__x='tab'>) [vb](vbscript:window.__x='vb')
[data](data:text/html;base64,PHNjcmlwdD53aW5kb3cuX194PTE8L3NjcmlwdD4=) <javascript:window.__x='auto'>
[titled](x.html "a\" onmouseover=\"window.__x='titled'")

| cell <script>window.__x = 'cell'</script> |
| --- |
| <iframe src="javascript:window.top.__x='frame'"></iframe> |
`

// active finds what could act in a page, and what follows every link that leads nowhere good.
const active = `(() => {
	const found = [];
	for (const e of document.querySelectorAll("*")) {
		if (["SCRIPT", "IFRAME", "OBJECT", "EMBED", "FORM", "BASE"].includes(e.tagName.toUpperCase())) found.push(e.outerHTML.slice(0, 120));
		for (const a of e.attributes) {
			if (/^on/i.test(a.name)) found.push(a.name + "=" + a.value);
			if (["href", "src", "action", "formaction", "xlink:href"].includes(a.name)) {
				const scheme = new URL(a.value, document.baseURI).protocol;
				if (!["file:", "mailto:", "tel:"].includes(scheme) && !(a.name === "src" && scheme === "data:")) found.push(a.name + "=" + a.value.slice(0, 80));
			}
		}
	}
	for (const a of document.querySelectorAll("a, b")) {
		a.addEventListener("click", e => { if (a.tagName !== "A" || new URL(a.href, document.baseURI).protocol === "file:") e.preventDefault(); });
		a.click();
	}
	return found;
})()`

func TestBrowserHostileNote(t *testing.T) {
	dir := sampleCopy(t)
	if err := os.WriteFile(filepath.Join(dir, "notes", "9-hostile.md"), []byte(hostile), 0o644); err != nil {
		t.Fatal(err)
	}
	job := filepath.Join(dir, "job.md")
	raw, err := os.ReadFile(job)
	if err != nil {
		t.Fatal(err)
	}
	const title = `Loft </style></title><script>window.__x="t"</script> "} body{display:none} \`
	text := regexp.MustCompile(`(?m)^title: .*$`).ReplaceAllLiteralString(string(raw), "title: '"+title+"'")
	if err := os.WriteFile(job, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}

	book := bookOf(t, dir)
	b := newTab(t)
	shown := false
	for _, name := range pagesOf(t, book) {
		t.Run(filepath.Base(name), func(t *testing.T) {
			b.t = t
			b.visit(fileURL(name))
			for _, what := range value[[]string](b, active) {
				t.Errorf("something that can act is in the page: %s", what)
			}
			if got := value[string](b, `String(window.__x)`); got != "undefined" {
				t.Errorf("a script of the note ran: %s", got)
			}
			if got := value[string](b, `document.querySelector("h1") ? getComputedStyle(document.body).display : "no heading"`); got == "none" || got == "no heading" {
				t.Errorf("the page is gone: %s", got)
			}
			shown = shown || value[bool](b, `document.body.innerText.includes("Loft </style></title>")`)
			requests, _, dialogs := b.seen()
			for _, d := range dialogs {
				t.Errorf("a dialog opened: %s", d)
			}
			for _, r := range requests {
				if !strings.HasPrefix(r, fileURL(book)+"/") && !strings.HasPrefix(r, "data:font/") && !strings.HasPrefix(r, "data:image/") {
					t.Errorf("it asks for %s", r)
				}
			}
		})
	}
	if !shown {
		t.Error("no page shows the title as it was written")
	}
}

// TestBrowserWatch runs the command itself, with a page open while files are saved.
func TestBrowserWatch(t *testing.T) {
	program := filepath.Join(t.TempDir(), "jobbook")
	if out, err := exec.Command("go", "build", "-o", program, "../cmd/jobbook").CombinedOutput(); err != nil {
		t.Fatalf("go build: %v\n%s", err, out)
	}
	dir := sampleCopy(t)
	command := exec.Command(program, "watch", dir, "--serve", "127.0.0.1:0")
	var wrong bytes.Buffer
	command.Stderr = &wrong
	said, err := command.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := command.Start(); err != nil {
		t.Fatal(err)
	}
	ended := make(chan error, 1)
	address, made := make(chan string, 1), make(chan bool, 1)
	go func() {
		lines := bufio.NewScanner(said)
		for lines.Scan() {
			if at, ok := strings.CutPrefix(lines.Text(), "preview at "); ok {
				address <- at
			}
			if strings.HasPrefix(lines.Text(), "open ") {
				made <- true
			}
		}
		ended <- command.Wait()
	}()
	t.Cleanup(func() { _ = command.Process.Kill() }) // where the test itself did not end it
	await := func(what string, done <-chan bool, failed <-chan error) {
		t.Helper()
		select {
		case <-done:
		case err := <-failed:
			t.Fatalf("the watch ended before %s: %v\n%s", what, err, wrong.String())
		case <-time.After(patient):
			t.Fatalf("waited %s in vain for %s", patient, what)
		}
	}
	await("the first book", made, ended)
	at := <-address

	b := newTab(t)
	b.visit(at + "layout.html")
	b.do(chromedp.Evaluate[chromedp.Void](`window.__open = "since the start"; undefined`))
	file := filepath.Join(dir, "runs", "2-return.md")
	save := func(t *testing.T, old, new string) {
		t.Helper()
		raw, err := os.ReadFile(file)
		if err != nil || strings.Count(string(raw), old) != 1 {
			t.Fatalf("%q is not once in the run's file (%v)", old, err)
		}
		if err := os.WriteFile(file, []byte(strings.Replace(string(raw), old, new, 1)), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	// Nine balusters of 1 1/4, worked by hand. In 40 11/16 the gap is 29.4375/10 and the ninth centre 2.94375 + 0.625 + 8 x 4.19375 =
	// 37.11875, nearest 37 1/8. In 40 13/16 it is 2.95625 + 0.625 + 8 x 4.20625 = 37.23125, nearest 37 1/4.
	const before, after = "37 1/8", "37 1/4"
	marks := func(mark string) string {
		return fmt.Sprintf(`document.querySelector("#run-return").innerText.replace(/\s+/g, " ").includes(%q)`, mark)
	}
	const book = `document.querySelector("main").innerText`
	const banner = `document.querySelector("#jobbook-preview")`

	t.Run("a clear is changed", func(t *testing.T) {
		b.t = t
		if !value[bool](b, marks(before)) || value[bool](b, marks(after)) {
			t.Fatalf("the page does not show the marks of 40 11/16 to begin with")
		}
		save(t, "floor: 40 11/16", "floor: 40 13/16")
		b.until("the new marks", marks(after)+` && !`+marks(before))
		if value[string](b, `String(window.__open)`) != "undefined" {
			t.Error("the page did not load itself again")
		}
	})
	good := value[string](b, book)
	t.Run("a value that cannot be read", func(t *testing.T) {
		b.t = t
		save(t, "floor: 40 13/16", "floor: 40,8")
		b.until("the problem", banner+` && !`+banner+`.hidden && `+banner+`.innerText.includes("runs/2-return.md:")`)
		text := value[string](b, banner+`.innerText`)
		for _, want := range []string{`"40,8"`, "^", "hint: "} {
			if !strings.Contains(text, want) {
				t.Errorf("the problem on the page lacks %q:\n%s", want, text)
			}
		}
		if strings.Contains(html.UnescapeString(text), dir) {
			t.Errorf("the problem on the page tells where the job lies:\n%s", text)
		}
		if value[string](b, book) != good {
			t.Error("the last good book is not there any more")
		}
	})
	t.Run("mended", func(t *testing.T) {
		b.t = t
		save(t, "floor: 40,8", "floor: 40 13/16")
		b.until("the banner to go", `!`+banner+` || `+banner+`.hidden`)
		b.until("the good book", book+` === `+quote(t, good))
	})
	t.Run("interrupted", func(t *testing.T) {
		if err := command.Process.Signal(os.Interrupt); err != nil {
			t.Fatal(err)
		}
		select {
		case err := <-ended:
			if err != nil {
				t.Errorf("it ended with %v, want exit code 0\n%s", err, wrong.String())
			}
		case <-time.After(patient):
			t.Error("it does not end")
		}
	})
	requests, console, _ := b.seen()
	for _, r := range requests {
		if !strings.HasPrefix(r, at) && !strings.HasPrefix(r, "data:") {
			t.Errorf("a page asks for %s", r)
		}
	}
	for _, line := range console {
		t.Errorf("the console says %s", line)
	}
}

// quote is a text as JavaScript writes it.
func quote(t *testing.T, text string) string {
	t.Helper()
	quoted, err := json.Marshal(text)
	if err != nil {
		t.Fatal(err)
	}
	return string(quoted)
}
