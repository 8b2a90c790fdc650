package find

import (
	"fmt"
	"reflect"
	"slices"
	"testing"

	"foreply/compare/book"
	"foreply/compare/fact"
	"foreply/compare/walk"
	"foreply/fetch/pgn"
	"foreply/profile"
	"foreply/profile/board"
)

// Facts of the opponent are held against the peers given, among games of the pace to come, not of
// its class alone; peers say the lower end of what is usual, too. The move up to which they play
// at once is the median of the games.
func TestAboutBesidePeers(t *testing.T) {
	p := &profile.Profile{}
	for i := range 80 {
		g := profile.Game{Moves: make([]board.Move, 120), Result: profile.Win}
		if g.Speed = profile.Rapid; i%2 == 0 {
			g.Speed = profile.Classical
		}
		p.Games = append(p.Games, g)
	}
	told := func(k, n int) (usual float64, of int, above bool) {
		peers := &profile.Peers{}
		peers.Habits[profile.LongGame].K, peers.Habits[profile.LongGame].N = k, n
		for _, a := range About(p, profile.Classical, peers) {
			if a.Kind == fact.LongGame {
				return a.Usual, a.N, a.Above
			}
		}
		return 0, 0, false
	}
	if usual, n, above := told(100, 400); usual != 0.25 || n != 40 || !above {
		t.Errorf("usual %v, of %d", usual, n)
	}
	if _, n, _ := told(399, 400); n != 0 {
		t.Error("told, though peers do it as often")
	}
	for i := range p.Games { // they never do, and peers nearly as seldom
		p.Games[i].Moves = make([]board.Move, 50)
	}
	if _, n, _ := told(4, 400); n != 0 {
		t.Error("told, though peers do it as seldom")
	}
	if _, n, above := told(200, 400); n != 40 || above {
		t.Error("not told, though peers do it in half of their games")
	}
	other := &profile.Profile{Games: make([]profile.Game, 60)}
	for i := range other.Games {
		other.Games[i].Speed = [...]profile.Class{profile.Blitz, profile.Bullet, profile.Rapid, profile.Classical}[i%4]
	}
	for class, want := range map[profile.Class]int{profile.Blitz: comparable(other, profile.Blitz), profile.Classical: comparable(other, profile.Classical)} {
		if set := comparableGames(other, class); len(set.games) != want {
			t.Errorf("before a game of class %v: %d games, want %d", class, len(set.games), want)
		}
	}
	game := func(second int) string {
		text := "1-0 300:"
		for n := 1; n <= 15; n++ {
			seconds := map[bool]string{true: "20", false: "1"}[n == 1 || n == second]
			text += " " + [2]string{"Nf3 Nf6", "Ng1 Ng8"}[(n-1)%2] + " {[%emt " + seconds + "]}"
		}
		return text
	}
	rows := slices.Concat(repeated(2, game(14)), repeated(9, game(11)), repeated(1, game(9)))
	for _, a := range About(gamesOf(t, rows...), profile.Blitz, nil) {
		if a.Kind == fact.AtOnce && (a.Move != 10 || !a.Above || a.N != 12) {
			t.Errorf("%+v", a)
		}
	}
}

// comparable are so many games of a pace, or all where they are too few.
func comparable(p *profile.Profile, class profile.Class) int {
	n := 0
	for i := range p.Games {
		if p.Games[i].Speed.Pace() == class.Pace() {
			n++
		}
	}
	if n < 30 {
		return len(p.Games)
	}
	return n
}

// Games of another class than the one to come count less, not those of its own, nor of an unknown
// one; each is counted, dated or not.
func TestWhatCountsLess(t *testing.T) {
	p := &profile.Profile{}
	for _, class := range []profile.Class{profile.Blitz, profile.Blitz, profile.Blitz, profile.Rapid, profile.UnknownClass, profile.Classical} {
		p.Games = append(p.Games, profile.Game{Class: class, Header: pgn.Header{Speed: class}})
	}
	for class, want := range map[profile.Class][5]int{profile.Blitz: {6, 2, 4, 1, 1}, profile.Classical: {6, 4, 4, 1, 1}, profile.UnknownClass: {6, 0, 4, 1, 1}} {
		b := Basis(fact.Basis{}, p, nil, class, today)
		if got := [5]int{b.Games, b.Less, b.Fast, b.Slow, b.NoSpeed}; got != want {
			t.Errorf("class %v: %v, want %v", class, got, want)
		}
	}
}

