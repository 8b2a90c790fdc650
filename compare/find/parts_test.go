package find

import (
	"maps"
	"slices"
	"testing"

	"foreply/compare/fact"
	"foreply/compare/walk"
	"foreply/profile"
	"foreply/profile/board"
)

// What of their moves after another order comes back: to a position of the book by any way, or
// to the end of a line that it writes. It doesn't fit where it lets in what has no answer, or
// where the line that it goes round comes back itself.
func TestWhatComesBack(t *testing.T) {
	const queens = "1. d4 Nf6 2. c4 e6 (2... g6 3. Nf3) 3. Nf3 d5 4. Nc3 *"
	for name, c := range map[string]struct {
		book        string
		stem        string
		main, other string
		pet         string
		moves       string
		left, back  float64
		fits        bool
	}{
		"on the way of the book":     {queens, "d4 Nf6", "c4", "Nf3", "e5", "e6 100 1", 0, 1, true},
		"to the end of a line of it": {queens, "d4 Nf6", "c4", "Nf3", "e5", "g6 60 1 e6 40 1", 0, 1, true},
		"by a third way":             {queens + "\n\n1. Nf3 Nf6 2. d4 b6 3. c4 Bb7 *", "d4 Nf6", "c4", "Nf3", "e5", "b6 70 1 e6 30 1", 0, 1, true},
		"their line has an answer":   {queens + "\n\n1. d4 Nf6 2. Nf3 e5 3. dxe5 *", "d4 Nf6", "c4", "Nf3", "e5", "e5 40 1 e6 60 1", 0.4, 0.6, true},
		"their line has none":        {queens, "d4 Nf6", "c4", "Nf3", "e5", "e5 40 1 e6 60 1", 0, 0, false},
		"their line comes back":      {queens + "\n\n1. d4 Nf6 2. c4 e5 3. Nf3 exd4 *", "d4 Nf6", "c4", "Nf3", "e5", "e5 5 1 e6 95 1", 0, 0, false},
		"the main move is shut out":  {"1. e4 d6 2. d4 Nf6 3. e5 dxe5 *", "e4 d6", "e5", "d4", "c5", "e5 10 1 Nf6 90 1", 0, 0, false},
		"shut out seldom":            {"1. e4 d6 2. d4 Nf6 3. e5 dxe5 *", "e4 d6", "e5", "d4", "c5", "e5 9 1 Nf6 91 1", 0, 0.91, true},
	} {
		at := func(san string) (board.Position, board.Move) {
			t := lineOf(c.stem + " " + san)
			return t.End, t.Moves[len(t.Moves)-1]
		}
		first, main := at(c.main)
		second, other := at(c.other)
		pet := lineOf(c.stem + " " + c.main + " " + c.pet).Moves
		b := bookOf(t, c.book)
		o := &orders{w: walked(b, chances{c.stem + " " + c.other: c.moves}), book: b}
		left, back, fits := o.comesBack(&first, &second, main, other, pet[len(pet)-1])
		if fits != c.fits || fits && (!near(left, c.left) || !near(back, c.back)) {
			t.Errorf("%s: left %v, back %v, fits %v", name, left, back, fits)
		}
	}
}

