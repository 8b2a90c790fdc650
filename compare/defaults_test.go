package compare

import (
	"reflect"
	"testing"

	"foreply/compare/book"
	"foreply/compare/fact"
	"foreply/compare/walk"
	"foreply/profile"
	"foreply/profile/board"
)

// What isn't said is forty plies deep, one game of a hundred, twelve games, half an hour; what is
// said stands.
func TestDefaults(t *testing.T) {
	if got, want := (Options{}).withDefaults(), (Options{MaxPly: 40, Threshold: 0.01, FewGames: 12, Minutes: 30}); !reflect.DeepEqual(got, want) {
		t.Errorf("%+v", got)
	}
	said := Options{MaxPly: 7, Threshold: 0.2, FewGames: 3, Minutes: 9}
	if got := said.withDefaults(); !reflect.DeepEqual(got, said) {
		t.Errorf("%+v", got)
	}
	if got := said.walk(); got != (walk.Options{MaxPly: 7, Threshold: 0.2}) {
		t.Errorf("%+v", got)
	}
}

// The result that the user needs comes before two rounds a day, these before a fast clock.
func TestAims(t *testing.T) {
	for want, opts := range map[string][]Options{
		fact.ForWin:       {{Need: fact.NeedWin}, {Need: fact.NeedWin, DoubleRound: true, Class: profile.Blitz}},
		fact.ForDraw:      {{Need: fact.NeedDraw}, {Need: fact.NeedDraw, DoubleRound: true, Class: profile.Blitz}},
		fact.ForTwoRounds: {{DoubleRound: true}, {DoubleRound: true, Class: profile.Rapid}},
		fact.ForFast:      {{Class: profile.Rapid}, {Class: profile.Blitz}},
		"":                {{}, {Class: profile.Classical}},
	} {
		for _, opt := range opts {
			if got := opt.aim(); got != want {
				t.Errorf("%+v: %q, want %q", opt, got, want)
			}
		}
	}
}

// Ratings that the caller knows stand; else the newest of the games are told. A line that can't be
// played is a fault.
func TestRatingsAndFaults(t *testing.T) {
	p := gamesOf(board.Black, "2026.01.05 1-0 5400 1900 2000: e4 e5")
	b := bookOf(t, board.White, "1. e4 e5 2. Nf3 *")
	in := Input{Profile: p, Books: []*book.Book{b}}
	if got := Make(in, Options{}).Opponent.Ratings; len(got) != 1 || got[0].Value != 2000 {
		t.Errorf("%+v", got)
	}
	in.Opponent.Ratings = []fact.Rating{{Value: 1234}}
	if got := Make(in, Options{}).Opponent.Ratings; len(got) != 1 || got[0].Value != 1234 {
		t.Errorf("%+v", got)
	}
	if got := faults(&fact.Report{Sides: []fact.Side{{Exits: []fact.Exit{{Line: []string{"e4", "e4"}}, {Line: []string{"e4", "e5"}}}}}}); len(got) != 1 {
		t.Errorf("%q", got)
	}
}
