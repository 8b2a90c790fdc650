package fetch

import (
	"fmt"
	"strings"
	"testing"

	"foreply/fetch/pgn"
)

var bothSpellings = Options{Who: Who{Names: []string{career, "Elder,M"}}}

// Two collections of one career: every game once, no two games joined.
func TestTwoCollections(t *testing.T) {
	for seed := range uint64(3) {
		one, two := twoCollections(seed)
		dir := folder(t, "1.pgn", one, "2.pgn", two)
		r := run(t, bothSpellings, dir)
		common := r.Files[0].Games + r.Files[1].Games - inAll
		missed, joined := judge(r.games, inAll)
		t.Logf("%d and %d games, %d in common: %d pairs found, %d missed, %d games joined that differ",
			r.Files[0].Games, r.Files[1].Games, common, r.Duplicates, missed, joined)
		clashes := map[pgn.Kind]int{}
		for _, p := range r.Problems {
			clashes[p.Kind]++
		}
		if joined > 0 || missed > common/50 || r.Duplicates != common-missed {
			t.Errorf("seed %d: missed %d, wrongly joined %d, kept %d", seed, missed, joined, r.Kept)
		}
		if clashes[PerhapsTwice] < missed {
			t.Errorf("seed %d: of %d pairs missed, %d are named", seed, missed, clashes[PerhapsTwice])
		}
		if clashes[pgn.ResultClash] == 0 || clashes[DateClash] == 0 || clashes[NameClash] == 0 {
			t.Errorf("contradictions %v", clashes)
		}
		if got := run(t, bothSpellings, dir+"/2.pgn", dir+"/1.pgn"); got.Kept != r.Kept {
			t.Errorf("in the other order: kept %d", got.Kept)
		}
	}
}

// judge counts games that stand twice and games that vanished in others.
func judge(games []*pgn.Game, n int) (missed, joined int) {
	seen := make([]int, n)
	for _, g := range games {
		var id int
		fmt.Sscan(g.Tags().Get("TestId"), &id)
		seen[id]++
	}
	for _, times := range seen {
		switch {
		case times == 0:
			joined++
		case times > 1:
			missed += times - 1
		}
	}
	return missed, joined
}

// A game of 32 half-moves, castling on both sides, in two notations.
const (
	playable = "1. e4 c5 2. Nf3 Nc6 3. d4 cxd4 4. Nxd4 Nf6 5. Nc3 d6 6. Bg5 e6 7. Qd2 Be7 8. O-O-O O-O 9. f4 Nxd4 10. Qxd4 Qa5 " +
		"11. Bc4 Bd7 12. e5 dxe5 13. fxe5 Bc6 14. Bd2 Nd7 15. Nd5 Qd8 16. Nxe7+ Qxe7"
	playableUCI = "e2e4 c7c5 g1f3 b8c6 d2d4 c5d4 f3d4 g8f6 b1c3 d7d6 c1g5 e7e6 d1d2 f8e7 e1c1 e8g8 f2f4 c6d4 d2d4 d8a5 " +
		"f1c4 c8d7 e4e5 d6e5 f4e5 d7c6 g5d2 f6d7 c3d5 a5d8 d5e7 d8e7"
)

// line makes n half-moves; seed tells lines apart.
func line(n int, seed string) string {
	var out []string
	for i := range n {
		out = append(out, fmt.Sprintf("%s%d", seed, i%8+1))
	}
	return strings.Join(out, " ")
}