// Of orders of both sides what matters more comes first; an answer of the book is no other order;
// what they never played is waited for where the main line has it; three games, and one of ten
// that comes back, are enough.
func TestOrdersThatMatter(t *testing.T) {
	const book = "1. d4 Nf6 (1... d6 2. e4 Nf6 3. Nc3 g6 4. f4) 2. c4 e6 (2... g6 3. Nf3 Bg7 4. Nc3) (2... e5 3. dxe5) 3. Nf3 d5 4. Nc3 *"
	base := chances{"d4": "Nf6 50 32 d6 50 14", "d4 Nf6 c4": "e5 40 12 e6 40 8 g6 20 0", "d4 Nf6 c4 e6 Nf3": "d5 100 8", "d4 Nf6 Nf3": "e6 60 12 g6 31 0 c6 9 0",
		"d4 d6 e4": "g6 75 10 Nf6 25 4", "d4 d6 e4 Nf6 Nc3": "g6 100 4", "d4 d6 e4 g6 Nc3": "Bg7 70 7 Nf6 30 3"}
	rows := slices.Concat(repeated(12, "1-0 300: d4 Nf6 c4 e5 dxe5"), repeated(8, "1-0 300: d4 Nf6 c4 e6 Nf3"), repeated(12, "1-0 300: d4 Nf6 Nf3 e6 c4"))
	theirs := func(back, others int) []string {
		return slices.Concat(repeated(back, "1-0 300: d4 d6 e4 g6 Nc3 Nf6 f4"), repeated(others, "1-0 300: d4 d6 e4 g6 Nc3 Bg7 f4"), repeated(4, "1-0 300: d4 d6 e4 Nf6 Nc3 g6 f4"))
	}
	const second = "1. d4 Nf6 (1... d6 2. e4 c6 (2... Nf6 3. Nc3 g6 4. f4) 3. f4) 2. g3 *"
	for name, c := range map[string]struct {
		book string
		with chances
		rows []string
		want string
	}{
		"theirs matters more":        {book, nil, slices.Concat(rows, theirs(3, 7)), "g6 c4"},
		"yours matters more":         {book, chances{"d4": "Nf6 65 32 d6 35 14"}, slices.Concat(rows, theirs(3, 7)), "c4 g6"},
		"an answer of the book":      {book + "\n\n1. d4 Nf6 2. Nf3 e6 3. c4 *", nil, rows, ""},
		"three games":                {book, chances{"d4 d6 e4": "g6 75 3 Nf6 25 4"}, theirs(3, 7), "g6"},
		"one of ten":                 {book, nil, theirs(1, 9), "g6"},
		"never played, but expected": {book, chances{"d4 d6 e4": "g6 75 10 Nf6 25 0"}, theirs(3, 7), "g6"},
		"never played, nor expected": {second, chances{"d4 d6 e4": "g6 75 10 Nf6 25 0"}, theirs(3, 7), ""},
		"played, not expected":       {second, nil, theirs(3, 7), "g6"},
		"the book has it at once":    {book + "\n\n1. d4 d6 2. e4 g6 3. Nc3 Bg7 4. f4 *", nil, theirs(3, 7), ""},
	} {
		look := maps.Clone(base)
		maps.Copy(look, c.with)
		p := gamesOf(t, c.rows...)
		var got []string
		for _, o := range Orders(walked(bookOf(t, c.book), look), Games{All: p.Games, Tree: p.Tree(board.Black)}) {
			got = append(got, o.Move)
		}
		if line(got) != c.want {
			t.Errorf("%s: %q, want %q", name, line(got), c.want)
		}
	}
}

// A single move that is worth a row, where the book writes none and meets another too rare for
// one, is the end of the book and no gap.
func TestNoGapWhereNothingIsWritten(t *testing.T) {
	w := walked(bookOf(t, "1. c4 e6 (1... c5 2. g3) 2. d4 *\n\n1. d4 d5 2. c4 e6 3. Nc3 *"), chances{"c4": "e6 60 6 c5 40 4", "c4 e6 d4": "Nf6 99 9 d5 1 1"})
	list := Partings(w, Games{Tree: gamesOf(t).Tree(board.Black)})
	if got, want := branchesOf(list, "c4"), []string{`e6 answered d4 [book_ends] -1 ""`, `c5 answered g3 [book_ends] -1 ""`}; len(list) != 1 || !slices.Equal(got, want) {
		t.Errorf("%q", got)
	}
}

// A move that the book writes without an answer is a gap, though never played, where games are
// forecast; the empty book has none. Half of what comes next may be open without a word.
func TestGapsNeverPlayed(t *testing.T) {
	p := gamesOf(t, repeated(9, "1-0 300: e4 e5 Nf3")...)
	games := Games{All: p.Games, Tree: p.Tree(board.Black)}
	w := walked(bookOf(t, "1. e4 e5 (1... c5) 2. Nf3 *"), chances{"e4": "e5 80 9 c5 20 0"})
	for few, want := range map[bool]int{false: 1, true: 0} {
		if got := Unanswered(w, NewFine(w), games, few); len(got) != want {
			t.Errorf("few %v: %+v", few, got)
		}
	}
	none := walked(bookOf(t), chances{})
	if got := Unanswered(none, NewFine(none), games, false); got != nil {
		t.Errorf("%+v", got)
	}
	half := walked(bookOf(t, "1. e4 e5 2. Nf3 Nc6 3. Bb5 *"), chances{"e4": "e5 100 1", "e4 e5 Nf3": "Nc6 50 1 d6 50 1"})
	if task := play(half, lineOf("e4 e5"), 0)[0]; task.Open != 0 {
		t.Errorf("open %v", task.Open)
	}
	g := p.Games[0]
	if got := answerTo(bookOf(t, "1. e4 e5 2. Nf3 *"), &g, fact.GameEnded, 2); got != "" {
		t.Errorf("a game that ended has left nothing, told %s", got)
	}
	rapid := gamesOf(t, "2026.01.03 1-0 ? 2000 City Rapid: e4 e5").Games[0]
	if ref := refTo(&rapid); ref.Class != "rapid" || ref.Game != 1 || ref.Date.Day != 3 || ref.File != "games.pgn" {
		t.Errorf("%+v", ref)
	}
}

