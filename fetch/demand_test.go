package fetch

import (
	"strings"
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
		{"this file, proven", strength("a.pgn", proven, 60)}, {"this file, the time alone", strength("a.pgn", "[UTCTime \"10:00:00\"]\n", 60)}, {"this file, the day", strength("a.pgn", dated, 60)}, {"this file, a day near it", strength("a.pgn", "[Date \"2026.01.09\"]\n", 60)},
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

// How a game is put together: half-moves of White's and Black's squares, n of them, with some
// in other places.
func slipAt(n int, places ...int) string {
	moves := strings.Fields(line(n, "a"))
	for _, i := range places {
		moves[i] = "h" + moves[i][1:]
	}
	return strings.Join(moves, " ")
}

// Games whose moves part ways, or of which one is the beginning of the other, and when they
// may be one.
func TestGamesThatMayDiffer(t *testing.T) {
	proven, day := occasion{when: coincides}, occasion{when: agrees}
	tail := func(n int) string { return " " + line(n, "c") }
	for _, c := range []struct {
		quirk  string
		one    string
		two    string
		result string // of the second; that of the first is 1-0
		tags   occasion
		want   bool
	}{
		{"a beginning", line(5, "a"), line(30, "a"), "1-0", day, true}, {"a beginning without a result", line(5, "a"), line(30, "a"), "*", day, true},
		{"a beginning of 69 with another result", line(69, "a"), line(90, "a"), "0-1", day, false}, {"a beginning of 70", line(70, "a"), line(90, "a"), "0-1", day, true},
		{"a beginning of 19, proven", line(19, "a"), line(90, "a"), "0-1", proven, false}, {"a beginning of 20, proven", line(20, "a"), line(90, "a"), "0-1", proven, true},
		{"other moves of a day", slipAt(60, 30), line(60, "a"), "1-0", day, false}, {"other moves, proven", slipAt(60, 30), line(60, "a"), "1-0", proven, true},
		{"other moves and result, proven", slipAt(60, 30), line(60, "a"), "0-1", proven, false}, {"other moves, no result, proven", slipAt(60, 30), line(60, "a"), "*", proven, true},
		{"40 in common, proven", line(30, "a") + " b1" + tail(10), line(30, "a") + " d1" + tail(10), "1-0", proven, true}, {"39 in common, proven", line(30, "a") + " b1" + tail(9), line(30, "a") + " d1" + tail(9), "1-0", proven, false},
		{"half of the shorter", line(30, "a") + " " + line(40, "b") + tail(10), line(30, "a") + " " + line(60, "d") + tail(10), "1-0", proven, true},
		{"less than half of the shorter", line(30, "a") + " " + line(41, "b") + tail(10), line(30, "a") + " " + line(60, "d") + tail(10), "1-0", proven, false},
	} {
		e, o := aCopy(t, "", "a", 10, game("Alder, Mina", "x", c.one, "1-0")), aCopy(t, "", "b", 10, game("Alder, Mina", "x", c.two, c.result))
		moves := compareMoves(e.folded(), o.folded())
		if got, back := e.mayDiffer(o, moves, c.tags), o.mayDiffer(e, moves, c.tags); got != c.want || back != c.want {
			t.Errorf("%s: %v, %v", c.quirk, got, back)
		}
	}
}

// Games with the same moves but for a slip: when they are one, when they may be, when not.
func TestSlips(t *testing.T) {
	const name, initial, almost, surname, other = "Brook, Tomas", "Brook, T", "Brock, Tomas", "Brook", "Crane, U"
	year, event, round := occasion{when: agrees, year: true}, occasion{when: agrees, year: true, place: true}, occasion{when: nearly, year: true, place: true}
	every := func(n int) (places []int) { // n places, far from each other
		for i := range n {
			places = append(places, 3*i+1)
		}
		return places
	}
	for _, c := range []struct {
		quirk         string
		plies, amiss  int
		more          int // half-moves more in the second game
		rival, result string
		tags          occasion
		want          verdict
	}{
		{"70 alike of the year", 71, 1, 0, initial, "1-0", year, same}, {"69 alike of the year", 70, 1, 0, initial, "1-0", year, undecided}, {"70 alike, nearly the name", 71, 1, 0, almost, "1-0", year, same},
		{"70 alike, the surname alone", 71, 1, 0, surname, "1-0", event, undecided}, {"70 alike, another name", 71, 1, 0, other, "1-0", event, different}, {"70 alike, no year", 71, 1, 0, name, "1-0", occasion{when: agrees}, different},
		{"70 alike, another result", 71, 1, 0, name, "0-1", event, different}, {"70 alike, no result", 71, 1, 0, name, "*", event, different},
		{"40 alike of the event", 41, 1, 0, initial, "1-0", event, same}, {"39 alike of the event", 40, 1, 0, initial, "1-0", event, undecided}, {"40 alike of the year", 41, 1, 0, initial, "1-0", year, undecided},
		{"40 alike, nearly the name", 41, 1, 0, almost, "1-0", event, same}, {"40 alike, nearly the name and the day", 41, 1, 0, almost, "1-0", round, undecided}, {"40 alike, the initial and nearly the day", 41, 1, 0, initial, "1-0", round, same},
		{"nine tenths", 100, 10, 0, name, "1-0", event, same}, {"less than nine tenths", 100, 11, 0, name, "1-0", event, different},
		{"four amiss of 20", 20, 4, 0, name, "1-0", event, undecided}, {"five amiss of 20", 20, 5, 0, name, "1-0", event, different}, {"12 alike", 16, 4, 0, name, "1-0", event, undecided}, {"11 alike", 15, 4, 0, name, "1-0", event, different},
		{"40 alike, the end missing", 44, 4, 30, name, "1-0", event, undecided}, {"39 alike, the end missing", 43, 4, 30, name, "1-0", event, different}, {"less than nine tenths, the end missing", 46, 5, 30, name, "1-0", event, different},
	} {
		e := aCopy(t, "", "a", 10, game("Alder, Mina", name, slipAt(c.plies, every(c.amiss)...), "1-0"))
		o := aCopy(t, "", "b", 10, game("Alder, Mina", c.rival, line(c.plies+c.more, "a"), c.result))
		moves := compareMoves(e.folded(), o.folded())
		if got, back := e.slipped(o, moves, c.tags), o.slipped(e, moves, c.tags); got != c.want || back != c.want {
			t.Errorf("%s: %d, %d, want %d", c.quirk, got, back, c.want)
		}
	}
}

// Of two games that are the same as a third the one with the better evidence is it, whichever
// came first; a game that is changed is filed once, by what it is known by now.
func TestFoundByTheBestEvidence(t *testing.T) {
	of := func(file, round string) *gameCopy {
		return aCopy(t, "", file, 10, game("Alder, Mina", "Brook, T", line(60, "a"), "1-0", "Date", "2019.03.02", "Round", round))
	}
	for _, rounds := range [][2]string{{"?", "3"}, {"3", "?"}} {
		f := newFinder()
		f.add(of("a", rounds[0]))
		f.add(of("b", rounds[1]))
		if found, _ := f.find(of("c", "3")); found == nil || found.game.Header().Round != "3" {
			t.Errorf("rounds %q: found %+v", rounds, found)
		}
	}
	f := newFinder()
	for i, moves := range []string{"b", "a", "c"} {
		f.add(aCopy(t, "", "a", 10*i, game("Alder, Mina", "Brook, T", line(20, moves), "1-0", "Date", "2019.03.02")))
	}
	fuller := aCopy(t, "", "b", 10, game("Alder, Mina", "Brook, T", line(20, "d")+" a1", "1-0", "Date", "2019.04.02"))
	f.change(f.copies[1], func() { f.copies[1].join(fuller) })
	if n := f.byMoves.Len(); n != 3 || len(f.byOccasion["day2019-03-02"]) != 2 || len(f.byOccasion["day2019-04-02"]) != 1 {
		t.Errorf("%d by moves, by days %v", n, f.byOccasion)
	}
}

// Half-moves of two games without their end have those in common that stand at one place.
func TestAlikeAtOnePlace(t *testing.T) {
	a, b := foldText("e4 e5 Nf3 Nc6 Bb5 a6"), foldText("d4 e5 Nf3 Nc6 Bb5 h6")
	if got := alikePlies(a, b, compareMoves(a, b)); got != 4 {
		t.Errorf("%d alike", got)
	}
}
