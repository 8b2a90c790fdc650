package profile

import (
	"bytes"
	"context"
	"fmt"
	"iter"
	"slices"
	"strings"
	"testing"

	"foreply/fetch/pgn"
	"foreply/profile/board"
	"foreply/profile/peerbook"
)

// pairedGames are games given as 'White/rating Black/rating date result timecontrol: moves',
// with _ for a blank in names.
func pairedGames(rows ...string) iter.Seq[*pgn.Game] {
	return func(yield func(*pgn.Game) bool) {
		for i, row := range rows {
			head, moves, _ := strings.Cut(row, ":")
			f := strings.Fields(head)
			white, whiteElo, _ := strings.Cut(f[0], "/")
			black, blackElo, _ := strings.Cut(f[1], "/")
			g := &pgn.Game{File: "peers.pgn", Index: i + 1}
			g.SetTags(pgn.Tags{
				{Name: "White", Value: strings.ReplaceAll(white, "_", " ")}, {Name: "WhiteElo", Value: whiteElo},
				{Name: "Black", Value: strings.ReplaceAll(black, "_", " ")}, {Name: "BlackElo", Value: blackElo},
				{Name: "Date", Value: f[2]}, {Name: "Result", Value: f[3]}, {Name: "TimeControl", Value: f[4]},
			})
			for san := range strings.FieldsSeq(moves) {
				g.Moves = append(g.Moves, pgn.Move{SAN: []byte(san)})
			}
			if !yield(g) {
				return
			}
		}
	}
}

// theirPeers are five games of peers, of two speeds and three ratings, and three of the
// opponent's own: one known by its moves, two by the name.
func theirPeers(t *testing.T) *Peers {
	t.Helper()
	intake := TakePeers(PeerOptions{}, 1)
	defer intake.Close()
	take := intake.Worker(nil)
	for g := range pairedGames(
		"Ash/2050 Birch/1550 2020.01.01 1-0 5400: "+longAndShort,
		"Cedar/2060 Elm/1540 2020.01.03 0-1 5400: e4 e5 Nf3 Nc6 Bb5 a6",
		"Ash/2050 Elm/1550 2020.01.05 1/2-1/2 300: d4 d5 c4 e6 Nc3 Nf6",
		"Elm/1550 Ash/2050 2020.01.07 1-0 300: d4 Nf6 c4 e6 Nc3 Bb4",
		"Fir/ Gum/ 2020.01.09 * -: c4 e5 Nc3 Nf6 g3 d5",
		"Ash/2050 Birch/1550 2020.01.01 1-0 5400: e4 c5 Nf3 d6 d4 cxd4", // theirs by the moves
		"Hale,_Mina/2050 Birch/1550 2020.01.11 0-1 300: d4 d5 c4 c6 Nc3 Nf6",
		"Birch/1550 Mina_Hale/2050 2020.01.03 0-1 300: d4 d5 c4 dxc4 e4 e5",
		"Ash/2050 Birch/1550 ????.??.?? 1-0 5400: d4 d5 Nf3 Nf6 c4 e6",
		"Ash/2050 Birch/1550 2020.01.01 1-0 5400: d4 d5 Nf3 Nf6 c4",
		"Ash/2050 Elm/1550 2020.01.04 0-1 300: "+longAndShort, // again: it counts as on the first day
	) {
		take(g)
	}
	var out memoryBook
	if _, err := intake.Write(context.Background(), &out); err != nil {
		t.Fatal(err)
	}
	book, err := peerbook.Open(out, int64(len(out)))
	if err != nil {
		t.Fatal(err)
	}
	peers, err := OpenPeers(book, builtFrom("2020.01.01 1-0 5400: e4 c5 Nf3 d6 d4 cxd4"), Own{Names: []string{"Mina Hale"}, Fold: strings.ToLower})
	if err != nil {
		t.Fatal(err)
	}
	return peers
}

