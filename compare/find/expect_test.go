package find

import (
	"math"
	"reflect"
	"slices"
	"strings"
	"testing"

	"foreply/compare/fact"
	"foreply/compare/walk"
	"foreply/profile/board"
)

// near compares two probabilities.
func near(a, b float64) bool { return math.Abs(a-b) < 1e-9 }

// The line to expect goes on while it comes in three of ten games, 0.42 here, with the answer
// to it; 1...c5 is the other way, where it comes in 15 of 100.
func TestExpect(t *testing.T) {
	p := gamesOf(t, slices.Concat(repeated(7, "1-0 300: e4 e5 Nf3 Nc6 Bb5 a6"), repeated(3, "1-0 300: e4 e5 Nf3 d6 d4"), repeated(6, "1-0 300: e4 c5 c3 e6"))...)
	games := Games{All: p.Games, Tree: p.Tree(board.Black)}
	b := bookOf(t, "\n1. e4 e5 (1... c5\n2. c3 d5 3. exd5) 2. Nf3\nNc6 3. Bb5 { Trade on c6. } Nd4 4. Nxd4 exd4 5. O-O c6 6. Ba4 Nf6 7. d3 *")
	for second, told := range map[string]bool{"30": true, "15": true, "14": false} {
		w := walked(b, chances{"e4": "e5 60 10 c5 " + second + " 6", "e4 e5 Nf3": "Nc6 70 7 d6 30 3", "e4 e5 Nf3 Nc6 Bb5": "a6 60 7 Nd4 40 0",
			"e4 e5 Nf3 Nc6 Bb5 Nd4 Nxd4": "exd4 100 0", "e4 e5 Nf3 Nc6 Bb5 Nd4 Nxd4 exd4 O-O": "c6 100 0", "e4 e5 Nf3 Nc6 Bb5 Nd4 Nxd4 exd4 O-O c6 Ba4": "Nf6 100 0", "e4 c5 c3": "e6 100 6"})
		tasks := Expect(w, games)
		if want := map[bool]int{true: 3, false: 2}[told]; len(tasks) != want {
			t.Fatalf("%s in 100: %+v", second, tasks)
		}
		first := tasks[0]
		if o := first.Often; !near(o.P, 0.42) || o.Games != 7 || o.Of != 16 || o.AnyOrder || !near(first.Need, 0.42) {
			t.Errorf("%+v, %+v", first, o)
		}
		first.Often, first.Need = nil, 0
		if want := (fact.Task{Kind: fact.ToExpect, Lead: fact.LeadExpect, Moves: fields("e4 e5 Nf3 Nc6"), Name: lineOf("e4 e5 Nf3 Nc6").Opening().Name}); !reflect.DeepEqual(first, want) {
			t.Errorf("%+v", first)
		}
		// 0.6 of it ends at move 4, before White's answer to 3...a6, 0.4 at move 7, behind 7.d3: 5.2 on average.
		play := tasks[1]
		if !near(play.Depth, 0.6*4+0.4*7) || !near(play.Open, 0.6) {
			t.Errorf("prepared to %v, open %v", play.Depth, play.Open)
		}
		play.Depth, play.Open = 0, 0
		if want := (fact.Task{Kind: fact.ToPlay, Lead: fact.LeadPlay, Moves: fields("e4 e5 Nf3 Nc6 Bb5"), From: 4, Note: "Trade on c6.", Need: 1, File: "book.pgn", Line: 4}); !reflect.DeepEqual(play, want) {
			t.Errorf("%+v", play)
		}
		if !told {
			continue
		}
		or := tasks[2]
		if o := or.Often; o.P != or.Need || !near(o.P, float64(number(second))/100) || o.Games != 6 || o.Of != 16 {
			t.Errorf("%+v, %+v", or, o)
		}
		or.Often, or.Need = nil, 0
		if want := (fact.Task{Kind: fact.ToExpect, Lead: fact.LeadOr, Moves: fields("e4 c5"), From: 1, Answer: "c3", Name: lineOf("e4 c5").Opening().Name}); !reflect.DeepEqual(or, want) {
			t.Errorf("%+v", or)
		}
	}
}