func TestSameGameTwice(t *testing.T) {
	const me, you = "Alder, Mina", "Brook, Tomas"
	day := func(d string, more ...string) []string { return append([]string{"Date", d}, more...) }
	type copyOf struct {
		white, black, moves, result string
		tags                        []string
	}
	long, mid, short, draw := line(80, "a"), line(30, "a"), line(8, "a"), line(20, "a")
	for _, c := range []struct {
		quirk    string
		one, two copyOf
		same     bool
	}{
		{"word for word",
			copyOf{me, you, long, "1-0", day("2019.03.02")}, copyOf{me, you, long, "1-0", day("2019.03.02")}, true},
		{"the moves in UCI's notation, the date by the year",
			copyOf{me, you, playable, "1-0", day("2019.03.02")}, copyOf{me, you, playableUCI, "1-0", day("2019.??.??")}, true},
		{"the same squares, but of another piece",
			copyOf{me, you, playable, "1-0", day("2019.03.02")}, copyOf{me, you, strings.Replace(playable, "4. Nxd4", "4. Qxd4", 1), "1-0", day("2019.??.??")}, false},
		{"short draw, same day, the other's initial only",
			copyOf{me, you, draw, "1/2-1/2", day("2019.03.02")}, copyOf{me, "Brook,T", draw, "1/2-1/2", day("2019.03.02")}, false},
		{"short draw on another day of the year",
			copyOf{me, you, draw, "1/2-1/2", day("2019.03.02")}, copyOf{me, you, draw, "1/2-1/2", day("2019.09.02")}, false},
		{"short draw, one has the year only",
			copyOf{me, you, draw, "1/2-1/2", day("2019.03.02")}, copyOf{me, you, draw, "1/2-1/2", day("2019.??.??")}, false},
		{"draw in 22 moves, one has the year only",
			copyOf{me, you, line(44, "a"), "1/2-1/2", day("2019.03.02")}, copyOf{me, you, line(44, "a"), "1/2-1/2", day("2019.??.??")}, true},
		{"short draw, same day, other rounds of a match",
			copyOf{me, you, draw, "1/2-1/2", day("2019.03.02", "Round", "1")}, copyOf{me, you, draw, "1/2-1/2", day("2019.03.02", "Round", "2")}, false},
		{"very short draw, same day and round, one with the board",
			copyOf{me, you, short, "1/2-1/2", day("2019.03.02", "Round", "4")}, copyOf{me, you, short, "1/2-1/2", day("2019.03.02", "Round", "4.7")}, true},
		{"very short draw, same day and round word for word",
			copyOf{me, you, short, "1/2-1/2", day("2019.03.02", "Round", "4")}, copyOf{me, you, short, "1/2-1/2", day("2019.03.02", "Round", "4")}, true},
		{"the trap works twice on a day, no times",
			copyOf{me, you, short, "1-0", day("2019.03.02")}, copyOf{me, you, short, "1-0", day("2019.03.02")}, false},
		{"the trap works twice within a minute",
			copyOf{me, you, mid, "1-0", day("2019.03.02", "UTCDate", "2019.03.02", "UTCTime", "18:00:01")},
			copyOf{me, you, mid, "1-0", day("2019.03.02", "UTCDate", "2019.03.02", "UTCTime", "18:00:59")}, false},
		{"a short game fetched twice",
			copyOf{me, you, short, "1-0", day("2019.03.02", "UTCTime", "18:00:01")},
			copyOf{me, you, short, "1-0", day("2019.03.02", "UTCTime", "18:00:01")}, true},
		{"the same link",
			copyOf{me, you, short, "1-0", []string{"Site", "https://example.org/game/1"}},
			copyOf{me, you, short, "1-0", []string{"Site", "https://example.org/game/1"}}, true},
		{"other links",
			copyOf{me, you, mid, "1-0", []string{"Link", "https://example.org/game/1"}},
			copyOf{me, you, mid, "1-0", []string{"Link", "https://example.org/game/2"}}, false},
		{"unfinished after three moves, later finished, same link",
			copyOf{me, you, line(6, "a"), "*", []string{"Link", "https://example.org/game/1"}},
			copyOf{me, you, long, "1-0", []string{"Link", "https://example.org/game/1"}}, true},
		{"the end is missing, result the same",
			copyOf{me, you, line(70, "a"), "1-0", day("2019.03.02")}, copyOf{me, you, long, "1-0", day("2019.03.02")}, true},
		{"the end and the result are missing, the date too",
			copyOf{me, you, line(70, "a"), "*", nil}, copyOf{me, you, long, "1-0", day("2019.03.02")}, true},
		{"a draw in book, later played on, other days",
			copyOf{me, you, line(44, "a"), "1/2-1/2", day("2019.03.02")}, copyOf{me, you, long, "1/2-1/2", day("2020.03.02")}, false},
		{"a draw in book, and a win the same day",
			copyOf{me, you, line(60, "a"), "1/2-1/2", day("2019.03.02")}, copyOf{me, you, long, "1-0", day("2019.03.02")}, false},
		{"two hands wrote the moves, same day and round",
			copyOf{me, you, line(60, "a") + " " + line(20, "b"), "1-0", day("2019.03.02", "Round", "3")},
			copyOf{me, you, line(60, "a") + " " + line(20, "c"), "1-0", day("2019.03.02", "Round", "3")}, true},
		{"two hands wrote the moves, one of them two moves the other way round, same day and round",
			copyOf{me, you, line(10, "a") + " Nf3 Nf6 d4 d5 " + line(50, "b"), "1-0", day("2019.03.02", "Round", "3")},
			copyOf{me, you, line(10, "a") + " d4 d5 Nf3 Nf6 " + line(50, "b"), "1-0", day("2019.03.02", "Round", "3")}, true},
		{"the same in a round of a year",
			copyOf{me, you, line(10, "a") + " Nf3 Nf6 d4 d5 " + line(50, "b"), "1-0", day("2019.??.??", "Round", "3")},
			copyOf{me, you, line(10, "a") + " d4 d5 Nf3 Nf6 " + line(50, "b"), "1-0", day("2019.??.??", "Round", "3")}, true},
		{"the same in a year",
			copyOf{me, you, line(10, "a") + " Nf3 Nf6 d4 d5 " + line(50, "b"), "1-0", day("2019.??.??")},
			copyOf{me, you, line(10, "a") + " d4 d5 Nf3 Nf6 " + line(50, "b"), "1-0", day("2019.??.??")}, false},
		{"a slip and another result",
			copyOf{me, you, line(10, "a") + " Nf3 Nf6 " + line(50, "b"), "1-0", day("2019.??.??", "Round", "3")},
			copyOf{me, you, line(10, "a") + " d4 Nf6 " + line(50, "b"), "1/2-1/2", day("2019.??.??", "Round", "3")}, false},
		{"a slip, a day apart",
			copyOf{me, you, line(10, "a") + " Nf3 Nf6 " + line(50, "b"), "1-0", day("2019.03.02")},
			copyOf{me, you, line(10, "a") + " d4 Nf6 " + line(50, "b"), "1-0", day("2019.03.03")}, true},
		{"a slip in a short game of a day",
			copyOf{me, you, line(10, "a") + " Nf3 Nf6 " + line(16, "b"), "1-0", day("2019.03.02")},
			copyOf{me, you, line(10, "a") + " d4 Nf6 " + line(16, "b"), "1-0", day("2019.03.02")}, false},
		{"a short draw, the day near and the round the same",
			copyOf{me, you, draw, "1/2-1/2", day("2019.03.08", "Round", "7")}, copyOf{me, you, draw, "1/2-1/2", day("2019.03.02", "Round", "7.3")}, true},
		{"seventy half-moves alike, the last ones missing, and another result",
			copyOf{me, you, line(72, "a"), "1-0", day("2019.??.??")}, copyOf{me, you, long, "1/2-1/2", day("2019.??.??")}, true},
		{"a match with one opening: 43 half-moves alike",
			copyOf{me, you, line(43, "a") + " " + line(37, "b"), "1-0", day("1991.??.??", "Round", "6")},
			copyOf{me, you, line(43, "a") + " " + line(41, "c"), "1-0", day("1991.??.??", "Round", "8")}, false},
		{"long and word for word, years apart by a slip",
			copyOf{me, you, long, "1-0", day("2019.03.02")}, copyOf{me, you, long, "1-0", day("2009.03.02")}, true},
		{"the event's first day, other round spelling",
			copyOf{me, you, line(40, "a"), "1-0", day("2019.03.08", "Round", "7")}, copyOf{me, you, line(40, "a"), "1-0", day("2019.03.02", "Round", "7.3")}, true},
		{"the other player has another name, same day, long",
			copyOf{me, you, long, "1-0", day("2019.03.02")}, copyOf{me, "rook77", long, "1-0", day("2019.03.02")}, true},
		{"one trap, two victims, same day",
			copyOf{me, you, mid, "1-0", day("2019.03.02")}, copyOf{me, "Crane, U", mid, "1-0", day("2019.03.02")}, false},
		{"the other player not named",
			copyOf{me, you, mid, "1-0", day("2019.03.02")}, copyOf{me, "?", mid, "1-0", day("2019.03.02")}, true},
		{"colours the other way round",
			copyOf{me, you, long, "1-0", day("2019.03.02")}, copyOf{you, me, long, "1-0", day("2019.03.02")}, false},
		{"two of one surname, numbers differ",
			copyOf{me, "Brook, T", mid, "1-0", day("2019.03.02", "BlackFideId", "111")}, copyOf{me, "Brook, T", mid, "1-0", day("2019.03.02", "BlackFideId", "222")}, false},
		{"other spelling, number the same",
			copyOf{me, "Bruk, T", line(26, "a"), "1-0", day("2019.03.02", "BlackFideId", "111")}, copyOf{me, you, line(26, "a"), "1-0", day("2019.??.??", "BlackFideId", "111")}, true},
		{"results differ, same day and round",
			copyOf{me, you, long, "1-0", day("2019.03.02", "Round", "3")}, copyOf{me, you, long, "0-1", day("2019.03.02", "Round", "3")}, true},
	} {
		t.Run(c.quirk, func(t *testing.T) {
			for _, copies := range [][2]copyOf{{c.one, c.two}, {c.two, c.one}} {
				var text string
				for _, g := range copies {
					text += game(g.white, g.black, g.moves, g.result, g.tags...)
				}
				r := run(t, alder, folder(t, "a.pgn", text))
				if got := r.Duplicates == 1; got != c.same || r.Kept != 2-r.Duplicates {
					t.Errorf("the same: %v, want %v (kept %d)", got, c.same, r.Kept)
				}
			}
		})
	}
}

