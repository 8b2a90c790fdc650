// Command pairs measures how package fetch finds the same game twice. It takes a
// career as one collection has it, makes two collections of it, the second with
// other spellings of names, events, dates, rounds and moves, and counts the pairs
// found, the pairs missed and the games joined that are two.
//
//	go run ./cmd/measure/pairs [-first 1344] [-second 1389] [-both 1280] [-twins 0] [-seeds 3] [-kinds] [-names] [-v] FILE NAME...
//
// The names are the player's spellings in the file. Twins are the danger: so many
// games are cut to short draws and played a second time, in another round of the
// same year, as two players do who are content with a draw. With -kinds all games are
// in both collections, and a table shows one kind of difference after the other; with -names one shows how names
// in other spellings are told. With -raw it lists
// instead what stands twice in the file itself.
package main

import (
	"context"
	"flag"
	"fmt"
	"io"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"

	"foreply/fetch"
	"foreply/fetch/pgn"
)

func main() {
	if err := run(os.Args[1:], os.Stdout); err != nil {
		fmt.Fprintln(os.Stderr, "error:", err)
		os.Exit(1)
	}
}

// shape is how many games the collections have.
type shape struct{ first, second, both, twins int }

func run(args []string, out io.Writer) error {
	fs := flag.NewFlagSet("pairs", flag.ContinueOnError)
	var s shape
	fs.IntVar(&s.first, "first", 1344, "games of the first collection")
	fs.IntVar(&s.second, "second", 1389, "games of the second collection")
	fs.IntVar(&s.both, "both", 1280, "games that both have")
	fs.IntVar(&s.twins, "twins", 0, "games that are played twice")
	seeds := fs.Int("seeds", 3, "how often to draw anew")
	verbose := fs.Bool("v", false, "list the pairs missed and the games wrongly joined")
	kinds := fs.Bool("kinds", false, "one kind of difference after the other, all games in both collections")
	names := fs.Bool("names", false, "how the names of the file are told in other spellings")
	raw := fs.Bool("raw", false, "list what stands twice in the file")
	if err := fs.Parse(args); err != nil {
		return err
	}
	if fs.NArg() < 2 {
		return fmt.Errorf("a file and at least one name are needed")
	}
	file, who := fs.Arg(0), fetch.Who{Names: fs.Args()[1:]}
	if *raw {
		return listTwice(file, who, out)
	}
	games, _, err := read(who, file)
	if err != nil {
		return err
	}
	if *names {
		nameTable(games, out)
		return nil
	}
	if *kinds {
		return table(games, who, *verbose, out)
	}
	return trials(out, file, games, s, who, *seeds, *verbose)
}

// trials makes the collections of a file's games anew for each seed, and prints what was
// found in them.
func trials(out io.Writer, file string, games []*pgn.Game, s shape, who fetch.Who, seeds int, verbose bool) error {
	if all := s.first + s.second - s.both; len(games) < all {
		return fmt.Errorf("%s has %d games of the player, %d are needed", file, len(games), all)
	}
	for seed := range uint64(seeds) {
		t, err := trial(s, games, who, seed)
		if err != nil {
			return err
		}
		fmt.Fprintf(out, "seed %d: %d and %d games, %d in common: %d pairs found, %d missed (%d of them named as perhaps one), %d games wrongly joined\n",
			seed, s.first, s.second, s.both, t.found, len(t.missed), t.named, t.wrong)
		if verbose {
			list(out, t)
		}
	}
	return nil
}

// list prints the pairs missed and the games wrongly joined.
func list(out io.Writer, t result) {
	for _, pair := range t.missed {
		fmt.Fprintf(out, "\tmissed\t%s\n\t\t%s\n", pair[0], pair[1])
	}
	for _, game := range t.joined {
		fmt.Fprintf(out, "\tjoined\t%s\n", game)
	}
}

// read returns the games of the player, each once.
func read(who fetch.Who, files ...string) ([]*pgn.Game, fetch.Summary, error) {
	opened, err := fetch.Open(context.Background(), fetch.Inputs(files...), fetch.Options{Who: who})
	if err != nil {
		return nil, fetch.Summary{}, err
	}
	var games []*pgn.Game
	for g := range opened.All() {
		games = append(games, g)
	}
	return games, opened.Summary(), opened.Err()
}

// result is the outcome of a trial.
type result struct {
	found  int
	missed [][2]string // both copies, in short
	named  int
	joined []string // games made of two, in short
	wrong  int      // these, and games of one collection that were joined
}

// trial makes the collections and reads them together.
func trial(s shape, games []*pgn.Game, who fetch.Who, seed uint64) (result, error) {
	games, drawn := twins(s.twins, false, games, draw(s, len(games), seed), seed)
	return compare(games, drawn, who, seed, (*copied).random)
}