// How far an answer is prepared is told from two moves behind it on.
func TestPreparedFar(t *testing.T) {
	w := walked(bookOf(t, "1. e4 e5 2. Nf3 Nc6 3. Bb5 *"), chances{"e4": "e5 100 1", "e4 e5 Nf3": "Nc6 100 1"})
	for depth, want := range map[float64]float64{3.5: 0, 4: 0, 4.5: 4.5} {
		if task := play(w, lineOf("e4 e5 Nf3 Nc6"), depth)[0]; task.Depth != want || task.Open != 0 {
			t.Errorf("%v: %+v", depth, task)
		}
	}
	if got := play(w, lineOf("e4 e5 Nf3 Nf6"), 9); got != nil {
		t.Errorf("without an answer: %+v", got)
	}
	if w := walked(bookOf(t, "1. e4 e5 *"), chances{}); Expect(w, Games{})[0].Choices != nil {
		t.Error("nothing is known")
	}
	if got := Expect(walked(bookOf(t), chances{}), Games{}); got != nil {
		t.Errorf("an empty book: %+v", got)
	}
}

// Where no first move of theirs comes in three of ten games the three likeliest are named,
// behind the user's own move with White.
func TestNoMoveStandsOut(t *testing.T) {
	share := func(p float64, n, of int) *fact.Share {
		return new(fact.NewShare(fact.Chance{P: p, Lo: p - 0.1, Hi: p + 0.2}, n, of))
	}
	white := walked(bookOf(t, "1. e4 e5 2. Nf3 *"), chances{"e4": "e5 29 5 c5 25 4 e6 20 3 c6 16 2", "e4 e5 Nf3": "Nc6 100 1"})
	black := walked(bookAs(t, board.Black, "1. d4 d5 *"), chances{"": "d4 29 3 e4 11 1"})
	for name, c := range map[string]struct {
		w    *walk.Walk
		want fact.Task
	}{
		"with White": {white, fact.Task{Moves: fields("e4"), Choices: []fact.Choice{{Move: "e5", Share: share(0.29, 5, 14)}, {Move: "c5", Share: share(0.25, 4, 14)}, {Move: "e6", Share: share(0.2, 3, 14)}}}},
		"with Black": {black, fact.Task{Moves: []string{}, Choices: []fact.Choice{{Move: "d4", Share: share(0.29, 3, 4)}, {Move: "e4", Share: share(0.11, 1, 4)}}}},
	} {
		c.want.Kind, c.want.Lead, c.want.Need = fact.ToExpect, fact.LeadExpect, 1
		if got := Expect(c.w, Games{}); len(got) != 1 || !reflect.DeepEqual(got[0], c.want) {
			t.Errorf("%s: %+v", name, got)
		}
	}
	if got, want := Anything(board.White), []fact.Task{{Kind: fact.ToExpect, Lead: fact.LeadExpect, Need: 1, Color: "white"}}; !reflect.DeepEqual(got, want) {
		t.Errorf("%+v", got)
	}
}

// The likeliest move without an answer comes first where it is likelier than the line, which
// is the other way then, with the answer to it. Of a count, and of anything, none is; where
// no move stands out one is that comes in more than three of ten games.
func TestGapFirst(t *testing.T) {
	often := fact.NewOften(fact.Chance{P: 0.4, Lo: 0.3, Hi: 0.6}, 4, 10)
	expect := fact.Task{Kind: fact.ToExpect, Lead: fact.LeadExpect, Moves: fields("e4 e5 Nf3 Nc6"), Need: 0.4, Often: &often, Name: "Their Line"}
	tasks := []fact.Task{expect, {Lead: fact.LeadPlay, Moves: fields("e4 e5 Nf3 Nc6 Bb5")}, {Lead: fact.LeadOr, Moves: fields("e4 c5")}}
	gap := func(reach float64) []fact.Unanswered {
		return []fact.Unanswered{{Line: fields("e4 e5 Nf3 f5"), Reach: reach, Lo: 0.2, Hi: 0.7, Games: 5, Of: 11, Name: "The Gap"}, {Line: fields("e4 g5"), Reach: 0.9}}
	}
	told := fact.Task{Kind: fact.ToExpect, Lead: fact.LeadExpect, Moves: fields("e4 e5 Nf3 f5"), Gap: fields("e4 e5 Nf3 f5"), Need: 0.41, Name: "The Gap",
		Often: new(fact.NewOften(fact.Chance{P: 0.41, Lo: 0.2, Hi: 0.7}, 5, 11))}
	or := expect
	or.Lead, or.From, or.Answer = fact.LeadOr, 3, "Bb5"
	peers, toldPeers := slices.Clone(tasks), told
	peers[0].Peers, toldPeers.Peers = true, true
	choices := []fact.Task{{Lead: fact.LeadExpect, Choices: []fact.Choice{{Move: "e5"}}}}
	counted := []fact.Task{{Lead: fact.LeadExpect, Of: 5, Choices: []fact.Choice{{Move: "e5"}}}}
	alone := told
	alone.Need, alone.Often = 0.31, new(fact.NewOften(fact.Chance{P: 0.31, Lo: 0.2, Hi: 0.7}, 5, 11))
	for name, c := range map[string]struct {
		tasks []fact.Task
		open  []fact.Unanswered
		want  []fact.Task
	}{
		"likelier": {tasks, gap(0.41), []fact.Task{told, or}}, "as likely": {tasks, gap(0.4), tasks}, "no gap": {tasks, nil, tasks}, "no line": {nil, gap(0.4), nil},
		"of peers": {peers, gap(0.41), []fact.Task{toldPeers, or}}, "none stands out": {choices, gap(0.31), []fact.Task{alone}}, "nor this": {choices, gap(0.3), choices},
		"of a count": {counted, gap(0.99), counted}, "of anything": {Anything(board.Black), gap(0.99), Anything(board.Black)},
	} {
		if got := GapFirst(c.tasks, c.open); !reflect.DeepEqual(got, c.want) {
			t.Errorf("%s: got\n  %+v\nwant\n  %+v", name, got, c.want)
		}
	}
}

