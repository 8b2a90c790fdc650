package find

import (
	"fmt"
	"math"
	"reflect"
	"slices"
	"strings"
	"testing"

	"foreply/compare/fact"
	"foreply/compare/walk"
	"foreply/fetch/pgn"
	"foreply/profile"
	"foreply/profile/board"
)

// small is a walk by hand with eleven games: 1...e5 comes in 80 of 100, then 2...Nc6 in 70,
// 2...d6, which is not in the book, in 20, and 2...a6, never seen, in 10; 1...c5 in 20, which
// the book has without an answer.
func small(t *testing.T) (*walk.Walk, Games) {
	t.Helper()
	p := gamesOf(t, slices.Concat(
		repeated(7, "1-0 300 2000: e4 e5 Nf3 Nc6 Bb5 a6"),
		[]string{"2026.02.01 0-1 5400 2000: e4 e5 Nf3 d6 d4", "2026.02.02 1/2-1/2 5400 2000: e4 e5 Nf3 d6 Bc4", "2026.03.01 1-0 300 2000: e4 c5 Nf3", "2026.03.02 0-1 300 2000: e4 c5 Nf3"},
	)...)
	w := walked(bookOf(t, "{ Head. }\n1. e4 e5 (1... c5)\n2. Nf3 { Castle. } Nc6\n3. Bb5 *"),
		chances{"e4": "e5 80 9 c5 20 2", "e4 e5 Nf3": "Nc6 70 7 d6 20 2 a6 10 0"})
	return w, Games{All: p.Games, Tree: p.Tree(board.Black)}
}

func refs(class string, games ...string) (out []fact.Ref) {
	for _, g := range games {
		n, day, _ := strings.Cut(g, " ")
		out = append(out, fact.Ref{File: "games.pgn", Game: number(n), Date: pgn.ParseDate(day), Class: class})
	}
	return out
}

// shareOf is a share by the chances of small.
func shareOf(p float64, seen, of int) fact.Share {
	return fact.NewShare(fact.Chance{P: p, Lo: p - 0.1, Hi: p + 0.2}, seen, of)
}

// The lines to expect, whole, likeliest first: where each ends and why, how often, in which
// games, with the note nearest to it and where the book has it.
func TestExitsWhole(t *testing.T) {
	w, games := small(t)
	want := []fact.Exit{
		{Kind: fact.BookEnds, Line: fields("e4 e5 Nf3 Nc6 Bb5"), Of100: 56, Came: 7, Games: 7, Note: "Castle.", NotePly: 3, FileLine: 4, Last: pgn.ParseDate("2026.01.07"),
			Newest: refs("blitz", "7 2026.01.07", "6 2026.01.06", "5 2026.01.05")},
		{Kind: fact.BookEnds, Line: fields("e4 c5"), Of100: 20, Came: 2, Games: 2, YourMove: true, Note: "Head.", FileLine: 2, Last: pgn.ParseDate("2026.03.02"), Newest: refs("blitz", "11 2026.03.02", "10 2026.03.01")},
		{Kind: fact.TheyLeave, Line: fields("e4 e5 Nf3 d6"), Of100: 16, Came: 2, Games: 2, YourMove: true, Note: "Castle.", NotePly: 3, FileLine: 3, Last: pgn.ParseDate("2026.02.02"), Newest: refs("classical", "9 2026.02.02", "8 2026.02.01")},
		{Kind: fact.TheyLeave, Line: fields("e4 e5 Nf3"), Of100: 8, Unseen: true, Note: "Castle.", NotePly: 3, FileLine: 3},
	}
	got := Exits(w, games)
	if len(got) != len(want) {
		t.Fatalf("%+v", got)
	}
	for i, e := range w.Sorted() {
		x := want[i]
		end := lineOf(line(x.Line))
		x.Reach, x.Orders, x.Of, x.File, x.EPD, x.ECO, x.Name, x.Structure = got[i].Reach, 1, 11, "book.pgn", end.End.EPD(), end.Opening().ECO, end.Opening().Name, Structure(&end)
		if x.Lo, x.Hi = e.Interval(); x.Lo >= x.Hi || !near(got[i].Reach, []float64{0.56, 0.2, 0.16, 0.08}[i]) {
			t.Errorf("%d: %v to %v", i, x.Lo, x.Hi)
		}
		if !reflect.DeepEqual(got[i], x) {
			t.Errorf("%d: got\n  %+v\nwant\n  %+v", i, got[i], x)
		}
	}
}

