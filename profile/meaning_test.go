package profile

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"foreply/fetch/pgn"
	"foreply/profile/board"
)

// at is a position of a FEN, with a move in it.
func at(t *testing.T, fen, move string) (board.Position, board.Move) {
	t.Helper()
	pos, err := board.ParseFEN(fen)
	if err != nil {
		t.Fatal(err)
	}
	m, err := pos.Resolve([]byte(move))
	if err != nil {
		t.Fatal(fen, move, err)
	}
	return pos, m
}

// Each thing that makes a move natural, for both sides: with colours and ranks the other
// way round a move has the same.
func TestFeaturesOfMoves(t *testing.T) {
	names := [...]string{"pawn", "knight", "bishop", "rook", "queen", "king", "castles", "takes", "back", "favourably", "into", "from",
		"develops", "retreats", "again", "centre", "double", "edge", "middle", "rim", "blocks", "attacks"}
	for _, c := range []struct{ quirk, fen, move, want string }{
		{"a centre pawn, two steps", "4k3/8/8/8/8/8/3PP3/4K3 w - - 0 1", "e4", "pawn1 centre1 double1 middle3"},
		{"a centre pawn, one step", "4k3/8/8/8/8/8/3PP3/4K3 w - - 0 1", "d3", "pawn1 centre1 middle2"},
		{"a bishop's pawn", "4k3/8/8/8/8/8/2P5/4K3 w - - 0 1", "c3", "pawn1 middle2"},
		{"the rook's pawns", "4k3/8/8/8/8/8/P6P/4K3 w - - 0 1", "h3", "pawn1 edge1 middle0"},
		{"the other rook's pawn, two steps", "4k3/8/8/8/8/8/P6P/4K3 w - - 0 1", "a4", "pawn1 edge1 double1 middle0"},
		{"a pawn attacks a knight on either side", "4k3/8/8/2n1n3/8/8/3P4/4K3 w - - 0 1", "d4", "pawn1 centre1 double1 middle3 attacks2"},
		{"a pawn attacks no pawn, nor its own", "4k3/8/8/2p1N3/8/8/3P4/4K3 w - - 0 1", "d4", "pawn1 centre1 double1 middle3"},
		{"no attack over the edge", "4k3/8/8/7n/8/8/P7/4K3 w - - 0 1", "a4", "pawn1 edge1 double1 middle0"},
		{"short castling", "4k3/8/8/8/8/8/8/4K2R w K - 0 1", "O-O", "king1 castles1 middle0"},
		{"long castling", "4k3/8/8/8/8/8/8/R3K3 w Q - 0 1", "O-O-O", "king1 castles1 middle0"},
		{"a king's step", "4k3/8/8/8/8/8/8/4K2R w K - 0 1", "Kf2", "king1 middle1"},
		{"a knight develops", "4k3/8/8/8/8/8/8/4K1N1 w - - 0 1", "Nf3", "knight1 develops1 middle2"},
		{"a knight to the rim", "4k3/8/8/8/8/8/8/4K1N1 w - - 0 1", "Nh3", "knight1 develops1 middle0 rim1"},
		{"a knight to the other rim", "4k3/8/8/8/8/8/8/1N2K3 w - - 0 1", "Na3", "knight1 develops1 middle0 rim1"},
		{"a knight moves on", "4k3/8/8/8/8/5N2/8/4K3 w - - 0 1", "Ne5", "knight1 again1 middle3"},
		{"a knight goes home", "4k3/8/8/8/8/5N2/8/4K3 w - - 0 1", "Ng1", "knight1 again1 retreats1 middle0"},
		{"a bishop stands before the pawn", "4k3/8/8/8/8/8/3P4/4KB2 w - - 0 1", "Bd3", "bishop1 develops1 middle2 blocks1"},
		{"a bishop before a pawn that has moved", "4k3/8/8/8/8/3P4/8/4KB2 w - - 0 1", "Be2", "bishop1 develops1 middle1"},
		{"a bishop before the bishop's pawn", "4k3/8/8/8/8/8/2P5/B3K3 w - - 0 1", "Bc3", "bishop1 develops1 middle2"},
		{"a rook, which neither develops nor blocks", "4k3/8/8/8/8/8/3P4/R3K3 w - - 0 1", "Ra3", "rook1 middle0"},
		{"a queen before the pawn", "4k3/8/8/8/8/8/4P3/3QK3 w - - 0 1", "Qd3", "queen1 middle2"},
		{"a queen back home", "4k3/8/8/8/8/8/3Q4/4K3 w - - 0 1", "Qd1", "queen1 retreats1 middle0"},
		{"taking more than it is worth, behind", "3qk3/8/8/4r3/8/5N2/8/4K3 w - - 0 1", "Nxe5", "knight1 takes5 back1 favourably2 again1 middle3"},
		{"taking as much, not behind", "3qk3/8/8/4b3/8/3Q1N2/8/4K3 w - - 0 1", "Nxe5", "knight1 takes3 again1 middle3"},
		{"taking less, behind by a pawn", "4k3/pp6/8/3p4/8/2N5/8/4KN2 w - - 0 1", "Nxd5", "knight1 takes1 again1 middle3"},
		{"a pawn takes a piece, a pawn behind", "4k3/p7/8/3n4/4P3/8/8/4K3 w - - 0 1", "exd5", "pawn1 takes3 back1 favourably2 centre1 middle3"},
		{"en passant", "4k3/8/8/3pP3/8/8/8/4K3 w - d6 0 1", "exd6", "pawn1 takes1 centre1 middle2"},
		{"to where a pawn takes", "4k3/8/3p4/8/8/5N2/8/4K3 w - - 0 1", "Ne5", "knight1 again1 into1 middle3"},
		{"taking there is another matter", "4k3/8/3p4/4p3/8/5N2/8/4K3 w - - 0 1", "Nxe5", "knight1 takes1 back0 again1 middle3"},
		{"away from a pawn", "4k3/8/8/8/4p3/5N2/8/4K3 w - - 0 1", "Nd4", "knight1 again1 from1 middle3"},
		{"a bishop, away from one pawn to another", "4k3/8/8/4p3/4p3/5B2/8/3NK3 w - - 0 1", "Bg4", "bishop1 again1 from1 middle1"},
	} {
		for _, mirrored := range []bool{false, true} {
			fen, move := c.fen, c.move
			if mirrored {
				fen, move = mirror(fen), mirrorMove(move)
			}
			pos, m := at(t, fen, move)
			var got [features]float64
			eachFeature(&pos, m, materialBehind(&pos), func(f feature, x float64) { got[f] += x })
			var want [features]float64
			for word := range strings.FieldsSeq(c.want) {
				for f, name := range names {
					if n, ok := strings.CutPrefix(word, name); ok && len(n) == 1 {
						want[f] = float64(n[0] - '0')
					}
				}
			}
			if got != want {
				t.Errorf("%s, mirrored %v: %v, want %v", c.quirk, mirrored, got, want)
			}
		}
	}
}

