package find

import (
	"fmt"
	"reflect"
	"slices"
	"testing"

	"foreply/compare/fact"
	"foreply/compare/walk"
	"foreply/fetch/pgn"
	"foreply/profile"
	"foreply/profile/board"
)

// The report is as of the first day the game may be on; the age is that of the newest game. A
// game without a date is no last one, be it the last of the list. Nothing is dated of no peers.
func TestBasisDays(t *testing.T) {
	p := &profile.Profile{}
	for _, day := range []string{"2015.01.01", "2021.01.05", "????.??.??"} {
		p.Games = append(p.Games, profile.Game{Header: pgn.Header{Date: pgn.ParseDate(day), Speed: profile.Classical}})
	}
	b := Basis(fact.Basis{}, p, nil, profile.Classical, pgn.ParseDate("2026.11.??").Span())
	want := fact.Basis{
		AsOf: pgn.ParseDate("2026.11.01"), Class: "classical", Games: 3, Slow: 3, First: pgn.ParseDate("2015.01.01"), Last: pgn.ParseDate("2021.01.05"), LastSlow: pgn.ParseDate("2021.01.05"), Age: 5,
	}
	if !reflect.DeepEqual(b, want) {
		t.Errorf("got\n  %+v\nwant\n  %+v", b, want)
	}
	s := fact.Side{}
	if Count(&s, Games{All: p.Games, Tree: &profile.Tree{}}); s.Last.String() != "2021-01-05" {
		t.Errorf("last %v", s.Last)
	}
	if got := PeersUsed(&profile.Peers{}, today); !reflect.DeepEqual(got, &fact.PeersUsed{}) {
		t.Errorf("%+v", got)
	}
}

// What is likelier to be met comes first of three; of what they dropped for another habit the
// new move is what to expect.
func TestChangesInOrder(t *testing.T) {
	look := chances{"e4": "e5 60 6 c5 30 3 e6 10 1", "e4 e5 Nf3": "Nc6 75 3 d6 25 1", "e4 c5 c3": "d5 100 2", "e4 e6 d4": "d5 100 1"}
	w := walked(bookOf(t, "1. e4 e5 (1... c5 2. c3 d5 3. exd5) (1... e6 2. d4 d5 3. e5) 2. Nf3 Nc6 3. Bb5 *"), look)
	change := func(way, move, now string) profile.Change {
		here := lineOf(way)
		m := func(san string) board.Move { return lineOf(way + " " + san).Moves[len(here.Moves)] }
		return profile.Change{
			Position: here.End, Line: here.Moves, Move: m(move), Now: m(now), Past: m(move), N: 1, Of: 2, PastN: 3, PastOf: 4, NowN: 5, FormerN: 6, AllN: 7, AllOf: 8, Since: &profile.Game{}, Chance: 1.5, Speed: "slow",
		}
	}
	found := []profile.Change{change("e4 e6 d4", "d5", "d5"), change("e4 c5 c3", "d5", "d5"), change("d4", "d5", "d5"), change("e4 e5 Nf3", "Nc6", "d6"), change("e4", "e5", "e5")}
	got := Changes(w, found)
	var told []string
	for _, c := range got {
		told = append(told, fmt.Sprintf("%s %.1f", line(c.Line), c.Reach))
	}
	if want := []string{"e4 1.0", "e4 e5 Nf3 0.6", "e4 c5 c3 0.3"}; !slices.Equal(told, want) {
		t.Fatalf("%q", told)
	}
	want := fact.Change{
		Line: fields("e4 e5 Nf3"), Move: "Nc6", N: 1, Of: 2, PastN: 3, PastOf: 4, Now: "d6", NowN: 5, Former: "Nc6", FormerN: 6, AllN: 7, AllOf: 8, Speed: "slow", Chance: 1,
		Habit: found[3].HabitChanged(), Reach: got[1].Reach,
	}
	if !want.Habit {
		t.Fatal("the habit has changed")
	}
	want.Share = new(shareOf(0.25, 1, 4))
	if !reflect.DeepEqual(got[1], want) {
		t.Errorf("got\n  %+v %+v\nwant\n  %+v %+v", got[1], got[1].Share, want, want.Share)
	}
}