// compare writes both collections and reads them together. change makes the copies of
// the second one differ.
func compare(games []*pgn.Game, drawn [][2]bool, who fetch.Who, seed uint64, change func(*copied, *rand.Rand)) (result, error) {
	dir, err := os.MkdirTemp("", "pairs")
	if err != nil {
		return result{}, err
	}
	defer os.RemoveAll(dir)
	names := [2]string{filepath.Join(dir, "1.pgn"), filepath.Join(dir, "2.pgn")}
	if err := writeBoth(names, games, drawn, who, seed, change); err != nil {
		return result{}, err
	}
	joined, summary, err := read(who.With(otherName(who.Names[0])), names[:]...)
	if err != nil {
		return result{}, err
	}
	return judge(joined, summary, drawn), nil
}

// draw says for each game of the career in which collections it is.
func draw(s shape, n int, seed uint64) [][2]bool {
	out := make([][2]bool, n)
	for k, i := range rand.New(rand.NewPCG(seed, 1)).Perm(n) {
		switch onlyFirst, onlySecond := s.first-s.both, s.second-s.both; {
		case k < s.both:
			out[i] = [2]bool{true, true}
		case k < s.both+onlyFirst:
			out[i] = [2]bool{true, false}
		case k < s.both+onlyFirst+onlySecond:
			out[i] = [2]bool{false, true}
		}
	}
	return out
}

func writeBoth(names [2]string, games []*pgn.Game, drawn [][2]bool, who fetch.Who, seed uint64, change func(*copied, *rand.Rand)) error {
	var one, two strings.Builder
	r := rand.New(rand.NewPCG(seed, 2))
	for i, g := range games {
		c := copyOf(g, who)
		change(&c, r)
		if drawn[i][0] {
			one.WriteString(asIs(g, i))
		}
		if drawn[i][1] {
			two.WriteString(c.write(i))
		}
	}
	if err := os.WriteFile(names[0], []byte(one.String()), 0o600); err != nil {
		return err
	}
	return os.WriteFile(names[1], []byte(two.String()), 0o600)
}

// The tags that tell the copies: joining takes over what one of them lacks.
const (
	firstTag  = "FirstCopy"
	secondTag = "SecondCopy"
)

// judge counts by the tags of the copies. Two games of one collection that were
// joined have lost one of their numbers.
func judge(games []*pgn.Game, s fetch.Summary, drawn [][2]bool) result {
	var out result
	left := map[string]bool{}
	alone := map[string][]*pgn.Game{}
	for _, g := range games {
		first, second := g.Tags().Get(firstTag), g.Tags().Get(secondTag)
		left["1 "+first], left["2 "+second] = true, true
		switch {
		case first != "" && first == second:
			out.found++
		case first != "" && second != "":
			out.joined = append(out.joined, fmt.Sprintf("%s; numbers %s and %s", short(g), first, second))
		default:
			alone[first+second] = append(alone[first+second], g)
		}
	}
	out.wrong = s.Duplicates - out.found
	for _, g := range games {
		if pair := alone[g.Tags().Get(firstTag)]; len(pair) == 2 {
			out.missed = append(out.missed, [2]string{short(pair[0]), short(pair[1])})
		}
	}
	for i, in := range drawn {
		for k, there := range in {
			if there && !left[fmt.Sprint(k+1, " ", i)] {
				out.joined = append(out.joined, fmt.Sprintf("number %d of collection %d is gone", i, k+1))
			}
		}
	}
	for _, p := range s.Problems {
		if p.Kind == fetch.PerhapsTwice {
			out.named++
		}
	}
	return out
}

// short is a game in a line.
func short(g *pgn.Game) string {
	t := g.Tags()
	last := ""
	if n := len(g.Moves); n > 0 {
		last = string(g.Moves[n-1].SAN)
	}
	return fmt.Sprintf("%s:%d %s - %s, %s, round %s, %s, %d half-moves to %s",
		filepath.Base(g.File), g.Line, t.Get("White"), t.Get("Black"), t.Get("Date"), t.Get("Round"), t.Get("Result"), len(g.Moves), last)
}

// listTwice prints the games of the file that were joined with an earlier one.
func listTwice(file string, who fetch.Who, out io.Writer) error {
	kept, summary, err := read(who, file)
	if err != nil {
		return err
	}
	stays := map[int]bool{}
	for _, g := range kept {
		stays[g.Index] = true
	}
	every, err := fetch.Open(context.Background(), []fetch.Input{{Pattern: file}}, fetch.Options{})
	if err != nil {
		return err
	}
	for g := range every.All() {
		if white, black := who.Match(g); (white || black) && !stays[g.Index] && fetch.Classify(g.Header(), len(g.Moves)) == fetch.Normal {
			fmt.Fprintln(out, "joined:", short(g))
		}
	}
	for _, p := range summary.Problems {
		fmt.Fprintf(out, "%s (%s)\n", p, p.Kind)
	}
	fmt.Fprintf(out, "%d games of the player, %d of them twice\n", summary.Theirs, summary.Duplicates)
	return every.Err()
}
