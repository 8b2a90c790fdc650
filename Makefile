# make test needs Go and make, nothing else.

export CGO_ENABLED = 0
FUZZTIME ?= 1m

build:
	go build -o build/foreply ./cmd/foreply

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

# Every fuzz target for FUZZTIME.
fuzz:
	@go list ./... | while read p; do \
	  for f in $$(go test -list '^Fuzz' $$p | grep '^Fuzz'); do \
	    echo "$$p $$f" && go test -run '^$$' -fuzz "^$$f$$" -fuzztime $(FUZZTIME) $$p || exit 1; \
	  done; \
	done

# Rewrite what tests expect, after an intended change; read the diff.
golden:
	go test ./compare ./cmd/foreply ./fetch/pgn ./pdf -update

lint:
	test -z "$$(gofmt -l .)" || { gofmt -l .; exit 1; }
	go vet ./...
	go tool staticcheck ./...

.PHONY: build demo test hindsight bench fuzz golden lint
