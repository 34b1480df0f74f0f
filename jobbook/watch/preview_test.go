package watch

import (
	"bufio"
	"context"
	"encoding/json"
	"errors"
	"io"
	"net"
	"net/http"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

func check(t *testing.T, what string, want, got any) {
	t.Helper()
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("%s (-want +got):\n%s", what, diff)
	}
}

func put(t *testing.T, name, content string) {
	t.Helper()
	if err := os.MkdirAll(filepath.Dir(name), 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(name, []byte(content), 0o644); err != nil {
		t.Fatal(err)
	}
}

// serve starts a preview of a folder and gives its address, host:port. It is ended with the test.
func serve(t *testing.T, dir string) (*Preview, string) {
	t.Helper()
	p := NewPreview(dir)
	ctx, stop := context.WithCancel(context.Background())
	urls, ended := make(chan string, 1), make(chan error, 1)
	go func() { ended <- p.Serve(ctx, "127.0.0.1:0", func(url string) { urls <- url }) }()
	var url string
	select {
	case url = <-urls:
	case err := <-ended:
		t.Fatal(err)
	}
	t.Cleanup(func() {
		stop()
		if err := <-ended; err != nil {
			t.Errorf("Serve: %v", err)
		}
	})
	return p, strings.TrimSuffix(strings.TrimPrefix(url, "http://"), "/")
}

// raw sends a request as written, "HOST" being the address, and gives the answer. A client of net/http would tidy it up.
func raw(t *testing.T, host, request string) (*http.Response, string) {
	t.Helper()
	c, err := net.Dial("tcp", host)
	if err != nil {
		t.Fatal(err)
	}
	defer c.Close()
	head := strings.ReplaceAll(strings.ReplaceAll(request, "HOST", host), "\n", "\r\n") + "\r\nConnection: close\r\n\r\n"
	if _, err := io.WriteString(c, head); err != nil {
		t.Fatal(err)
	}
	method, _, _ := strings.Cut(request, " ")
	response, err := http.ReadResponse(bufio.NewReader(c), &http.Request{Method: method})
	if err != nil {
		t.Fatal(err)
	}
	defer response.Body.Close()
	body, err := io.ReadAll(response.Body)
	if err != nil {
		t.Fatal(err)
	}
	return response, string(body)
}

const page = "<!doctype html><html lang=\"en\"><title>Larkspur</title><body><p>İ page</p></body></html>\n"

func book(t *testing.T) string {
	t.Helper()
	top := t.TempDir()
	dir := filepath.Join(top, "out")
	put(t, filepath.Join(top, "secret.html"), "secret")
	put(t, filepath.Join(top, "outside", "index.html"), "secret")
	put(t, filepath.Join(dir, "index.html"), page)
	put(t, filepath.Join(dir, "a b", "index.html"), page)
	put(t, filepath.Join(dir, "data", "plan.json"), "{}")
	put(t, filepath.Join(dir, "strip.svg"), "<svg xmlns=\"http://www.w3.org/2000/svg\"></body></svg>")
	put(t, filepath.Join(dir, "odd.xyz"), "<script>alert(1)</script>")
	put(t, filepath.Join(dir, ".jobbook-manifest"), "secret")
	put(t, filepath.Join(dir, "data", ".hidden", "x.html"), "secret")
	for link, target := range map[string]string{"link.html": "../secret.html", "out": "../outside", "inner.html": ".jobbook-manifest", "folder": "data/.hidden"} {
		if err := os.Symlink(target, filepath.Join(dir, link)); err != nil {
			t.Log("no symbolic links here:", err)
		}
	}
	return dir
}

func TestPreviewServes(t *testing.T) {
	_, host := serve(t, book(t))
	_, port, err := net.SplitHostPort(host)
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		name, request string
		status        int
	}{
		{"the first page", "GET / HTTP/1.1\nHost: HOST", 200},
		{"a page by name", "GET /index.html HTTP/1.1\nHost: HOST", 200},
		{"a folder", "GET /a%20b/ HTTP/1.1\nHost: HOST", 200},
		{"a folder without the slash", "GET /a%20b HTTP/1.1\nHost: HOST", 301},
		{"data", "GET /data/plan.json HTTP/1.1\nHost: HOST", 200},
		{"only the head", "HEAD / HTTP/1.1\nHost: HOST", 200},
		{"localhost", "GET / HTTP/1.1\nHost: localhost:" + port, 200},
		{"capitals", "GET / HTTP/1.1\nHost: LocalHost:" + port, 200},
		{"the other loopback", "GET / HTTP/1.1\nHost: [::1]:" + port, 200},

		{"somebody's name", "GET / HTTP/1.1\nHost: larkspur.example:" + port, 403},
		{"a name that starts alike", "GET / HTTP/1.1\nHost: localhost.example:" + port, 403},
		{"another port", "GET / HTTP/1.1\nHost: localhost:1", 403},
		{"no port", "GET / HTTP/1.1\nHost: localhost", 403},
		{"no host", "GET / HTTP/1.0", 403},
		{"events under somebody's name", "GET /-/events HTTP/1.1\nHost: larkspur.example:" + port, 403},

		{"POST", "POST / HTTP/1.1\nHost: HOST\nContent-Length: 0", 405},
		{"PUT", "PUT /index.html HTTP/1.1\nHost: HOST\nContent-Length: 0", 405},
		{"DELETE", "DELETE /index.html HTTP/1.1\nHost: HOST", 405},
		{"OPTIONS", "OPTIONS / HTTP/1.1\nHost: HOST", 405},
		{"POST to the events", "POST /-/events HTTP/1.1\nHost: HOST\nContent-Length: 0", 405},

		{"up", "GET /../secret.html HTTP/1.1\nHost: HOST", 404},
		{"up, encoded", "GET /%2e%2e/secret.html HTTP/1.1\nHost: HOST", 404},
		{"up, slash encoded", "GET /..%2fsecret.html HTTP/1.1\nHost: HOST", 404},
		{"up, backslash", "GET /..%5csecret.html HTTP/1.1\nHost: HOST", 404},
		{"up from within", "GET /data/../../secret.html HTTP/1.1\nHost: HOST", 404},
		{"two slashes", "GET //secret.html HTTP/1.1\nHost: HOST", 404},
		{"a zero byte", "GET /index.html%00 HTTP/1.1\nHost: HOST", 404},
		{"a link out", "GET /link.html HTTP/1.1\nHost: HOST", 404},
		{"a folder that is a link out", "GET /out/index.html HTTP/1.1\nHost: HOST", 404},
		{"a link to a hidden file", "GET /inner.html HTTP/1.1\nHost: HOST", 404},
		{"a folder that is a link to a hidden one", "GET /folder/x.html HTTP/1.1\nHost: HOST", 404},
		{"the manifest", "GET /.jobbook-manifest HTTP/1.1\nHost: HOST", 404},
		{"a hidden folder", "GET /data/.hidden/x.html HTTP/1.1\nHost: HOST", 404},
		{"no listing", "GET /data/ HTTP/1.1\nHost: HOST", 404},
		{"a file as a folder", "GET /index.html/ HTTP/1.1\nHost: HOST", 404},
		{"nothing", "GET /nothing.html HTTP/1.1\nHost: HOST", 404},
	} {
		t.Run(c.name, func(t *testing.T) {
			response, body := raw(t, host, c.request)
			check(t, "status", c.status, response.StatusCode)
			if strings.Contains(body, "secret") {
				t.Errorf("it gives away %q", body)
			}
			check(t, "cache", "no-store", response.Header.Get("Cache-Control"))
			check(t, "sniffing", "nosniff", response.Header.Get("X-Content-Type-Options"))
			if strings.HasPrefix(c.request, "HEAD") && body != "" {
				t.Errorf("a body: %q", body)
			}
			if c.status == 301 {
				check(t, "location", "./a%20b/", response.Header.Get("Location"))
			}
			if c.status == 405 {
				check(t, "allow", "GET, HEAD", response.Header.Get("Allow"))
			}
		})
	}
}