// mirror turns a position so that Black has what White had.
func mirror(fen string) string {
	f := strings.Fields(fen)
	ranks := strings.Split(f[0], "/")
	for i, j := 0, len(ranks)-1; i < j; i, j = i+1, j-1 {
		ranks[i], ranks[j] = ranks[j], ranks[i]
	}
	swap := func(s string) string {
		return strings.Map(func(r rune) rune {
			switch {
			case r >= 'a' && r <= 'z':
				return r - 32
			case r >= 'A' && r <= 'Z':
				return r + 32
			}
			return r
		}, s)
	}
	turn := "b"
	if f[1] == "b" {
		turn = "w"
	}
	return strings.Join([]string{swap(strings.Join(ranks, "/")), turn, swap(f[2]), mirrorMove(f[3]), f[4], f[5]}, " ")
}

func mirrorMove(move string) string {
	return strings.Map(func(r rune) rune {
		if r >= '1' && r <= '8' {
			return '1' + '8' - r
		}
		return r
	}, move)
}

// Natural chances are in proportion to exp(power times the features' numbers): three moves
// of a king alone, of which none differs but by how near the middle it goes.
func TestNaturalByHand(t *testing.T) {
	pos, _ := at(t, "7k/8/8/8/8/8/8/K7 w - - 0 1", "Kb1")
	legal := pos.Legal(nil)
	p := make([]float64, len(legal))
	natural(&pos, legal, 0.5, p)
	near := math.Exp(0.5 * 0.40) // Kb2 is one from the edge, Ka2 and Kb1 stay on it
	for i, m := range legal {
		want := 1 / (2 + near)
		if m.UCI() == "a1b2" {
			want = near / (2 + near)
		}
		if math.Abs(p[i]-want) > 1e-12 {
			t.Errorf("%s: %v, want %v", m.UCI(), p[i], want)
		}
	}
}

