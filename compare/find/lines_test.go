package find

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"foreply/compare/fact"
	"foreply/compare/walk"
	"foreply/fetch/pgn"
	"foreply/profile"
	"foreply/profile/board"
)

// What is counted of their games with a colour, and of all: speeds apart, the newest day.
func TestCountAndBasis(t *testing.T) {
	p := gamesOf(t, "2026.01.05 1-0 5400 2000: e4 e5", "2026.02.06 0-1 300 2000: e4 c5", "2026.03.07 1/2-1/2 300 2000: e4 c6")
	var s fact.Side
	Count(&s, Games{All: p.Games, Tree: p.Tree(p.Games[0].Theirs)})
	if s.Games != 3 || s.Slow != 1 || s.Fast != 2 || s.Last.String() != "2026-03-07" || s.Score != (fact.Score{Wins: 1, Draws: 1, Losses: 1}) {
		t.Errorf("%+v", s)
	}
	b := Basis(fact.Basis{}, p, nil, profile.Classical, today)
	if b.Games != 3 || b.Slow != 1 || b.Fast != 2 || b.First.String() != "2026-01-05" || b.Last.String() != "2026-03-07" ||
		b.LastSlow.String() != "2026-01-05" || b.LastFast.String() != "2026-03-07" || b.Class != "classical" || b.AsOf != today.First.Date() {
		t.Errorf("%+v", b)
	}
}

// Games left the book at their second move, by theirs, and at the user's third.
func TestWhereTheyLeft(t *testing.T) {
	c := compare(t, gamesOf(t, "2026.01.05 1-0 300 2000: e4 e5 Nf3 d6 d4", "2026.01.06 1-0 300 2000: e4 e5 Nf3 Nc6 d4 exd4"), "1. e4 e5 2. Nf3 Nc6 3. Bb5 *")
	l := Left(c.w.Book, nil, c.games)
	if l.Games != 2 || l.Them != 1 || l.You != 1 || l.Book+l.Never+l.Back != 0 || l.Move != 2.5 {
		t.Errorf("%+v", l)
	}
	var ways []string
	for _, w := range l.Usual {
		ways = append(ways, fmt.Sprintf("%s: %s %d", w.By, line(w.Line), w.Games))
	}
	if want := []string{"you: e4 e5 Nf3 Nc6 d4 1", "them: e4 e5 Nf3 d6 1"}; !slices.Equal(ways, want) {
		t.Errorf("%q", ways)
	}
}

// Where the book had ended a way out ends with its last move, before theirs.
func TestWhereTheBookEnded(t *testing.T) {
	c := compare(t, gamesOf(t, repeated(2, "1-0 300 2000: e4 e5 Nf3 Nc6 Bb5 a6")...), "1. e4 e5 2. Nf3 *")
	l := Left(c.w.Book, nil, c.games)
	if l.Book != 2 || len(l.Usual) != 1 || l.Usual[0].By != fact.BookOver || line(l.Usual[0].Line) != "e4 e5 Nf3" || l.Usual[0].Games != 2 {
		t.Errorf("%+v", l)
	}
}

// One game is a way to expect, for what it is worth.
func TestExpectOfOneGame(t *testing.T) {
	c := compare(t, gamesOf(t, "2026.01.05 1-0 300 2000: e4 e5 Nf3 Nc6 Bb5"), "1. e4 e5 2. Nf3 Nc6 3. Bb5 *")
	tasks := ExpectCounted(c.w, c.games)
	if len(tasks) != 2 || line(tasks[0].Moves) != "e4 e5 Nf3 Nc6" || tasks[0].Played != 1 || tasks[0].Of != 1 || line(tasks[1].Moves) != "e4 e5 Nf3 Nc6 Bb5" {
		t.Errorf("%+v", tasks)
	}
}

// What is hidden of the user's book is told of likely lines alone.
func TestHiddenLinesAreLikely(t *testing.T) {
	c := compare(t, gamesOf(t, slices.Concat(repeated(2, "1-0 300 2000: e4 c5 Nf3"), repeated(58, "1-0 300 2000: e4 e5 Nf3 Nc6"))...), "1. e4 e5 (1... c5 2. Nf3) 2. Nf3 *")
	own := gamesOf(t, "2026.01.05 1-0 300 2000: e4 d6") // once, and no more of the book
	shown := Shown(c.w, own.Tree(board.Black))
	var hidden []string
	for _, l := range shown.Hidden {
		hidden = append(hidden, line(l))
	}
	if want := []string{"e4 e5 Nf3"}; shown.Choices != 3 || shown.Known != 1 || !slices.Equal(hidden, want) {
		t.Errorf("of %d choices hidden %q, want %q", shown.Choices, hidden, want)
	}
	if shown := Shown(c.w, c.games.Tree); shown.Known != 3 || len(shown.Hidden) != 0 {
		t.Errorf("%+v", shown)
	}
}

// A line that may have been met this year is no line not met for a year.
func TestUnpractisedForAYear(t *testing.T) {
	const moves = "e4 e5 Nf3 Nc6 Bb5 a6 Ba4"
	c := compare(t, gamesOf(t, repeated(20, "1-0 300 2000: "+moves)...), "1. e4 e5 2. Nf3 Nc6 3. Bb5 a6 4. Ba4 *")
	for date, want := range map[string]int{"2025.11.24": 1, "2025.11.25": 0, "2025.??.??": 0, "2024.??.??": 1, "????.??.??": 0} {
		text := "[White \"Me\"]\n[Black \"Elm\"]\n[Date \"" + date + "\"]\n[Result \"1-0\"]\n\n" + moves + " 1-0\n\n"
		own := profile.Build(pgn.NewReader(strings.NewReader(text), pgn.Options{}).All(), profile.Options{Them: func(*pgn.Game) (board.Color, bool) { return board.White, true }})
		if got := Unpractised(c.w, own, c.games, today); len(got) != want {
			t.Errorf("last met %s: %+v", date, got)
		}
	}
}

