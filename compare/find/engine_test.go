package find

import (
	"reflect"
	"strings"
	"testing"

	"foreply/compare/fact"
	"foreply/profile/analysis"
	"foreply/profile/board"
	"foreply/profile/uci"
)

// oracle is an engine's word on positions: 'way there: 30 e4 e5; #-2 d4', in centipawns from
// White's side or moves to mate. The first line was looked at 18 plies deep, the next 17.
func oracle(t *testing.T, rows ...string) *analysis.Found {
	t.Helper()
	f := analysis.NewFound("Oracle 7", 400_000)
	f.Asked = len(rows) + 3
	for _, row := range rows {
		way, said, _ := strings.Cut(row, ":")
		pos := lineOf(way).End
		var r uci.Result
		for text := range strings.SplitSeq(said, ";") {
			words := strings.Fields(text)
			l := uci.Line{Depth: 18 - len(r.Lines)}
			score := &l.Score.Centipawns
			if strings.HasPrefix(words[0], "#") {
				score = &l.Score.Mate
			}
			if *score = number(strings.TrimLeft(words[0], "#-")); strings.Contains(words[0], "-") {
				*score = -*score
			}
			l.Moves = lineOf(way + " " + strings.Join(words[1:], " ")).Moves[len(strings.Fields(way)):]
			r.Lines = append(r.Lines, l)
		}
		f.Add(&pos, r)
	}
	return f
}

func value(cp, mate, depth int, moves string) fact.Evaluated {
	return fact.Evaluated{Moves: fields(moves), Centipawns: cp, Mate: mate, Depth: depth}
}

// Of an engine's lines the best are told, three plies of each, from White's side; what it was
// not asked about isn't.
func TestBestMoves(t *testing.T) {
	found := oracle(t, "e4 c5 Nf3: 30 d6 d4 cxd4 Nxd4; #-2 e6 d4; 70 g5")
	best := []fact.Evaluated{value(30, 0, 18, "d6 d4 cxd4"), value(0, -2, 17, "e6 d4"), value(70, 0, 16, "g5")}
	pos := lineOf("e4 c5 Nf3").End
	for most, want := range [][]fact.Evaluated{nil, best[:1], best[:2], best, best} {
		if got := Best(found, pos, most); !reflect.DeepEqual(got, want) {
			t.Errorf("%d: %+v", most, got)
		}
	}
	if got := Best(found, board.Start(), 2); got != nil {
		t.Errorf("not looked at: %+v", got)
	}
	if got, want := EngineOf(found), (&fact.Engine{Name: "Oracle 7", Nodes: 400_000, Positions: 1, Wanted: 4}); !reflect.DeepEqual(got, want) {
		t.Errorf("%+v", got)
	}
	if EngineOf(nil) != nil || JudgeBy(nil) != nil || LookAgain(nil, nil, Games{}) != nil {
		t.Error("no engine was asked")
	}
}

// The best line stands at each end, two at a gap, and at a branch only behind an answer with
// which the book ends.
func TestConsult(t *testing.T) {
	found := oracle(t, "e4 c5: 20 Nf3 d6", "d4 d5: 25 c4 e6", "e4 g5: 90 d4 h6; 80 Nc3; 70 h4", "c4 e5: 15 Nc3; 10 g3",
		"e4 e5 Nf3: 33 Nc6", "e4 e5 Nf3 Nc6 Bb5: 44 a6 Ba4", "e4 e6 d4: 55 d5", "e4 c6: 60 d4", "e4 d5 exd5: 65 Qxd5", "e4 a6 d4: 66 b5")
	branches := []fact.Branch{
		{Move: "e5", Answer: "Nf3", Then: fields("Nc6 Bb5"), EndsWith: fact.BookEnds}, {Move: "e6", Answer: "d4", EndsWith: fact.LimitInBook},
		{Move: "d5", Answer: "exd5", EndsWith: fact.TheyLeave}, {Move: "c6", EndsWith: fact.BookEnds},
	}
	s := fact.Side{
		Exits:      []fact.Exit{{Line: fields("e4 b6")}, {Line: fields("e4 c5")}, {Line: fields("d4 d5")}},
		Unanswered: []fact.Unanswered{{Line: fields("e4 g5")}, {Line: fields("c4 e5")}},
		Partings:   []fact.Parting{{Stem: fields("d4")}, {Stem: fields("e4"), Branches: branches}, {Stem: fields("e4"), Branches: []fact.Branch{{Move: "a6", Answer: "d4", EndsWith: fact.BookEnds}}}},
	}
	Consult(nil, &s)
	if s.Exits[1].Best != nil || s.Unanswered[0].Best != nil {
		t.Error("no engine was asked")
	}
	Consult(found, &s)
	for i, want := range []*fact.Evaluated{nil, new(value(20, 0, 18, "Nf3 d6")), new(value(25, 0, 18, "c4 e6"))} {
		if got := s.Exits[i].Best; !reflect.DeepEqual(got, want) {
			t.Errorf("exit %d: %+v", i, got)
		}
	}
	for i, want := range [][]fact.Evaluated{{value(90, 0, 18, "d4 h6"), value(80, 0, 17, "Nc3")}, {value(15, 0, 18, "Nc3"), value(10, 0, 17, "g3")}} {
		if got := s.Unanswered[i].Best; !reflect.DeepEqual(got, want) {
			t.Errorf("gap %d: %+v", i, got)
		}
	}
	for i, want := range []*fact.Evaluated{new(value(44, 0, 18, "a6 Ba4")), new(value(55, 0, 18, "d5")), nil, nil} {
		if got := branches[i].Best; !reflect.DeepEqual(got, want) {
			t.Errorf("branch %s: %+v", branches[i].Move, got)
		}
	}
	if got := s.Partings[2].Branches[0].Best; !reflect.DeepEqual(got, new(value(66, 0, 18, "b5"))) {
		t.Errorf("the third parting: %+v", got)
	}
}

