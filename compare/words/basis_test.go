package words

import (
	"slices"
	"strings"
	"testing"

	"foreply/compare/fact"
	"foreply/fetch/pgn"
)

// Every number of the fact differs, so that none can stand for another.
func TestBasis(t *testing.T) {
	both := fact.Basis{
		Games: 244, Slow: 34, Fast: 210, Last: pgn.ParseDate("2026-11-03"), LastSlow: pgn.ParseDate("2026-11-02"), LastFast: pgn.ParseDate("2026-10-30"),
		Class: "classical", Less: 210,
	}
	for name, c := range map[string]struct {
		change func(*fact.Basis)
		want   string
	}{
		"both speeds":       {func(*fact.Basis) {}, "based on 34 slow games, last 2 Nov 2026; 210 fast ones count less, last 30 Oct 2026"},
		"for a blitz game":  {func(b *fact.Basis) { b.Class, b.Less = "blitz", 150 }, "based on 34 slow games, last 2 Nov 2026; 210 fast ones, last 30 Oct 2026; 150 of another speed than yours count less"},
		"for any game":      {func(b *fact.Basis) { b.Class, b.Less = "", 0 }, "based on 34 slow games, last 2 Nov 2026; 210 fast ones, last 30 Oct 2026"},
		"slow games alone":  {func(b *fact.Basis) { b.Games, b.Fast, b.Less = 34, 0, 0 }, "based on 34 games, last 3 Nov 2026"},
		"old":               {func(b *fact.Basis) { b.Slow, b.Less, b.Age = 0, 0, 15 }, "based on 244 games, last 3 Nov 2026; the newest is 15 years old"},
		"undated":           {func(b *fact.Basis) { b.Last, b.LastSlow, b.LastFast = pgn.Date{}, pgn.Date{}, pgn.Date{} }, "based on 34 slow games; 210 fast ones count less"},
		"by the event":      {func(b *fact.Basis) { b.Less = 200 }, "based on 34 slow games, last 2 Nov 2026; 210 fast ones, last 30 Oct 2026; 200 of another speed than yours count less"},
		"some not known":    {func(b *fact.Basis) { b.Games, b.NoSpeed = 256, 12 }, "based on 34 slow games, last 2 Nov 2026; 210 fast ones count less, last 30 Oct 2026; 12 of unknown speed"},
		"none known":        {func(b *fact.Basis) { b.Slow, b.Fast, b.Less, b.NoSpeed = 0, 0, 0, 244 }, "based on 244 games of unknown speed, last 3 Nov 2026"},
		"fast or not known": {func(b *fact.Basis) { b.Slow, b.Less, b.NoSpeed = 0, 0, 34 }, "based on 244 games, last 3 Nov 2026; 210 of them fast; 34 of unknown speed"},
		"slow or not known": {func(b *fact.Basis) { b.Fast, b.Less, b.NoSpeed = 0, 0, 210 }, "based on 244 games, last 3 Nov 2026; 34 of them slow; 210 of unknown speed"},
		"nothing":           {func(b *fact.Basis) { *b = fact.Basis{Class: "blitz"} }, "no games of theirs found"},
		"met once":          {func(b *fact.Basis) { b.Slow, b.Less, b.Meetings = 0, 0, []fact.GameRow{{Score: "0"}}; b.Met.Losses = 1 }, "based on 244 games, last 3 Nov 2026; you met once, your score 1 of 1"},
		"met several times": {func(b *fact.Basis) {
			b.Slow, b.Less, b.Meetings = 0, 0, []fact.GameRow{{Score: "1"}, {Score: "½"}, {Score: "*"}}
			b.Met = fact.Score{Wins: 1, Draws: 1, Unknown: 1}
		}, "based on 244 games, last 3 Nov 2026; you met 3 times, your score ½ of 2"},
		"with peers":  {func(b *fact.Basis) { b.Slow, b.Less, b.Peers = 0, 0, &fact.PeersUsed{Games: 11204, Before: 9870} }, "based on 244 games, last 3 Nov 2026; beside them 11,204 games of peers of any rating, 9,870 dated before the game"},
		"peers alone": {func(b *fact.Basis) { *b = fact.Basis{Peers: &fact.PeersUsed{Games: 1, Before: 1}} }, "no games of theirs found: this is what players like them play, from 1 game of peers of any rating"},
	} {
		b := both
		c.change(&b)
		if got := Basis(&b).String(); got != c.want {
			t.Errorf("%s: %q, want %q", name, got, c.want)
		}
	}
}

// What is to be read with the page, each note for its own reason.
func TestFootnotes(t *testing.T) {
	r := fact.Report{
		Opponent: fact.Opponent{Unsure: []string{"river_knight77", "quietrook"}},
		Basis: fact.Basis{Warnings: 3, TwoPeople: 1, Maybe: []fact.Maybe{{Name: "Alder, M.", Games: 12}, {Name: "Alder", Games: 1}, {Name: "Aldre, Mina", Games: 2}, {Name: "A", Games: 3}, {Name: "B", Games: 4}}, Unread: []fact.Unread{{File: "a.pgn"}, {File: "b.pgn", Partly: true}},
			Peers: &fact.PeersUsed{Undated: 4, Own: 5, Twice: 6, Unfit: 7}},
		Sides:  []fact.Side{{MyColor: "white", Book: fact.BookFacts{Unread: 1, File: "w.pgn", FileLine: 12}}, {MyColor: "black", PeersOnly: true}},
		Faults: []string{"1.e4 e6 2.e9"},
	}
	want := []string{
		"the forecast assumes that they did not prepare for you",
		"not certain to be theirs: river_knight77, quietrook",
		"these may be the games of two people: see what is printed when the sheet is made",
		"not counted, but maybe theirs: Alder, M. (12 games), Alder (1 game), Aldre, Mina (2 games) and 2 more",
		"3 problems met while reading the games",
		"of the peers' games not used: 4 without a date, 5 of the opponent's own, 6 found before, 7 set up, with null moves or under six half-moves",
		"a move of your repertoire can't be played: its line is missing here (w.pgn:12)",
		"no game of theirs for your game with black found: its shares are those of players like them",
		"please report this: our rules and the library's differ: 1.e4 e6 2.e9",
		"not read: a.pgn", "not read to its end: b.pgn",
	}
	if got := Strings(Footnotes(&r)); !slices.Equal(got, want) {
		t.Errorf("got\n%s\nwant\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
	if got := Strings(Footnotes(&fact.Report{})); !slices.Equal(got, want[:1]) {
		t.Errorf("of nothing: %q", got)
	}
}

// The page's head says how old the newest game is as the terminal does.
func TestOldOnThePage(t *testing.T) {
	if got := RestsOnLine(&fact.Basis{Games: 9, NoSpeed: 0, Age: 15}, nil).String(); got != "Based on 9 games; the newest is 15 years old" {
		t.Errorf("%q", got)
	}
}