// The account of peers holds whoever is chosen among them; what is chosen by rating and
// speed decides which games, days, habits and moves count.
func TestPeersOfAChoice(t *testing.T) {
	all := theirPeers(t)
	start := board.Start()
	for _, c := range []struct {
		quirk  string
		like   Like
		games  int
		last   string // day of the last of them
		before string // games known on the 1st, 2nd, 6th, 10th and 12th of January
		record string // White's first moves: games +wins =draws -losses ?unknown
		short  string // Black's castling long: in so many of so many
	}{
		{"everybody", Like{}, 5, "2020-01-09", "0 1 3 5 5", "d2d4 3 +2 =1 -0 ?0, c2c4 1 +0 =0 -0 ?1, e2e4 1 +0 =0 -1 ?0", "1 of 2"},
		{"slow, or not known", Like{Speed: "slow"}, 3, "2020-01-09", "0 1 2 3 3", "c2c4 1 +0 =0 -0 ?1, d2d4 1 +1 =0 -0 ?0, e2e4 1 +0 =0 -1 ?0", "1 of 2"},
		{"blitz", Like{Speed: "blitz"}, 2, "2020-01-07", "0 0 1 2 2", "d2d4 2 +1 =1 -0 ?0", "0 of 0"},
		{"rapid", Like{Speed: "rapid"}, 0, "2020-01-09", "0 0 0 0 0", "", "0 of 0"},
		{"the strong", Like{Lo: 2000, Hi: 2099}, 4, "2020-01-07", "0 1 3 4 4", "d2d4 2 +1 =1 -0 ?0, e2e4 1 +0 =0 -1 ?0", "1 of 1"},
		{"the weak in blitz", Like{Lo: 1500, Hi: 1599, Speed: "blitz"}, 2, "2020-01-07", "0 0 1 2 2", "d2d4 1 +1 =0 -0 ?0", "0 of 0"},
	} {
		p := all.Of(c.like)
		if p.Own != 3 || p.Undated != 1 || p.Unfit != 1 || p.Twice != 1 || p.Filtered != 0 || p.Plies != all.Plies || p.Plies == 0 || p.Span.First.String() != "2020-01-01" {
			t.Errorf("%s: the account: %+v", c.quirk, p)
		}
		if p.Games != c.games || p.Span.Last.String() != c.last || p.Like != c.like {
			t.Errorf("%s: %d games to %s of %+v, want %d to %s", c.quirk, p.Games, p.Span.Last, p.Like, c.games, c.last)
		}
		var before []string
		for _, day := range []string{"2020.01.01", "2020.01.02", "2020.01.06", "2020.01.10", "2020.01.12"} {
			before = append(before, fmt.Sprint(p.Before(on(day))))
		}
		if got := strings.Join(before, " "); got != c.before || p.Before(Span{}) != c.games {
			t.Errorf("%s: known %s, want %s", c.quirk, got, c.before)
		}
		for _, when := range []Span{{}, on("2020.01.12")} {
			if got := recorded(p.Record(start.Key(), board.White, when)); got != c.record {
				t.Errorf("%s: %s, want %s", c.quirk, got, c.record)
			}
		}
		if h := p.Habits[LongCastling]; fmt.Sprintf("%d of %d", h.K, h.N) != c.short {
			t.Errorf("%s: castled long in %d of %d, want %s", c.quirk, h.K, h.N, c.short)
		}
	}
	if got := recorded(all.Record(start.Key(), board.White, on("2020.01.07"))); got != "d2d4 2 +1 =1 -0 ?0, e2e4 1 +0 =0 -1 ?0" {
		t.Errorf("before the 7th: %s", got)
	}
	if (*Peers)(nil).Record(start.Key(), board.White, Span{}) != nil || (*Peers)(nil).Err() != nil || all.Err() != nil {
		t.Error("no peers have a record, or all is not well")
	}
}

func recorded(moves []Played) string {
	var out []string
	for _, m := range moves {
		out = append(out, fmt.Sprintf("%s %d +%d =%d -%d ?%d", m.Move.UCI(), m.Games, m.Wins, m.Draws, m.Losses, m.Unknown))
	}
	return strings.Join(out, ", ")
}

