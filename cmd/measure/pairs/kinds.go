package main

import (
	"fmt"
	"io"
	"math/rand/v2"

	"foreply/fetch"
	"foreply/fetch/pgn"
)

// kind is one kind of difference between two collections.
type kind struct {
	name   string
	change func(*copied, *rand.Rand)
	twins  int  // so many games are cut to short draws and played twice
	oneDay bool // on one day, without rounds
}

func kinds() []kind {
	all := []kind{
		{name: "none", change: func(*copied, *rand.Rand) {}},
		{name: "the notation of moves", change: (*copied).notation},
		{name: "a slip in the moves", change: (*copied).slip},
		{name: "the last 1 to 9 half-moves missing", change: func(c *copied, r *rand.Rand) { c.cut(1+r.IntN(9), r) }},
		{name: "the last 10 to 29 missing", change: func(c *copied, r *rand.Rand) { c.cut(10+r.IntN(20), r) }},
		{name: "round 2 as 1.2", change: func(c *copied, _ *rand.Rand) { c.round = before("1.", c.round) }},
		{name: "round 2 as 2.5", change: func(c *copied, r *rand.Rand) { c.round = behind(c.round, fmt.Sprint(".", 1+r.IntN(8))) }},
		{name: "no round", change: func(c *copied, _ *rand.Rand) { c.round = "?" }},
		{name: "a day apart", change: func(c *copied, r *rand.Rand) { c.shift(1 - 2*r.IntN(2)) }},
		{name: "the day of the event", change: func(c *copied, r *rand.Rand) { c.shift(-r.IntN(9)) }},
		{name: "the year alone", change: func(c *copied, _ *rand.Rand) { c.yearAlone() }},
		{name: "the year alone, no round", change: func(c *copied, _ *rand.Rand) { c.yearAlone(); c.round = "?" }},
		{name: "the year alone, no round, a slip", change: func(c *copied, r *rand.Rand) { c.yearAlone(); c.round = "?"; c.slip(r) }},
		{name: "another result", change: func(c *copied, r *rand.Rand) { c.result = pick(r, "1-0", "0-1", "1/2-1/2", "*") }},
	}
	for i, way := range spellings {
		all = append(all, kind{name: "the rival " + way.name, change: func(c *copied, r *rand.Rand) { c.rival = spelled(c.rival, i, r) }})
	}
	return append(all,
		kind{name: "60 short draws a second time in the year", change: (*copied).random, twins: 60},
		kind{name: "60 short draws a second time on the day, no rounds", change: func(*copied, *rand.Rand) {}, twins: 60, oneDay: true},
		kind{name: "all of them at random", change: (*copied).random})
}

func before(prefix, round string) string {
	if round == "" {
		return "?"
	}
	return prefix + round
}

func behind(round, suffix string) string {
	if round == "" {
		return "?"
	}
	return round + suffix
}

// shift moves the date, if the day is known.
func (c *copied) shift(days int) {
	if d := c.game.Header().Date; d.Full() {
		c.date = (d.Span().First + pgn.Day(days)).Date().Tag()
	}
}

func (c *copied) yearAlone() { c.date = pgn.Date{Year: c.game.Header().Date.Year}.Tag() }

// table makes a trial of each kind.
func table(games []*pgn.Game, who fetch.Who, verbose bool, out io.Writer) error {
	fmt.Fprintf(out, "| difference | pairs | found | missed | of them named | wrong |\n|---|---|---|---|---|---|\n")
	drawn := make([][2]bool, len(games))
	for i := range drawn {
		drawn[i] = [2]bool{true, true}
	}
	for _, k := range kinds() {
		all, drawn := twins(k.twins, k.oneDay, games, drawn, 1)
		t, err := compare(all, drawn, who, 1, k.change)
		if err != nil {
			return err
		}
		fmt.Fprintf(out, "| %s | %d | %d | %d | %d | %d |\n", k.name, t.found+len(t.missed), t.found, len(t.missed), t.named, t.wrong)
		if verbose {
			list(out, t)
		}
	}
	return nil
}