func TestPreviewInjects(t *testing.T) {
	dir := book(t)
	_, host := serve(t, dir)
	scriptTag := regexp.MustCompile(`(?s)<script nonce="([A-Z2-7]{26})" data-build="([A-Z2-7]{26}-\d+)" data-events="/-/events">.*</script>`)
	var nonces []string
	for _, path := range []string{"/", "/a%20b/", "/nothing.html"} {
		response, body := raw(t, host, "GET "+path+" HTTP/1.1\nHost: HOST")
		found := scriptTag.FindStringSubmatchIndex(body)
		if found == nil {
			t.Fatalf("%s: no script in %q", path, body)
		}
		nonce := body[found[2]:found[3]]
		if csp := response.Header.Get("Content-Security-Policy"); !strings.Contains(csp, "script-src 'nonce-"+nonce+"';") || strings.Contains(csp, "unsafe-eval") {
			t.Errorf("%s: policy %q", path, csp)
		}
		nonces = append(nonces, nonce)
		rest := body[:found[0]] + body[found[1]:]
		if path != "/nothing.html" {
			check(t, path+" without the script", page, rest)
		}
		if !strings.HasPrefix(body[found[1]:], "</body>") {
			t.Errorf("%s: not before </body>: %q", path, body[found[1]:])
		}
	}
	if nonces[0] == nonces[1] {
		t.Error("a nonce is used twice")
	}
	if strings.Contains(script, "</script") {
		t.Error("the script ends its own element")
	}
	for path, kind := range map[string]string{"/strip.svg": "image/svg+xml", "/data/plan.json": "application/json", "/odd.xyz": "application/octet-stream"} {
		response, body := raw(t, host, "GET "+path+" HTTP/1.1\nHost: HOST")
		data, err := os.ReadFile(filepath.Join(dir, path))
		if err != nil {
			t.Fatal(err)
		}
		check(t, path, string(data), body)
		check(t, path+" type", kind, response.Header.Get("Content-Type"))
		if csp := response.Header.Get("Content-Security-Policy"); !strings.Contains(csp, "script-src 'none'") {
			t.Errorf("%s: policy %q", path, csp)
		}
	}
	data, err := os.ReadFile(filepath.Join(dir, "index.html"))
	if err != nil {
		t.Fatal(err)
	}
	check(t, "the page on disk", page, string(data))
}

