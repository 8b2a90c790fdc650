package words

import (
	"testing"

	"foreply/compare/fact"
	"foreply/fetch/pgn"
)

// All numbers differ; a change of one field changes its clause and no other.
func TestUnanswered(t *testing.T) {
	usual := fact.Unanswered{
		Line: []string{"e4", "f5"}, Share: fact.Share{P: 0.5, Seen: 5, Of: 9}, Reach: 0.3, Lo: 0.2, Hi: 0.5,
		Games: 5, Of: 11, Last: pgn.ParseDate("2026.10.03"),
	}
	for name, c := range map[string]struct {
		change func(*fact.Unanswered)
		few    bool
		want   string
	}{
		"usual":              {func(*fact.Unanswered) {}, false, "3 in 10 games (2–5); 5 of 9 games; last 3 Oct 2026"},
		"hardly known":       {func(u *fact.Unanswered) { u.Hi = 0.8 }, false, "in 5 of 11 games, expect less; 5 of 9 games; last 3 Oct 2026"},
		"of few games":       {func(*fact.Unanswered) {}, true, "5 of 9 games; last 3 Oct 2026"},
		"by other orders":    {func(u *fact.Unanswered) { u.Games = 7 }, true, "5 of 9 games; 7 games came here in all; last 3 Oct 2026"},
		"only by others":     {func(u *fact.Unanswered) { u.Share.Seen, u.Games = 0, 4 }, true, "4 games of theirs came here by another order; last 3 Oct 2026"},
		"never, date missed": {func(u *fact.Unanswered) { u.Share.Seen, u.Games, u.Last = 0, 0, pgn.Date{} }, true, "not seen from them"},
	} {
		u := usual
		c.change(&u)
		if got := Unanswered(&u, c.few).String(); got != c.want {
			t.Errorf("%s: %q, want %q", name, got, c.want)
		}
	}
}

// What others made of it is told from the user's side, whose points are theirs
// turned around.
func TestMet(t *testing.T) {
	met := []fact.Met{
		{Move: "exf5", Games: 6, Score: fact.Score{Wins: 3, Draws: 1, Losses: 2}, Expected: 2.8},
		{Move: "d3", Games: 1, Score: fact.Score{Wins: 1}, Expected: 0.4},
		{Move: "Nc3", Games: 4, Score: fact.Score{Unknown: 4}},
	}
	if got := Met(met, 2).String(); got != "others played 2.exf5 in 6 games (your side made 2½, 3.2 expected), 2.d3 in 1 (0, 0.6), 2.Nc3 in 4 (0)" {
		t.Errorf("%q", got)
	}
	u := fact.Unanswered{Line: []string{"e4", "f5"}, Others: met}
	for apart, want := range map[bool]string{
		false: "the difference may be chance; most have played 2.exf5", true: "most have played 2.exf5",
	} {
		u.Apart = apart
		if got := Apart(&u).String(); got != want {
			t.Errorf("%q", got)
		}
	}
	u = fact.Unanswered{Line: u.Line, Others: []fact.Met{{Move: "d3", Games: 2}, {Move: "c4", Games: 2}}}
	if got := Apart(&u).String(); got != "the difference may be chance" {
		t.Errorf("%q", got)
	}
	if u.Apart = true; len(Apart(&u)) > 0 {
		t.Errorf("%q", Apart(&u).String())
	}
}

func TestOnward(t *testing.T) {
	m := fact.Met{Move: "exf5", Games: 9, Then: []fact.GoesOn{
		{Move: "Nf6", Games: 8, Of: 9}, {Move: "d4", Games: 6, Of: 7, Score: fact.Score{Wins: 1, Draws: 1, Losses: 4}}, {Move: "d5", Games: 3, Of: 5},
	}}
	if got := Onward(&m, 2).String(); got != "2.exf5 Nf6 in 8 of 9; then 3.d4 in 6 of 7 (made 4½), 3...d5 in 3 of 5" {
		t.Errorf("%q", got)
	}
	if len(Onward(&fact.Met{Move: "exf5"}, 2)) > 0 {
		t.Error("nobody went on, and yet there are words")
	}
}