// Between two collections it takes less, since each of them has a game once.
func TestSameGameInTwoCollections(t *testing.T) {
	const me, you = "Alder, Mina", "Brook, Tomas"
	game := func(rival, moves, result, date, round string) string {
		return game(me, rival, moves, result, "Date", date, "Round", round)
	}
	draw := func(date, round string) string { return game(you, line(20, "a"), "1/2-1/2", date, round) }
	for _, c := range []struct {
		quirk, one, two string
		kept            int
	}{
		{"short draw, one has the year only", draw("2019.03.02", "3"), draw("2019.??.??", "?"), 2},
		{"short draw, other years", draw("2019.03.02", "3"), draw("2018.??.??", "?"), 2},
		{"short draw, other rounds", draw("2019.03.02", "3"), draw("2019.??.??", "5"), 2},
		{"short draw, another day of the year", draw("2019.03.02", "?"), draw("2019.09.02", "?"), 2},
		{"very short draw, one has the year only", game(you, line(8, "a"), "1/2-1/2", "2019.03.02", "3"),
			game(you, line(8, "a"), "1/2-1/2", "2019.??.??", "?"), 2},
		{"very short draw, the event's first day and the round", game(you, line(8, "a"), "1/2-1/2", "2019.03.08", "7"),
			game(you, line(8, "a"), "1/2-1/2", "2019.03.02", "7"), 1},
		{"two draws alike in each", draw("2019.03.02", "3") + draw("2019.09.05", "4"), draw("2019.??.??", "?") + draw("2019.??.??", "?"), 4},
		{"two draws alike in one of them", draw("2019.03.02", "3") + draw("2019.09.05", "4"), draw("2019.??.??", "?"), 3},
		{"the last moves missing, one has the year only", game(you, line(23, "a"), "1/2-1/2", "2019.03.02", "3"),
			game(you, line(20, "a"), "1/2-1/2", "2019.??.??", "?"), 2},
		{"a draw in book, and a long game later in the year", draw("2019.03.02", "3"), game(you, line(60, "a"), "1/2-1/2", "2019.??.??", "?"), 2},
		{"the trap that works against another player", game(you, line(18, "a"), "1-0", "2019.03.02", "3"),
			game("Crane, U", line(18, "a"), "1-0", "2019.??.??", "?"), 2},
	} {
		t.Run(c.quirk, func(t *testing.T) {
			dir := folder(t, "1.pgn", c.one, "2.pgn", c.two)
			if r := run(t, alder, dir); r.Kept != c.kept {
				t.Errorf("kept %d games, want %d", r.Kept, c.kept)
			}
			if r := run(t, alder, dir+"/2.pgn", dir+"/1.pgn"); r.Kept != c.kept {
				t.Errorf("in the other order: kept %d games, want %d", r.Kept, c.kept)
			}
		})
	}
}

