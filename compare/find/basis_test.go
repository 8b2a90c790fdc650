package find

import (
	"fmt"
	"reflect"
	"slices"
	"strings"
	"testing"

	"foreply/compare/fact"
	"foreply/fetch/pgn"
	"foreply/profile"
	"foreply/profile/board"
)

// The clock tells the speed, else words of the event in the languages of players; what
// neither tells is counted as such. Only what the clock tells counts less.
func TestSpeedsAreCounted(t *testing.T) {
	p := gamesOf(t,
		"2026.01.01 1-0 5400+30 2000: e4 e5", "2026.01.02 1-0 300 2000: e4 e5", "2026.01.03 1-0 ? 2000 City Rapid: e4 e5",
		"2026.01.04 1-0 - 2000 Blitzturnier im Park: e4 e5", "2026.01.05 1-0 - 2000 Torneo relámpago: e4 e5",
		"2026.01.06 1-0 - 2000 Turniej szybkich szachów: e4 e5", "2026.01.07 1-0 - 2000 City Open: e4 e5", "2026.01.08 1-0 - 2000: e4 e5",
	)
	b := Basis(fact.Basis{}, p, nil, profile.Classical, today)
	if b.Games != 8 || b.Slow != 1 || b.Fast != 5 || b.NoSpeed != 2 || b.Less != 1 {
		t.Errorf("%+v", b)
	}
	if b.LastSlow.Day != 1 || b.LastFast.Day != 6 || b.LastNoSpeed.Day != 8 || b.Last.Day != 8 {
		t.Errorf("last %v, %v, %v, %v", b.LastSlow, b.LastFast, b.LastNoSpeed, b.Last)
	}
	var s fact.Side
	Count(&s, Games{All: p.Games, Tree: p.Tree(board.Black)})
	if s.Games != 8 || s.Slow != 1 || s.Fast != 5 || s.NoSpeed != 2 {
		t.Errorf("%+v", s)
	}
	var classes []string
	for i := range p.Games {
		classes = append(classes, Row(&p.Games[i]).Class)
	}
	if want := []string{"classical", "blitz", "rapid", "blitz", "blitz", "rapid", "unknown", "unknown"}; !slices.Equal(classes, want) {
		t.Errorf("%q", classes)
	}
}

// Games of events that say their speed are held apart from the others, and of those of
// unknown speed none is called slow: where all are of such, nothing is said of speed.
func TestChangesSayTheSpeedThatIsKnown(t *testing.T) {
	for name, c := range map[string]struct {
		clock, event string // of the games of which the change is
		others       string // event of other games, in which nothing changes
		want         string
	}{
		"a clock":                         {"5400+30", "", "", "slow"},
		"an event":                        {"-", " Club Blitz", "", "blitz"},
		"nothing known":                   {"-", "", "", ""},
		"nothing known, and blitz beside": {"-", "", " Club Blitz", "unknown"},
		"a clock, and blitz beside":       {"5400+30", "", " Club Blitz", "slow"},
	} {
		rows := switchRows(9, c.clock, "e4 e5 Nf3 Nc6", "e4 c5 Nf3 d6")
		for i := range rows {
			rows[i] = rows[i][:len("2026.09.01 1-0 ")+len(c.clock)+len(" 2000")] + c.event + rows[i][len("2026.09.01 1-0 ")+len(c.clock)+len(" 2000"):]
		}
		if c.others != "" {
			rows = slices.Concat(rows, repeated(40, "1-0 - 2000"+c.others+": e4 e5 Nf3 Nc6"))
		}
		got := gamesOf(t, rows...).Changes(board.Black, today)
		if len(got) != 1 || got[0].Speed != c.want || got[0].Of != 8 || got[0].PastOf != 20 {
			t.Errorf("%s: %+v", name, got)
		}
	}
}

// A year is over on its day; under five nothing is said, and of a month or a year its
// nearest day counts.
func TestYearsBetween(t *testing.T) {
	for _, c := range []struct {
		from, to string
		want     int
	}{
		{"2021.11.25", "2026.11.25", 5}, {"2021.11.26", "2026.11.25", 0}, {"2021.10.30", "2026.11.25", 5}, {"2021.12.01", "2026.11.25", 0}, {"2010.12.01", "2026.11.25", 15},
		{"2021.??.??", "2026.11.25", 0}, {"2021.??.??", "2026.12.31", 5}, {"2021.11.25", "????.??.??", 0}, {"????.??.??", "2026.11.25", 0},
	} {
		if got := yearsBetween(pgn.ParseDate(c.from), pgn.ParseDate(c.to)); got != c.want {
			t.Errorf("%s to %s: %d, want %d", c.from, c.to, got, c.want)
		}
	}
}

// What of the peers was used, whole.
func TestPeersUsed(t *testing.T) {
	text := ""
	for i, moves := range []string{"e4 e5 Nf3 Nc6 Bb5 a6", "e4 e5 Nf3 Nc6 Bc4 a6", "e4 e5 Nf3 Nc6 Bc4 a6", "e4 e5", "d4 d5 c4 c6 Nc3 a6", "d4 d5 c4 e6 Nc3 a6"} {
		date := []string{"2025.01.03", "2026.11.25", "2025.01.04", "2025.01.04", "????.??.??", "2025.02.05"}[i]
		text += fmt.Sprintf("[White \"Oak\"]\n[Black \"Ash\"]\n[Date %q]\n[Result \"1-0\"]\n\n%s 1-0\n\n", date, moves)
	}
	peers := profile.NewPeers(pgn.NewReader(strings.NewReader(text), pgn.Options{}).All(), gamesOf(t, "2026.01.05 1-0 300: d4 d5 c4 e6 Nc3 a6"), nil)
	peers.Like, peers.Undated, peers.Own, peers.Twice, peers.Unfit, peers.Filtered = profile.Like{Lo: 1600, Hi: 1900, Speed: "slow"}, 5, 6, 7, 8, 9
	u := PeersUsed(peers, today)
	want := fact.PeersUsed{Games: 4, Before: 3, Undated: 5, Own: 6, Twice: 7, Unfit: 8, MinRating: 1600, MaxRating: 1900, Speed: "slow", First: pgn.ParseDate("2025.01.03"), Last: pgn.ParseDate("2026.11.25")}
	if !reflect.DeepEqual(*u, want) {
		t.Errorf("got\n  %+v\nwant\n  %+v", *u, want)
	}
	b := Basis(fact.Basis{}, gamesOf(t, "2021.01.05 1-0 300: d4", "????.??.?? 1-0 300: d4"), peers, profile.UnknownClass, today)
	if b.Peers == nil || b.Age != 5 || b.Games != 2 || b.Fast != 2 || b.LastFast.Year != 2021 || b.Class != "" || b.Less != 0 {
		t.Errorf("%+v", b)
	}
	if PeersUsed(nil, today) != nil {
		t.Error("no peers were used")
	}
}