// A second line is told where it is likely, and not where it is not, with the games that came
// to it of those at the first choice.
func TestSecondLine(t *testing.T) {
	const book = "1. e4 e5 (1... c5 2. Nf3) 2. Nf3 *"
	for n, want := range map[int]string{5: "", 20: "c5 20 of 40"} {
		c := compare(t, gamesOf(t, slices.Concat(repeated(n, "1-0 300 2000: e4 c5 Nf3"), repeated(40-n, "1-0 300 2000: e4 e5 Nf3"))...), book)
		if _, aside := c.w.Expect(expectFrom); aside == nil {
			t.Fatalf("%d of 40 games: no other way", n)
		}
		got := ""
		for _, task := range Expect(c.w, c.games) {
			if task.Lead == fact.LeadOr {
				got = fmt.Sprintf("%s %d of %d", task.Moves[len(task.Moves)-1], task.Often.Games, task.Often.Of)
			}
		}
		if got != want {
			t.Errorf("%d of 40 games: %q, want %q", n, got, want)
		}
	}
}

// At a parting the rest counts the games of no row; a move that meets the book by another
// order comes back, one that it has is answered.
func TestPartingStates(t *testing.T) {
	c := compare(t, gamesOf(t, slices.Concat(
		repeated(10, "1-0 300 2000: d4 e6 c4 Nf6 Nc3"), repeated(9, "1-0 300 2000: d4 e6 c4 d5 Nc3"), repeated(8, "1-0 300 2000: d4 e6 c4 b6"),
	)...), "1. d4 Nf6 (1... e6 2. c4 d5 3. Nc3) 2. c4 e6 3. Nc3 *")
	for _, f := range Partings(c.w, c.games) {
		if line(f.Stem) != "d4 e6 c4" {
			continue
		}
		got := map[string]string{}
		for _, b := range f.Branches {
			got[b.Move] = fmt.Sprintf("%s %d of %d", b.State, b.Share.Seen, b.Share.Of)
		}
		want := map[string]string{"Nf6": fact.Returns + " 10 of 27", "d5": fact.Answered + " 9 of 27", "b6": fact.NoAnswer + " 8 of 27"}
		for move, state := range want {
			if got[move] != state {
				t.Errorf("%s: %s, want %s", move, got[move], state)
			}
		}
		if f.Rest.Seen != 0 {
			t.Errorf("the rest: %+v", f.Rest)
		}
		return
	}
	t.Error("no parting after 1.d4 e6 2.c4")
}

// A note that two gaps share is told with the first alone.
func TestSharedNote(t *testing.T) {
	c := compare(t, gamesOf(t, slices.Concat(repeated(12, "1-0 300 2000: e4 e5 Nf3 f5"), repeated(9, "1-0 300 2000: e4 e5 Nf3 Qe7"), repeated(9, "1-0 300 2000: e4 e5 Nf3 Nc6"))...),
		"1. e4 e5 2. Nf3 { Castle soon. } Nc6 3. Bb5 *")
	var notes []string
	for _, u := range Unanswered(c.w, NewFine(c.w), c.games, false) {
		notes = append(notes, fmt.Sprintf("%s %q %d", u.Line[len(u.Line)-1], u.Note, u.NotePly))
	}
	if want := []string{`f5 "Castle soon." 3`, `Qe7 "" 0`}; !slices.Equal(notes, want) {
		t.Errorf("%q, want %q", notes, want)
	}
}

// Where the book ends what they play next is no gap: the line ends there. Where it goes on
// for another move of theirs, one alone without an answer is.
func TestNoGapBehindTheEndOfTheBook(t *testing.T) {
	games := gamesOf(t, repeated(12, "1-0 300 2000: e4 g6 d4 Bg7 Nc3 c6")...)
	for chapter, want := range map[string]string{"1. e4 g6 2. d4 Bg7 3. Nc3 *": "", "1. e4 g6 2. d4 Bg7 3. Nc3 d6 4. Be3 *": "c6"} {
		c := compare(t, games, chapter)
		got := ""
		for _, p := range Partings(c.w, c.games) {
			for _, b := range p.Branches {
				if b.State == fact.NoAnswer {
					got += b.Move
				}
			}
		}
		if got != want {
			t.Errorf("%s: without an answer %q, want %q", chapter, got, want)
		}
	}
}

// An answer tells how much of what they play next the book has nothing for, where it is more
// than half.
func TestOpenBehindTheAnswer(t *testing.T) {
	for covered, open := range map[int]bool{5: true, 15: false} {
		rows := append(repeated(covered, "1-0 300 2000: e4 e5 Nf3 Nc6 Bb5"), repeated(20-covered, "1-0 300 2000: e4 e5 Nf3 d6 d4")...)
		c := compare(t, gamesOf(t, rows...), "1. e4 e5 2. Nf3 Nc6 3. Bb5 *")
		task := play(c.w, walk.Resolved(fields("e4 e5")), 0)[0]
		if line(task.Moves) != "e4 e5 Nf3" || (task.Open > 0.6) != open {
			t.Errorf("%d of 20 answered: %v, open %.2f", covered, task.Moves, task.Open)
		}
	}
}