// One player's repetitions weigh by their root, in each choice and on each day alike.
func TestWeightOfPeers(t *testing.T) {
	peers := NewPeers(pairedGames(
		"Ash/2050 Birch/1550 2020.01.01 1-0 5400: e4 e5 Nf3 Nc6 Bb5 a6", "Ash/2050 Birch/1550 2020.01.02 1-0 300: e4 e5 Nf3 Nc6 Bb5 Nf6",
		"Ash/2050 Birch/1550 2020.01.03 1-0 300: e4 e5 Nf3 Nc6 Bc4 Nf6", "Elm/1550 Ash/2050 2020.01.04 1-0 300: e4 e5 Nf3 Nc6 Bc4 Bc5",
		"Elm/1550 Ash/2050 2020.01.05 1-0 300: d4 d5 Nf3 Nc6 Bf4 Bf5",
	), builtFrom(), nil)
	start := board.Start()
	for _, c := range []struct {
		like Like
		day  string
		want string
	}{
		{Like{}, "2020.01.01", ""}, {Like{}, "2020.01.02", "e2e4 1.00"}, {Like{}, "2020.01.04", "e2e4 1.73"}, {Like{}, "2020.01.05", "e2e4 2.73"},
		{Like{}, "2020.01.06", "d2d4 1.00 e2e4 2.73"}, {Like{Lo: 1500, Hi: 1599}, "2020.01.06", "d2d4 1.00 e2e4 1.00"},
		{Like{Speed: "slow"}, "2020.01.06", "e2e4 1.00"}, {Like{Speed: "slow"}, "2020.01.02", "e2e4 1.00"}, {Like{Speed: "slow"}, "2020.01.01", ""},
	} {
		var got []string
		peers.Of(c.like).count(start.Key(), on(c.day).First, func(m board.Move, x float64) { got = append(got, fmt.Sprintf("%s %.2f", m.UCI(), x)) })
		slices.Sort(got)
		if strings.Join(got, " ") != c.want {
			t.Errorf("%+v on %s: %s, want %s", c.like, c.day, got, c.want)
		}
	}
}

// A book says in words which games it let in, and counts those it didn't.
func TestFilterOfABook(t *testing.T) {
	for _, c := range []struct {
		filter PeerFilter
		words  string
		games  int // of the five
	}{
		{PeerFilter{}, "", 5},
		{PeerFilter{MinRating: 1600}, "both players rated 1600 or more", 4}, // of a rating that is known
		{PeerFilter{MaxRating: 1899}, "both players rated 1899 or less", 2},
		{PeerFilter{MinRating: 1600, MaxRating: 1899}, "both players rated 1600 to 1899", 2},
		{PeerFilter{Classes: []Class{Blitz, Classical, Blitz}}, "blitz, classical", 4},
		{PeerFilter{Since: on("2020.02.01").First}, "since 2020-02-01", 3},
		{PeerFilter{MinRating: 1900, Classes: []Class{Rapid}, Since: on("2020.01.01").First}, "both players rated 1900 or more, rapid, since 2020-01-01", 1},
	} {
		for _, words := range []string{"", "in other words"} {
			intake := TakePeers(PeerOptions{Filter: c.filter, Words: words}, 2)
			take := intake.Worker(nil)
			for g := range pairedGames(
				"Ash/1700 Birch/1800 2020.01.01 1-0 5400: e4 e5 Nf3 Nc6 Bb5 a6", "Ash/1700 Birch/1800 2020.02.01 1-0 300: e4 e5 Nf3 Nc6 Bb5 Nf6",
				"Cedar/1900 Elm/1950 2020.02.02 1-0 900: e4 e5 Nf3 Nc6 Bc4 Nf6", "Cedar/1900 Elm/1950 2020.01.31 1-0 300: e4 e5 Nf3 Nc6 Bc4 Bc5",
				"Ash/1700 Cedar/ 2020.03.?? 1-0 5400: d4 d5 Nf3 Nc6 Bf4 Bf5",
			) {
				take(g)
			}
			var out bytes.Buffer
			about, err := intake.Write(context.Background(), &out)
			intake.Close()
			if err != nil || intake.Err() != nil {
				t.Fatal(err)
			}
			want := c.words
			if words != "" {
				want = words
			}
			if len(c.filter.Classes) == 3 && c.filter.Classes[1] != Classical {
				t.Errorf("the filter's own list is sorted: %v", c.filter.Classes)
			}
			if about.Filter != want || about.Games != c.games || about.Filtered != 5-c.games {
				t.Errorf("%+v: %q, %d games and %d others, want %q and %d", c.filter, about.Filter, about.Games, about.Filtered, want, c.games)
			}
		}
	}
}