// A game that comes to a position again counts once, by its first move there.
func TestSlipOfARepetition(t *testing.T) {
	again := "1. Nf3 Nf6 2. Ng1 {[%eval 0.0]} Ng8 {[%eval 2.0]} 3. Nf3 {[%eval 0.0]} Nf6 {[%eval 0.0]} 4. Ng1 e5"
	other := "1. Nf3 Nf6 2. Ng1 e5"
	p := annotated(t, evaluated("2026.01.01", "300", again)+evaluated("2026.01.02", "300", other)+evaluated("2026.01.03", "300", "1. Nf3 Nf6 2. Ng1 d5")+
		evaluated("2026.01.04", "300", "1. Nf3 Nf6 2. Ng1 d5")+evaluated("2026.01.05", "300", "1. Nf3 Nf6 2. Ng1 d5"))
	found := p.Slips(board.Black, nil)
	if len(found) != 1 {
		t.Fatalf("%+v", found)
	}
	s := found[0]
	if got := fmt.Sprintln(s.Position.SAN(s.Move), s.Before, s.After, s.Games, s.Visits, s.Since, s.Position.SAN(s.Instead)); got != "Ng8 0 -200 [0] 5 [1 2 3 4] d5\n" {
		t.Error(got)
	}
}

// The commonest slip comes first, then the earlier one; of means those of all games that
// tell count.
func TestSlipsInOrder(t *testing.T) {
	a := "1. e4 {[%eval 0.2]} e5 {[%eval 0.2]} 2. Nf3 {[%eval 0.2]} f6 {[%eval 1.6]} 3. Nxe5"
	b := "1. e4 {[%eval 0.2]} e5 {[%eval 0.2]} 2. Nf3 {[%eval 0.4]} f6 {[%eval 1.8]} 3. Nxe5"
	c := "1. d4 {[%eval 0.1]} g5 {[%eval 1.3]} 2. Bxg5 {[%eval 1.3]} f6 {[%eval 2.9]}"
	p := annotated(t, evaluated("2026.01.01", "300", c)+evaluated("2026.01.02", "300", a)+evaluated("2026.01.03", "300", b))
	var got []string
	for _, s := range p.Slips(board.Black, nil) {
		got = append(got, fmt.Sprintf("%s %d to %d in %v", s.Position.SAN(s.Move), s.Before, s.After, s.Games))
	}
	if want := "f6 -30 to -170 in [1 2], g5 -10 to -130 in [0], f6 -130 to -290 in [0]"; strings.Join(got, ", ") != want {
		t.Errorf("%s, want %s", strings.Join(got, ", "), want)
	}
}

