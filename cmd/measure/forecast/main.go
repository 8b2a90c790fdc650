// Command measure prints the figures of the forecast's protocol over a folder of
// careers, one file a player: the whole career, small histories, with and without
// the other files as peers.
//
//	go run ./cmd/measure/forecast [-peers [-near N] [-speed] | -alone] [-last N] [-every N] [-upto N] FILE=NAME[|NAME...]... [+FILE...]
//
// A file behind a plus serves as peers only; with -alone not even the other
// players in a career's own games do. With -near only peers rated within so many
// points of the career's first rating count, with -speed only those in games of the
// speed it has most of, however few they are. With -results it judges the forecast
// of results instead; with -fit it chooses the numbers of the model, with -refit
// only those of the last step and of the intervals, each career being
// judged by what was fitted on the others (fit.go; FIT.md has what came out).
package main

import (
	"cmp"
	"context"
	"flag"
	"fmt"
	"io"
	"iter"
	"maps"
	"os"
	"slices"
	"strings"

	measured "foreply/cmd/measure/career"
	"foreply/compare/past"
	"foreply/fetch"
	"foreply/fetch/pgn"
	"foreply/profile"
	"foreply/profile/hindsight"
)

func main() {
	if err := run(os.Args[1:], os.Stdout); err != nil {
		fmt.Fprintln(os.Stderr, "error:", err)
		os.Exit(1)
	}
}

type career struct {
	name    string
	who     fetch.Who
	games   []*pgn.Game // all of the file
	profile *profile.Profile
	like    profile.Like // which peers it is to have
}

func run(args []string, out io.Writer) error {
	fs := flag.NewFlagSet("measure", flag.ContinueOnError)
	peers := fs.Bool("peers", false, "use the other files as peers")
	alone := fs.Bool("alone", false, "leave even the other players in a career's own games out of account")
	near := fs.Int("near", 0, "only peers within so many points of the first rating")
	speed := fs.Bool("speed", false, "only peers in games of the career's usual speed")
	last := fs.Int("last", 0, "only the last N known games exist")
	every := fs.Int("every", 0, "judge one game in N only")
	upTo := fs.Int("upto", 0, "games 8 to N of the career")
	fit := fs.Bool("fit", false, "fit the numbers of the model, leaving out each career in turn")
	refit := fs.Bool("refit", false, "fit only the last step and the intervals, the same way")
	sheets := fs.Bool("sheets", false, "judge what sheets would have said instead")
	books := measured.BookFlags(fs) // with -sheets
	scores := fs.Bool("results", false, "judge the forecast of results instead")
	if err := fs.Parse(args); err != nil {
		return err
	}
	careers, err := readAll(fs.Args(), *near, *speed)
	if err != nil {
		return err
	}
	model := profile.DefaultModel()
	model.Rivals = !*alone
	switch {
	case *refit:
		newFitter(careers, *peers, cmp.Or(*every, fittedEvery), out).refit(model)
		return nil
	case *fit:
		newFitter(careers, *peers, cmp.Or(*every, fittedEvery), out).run(published())
		return nil
	case *sheets:
		return printSheets(out, careers, past.Options{Model: &model, Last: *last, Books: *books}, *peers)
	case *scores:
		printResults(out, careers)
		return nil
	}
	opt := hindsight.Options{Model: &model, Last: *last, UpTo: *upTo, Every: *every}
	if *upTo > 0 {
		opt.Known = 7
	}
	return test(out, careers, opt, *peers)
}

// test prints the figures of each career, and of all pooled.
func test(out io.Writer, careers []*career, opt hindsight.Options, peers bool) error {
	var results []hindsight.Result
	for c, like := range each(careers, peers) {
		opt.Peers = like
		r, err := hindsight.Test(context.Background(), c.profile, opt)
		if err != nil {
			return err
		}
		results = append(results, r)
		if peers {
			fmt.Fprintf(out, "%d peers' games of %+v: ", like.Games, c.like)
		}
		line(out, c.name, r.Pooled)
	}
	line(out, "pooled", hindsight.Pool(results...).Pooled)
	return nil
}

// each are those of the careers that are judged, with their peers if asked for.
func each(careers []*career, peers bool) iter.Seq2[*career, *profile.Peers] {
	return func(yield func(*career, *profile.Peers) bool) {
		for _, c := range careers {
			if c.profile == nil {
				continue
			}
			var like *profile.Peers
			if peers {
				like = c.peers(careers)
			}
			if !yield(c, like) {
				return
			}
		}
	}
}

// printSheets judges the partings, the lines to expect and the changes of sheets.
func printSheets(out io.Writer, careers []*career, opt past.Options, peers bool) error {
	var results []past.Result
	for c, like := range each(careers, peers) {
		opt.Peers = like
		r, err := past.Test(context.Background(), c.profile, opt)
		if err != nil {
			return err
		}
		results = append(results, r)
		sheetLines(out, c.name, &r)
	}
	pooled := past.Pool(results...)
	sheetLines(out, "pooled", &pooled)
	return nil
}