// A move of the book at a place that two orders lead to at different moves is looked at once; a
// way back is no move of the book. What loses less than eighty is known to be no slip.
func TestLookAgainOnce(t *testing.T) {
	b := bookOf(t, "1. e4 e5 (1... e6 2. Bc4 e5 3. Nf3 Nc6 4. Bb5 a6) 2. Nf3 Nc6 3. Bb5 a6 4. Ba4 *")
	w := walked(b, chances{"e4": "e5 60 6 e6 40 4", "e4 e5 Nf3": "Nc6 100 6", "e4 e5 Nf3 Nc6 Bb5": "a6 100 6", "e4 e6 Bc4": "e5 100 4", "e4 e6 Bc4 e5 Nf3": "Nc6 100 4", "e4 e6 Bc4 e5 Nf3 Nc6 Bb5": "a6 100 4"})
	got := LookAgain(oracle(t, "e4 e5 Nf3 Nc6 Bb5 a6: 110 Bxc6; 10 Ba4"), w, Games{Tree: gamesOf(t).Tree(board.Black)})
	if len(got) != 1 || got[0].Loss != 100 || len(got[0].Line) != 6 {
		t.Errorf("%+v", got)
	}
	back := bookOf(t, "1. d4 d5 2. c4 e6 3. Nc3 Nf6 4. Bg5 *")
	look := chances{"d4": "e6 70 4 d5 30 1", "d4 e6 c4": "d5 90 3 f5 10 1", "d4 d5 c4": "e6 100 1"}
	w = walk.New(back, look, walk.Options{MaxPly: 10, Threshold: 0.01, Ways: walk.NewWays(back, look), BackFrom: 0.01})
	w.Run(board.Start(), 0)
	found := oracle(t, "d4 e6: 130 e4; 10 c4", "d4 d5: 90 Nf3; 11 c4")
	if got := LookAgain(found, w, Games{Tree: gamesOf(t).Tree(board.Black)}); len(got) != 0 {
		t.Errorf("%+v", got)
	}
	pos := lineOf("d4 d5").End
	if a, ok, known := Again(found, fields("d4 d5"), &pos, lineOf("d4 d5 c4").Moves[2]); ok || !known || a.Line != nil {
		t.Errorf("%+v %v %v", a, ok, known)
	}
	if _, ok, known := Again(found, nil, &pos, lineOf("d4 d5 e4").Moves[2]); ok || known {
		t.Error("of 2.e4 nothing is known")
	}
}

// The shares of the lines and of what was cut make a hundred together; a line came in the games
// in which their last move of it did, by any order, whether they went on or ended with it.
func TestExitsCameAndShares(t *testing.T) {
	p := gamesOf(t, slices.Concat(
		repeated(5, "1-0 300: e4 e5 Nf3 Nc6 Bb5 a6"), repeated(3, "1-0 300: e4 e5 Nf3 Nc6 d4"), repeated(2, "1-0 300: e4 e5 Nf3 Nc6"), repeated(4, "1-0 300: e4 c5"),
		repeated(3, "1-0 300: e4 e5 Nf3 d6"), repeated(6, "1-0 300: e4 d6 Nf3 e5 d4"))...)
	games := Games{All: p.Games, Tree: p.Tree(board.Black)}
	look := chances{"e4": "e5 82 13 c5 10 4 d6 8 6", "e4 e5 Nf3": "Nc6 70 10 d6 30 3"}
	w := walk.New(bookOf(t, "1. e4 e5 (1... c5) 2. Nf3 Nc6 3. Bb5 *"), look, walk.Options{MaxPly: 40, Threshold: 0.09})
	w.Run(board.Start(), 0)
	var got []string
	for _, x := range Exits(w, games) {
		got = append(got, fmt.Sprintf("%s: %d in 100, came %d of %d, %d games", line(x.Line), x.Of100, x.Came, x.Of, x.Games))
	}
	if want := []string{"e4 e5 Nf3 Nc6 Bb5: 57 in 100, came 10 of 23, 5 games", "e4 e5 Nf3 d6: 25 in 100, came 6 of 23, 3 games", "e4 c5: 10 in 100, came 4 of 23, 0 games"}; !slices.Equal(got, want) {
		t.Errorf("%q", got)
	}
	gaps := Unanswered(w, NewFine(w), games, false)
	if len(gaps) != 2 || gaps[0].Games != 6 || gaps[0].Share.Seen != 3 || gaps[1].Games != 4 {
		t.Errorf("%+v", gaps)
	}
	if o := oftenAt(w, w.Order[slices.IndexFunc(w.Order, func(s *walk.State) bool { return s.Ply == 5 })], games); o.Games != 10 || o.Of != 23 || o.AnyOrder {
		t.Errorf("%+v", o)
	}
}

