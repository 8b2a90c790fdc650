package main

import (
	"bytes"
	"context"
	"flag"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"time"

	"foreply/cmd/measure/career"
	"foreply/compare/fact"
	"foreply/fetch"
	"foreply/pdf"
	"foreply/profile/hindsight"
)

var (
	benchGames = flag.String("prep-games", "", "PGN `FILE` for BenchmarkPrep and BenchmarkHindsight instead of games of testdata")
	benchNames = flag.String("prep-names", "", "the opponent's `NAMES` in it, separated by semicolons")
)

const demo = "../../testdata/demo/"

var demoNames = []string{"Hallvoss, Imke", "Hallvoss, I.", "tallowmoth"}

var (
	tagYear  = regexp.MustCompile(`Date "(\d{4})\.`)
	tagPlace = regexp.MustCompile(`\[Site "[^"]*"\]\n`)
	tooFar   = regexp.MustCompile(`(?s)\b23\..*?(1-0|0-1|1/2-1/2|\*)\n`)
)

// manyGames writes the demo's games six times: about 1,600. Each time they are
// of other years, without the links that would tell that they are the same, and
// end after move 22, since longer games with the same moves are never two.
func manyGames(b *testing.B) string {
	var out bytes.Buffer
	for i := range 6 {
		for _, name := range []string{"opponent-otb.pgn", "opponent-online.pgn"} {
			text, err := os.ReadFile(demo + name)
			if err != nil {
				b.Fatal(err)
			}
			text = tooFar.ReplaceAll(tagPlace.ReplaceAll(text, nil), []byte("$1\n"))
			out.Write(tagYear.ReplaceAllFunc(text, func(tag []byte) []byte {
				year, _ := strconv.Atoi(string(tagYear.FindSubmatch(tag)[1]))
				return fmt.Appendf(nil, `Date "%d.`, year-5*i)
			}))
			out.WriteString("\n\n")
		}
	}
	file := filepath.Join(b.TempDir(), "games.pgn")
	if err := os.WriteFile(file, out.Bytes(), 0o644); err != nil {
		b.Fatal(err)
	}
	return file
}

// BenchmarkPrep is the whole command on about 1,600 games; x-reading is its time
// as a multiple of that of reading the games and writing a page of an empty
// Report, measured in turns.
func BenchmarkPrep(b *testing.B) {
	file, names := benched(func() (string, []string) { return manyGames(b), demoNames })
	args := argsFor("prep", file, names, "--repertoire", demo+"black.pgn", "--my-color", "black", "-o", filepath.Join(b.TempDir(), "sheet.pdf"))
	b.Setenv("HOME", b.TempDir())
	var prep, reading time.Duration
	games := 0
	for b.Loop() {
		start := time.Now()
		mustRun(b, args)
		half := time.Now()
		games = readAll(b, file, names)
		if _, err := pdf.Write(io.Discard, &fact.Report{}, pdf.Options{}); err != nil {
			b.Fatal(err)
		}
		prep, reading = prep+half.Sub(start), reading+time.Since(half)
	}
	b.ReportMetric(float64(prep)/float64(reading), "x-reading")
	b.ReportMetric(float64(games), "games")
}

// BenchmarkHindsight is the whole command on a player's 411 games, with the rivals' usual moves as
// the book and with the demo's repertoire; x-moves is its time as a multiple of that of
// reading the games and testing the forecast move by move alone, without sheets, measured
// in turns.
func BenchmarkHindsight(b *testing.B) {
	file, names := benched(func() (string, []string) { return testdata + "/diff/games.pgn", []string{"Kestrel, Ada"} })
	b.Setenv("HOME", b.TempDir())
	for name, books := range map[string][]string{
		"usual": nil, "given": {"--white-repertoire", demo + "white.pgn", "--black-repertoire", demo + "black.pgn"},
	} {
		b.Run(name, func(b *testing.B) {
			args := argsFor("hindsight", file, names, append(books, "--json")...)
			var all, moves time.Duration
			for b.Loop() {
				start := time.Now()
				mustRun(b, args)
				half := time.Now()
				p, err := career.Read(file, names)
				if err != nil {
					b.Fatal(err)
				}
				if _, err := hindsight.Test(b.Context(), p, hindsight.Options{}); err != nil {
					b.Fatal(err)
				}
				all, moves = all+half.Sub(start), moves+time.Since(half)
			}
			b.ReportMetric(float64(all)/float64(moves), "x-moves")
		})
	}
}

// benched is the file that the flags name with the names of its opponent, or else what is usual.
func benched(usual func() (string, []string)) (file string, names []string) {
	if *benchGames != "" {
		return *benchGames, strings.Split(*benchNames, ";")
	}
	return usual()
}

func argsFor(command, file string, names []string, more ...string) []string {
	args := append([]string{command, "--games", file}, more...)
	for _, name := range names {
		args = append(args, "--opponent", name)
	}
	return args
}

func mustRun(b *testing.B, args []string) {
	var stderr bytes.Buffer
	if code := run(context.Background(), args, strings.NewReader(""), io.Discard, &stderr); code != 0 {
		b.Fatalf("exit code %d: %s", code, stderr.String())
	}
}

func readAll(b *testing.B, file string, names []string) int {
	games, err := fetch.Open(context.Background(), []fetch.Input{{Pattern: file}}, fetch.Options{Who: fetch.Who{Names: names}})
	if err != nil {
		b.Fatal(err)
	}
	n := 0
	for range games.All() {
		n++
	}
	if err := games.Err(); err != nil {
		b.Fatal(err)
	}
	return n
}