// The moves without an answer, whole: how likely, of how many games, what came of them, the
// note and where the book has the position before.
func TestUnansweredWhole(t *testing.T) {
	w, games := small(t)
	met := func(move string, n int, s fact.Score) fact.Met {
		return fact.Met{Move: move, Games: n, Score: s, Expected: float64(n) / 2}
	}
	want := []fact.Unanswered{
		{Line: fields("e4 c5"), Share: shareOf(0.2, 2, 11), Games: 2, Of: 11, Last: pgn.ParseDate("2026.03.02"), Score: fact.Score{Wins: 1, Losses: 1}, Note: "Head.", FileLine: 2,
			Others: []fact.Met{met("Nf3", 2, fact.Score{Wins: 1, Losses: 1})}, SetUp: fields("Nf3 Bb5"), SetUpPly: 1},
		{Line: fields("e4 e5 Nf3 d6"), Share: shareOf(0.2, 2, 9), Games: 2, Of: 11, Last: pgn.ParseDate("2026.02.02"), Score: fact.Score{Wins: 1, Draws: 1}, Note: "Castle.", NotePly: 3, FileLine: 3,
			Others: []fact.Met{met("Bc4", 1, fact.Score{Draws: 1}), met("d4", 1, fact.Score{Wins: 1})}, SetUp: fields("Bb5"), SetUpPly: 3},
	}
	got := Unanswered(w, NewFine(w), games, false)
	if len(got) != len(want) {
		t.Fatalf("%+v", got)
	}
	for i := range want {
		u, end := want[i], lineOf(line(want[i].Line))
		u.EPD, u.Name, u.File, u.Reach = end.End.EPD(), end.Opening().Name, "book.pgn", got[i].Reach
		u.Lo, u.Hi = w.Sorted()[i+1].Interval() // the likeliest end, the book's, has no move without an answer
		if !near(u.Reach, []float64{0.2, 0.16}[i]) || u.Lo >= u.Reach || u.Hi <= u.Reach {
			t.Errorf("%d: %+v", i, got[i])
		}
		if !reflect.DeepEqual(got[i], u) {
			t.Errorf("%d: got\n  %+v\nwant\n  %+v", i, got[i], u)
		}
	}
	few := Games{All: games.All[:9], Tree: gamesOf(t, repeated(1, "1-0 300: e4 e5 Nf3 Nc6")...).Tree(board.Black)}
	if got := Unanswered(w, NewFine(w), few, true); len(got) != 0 {
		t.Errorf("in no game: %+v", got)
	}
}

