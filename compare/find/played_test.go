package find

import (
	"reflect"
	"slices"
	"strings"
	"testing"

	"foreply/compare/fact"
	"foreply/fetch/pgn"
	"foreply/profile"
	"foreply/profile/board"
)

func TestNewestAndWholeGames(t *testing.T) {
	var rows []string
	rows = append(rows, repeated(13, "1-0 300 1900: e4 e5 Nf3 Nc6")...)
	rows = append(rows, "2026.06.02 0-1 5400 2110: e4 e5 Nf3 d6 d4 exd4 Nxd4 Nf6 Nc3 Be7 Be2 O-O O-O Re8 Re1 Bf8 Bf3 Nbd7 Bf4 Ne5")
	c := compare(t, gamesOf(t, rows...), "1. e4 e5 2. Nf3 Nc6 (2... d6 3. Bc4) 3. Bb5 *")
	newest, _ := Newest(c.w.Book, nil, c.games)
	if len(newest) != newestGames || newest[0].Date.String() < newest[1].Date.String() {
		t.Fatalf("%d games", len(newest))
	}
	if newest[0].Game != 13 {
		t.Errorf("the newest in which the other player kept to the book is game %d", newest[0].Game)
	}
	g := Whole(c.w.Book, nil, c.games)[0]
	want := fact.PlayedGame{
		Rival: "Elm", RivalElo: 2110, Yours: "0", Speed: "classical", Plies: 20, Telling: 16, LeftBy: fact.LeftByYou, LeftPly: 4, Answer: "Bc4",
		File: "games.pgn", Game: 14,
	}
	if g.Rival != want.Rival || g.RivalElo != want.RivalElo || g.Yours != want.Yours || g.Speed != want.Speed || g.Plies != want.Plies ||
		g.Telling != want.Telling || g.LeftBy != want.LeftBy || g.LeftPly != want.LeftPly || g.Answer != want.Answer || g.File != want.File ||
		g.Game != want.Game || g.FileLine < 13 || len(g.Moves) != 20 {
		t.Errorf("%+v", g)
	}
	if !strings.HasPrefix(g.EPD, "rnbqrbk1/ppp2ppp/3p1n2/8/3NP3/2N5/PPP1BPPP/R1BQR1K1 w") {
		t.Errorf("after eight moves %s", g.EPD)
	}
	if whole := Whole(c.w.Book, nil, c.games); len(whole) != 14 || len(whole[0].Moves) != 20 || whole[13].Yours != "1" {
		t.Errorf("%d games, %+v", len(whole), whole[len(whole)-1])
	}
}

// A game is told to behind the move with which it left the book, however deep that was.
func TestToldToWhereItLeft(t *testing.T) {
	const spanish = "e4 e5 Nf3 Nc6 Bb5 a6 Ba4 Nf6 O-O Be7 Re1 b5 Bb3 d6 c3 O-O h3"
	c := compare(t, gamesOf(t, "2026.01.05 1-0 300 1900: "+spanish+" Na5 Bc2 c5 d4 Qc7"), "1. "+spanish+" *")
	if g := Whole(c.w.Book, nil, c.games)[0]; g.LeftBy != fact.BookOver || g.LeftPly != 17 || g.Telling != 18 || g.Plies != 22 {
		t.Errorf("%+v", g)
	}
}

// The rating beside a game between the two is the user's, from whosever games it is.
func TestRatingOfAMeeting(t *testing.T) {
	theirs := &gamesOf(t, "2026.01.05 1-0 300 1800: e4 e5").Games[0] // the user, 1800, had White
	own := *theirs
	own.Theirs, own.Elo, own.RivalElo, own.Result = board.White, theirs.RivalElo, theirs.Elo, profile.Win
	for name, row := range map[string]fact.GameRow{"theirs": meeting(nil, theirs, false), "yours": meeting(nil, &own, true)} {
		if row.Elo != 1800 || row.Theirs != "black" || row.Score != "0" {
			t.Errorf("%s: %+v", name, row)
		}
	}
}

// A game of another opening says nothing about tonight: where three began as the book does,
// only such games are told; else all are, and it isn't said of them.
func TestNewestBeginAsTheBook(t *testing.T) {
	for name, c := range map[string]struct {
		rows  []string
		games []int
		begun bool
	}{
		"three begin so":         {[]string{"e4 e5", "d4 d5", "e4 c5", "e4 e6", "c4 e5"}, []int{4, 3, 1}, true},
		"only two do":            {[]string{"e4 e5", "d4 d5", "e4 c5"}, []int{3, 2, 1}, false},
		"all do":                 {[]string{"e4 e5", "e4 a6", "e4 c5"}, []int{3, 2, 1}, false},
		"without an answer, too": {[]string{"e4 e5", "e4 a6", "e4 c5", "b3 e5"}, []int{3, 2, 1}, true},
	} {
		t.Run(name, func(t *testing.T) {
			var rows []string
			for _, moves := range c.rows {
				rows = append(rows, "2026.06.01 1-0 5400 2000: "+moves)
			}
			w := compare(t, gamesOf(t, rows...), "1. e4 e5 (1... c5 2. Nf3) 2. Nf3 *")
			list, begun := Newest(w.w.Book, nil, w.games)
			var games []int
			for _, g := range list {
				games = append(games, g.Game)
			}
			if !slices.Equal(games, c.games) || begun != c.begun {
				t.Errorf("games %v, begun %v", games, begun)
			}
		})
	}
}

