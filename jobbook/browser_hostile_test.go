//go:build browser

package jobbook

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// TestBrowserNothingRuns opens every page of the books of TestNothingRuns, and presses every link on it: no script of theirs runs, no dialog
// opens, and nothing is asked for but the book's own files.
func TestBrowserNothingRuns(t *testing.T) {
	texts := injections(t)
	b := newTab(t)
	planted := filepath.Join(t.TempDir(), "planted.html")
	page := "<h1>x</h1>"
	for _, text := range texts {
		if !strings.Contains(text, "alert(") && !strings.Contains(text, "refresh") { // which would stop the page, or leave it
			page += "<p>" + text + "</p>\n"
		}
	}
	if err := os.WriteFile(planted, []byte(page), 0o644); err != nil {
		t.Fatal(err)
	}
	b.visit(fileURL(planted))
	b.until("the texts to run where nothing keeps them from it", `String(window.__x) !== "undefined"`)
	if requests, _, _ := b.seen(); !strings.Contains(strings.Join(requests, " "), "ran.invalid") {
		t.Errorf("nothing of the texts was asked for where nothing keeps them from it: %s", requests)
	}
	for i, text := range []func(n int) string{
		func(n int) string { return fmt.Sprint(n, " ", strings.Join(texts, " ")) },
		func(n int) string { return texts[n%len(texts)] },
		func(n int) string { return texts[(n+len(texts)/2)%len(texts)] },
	} {
		t.Run(fmt.Sprint(i), func(t *testing.T) {
			book := t.TempDir()
			for name, data := range bookMade(t, hostileJob(t, text)) {
				path := filepath.Join(book, filepath.FromSlash(name))
				if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
					t.Fatal(err)
				}
				if err := os.WriteFile(path, []byte(data), 0o644); err != nil {
					t.Fatal(err)
				}
			}
			for _, name := range pagesOf(t, book) {
				t.Run(filepath.Base(name), func(t *testing.T) {
					b.t = t
					b.visit(fileURL(name))
					for _, what := range value[[]string](b, active) {
						if !strings.HasPrefix(what, "href=http://ran.invalid/") { // a link in words to press, which is what a link is for
							t.Errorf("something that can act is in the page: %s", what)
						}
					}
					if got := value[string](b, `String(window.__x)`); got != "undefined" {
						t.Errorf("a script ran: %s", got)
					}
					if got := value[string](b, `document.querySelector("h1") ? getComputedStyle(document.body).display : "no heading"`); got == "none" || got == "no heading" {
						t.Errorf("the page is gone: %s", got)
					}
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
		})
	}
}
