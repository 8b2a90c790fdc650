package find

import (
	"slices"
	"testing"

	"foreply/compare/fact"
	"foreply/compare/walk"
	"foreply/profile"
	"foreply/profile/board"
)

// What few games did is followed against the main choices to its end; chapters are counted, not
// files; a game is told whole, at the speed that its event says; of four answers of others the
// first three are told; an option has the reach of its place.
func TestToldWhole(t *testing.T) {
	c := compare(t, gamesOf(t, repeated(3, "1-0 300: e4 e5 Nf3 Nc6 Bb5 a6")...), "1. e4 e5 2. Nf3 (2. Nc3) Nc6 3. Bb5 *")
	if got := ExpectCounted(c.w, c.games); line(got[0].Moves) != "e4 e5 Nf3 Nc6 Bb5 a6" || got[0].Played != 3 {
		t.Errorf("%+v", got)
	}
	if f := BookFacts(bookOf(t, "1. e4 *", "1. d4 *", "1. c4 *")); f.Chapters != 3 || len(f.Files) != 1 {
		t.Errorf("%+v", f)
	}
	p := gamesOf(t, "2026.01.03 1-0 ? 2000 City Rapid: "+toMove14)
	games := Games{All: p.Games, Tree: p.Tree(board.Black)}
	if g := Whole(bookOf(t, "1. d4 *"), nil, games)[0]; g.Speed != "rapid" {
		t.Errorf("speed %s", g.Speed)
	}
	models := Models([]fact.Exit{{Line: fields(toMove14)[:10], Reach: 0.4}}, bookOf(t, "1. d4 *"), nil, games, today, profile.Rapid)
	if len(models) != 1 || len(models[0].Games[0].Moves) != 28 {
		t.Errorf("%+v", models)
	}
	u := gapAt(t, nil, "e4 d6", slices.Concat(repeated(4, "1-0 300: e4 d6 d4"), repeated(3, "1-0 300: e4 d6 Nf3"), repeated(2, "1-0 300: e4 d6 Nc3"), repeated(1, "1-0 300: e4 d6 g4"))...)
	if len(u.Others) != 3 || u.Others[0].Move != "d4" || u.Others[2].Move != "Nc3" {
		t.Errorf("%+v", u.Others)
	}
	o := compare(t, gamesOf(t, slices.Concat(repeated(9, "1-0 300: e4 e5 Nf3"), repeated(9, "1-0 300: e4 c5 Nf3"))...), "1. e4 e5 (1... c5 2. Nf3) 2. Nf3 (2. Nc3) *")
	for _, option := range Options(o.w, o.look, o.games, false) {
		s := o.w.Order[slices.IndexFunc(o.w.Order, func(s *walk.State) bool {
			return s.Ply == len(option.Line) && line(walk.SAN(s.Path())) == line(option.Line)
		})]
		if !near(option.Reach, s.Mass) {
			t.Errorf("%s: reach %v, want %v", option.Move, option.Reach, s.Mass)
		}
	}
}