// The same lines as a tree: at each parting its branches, the games that came there, what the
// others take together, and how each goes on or ends.
func TestPartingsWhole(t *testing.T) {
	w, games := small(t)
	spanish := lineOf("e4 e5 Nf3 Nc6 Bb5")
	shape := Structure(&spanish)
	want := []fact.Parting{
		{Stem: fields("e4"), Reach: 1, Visits: 11, From: -1, Branches: []fact.Branch{
			{Move: "e5", Share: shareOf(0.8, 9, 11), Reach: 0.8, State: fact.Answered, Answer: "Nf3", Then: []string{}, Next: 1, Note: "Castle."},
			{Move: "c5", Share: shareOf(0.2, 2, 11), Reach: 0.2, State: fact.NoAnswer, Next: -1, EndsWith: fact.BookEnds},
		}},
		{Stem: fields("e4 e5 Nf3"), Reach: 0.8, Visits: 9, From: 0, Branches: []fact.Branch{
			{Move: "Nc6", Share: shareOf(0.7, 7, 9), Reach: 0.56, State: fact.Answered, Answer: "Bb5", Then: []string{}, Next: -1, EndsWith: fact.BookEnds, Structure: &shape},
			{Move: "d6", Share: shareOf(0.2, 2, 9), Reach: 0.16, State: fact.NoAnswer, Next: -1, EndsWith: fact.TheyLeave},
		}},
	}
	got := Partings(w, games)
	for i := range got {
		rest := got[i].Rest
		if i < 2 && (!near(rest.P, []float64{0, 0.1}[i]) || rest.Seen != 0 || rest.Of != got[i].Visits || i == 1 && (rest.Lo >= rest.P || rest.Hi <= rest.P)) {
			t.Errorf("%d: the rest %+v", i, rest)
		}
		got[i].Rest = fact.Share{}
		for k := range got[i].Branches {
			got[i].Branches[k].Reach = math.Round(1e9*got[i].Branches[k].Reach) / 1e9
		}
		if end := lineOf(line(got[i].Stem)); got[i].ECO != end.Opening().ECO || got[i].Name != end.Opening().Name {
			t.Errorf("%d: %s %s", i, got[i].ECO, got[i].Name)
		}
		got[i].ECO, got[i].Name = "", ""
	}
	if !reflect.DeepEqual(got, want) {
		t.Errorf("got\n  %+v\nwant\n  %+v", got, want)
	}
}

// A game of theirs in a row of its own, whole, as the user's side would tell it.
func TestPlayedGameWhole(t *testing.T) {
	text := "[Event \"Open\"]\n[Site \"Town\"]\n[Round \"3\"]\n[White \"Elm\"]\n[Black \"Them\"]\n[Date \"2026.03.05\"]\n[WhiteElo \"1900\"]\n[BlackElo \"2010\"]\n[Result \"0-1\"]\n[TimeControl \"5400\"]\n\n1. e4 e5 2. Nf3 d6 3. d4 0-1\n\n"
	p := profile.Build(pgn.NewReader(strings.NewReader("\n"+text), pgn.Options{File: "games.pgn"}).All(), profile.Options{Them: func(*pgn.Game) (board.Color, bool) { return board.Black, true }})
	games := Games{All: p.Games, Tree: p.Tree(board.Black)}
	end := lineOf("e4 e5 Nf3 d6 d4")
	want := fact.PlayedGame{
		Date: pgn.ParseDate("2026.03.05"), Rival: "Elm", RivalElo: 1900, Elo: 2010, Event: "Open", Site: "Town", Round: "3", Result: "0-1", Yours: "0", Speed: "classical", ECO: end.Opening().ECO, Opening: end.Opening().Name,
		Moves: fields("e4 e5 Nf3 d6 d4"), Plies: 5, Telling: 5, EPD: end.End.EPD(), LeftBy: fact.LeftByThem, LeftPly: 3, File: "games.pgn", FileLine: 2, Game: 1,
	}
	if got := Whole(bookOf(t, "1. e4 e5 2. Nf3 Nc6 3. Bb5 *"), nil, games); len(got) != 1 || !reflect.DeepEqual(got[0], want) {
		t.Errorf("got\n  %+v\nwant\n  %+v", got, want)
	}
	another := gamesOf(t, "2026.01.01 1-0 300: "+line(slices.Repeat(fields("Nf3 Nf6 Ng1 Ng8"), 5))+" e4 e5", "2026.01.02 1-0 300: "+line(slices.Repeat(fields("Nf3 Nf6 Ng1 Ng8"), 5))+" e4 c5")
	if got := Whole(bookOf(t, "1. d4 *"), nil, Games{All: another.Games, Tree: another.Tree(board.Black)})[0]; got.Telling != 22 {
		t.Errorf("their last choice is at ply 22, told %d", got.Telling)
	}
}