// A game of a month may be of its first day, and is known after its last.
func TestPeersOfAMonth(t *testing.T) {
	peers := NewPeers(gamesOf("2020.03.?? 1-0 -: e4 e5 Nf3 Nc6 Bb5 a6"), builtFrom(), nil)
	if peers.Span.First.String() != "2020-03-01" || peers.Span.Last.String() != "2020-03-31" || peers.Before(on("2020.03.31")) != 0 || peers.Before(on("2020.04.01")) != 1 || peers.Before(on("2020.04.??")) != 1 {
		t.Errorf("%+v, %d before the last day", peers.Span, peers.Before(on("2020.03.31")))
	}
	day := NewPeers(gamesOf("2020.03.10 1-0 -: e4 e5 Nf3 Nc6 Bb5 a6"), builtFrom(), nil)
	if day.Before(on("2020.03.??")) != 0 || day.Before(on("2020.03.11")) != 1 {
		t.Error("a game of the month may be earlier than the 10th")
	}
}

// A player is one whichever way round the name stands, and another with another first name.
func TestPlayersOfAName(t *testing.T) {
	known := func(name, written string) bool {
		return slices.Contains(playersOf(name, strings.ToLower), playerOf(written, strings.ToLower))
	}
	for _, c := range []struct {
		name, written string
		want          bool
	}{
		{"Hale, Mina", "hale, mina", true}, {"Hale, Mina", "Mina Hale", true}, {"Mina Ann Hale", "Hale, Mina Ann", true}, {"Mina Ann Hale", "Mina Ann Hale", true},
		{"Hale, Mina", "Hale, Tom", false}, {"Hale, Mina", "Hale", false}, {"tide", "Tide", true}, {"Mina Hale", "Hale Mina", false},
	} {
		if got := known(c.name, c.written); got != c.want {
			t.Errorf("%q is written %q: %v", c.name, c.written, got)
		}
	}
}

// Names under which the opponent was recognised are told, those of either colour.
func TestNamesFoundInABook(t *testing.T) {
	intake := TakePeers(PeerOptions{}, 1)
	defer intake.Close()
	take := intake.Worker(func(g *pgn.Game) (white, black bool) { return g.Index == 2, g.Index == 3 })
	for g := range pairedGames("Ash/ Birch/ 2020.01.01 1-0 -: e4 e5 Nf3 Nc6 Bb5 a6", "Hale,_Mina/ Birch/ 2020.01.01 1-0 -: e4 e5 Nf3 Nc6 Bc4 a6", "Ash/ tide/ 2020.01.01 1-0 -: e4") {
		take(g)
	}
	want := []peerbook.Player{playerOf("Hale, Mina", strings.ToLower), playerOf("tide", strings.ToLower)}
	slices.Sort(want)
	if got := intake.Own(); !slices.Equal(got, want) {
		t.Errorf("%v, want %v", got, want)
	}
}

// With the same moves a game of peers is the opponent's own whatever its names,
// unless it was played in another year.
func TestOwnGamesByTheirMoves(t *testing.T) {
	const moves = ": e4 e5 Nf3 Nc6 Bb5 a6"
	for day, want := range map[string]int{"2026.05.01": 1, "2026.05.??": 1, "2026.??.??": 1, "2026.09.01": 1, "2025.05.01": 0, "2025.??.??": 0} {
		peers := NewPeers(gamesOf(day+" 1-0 -"+moves), builtFrom("2026.05.01 1-0 -"+moves), nil)
		if peers.Own != want || peers.Games != 1-want {
			t.Errorf("%s: %d of their own and %d others, want %d of their own", day, peers.Own, peers.Games, want)
		}
	}
	if peers := NewPeers(gamesOf("2025.05.01 1-0 -"+moves), builtFrom("????.??.?? 1-0 -"+moves), nil); peers.Own != 1 {
		t.Error("an undated game of theirs is not found among the peers")
	}
	// A short game of theirs is looked for in vain, and takes no other's date.
	if peers := NewPeers(gamesOf("2026.05.01 1-0 -"+moves), builtFrom("2020.01.01 1-0 -: d4 d5", "2026.05.01 1-0 -"+moves), nil); peers.Own != 1 {
		t.Error("behind a short game theirs is not found")
	}
}