// Evaluations count for the side that moves: 1...g5 makes of -20 for Black -90, 2.f4 of 90
// for White 10. What was not looked at is not judged.
func TestJudgedForWhoMoves(t *testing.T) {
	judge := JudgeBy(oracle(t, "e4: 20 e5 Nf3; 90 g5 d4", "e4 g5: 90 d4 h6; 10 f4 gxf4"))
	for _, c := range []struct {
		way           string
		before, after int
		ok            bool
	}{{"e4 g5", -20, -90, true}, {"e4 g5 f4", 90, 10, true}, {"e4 g5 h4", 0, 0, false}, {"d4 d5", 0, 0, false}} {
		at := lineOf(c.way)
		pos := lineOf(line(at.SANs[:len(at.SANs)-1])).End
		if before, after, ok := judge(&pos, at.Moves[len(at.Moves)-1]); before != c.before || after != c.after || ok != c.ok {
			t.Errorf("%s: %d to %d, %v", c.way, before, after, ok)
		}
	}
}

// A move that loses 80 is to be looked at again, one that loses 79 is not; what costs most,
// reach times loss, comes first: 0.2 times 400 for 2.Ke2, 0.7 times 90 for 2.Qh5, 1 times 80
// at the first move; 0.1 of 100 comes last.
func TestLookAgainInOrder(t *testing.T) {
	w := walked(bookOf(t, "1. e4 e5 (1... c5 2. Ke2) (1... e6 2. a3 d5 3. b3) 2. Qh5 Nc6 3. Bc4 *"),
		chances{"": "e4 100 10", "e4": "e5 70 7 c5 20 2 e6 10 1", "e4 e5 Qh5": "Nc6 100 7", "e4 e6 a3": "d5 100 1"})
	found := oracle(t, ": 30 d4 d5 c4 e6; -50 e4 e5 Nf3 Nc6", "e4 e5: 40 Nf3 Nc6 Bb5 a6; -50 Qh5 Nc6", "e4 c5: 10 Nf3 d6; -390 Ke2 d5",
		"e4 e6: 60 d4; -20 a3", "e4 e5 Qh5 Nc6: 9 a3; -70 Bc4", "e4 e6 a3 d5: 60 e5; -40 b3")
	got := LookAgain(found, w, gamesForLooks(t))
	if len(got) != 4 {
		t.Fatalf("%+v", got)
	}
	for i, want := range []fact.Again{
		{Line: fields(""), Played: value(-50, 0, 17, "e4 e5 Nf3"), Best: value(30, 0, 18, "d4 d5 c4"), Loss: 80, Reach: 1},
		{Line: fields("e4 c5"), Played: value(-390, 0, 17, "Ke2 d5"), Best: value(10, 0, 18, "Nf3 d6"), Loss: 400, Reach: 0.2},
		{Line: fields("e4 e5"), Played: value(-50, 0, 17, "Qh5 Nc6"), Best: value(40, 0, 18, "Nf3 Nc6 Bb5"), Loss: 90, Reach: 0.7},
		{Line: fields("e4 e6 a3 d5"), Played: value(-40, 0, 17, "b3"), Best: value(60, 0, 18, "e5"), Loss: 100, Reach: 0.1},
	} {
		a := got[i]
		a.Often, a.File, a.FileLine = fact.Often{}, "", 0
		if len(a.Line) == 0 {
			a.Line = fields("")
		}
		if !reflect.DeepEqual(a, want) {
			t.Errorf("%d: %+v\nwant %+v", i, a, want)
		}
	}
	if o := got[1].Often; o.P != 0.2 || o.Games != 1 || o.Of != 3 || got[1].File != "book.pgn" || got[1].FileLine != 1 {
		t.Errorf("%+v", got[1])
	}
}

// gamesForLooks are two games with 1...e5 and one with 1...c5.
func gamesForLooks(t *testing.T) Games {
	t.Helper()
	p := gamesOf(t, "2026.01.01 1-0 300: e4 e5 Qh5", "2026.01.02 1-0 300: e4 e5 Qh5", "2026.01.03 1-0 300: e4 c5 Ke2 d5")
	return Games{All: p.Games, Tree: p.Tree(board.Black)}
}