// All that a change tells, of a habit dropped deeper in the game for several moves; what was
// played too long ago to be compared is counted beside.
func TestAllOfAChange(t *testing.T) {
	var rows []string
	for i := range 40 {
		rows = append(rows, "e4 e5 "+map[bool]string{false: "Nf3 Nc6", true: "Nc3 Nf6"}[i%20 == 9])
	}
	for i := range 12 {
		rows = append(rows, "e4 e5 "+[]string{"f4 d5", "Bc4 Nf6", "f4 exf4", "Nc3 Nc6"}[i%4])
	}
	p := careerOf(rows)
	found := p.Changes(board.White, on("2020.09.01"))
	if len(found) != 1 {
		t.Fatalf("%d changes", len(found))
	}
	c := &found[0]
	line := ""
	for _, m := range c.Line {
		line += " " + m.UCI()
	}
	got := fmt.Sprintf("%s after%s, %s %q; up %v: %d of %d, %d of %d; now %s %d, past %s %d; all %d of %d; since %s, last %s", c.Position.SAN(c.Move), line, c.Group, c.Speed, c.Up,
		c.N, c.Of, c.PastN, c.PastOf, c.Position.SAN(c.Now), c.NowN, c.Position.SAN(c.Past), c.FormerN, c.AllN, c.AllOf, c.Since.Date, c.Last.Date)
	if want := `Nf3 after e2e4 e7e5, slow "slow"; up false: 0 of 12, 38 of 40; now f4 6, past Nf3 38; all 38 of 40; since 2020-04-30, last 2020-04-27`; got != want {
		t.Errorf("%s, want\n%s", got, want)
	}
}

// A profile of some of the games has trees of its own: of those games alone, each colour's.
func TestOnlySomeGames(t *testing.T) {
	p := annotated(t, strings.Replace(evaluated("2026.01.01", "300", "1. e4 e5"), `[White "Other"]`, `[White "Them"]`, 1)+
		evaluated("2026.01.02", "300", "1. d4 d5")+evaluated("2026.01.03", "60", "1. c4 e5")+evaluated("2026.01.04", "300", "1. d4 f5"))
	blitz := p.Only(func(g *Game) bool { return g.Class == Blitz })
	start := board.Start()
	got := fmt.Sprint(len(blitz.Games), blitz.Count(board.White), blitz.Count(board.Black))
	for _, c := range []board.Color{board.White, board.Black} {
		n := blitz.Tree(c).At(start.Key())
		got += fmt.Sprint("; ", n.Count)
		for _, e := range n.Edges {
			got += fmt.Sprint(" ", e.Move.UCI(), e.Count, pgn.NumberedDate(e.LastDate))
		}
	}
	if want := "3 1 2; {1 1 0 0 0} e2e4{1 1 0 0 0} 2026-01-01; {2 0 0 2 0} d2d4{2 0 0 2 0} 2026-01-04"; got != want || len(p.Games) != 4 {
		t.Errorf("%s, want %s", got, want)
	}
}

// A dump is a line for each position, the moves in it, the commonest first.
func TestDump(t *testing.T) {
	c := NewCounts(2)
	for g := range gamesOf("2026.01.02 1-0 -: e4 e5", "2026.01.01 0-1 -: d4", "2026.01.03 1/2-1/2 -: d4", "2026.01.04 * -: e4 c5", "2026.??.?? 1-0 -: e4") {
		c.Add(g)
	}
	var b strings.Builder
	if err := c.Dump(&b); err != nil {
		t.Fatal(err)
	}
	after := func(moves ...string) string {
		pos := board.Start()
		for _, san := range moves {
			m, err := pos.Resolve([]byte(san))
			if err != nil {
				t.Fatal(err)
			}
			pos.Play(m)
		}
		return fmt.Sprintf("%016x", pos.Key())
	}
	for _, want := range []string{
		after() + " 5 2 1 1 e2e4 3 2 0 0 20260104 " + after("e4") + " d2d4 2 0 1 1 20260103 " + after("d4") + "\n",
		after("e4") + " 2 1 0 0 c7c5 1 0 0 0 20260104 " + after("e4", "c5") + " e7e5 1 1 0 0 20260102 " + after("e4", "e5") + "\n",
		after("d4") + " 0 0 0 0\n", after("e4", "e5") + " 0 0 0 0\n",
	} {
		if text := "\n" + b.String(); !strings.Contains(text, "\n"+want) {
			t.Errorf("%s has no line %s", text, want)
		}
	}
}