func TestPreviewBeforeTheBook(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "later")
	_, host := serve(t, dir)
	response, body := raw(t, host, "GET / HTTP/1.1\nHost: HOST")
	check(t, "status", 404, response.StatusCode)
	if !strings.Contains(body, "No book yet") || !strings.Contains(body, "<script nonce") {
		t.Errorf("got %q", body)
	}
	put(t, filepath.Join(dir, "index.html"), page)
	response, _ = raw(t, host, "GET / HTTP/1.1\nHost: HOST")
	check(t, "status", 200, response.StatusCode)
}

// stream is one open page's event stream.
type stream struct {
	t     *testing.T
	lines *bufio.Scanner
	close func()
}

func listen(t *testing.T, host string) *stream {
	t.Helper()
	ctx, stop := context.WithCancel(context.Background())
	request, err := http.NewRequestWithContext(ctx, http.MethodGet, "http://"+host+eventsPath, nil)
	if err != nil {
		t.Fatal(err)
	}
	response, err := (&http.Transport{}).RoundTrip(request)
	if err != nil {
		t.Fatal(err)
	}
	check(t, "status", 200, response.StatusCode)
	check(t, "type", "text/event-stream", response.Header.Get("Content-Type"))
	s := &stream{t, bufio.NewScanner(response.Body), func() { stop(); response.Body.Close() }}
	t.Cleanup(s.close)
	return s
}

// next waits for the next state.
func (s *stream) next() state {
	s.t.Helper()
	for s.lines.Scan() {
		if data, ok := strings.CutPrefix(s.lines.Text(), "data: "); ok {
			var now state
			if err := json.Unmarshal([]byte(data), &now); err != nil {
				s.t.Fatal(err)
			}
			return now
		}
	}
	s.t.Fatal("the stream ended")
	return state{}
}

