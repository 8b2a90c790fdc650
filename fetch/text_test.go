package fetch

import (
	"slices"
	"strings"
	"testing"

	"foreply/fetch/pgn"
)

// In a file of many blocks a note still names the game it is about.
func TestNotesFarIntoAFile(t *testing.T) {
	const before = 20_000
	both := game("Alder, Mina", "tide", line(30, "a"), "1-0")
	text := strings.Repeat(game("Brook, T", "Crane, U", line(30, "b"), "1-0"), before) + both + strings.Repeat(both, 2)
	r := run(t, Options{Who: Who{Names: []string{"Alder, Mina", "tide"}}}, folder(t, "a.pgn", text))
	var games []int
	for _, p := range r.Problems {
		if p.Kind == pgn.Kind(BothSides) {
			games = append(games, p.Game)
		}
	}
	if len(games) != 3 || games[0] != before+1 || games[2] != before+3 {
		t.Errorf("notes on games %v", games)
	}
}

// What is found in the blocks of a text adds up, in its account and in that of the stream; a
// hundred notes are told of one text, each with its game's number.
func TestBlocksAddUp(t *testing.T) {
	g := &Games{ctx: t.Context()}
	var handed []int
	text := &textRun{g: g, roster: newRoster("", Who{}), ordered: func(game *pgn.Game) bool { handed = append(handed, game.Index); return true }}
	notes := make([]pgn.Problem, 60)
	for i := range notes {
		notes[i].Game = i + 1
	}
	for _, before := range []int{0, 1000} {
		block := share{games: 70, theirs: 65, kept: 2, leftOut: map[Kind]int{BothSides: 60, Forfeit: 3}, notes: notes, ordered: []*pgn.Game{{Index: 62}, {Index: 64}}}
		if !text.add(&block, []sighted{{name: "Br©ok", games: 70}}, pgn.Passed{Games: before}) {
			t.Error("it ends")
		}
	}
	sum := g.Summary()
	if want := []KindCount{{BothSides, 120}, {Forfeit, 6}}; text.count.Games != 140 || text.count.Theirs != 130 || sum.Games != 140 || sum.Kept != 4 || !slices.Equal(sum.LeftOut, want) {
		t.Errorf("%+v, %+v", text.count, sum)
	}
	if p := sum.Problems; len(p) != 100 || p[0].Game != 1 || p[59].Game != 60 || p[60].Game != 1001 || p[99].Game != 1040 {
		t.Errorf("%d notes: %+v", len(p), p)
	}
	if !slices.Equal(handed, []int{62, 64, 1062, 1064}) || len(text.garbled) != 1 || text.roster.seen["Br©ok"].games != 140 {
		t.Errorf("games %v, garbled %q, %+v", handed, text.garbled, text.roster.seen["Br©ok"])
	}
	spread := &textRun{g: &Games{ctx: t.Context()}, roster: newRoster("", Who{})}
	for range 2 {
		spread.add(&share{games: 70, theirs: 65, kept: 2}, nil, pgn.Passed{})
	}
	if n := spread.g.Summary().Kept; n != 4 {
		t.Errorf("%d handed out", n)
	}
}

// Progress is told for each megabyte, and at the end of each file.
func TestProgressOfBytes(t *testing.T) {
	var told []Progress
	g := &Games{opt: Options{Progress: func(p Progress) { told = append(told, p) }}}
	g.tally.total, g.tally.Games, g.tally.Kept = 99, 7, 3
	for _, step := range []struct {
		bytes int64
		end   bool
	}{{progressEvery - 1, false}, {1, false}, {progressEvery - 1, false}, {0, true}, {progressEvery - 1, false}, {1, false}} {
		g.tally.bytes.Add(step.bytes)
		g.progress("a.pgn", step.end)
	}
	want := []Progress{{"a.pgn", progressEvery, 99, 7, 3}, {"a.pgn", 2*progressEvery - 1, 99, 7, 3}, {"a.pgn", 3*progressEvery - 1, 99, 7, 3}}
	if !slices.Equal(told, want) {
		t.Errorf("%+v, want %+v", told, want)
	}
}

// Games are read to as many half-moves as wanted, and what fails within an archive has the
// member's name.
func TestHalfMovesWanted(t *testing.T) {
	dir := folder(t, "a.zip", packZip("a.pgn", oneGame, "b.pgn", "%PDF-"))
	r := run(t, Options{Plies: 3}, dir)
	if len(r.games) != 1 || len(r.games[0].Moves) != 3 || r.problems(dir) != "a.zip:b.pgn: not PGN" {
		t.Errorf("%d games, problems %s", len(r.games), r.problems(dir))
	}
}