// With Black an answer behind which the book has nothing holds to the second move. The games of
// the likeliest move are those with it.
func TestOptionsOfBlack(t *testing.T) {
	p := gamesAs(t, board.White, slices.Concat(repeated(9, "1-0 300: e4 c5 Nf3 d6"), repeated(3, "1-0 300: e4 c5 c3 d6"), repeated(4, "0-1 300: e4 e5 Nf3 Nc6"))...)
	look := profile.NewForecast(p, board.White, profile.ForecastOptions{}).On(today)
	w := walk.New(bookAs(t, board.Black, "1. e4 c5 *", "1. e4 e5 2. Nf3 Nc6 *"), look, walk.Options{MaxPly: 40, Threshold: 0.01})
	w.Run(board.Start(), 0)
	got := Options(w, look, Games{All: p.Games, Tree: p.Tree(board.White)}, false)
	if len(got) != 2 || got[0].Move != "c5" || got[0].Depth != 2 || got[0].Known.Seen != 9 || got[0].Known.Of != 12 || got[0].Familiar != 12 || got[1].Familiar != 4 {
		t.Errorf("%+v", got)
	}
}

// Ways back come likeliest first; of one that rests on little it is said.
func TestWaysBackInOrder(t *testing.T) {
	b := bookOf(t, "1. d4 d5 2. c4 e6 3. Nc3 Nf6 4. Bg5 *")
	look := chances{"d4": "d5 50 5 Nf6 20 2 e6 30 3", "d4 d5 c4": "e6 100 5", "d4 e6 c4": "d5 100 3", "d4 Nf6 c4": "e6 90 2 g6 10 0", "d4 Nf6 c4 e6 Nc3": "d5 80 2 b6 20 0", "d4 d5 c4 e6 Nc3": "Nf6 100 5"}
	w := walk.New(b, look, walk.Options{MaxPly: 10, Threshold: 0.01, Ways: walk.NewWays(b, look), BackFrom: 0.01})
	w.Run(board.Start(), 0)
	var got []string
	for _, back := range WaysBack(w) {
		got = append(got, line(back.Line))
		if back.Hardly != back.Chance.Hardly() {
			t.Errorf("%+v", back)
		}
	}
	if want := []string{"d4 e6", "d4 Nf6", "d4 Nf6 c4 e6"}; !slices.Equal(got, want) {
		t.Errorf("%q", got)
	}
	some := &walk.Back{Into: lineOf("d4 e6 c4 d5").Moves[2:], Range: profile.Range{P: 0.5, Lo: 0.1, Hi: 0.8}}
	if told := back(some, lineOf("d4 e6"), b); !told.Hardly || told.Answer != "Nc3" || line(told.Into) != "c4 d5" || told.FileLine != 1 {
		t.Errorf("%+v", told)
	}
}

// The order of a set-up goes by how likely each place of a move is; what is usual in a family is
// counted in what goes on in the book, and so is how much of a wider one it is.
func TestUsualByWhatGoesOn(t *testing.T) {
	fine := NewFine(walked(bookOf(t, "1. Nf3 d5 (1... f5 2. c4 e6 3. g3) 2. g3 Nf6 3. b3 *"), chances{"Nf3": "d5 90 9 f5 10 1", "Nf3 d5 g3": "Nf6 100 1", "Nf3 f5 c4": "e6 100 1"}))
	if got := line(usualMoves(fine.Order[0], 1, nil, fine)); got != "Nf3 g3 b3" {
		t.Errorf("%q", got)
	}
	const way = "Nf3 d5 g3 Nf6 Bg2"
	for name, c := range map[string]struct {
		wide, near string
		want       string
		ply        int
	}{
		"seldom in the book":  {"Nf6 30 3 c6 70 7", "e6 30 3 h5 70 5", "O-O", 5},
		"of what is answered": {"Nf6 30 3 c6 20 2 a6 50 5", "e6 50 3 h5 50 3", "d3 O-O", 3},
	} {
		fine := NewFine(walked(bookOf(t, "1. Nf3 d5 2. g3 Nf6 (2... c6 3. Bg2 Bf5 4. d3 e6 5. O-O) 3. Bg2 e6 4. O-O *"),
			chances{"Nf3": "d5 100 1", "Nf3 d5 g3": c.wide, way: c.near, "Nf3 d5 g3 c6 Bg2": "Bf5 100 1", "Nf3 d5 g3 c6 Bg2 Bf5 d3": "e6 100 1"}))
		i := slices.IndexFunc(fine.Order, func(s *walk.State) bool { return line(walk.SAN(s.Path())) == way })
		if moves, ply := setUpNear(fine.Order[i], fields(way+" h5"), fine); line(moves) != c.want || ply != c.ply {
			t.Errorf("%s: %q from ply %d", name, moves, ply)
		}
	}
}
