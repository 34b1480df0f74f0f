package watch

import (
	"bytes"
	"crypto/rand"
	_ "embed"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"net/http"
	"net/netip"
	"net/url"
	"os"
	"path"
	"strconv"
	"strings"
	"time"
)

const eventsPath = "/-/events"

// handler answers requests that come to an address.
func (p *Preview) handler(at netip.AddrPort) http.Handler {
	hosts := map[string]bool{}
	for _, name := range []string{"localhost", "127.0.0.1", "[::1]"} {
		hosts[name+":"+strconv.Itoa(int(at.Port()))] = true
		if at.Port() == 80 { // the port that a browser leaves out
			hosts[name] = true
		}
	}
	hosts[at.String()] = true
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		h := w.Header()
		h.Set("Cache-Control", "no-store")
		h.Set("X-Content-Type-Options", "nosniff")
		h.Set("Referrer-Policy", "no-referrer")
		h.Set("Cross-Origin-Resource-Policy", "same-origin")
		h.Set("Content-Security-Policy", policy(""))
		switch {
		case !hosts[strings.ToLower(r.Host)]: // a name that somebody else makes point at this machine
			http.Error(w, "this preview is not served under that name", http.StatusForbidden)
		case r.Method != http.MethodGet && r.Method != http.MethodHead:
			h.Set("Allow", "GET, HEAD")
			http.Error(w, "only GET and HEAD", http.StatusMethodNotAllowed)
		case r.URL.Path == eventsPath:
			p.events(w, r, hosts)
		default:
			p.file(w, r)
		}
	})
}

// policy lets a page use what comes from the book: styles, pictures and fonts, also inline; and one script, by nonce.
func policy(nonce string) string {
	script := "'none'"
	if nonce != "" {
		script = "'nonce-" + nonce + "'"
	}
	return "default-src 'none'; style-src 'self' 'unsafe-inline'; img-src 'self' data:; font-src 'self' data:; " +
		"object-src 'self'; frame-src 'self'; connect-src 'self'; script-src " + script + "; " +
		"base-uri 'none'; form-action 'none'; frame-ancestors 'self'"
}

// events is the stream that open pages listen to: the state now, and again whenever it changes. States that come faster
// than a page takes them are left out; the last one never is.
func (p *Preview) events(w http.ResponseWriter, r *http.Request, hosts map[string]bool) {
	origin, site := r.Header.Get("Origin"), r.Header.Get("Sec-Fetch-Site") // "" for the preview's own pages, or a browser that does not say
	host, plain := strings.CutPrefix(origin, "http://")
	if origin != "" && !(plain && hosts[host]) || site != "" && site != "same-origin" && site != "none" {
		http.Error(w, "only for the pages of this preview", http.StatusForbidden)
		return
	}
	w.Header().Set("Content-Type", "text/event-stream")
	if r.Method == http.MethodHead {
		return
	}
	control := http.NewResponseController(w)
	if err := control.SetReadDeadline(time.Time{}); err != nil && !errors.Is(err, http.ErrNotSupported) {
		return
	}
	send := func(text string) bool {
		if err := control.SetWriteDeadline(time.Now().Add(writeTime)); err != nil && !errors.Is(err, http.ErrNotSupported) {
			return false
		}
		if _, err := io.WriteString(w, text); err != nil {
			return false
		}
		return control.Flush() == nil
	}
	beat := time.NewTicker(beatTime)
	defer beat.Stop()
	if !send("retry: 1000\n\n") { // milliseconds until a browser that lost touch tries again
		return
	}
	for {
		now, changed := p.state()
		data, err := json.Marshal(now) // one line, whatever the text holds
		if err != nil || !send(fmt.Sprintf("event: state\ndata: %s\n\n", data)) {
			return
		}
	quiet:
		for {
			select {
			case <-r.Context().Done():
				return
			case <-changed:
				break quiet
			case <-beat.C:
				if !send(": still here\n\n") {
					return
				}
			}
		}
	}
}

// types of the files that a book has. The system's own table is not asked, as it differs from machine to machine.
var types = map[string]string{
	".html": "text/html; charset=utf-8", ".css": "text/css; charset=utf-8", ".svg": "image/svg+xml",
	".json": "application/json", ".csv": "text/csv; charset=utf-8", ".ics": "text/calendar; charset=utf-8",
	".md": "text/plain; charset=utf-8", ".txt": "text/plain; charset=utf-8", ".pdf": "application/pdf",
	".png": "image/png", ".jpg": "image/jpeg", ".jpeg": "image/jpeg", ".webp": "image/webp", ".woff2": "font/woff2",
}