// Behind an answer stands the likeliest line that goes on from it without one.
func TestGapsBehindAnswers(t *testing.T) {
	tasks := []fact.Task{{Lead: fact.LeadExpect, Moves: fields("e4")}, {Lead: fact.LeadPlay, Moves: fields("e4 e5 Nf3")}, {Lead: fact.LeadPlay, Moves: fields("e4 c5 c3")}, {Lead: fact.LeadPlay, Moves: fields("d4")}}
	Gaps(tasks, []fact.Unanswered{{Line: fields("d4")}, {Line: fields("e4 e5 Nf3")}, {Line: fields("e4 e5 Nf3 f5")}, {Line: fields("e4 e5 Nf3 d6")}, {Line: fields("d4 f5")}})
	var got []string
	for _, task := range tasks {
		got = append(got, line(task.Gap))
	}
	if want := []string{"", "e4 e5 Nf3 f5", "", "d4 f5"}; !slices.Equal(got, want) {
		t.Errorf("%q", got)
	}
}

// Of few games it is told where most went against the user's first answers, as far as two
// did; where all went different ways, which; and where none met them, what they were.
func TestExpectCounted(t *testing.T) {
	for name, c := range map[string]struct {
		rows string
		want []fact.Task
	}{
		"most went one way": {"e4 e5 Nf3 Nc6 Bb5 a6; e4 e5 Nf3 Nc6 Bb5 Nf6; e4 e5 Nf3 d6; e4 c5; e4 c5", []fact.Task{
			{Kind: fact.ToExpect, Moves: fields("e4 e5 Nf3 Nc6"), Played: 2, Of: 5, First: 1, Name: lineOf("e4 e5 Nf3 Nc6").Opening().Name},
			{Kind: fact.ToPlay, Moves: fields("e4 e5 Nf3 Nc6 Bb5"), From: 4, Open: 1, Counted: true, File: "book.pgn", Line: 1},
		}},
		"all different": {"e4 e5; e4 c5; e4 e6", []fact.Task{{Kind: fact.ToExpect, Moves: fields("e4"), Of: 3, Choices: []fact.Choice{{Move: "c5"}, {Move: "e5"}, {Move: "e6"}}}}},
		"none met":      {"d4 d5; d4 d5", []fact.Task{{Kind: fact.ToExpect, Unmet: fields("e4")}}},
	} {
		var rows []string
		for moves := range strings.SplitSeq(c.rows, ";") {
			rows = append(rows, "2026.01.05 1-0 300: "+moves)
		}
		w := compare(t, gamesOf(t, rows...), "1. e4 e5 2. Nf3 Nc6 3. Bb5 *")
		got := ExpectCounted(w.w, w.games)
		for i := range c.want {
			c.want[i].Need, c.want[i].Lead = 1, map[string]string{fact.ToExpect: fact.LeadExpect, fact.ToPlay: fact.LeadPlay}[c.want[i].Kind]
		}
		if !reflect.DeepEqual(got, c.want) {
			t.Errorf("%s: got\n  %+v\nwant\n  %+v", name, got, c.want)
		}
	}
}