func TestJoinedGame(t *testing.T) {
	text := game("Alder, Mina", "Crane, U", line(50, "b"), "1-0") +
		game("Alder, Mina", "Brook,T", line(60, "a"), "*", "Date", "2019.??.??", "Round", "3", "ECO", "B12", "WhiteElo", "2100") +
		game("Alder, Mina", "Dale, V", line(50, "c"), "1-0") +
		game("Alder, Mina", "Brook, Tomas", line(70, "a"), "1-0", "Date", "2019.03.02", "Round", "?", "WhiteElo", "?", "Event", "Open")
	r := run(t, alder, folder(t, "a.pgn", text))
	if r.Kept != 3 || r.Duplicates != 1 || len(r.Problems) != 0 {
		t.Fatalf("%+v", r.Summary)
	}
	got := r.games[1]
	if len(got.Moves) != 70 || got.Index != 4 {
		t.Errorf("%d moves of game %d: the fuller copy gives moves and place, the first one the order", len(got.Moves), got.Index)
	}
	for name, want := range map[string]string{
		"Black": "Brook, Tomas", "Date": "2019.03.02", "Round": "3", "ECO": "B12", "WhiteElo": "2100", "Event": "Open", "Result": "1-0",
	} {
		if v := got.Tags().Get(name); v != want {
			t.Errorf("%s is %q, want %q", name, v, want)
		}
	}
}