// Where the games left the book in all: by whom, at which move on average, how many came back
// to it, and the commonest ways out with their newest day, five at most.
func TestLeftWhole(t *testing.T) {
	const book = "1. e4 e5 2. Nf3 Nc6 3. Bb5 *\n\n1. d4 d5 2. c4 e6 3. Nc3 *"
	p := gamesOf(t, "2026.01.01 1-0 300: e4 c5 d4", "2026.01.02 1-0 300: e4 c5 c3", "2026.01.03 1-0 300: e4 e6 d4", "2026.01.04 1-0 300: e4 e5 Bc4", "2026.01.05 1-0 300: e4 e5 Nf3", "2026.01.06 1-0 300: c4 d5 d4 e6 Nc3",
		"2026.01.07 1-0 300: e4 g6", "2026.01.08 1-0 300: e4 h6", "2026.01.09 1-0 300: e4 c5 d4")
	games := Games{All: p.Games, Tree: p.Tree(board.Black)}
	out := func(way, by string, n int, last string) fact.WayOut {
		return fact.WayOut{Line: fields(way), By: by, Games: n, Last: pgn.ParseDate(last)}
	}
	// Moves 1 (c5 three times, e6, g6, h6), 2 (Bc4, end of 2.Nf3) and 1 (c4): 11 in 9 games.
	want := fact.Left{Games: 9, Them: 6, You: 2, Never: 1, Back: 1, Move: 11.0 / 9, Usual: []fact.WayOut{
		out("e4 c5", fact.LeftByThem, 3, "2026.01.09"), out("c4", fact.LeftByYou, 1, "2026.01.06"), out("e4 e5 Bc4", fact.LeftByYou, 1, "2026.01.04"), out("e4 e6", fact.LeftByThem, 1, "2026.01.03"), out("e4 g6", fact.LeftByThem, 1, "2026.01.07"),
	}}
	if got := Left(bookOf(t, book), nil, games); !reflect.DeepEqual(got, want) {
		t.Errorf("got\n  %+v\nwant\n  %+v", got, want)
	}
	none := gamesAs(t, board.White, "2026.01.01 1-0 300: e4")
	if got := Left(bookOf(t, book), nil, Games{All: none.Games, Tree: none.Tree(board.Black)}); !reflect.DeepEqual(got, fact.Left{Usual: []fact.WayOut{}}) {
		t.Errorf("no game: %+v", got)
	}
}

// What they find in the user's games: how many, what was mostly played where lines pass often,
// the newest day of it, how often the book's move if that is another, and what was never shown.
func TestShownWhole(t *testing.T) {
	w, _ := small(t)
	own := gamesAs(t, board.White, "2026.01.01 1-0 300: e4 e5 Nf3 Nc6", "2026.01.02 1-0 300: e4 e5 Bc4 Nc6", "2026.01.03 1-0 300: e4 e5 Bc4 Nc6", "2026.01.04 1-0 300: d4 d5")
	want := &fact.Shown{Games: 4, Choices: 3, Known: 2, Hidden: [][]string{fields("e4 e5 Nf3 Nc6 Bb5")}, Habits: []fact.Habit{
		{Line: []string{}, Move: "e4", N: 3, Of: 4, Last: pgn.ParseDate("2026.01.03")}, {Line: fields("e4 e5"), Move: "Bc4", N: 2, Of: 3, Last: pgn.ParseDate("2026.01.03"), Book: "Nf3", BookN: 1},
	}}
	if got := Shown(w, own.Tree(board.White)); !reflect.DeepEqual(got, want) {
		t.Errorf("got\n  %+v\nwant\n  %+v", got, want)
	}
	other := gamesAs(t, board.White, "2026.01.01 1-0 300: d4 d5")
	if got := Shown(w, other.Tree(board.White)).Habits; len(got) != 1 || got[0].Book != "e4" || got[0].BookN != 0 {
		t.Errorf("%+v", got)
	}
	if got := Shown(w, gamesAs(t, board.White).Tree(board.White)); got.Games != 0 || got.Habits == nil || len(got.Hidden) != 2 {
		t.Errorf("no game: %+v", got)
	}
}