// A change takes the share of its branch in place of its own, with the first day that is known of
// it; ways out alike are told in the order of who left.
func TestSharesAgree(t *testing.T) {
	own, branch := shareOf(0.2, 1, 9), shareOf(0.4, 4, 9)
	changes := []fact.Change{{Line: fields("e4"), Move: "c5", Share: &own}}
	Agree(changes, []fact.Parting{{Stem: fields("e4"), Branches: []fact.Branch{{Move: "c5", Share: branch}}}})
	if *changes[0].Share != branch {
		t.Errorf("%+v", changes[0].Share)
	}
	c := ChangeOf(&profile.Change{Position: lineOf("e4").End, Line: lineOf("e4").Moves, Move: lineOf("e4 c5").Moves[1], Now: lineOf("e4 c5").Moves[1], Past: lineOf("e4 e5").Moves[1],
		Since: &profile.Game{Header: pgn.Header{Date: pgn.ParseDate("2026.02.??")}, Span: pgn.ParseDate("2026.02.??").Span()}})
	if c.Since.String() != pgn.ParseDate("2026.02.??").String() {
		t.Errorf("since %v", c.Since)
	}
	for range 8 {
		ways := map[string]*fact.WayOut{}
		for _, by := range []string{fact.LeftByYou, fact.BookOver, fact.LeftByThem} {
			ways[by] = &fact.WayOut{Line: fields("e4 c5"), By: by, Games: 1}
		}
		got := usualWays(ways)
		if order := []string{got[0].By, got[1].By, got[2].By}; !slices.Equal(order, []string{fact.BookOver, fact.LeftByThem, fact.LeftByYou}) {
			t.Fatalf("%q", order)
		}
	}
}

// Of several answers at the end of a way back the main choice is told; an end tells which of their
// moves were never seen, and which of the user's are ways back.
func TestBackToTheMainChoice(t *testing.T) {
	b := bookOf(t, "1. d4 d5 2. c4 e6 3. Nc3 (3. Nf3) Nf6 4. Bg5 *")
	some := &walk.Back{Into: lineOf("d4 e6 c4 d5").Moves[2:], Range: profile.Range{P: 0.9, Lo: 0.8, Hi: 0.95}}
	if got := back(some, lineOf("d4 e6"), b); got.Answer != "Nc3" {
		t.Errorf("%+v", got)
	}
	look := chances{"d4": "e6 100 4", "d4 e6 c4": "d5 100 0", "d4 e6 c4 d5 Nc3": "Nf6 100 0"}
	w := walk.New(b, look, walk.Options{MaxPly: 10, Threshold: 0.01, Ways: walk.NewWays(b, look), BackFrom: 0.01})
	w.Run(board.Start(), 0)
	for _, x := range Exits(w, Games{Tree: gamesOf(t).Tree(board.Black)}) {
		if line(x.Line) == "d4 e6 c4 d5 Nc3 Nf6 Bg5" && (!slices.Equal(x.NotSeen, []int{4, 6}) || !slices.Equal(x.WaysBack, []int{3})) {
			t.Errorf("not seen %v, ways back %v", x.NotSeen, x.WaysBack)
		}
	}
	if n := len(w.Ends); n != 1 {
		t.Errorf("%d ends", n)
	}
}

// A game to play through is told with the reach of its line; a set-up for all lines is counted in
// all of them; a place that is passed twice is looked at once.
func TestReachesAndPlaces(t *testing.T) {
	p := gamesOf(t, repeated(3, "1-0 300: e4 e5 Nf3 Nc6 Bb5 a6")...)
	got := Models([]fact.Exit{{Line: fields("e4 e5 Nf3 Nc6 Bb5 a6"), Reach: 0.4, Lo: 0.3, Hi: 0.5}}, bookOf(t, "1. d4 *"), nil, Games{All: p.Games, Tree: p.Tree(board.Black)}, today, profile.Blitz)
	if len(got) != 1 || got[0].Reach != 0.4 {
		t.Errorf("%+v", got)
	}
	fine := NewFine(walked(bookOf(t, "1. e4 e5 (1... c5 2. c3) (1... e6 2. d4) 2. Nf3 *"), chances{"e4": "e5 45 5 c5 30 3 e6 25 2"}))
	if got := Surprise(fine, nil, nil, nil).SetUp; !slices.Equal(got, fields("e4 Nf3")) {
		t.Errorf("%q", got)
	}
	twice := gamesOf(t, repeated(3, "1-0 300: Nf3 Nf6 Nc3 Nc6 Nb1 Nb8 Nc3 Nc6")...)
	seen := map[string]int{}
	for _, pos := range usualPlaces(twice.Tree(board.Black), bookOf(t, "1. Nf3 Nf6 2. Nc3 Nc6 3. Nb1 Nb8 4. Nc3 *")) {
		seen[pos.EPD()]++
	}
	for epd, n := range seen {
		if n > 1 {
			t.Errorf("%d times %s", n, epd)
		}
	}
	if len(seen) == 0 {
		t.Error("no place")
	}
}

