# make test needs Go and make, nothing else.

export CGO_ENABLED = 0
FUZZTIME ?= 1m

# What 'foreply version' says comes from git, where there is one. With -trimpath the
# same revision and Go give the same bytes in any folder.
VCS := $(shell git rev-parse HEAD >/dev/null 2>&1 && echo auto || echo false)

build:
	go build -trimpath -buildvcs=$(VCS) -o build/foreply ./cmd/foreply

# The program, its licences, and completion where the shells look for it.
PREFIX ?= /usr/local
INTO = $(DESTDIR)$(PREFIX)
SHARE = $(INTO)/share

install: build
	install -d '$(INTO)/bin' '$(SHARE)/doc/foreply' '$(SHARE)/bash-completion/completions' \
	  '$(SHARE)/zsh/site-functions' '$(SHARE)/fish/vendor_completions.d'
	install -m 755 build/foreply '$(INTO)/bin/foreply'
	install -m 644 LICENSE NOTICES README.md '$(SHARE)/doc/foreply'
	build/foreply completion bash > '$(SHARE)/bash-completion/completions/foreply'
	build/foreply completion zsh > '$(SHARE)/zsh/site-functions/_foreply'
	build/foreply completion fish > '$(SHARE)/fish/vendor_completions.d/foreply.fish'

# A sheet for either colour, from invented games and repertoires.
DEMO = build/foreply prep --games 'testdata/demo/opponent-*.pgn' --opponent 'Hallvoss, Imke' \
	--opponent 'Hallvoss, I.' --opponent tallowmoth --me 'Pellworth, Ines' \
	--event 'Weirside Open' --round 4 --clock 5400+30

demo: build
	@$(DEMO) --repertoire testdata/demo/white.pgn --my-color white -o build/demo-white.pdf
	@echo
	@$(DEMO) --repertoire testdata/demo/black.pgn --my-color black -o build/demo-black.pdf
	@echo
	@echo "the sheets: build/demo-white.pdf build/demo-black.pdf"

test:
	go test ./...

# The forecast tested on a folder of PGN, one player a file; ARGS='--peers folder'
# and other flags of 'foreply hindsight' may be added.
hindsight: build
	@test -n '$(DATA)' || { echo 'which folder? make hindsight DATA=folder'; exit 1; }
	@build/foreply hindsight '$(DATA)' $(ARGS)

# How fast games become a tree: writes the table of testdata/bench/README.md, in a
# minute or two. DATA are further files to measure.
bench:
	go test -count 1 -timeout 2h -run '^TestTable$$' ./cmd/bench -args -table '$(CURDIR)/testdata/bench/README.md' $(abspath $(DATA))

# Every fuzz target for FUZZTIME. What reaches new code is made smaller in 50 runs at most: by
# default for a minute each, which leaves slow targets no time for anything else. An input that
# fails is printed, since the machine it was found on may be gone. Where go test is interrupted by
# its own FUZZTIME while an input runs it says so ('context deadline exceeded') and fails, though
# nothing did: that is passed over.
fuzz:
	@go list ./... | while read p; do \
	  for f in $$(go test -list '^Fuzz' $$p | grep '^Fuzz'); do \
	    echo "$$p $$f"; said=$$(mktemp); \
	    go test -run '^$$' -fuzz "^$$f$$" -fuzztime $(FUZZTIME) -fuzzminimizetime 50x $$p >$$said 2>&1; status=$$?; \
	    cat $$said; \
	    if [ $$status != 0 ] && { grep -q 'Failing input' $$said || ! grep -q '^ *context deadline exceeded$$' $$said; }; then \
	      find . -path '*/testdata/fuzz/*' -type f -cmin -1 -exec tail -n +1 {} +; rm $$said; exit 1; \
	    fi; \
	    rm $$said; \
	  done || exit 1; \
	done

# Rewrite what tests expect, after an intended change; read the diff.
golden:
	go test ./compare ./cmd/foreply ./fetch/pgn ./pdf -update

# The licences of what the program carries, after a change of go.mod.
notices:
	mkdir -p build && go run ./cmd/notices > build/NOTICES
	mv build/NOTICES NOTICES

lint:
	test -z "$$(gofmt -l .)" || { gofmt -l .; exit 1; }
	go vet ./...
	go tool staticcheck ./...

.PHONY: build install notices demo test hindsight bench fuzz golden lint