// A likely line not met for a year is told with its reach, its games and its place, likeliest
// first; one in twenty is likely enough.
func TestUnpractisedWhole(t *testing.T) {
	const stem = "e4 e5 Nf3 Nc6 Bb5"
	b := bookOf(t, "1. e4 e5 2. Nf3 Nc6 3. Bb5 Nf6 (3... a6\n4. Ba4) (3... d6 4. d4) (3... f5 4. d3) 4. O-O *")
	w := walked(b, chances{"e4": "e5 100 9", "e4 e5 Nf3": "Nc6 100 9", stem: "a6 60 5 Nf6 31 3 d6 5 1 f5 4 0"})
	p := gamesOf(t, slices.Concat(repeated(5, "1-0 300: "+stem+" a6 Ba4"), repeated(3, "1-0 300: "+stem+" Nf6 d3"), repeated(1, "1-0 300: "+stem+" d6 d4"))...)
	own := gamesAs(t, board.White, "2020.01.02 1-0 300: "+stem+" Nf6 O-O", "2026.10.01 1-0 300: "+stem+" d6 d4")
	got := Unpractised(w, own, Games{All: p.Games, Tree: p.Tree(board.Black)}, today)
	var told []string
	for _, u := range got {
		told = append(told, fmt.Sprintf("%s %.2f %.2f %d of %d, last %s, %s:%d", u.Line[len(u.Line)-1], u.Reach, u.Often.P, u.Often.Games, u.Often.Of, u.Last, u.File, u.FileLine))
	}
	if want := []string{"Ba4 0.60 0.60 5 of 9, last , book.pgn:2", "O-O 0.31 0.31 3 of 9, last 2020-01-02, book.pgn:2"}; !slices.Equal(told, want) {
		t.Errorf("%q", told)
	}
	never := Unpractised(w, gamesAs(t, board.White), Games{All: p.Games, Tree: p.Tree(board.Black)}, today)
	if len(never) != 3 || !near(never[2].Reach, 0.05) {
		t.Errorf("never met: %+v", never)
	}
}

// Their order keeps back the move the book waits for: after 1.e4 d6 2.d4 the book waits for
// 2...Nf6 3.Nc3 g6, and they play 2...g6 3.Nc3 and then 3...Nf6 in 3 of 10 games.
func TestOrderOfTheirs(t *testing.T) {
	const book = "1. e4 d6 2. d4 Nf6 3. Nc3 g6 4. f4 *"
	look := chances{"e4": "d6 100 16", "e4 d6 d4": "g6 75 12 Nf6 25 4", "e4 d6 d4 Nf6 Nc3": "g6 100 4", "e4 d6 d4 g6 Nc3": "Bg7 70 7 Nf6 30 3"}
	for name, c := range map[string]struct {
		waits, others int // games in which they came back, and didn't, after 3.Nc3
		look          chances
		want          bool
	}{
		"three of ten": {3, 7, nil, true}, "five games": {1, 4, nil, false}, "six": {1, 5, nil, true}, "hardly ever": {0, 12, nil, false}, "mostly": {9, 1, nil, false},
		"likely to": {3, 7, chances{"e4 d6 d4 g6 Nc3": "Nf6 70 3 Bg7 30 7"}, false}, "two games": {3, 7, chances{"e4 d6 d4": "g6 75 2 Nf6 25 4"}, false},
		"rare": {3, 7, chances{"e4 d6 d4": "Nf6 99 9 g6 1 12"}, false},
	} {
		p := gamesOf(t, slices.Concat(repeated(c.waits, "1-0 300: e4 d6 d4 g6 Nc3 Nf6 f4"), repeated(c.others, "1-0 300: e4 d6 d4 g6 Nc3 Bg7 f4"), repeated(4, "1-0 300: e4 d6 d4 Nf6 Nc3 g6 f4"))...)
		with := chances{}
		for way, said := range look {
			with[way] = said
		}
		for way, said := range c.look {
			with[way] = said
		}
		got := Orders(walked(bookOf(t, book), with), Games{All: p.Games, Tree: p.Tree(board.Black)})
		if (len(got) == 1) != c.want {
			t.Errorf("%s: %+v", name, got)
		}
		if name != "three of ten" || len(got) != 1 {
			continue
		}
		want := fact.Order{Kind: fact.TheirOrder, Line: fields("e4 d6 d4"), Move: "g6", Other: "Nf6", Pet: "Nc3", Waits: "Nf6", Share: shareOf(0.3, 3, 10), Back: 0.3, Games: 12, Reach: 0.75, Met: 10}
		if !reflect.DeepEqual(got[0], want) {
			t.Errorf("got\n  %+v\nwant\n  %+v", got[0], want)
		}
	}
}