// A game that is as well the one as the other of two goes with the first.
func TestJoinedWithTheFirst(t *testing.T) {
	text := game("Alder, Mina", "Brook, T", line(40, "a"), "1-0", "Date", "2019.03.02") +
		game("Alder, Mina", "Brook, U", line(40, "a"), "1-0", "Date", "2019.03.02") +
		game("Alder, Mina", "Brook", line(40, "a"), "1-0", "Date", "2019.03.02", "Annotator", "third")
	r := run(t, alder, folder(t, "a.pgn", text))
	if r.Kept != 2 || r.Duplicates != 1 {
		t.Fatalf("%+v", r.Summary)
	}
	for i, want := range []string{"third", ""} {
		if got := r.games[i].Tags().Get("Annotator"); got != want {
			t.Errorf("game %d has the annotator %q, want %q", i+1, got, want)
		}
	}
}

func TestContradictionsAreReported(t *testing.T) {
	text := game("Alder, Mina", "Brook, T", line(80, "a"), "1-0", "Date", "2019.03.02") +
		game("Alder, Mina", "rook77", line(80, "a"), "0-1", "Date", "2019.03.05")
	r := run(t, alder, folder(t, "a.pgn", text))
	var kinds []string
	for _, p := range r.Problems {
		kinds = append(kinds, string(p.Kind))
		if p.Line != 8 || p.Game != 2 || p.Severity != pgn.Warning || !strings.Contains(p.Message, "a.pgn:1 with ") {
			t.Errorf("%+v", p)
		}
	}
	if got := strings.Join(kinds, ", "); got != "dates differ, results differ, names differ" {
		t.Errorf("problems: %s", got)
	}
}

// Too short to be joined, but the same to the letter: counted twice, and named.
func TestShortCopiesAreNamed(t *testing.T) {
	short := game("Alder, Mina", "Brook, T", line(8, "a"), "1-0", "Date", "2019.03.02")
	other := game("Alder, Mina", "Brook, T", line(8, "a"), "1-0", "Date", "2019.03.02", "WhiteElo", "2100")
	for _, c := range []struct {
		text string
		want int
	}{{short + short, 1}, {short + other, 0}} {
		r := run(t, alder, folder(t, "a.pgn", c.text))
		if r.Kept != 2 || len(r.Problems) != c.want || c.want > 0 && (r.Problems[0].Kind != PerhapsTwice || r.Problems[0].Game != 2) {
			t.Errorf("kept %d, problems %v; want %d of them", r.Kept, r.Problems, c.want)
		}
	}
}