func sheetLines(out io.Writer, name string, r *past.Result) {
	fmt.Fprintf(out, "%s: %d sheets, %d games, %d to the end of a line; first parting right %d of %d, deeper %d of %d; changes %+v\n",
		name, r.Sheets, r.Games, r.Decided, r.First.Right, r.First.N, r.Deeper.Right, r.Deeper.N, r.Changes)
	scale := func(what string, bins []hindsight.Bin) {
		fmt.Fprintf(out, "  %-12s", what)
		for _, b := range bins {
			fmt.Fprintf(out, "  %.3f/%.3f (%d)", b.P, b.Observed, b.N)
		}
		fmt.Fprintln(out)
	}
	scale("first", r.First.All)
	scale("first told", r.First.Told)
	scale("deeper", r.Deeper.All)
	scale("deeper told", r.Deeper.Told)
	scale("lines", r.Lines)
	parts(out, r.Lines)
	if r.Expect != nil {
		scale("expect", []hindsight.Bin{*r.Expect})
	}
}

// parts prints what came as a part of what was said, with its 95 % interval.
func parts(out io.Writer, bins []hindsight.Bin) {
	fmt.Fprintf(out, "  %-12s", "part of said")
	for _, b := range bins {
		fmt.Fprintf(out, "  %.2f (%.2f-%.2f)", b.Observed/b.P, b.Lo/b.P, b.Hi/b.P)
	}
	fmt.Fprintln(out)
}

// printResults judges the forecast of results.
func printResults(out io.Writer, careers []*career) {
	for _, c := range careers {
		if c.profile != nil {
			f := hindsight.TestResults(c.profile, 30)
			fmt.Fprintf(out, "%-10s n %5d  record here %.3f  record %.3f  ratings %.3f  shrunk %.3f  and tilted %.3f\n",
				c.name, f.Games, f.Raw, f.Overall, f.Elo, f.Shrunk, f.Tilted)
		}
	}
}

func line(out io.Writer, name string, f hindsight.Figures) {
	fmt.Fprintf(out, "%-10s n %5d  raw %.4f  one %.4f (%+.2f%%)  full %.3f  top1 %.3f top3 %.3f  ece %.4f new %.4f (said %.3f came %.3f)  cover %.3f of %d\n",
		name, f.Predictions, f.RawBits, f.OneEvent, 100*(f.OneEvent/f.RawBits-1), f.FullBits, f.Top1, f.Top3, f.ECE, f.ECENew, f.New.P, f.New.Observed, f.Coverage, f.Intervals)
}

// choice of peers near the rating with which the player came into the games, so that
// it knows nothing of later ones, and of the speed of most games.
func (c *career) choice(near int, speed bool) profile.Like {
	var like profile.Like
	rating, paces := 0, map[string]int{}
	for i := range c.profile.Games {
		g := &c.profile.Games[i]
		if rating == 0 {
			rating = g.Elo
		}
		paces[g.Class.Group()]++
	}
	if near > 0 && rating > 0 {
		like.Lo, like.Hi = max(rating-near, 1), rating+near
	}
	if !speed {
		return like
	}
	for _, pace := range slices.Sorted(maps.Keys(paces)) {
		if pace != "" && paces[pace] > paces[like.Speed] {
			like.Speed = pace
		}
	}
	return like
}

// readAll reads careers, each with the choice of peers that it is to have.
func readAll(args []string, near int, speed bool) ([]*career, error) {
	var out []*career
	for _, arg := range args {
		c, err := readCareer(arg)
		if err != nil {
			return nil, err
		}
		if c.profile != nil {
			c.like = c.choice(near, speed)
		}
		out = append(out, c)
	}
	return out, nil
}

func readCareer(arg string) (*career, error) {
	file, names, named := strings.Cut(strings.TrimPrefix(arg, "+"), "=")
	c := &career{name: measured.Name(file)}
	all, err := read(file)
	if err != nil {
		return nil, err
	}
	c.games = all
	if !named {
		return c, nil
	}
	c.who.Names = strings.Split(names, "|")
	c.profile, err = measured.Read(file, c.who.Names)
	return c, err
}

func read(file string) ([]*pgn.Game, error) {
	g, err := fetch.Open(context.Background(), fetch.Inputs(file), fetch.Options{})
	if err != nil {
		return nil, err
	}
	var out []*pgn.Game
	for game := range g.All() {
		out = append(out, game.Clone())
	}
	return out, g.Err()
}

// peers are the games of all other files.
func (c *career) peers(careers []*career) *profile.Peers {
	all := profile.NewPeers(func(yield func(*pgn.Game) bool) {
		for _, o := range careers {
			if o == c {
				continue
			}
			for _, g := range o.games {
				if !yield(g) {
					return
				}
			}
		}
	}, c.profile, c.who.Match)
	return all.Of(c.like)
}
