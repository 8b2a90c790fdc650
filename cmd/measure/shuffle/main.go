// Command shuffle counts false alarms of 'what changed': it prints the changes
// found in a career, and in as many copies of it whose dates are permuted among
// the games, so that nothing can have changed.
//
//	go run ./cmd/measure/shuffle [-n COPIES] [-date YYYY-MM-DD] FILE=NAME[|NAME...]...
package main

import (
	"flag"
	"fmt"
	"io"
	"math/rand/v2"
	"os"
	"slices"
	"strings"

	"foreply/cmd/measure/career"
	"foreply/compare/find"
	"foreply/compare/words"
	"foreply/fetch/pgn"
	"foreply/profile"
	"foreply/profile/board"
)

func main() {
	if err := run(os.Args[1:], os.Stdout); err != nil {
		fmt.Fprintln(os.Stderr, "error:", err)
		os.Exit(1)
	}
}

func run(args []string, out io.Writer) error {
	fs := flag.NewFlagSet("shuffle", flag.ContinueOnError)
	copies := fs.Int("n", 10, "shuffled copies of each career")
	date := fs.String("date", "", "as of this `DAY` (default: the day after the newest game)")
	if err := fs.Parse(args); err != nil {
		return err
	}
	for _, arg := range fs.Args() {
		file, names, _ := strings.Cut(arg, "=")
		games, err := career.Games(file, strings.Split(names, "|"))
		if err != nil {
			return err
		}
		if err := tell(out, file, games, *date, *copies); err != nil {
			return err
		}
	}
	return nil
}

func tell(out io.Writer, file string, games []career.Game, date string, copies int) error {
	when, err := day(games, date)
	if err != nil {
		return err
	}
	n := changes(out, games, when)
	fmt.Fprintf(out, "%s: %d games, %d changes before %s\n", file, len(games), n, when.First)
	alarms, places := 0, 0
	for seed := range copies {
		shuffle(games, uint64(seed)+1)
		if n := changes(out, games, when); n > 0 {
			alarms++
			places += n
		}
	}
	fmt.Fprintf(out, "%s: %d of %d shuffles fire, at %d places\n", file, alarms, copies, places)
	return nil
}

// day is the one given, else the day after the newest game.
func day(games []career.Game, date string) (profile.Span, error) {
	if date != "" {
		day := pgn.ParseDate(date)
		if !day.Full() {
			return profile.Span{}, fmt.Errorf("%q is no day", date)
		}
		return day.Span(), nil
	}
	return career.Profile(games).NextDay(), nil
}

// changes prints the changes found, and counts them.
func changes(out io.Writer, games []career.Game, when profile.Span) int {
	p, n := career.Profile(games), 0
	for _, color := range [...]board.Color{board.White, board.Black} {
		for _, change := range p.Changes(color, when) {
			told := find.ChangeOf(&change)
			fmt.Fprintf(out, "  %s, chance %.1e: %s\n", color, change.Chance, words.Change(&told))
			n++
		}
	}
	return n
}

// shuffle deals the dates anew to the games.
func shuffle(games []career.Game, seed uint64) {
	names := [...]string{"Date", "UTCDate", "UTCTime", "StartTime", "Time"}
	r := rand.New(rand.NewPCG(seed, 8))
	order := r.Perm(len(games))
	dates := make([][len(names)]string, len(games))
	for i, g := range games {
		for k, name := range names {
			dates[i][k] = g.Tags().Get(name)
		}
	}
	for i, g := range games {
		tags := slices.DeleteFunc(slices.Clone(g.Tags()), func(t pgn.Tag) bool { return slices.Contains(names[:], t.Name) })
		for k, name := range names {
			if v := dates[order[i]][k]; v != "" {
				tags = append(tags, pgn.Tag{Name: name, Value: v})
			}
		}
		g.SetTags(tags)
	}
}