// file serves one file of the book.
func (p *Preview) file(w http.ResponseWriter, r *http.Request) {
	now, _ := p.state() // before reading: a page read during a build is loaded again after it
	name, ok := localName(r.URL.Path)
	if !ok {
		p.page(w, r, now, http.StatusNotFound, notFound)
		return
	}
	root, err := os.OpenRoot(p.dir)
	if err != nil {
		p.page(w, r, now, http.StatusNotFound, noBook)
		return
	}
	defer root.Close()
	info, err := lstat(root, name)
	if err == nil && info.IsDir() {
		if !strings.HasSuffix(r.URL.Path, "/") {
			w.Header().Set("Location", "./"+url.PathEscape(path.Base(name))+"/") // relative, so it cannot lead elsewhere
			w.WriteHeader(http.StatusMovedPermanently)
			return
		}
		name = path.Join(name, "index.html")
		info, err = lstat(root, name)
	} else if err == nil && strings.HasSuffix(r.URL.Path, "/") {
		err = fs.ErrNotExist
	}
	if err != nil || !info.Mode().IsRegular() {
		text := notFound
		if name == "index.html" {
			text = noBook
		}
		p.page(w, r, now, http.StatusNotFound, text)
		return
	}
	f, err := root.Open(name)
	if err != nil {
		p.page(w, r, now, http.StatusNotFound, notFound)
		return
	}
	defer f.Close()
	kind := types[strings.ToLower(path.Ext(name))]
	switch kind {
	case types[".html"]:
		data, err := io.ReadAll(f)
		if err != nil {
			http.Error(w, "the page cannot be read", http.StatusInternalServerError)
			return
		}
		p.page(w, r, now, http.StatusOK, string(data))
		return
	case "":
		kind = "application/octet-stream"
	}
	w.Header().Set("Content-Type", kind)
	http.ServeContent(w, r, "", time.Time{}, f)
}

// localName gives the path of a file in the folder, "." for the folder itself; false for anything hidden, or not plainly
// below it.
func localName(asked string) (string, bool) {
	name := strings.TrimSuffix(strings.TrimPrefix(asked, "/"), "/")
	if name == "" {
		return ".", asked == "/"
	}
	hidden := strings.HasPrefix(name, ".") || strings.Contains(name, "/.")
	return name, fs.ValidPath(name) && !hidden && !strings.ContainsAny(name, "\\\x00")
}

// lstat looks at a file without following links anywhere on the way: a book has none.
func lstat(root *os.Root, name string) (info fs.FileInfo, err error) {
	for i := 0; i <= len(name); i++ {
		if i < len(name) && name[i] != '/' {
			continue
		}
		if info, err = root.Lstat(name[:i]); err != nil {
			return nil, err
		}
		if info.Mode()&fs.ModeSymlink != 0 {
			return nil, fs.ErrNotExist
		}
	}
	return info, nil
}

// What is shown where there is no page. They have the script too, so that they give way to the page when it comes.
const (
	notFound = `<!doctype html><html lang="en"><meta charset="utf-8"><meta name="viewport" content="width=device-width"><meta name="color-scheme" content="light dark">` +
		`<title>Not in the book</title><body><h1>Not in the book</h1><p>There is no such page in the book as it is now.</p><p><a href="/">To the first page</a></p></body></html>`
	noBook = `<!doctype html><html lang="en"><meta charset="utf-8"><meta name="viewport" content="width=device-width"><meta name="color-scheme" content="light dark">` +
		`<title>No book yet</title><body><h1>No book yet</h1><p>This page gives way to the book as soon as there is one.</p></body></html>`
)

//go:embed preview.js
var script string

// page sends an HTML page with the script in it.
func (p *Preview) page(w http.ResponseWriter, r *http.Request, now state, status int, text string) {
	nonce := rand.Text()
	w.Header().Set("Content-Security-Policy", policy(nonce))
	w.Header().Set("Content-Type", types[".html"])
	data := inject([]byte(text), `<script nonce="`+nonce+`" data-build="`+now.Build+`" data-events="`+eventsPath+`">`+script+`</script>`)
	w.Header().Set("Content-Length", strconv.Itoa(len(data)))
	w.WriteHeader(status)
	if r.Method != http.MethodHead {
		_, _ = w.Write(data) // a browser that went away needs no answer
	}
}

// inject puts a text before the last </body> of a page, or at its end.
func inject(page []byte, text string) []byte {
	at := bytes.LastIndex(page, []byte("</body>"))
	if at < 0 {
		at = len(page)
	}
	out := make([]byte, 0, len(page)+len(text))
	return append(append(append(out, page[:at]...), text...), page[at:]...)
}
