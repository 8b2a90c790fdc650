package rank

import (
	"fmt"
	"reflect"
	"slices"
	"strings"
	"testing"

	"foreply/compare/fact"
)

// fullSide has one fact for each kind of look, every one with a line of its own.
func fullSide() fact.Side {
	line := func(text string) []string { return strings.Fields(text) }
	return fact.Side{
		Games: 40,
		Unanswered: []fact.Unanswered{
			{Line: line("e4 g6"), Reach: 0.20, File: "b.pgn", FileLine: 3, Best: []fact.Evaluated{{Moves: line("d4 Bg7")}, {Moves: line("Nc3")}}},
			{Line: line("e4 a6"), Reach: 0.02},
		},
		Exits: []fact.Exit{
			{Kind: fact.BookEnds, Line: line("e4 e5 Nf3"), Reach: 0.30, File: "b.pgn", FileLine: 4},
			{Kind: fact.BookEnds, Line: line("e4 c6"), Reach: 0.30, YourMove: true},
			{Kind: fact.TheyLeave, Line: line("e4 b6"), Reach: 0.30},
			{Kind: fact.BookEnds, Line: line("e4 d5 exd5"), Reach: 0.03},
			{Kind: fact.BookEnds, Line: line(strings.Repeat("Nf3 Nf6 Ng1 Ng8 ", 4)), Reach: 0.30},
		},
		Traps: []fact.Trap{
			{Kind: fact.TheirSlip, Where: fact.InBook, Line: line("e4 e5 Nf3 f6"), Need: 0.12, File: "b.pgn", FileLine: 5},
			{Kind: fact.OthersSlip, Where: fact.PastBook, Line: line("e4 d6 f3"), Need: 0.01},
			{Kind: fact.OthersSlip, Where: fact.InBook, Line: line("e4 g6 g4"), Need: 0.50}, // at the gap, whose best is told
			{Kind: fact.TheirSlip, Where: fact.OffBook, Line: line("d4 f6"), Need: 0.50},
			{Kind: fact.TheirSlip, Where: fact.OtherAnswer, Line: line("c4 f6"), Need: 0.50},
		},
		Again:   []fact.Again{{Line: line("e4 c5"), Played: fact.Evaluated{Moves: line("Na3 e6")}, Loss: 100, Reach: 0.26}},
		Options: []fact.Option{{Line: line("e4 e6"), Move: "d4", Main: true, Reach: 0.18}, {Line: line("e4 e6"), Move: "Nf3", Reach: 0.18, Reasons: []string{fact.ByBook}}},
		Orders: []fact.Order{{Kind: fact.YourOrder, Line: line("e4 d6"), Move: "d4", Reach: 0.20, Share: fact.Share{P: 0.5}, Other: "Nc3", Pet: "e5"},
			{Kind: fact.TheirOrder, Line: line("d4"), Move: "g6", Reach: 0.9}},
		Unpractised: []fact.Unpractised{{Line: line("e4 e5 Nf3 Nc6 Bb5"), Reach: 0.16}, {Line: line("e4 c5 Nf3"), Reach: 0.08}},
		Changes:     []fact.Change{{Move: "a6", Reach: 0.09}, {Line: line("e4"), Move: "d5", Reach: 0.11}, {Move: "b6", Reach: 0.5}},
	}
}

func looks(tasks []fact.Task) string {
	var out []string
	for _, t := range tasks {
		out = append(out, fmt.Sprintf("%s %s", t.Lead, t.Moves[len(t.Moves)-1]))
	}
	return strings.Join(out, ", ")
}

// What comes often and what is missing most comes first: the whole of a reach for an
// answer, half of it for going on and for an order, a third for a choice, a quarter for
// going over a line, reach times loss for a doubt.
func TestStudyByNeed(t *testing.T) {
	s := fullSide()
	got := study(&s, 600)
	if want := "answer g6, go on Nf3, look Na3, trap f6, choose Nf3, order d4"; looks(got) != want { // six at most
		t.Errorf("got  %s\nwant %s", looks(got), want)
	}
	for _, task := range got {
		if task.Kind != fact.ToLook || task.About == nil || task.Minutes == 0 {
			t.Errorf("%+v", task)
		}
	}
	if a := got[0]; a.Best == nil || looks([]fact.Task{{Lead: "best", Moves: a.Best.Moves}}) != "best d4" || a.File != "b.pgn" || a.Line != 3 || a.Counted {
		t.Errorf("%+v", a)
	}
	s.Unanswered, s.Exits, s.Again, s.Orders, s.Options = nil, nil, nil, nil, nil
	if want := "trap g4, trap f6, again Bb5, trap f3"; looks(study(&s, 600)) != want { // one line not met for long is told
		t.Errorf("got  %s\nwant %s", looks(study(&s, 600)), want)
	}
}

