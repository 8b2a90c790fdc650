package rank

import (
	"reflect"
	"strings"
	"testing"

	"foreply/compare/fact"
)

// Each kind of look is told with its line, its fact, its minutes, its need and its place.
func TestLooksWhole(t *testing.T) {
	f := strings.Fields
	s := fact.Side{
		Games: 40, Aim: fact.ForDraw, MyColor: "white",
		Unanswered:  []fact.Unanswered{{Line: f("e4 g6"), Reach: 0.2, File: "a.pgn", FileLine: 1}},
		Exits:       []fact.Exit{{Kind: fact.BookEnds, Line: f("e4 e5 Nf3"), Reach: 0.04, File: "b.pgn", FileLine: 2}, {Kind: fact.BookEnds, Line: f("Nf3 Nf6 Ng1 Ng8 Nf3 Nf6 Ng1 Ng8 Nf3 Nf6 Ng1 Ng8 Nf3 Nf6 Ng1"), Reach: 0.6}, {Kind: fact.BookEnds, Line: f("d4"), Reach: 0.039}},
		Traps:       []fact.Trap{{Kind: fact.TheirSlip, Where: fact.PastBook, Line: f("e4 g6 d4 f5"), Need: 0.12, Before: 20, File: "c.pgn", FileLine: 3}, {Kind: fact.TheirSlip, Where: fact.InBook, Line: f("e4 g6 h3"), Need: 0.03}},
		Again:       []fact.Again{{Line: f("e4 c5"), Played: fact.Evaluated{Moves: f("Na3 e6")}, Loss: 100, Reach: 0.26, File: "d.pgn", FileLine: 4}},
		Options:     []fact.Option{{Line: f("e4 e6"), Move: "Nf3", Reach: 0.18, Reasons: []string{fact.ByBook}}, {Line: f("d4 d5"), Move: "c4", Reach: 0.12, Character: fact.Solid}, {Line: f("d4 d5"), Move: "Nf3", Reach: 0.12, Character: fact.Solid}},
		Orders:      []fact.Order{{Kind: fact.YourOrder, Line: f("e4 d6"), Move: "d4", Reach: 0.2, Share: fact.Share{P: 0.5}}},
		Unpractised: []fact.Unpractised{{Line: f("e4 b6 d4"), Reach: 0.16, File: "e.pgn", FileLine: 5}, {Line: f("e4 a6"), Reach: 0.5}},
	}
	s.Unanswered[0].Best = []fact.Evaluated{{Moves: f("d4 Bg7"), Centipawns: 30}}
	atGap := fact.Trap{Kind: fact.OthersSlip, Where: fact.InBook, Line: f("e4 g6 a3"), Need: 0.9}
	s.Traps = append(s.Traps, atGap)
	answer := func(counted bool) fact.Task {
		return fact.Task{Lead: fact.LeadAnswer, Moves: f("e4 g6"), Need: 0.2, Minutes: 8, About: &s.Unanswered[0], Best: &fact.Evaluated{Moves: f("d4"), Centipawns: 30}, Counted: counted, File: "a.pgn", Line: 1}
	}
	trap := func(i int, need float64) fact.Task {
		return fact.Task{Lead: fact.LeadTrap, Moves: s.Traps[i].Line, Need: need, Minutes: 3, About: &s.Traps[i], File: s.Traps[i].File, Line: s.Traps[i].FileLine}
	}
	for name, c := range map[string]struct{ got, want []fact.Task }{
		"answers": {answers(&s), []fact.Task{answer(false)}},
		"going on": {goOn(&s), []fact.Task{{Lead: fact.LeadGoOn, Moves: f("e4 e5 Nf3"), Need: 0.02, Minutes: 6, About: &s.Exits[0], File: "b.pgn", Line: 2},
			{Lead: fact.LeadGoOn, Moves: s.Exits[1].Line, Need: 0.3, Minutes: 6, About: &s.Exits[1]}}},
		"traps":   {traps(&s), []fact.Task{trap(0, 0.12), trap(1, 0.03)}},
		"doubts":  {doubts(&s), []fact.Task{{Lead: fact.LeadLook, Moves: f("e4 c5 Na3"), Need: 0.13, Minutes: 4, About: &s.Again[0], File: "d.pgn", Line: 4}}},
		"choices": {choices(s.Options), []fact.Task{{Lead: fact.LeadChoose, Moves: f("e4 e6 Nf3"), Need: 0.06, Minutes: 4, About: &s.Options[0]}}},
		"labels":  {labelled(&s), []fact.Task{{Lead: fact.LeadChoose, Moves: f("d4 d5 c4"), Need: 0.06, Minutes: 4, About: &s.Options[1], Aim: fact.ForDraw}}},
		"orders":  {orders(s.Orders), []fact.Task{{Lead: fact.LeadOrder, Moves: f("e4 d6 d4"), Need: 0.05, Minutes: 4, About: &s.Orders[0]}}},
		"again":   {again(&s), []fact.Task{{Lead: fact.LeadAgain, Moves: f("e4 b6 d4"), Need: 0.04, Minutes: 4, About: &s.Unpractised[0], File: "e.pgn", Line: 5}}},
	} {
		if !reflect.DeepEqual(c.got, c.want) {
			t.Errorf("%s: got\n  %+v\nwant\n  %+v", name, c.got, c.want)
		}
	}
	changed := []fact.Change{{Line: f("e4"), Move: "d5", Reach: 0.099}, {Line: f("e4"), Move: "c5", Reach: 0.1}, {Line: f("e4"), Move: "e5", Reach: 0.9}}
	if got, want := changes(changed), []fact.Task{{Kind: fact.ToExpect, Lead: fact.LeadChanged, Moves: f("e4"), Need: 0.1, About: &changed[1]}}; !reflect.DeepEqual(got, want) {
		t.Errorf("changes: %+v", got)
	}
	s.Few = true
	if got := answers(&s); !reflect.DeepEqual(got, []fact.Task{answer(true)}) || goOn(&s) != nil || again(&s) != nil {
		t.Errorf("of few games: %+v", got)
	}
	s.Games, s.PeersOnly = 0, true
	if got := Tonight(&s, []fact.Task{{Lead: fact.LeadExpect, Moves: f("e4 g6")}}, 8); len(got) != 2 {
		t.Errorf("of peers alone: %s", looks(got))
	}
}

