package watch

import (
	"context"
	"crypto/rand"
	"errors"
	"fmt"
	"io"
	"log"
	"net"
	"net/http"
	"net/netip"
	"strconv"
	"sync"
	"time"
)

// Preview shows a book to the browsers of this machine and to nobody else, and tells open pages when there is a newer
// one. It serves the files of one folder as they are on disk; a small script is put into pages on their way out. Its
// methods may be called from any goroutine.
type Preview struct {
	dir string
	run string // tells this preview's builds from those of an earlier one on the same address

	mu       sync.Mutex
	builds   int
	problems string
	changed  chan struct{} // closed when builds or problems change
}

// NewPreview makes a preview of a folder, which need not exist yet.
func NewPreview(dir string) *Preview {
	return &Preview{dir: dir, run: rand.Text(), changed: make(chan struct{})}
}

// Reload says that a new book is on disk: open pages load themselves again, and so do pages that missed this, as soon as
// they are in touch again.
func (p *Preview) Reload() {
	p.mu.Lock()
	defer p.mu.Unlock()
	p.builds++
	p.tell()
}

// Problems has every page, open or opened later, say that the last save could not be built, and show the text, which
// may have several lines. "" takes it away again. The pages stay those of the last book.
func (p *Preview) Problems(text string) {
	p.mu.Lock()
	defer p.mu.Unlock()
	if text != p.problems {
		p.problems = text
		p.tell()
	}
}

func (p *Preview) tell() {
	close(p.changed)
	p.changed = make(chan struct{})
}

// state is what a page has to know. Build is a word that changes with each build.
type state struct {
	Build    string `json:"build"`
	Problems string `json:"problems"`
}

func (p *Preview) state() (now state, changed <-chan struct{}) {
	p.mu.Lock()
	defer p.mu.Unlock()
	return state{Build: p.run + "-" + strconv.Itoa(p.builds), Problems: p.problems}, p.changed
}

// AddressError says that an address to serve on is not one of this machine alone, or not an address.
type AddressError struct{ Addr, Why string }

func (e *AddressError) Error() string { return fmt.Sprintf("%q: %s", e.Addr, e.Why) }

// loopback gives the address to listen on: ":8080" and "localhost:8080" are 127.0.0.1:8080. Names other than localhost
// are not looked up.
func loopback(addr string) (netip.AddrPort, error) {
	host, port, err := net.SplitHostPort(addr)
	if err != nil {
		return netip.AddrPort{}, &AddressError{addr, "is not an address; write :8080, or another port"}
	}
	number, err := strconv.ParseUint(port, 10, 16) // decimal, 16 bits: a port
	if err != nil {
		return netip.AddrPort{}, &AddressError{addr, "the port is not a number from 0 to 65535"}
	}
	if host == "" || host == "localhost" {
		host = "127.0.0.1"
	}
	ip, err := netip.ParseAddr(host)
	if err != nil || !ip.IsLoopback() || ip.Zone() != "" || ip.Is4In6() {
		return netip.AddrPort{}, &AddressError{addr, "the preview is for this machine only; write :8080, localhost:8080, 127.0.0.1:8080 or [::1]:8080"}
	}
	return netip.AddrPortFrom(ip, uint16(number)), nil
}

// Times after which a browser that does not go on is given up. On one machine all of them are long.
const (
	headerTime   = 5 * time.Second
	writeTime    = 30 * time.Second
	idleTime     = 2 * time.Minute
	shutdownTime = 2 * time.Second
	beatTime     = 15 * time.Second // between signs of life on an event stream with no news
	headerBytes  = 16 << 10         // a browser sends about 1 KiB
)

// Serve serves until ctx ends, then lets requests under way end and returns nil. addr must be of this machine alone
// (AddressError if not); port 0 takes any that is free. ready, if not nil, is called once with the address to open.
// Any other error is the network's, such as a port in use.
func (p *Preview) Serve(ctx context.Context, addr string, ready func(url string)) error {
	at, err := loopback(addr)
	if err != nil {
		return err
	}
	listener, err := (&net.ListenConfig{}).Listen(ctx, "tcp", at.String())
	if err != nil {
		return err
	}
	at = netip.AddrPortFrom(at.Addr(), uint16(listener.Addr().(*net.TCPAddr).Port))
	requests, end := context.WithCancel(ctx)
	defer end()
	server := &http.Server{
		Handler:           p.handler(at),
		ReadHeaderTimeout: headerTime, ReadTimeout: headerTime, WriteTimeout: writeTime, IdleTimeout: idleTime,
		MaxHeaderBytes: headerBytes,
		ErrorLog:       log.New(io.Discard, "", 0),                             // what a browser did wrong is no news to a carpenter
		BaseContext:    func(net.Listener) context.Context { return requests }, // so that event streams end with ctx
	}
	failed := make(chan error, 1)
	go func() { failed <- server.Serve(listener) }()
	if ready != nil {
		ready("http://" + at.String() + "/")
	}
	select {
	case err := <-failed:
		return err
	case <-ctx.Done():
	}
	grace, cancel := context.WithTimeout(context.WithoutCancel(ctx), shutdownTime)
	defer cancel()
	if err := server.Shutdown(grace); err != nil {
		_ = server.Close() // it has had its time
	}
	if err := <-failed; !errors.Is(err, http.ErrServerClosed) {
		return err
	}
	return nil
}
