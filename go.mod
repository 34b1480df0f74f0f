module balustrade

go 1.26.0

require (
	github.com/alecthomas/chroma/v2 v2.27.0 // sets the page of files as recorded, with a link to every line
	github.com/arran4/golang-ical v0.3.4 // the calendar file for a phone: folding and escaping by RFC 5545
	github.com/cespare/xxhash/v2 v2.3.0 // sums the files of a book, which crypto/sha256 takes eight times as long for
	github.com/fsnotify/fsnotify v1.10.1 // tells the watcher of a save
	github.com/spf13/cobra v1.10.2 // commands, flags after the folder's name, help, "did you mean"
	github.com/spf13/pflag v1.0.9 // cobra's flags, named where a mistake in one is explained
	github.com/yuin/goldmark v1.8.7 // the words a person writes
	github.com/yuin/goldmark-meta v1.1.0 // takes the front matter off the body in the same pass
	go.yaml.in/yaml/v4 v4.0.0 // front matter as nodes with line and column, and syntax errors with a place
	golang.org/x/sync v0.25.0 // files and pages several at a time, no more than there are processors
	golang.org/x/text v0.23.0 // file names that are one though their accents are written in two ways
)

// Tests only.
require (
	github.com/chromedp/cdproto v0.159.0 // messages of the browser, for the test below
	github.com/chromedp/chromedp v0.23.0 // the book in a real browser
	github.com/google/go-cmp v0.7.0 // differences of expected pages
	github.com/rogpeppe/go-internal v1.16.0 // scripts that run the real command
	github.com/santhosh-tekuri/jsonschema/v6 v6.0.3 // data/plan.json against its schema
	gonum.org/v1/gonum v0.17.0 // matrices of its own, that the frame of the guard is checked against
	pgregory.net/rapid v1.3.0 // properties over random input
)

require (
	github.com/dlclark/regexp2/v2 v2.2.1 // indirect
	github.com/go-json-experiment/json v0.0.0-20260213210345-44df1a37e875 // indirect
	github.com/inconshreveable/mousetrap v1.1.0 // indirect
	golang.org/x/sys v0.30.0 // indirect
	golang.org/x/tools v0.30.0 // indirect
	gopkg.in/yaml.v2 v2.4.0 // indirect; goldmark-meta's, held at the last release
)
