package main

import (
	"errors"
	"fmt"
	"reflect"
	"strings"
	"testing"

	"foreply/fetch"
	"foreply/fetch/pgn"
	"foreply/profile"
	"foreply/profile/peerbook"
)

func TestRangeOfRatings(t *testing.T) {
	for text, want := range map[string][2]int{
		"1500-2000": {1500, 2000}, "1500-": {1500, 0}, "-2000": {0, 2000}, " 1500 - 1500 ": {1500, 1500}, "1-3999": {1, 3999},
	} {
		if lo, hi, ok := ratingRange(text); lo != want[0] || hi != want[1] || !ok {
			t.Errorf("%q: %d to %d, %v", text, lo, hi, ok)
		}
	}
	for _, text := range []string{"", "-", "1500", "2000-1500", "0-2000", "1500-4000", "x-2000", "1500-x", "1500-2000-2500"} {
		if _, _, ok := ratingRange(text); ok {
			t.Errorf("%q is a range", text)
		}
	}
}

// The flags of 'peers', each in its place; what is out of range is refused with the range.
func TestOptionsOfABook(t *testing.T) {
	usual := peersFlags{out: "books/x.peers", plies: 24, least: 1, memory: 256}
	f := usual
	f.ratings, f.since, f.classes, f.plies, f.least, f.memory = "1500-2000", "2024-01-31", []string{"rapid", "unknown"}, 12, 2, 16
	got, err := f.options()
	want := peerbook.Options{Plies: 12, Least: 2, Memory: 16 << 20, Folder: "books"}
	filter := profile.PeerFilter{MinRating: 1500, MaxRating: 2000, Classes: []profile.Class{profile.Rapid, profile.UnknownClass}, Since: pgn.ParseDate("2024-01-31").Span().First}
	if err != nil || !reflect.DeepEqual(got.Options, want) || !reflect.DeepEqual(got.Filter, filter) || got.Fold("Ä") != "a" {
		t.Errorf("%+v, %v", got, err)
	}
	for want, change := range map[string]func(*peersFlags){
		"":  func(f *peersFlags) {},
		" ": func(f *peersFlags) { f.plies, f.least, f.memory = 1, 1, 16 },
		"error: --plies: 1 to 40 is wanted, not 0\n":                     func(f *peersFlags) { f.plies = 0 },
		"error: --plies: 1 to 40 is wanted, not 41\n":                    func(f *peersFlags) { f.plies = 41 },
		"error: --least: 1 or more is wanted, not 0\n":                   func(f *peersFlags) { f.least = 0 },
		"error: --memory: 16 MB or more is wanted, not 15\n":             func(f *peersFlags) { f.memory = 15 },
		"error: --ratings: a range is wanted, not \"x\"\nhint: as 1500-": func(f *peersFlags) { f.ratings = "x" },
		"error: --class: there is no class \"fast\"\nhint: bullet, ":     func(f *peersFlags) { f.classes = []string{"blitz", "fast"} },
		"error: --since: a day is wanted, not \"2024\"\nhint: as 2024-":  func(f *peersFlags) { f.since = "2024" },
	} {
		f := usual
		change(&f)
		_, err := f.options()
		if (err != nil) != (strings.TrimSpace(want) != "") || err != nil && !strings.HasPrefix(told(err), want) {
			t.Errorf("%v, want %q", err, want)
		}
	}
}

// What was made is told with its size and games, and what is not in it by reason.
func TestBookIsTold(t *testing.T) {
	all := peerbook.Tally{Twice: 1200, Undated: 3, Unfit: 5, Filtered: 7}
	for want, about := range map[string]*peerbook.About{
		"wrote x.peers, 1 kB: 0 games\n":   {Size: 3},
		"wrote x.peers, 1000 kB: 1 game\n": {Size: 999_999, Games: 1},
		"wrote x.peers, 1.0 MB: 2 games\n": {Size: 1_000_000, Games: 2},
		"wrote x.peers, 2 kB: 1,234 games\nnot in it: 1,200 found before, 3 without a date, 5 set up, with null moves or under six half-moves, 7 not asked for\n": {Size: 1_600, Games: 1234, Tally: all},
		"wrote x.peers, 2 kB: 12 games\nnot in it: 5 set up, with null moves or under six half-moves\n":                                                           {Size: 1_600, Games: 12, Tally: peerbook.Tally{Unfit: 5}},
	} {
		var out strings.Builder
		if err := (&app{stdout: &out}).tellMade("x.peers", about); err != nil || out.String() != want {
			t.Errorf("%q, %v, want %q", out.String(), err, want)
		}
	}
}