// A side may castle while one of its rights is left; what became of each is told of its own king.
func TestCastlingLeft(t *testing.T) {
	for way, want := range map[string][2]string{
		"e4 e5 Nf3 Nc6 Rg1 Rb8":                     {fact.MayCastle, fact.MayCastle},
		"h4 a5 Rh3 Ra6":                             {fact.MayCastle, fact.MayCastle},
		"e4 e5 Ke2 Nf6":                             {fact.LostCastling, fact.MayCastle},
		"e4 e5 Nf3 Ke7":                             {fact.MayCastle, fact.LostCastling},
		"e4 e5 Nf3 Nf6 Bc4 Bc5 O-O d6":              {fact.CastledShort, fact.MayCastle},
		"d4 d5 Nc3 Nc6 Bf4 Bf5 Qd2 Qd7 O-O-O O-O-O": {fact.CastledLong, fact.CastledLong},
	} {
		at := lineOf(way)
		if white, black := kings(&at); [2]string{white, black} != want {
			t.Errorf("%s: %s and %s", way, white, black)
		}
		s := Structure(&at)
		if s.White.King != want[0] || s.Black.King != want[1] || s.White.Men.Pawns+s.Black.Men.Pawns != 16 {
			t.Errorf("%s: %+v", way, s)
		}
	}
	uneven := lineOf("e4 d5 exd5 Qxd5 Nc3 Qxd2+ Bxd2")
	if s := Structure(&uneven); s.White.Material != 37 || s.Black.Material != 29 || s.White.Men.Queens != 1 || s.Black.Men.Queens != 0 || s.White.Men.Pawns != 6 || s.Black.Men.Pawns != 7 {
		t.Errorf("%+v", s)
	}
}

// An order of theirs is told from their second move on, and where it comes in two games of a hundred.
func TestOrderOfTheirsAtItsEdges(t *testing.T) {
	const book = "1. e4 d6 2. d4 Nf6 3. Nc3 g6 4. f4 *"
	p := gamesOf(t, slices.Concat(repeated(3, "1-0 300: e4 d6 d4 g6 Nc3 Nf6 f4"), repeated(7, "1-0 300: e4 d6 d4 g6 Nc3 Bg7 f4"), repeated(4, "1-0 300: e4 d6 d4 Nf6 Nc3 g6 f4"))...)
	games := Games{All: p.Games, Tree: p.Tree(board.Black)}
	for share, want := range map[int]int{2: 1, 1: 0} {
		look := chances{"e4": "d6 100 16", "e4 d6 d4": fmt.Sprintf("Nf6 %d 4 g6 %d 12", 100-share, share), "e4 d6 d4 Nf6 Nc3": "g6 100 4", "e4 d6 d4 g6 Nc3": "Bg7 70 7 Nf6 30 3"}
		if got := Orders(walked(bookOf(t, book), look), games); len(got) != want {
			t.Errorf("in %d of a hundred: %+v", share, got)
		}
	}
	first := "1. e4 e6 2. d4 d5 3. Nc3 *"
	q := gamesOf(t, slices.Concat(repeated(3, "1-0 300: e4 d5 d4 e6 Nc3"), repeated(7, "1-0 300: e4 d5 d4 c6 Nc3"), repeated(6, "1-0 300: e4 e6 d4 d5 Nc3"))...)
	look := chances{"e4": "e6 40 6 d5 60 10", "e4 e6 d4": "d5 100 6", "e4 d5 d4": "c6 70 7 e6 30 3"}
	if got := Orders(walked(bookOf(t, first), look), Games{All: q.Games, Tree: q.Tree(board.Black)}); len(got) != 0 {
		t.Errorf("another first move is another opening: %+v", got)
	}
}

// A meeting of the user's own games is told for the book of the colour the user had there, whose
// file and number it keeps.
func TestMeetingOfYourFile(t *testing.T) {
	own := gamesAs(t, board.White, "2026.01.05 0-1 300: d4 d5 c4 e6").Games[0] // the user had White
	row := meeting([]*book.Book{bookAs(t, board.Black, "1. d4 Nf6 *"), bookOf(t, "1. d4 d5 2. Nf3 *")}, &own, true)
	want := fact.GameRow{Date: own.Date, White: "Them", Black: "Elm", Theirs: "black", Result: "0-1", Score: "1", Class: "blitz", ECO: row.ECO, Opening: row.Opening,
		Moves: fields("d4 d5 c4 e6"), LeftBy: fact.LeftByYou, LeftPly: 2, Answer: "Nf3", File: "games.pgn", Game: 1}
	if !reflect.DeepEqual(row, want) {
		t.Errorf("got\n  %+v\nwant\n  %+v", row, want)
	}
}
