package fetch

import (
	"context"
	"errors"
	"fmt"
	"path/filepath"
	"reflect"
	"strings"
	"testing"

	"foreply/fetch/pgn"
)

func asError(err error, target **Error) bool { return errors.As(err, target) }

// game writes a game of PGN; tags in pairs beside the roster's players.
func game(white, black, moves, result string, more ...string) string {
	var out strings.Builder
	fmt.Fprintf(&out, "[White %q]\n[Black %q]\n[Result %q]\n", white, black, result)
	for i := 0; i < len(more); i += 2 {
		fmt.Fprintf(&out, "[%s %q]\n", more[i], more[i+1])
	}
	fmt.Fprintf(&out, "\n%s %s\n\n", moves, result)
	return out.String()
}

var alder = Options{Who: Who{Names: []string{"Alder, Mina"}}}

func TestOnlyTheirGamesInOrder(t *testing.T) {
	dir := folder(t,
		"2.pgn", game("Alder, Mina", "Crane, U", "1. e4 e5 2. f4", "1-0")+game("Dale, V", "Elm, W", "1. c4 c5", "1-0"),
		"10.pgn", game("Dale, V", "Mina Alder", "1. d4 d5", "0-1"),
		"sub/3.pgn", game("Alder, Mina", "Brook, T", "1. Nf3 d5", "1/2-1/2"),
		".hidden/4.pgn", game("Alder, Mina", "Brook, T", "1. b3 d5", "1/2-1/2"),
		"notes.txt", "not looked at",
	)
	r := run(t, alder, dir, filepath.Join(dir, "2.pgn"))
	var got []string
	for _, g := range r.games {
		name, _ := filepath.Rel(dir, g.File)
		got = append(got, fmt.Sprintf("%s:%d %s", name, g.Index, g.Moves[0].SAN))
	}
	want := "10.pgn:1 d4, 2.pgn:1 e4, sub/3.pgn:1 Nf3"
	if strings.Join(got, ", ") != want {
		t.Errorf("games %s, want %s", strings.Join(got, ", "), want)
	}
	if r.Games != 4 || r.Theirs != 3 || r.Kept != 3 || len(r.Files) != 3 {
		t.Errorf("%+v", r.Summary)
	}
}

func TestLeftOutIsCounted(t *testing.T) {
	text := game("Alder, Mina", "a", "1. e4 e5", "1-0") +
		game("Alder, Mina", "b", "", "1-0") + game("Alder, Mina", "c", "", "1-0") +
		game("Alder, Mina", "d", "", "1/2-1/2") +
		game("Alder, Mina", "e", "1. e4 e5", "1-0", "Variant", "Atomic") +
		game("Alder, Mina", "f", "1. e4 e5", "1-0", "BlackType", "program") +
		game("Alder, Mina", "g", "1. e4 e5", "1-0", "Event", "Simul") +
		game("Alder, Mina", "mina", "1. e4 e5", "1-0") +
		game("x", "y", "1. e4 e5", "1-0", "Variant", "Atomic")
	dir := folder(t, "a.pgn", text)
	opt := Options{Who: Who{Names: []string{"Alder, Mina", "mina"}}}
	r := run(t, opt, dir)
	want := []KindCount{{Forfeit, 2}, {Engine, 1}, {BothSides, 1}, {NoMoves, 1}, {Simul, 1}, {Variant, 1}}
	if !reflect.DeepEqual(r.LeftOut, want) {
		t.Errorf("left out %v, want %v", r.LeftOut, want)
	}
	if r.Theirs != 8 || r.Kept != 1 {
		t.Errorf("theirs %d, kept %d", r.Theirs, r.Kept)
	}
	opt.With = []Kind{Simul, BothSides}
	if r := run(t, opt, dir); r.Kept != 3 || len(r.LeftOut) != 4 {
		t.Errorf("with simultaneous games: kept %d, left out %v", r.Kept, r.LeftOut)
	}
	if r := run(t, Options{With: Kinds}, dir); r.Kept != 9 || len(r.LeftOut) != 0 {
		t.Errorf("with everything: kept %d, left out %v", r.Kept, r.LeftOut)
	}
}