// A place that two orders of moves lead to comes more often than by the line alone, which is
// said of it, of an end and of a move without an answer there.
func TestByAnyOrder(t *testing.T) {
	b := bookOf(t, "1. e4 e5 (1... Nc6 2. Nf3 e5) 2. Nf3 Nc6 3. Bb5 a6 4. Ba4 *")
	w := walked(b, chances{"e4": "e5 50 5 Nc6 50 5", "e4 e5 Nf3": "Nc6 100 5", "e4 Nc6 Nf3": "e5 100 5", "e4 e5 Nf3 Nc6 Bb5": "a6 60 6 f5 40 4"})
	p := gamesOf(t, slices.Concat(repeated(5, "1-0 300: e4 e5 Nf3 Nc6 Bb5 a6"), repeated(5, "1-0 300: e4 Nc6 Nf3 e5 Bb5 f5"))...)
	games := Games{All: p.Games, Tree: p.Tree(board.Black)}
	for _, s := range w.Order {
		if o := oftenAt(w, s, games); o.AnyOrder != (s.Ply >= 4) {
			t.Errorf("after %d plies: %+v", s.Ply, o)
		}
	}
	for _, x := range Exits(w, games) {
		if !x.AnyOrder {
			t.Errorf("%+v", x)
		}
	}
	if gaps := Unanswered(w, NewFine(w), games, false); len(gaps) != 1 || !gaps[0].AnyOrder || gaps[0].Of != 10 {
		t.Errorf("%+v", gaps)
	}
}

// Played at once is told behind an end where it is further than that, be it a move, and not of a
// move that was never seen.
func TestInstantAtAnEnd(t *testing.T) {
	row := "1-0 300: e4 e5 {[%emt 20]} Nf3 Nc6 {[%emt 1]} Bb5"
	for n := 3; n <= 14; n++ {
		seconds := map[bool]string{true: "20", false: "1"}[n == 5]
		row += " " + [2]string{"Nh6", "Ng8"}[(n-1)%2] + " {[%emt " + seconds + "]} " + [2]string{"Nc3", "Nb1"}[(n-1)%2]
	}
	p := gamesOf(t, repeated(6, row)...)
	games := Games{All: p.Games, Tree: p.Tree(board.Black)}
	w := walked(bookOf(t, "1. e4 e5 2. Nf3 Nc6 3. Bb5 *"), chances{"e4": "e5 100 6", "e4 e5 Nf3": "Nc6 90 6 d6 10 0"})
	for _, x := range Exits(w, games) {
		if x.Unseen && x.Instant != nil || !x.Unseen && !reflect.DeepEqual(x.Instant, &fact.Instant{Move: 4, Games: 6}) {
			t.Errorf("%s: %+v", line(x.Line), x.Instant)
		}
	}
	for _, f := range Partings(w, games) {
		for _, b := range f.Branches {
			if b.EndsWith == fact.BookEnds && !reflect.DeepEqual(b.Instant, &fact.Instant{Move: 4, Games: 6}) {
				t.Errorf("%+v", b)
			}
		}
	}
}
