// Command shuffle counts false alarms of 'what changed': it prints the changes
// found in a career, and in as many copies of it whose dates are permuted among
// the games, so that nothing can have changed.
//
//	go run ./cmd/measure/shuffle [-n COPIES] [-date YYYY-MM-DD] FILE=NAME[|NAME...]...
package main

import (
	"context"
	"flag"
	"fmt"
	"io"
	"math/rand/v2"
	"os"
	"slices"
	"strings"

	"foreply/compare/find"
	"foreply/compare/words"
	"foreply/fetch"
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
		c, err := read(file, strings.Split(names, "|"))
		if err != nil {
			return err
		}
		if err := c.tell(out, *date, *copies); err != nil {
			return err
		}
	}
	return nil
}

// career is the games of one player and the colour they had.
type career struct {
	file   string
	games  []*pgn.Game
	colors map[*pgn.Game]board.Color
}

func read(file string, names []string) (*career, error) {
	games, err := fetch.Open(context.Background(), []fetch.Input{{Pattern: file}}, fetch.Options{Who: fetch.Who{Names: names}})
	if err != nil {
		return nil, err
	}
	c := &career{file: file, colors: map[*pgn.Game]board.Color{}}
	for g := range games.All() {
		white, black := games.Match(g)
		if white == black {
			continue
		}
		g = g.Clone()
		c.games = append(c.games, g)
		c.colors[g] = board.White
		if black {
			c.colors[g] = board.Black
		}
	}
	return c, games.Err()
}

func (c *career) tell(out io.Writer, date string, copies int) error {
	when, err := c.day(date)
	if err != nil {
		return err
	}
	n := c.changes(out, when)
	fmt.Fprintf(out, "%s: %d games, %d changes before %s\n", c.file, len(c.games), n, when.First)
	alarms, places := 0, 0
	for seed := range copies {
		c.shuffle(uint64(seed) + 1)
		if n := c.changes(out, when); n > 0 {
			alarms++
			places += n
		}
	}
	fmt.Fprintf(out, "%s: %d of %d shuffles fire, at %d places\n", c.file, alarms, copies, places)
	return nil
}

func (c *career) day(date string) (profile.Span, error) {
	if date != "" {
		day := pgn.ParseDate(date)
		if !day.Full() {
			return profile.Span{}, fmt.Errorf("%q is no day", date)
		}
		return day.Span(), nil
	}
	return c.profile().NextDay(), nil
}

func (c *career) profile() *profile.Profile {
	return profile.Build(slices.Values(c.games), profile.Options{Them: func(g *pgn.Game) (board.Color, bool) { return c.colors[g], true }})
}

func (c *career) changes(out io.Writer, when profile.Span) int {
	p, n := c.profile(), 0
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
func (c *career) shuffle(seed uint64) {
	names := [...]string{"Date", "UTCDate", "UTCTime", "StartTime", "Time"}
	r := rand.New(rand.NewPCG(seed, 8))
	order := r.Perm(len(c.games))
	dates := make([][len(names)]string, len(c.games))
	for i, g := range c.games {
		for k, name := range names {
			dates[i][k] = g.Tags().Get(name)
		}
	}
	for i, g := range c.games {
		tags := slices.DeleteFunc(slices.Clone(g.Tags()), func(t pgn.Tag) bool { return slices.Contains(names[:], t.Name) })
		for k, name := range names {
			if v := dates[order[i]][k]; v != "" {
				tags = append(tags, pgn.Tag{Name: name, Value: v})
			}
		}
		g.SetTags(tags)
	}
}
