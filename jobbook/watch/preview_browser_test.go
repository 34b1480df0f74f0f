package watch

import (
	"context"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
)

// browser starts a headless browser, or skips the test where there is none.
func browser(t *testing.T) context.Context {
	t.Helper()
	path, err := exec.LookPath("chromium")
	if err != nil {
		t.Skip("no chromium here")
	}
	options := []chromedp.ExecAllocatorOption{
		chromedp.ExecPath(path), chromedp.NoFirstRun, chromedp.Headless,
		chromedp.Flag("disable-gpu", true), chromedp.Flag("disable-sync", true),
		chromedp.Flag("disable-background-networking", true), chromedp.Flag("disable-component-update", true),
	}
	if os.Geteuid() == 0 {
		options = append(options, chromedp.NoSandbox) // the browser refuses to start as root with it
	}
	ctx, end := chromedp.NewExecAllocator(context.Background(), options...)
	t.Cleanup(end)
	ctx, end = chromedp.NewContext(ctx)
	t.Cleanup(end)
	if err := chromedp.Do(ctx); err != nil { // the first call must have no time limit
		t.Fatal(err)
	}
	ctx, end = context.WithTimeout(ctx, time.Minute) // in vain is long enough by then
	t.Cleanup(end)
	return ctx
}

func do(t *testing.T, ctx context.Context, steps ...chromedp.Action[chromedp.Void]) {
	t.Helper()
	if err := chromedp.Do(ctx, steps...); err != nil {
		t.Fatal(err)
	}
}

func value[T any](t *testing.T, ctx context.Context, expression string) T {
	t.Helper()
	v, err := chromedp.Run(ctx, chromedp.Evaluate[T](expression))
	if err != nil {
		t.Fatal(err)
	}
	return v
}

func TestPreviewInABrowser(t *testing.T) {
	// tall is a page of 3000 pixels that uses what a book uses, what it must not, and rules that would spoil a banner.
	tall := func(id string) string {
		return `<!doctype html><html lang="en"><meta charset="utf-8"><title>Larkspur</title>
<style>div, pre, strong { display: none; color: #777; font-size: 1px } main { display: block; height: 3000px }</style>
<body><main id="` + id + `"><p id="inline" style="color: rgb(1, 2, 3)">Gallery</p><script>document.title = "ran"</script></main></body></html>`
	}
	dir := t.TempDir()
	put(t, filepath.Join(dir, "index.html"), tall("one"))
	p, host := serve(t, dir)
	ctx := browser(t)
	do(t, ctx, chromedp.Navigate("http://"+host+"/"), chromedp.WaitReady(chromedp.CSS("#one")))
	check(t, "the book's own script has not run", "Larkspur", value[string](t, ctx, `document.title`))
	check(t, "the book's inline style holds", "rgb(1, 2, 3)", value[string](t, ctx, `getComputedStyle(document.querySelector("#inline")).color`))
	check(t, "no banner", "none", value[string](t, ctx, `getComputedStyle(document.querySelector("#jobbook-preview")).display`))

	bad := "job.md:3:1: error: <b>bold</b> & \"quoted\"\n  height: tall"
	p.Problems(bad)
	do(t, ctx, chromedp.WaitVisible(chromedp.CSS("#jobbook-preview pre")))
	check(t, "the text, as text", bad, value[string](t, ctx, `document.querySelector("#jobbook-preview pre").textContent`))
	check(t, "no markup", 0, value[int](t, ctx, `document.querySelectorAll("#jobbook-preview b").length`))
	check(t, "role", "alert", value[string](t, ctx, `document.querySelector("#jobbook-preview").getAttribute("role")`))
	check(t, "its own letters", "rgb(255, 255, 255) 14px", value[string](t, ctx, `(s => s.color + " " + s.fontSize)(getComputedStyle(document.querySelector("#jobbook-preview pre")))`))
	check(t, "its own ground", "rgb(107, 20, 16)", value[string](t, ctx, `getComputedStyle(document.querySelector("#jobbook-preview")).backgroundColor`))
	if name := os.Getenv("PREVIEW_SCREENSHOT"); name != "" { // to look at it
		picture, err := chromedp.Run(ctx, chromedp.CaptureScreenshot())
		if err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(name, picture, 0o644); err != nil {
			t.Fatal(err)
		}
	}

	t.Run("a page opened later shows it too", func(t *testing.T) {
		do(t, ctx, chromedp.Navigate("http://"+host+"/nothing.html"), chromedp.WaitVisible(chromedp.CSS("#jobbook-preview pre")))
		do(t, ctx, chromedp.Navigate("http://"+host+"/"), chromedp.WaitVisible(chromedp.CSS("#jobbook-preview pre")))
	})

	p.Problems("")
	do(t, ctx, chromedp.WaitNotVisible(chromedp.CSS("#jobbook-preview")))

	t.Run("a new book keeps the place", func(t *testing.T) {
		value[chromedp.Void](t, ctx, `scrollTo(0, 700)`)
		put(t, filepath.Join(dir, "index.html"), tall("two"))
		p.Reload()
		do(t, ctx, chromedp.WaitReady(chromedp.CSS("#two")))
		ready := chromedp.Poll[bool](`document.readyState === "complete"`)
		if _, err := chromedp.Run(ctx, ready); err != nil {
			t.Fatal(err)
		}
		check(t, "place", 700.0, value[float64](t, ctx, `scrollY`))
	})

	t.Run("a page that nobody sees lets go of its connection", func(t *testing.T) {
		value[chromedp.Void](t, ctx, `(() => {
			window.closed2 = 0;
			const close = EventSource.prototype.close;
			EventSource.prototype.close = function () { window.closed2++; close.call(this); };
			window.see = (how) => {
				Object.defineProperty(document, "visibilityState", { configurable: true, get: () => how });
				document.dispatchEvent(new Event("visibilitychange"));
			};
			see("hidden");
		})()`)
		check(t, "closed", 1, value[int](t, ctx, `closed2`))
		p.Problems("while away")
		value[chromedp.Void](t, ctx, `see("visible")`)
		do(t, ctx, chromedp.WaitVisible(chromedp.CSS("#jobbook-preview pre")))
		value[chromedp.Void](t, ctx, `see("hidden")`)
		put(t, filepath.Join(dir, "index.html"), tall("three"))
		p.Problems("")
		p.Reload()
		value[chromedp.Void](t, ctx, `see("visible")`)
		do(t, ctx, chromedp.WaitReady(chromedp.CSS("#three")))
	})

	t.Run("a page that is gone gives way when it is back", func(t *testing.T) {
		if err := os.Remove(filepath.Join(dir, "index.html")); err != nil {
			t.Fatal(err)
		}
		p.Reload()
		do(t, ctx, chromedp.WaitNotPresent(chromedp.CSS("#three")), chromedp.WaitReady(chromedp.CSS("h1")))
		if body := value[string](t, ctx, `document.body.innerText`); !strings.Contains(body, "No book yet") {
			t.Errorf("it shows %q", body)
		}
		put(t, filepath.Join(dir, "index.html"), tall("four"))
		p.Reload()
		do(t, ctx, chromedp.WaitReady(chromedp.CSS("#four")))
	})
}
