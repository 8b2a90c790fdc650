package words

import (
	"strings"
	"testing"

	"foreply/compare/fact"
	"foreply/fetch/pgn"
)

// shareOf is a well-known share.
func shareOf(p float64) *fact.Share {
	s := fact.NewShare(fact.Chance{P: p, Lo: p, Hi: p}, int(100*p), 100)
	return &s
}

// Every number of the facts differs, so that none can stand for another.
func TestTask(t *testing.T) {
	line := strings.Fields("e4 e5 Nf3 Nc6 Bb5")
	often := &fact.Often{Chance: fact.Chance{P: 0.4, Lo: 0.2, Hi: 0.6}, TenLo: 2, TenHi: 6}
	expect := func(change func(*fact.Task)) fact.Task {
		task := fact.Task{Kind: fact.ToExpect, Lead: fact.LeadExpect, Moves: line[:4], Name: "Spanish"}
		change(&task)
		return task
	}
	look := func(lead string, about any, change ...func(*fact.Task)) fact.Task {
		task := fact.Task{Kind: fact.ToLook, Lead: lead, Moves: line, From: 3, About: about}
		for _, c := range change {
			c(&task)
		}
		return task
	}
	for want, task := range map[string]fact.Task{
		"1.e4 e5 2.Nf3 Nc6: 4 in 10 games (2–6), Spanish":                          expect(func(t *fact.Task) { t.Often = often }),
		"1.e4 e5 2.Nf3 Nc6: 4 in 10 games (2–6), Spanish, as players like them do": expect(func(t *fact.Task) { t.Often, t.Peers = often, true }),
		"1.e4 e5 2.Nf3 Nc6, played in 3 of 7 games after 1.e4, Spanish":            expect(func(t *fact.Task) { t.Played, t.Of, t.First = 3, 7, 1 }),
		"1.e4 e5 2.Nf3 Nc6, played in 3 of 7 games":                                expect(func(t *fact.Task) { t.Played, t.Of, t.Name = 3, 7, "" }),
		"anything: no game of theirs with Black found; go through your main lines": expect(func(t *fact.Task) { t.Color = "black" }),
		"the unknown: no game of theirs met 1.e4; go through your main lines":      expect(func(t *fact.Task) { t.Unmet = line[:1] }),
		"no move of theirs twice in 2 games: 3.d4, 3.Bc4":                          expect(func(t *fact.Task) { t.Of, t.Choices = 2, []fact.Choice{{Move: "d4"}, {Move: "Bc4"}} }),
		"no move of theirs stands out after 1.e4: 1...c5 3 in 10, 1...e5 2 in 10": expect(func(t *fact.Task) {
			t.Moves, t.Choices = line[:1], []fact.Choice{{Move: "c5", Share: shareOf(0.31)}, {Move: "e5", Share: shareOf(0.18)}}
		}),
		"no move of theirs stands out: 1.d4 3 in 10, as players like them do": expect(func(t *fact.Task) {
			t.Moves, t.Choices, t.Peers = nil, []fact.Choice{{Move: "d4", Share: shareOf(0.31)}}, true
		}),
		"2...Nc6: 4 in 10 games (2–6), Spanish; you play 3.Bb5":              expect(func(t *fact.Task) { t.Lead, t.From, t.Often, t.Answer = fact.LeadOr, 3, often, "Bb5" }),
		"2...Nc6, prepared to about move 9, but not for 3.Bb5":               {Kind: fact.ToExpect, Lead: fact.LeadPlay, Moves: line[:4], Depth: 9.2, Gap: line},
		"2...Nc6, prepared to about move 9":                                  expect(func(t *fact.Task) { t.Lead, t.From, t.Depth = fact.LeadPlay, 3, 9.2 }),
		"in blitz since Feb 2026: 1.d4 in the last 8; before that in 2 of 9": {Lead: fact.LeadChanged, About: &fact.Change{Move: "d4", Up: true, N: 8, Of: 8, PastN: 2, PastOf: 9, Speed: "blitz", Since: pgn.ParseDate("2026.02")}},
		"2...Nc6 3.Bb5: 1 in 15 games":                                       look(fact.LeadAnswer, &fact.Unanswered{Reach: 0.08}),
		"2...Nc6 3.Bb5: 1 in 15 games, 3 of 20 games":                        look(fact.LeadAnswer, &fact.Unanswered{Reach: 0.08, Share: fact.Share{P: 0.15, Seen: 3, Of: 20}}),
		"2...Nc6 3.Bb5: 1 in 15 games, not seen from them":                   look(fact.LeadAnswer, &fact.Unanswered{Reach: 0.08, Share: fact.Share{Of: 20}}),
		"2...Nc6 3.Bb5: 3 of 20 games":                                       look(fact.LeadAnswer, &fact.Unanswered{Reach: 0.08, Share: fact.Share{P: 0.15, Seen: 3, Of: 20}}, func(t *fact.Task) { t.Counted = true }),
		"2...Nc6 3.Bb5: 1 in 11 games; best 3...a6 (-0.3)":                   look(fact.LeadAnswer, &fact.Unanswered{Reach: 0.09}, func(t *fact.Task) { t.Best = &fact.Evaluated{Moves: []string{"a6"}, Centipawns: 30} }),
		"from 2...Nc6 3.Bb5, where your book ends: 3 in 10 games":            look(fact.LeadGoOn, &fact.Exit{Reach: 0.3}),
		"2...Nc6 3.Bb5: wrong in 2 of 7 games here (blitz; for you from +0.2 to +3.9 by the games' comments); not here again since": look(fact.LeadTrap, &fact.Trap{Kind: fact.TheirSlip, Line: line, Games: 2, Of: 7, Before: -20, After: -390, Speeds: []string{"blitz"}}),
		"again at 2...Nc6 3.Bb5: -0.9; better 3.d4 (+0.3)": look(fact.LeadLook, &fact.Again{Line: line[:4],
			Played: fact.Evaluated{Moves: line[4:], Centipawns: -90}, Best: fact.Evaluated{Moves: []string{"d4"}, Centipawns: 30}}),
		"2...Nc6 3.Bb5 for a win: you call it sharp": look(fact.LeadChoose, &fact.Option{Character: fact.Sharp}, func(t *fact.Task) { t.Aim = fact.ForWin }),
		"2...Nc6 3.Bb5: their results against it are worse than chance and ratings explain (11 games)": look(fact.LeadChoose,
			&fact.Option{Reasons: []string{fact.ByResults}, Score: fact.Share{Seen: 11}}),
		"2...Nc6 3.Bb5 allows their pet line 3...f5; 3.d4 goes round it": look(fact.LeadOrder, &fact.Order{Line: line[:4], Move: "Bb5", Pet: "f5", Other: "d4"}),
		"2...Nc6 3.Bb5: not in your games; 2 in 10 games":                look(fact.LeadAgain, &fact.Unpractised{Often: fact.NewOften(fact.Chance{P: 0.2, Lo: 0.2, Hi: 0.2}, 4, 20)}),
		"2...Nc6 3.Bb5: you last had it 2 May 2024; 2 in 10 games":       look(fact.LeadAgain, &fact.Unpractised{Often: fact.NewOften(fact.Chance{P: 0.2, Lo: 0.2, Hi: 0.2}, 4, 20), Last: pgn.ParseDate("2024.05.02")}),
	} {
		if got := Task(&task).String(); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}

// Six half-moves are told in full, of more the first and the last two.
func TestTail(t *testing.T) {
	line := strings.Fields("e4 c5 c3 d6 d4 Nf6 dxc5 Nxe4")
	for from, want := range map[int]string{
		0: "1.e4 c5 … 4.dxc5 Nxe4", 1: "1...c5 2.c3 … 4.dxc5 Nxe4", 2: "2.c3 d6 3.d4 Nf6 4.dxc5 Nxe4", 7: "4...Nxe4", 9: "4...Nxe4", -1: "1.e4 c5 … 4.dxc5 Nxe4",
	} {
		if got := tail(line, from).String(); got != want {
			t.Errorf("from %d: %q, want %q", from, got, want)
		}
	}
}

func TestBoardSaid(t *testing.T) {
	d := fact.Diagram{Line: []string{"e4", "e5", "Nf3"}, Why: fact.BoardBookEnds, Reach: 0.3, Games: 7}
	said := func() string {
		return BoardTitle(&d).String() + ", " + BoardWhy(&d).String() + ": " + BoardOften(&d).Text
	}
	if got, want := said(), "after 2.Nf3, your book ends: 3 in 10 games"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
	d.Counted = true
	for why, want := range map[string]string{
		fact.BoardNoAnswer: "no answer yet", fact.BoardUnseen: "a move not seen yet", fact.BoardInBook: "still in your book", fact.BoardGameOver: "the game is over",
	} {
		d.Why = why
		if got, want := said(), "after 2.Nf3, "+want+": 7 games of theirs"; got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
	if d.Games = 0; BoardOften(&d).Text != "not in the games found" {
		t.Errorf("%q", said())
	}
}
