# What one types here. Go and make are needed to begin with; "make test" sees to the rest.

CHECKS  := testdata/browser
CHECKED := $(CHECKS)/node_modules/.package-lock.json

# The sample's book, and where to open it.
book:
	go run ./cmd/jobbook build sample-job

# Everything that can be found out about the code: form, vet, tests, and the book in a browser, on paper and in a validator.
test: tools $(CHECKED)
	@unformatted=$$(gofmt -l cmd jobbook templates); test -z "$$unformatted" || { echo "not gofmt-ed:"; echo "$$unformatted"; exit 1; }
	go vet -tags browser ./...
	go test -timeout 30m ./...
	go test -count=1 -timeout 30m -tags browser -run '^TestBrowser' ./jobbook

# How long the parts take.
bench:
	go test -run '^$$' -bench . -benchmem ./...

# What takes too long for every day: a thousand runs killed, two thousand cutting plans against another solver, every hostile text in every key, a yard of a thousand jobs. An hour or so.
soak: tools
	go test -count=1 -timeout 60m ./jobbook/site ./jobbook/takeoff/stock -args -long
	go test -count=1 -timeout 120m -run 'NothingRuns|NumbersAtTheirEnds|YardOfAThousand' -v ./jobbook -args -long -thousand

# What staticcheck finds, at the version written here.
lint:
	go vet -tags browser ./...
	go run honnef.co/go/tools/cmd/staticcheck@v0.8.2 ./...

# Every fuzz test in turn, twenty seconds each.
fuzz:
	@set -e; for package in $$(go list ./...); do \
		for name in $$(go test -list '^Fuzz' $$package | grep '^Fuzz' || true); do \
			echo "$$package $$name"; \
			go test -run '^$$' -fuzz "^$$name$$" -fuzztime 20s -fuzzminimizetime 5x $$package; \
		done; \
	done

# The expected pages, drawings and problem texts, written anew. Read the difference before keeping it.
update:
	@bad=0; for package in $$(grep -rl --include='*_test.go' 'flag.Bool("update"' cmd jobbook | xargs -r -n1 dirname | sort -u); do \
		echo "$$package"; go test ./$$package -update || bad=1; \
	done; exit $$bad

# What the tests need beside Go, by the names of Debian's packages; only what is missing is fetched.
tools:
	@missing=""; \
	command -v chromium >/dev/null || missing="$$missing chromium"; \
	command -v cbc >/dev/null || missing="$$missing coinor-cbc"; \
	command -v java >/dev/null || missing="$$missing default-jre-headless"; \
	command -v node >/dev/null || missing="$$missing nodejs"; \
	command -v npm >/dev/null || missing="$$missing npm"; \
	command -v pdftotext >/dev/null || missing="$$missing poppler-utils"; \
	/usr/bin/python3 -c "import icalendar" 2>/dev/null || missing="$$missing python3-icalendar"; \
	test -z "$$missing" && exit 0; \
	command -v apt-get >/dev/null || { echo "install these first:$$missing"; exit 1; }; \
	as=""; if [ "$$(id -u)" -ne 0 ] && command -v sudo >/dev/null; then as=sudo; fi; \
	$$as apt-get update && $$as env DEBIAN_FRONTEND=noninteractive apt-get install -y --no-install-recommends $$missing

$(CHECKED): $(CHECKS)/package.json $(CHECKS)/package-lock.json
	cd $(CHECKS) && npm ci --ignore-scripts --no-audit --no-fund
	@touch $@

.PHONY: book test bench soak lint fuzz update tools