// A board is told with its reach, its interval and its games, for the colour the user has.
func TestBoardsWhole(t *testing.T) {
	line := func(last string) []string { return strings.Fields("e4 e5 Nf3 Nc6 Bb5 a6 Ba4 " + last) }
	for _, few := range []bool{false, true} {
		s := fact.Side{
			Games: 40, MyColor: "black", Aim: "white", Few: few,
			Unanswered: []fact.Unanswered{{Line: line("b5"), EPD: "1", Reach: 0.2, Lo: 0.1, Hi: 0.4, AnyOrder: true, Games: 7, Of: 20, Share: fact.Share{Seen: 5}}},
			Exits: []fact.Exit{{Kind: fact.BookEnds, YourMove: true, Line: line("d6 c3"), EPD: "2", Reach: 0.3, Lo: 0.15, Hi: 0.5, AnyOrder: true, Games: 6, Came: 8, Of: 19},
				{Kind: fact.LimitInBook, YourMove: true, Line: line("Nf6 O-O"), EPD: "3", Games: 1}, {Kind: fact.BookEnds, Line: line("f6 O-O"), EPD: "1", Games: 1}, {Kind: fact.BookEnds, Line: line("d6 d3"), EPD: "4", Games: 1}},
		}
		want := []fact.Diagram{
			{Line: line("b5"), Why: fact.BoardNoAnswer, EPD: "1", View: "black", Reach: 0.2, Lo: 0.1, Hi: 0.4, AnyOrder: true, Games: 7, Came: 7, Of: 20, Counted: few},
			{Line: line("d6 c3"), Why: fact.BoardNoAnswer, EPD: "2", View: "black", Reach: 0.3, Lo: 0.15, Hi: 0.5, AnyOrder: true, Games: 6, Came: 8, Of: 19, Counted: few},
			{Line: line("Nf6 O-O"), Why: fact.BoardInBook, EPD: "3", View: "black", Games: 1, Counted: few},
		}
		if got := Boards(&s); !reflect.DeepEqual(got, want) {
			t.Errorf("got\n  %+v\nwant\n  %+v", got, want)
		}
	}
}

// What the order for an aim put before the main choice, of each position once.
func TestSituation(t *testing.T) {
	e4, d4 := []string{"e4", "e5"}, []string{"d4", "d5"}
	list := []fact.Option{{Line: e4, Move: "Nc3", Likeliest: "Nf6"}, {Line: e4, Move: "Nf3", Main: true}, {Line: e4, Move: "f4"}, {Line: d4, Move: "c4", Main: true}, {Line: d4, Move: "Nf3"}}
	for _, aim := range []string{fact.ForWin, fact.ForDraw, fact.ForTwoRounds} {
		if got, want := Situation(list, aim), (&fact.Situation{Aim: aim, Places: 2, First: [][]string{{"e4", "e5", "Nc3"}}}); !reflect.DeepEqual(got, want) {
			t.Errorf("%+v", got)
		}
	}
	if Situation(list, "") != nil || Situation(list, fact.ForFast) != nil {
		t.Error("no situation was named")
	}
	if got := Situation(nil, fact.ForWin); !reflect.DeepEqual(got, &fact.Situation{Aim: fact.ForWin, First: [][]string{}}) {
		t.Errorf("%+v", got)
	}
}

// A style is shrunk to what is usual by twenty games: of (4+1-2) in 5 games, where 10 in 50
// are usual, (3+20*10/50)/25.
func TestQuiet(t *testing.T) {
	usual := fact.Style{Of: 50, QueensOff: 9, ShortDraws: 4, Opposite: 3}
	if got := quiet(&fact.Style{Of: 5, QueensOff: 4, ShortDraws: 1, Opposite: 2}, &usual); got != 7.0/25 {
		t.Errorf("%v", got)
	}
	if got := quiet(&fact.Style{Of: 5, QueensOff: 4}, &fact.Style{}); got != 0 {
		t.Errorf("nothing is usual: %v", got)
	}
}