func TestFoldMove(t *testing.T) {
	for _, c := range []struct {
		san, want string
		piece     byte
	}{
		{"Nf3", "f3", 'N'}, {"Nbd7", "d7", 'N'}, {"Nb8-d7+", "d7", 'N'}, {"N1xd7!?", "d7", 'N'}, {"nf3", "f3", 'N'}, {"g1f3", "f3", '?'},
		{"exd5", "d5", 'P'}, {"e4", "e4", 'P'}, {"e2e4", "e4", '?'}, {"e2-e4", "e4", '?'}, {"Pe4", "e4", 'P'}, {"bxc3", "c3", 'P'},
		{"exd6e.p.", "d6", 'P'}, {"e8=Q#", "e8Q", 'P'}, {"e8(q)", "e8Q", 'P'}, {"e7e8n", "e8N", '?'},
		{"O-O", "g1", 'K'}, {"0-0-0+", "c1", 'K'}, {"o-o", "g1", 'K'}, {"e1g1", "g1", '?'}, {"Ke1-g1", "g1", 'K'},
		{"--", "--", '?'}, {"Z0", "Z0", '?'}, {"0000", "0000", '?'}, {"", "", '?'}, {"K", "K", '?'},
	} {
		var out strings.Builder
		if piece := foldMove(&out, []byte(c.san), false); out.String() != c.want || piece != c.piece {
			t.Errorf("%s folds to %q of %c, want %q of %c", c.san, out.String(), piece, c.want, c.piece)
		}
	}
}

func TestCompareMoves(t *testing.T) {
	for _, c := range []struct {
		a, b string
		want overlap
	}{
		{"", "", overlap{0, 0, 0, true, false}},
		{"", "e4", overlap{0, 0, 1, false, true}},
		{"e4 e5", "e4 e5", overlap{2, 2, 2, true, false}},
		{"e4 e5", "e4 e5 Nf3", overlap{2, 2, 3, false, true}},
		{"e4 e5 Nf3", "e4 e5 Nh3 d4", overlap{2, 3, 4, false, false}},
		{"e8", "e8Q", overlap{0, 1, 1, false, false}},
		{"d4", "e4", overlap{0, 1, 1, false, false}},
		{"e4 e5 Nf3 Nc6 Bb5 Nf6 O-O Be7", "e2e4 e7e5 g1f3 b8c6 f1b5 g8f6 e1g1 f8e7", overlap{8, 8, 8, true, false}},
		{"e4 e5 O-O O-O-O", "e4 e5 e1g1 e8c8 e7e8q", overlap{4, 4, 5, false, true}},
		{"e4 d5 exd5", "e4 d5 Nxd5", overlap{2, 3, 3, false, false}},
		{"e4 d5 exd5 Qxd5", "e4 d5 e4d5 Nxd5", overlap{3, 4, 4, false, false}},
	} {
		if got, back := compareMoves(foldText(c.a), foldText(c.b)), compareMoves(foldText(c.b), foldText(c.a)); got != c.want || back != c.want {
			t.Errorf("%q and %q: %+v, %+v, want %+v", c.a, c.b, got, back, c.want)
		}
	}
}

func foldText(text string) folded {
	var moves []pgn.Move
	for san := range strings.FieldsSeq(text) {
		moves = append(moves, pgn.Move{SAN: []byte(san)})
	}
	return foldMoves(moves)
}

// Two games have no more half-moves in common than the shorter one has: those of the
// beginning are not those of the end again.
func TestAlikePlies(t *testing.T) {
	for _, c := range []struct {
		a, b string
		want int
	}{
		{"e4 e5 Nf3", "e4 e5 Nf3", 3}, {"e4 e5 Nf3 Nc6", "e4 e5 Nf3", 3}, {"e4 e5 Nf3 Nc6 Bb5", "e4 d6 Nf3 Nc6 Bb5", 4},
		{"e4 e5 Nf3 Nc6 Bb5", "e4 e5 Bb5", 3}, {"e4 e5", "d4 d5", 0},
	} {
		a, b := foldText(c.a), foldText(c.b)
		if got, back := alikePlies(a, b, compareMoves(a, b)), alikePlies(b, a, compareMoves(b, a)); got != c.want || back != c.want {
			t.Errorf("%q and %q: %d, %d, want %d", c.a, c.b, got, back, c.want)
		}
	}
}