func TestPreviewEvents(t *testing.T) {
	p, host := serve(t, book(t))
	a := listen(t, host)
	first := a.next()
	check(t, "no problems at first", "", first.Problems)

	_, body := raw(t, host, "GET / HTTP/1.1\nHost: HOST")
	if !strings.Contains(body, `data-build="`+first.Build+`"`) {
		t.Error("the page and the stream do not agree on the build")
	}

	bad := "job.md:3:1: error: <b>not a \"length\"</b>\n  height: tall\n          ^^^^"
	p.Problems(bad)
	check(t, "the problem comes, the build stays", state{first.Build, bad}, a.next())
	b := listen(t, host)
	check(t, "a new page hears of it", state{first.Build, bad}, b.next())
	p.Problems(bad) // no news: the next state is that of the line below
	p.Problems("")
	check(t, "cleared", state{first.Build, ""}, a.next())
	check(t, "cleared there too", state{first.Build, ""}, b.next())
	p.Reload()
	second := a.next()
	if second.Build == first.Build || second.Problems != "" {
		t.Errorf("after Reload: %v, before %v", second, first)
	}
	check(t, "the other page", second, b.next())

	t.Run("a page that was away is told what it missed", func(t *testing.T) {
		b.close()
		p.Reload()
		third := a.next()
		check(t, "on coming back", third, listen(t, host).next())
		if third.Build == second.Build {
			t.Error("the build is the same")
		}
	})
	t.Run("another preview is another build", func(t *testing.T) {
		_, other := serve(t, book(t))
		if now := listen(t, other).next(); now.Build == first.Build {
			t.Error("the build is the same")
		}
	})
}

func TestPreviewEventsRefusesOthers(t *testing.T) {
	_, host := serve(t, book(t))
	for name, header := range map[string]string{
		"another site":        "Origin: http://larkspur.example",
		"another port":        "Origin: http://localhost:1",
		"no site":             "Origin: null",
		"encrypted":           "Origin: https://HOST",
		"cross-site":          "Sec-Fetch-Site: cross-site",
		"another port, again": "Sec-Fetch-Site: same-site",
	} {
		t.Run(name, func(t *testing.T) {
			response, _ := raw(t, host, "GET /-/events HTTP/1.1\nHost: HOST\n"+header)
			check(t, "status", 403, response.StatusCode)
		})
	}
	t.Run("its own pages", func(t *testing.T) {
		response, _ := raw(t, host, "HEAD /-/events HTTP/1.1\nHost: HOST\nSec-Fetch-Site: same-origin\nOrigin: http://HOST")
		check(t, "status", 200, response.StatusCode)
	})
}

func TestPreviewEnds(t *testing.T) {
	p := NewPreview(book(t))
	ctx, stop := context.WithCancel(context.Background())
	defer stop()
	urls, ended := make(chan string, 1), make(chan error, 1)
	go func() { ended <- p.Serve(ctx, "localhost:0", func(url string) { urls <- url }) }()
	host := strings.Trim(strings.TrimPrefix(<-urls, "http://"), "/")
	s := listen(t, host)
	s.next()
	stop() // with a stream open
	check(t, "error", nil, <-ended)
	for s.lines.Scan() {
	}
	if c, err := net.Dial("tcp", host); err == nil {
		c.Close()
		t.Error("it still listens")
	}
}

func TestLoopback(t *testing.T) {
	for addr, want := range map[string]string{
		":8080": "127.0.0.1:8080", "localhost:8080": "127.0.0.1:8080", "127.0.0.1:0": "127.0.0.1:0", "127.1.2.3:8080": "127.1.2.3:8080", "[::1]:0": "[::1]:0",
	} {
		got, err := loopback(addr)
		if err != nil {
			t.Errorf("%q: %v", addr, err)
			continue
		}
		check(t, addr, want, got.String())
	}
	for _, addr := range []string{
		"", "8080", "localhost", "0.0.0.0:8080", "[::]:8080", "192.168.1.5:8080", "10.0.0.1:0", "larkspur.example:8080", "localhost.:8080",
		"[::ffff:127.0.0.1]:8080", "[::1%lo]:8080", "::1:8080", ":http", ":-1", ":65536", ":", "127.1:8080", "http://localhost:8080",
	} {
		err := NewPreview(t.TempDir()).Serve(context.Background(), addr, func(url string) { t.Errorf("%q: serves at %s", addr, url) })
		var address *AddressError
		if !errors.As(err, &address) {
			t.Errorf("%q: got %v, want an AddressError", addr, err)
			continue
		}
		check(t, "address", addr, address.Addr)
	}
}