// Of few games nothing is said that a share would be needed for.
func TestStudyOfFewGames(t *testing.T) {
	s := fullSide()
	s.Few = true
	if got := looks(study(&s, 600)); strings.Contains(got, "go on") || strings.Contains(got, "again") {
		t.Errorf("%s", got)
	}
	if got := study(&s, 600)[0]; !got.Counted {
		t.Errorf("%+v", got)
	}
}

// Time is dealt out by need, a thing for each eight minutes; for one there is always time.
func TestStudyKeepsToTheMinutes(t *testing.T) {
	s := fullSide()
	for minutes, want := range map[int]string{
		1: "answer g6", 15: "answer g6", 16: "answer g6, go on Nf3", 24: "answer g6, go on Nf3, look Na3",
	} {
		if got := looks(study(&s, minutes)); got != want {
			t.Errorf("%d minutes: %s, want %s", minutes, got, want)
		}
	}
	s.Exits = nil
	if got, want := looks(study(&s, 20)), "answer g6, look Na3"; got != want {
		t.Errorf("%s, want %s", got, want)
	}
	s.Unanswered = s.Unanswered[:1]
	s.Again[0].Reach = 0.1 // then the trap comes second
	if got, want := looks(study(&s, 16)), "answer g6, trap f6"; got != want {
		t.Errorf("%s, want %s", got, want)
	}
}

// A label asks for another answer only where it is the first of its position, and not
// the main one; an answer that two reasons speak for is told once.
func TestStudyByLabel(t *testing.T) {
	s := fact.Side{Games: 40, Options: []fact.Option{
		{Line: []string{"e4", "e5"}, Move: "Bc4", Reach: 0.4, Character: fact.Sharp, Reasons: []string{fact.ByBook}}, {Line: []string{"e4", "e5"}, Move: "Nf3", Main: true, Character: fact.Sharp},
		{Line: []string{"e4", "c5"}, Move: "Nf3", Main: true, Character: fact.Sharp}, {Line: []string{"e4", "c5"}, Move: "b4", Character: fact.Sharp},
	}}
	for aim, want := range map[string]string{fact.ForWin: "choose Bc4", fact.ForDraw: "choose Bc4", "": "choose Bc4"} {
		s.Aim = aim
		got := study(&s, 60)
		if looks(got) != want || (got[0].Aim == fact.ForWin) != (aim == fact.ForWin) {
			t.Errorf("for %q: %s (%q), want %s", aim, looks(got), got[0].Aim, want)
		}
	}
}

// What follows the expected line is told from where it parts from it and its answer; the
// first change that is likely enough to be met comes before what to look at.
func TestTonight(t *testing.T) {
	s := fullSide()
	expected := []fact.Task{
		{Lead: fact.LeadExpect, Moves: []string{"e4", "e5"}}, {Lead: fact.LeadPlay, Moves: []string{"e4", "e5", "Nf3"}}, {Lead: fact.LeadOr, Moves: []string{"e4", "d5"}},
	}
	got := Tonight(&s, expected, 60)
	var leads []string
	from := map[string]int{}
	for _, task := range got {
		leads = append(leads, task.Lead)
		from[task.Lead+" "+task.Moves[len(task.Moves)-1]] = task.From
	}
	if want := []string{"expect", "play", "or", "changed", "answer", "go on", "look", "trap", "choose", "order"}; !slices.Equal(leads, want) {
		t.Errorf("%q, want %q", leads, want)
	}
	if ch, ok := got[3].About.(*fact.Change); !ok || ch.Move != "d5" {
		t.Errorf("%+v", got[3])
	}
	for task, want := range map[string]int{"answer g6": 1, "go on Nf3": 2, "trap f6": 3} { // the last move is always told
		if from[task] != want {
			t.Errorf("%s from %d, want %d", task, from[task], want)
		}
	}
	s.Games = 0
	if got := Tonight(&s, expected[:1], 60); len(got) != 1 {
		t.Errorf("without games: %s", looks(got))
	}
}

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