// Games are counted by speed, and both players of each by rating.
func TestPlayersOfABook(t *testing.T) {
	days := func(games ...int) (list []peerbook.DayGames) {
		for _, n := range games {
			list = append(list, peerbook.DayGames{Games: n})
		}
		return list
	}
	var bands [4]uint8 // unrated, the first, one between, the last
	for band := range uint8(32) {
		switch lo, hi := peerbook.BandRange(band); {
		case lo == 1:
			bands[1] = band
		case lo == 1800:
			bands[2] = band
		case hi > 4000 && bands[3] == 0:
			bands[3] = band
		}
	}
	lowest, highest := bandWords(bands[1]), bandWords(bands[3])
	if !strings.HasPrefix(lowest, "under ") || !strings.HasSuffix(highest, " and up") || bandWords(bands[2]) != "1800-1899" {
		t.Errorf("%s, %s, %s", lowest, bandWords(bands[2]), highest)
	}
	var out strings.Builder
	tellPlayers(&out, []peerbook.Row{
		{Class: uint8(profile.Classical), Bands: [2]uint8{bands[2], bands[2]}, Days: days(1000, 234)},
		{Class: uint8(profile.Classical), Bands: [2]uint8{bands[2], bands[3]}, Days: days(10)},
		{Class: uint8(profile.Blitz), Bands: [2]uint8{bands[0], bands[1]}, Days: days(5, 2)},
	})
	row := func(what, n string) string { return fmt.Sprintf("%12s %12s\n", what, n) }
	blitz, classical := row("blitz", "7"), row("classical", "1,244")
	if profile.Classical < profile.Blitz {
		blitz, classical = classical, blitz
	}
	want := "\ngames by speed:\n" + blitz + classical + "\ntheir players by rating, two a game:\n" +
		row("unrated", "7") + row(lowest, "7") + row("1800-1899", "2,478") + row(highest, "10")
	if out.String() != want {
		t.Errorf("%s\nwant%s", out.String(), want)
	}
	out.Reset()
	if tellPlayers(&out, nil); out.Len() > 0 {
		t.Errorf("of no games: %q", out.String())
	}
}

// A book that can't be used: which, why and what to type.
func TestBadBooks(t *testing.T) {
	for err, want := range map[error]string{
		peerbook.ErrDamaged:   "error: reading b.peers: the file is damaged\nhint: copy it again, or make it anew: 'foreply peers GAMES -o b.peers'\n",
		peerbook.ErrCut:       "error: reading b.peers: the book is cut short\nhint: copy it again, or make it anew: 'foreply peers GAMES -o b.peers'\n",
		peerbook.ErrVersion:   "error: reading b.peers: a book of peers of another version\nhint: make it anew with this foreply: 'foreply peers GAMES -o b.peers'\n",
		peerbook.ErrForeign:   "error: reading b.peers: no book of peers\nhint: 'foreply peers GAMES -o club.peers' makes one\n",
		errors.New("no room"): "error: reading b.peers: no room\n",
	} {
		if got := told(badBook("b.peers", err)); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}

// The peers of an opponent: without the games that bear any name or handle of theirs, and near
// the rating and the speed of the game to come; what is left out is counted by reason.
func TestPeersOfAnOpponent(t *testing.T) {
	t.Chdir(t.TempDir())
	game := func(white, date, moves string) string {
		return fmt.Sprintf("[White %q]\n[Black \"x\"]\n[Date %q]\n[WhiteElo \"1850\"]\n[BlackElo \"1850\"]\n[TimeControl \"5400+30\"]\n\n%s *\n\n", white, date, moves)
	}
	const moves = "1. e4 e5 2. Nf3 Nc6 3. Bb5 a6"
	text := game("ash7", "2026.01.02", moves) + game("Ash, Bo", "2026.01.03", "1. d4 d5 2. c4 e6 3. Nc3 Nf6")
	for range 3 {
		text += game("x", "????.??.??", moves+" 4. Ba4") + game("y", "2026.02.02", "1. e4")
	}
	enough := strings.Repeat(game("z", "2026.01.09", "1. c4 e5 2. g3 g6 3. Bg2 Bg7"), profile.EnoughPeers)
	write(t, "p.pgn", text+enough)
	own := &profile.Profile{Games: []profile.Game{{Header: pgn.Header{Speed: profile.Classical}, Elo: 1870, Span: pgn.ParseDate("2026.03.04").Span()}}}
	var out strings.Builder
	a := speaking(&out)
	a.ctx = t.Context()
	who := &task{cfg: &settings{}, class: profile.Classical, who: fetch.Who{Names: []string{"Ash, Bo"}}, inputs: []fetch.Input{{Pattern: "a.pgn", Handles: []string{"ash7"}}}, peers: fetch.Inputs("p.pgn")}
	peers, when, err := a.readPeers(who, own)
	if err != nil || peers.Games != profile.EnoughPeers || peers.Own != 2 || peers.Undated != 3 || peers.Unfit != 3 {
		t.Fatalf("%+v, %v", peers, err)
	}
	if peers.Like.Lo > 1870 || peers.Like.Hi < 1870 || peers.Like.Speed != profile.Classical.Group() || when.First.Date().String() != "2026-03-05" {
		t.Errorf("like %+v, on %v", peers.Like, when)
	}
	write(t, "p.pgn", text)
	out.Reset()
	if _, err := a.openPeers(who, own); err != nil || out.String() != "note: no game in p.pgn serves as one of peers: 3 without a date, 2 of the opponent's own, 3 unfit\n" {
		t.Errorf("%q, %v", out.String(), err)
	}
}

// A test over all games begins with the rating the player came with, not with their newest.
func TestFirstRating(t *testing.T) {
	games := []profile.Game{{}, {Elo: 1500}, {Elo: 1900}}
	if got := firstRating(&profile.Profile{Games: games}); got != 1500 {
		t.Errorf("%d", got)
	}
	if got := firstRating(&profile.Profile{Games: games[:1]}); got != 0 {
		t.Errorf("unrated: %d", got)
	}
}