// On a board is drawn where the last move came from, and the book's answer where it has one.
func TestDraw(t *testing.T) {
	boards := []fact.Diagram{{Line: fields("e4 e5")}, {Line: fields("e4 c5")}, {Line: nil}}
	Draw(boards, bookOf(t, "1. e4 e5 2. Nf3 (2. Nc3) *"))
	if got := fmt.Sprint(boards[0].Origin, boards[0].Arrow, boards[1].Origin, boards[1].Arrow, boards[2].Origin, boards[2].Arrow); got != fmt.Sprint("e7", "g1f3", "c7", "", "", "e2e4") {
		t.Errorf("%s", got)
	}
}

// A trap is marked at the branch with its move, where both stand at one position; others'
// mistakes at none. A change has the share that stands at the branch of its move.
func TestMarkAndAgree(t *testing.T) {
	share := fact.NewShare(fact.Chance{P: 0.4, Lo: 0.3, Hi: 0.6}, 4, 10)
	partings := func() []fact.Parting {
		return []fact.Parting{{Stem: fields("e4"), Branches: []fact.Branch{{Move: "e5"}, {Move: "c5", Share: share}}}, {Stem: fields("Nf3 d5 g3"), Branches: []fact.Branch{{Move: "Nf6"}, {Move: "f6"}, {Move: "h6"}}}}
	}
	marked := partings()
	traps := []fact.Trap{{Kind: fact.OthersSlip, Line: fields("e4 e5")}, {Kind: fact.TheirSlip, Line: fields("g3 d5 Nf3 f6")}, {Kind: fact.TheirSlip, Line: fields("e4 c5")}}
	Mark(marked, traps)
	want := partings()
	want[0].Branches[1].Trap, want[1].Branches[1].Trap = &traps[2], &traps[1]
	if !reflect.DeepEqual(marked, want) {
		t.Errorf("%+v", marked)
	}
	changes := []fact.Change{{Line: fields("e4"), Move: "c5"}, {Line: fields("e4"), Move: "c5", Now: "d5", Habit: true}, {Line: fields("e4"), Move: "e6", Now: "c5", Habit: true}, {Line: fields("d4"), Move: "c5"}}
	Agree(changes, partings())
	for i, told := range []bool{true, false, true, false} {
		if c := &changes[i]; (c.Share != nil) != told || told && *c.Share != share {
			t.Errorf("%d: %+v", i, c.Share)
		}
	}
}

