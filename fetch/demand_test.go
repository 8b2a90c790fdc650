package fetch

import (
	"testing"
)

// A beginning has nearly all of a game if it lacks ten half-moves and a fifth at most.
func TestNearlyAll(t *testing.T) {
	for _, c := range []struct {
		shorter, longer int
		want            bool
	}{{40, 50, true}, {39, 50, false}, {90, 100, true}, {89, 100, false}, {36, 45, true}, {31, 39, false}, {4, 5, true}, {3, 4, false}} {
		if got := (overlap{shorter: c.shorter, longer: c.longer}).nearlyAll(); got != c.want {
			t.Errorf("%d of %d half-moves: %v", c.shorter, c.longer, got)
		}
	}
}

// A partner in another file is better evidence than any in the game's own, where a game
// stands seldom twice; within a file tags that prove the occasion come before dates, and
// these before the number of moves.
func TestEvidenceOfTwoFilesFirst(t *testing.T) {
	copyIn := func(file, tags string, plies int) *gameCopy {
		text := "[White \"Elder, M\"]\n[Black \"Rowan, Tom\"]\n[Result \"1-0\"]\n" + tags + "\n" + line(plies, "a") + " 1-0\n"
		for g := range read(text) {
			g = g.Clone()
			g.File = file
			return newCopy(g, true)
		}
		t.Fatal("no game")
		return nil
	}
	const proven, dated = "[Date \"2026.01.05\"]\n[UTCTime \"10:00:00\"]\n", "[Date \"2026.01.05\"]\n"
	game := copyIn("a.pgn", proven, 60)
	strength := func(file, tags string, plies int) int {
		_, s := game.compare(copyIn(file, tags, plies))
		return s
	}
	last := 1 << 20
	for _, c := range []struct {
		name string
		what int
	}{
		{"another file, proven", strength("b.pgn", proven, 60)}, {"another file, the day", strength("b.pgn", dated, 60)},
		{"this file, proven", strength("a.pgn", proven, 60)}, {"this file, the day", strength("a.pgn", dated, 60)}, {"this file, a day near it", strength("a.pgn", "[Date \"2026.01.09\"]\n", 60)},
	} {
		if c.what >= last {
			t.Errorf("%s: evidence of %d, no less than the one before", c.name, c.what)
		}
		last = c.what
	}
}

// A draw, or a result that one of the two doesn't give, takes more moves; not where the
// tags prove or exclude one occasion.
func TestPliesThatMakeOneGame(t *testing.T) {
	won, drawn, unknown := &gameCopy{score: "1-0"}, &gameCopy{score: "1/2-1/2"}, &gameCopy{}
	day, none := occasion{when: agrees, dates: coincides}, occasion{when: unsaid, dates: unsaid}
	for _, c := range []struct {
		name     string
		a, b     *gameCopy
		tags     occasion
		one, two int
	}{
		{"won, the same day", won, won, day, 20, 12}, {"won, undated", won, won, none, 30, 20},
		{"drawn, the same day", drawn, drawn, day, 40, 30}, {"one without a result", won, unknown, day, 40, 30}, {"the other without", unknown, won, none, 40, 30},
		{"drawn, with a round", drawn, drawn, occasion{when: agrees, dates: agrees, close: true}, 12, 4},
		{"drawn, proven", drawn, drawn, occasion{when: coincides}, 1, 1}, {"won, excluded", won, won, occasion{when: differs}, 50, 50},
	} {
		if one, two := inOneFile.plies(c.a, c.b, c.tags), inTwoFiles.plies(c.a, c.b, c.tags); one != c.one || two != c.two {
			t.Errorf("%s: %d in one file and %d in two, want %d and %d", c.name, one, two, c.one, c.two)
		}
	}
}