// All that is known of a game, from the opponent's side: colours, ratings, the rival, the
// place, the result, the days.
func TestAllOfAGame(t *testing.T) {
	text := "[White \"Other\"]\n[Black \"Them\"]\n[Date \"2026.02.??\"]\n[Result \"0-1\"]\n[WhiteElo \"1900\"]\n[BlackElo \"2100\"]\n[TimeControl \"300\"]\n\n1. e4 {[%eval 0.3]} e5 {[%emt 0:00:07]} 0-1\n\n"
	p := annotated(t, "[White \"Them\"]\n[Black \"Ash\"]\n[Date \"2026.03.04\"]\n[WhiteElo \"2110\"]\n[BlackElo \"1800\"]\n[Result \"0-1\"]\n\n1. d4 {[%emt 0:00:03]} d5 {[%emt 0:00:09]} 2. c4 *\n\n"+text)
	var got []string
	for i := range p.Games {
		g := &p.Games[i]
		seconds, _ := g.Spent(1)
		eval, _ := g.Eval(1, board.Black)
		got = append(got, fmt.Sprint(g.File, ":", g.Line, " game ", g.Index, " ", g.Theirs, " against ", g.Rival().Name, ", ", g.Elo, " against ", g.RivalElo, ", ", g.Result.Points(), ", ",
			g.Span.First, " to ", g.Span.Last, ", ", g.Class, ", ", len(g.Moves), " plies, ", seconds, "s, ", eval))
	}
	want := []string{"notes.pgn:10 game 2 black against Other, 2100 against 1900, 1, 2026-02-01 to 2026-02-28, blitz, 2 plies, 7s, -30",
		"notes.pgn:1 game 1 white against Ash, 2110 against 1800, 0, 2026-03-04 to 2026-03-04, unknown, 3 plies, 3s, 0"}
	if strings.Join(got, "\n") != strings.Join(want, "\n") {
		t.Errorf("%s\nwant\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
}

// A time is kept in tenths; a clock set anew by a second or more tells nothing, but at the
// first move, where it has its increment already.
func TestTenths(t *testing.T) {
	for _, c := range []struct {
		seconds float64
		first   bool
		want    uint16
	}{{0, false, 0}, {1.24, false, 12}, {1.26, false, 13}, {-0.9, false, 0}, {-1, false, NoTime}, {-1, true, 0}, {-30, true, 0}, {math.NaN(), false, NoTime}, {math.NaN(), true, NoTime}, {9999, false, NoTime - 1}} {
		if got := tenths(c.seconds, c.first); got != c.want {
			t.Errorf("%v, first %v: %d, want %d", c.seconds, c.first, got, c.want)
		}
	}
}

// Who is of which result, and older than whom.
func TestResultsAndAges(t *testing.T) {
	for result, want := range map[string][2]string{"1-0": {"1", "0"}, "0-1": {"0", "1"}, "1/2-1/2": {"½", "½"}, "*": {"*", "*"}, "": {"*", "*"}} {
		if got := [2]string{resultFor(board.White, result).Points(), resultFor(board.Black, result).Points()}; got != want {
			t.Errorf("%s is %v for White and Black, want %v", result, got, want)
		}
	}
	if (Results{Win: 0.5, Draw: 0.2, Loss: 0.3}).Score() != 0.6 {
		t.Error("half a point for a draw")
	}
	of := func(date, began, file string, index int) *Game {
		g := &pgn.Game{File: file, Index: index}
		g.SetTags(pgn.Tags{{Name: "Date", Value: date}, {Name: "UTCTime", Value: began}})
		out := newGame(g, board.White, nil)
		return &out
	}
	order := []*Game{of("????.??.??", "12:00:00", "z", 9), of("2026.01.01", "", "z", 9), of("2026.01.??", "", "a", 1), of("2026.01.20", "", "a", 1), of("2026.01.20", "10:00:00", "a", 1), of("2026.01.20", "10:00:01", "a", 1),
		of("2026.01.20", "10:00:01", "a", 2), of("2026.01.20", "10:00:01", "b", 1)}
	for i := range order {
		for k := range order {
			if got := older(order[i], order[k]) < 0; got != (i < k) {
				t.Errorf("game %d before game %d: %v", i, k, got)
			}
		}
	}
}