// Moves that could not be read were played all the same: no forfeit, and the
// problem travels with the game.
func TestBrokenGameIsNoForfeit(t *testing.T) {
	dir := folder(t, "a.pgn", game("Alder, Mina", "a", "1. e4 {never closed e5 2. Nf3", "1-0")+
		game("Alder, Mina", "b", "{never closed 1. e4 e5", "1-0")+game("Alder, Mina", "c", "1. e4", "1-0"))
	r := run(t, Options{Who: Who{Names: []string{"Alder, Mina"}}}, dir)
	if want := []KindCount{{Forfeit, 1}}; r.Kept != 2 || !reflect.DeepEqual(r.LeftOut, want) {
		t.Fatalf("kept %d, left out %v, want 2 and %v", r.Kept, r.LeftOut, want)
	}
	for _, g := range r.games {
		if len(g.Problems) == 0 || g.Problems[0].Kind != pgn.OpenComment {
			t.Errorf("problems %v", g.Problems)
		}
	}
}

func TestHandlesBelongToTheirSource(t *testing.T) {
	text := game("tide", "x", "1. e4 e5", "1-0") + game("mina", "y", "1. d4 d5", "1-0")
	dir := folder(t, "a.pgn", text, "b.pgn", text)
	g, err := Open(context.Background(), []Input{
		{Source: "one", Pattern: filepath.Join(dir, "a.pgn"), Handles: []string{"tide"}},
		{Source: "two", Pattern: filepath.Join(dir, "b.pgn"), Handles: []string{"mina"}},
	}, alder)
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for game := range g.All() {
		white, black := g.Match(game)
		got = append(got, fmt.Sprint(game.Source, " ", game.Tags().Get("White"), " ", white, black))
	}
	if want := "one tide true false, two mina true false"; strings.Join(got, ", ") != want {
		t.Errorf("%s, want %s", strings.Join(got, ", "), want)
	}
}

func TestSuggestions(t *testing.T) {
	text := strings.Repeat(game("Alder, M.", "Brook, T", "1. e4 e5", "1-0"), 3) +
		game("x", "Alder Mina", "1. e4 e5", "1-0") + game("Alder, Tomas", "Brook, T", "1. e4 e5", "1-0") +
		game("Adler, Mina", "Brook, T", "1. e4 e5", "1-0") + game("Alder", "z", "1. e4 e5", "1-0")
	found := game("Alder, Mina", "q", "1. e4 e5", "1-0")
	t.Run("beside games found", func(t *testing.T) {
		r := run(t, alder, folder(t, "a.pgn", text+found))
		want := []Suggestion{
			{"Alder Mina", 1, "the same words in another order", false},
			{"Alder, M.", 3, "agrees as far as it is spelled out", false},
			{"Adler, Mina", 1, "spelled nearly alike", false},
			{"Alder", 1, "the surname alone", false},
		}
		if !reflect.DeepEqual(r.Suggestions, want) {
			t.Errorf("%+v", r.Suggestions)
		}
	})
	t.Run("no game and nobody alike", func(t *testing.T) {
		r := run(t, Options{Who: Who{Names: []string{"Brock, U"}}}, folder(t, "a.pgn", text))
		if r.Kept != 0 || len(r.Suggestions) != 5 || r.Suggestions[0] != (Suggestion{"Brook, T", 5, "among the nearest names in the files", true}) {
			t.Errorf("%+v", r.Suggestions)
		}
	})
	t.Run("games found and nobody alike", func(t *testing.T) {
		r := run(t, Options{Who: Who{Names: []string{"q"}}}, folder(t, "a.pgn", text+found))
		if len(r.Suggestions) != 0 {
			t.Errorf("%+v", r.Suggestions)
		}
	})
	t.Run("number found, elsewhere the name alone", func(t *testing.T) {
		r := run(t, Options{Who: Who{IDs: []string{"1234567"}}}, folder(t, "a.pgn",
			game("Alder, Mina", "q", "1. e4 e5", "1-0", "WhiteFideId", "1234567")+
				game("Mina Alder", "q", "1. d4 e5", "1-0")))
		if len(r.Suggestions) != 1 || r.Suggestions[0] != (Suggestion{"Mina Alder", 1, "stands with the same FIDE number in other games", false}) {
			t.Errorf("%+v", r.Suggestions)
		}
	})
}

// Handles that the user is not sure of count like the others.
func TestUnsureHandlesCount(t *testing.T) {
	r := run(t, Options{Who: Who{Names: []string{"Alder, Mina"}, Unsure: []string{"tide", "Mina Alder"}}}, folder(t, "a.pgn",
		game("tide", "x", "1. e4 e5", "1-0")+game("x", "Tide", "1. e4 e5", "1-0")+game("Alder, Mina", "x", "1. e4 e5", "1-0")))
	if r.Kept != 3 {
		t.Errorf("kept %d", r.Kept)
	}
}

