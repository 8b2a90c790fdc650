package compare

import (
	"encoding/json"
	"fmt"
	"iter"
	"math/rand/v2"
	"reflect"
	"slices"
	"strings"
	"testing"

	"foreply/compare/book"
	"foreply/compare/fact"
	"foreply/compare/words"
	"foreply/fetch/pgn"
	"foreply/profile"
	"foreply/profile/board"
)

// gamesBetween makes a profile of rows 'date result white black: moves', seen
// from the player called who.
func gamesBetween(who string, rows ...string) *profile.Profile {
	games := pgnGames(rows)
	return profile.Build(games, profile.Options{Them: func(g *pgn.Game) (board.Color, bool) {
		if g.Tags().Get("White") == who {
			return board.White, true
		}
		return board.Black, g.Tags().Get("Black") == who
	}})
}

func pgnGames(rows []string) iter.Seq[*pgn.Game] {
	return gamesFrom(rows, func(f []string) pgn.Tags {
		return pgn.Tags{
			{Name: "Date", Value: f[0]}, {Name: "Result", Value: f[1]}, {Name: "White", Value: f[2]}, {Name: "Black", Value: f[3]},
		}
	})
}

func called(name string) func(string) bool { return func(s string) bool { return s == name } }

// All games between the two are told: those of the opponent's files, those that
// only the user's own files have, none twice, each beside today's book for the
// colour the user had then.
func TestMeetings(t *testing.T) {
	theirs := gamesBetween("Them",
		"2025.01.01 1-0 Me Them: e4 e5 Nf3 d6", "2026.02.01 1/2-1/2 Them Me: d4 d5 c4 e6", "2026.03.01 0-1 Fir Them: c4 c5")
	own := gamesBetween("Me",
		"2025.01.01 1-0 Me Them: e4 e5 Nf3 d6", "2024.06.?? 0-1 Me Them: d4 d5", "2026.03.01 0-1 Me Fir: c4 c5")
	b := bookOf(t, board.White, "1. e4 e5 2. Nf3 Nc6 *")
	r := Make(Input{Profile: theirs, Own: own, Books: []*book.Book{b}}, Options{When: today, Me: called("Me"), Them: called("Them")})
	var got []string
	for i := range r.Basis.Meetings {
		m := &r.Basis.Meetings[i]
		got = append(got, fmt.Sprintf("%s %s yours %s, they had %s: %s %s", m.Date, m.Result, words.YourScore(m), m.Theirs, words.Movetext(m.Moves, 0), words.HowLeft(m))+m.Answer)
	}
	want := []string{
		"2026-02-01 1/2-1/2 yours ½, they had white: 1.d4 d5 2.c4 e6 ",
		"2025-01-01 1-0 yours 1, they had black: 1.e4 e5 2.Nf3 d6 they left your book with 2...d6",
		"2024-06 0-1 yours 0, they had black: 1.d4 d5 you left your book with 1.d4e4",
	}
	if !slices.Equal(got, want) {
		t.Errorf("got\n%s\nwant\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
	if got := words.Basis(&r.Basis).String(); !strings.HasSuffix(got, "you met 3 times, your score 1½ of 3") {
		t.Errorf("%q", got)
	}
}

// The user's own games: 1.e4 in all four, 2.Bc4 against 1...e5 though the book
// has 2.Nf3, and never a Sicilian.
func TestKnowOfYou(t *testing.T) {
	own := gamesOf(board.White, slices.Concat(
		repeated(3, "1-0 5400 2000 Elm: e4 e5 Bc4"), []string{"2026.02.?? 1-0 5400 2000 Elm: e4 d6"})...)
	b := bookOf(t, board.White, "1. e4 e5 (1... c5 2. c3) 2. Nf3 *")
	for _, c := range []struct {
		own  *profile.Profile
		want []string
	}{
		{own, []string{
			"you opened 1.e4 in 4 of 4 games, last Feb 2026",
			"after 1.e4 e5 you played 2.Bc4 in 3 of 3 games, last 3 Jan 2026; your book's 2.Nf3 in 0",
			"of your 3 main choices on the lines to expect you have shown 1",
			"never shown: 1.e4 e5 2.Nf3", "never shown: 1.e4 c5 2.c3",
		}},
		{gamesOf(board.Black, "2026.01.01 1-0 5400 2000 Elm: d4 d5"), []string{"no game of yours with White in the files: they can know nothing of it"}},
		{nil, []string{}},
	} {
		s := Make(Input{Profile: e4Games(), Own: c.own, Books: []*book.Book{b}}, Options{When: today}).Sides[0]
		if got := words.Strings(words.Shown(s.KnowOfYou, s.MyColor)); !slices.Equal(got, c.want) {
			t.Errorf("%q, want %q", got, c.want)
		}
	}
}

// Few games with one colour: what they do with the other one is told beside the
// list.
func TestHintsFromTheOtherColour(t *testing.T) {
	var rows []string
	for i := range 20 {
		rows = append(rows, fmt.Sprintf("2026.01.%02d 1-0 Fir Them: e4 %s", i+1, []string{"c5", "e5", "e6", "c5"}[i%4]))
	}
	rows = append(rows, "2026.02.01 1-0 Fir Them: d4 d5", "2026.02.02 0-1 Them Oak: Nf3 d5")
	p := gamesBetween("Them", rows...)
	white := bookOf(t, board.White, "1. e4 c5 2. c3 *")
	black := bookOf(t, board.Black, "1. Nf3 d5 *")
	r := Make(Input{Profile: p, Books: []*book.Book{white, black}}, Options{When: today})
	if r.Sides[0].Few || len(r.Sides[0].Hints) > 0 {
		t.Errorf("21 games are few: %+v", r.Sides[0].Hints)
	}
	want := []fact.Hint{
		{Color: "black", Line: []string{"e4"}, Moves: []fact.Played{{Move: "c5", Games: 10}, {Move: "e5", Games: 5}}, Games: 20},
		{Color: "black", Line: []string{"d4"}, Moves: []fact.Played{{Move: "d5", Games: 1}}, Games: 1},
	}
	if s := r.Sides[1]; !s.Few || len(s.FewGames) != 1 || !reflect.DeepEqual(s.Hints, want) {
		t.Errorf("%+v, %+v", s.FewGames, s.Hints)
	}
}

// No game with the colour: without peers nothing is expected, with them the
// forecast is theirs, and both are said.
func TestNoGamesOfTheColour(t *testing.T) {
	p := gamesBetween("Them", "2026.02.02 0-1 Them Oak: Nf3 d5 g3 Nf6 Bg2 e6")
	var others []string
	for i := range 30 {
		others = append(others, fmt.Sprintf("2026.01.%02d 1-0 Elm Ash: e4 e5 Nf3 Nc6 Bc4 Bc5", i%28+1))
	}
	b := bookOf(t, board.White, "1. e4 e5 2. Nf3 *")
	s := Make(Input{Profile: p, Books: []*book.Book{b}}, Options{When: today}).Sides[0]
	if s.PeersOnly || !s.Few || s.Games != 0 || len(s.FewGames) != 0 || len(s.Unanswered) != 0 || len(s.Boards) != 0 {
		t.Errorf("without peers: %+v", s)
	}
	if got := told(s.Tonight); len(got) != 1 || got[0] != "expect anything: no game of theirs with Black found; go through your main lines" {
		t.Errorf("without peers: %q", got)
	}
	if want := []fact.Hint{{Color: "white", Line: []string{}, Moves: []fact.Played{{Move: "Nf3", Games: 1}}, Games: 1}}; !reflect.DeepEqual(s.Hints, want) {
		t.Errorf("hints %+v", s.Hints)
	}

	peers := profile.NewPeers(pgnGames(others), p, nil)
	r := Make(Input{Profile: p, Peers: peers, Books: []*book.Book{b}}, Options{When: today})
	s = r.Sides[0]
	if !s.PeersOnly || s.Counted() || len(s.Tonight) < 2 || !strings.HasPrefix(words.Task(&s.Tonight[0]).String(), "1.e4 e5: ") ||
		!strings.HasSuffix(words.Task(&s.Tonight[0]).String(), ", as players like them do") {
		t.Errorf("with peers: %v %q", s.PeersOnly, told(s.Tonight))
	}
	if !slices.Contains(words.Strings(words.Footnotes(r)), "no game of theirs for your game with white found: its shares are those of players like them") {
		t.Errorf("%q", words.Strings(words.Footnotes(r)))
	}
}

// The sides of both colours are those of one colour each.
func TestBothColours(t *testing.T) {
	p := gamesBetween("Them", slices.Concat(e4Rows(), []string{"2026.02.02 0-1 Them Oak: d4 d5 c4 e6"})...)
	white, black := bookOf(t, board.White, "1. e4 e5 2. Nf3 *"), bookOf(t, board.Black, "1. d4 d5 2. c4 e6 *")
	both := Make(Input{Profile: p, Books: []*book.Book{white, black}}, Options{When: today})
	for i, b := range []*book.Book{white, black} {
		alone := Make(Input{Profile: p, Books: []*book.Book{b}}, Options{When: today})
		got, _ := json.Marshal(both.Sides[i])
		want, _ := json.Marshal(alone.Sides[0])
		if string(got) != string(want) {
			t.Errorf("side %d differs from that of its colour alone", i)
		}
	}
}

func e4Rows() []string {
	var rows []string
	for i := range 20 {
		rows = append(rows, fmt.Sprintf("2026.01.%02d 1-0 Fir Them: e4 %s", i+1, []string{"c5", "e5"}[i%2]))
	}
	return rows
}

// Whatever the few games are, nothing that is said of them is a share.
func TestFewGamesAreCounted(t *testing.T) {
	for seed := range uint64(60) {
		r := rand.New(rand.NewPCG(seed, 41))
		p := randomGames(r, r.IntN(13), 24, 2)
		mine := board.Color(r.IntN(2))
		s := Make(Input{Profile: p, Books: []*book.Book{randomBook(t, r, mine, 1+r.IntN(8), 16, 2)}}, Options{When: today}).Sides[0]
		if shares := sharesIn(&s); !s.Counted() || len(shares) > 0 {
			t.Errorf("seed %d: %q", seed, shares)
		}
	}
}

// Games without a date leave the newest unsaid.
func TestBasisWithoutDates(t *testing.T) {
	p := gamesOf(board.Black, "????.??.?? 1-0 5400 2000 Elm: e4 e5", "????.??.?? 1-0 5400 2000 Elm: e4 c5")
	r := Make(Input{Profile: p, Books: []*book.Book{bookOf(t, board.White, "1. e4 e5 2. Nf3 *")}}, Options{When: today})
	if got := words.Basis(&r.Basis).String(); got != "based on 2 games" {
		t.Errorf("%q", got)
	}
}

// Games between the two are summed, in all and by the opponent's colour, and told with
// what was played behind the move that left the book.
func TestMeetingsAreSummed(t *testing.T) {
	theirs := gamesBetween("Them",
		"2025.01.01 1-0 Me Them: d4 d5 c4 e6", "2025.02.01 0-1 Me Them: d4 Nf6", "2025.03.01 1/2-1/2 Them Me: d4 d5", "2025.04.01 * Them Me: c4 c5")
	b := bookOf(t, board.White, "1. e4 e5 *")
	r := Make(Input{Profile: theirs, Books: []*book.Book{b}}, Options{When: today, Me: called("Me")})
	if want := (fact.Score{Wins: 1, Draws: 1, Losses: 1, Unknown: 1}); r.Basis.Met != want {
		t.Errorf("%+v, want %+v", r.Basis.Met, want)
	}
	if want := (fact.Score{Wins: 1, Losses: 1}); r.Sides[0].Met != want {
		t.Errorf("with Black: %+v, want %+v", r.Sides[0].Met, want)
	}
	if m := r.Basis.Meetings[3]; m.LeftBy != fact.LeftByYou || m.LeftPly != 0 || strings.Join(m.Moves, " ") != "d4 d5 c4 e6" {
		t.Errorf("%+v", m)
	}
}

// From five years on the age of the newest game is told.
func TestOldGames(t *testing.T) {
	p := gamesOf(board.White, "2019.11.24 1-0 5400 2000 Elm: e4 e5", "2021.11.25 1-0 5400 2000 Elm: e4 e5")
	b := bookOf(t, board.Black, "1. e4 e5 *")
	for day, want := range map[pgn.Date]int{{Year: 2026, Month: 11, Day: 27}: 5, {Year: 2026, Month: 11, Day: 20}: 0, {Year: 2040, Month: 1, Day: 1}: 18} {
		if got := Make(Input{Profile: p, Books: []*book.Book{b}}, Options{When: day.Span()}).Basis.Age; got != want {
			t.Errorf("on %s: %d, want %d", day, got, want)
		}
	}
}