// A line of four plies has games to play through, too: those that came to its end.
func TestModelGamesOfAShortLine(t *testing.T) {
	var rows []string
	for range 8 {
		rows = append(rows, "2026.06.01 0-1 5400 2000: e4 e5 Nf3 f5 Nxe5 Nf6", "2026.06.02 0-1 5400 2000: e4 e5 Bc4 Nf6")
	}
	c := compare(t, gamesOf(t, rows...), "1. e4 e5 2. Nf3 Nc6 3. Bb5 *")
	for _, m := range Models(Exits(c.w, c.games), c.w.Book, nil, c.games, today, profile.Classical) {
		if line(m.Line) == "e4 e5 Nf3 f5" {
			if len(m.Games) != modelGames || m.Games[0].Deep != 4 {
				t.Errorf("%d games, the first %d plies deep", len(m.Games), m.Games[0].Deep)
			}
			return
		}
	}
	t.Error("the line has none")
}

// Of the games of a line the deep ones first; of those as deep the recent, decided,
// long one of the speed to come. A game is told once.
func TestModelGames(t *testing.T) {
	long := " a6 Ba4 Nf6 O-O Be7 Re1 b5 Bb3 d6 c3 O-O h3 Nb8 d4 Nbd7 Nbd2 Bb7 Bc2 Re8 Nf1 Bf8 Ng3 g6 a4 c5 d5 c4 Bg5 h6 Be3 Nc5 Qd2 h5 Bg5 Be7 axb5 axb5"
	p := gamesOf(t,
		"2026.01.01 1/2-1/2 5400 2000: e4 e5 Nf3 Nc6 Bb5"+long,
		"2026.01.02 0-1 5400 2000: e4 e5 Nf3 Nc6 Bb5"+long,
		"2026.01.03 0-1 300 2000: e4 e5 Nf3 Nc6 Bb5"+long,
		"2026.01.04 0-1 5400 2000: e4 e5 Nf3 Nc6 Bc4 Bc5",
		"2026.01.05 0-1 5400 2000: e4 c5 Nf3 d6",
	)
	c := compare(t, p, "1. e4 e5 (1... c5 2. Nf3) 2. Nf3 Nc6 3. Bb5 a6 4. Ba4 *")
	got := Models(Exits(c.w, c.games), c.w.Book, nil, c.games, today, profile.Classical)
	if len(got) == 0 || strings.Join(got[0].Line, " ") != "e4 e5 Nf3 Nc6 Bb5 a6 Ba4" {
		t.Fatalf("%+v", got)
	}
	var games []int
	for _, m := range got[0].Games {
		games = append(games, m.Game)
		if m.Deep != 7 {
			t.Errorf("game %d came %d plies deep", m.Game, m.Deep)
		}
	}
	if !slices.Equal(games, []int{2, 1}) {
		t.Errorf("games %v", games)
	}
	told := map[int]int{}
	for _, m := range got {
		for _, g := range m.Games {
			if told[g.Game]++; told[g.Game] > 1 {
				t.Errorf("game %d is told twice", g.Game)
			}
		}
	}
}

// What makes a game worth playing through: how deep it came, how recent it is, its speed, a
// result, its length. A game of the day itself is as recent as any.
func TestWorth(t *testing.T) {
	game := func(days int) *profile.Game {
		return &profile.Game{Span: pgn.OneDay(today.First - pgn.Day(days)), Result: profile.Win, Moves: make([]board.Move, 40)}
	}
	is := func(g *profile.Game, deep float64) float64 { return worth(g, deep, today, profile.Classical) }
	old, drawn, short, fast, undated := game(730), game(0), game(0), game(0), game(0)
	drawn.Result, short.Moves, fast.Speed, undated.Span = profile.Draw, short.Moves[:39], profile.Blitz, pgn.Span{}
	for name, c := range map[string]struct{ got, want float64 }{
		"of the day": {is(game(0), 1), 4.5}, "later": {is(game(-3), 1), 4.5}, "two years old": {is(old, 1), 4}, "undated": {is(undated, 1), 3.5},
		"drawn": {is(drawn, 1), 4}, "short": {is(short, 1), 4.25}, "fast": {is(fast, 1), 3.75}, "half as deep": {is(game(0), 0.5), 3.5},
	} {
		if c.got != c.want {
			t.Errorf("%s: worth %.3f, want %.3f", name, c.got, c.want)
		}
	}
}

// A line without a move, something not seen yet at their first, takes no other line's games.
func TestModelGamesOfNoLine(t *testing.T) {
	c := compare(t, gamesOf(t, repeated(4, "1-0 5400 2000: e4 e5 Nf3 Nc6 Bb5 a6")...), "1. e4 e5 2. Nf3 Nc6 3. Bb5 a6 4. Ba4 *")
	exits := []fact.Exit{{Reach: 0.3}, {Line: fields("e4 e5 Nf3 Nc6 Bb5 a6"), Reach: 0.2}}
	got := Models(exits, c.w.Book, nil, c.games, today, profile.Classical)
	if len(got) != 1 || len(got[0].Games) != modelGames || got[0].Games[0].Deep != 6 {
		t.Errorf("%+v", got)
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