func TestCancelled(t *testing.T) {
	one, _ := twoCollections(1)
	dir := folder(t, "a.pgn", strings.ReplaceAll(one, career, "Alder, Mina"))
	for _, opt := range []Options{{}, alder} {
		ctx, cancel := context.WithCancel(context.Background())
		opt.Progress = func(Progress) { cancel() }
		g, err := Open(ctx, []Input{{Pattern: dir}}, opt)
		if err != nil {
			t.Fatal(err)
		}
		n := 0
		for range g.All() {
			if n++; n == 10 {
				cancel()
			}
		}
		if !errors.Is(g.Err(), context.Canceled) || n > 10 {
			t.Errorf("%d games, error %v", n, g.Err())
		}
	}
}

func TestEarlyEndOfTheLoop(t *testing.T) {
	dir := folder(t, "a.pgn", oneGame+oneGame, "b.pgn", oneGame, "c.zip", packZip("d.pgn", oneGame, "e.pgn", oneGame))
	for _, most := range []int{1, 3, 4} {
		g, err := Open(context.Background(), []Input{{Pattern: dir}}, Options{})
		if err != nil {
			t.Fatal(err)
		}
		n := 0
		for range g.All() {
			if n++; n == most {
				break
			}
		}
		if s := g.Summary(); g.Err() != nil || s.Kept != most || len(s.Problems) != 0 {
			t.Errorf("after %d games: error %v, %+v", most, g.Err(), s)
		}
		for range g.All() {
			t.Error("a second loop has games")
		}
	}
}

// How many reports there are is known for one worker only: several read ahead, so
// the first block to be done may come after the last one was read.
func TestProgress(t *testing.T) {
	text := strings.Repeat(oneGame, 40000) // 3.2 MB
	packed := packGzip(oneGame)
	dir := folder(t, "a.pgn", text, "b.pgn.gz", packed)
	for workers, least := range map[int]int{1: 4, 2: 2} { // one for each file, and in one reading two more
		var seen []Progress
		run(t, Options{Workers: workers, Progress: func(p Progress) { seen = append(seen, p) }}, dir)
		if len(seen) < least {
			t.Fatalf("%d workers: %d reports", workers, len(seen))
		}
		for i := 1; i < len(seen); i++ {
			if seen[i].Bytes < seen[i-1].Bytes || seen[i].Games < seen[i-1].Games {
				t.Errorf("%d workers: going back: %+v after %+v", workers, seen[i], seen[i-1])
			}
		}
		size := int64(len(text) + len(packed))
		want := Progress{File: filepath.Join(dir, "b.pgn.gz"), Bytes: size, Total: size, Games: 40001, Kept: 40001}
		if last := seen[len(seen)-1]; last != want {
			t.Errorf("%d workers: at the end %+v, want %+v", workers, last, want)
		}
	}
}

func TestProgressOfStandardInput(t *testing.T) {
	var seen []Progress
	opt := Options{Stdin: strings.NewReader(oneGame), Progress: func(p Progress) { seen = append(seen, p) }}
	run(t, opt, "-", folder(t, "a.pgn", oneGame))
	if len(seen) != 2 || seen[0].Total != 0 {
		t.Errorf("%+v: the total is not known", seen)
	}
}

func TestSameInputSameOutput(t *testing.T) {
	one, two := twoCollections(1)
	var files []string
	for i, text := range []string{one, two, "<html>", strings.Repeat(game("Elder, M", "x", "1. e4 e5", "1-0"), 3)} {
		files = append(files, fmt.Sprintf("%d.pgn", i), text)
	}
	dir := folder(t, files...)
	first := run(t, Options{Who: Who{Names: []string{career}}}, dir)
	for range 3 {
		if again := run(t, Options{Who: Who{Names: []string{career}}}, dir); !reflect.DeepEqual(first, again) {
			t.Fatal("a second run differs")
		}
	}
}

func TestVariationsAreRead(t *testing.T) {
	r := run(t, Options{Variations: true}, folder(t, "a.pgn", "1. e4 (1. d4) e5 *\n"))
	if tree := r.games[0].Tree; tree == nil || len(tree.Moves[0].Variations) != 1 {
		t.Errorf("tree %+v", tree)
	}
}

func TestProblemsOfTheTextArePassedOn(t *testing.T) {
	r := run(t, Options{}, folder(t, "a.pgn", "hello there\n\n"+oneGame))
	if len(r.Problems) != 1 || r.Problems[0].Kind != pgn.StrayText {
		t.Errorf("%+v", r.Problems)
	}
}