// A chapter that begins elsewhere is told by the way of the walk, or of their newest game.
func TestMistakeOfASetUp(t *testing.T) {
	const chapter = "\n\n[FEN \"rnbqkb1r/pppp1ppp/5n2/4p3/4P3/5N2/PPPP1PPP/RNBQKB1R w KQkq - 2 3\"]\n\n3. Bc4? { Rather not. } *"
	p := gamesOf(t, "2026.01.05 1-0 300: e4 e5 Nf3 Nf6 Bc4", "2026.01.06 1-0 300: Nf3 Nf6 e4 e5 d4", "2026.01.07 1-0 300: e4 e5 Nf3 d6")
	games := Games{All: p.Games, Tree: p.Tree(board.Black)}
	want := fact.Mistake{Yours: true, Note: "Rather not.", Games: 1, Reached: 2, Near: 2, Last: pgn.ParseDate("2026.01.05"), File: "book.pgn", FileLine: 5}
	for name, c := range map[string]struct{ book, way string }{"the walk": {"1. e4 e5 2. Nf3 Nf6 3. Nxe5 *", "e4 e5 Nf3 Nf6 Bc4"}, "their game": {"1. d4 d5 2. c4 *", "Nf3 Nf6 e4 e5 Bc4"}} {
		w := walked(bookOf(t, c.book+chapter), chances{"e4": "e5 100 3", "e4 e5 Nf3": "Nf6 40 2 d6 60 1", "d4": "d5 100 1"})
		got := Mistakes(w, games)
		if len(got) != 1 {
			t.Fatalf("%s: %+v", name, got)
		}
		if o := got[0].Often; (o != nil) != (name == "the walk") || o != nil && (!near(o.P, 0.4) || !near(got[0].Reach, 0.4) || o.Games != 2 || o.Of != 2) {
			t.Errorf("%s: %+v, %v", name, o, got[0].Reach)
		}
		m := want
		m.Line, m.Often, m.Reach = fields(c.way), got[0].Often, got[0].Reach
		if !reflect.DeepEqual(got[0], m) {
			t.Errorf("%s: got\n  %+v\nwant\n  %+v", name, got[0], m)
		}
	}
	if got := Mistakes(walked(bookOf(t, "1. d4 d5 2. c4 *"+chapter), chances{}), Games{Tree: gamesOf(t, "2026.01.07 1-0 300: d4").Tree(board.Black)}); len(got) != 0 {
		t.Errorf("nobody came there: %+v", got)
	}
}

// A plain record has all games of the colour, those with a result apart, beside the ratings;
// one is told for each colour asked for, and no fact of no game.
func TestRecordOfAColour(t *testing.T) {
	p := gamesOf(t, "2026.01.05 1-0 300 1900: e4 e5", "2026.01.06 1-0 300 1900: e4 e5", "2026.01.07 1/2-1/2 300: e4 e5", "2026.01.08 * 300 1900: e4 e5", "2026.01.09 0-1 300 1900: e4 e5")
	got := About(p, profile.Blitz, nil, board.White, board.Black)
	want := fact.About{Kind: fact.PlainRecord, Color: "black", N: 4, Score: fact.Score{Wins: 1, Draws: 1, Losses: 2, Unknown: 1}, Rated: rated(p, board.Black)}
	if len(got) != 1 || !reflect.DeepEqual(got[0], want) {
		t.Errorf("%+v", got)
	}
	open := gamesOf(t, "2026.01.08 * 300 1900: e4 e5")
	if got := About(open, profile.Blitz, nil, board.Black); len(got) != 1 || got[0].N != 0 {
		t.Errorf("without a result: %+v", got)
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

// An unfinished book of Black's: the ways that books and walks are told for both colours.
func TestExitsOfBlack(t *testing.T) {
	b := bookAs(t, board.Black, "1. e4 e5 2. Nf3 Nc6 *")
	p := gamesAs(t, board.White, "2026.01.01 1-0 300: e4 e5 Nf3 Nc6 Bb5", "2026.01.02 1-0 300: e4 e5 Bc4 Nf6", "2026.01.03 1-0 300: d4 d5")
	w := walked(b, chances{"": "e4 75 2 d4 25 1", "e4 e5": "Nf3 60 1 Bc4 40 1"})
	var got []string
	for _, x := range Exits(w, Games{All: p.Games, Tree: p.Tree(board.White)}) {
		got = append(got, fmt.Sprintf("%s %s %.2f %d of %d, your move %v", x.Kind, line(x.Line), x.Reach, x.Came, x.Of, x.YourMove))
	}
	if want := []string{"book_ends e4 e5 Nf3 Nc6 0.45 1 of 3, your move false", "they_leave e4 e5 Bc4 0.30 1 of 3, your move true", "they_leave d4 0.25 1 of 3, your move true"}; !slices.Equal(got, want) {
		t.Errorf("%q", got)
	}
}