// What players like them made is points of few games, a share of many.
func TestPeersMet(t *testing.T) {
	u := fact.Unanswered{Line: []string{"e4", "f5"}, PeerGames: 340, Peers: []fact.Met{
		{Move: "exf5", Games: 210, Score: fact.Score{Wins: 80, Draws: 20, Losses: 100, Unknown: 10}},
		{Move: "d3", Games: 6, Score: fact.Score{Wins: 3, Draws: 1, Losses: 2}},
	}}
	if got := PeersMet(&u).String(); got != "players like them met it with 2.exf5 in 210 of 340 games (made 55 in 100), 2.d3 in 6 (2½)" {
		t.Errorf("%q", got)
	}
	if got := PeersMet(&fact.Unanswered{}); len(got) > 0 {
		t.Errorf("of none: %q", got)
	}
}

// A set-up's moves come when they may: they have no number.
func TestSetUp(t *testing.T) {
	u := fact.Unanswered{Line: []string{"e4", "c5", "c3", "b6"}, SetUp: []string{"e5", "d4"}, SetUpPly: 3}
	c := SetUp(&u)
	if got := c.String(); got != "your usual set-up after 2.c3: e5, d4" {
		t.Errorf("%q", got)
	}
	for _, span := range c {
		if span.Kind == Move && span.SAN != "c3" && span.Numbered() != span.SAN {
			t.Errorf("%s is numbered: %s", span.SAN, span.Numbered())
		}
	}
}

// Games whose result is not known are none that the points were made of.
func TestPointsOfAnswers(t *testing.T) {
	got := Answers([]fact.Met{{Move: "d4", Games: 6, Score: fact.Score{Wins: 2, Losses: 1, Unknown: 3}}, {Move: "Nf3", Games: 1, Score: fact.Score{Unknown: 1}}}, 4).String()
	if got != "3.d4 1 of 3, 3.Nf3 –" {
		t.Errorf("%q", got)
	}
}

// A set-up is said of a family of the book with moves enough.
func TestYourSetUp(t *testing.T) {
	line := []string{"d4", "d5", "Nc3"}
	for want, u := range map[string]fact.Unanswered{
		"Your set-up: Nf6, c5": {Line: line, SetUp: []string{"Nf6", "c5"}, SetUpPly: 2},
		"":                     {Line: line, SetUp: []string{"Nf6", "c5"}},
	} {
		if got := YourSetUp(&u).String(); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
	if got := YourSetUp(&fact.Unanswered{Line: line, SetUp: []string{"Nf6"}, SetUpPly: 2}); got != nil {
		t.Errorf("one move: %q", got)
	}
}

// Where the book has nothing for what comes next the answer says so, and how far the rest
// goes.
func TestPlayToAGap(t *testing.T) {
	task := fact.Task{Moves: []string{"e4", "e5", "Nf3"}, Gap: []string{"e4", "e5", "Nf3", "f5"}}
	if got := Play(&task).String(); got != "2.Nf3 · no answer to 2...f5" {
		t.Errorf("%q", got)
	}
	for open, want := range map[float64]string{0.875: "2.Nf3 · your book answers 1 in 8 of what comes next", 0.98: "2.Nf3 · then your book ends"} {
		if got := Play(&fact.Task{Moves: task.Moves, Open: open}).String(); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
	if got := Play(&fact.Task{Moves: task.Moves, Open: 0.6, Counted: true}).String(); got != "2.Nf3 · most of what comes next is not in your book" {
		t.Errorf("of few games %q", got)
	}
	task.Depth = 5.4
	if got := Play(&task).String(); got != "2.Nf3 · prepared to about move 5, but not for 2...f5" {
		t.Errorf("%q", got)
	}
}
