package main

import (
	"context"
	"errors"
	"fmt"
	"reflect"
	"strings"
	"testing"
	"time"

	"foreply/compare/book"
	"foreply/compare/fact"
	"foreply/fetch"
	"foreply/fetch/pgn"
	"foreply/profile"
	"foreply/profile/board"
)

// speaking is an app whose stderr is out.
func speaking(out *strings.Builder) *app { return &app{say: newSpeaker(out)} }

// Games that don't count are told by reason, the reasons of the reading before those of the
// replay; what there is none of is not.
func TestLeftOutIsCounted(t *testing.T) {
	found := &findings{
		summary: fetch.Summary{LeftOut: []fetch.KindCount{{Kind: fetch.Forfeit, Games: 5}, {Kind: fetch.Engine, Games: 2}}, Duplicates: 3},
		profile: &profile.Profile{SetUps: 4, NoMoves: 6, NullMove: 1},
	}
	want := []fact.LeftOut{{Reason: "forfeit", Games: 5}, {Reason: "against an engine", Games: 2}, {Reason: "found twice", Games: 3},
		{Reason: "set-up position", Games: 4}, {Reason: "no legal move", Games: 6}, {Reason: "null moves, a lesson", Games: 1}}
	if got := found.leftOut(); !reflect.DeepEqual(got, want) {
		t.Errorf("%+v", got)
	}
	if got := leftOutText(want[:3]); got != "5 forfeit, 2 against an engine, 3 found twice" {
		t.Errorf("%q", got)
	}
	if got := (&findings{profile: &profile.Profile{}}).leftOut(); len(got) > 0 {
		t.Errorf("of nothing: %+v", got)
	}
}

// Why there is nothing to go by: none of theirs, none of use, or no games at all; and what to do.
func TestNoGames(t *testing.T) {
	near := func(n int) (list []fetch.Suggestion) {
		for i := range n {
			list = append(list, fetch.Suggestion{Name: fmt.Sprintf("Ash %d", i+1), Games: i + 1, Why: "like it"})
		}
		return list
	}
	who := &task{who: fetch.Who{Names: []string{"Ash, Bo", "ash7"}}, inputs: fetch.Inputs("a.pgn", "b.pgn")}
	forfeits := []fetch.KindCount{{Kind: fetch.Forfeit, Games: 2}}
	const repeat = "hint: --opponent takes the name as the games have it, and can be repeated\n"
	for _, c := range []struct {
		s    fetch.Summary
		want string
	}{
		{fetch.Summary{}, "error: no games in a.pgn, b.pgn\nhint: is it a PGN file, and was the export saved?\n"},
		{fetch.Summary{Games: 9, Theirs: 1, LeftOut: forfeits}, "error: the only game of Ash, Bo, ash7 can't be used: 2 forfeit\n"},
		{fetch.Summary{Games: 9, Theirs: 2, LeftOut: forfeits}, "error: none of the 2 games of Ash, Bo, ash7 can be used: 2 forfeit\n"},
		{fetch.Summary{Games: 1}, "error: no game of Ash, Bo, ash7 among the 1 game read\n" +
			"hint: the name must be spelled as in the White and Black tags; --opponent can be repeated\n"},
		{fetch.Summary{Games: 9, Suggestions: near(2)}, "error: no game of Ash, Bo, ash7 among the 9 games read\n" +
			"hint: seen: Ash 1, 1 game (like it)\nhint: seen: Ash 2, 2 games (like it)\n" + repeat},
	} {
		err := noGames(who, &findings{summary: c.s, profile: &profile.Profile{}})
		var none *noGamesError
		if got := told(err); got != c.want || !errors.As(err, &none) {
			t.Errorf("%q, want %q", got, c.want)
		}
	}
	who.opponent.ID, who.cfg = "ash", &settings{file: "club.yaml"}
	for n, seen := range []string{"", "hint: seen: Ash 1, 1 game (like it)\n"} {
		const byID = "hint: the name must be spelled as in the White and Black tags; the names of ash stand in club.yaml\n"
		if got := told(noGames(who, &findings{summary: fetch.Summary{Games: 9, Suggestions: near(n)}})); got != "error: no game of Ash, Bo, ash7 among the 9 games read\n"+seen+byID {
			t.Errorf("of the configuration: %q", got)
		}
	}
	if got := told(noGames(who, &findings{summary: fetch.Summary{Games: 9, Suggestions: near(7)}})); strings.Count(got, "hint: seen: ") != mostShown || strings.Contains(got, "Ash 6") {
		t.Errorf("%q", got)
	}
}

// Names that may be theirs: the likest first, some of many, and how one is added.
func TestNamesThatMayBeTheirs(t *testing.T) {
	var list []fetch.Suggestion
	for i := range 7 {
		list = append(list, fetch.Suggestion{Name: fmt.Sprintf("Ash %d", i+1), Games: i + 1})
	}
	const five = `"Ash 1" (1 game), "Ash 2" (2 games), "Ash 3" (3 games), "Ash 4" (4 games), "Ash 5" (5 games)`
	for _, c := range []struct {
		list    []fetch.Suggestion
		verbose bool
		id      string
		want    string
	}{
		{nil, false, "", ""},
		{list[:1], false, "", "note: not counted, but maybe theirs: \"Ash 1\" (1 game)\nhint: --opponent \"Ash 1\" adds one\n"},
		{list[1:2], false, "ash", "note: not counted, but maybe theirs: \"Ash 2\" (2 games)\nhint: add what is theirs to the names of ash in club.yaml\n"},
		{list[:5], false, "", "note: not counted, but maybe theirs: " + five + "\nhint: --opponent \"Ash 1\" adds one\n"},
		{list[:6], false, "", "note: not counted, but maybe theirs: " + five + ", and 1 more (-v names them)\nhint: --opponent \"Ash 1\" adds one\n"},
		{list, true, "", "note: not counted, but maybe theirs: " + five + ", \"Ash 6\" (6 games), \"Ash 7\" (7 games)\nhint: --opponent \"Ash 1\" adds one\n"},
	} {
		var out strings.Builder
		a := speaking(&out)
		a.say.verbose = c.verbose
		a.suggest(&task{cfg: &settings{file: "club.yaml"}, opponent: fact.Opponent{ID: c.id}}, &findings{summary: fetch.Summary{Suggestions: c.list}})
		if out.String() != c.want {
			t.Errorf("%q, want %q", out.String(), c.want)
		}
	}
}

// The page has a name of several sources once, with all its games, and none that is only the
// nearest.
func TestNamesOnThePage(t *testing.T) {
	got := maybe([]fetch.Suggestion{{Name: "B", Games: 2}, {Name: "Far", Games: 9, Far: true}, {Name: "A", Games: 3}, {Name: "B", Games: 5}})
	if want := []fact.Maybe{{Name: "B", Games: 7}, {Name: "A", Games: 3}}; !reflect.DeepEqual(got, want) {
		t.Errorf("%+v", got)
	}
}

// Games that may be counted twice are told of once they are three and more than one in a
// hundred of theirs; -v has them among the notes.
func TestPerhapsTwice(t *testing.T) {
	twice := func(n int) []pgn.Problem {
		list := []pgn.Problem{{Kind: fetch.Empty, File: "e.pgn"}}
		for i := range n {
			list = append(list, pgn.Problem{Kind: fetch.PerhapsTwice, Severity: pgn.Note, File: "a.pgn", Line: 10*i + 1, Game: i + 1, Message: "again"})
		}
		return list
	}
	const want = "warning: %d games may be counted twice; first: a.pgn:1: again; -v lists them all\n"
	for _, c := range []struct {
		n, theirs int
		verbose   bool
		want      string
	}{
		{2, 10, false, ""}, {3, 10, false, fmt.Sprintf(want, 3)}, {3, 10, true, ""},
		{3, 299, false, fmt.Sprintf(want, 3)}, {3, 300, false, ""}, {4, 300, false, fmt.Sprintf(want, 4)},
	} {
		var out strings.Builder
		a := speaking(&out)
		a.say.verbose = c.verbose
		a.reportTwice(fetch.Summary{Theirs: c.theirs, Problems: twice(c.n)})
		if out.String() != c.want {
			t.Errorf("%+v: %q", c, out.String())
		}
	}
}

// What concerns files, and two people under one name, is told one by one, and notes only
// with -v; what is wrong in games comes back.
func TestProblemsOfFiles(t *testing.T) {
	list := []pgn.Problem{
		{File: "a.pgn", Severity: pgn.Error, Message: "unreadable"},
		{File: "a.pgn", Severity: pgn.Note, Message: "empty"},
		{File: "b.pgn", Severity: pgn.Warning, Game: 3, Message: "illegal"},
		{Kind: fetch.TwoPeople, File: "b.pgn", Severity: pgn.Warning, Game: 4, Message: "two numbers"},
		{File: "b.pgn", Severity: pgn.Note, Game: 5, Message: "no result"},
	}
	for verbose, want := range map[bool]string{
		false: "warning: a.pgn: unreadable\nwarning: b.pgn: two numbers\n",
		true:  "warning: a.pgn: unreadable\nwarning: a.pgn: empty\nwarning: b.pgn: two numbers\n",
	} {
		var out strings.Builder
		a := speaking(&out)
		a.say.verbose = verbose
		inGames := a.reportFiles(list)
		if out.String() != want || len(inGames) != 2 || inGames[0].Message != "illegal" || inGames[1].Message != "no result" {
			t.Errorf("-v %v: %q, in games %+v", verbose, out.String(), inGames)
		}
	}
}

// What is wrong in games is told as a sum of those of the files and those of the replay, among
// theirs.
func TestProblemsOfGamesAreSummed(t *testing.T) {
	var out strings.Builder
	speaking(&out).reportProblems(&findings{
		profile: &profile.Profile{Problems: []pgn.Problem{{File: "a.pgn", Line: 9, Game: 3, Severity: pgn.Error, Message: "illegal"}}},
		summary: fetch.Summary{Games: 77, Theirs: 41, Problems: []pgn.Problem{{File: "a.pgn", Line: 5, Game: 2, Severity: pgn.Warning, Message: "odd"}, {File: "b.pgn", Severity: pgn.Error, Message: "cut"}}},
	})
	if want := "warning: b.pgn: cut\nwarning: 2 of 41 games had problems; first: a.pgn:5: odd; -v lists them all\n"; out.String() != want {
		t.Errorf("%q", out.String())
	}
}

// Without a game of theirs there is an error, or where peers of their rating will do a note; of
// the user's own games nothing more than that there are none.
func TestReadingFindsNone(t *testing.T) {
	t.Chdir(t.TempDir())
	write(t, "a.pgn", "[White \"Elm\"]\n[Black \"Oak\"]\n[Date \"2026.01.02\"]\n\n1. e4 e5 *\n")
	for rating, want := range map[int]string{0: "", 1900: "note: no game of Ash among the 1 game read\n"} {
		var out strings.Builder
		a := speaking(&out)
		a.ctx = t.Context()
		task := &task{cfg: &settings{}, who: fetch.Who{Names: []string{"Ash"}}, inputs: fetch.Inputs("a.pgn"), peers: fetch.Inputs("a.pgn"), rating: rating, myGames: fetch.Inputs("a.pgn", "a.pgn"), me: fetch.Who{Names: []string{"Me"}}}
		found, err := a.readGames(task, 0)
		if (err != nil) != (rating == 0) || err == nil && len(found.profile.Games) > 0 || out.String() != want {
			t.Errorf("rated %d: %v, told %q", rating, err, out.String())
		}
		out.Reset()
		if own, err := a.readOwn(task); err != nil || len(own.Games) > 0 || out.String() != "note: no game of yours in a.pgn, a.pgn\n" {
			t.Errorf("own games: %v, told %q", err, out.String())
		}
		task.me.Names = []string{"Oak"}
		if own, err := a.readOwn(task); err != nil || len(own.Games) != 1 || own.Games[0].Theirs != board.Black {
			t.Errorf("own games with black: %+v, %v", own, err)
		}
	}
}

// A report that was interrupted at the end is none.
func TestInterruptedReport(t *testing.T) {
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	var out strings.Builder
	a := speaking(&out)
	a.ctx = ctx
	b := book.New(board.White)
	for _, g := range chapters("1. e4 e5 2. Nf3 *\n") {
		b.Add(g)
	}
	if _, _, err := a.makeReport(&task{cfg: &settings{}, mine: []board.Color{board.White}, opened: []*book.Book{b}}); !errors.Is(err, context.Canceled) {
		t.Errorf("%v", err)
	}
}

// While an archive is read the games found are theirs; those of peers are nobody's.
func TestWhoseGamesAreRead(t *testing.T) {
	t.Chdir(t.TempDir())
	write(t, "a.pgn", "[White \"Ash\"]\n[Black \"Oak\"]\n[Date \"2026.01.02\"]\n\n1. e4 e5 2. Nf3 Nc6 3. Bb5 a6 *\n")
	var out strings.Builder
	a := speaking(&out)
	now := time.Unix(0, 0)
	a.ctx, a.say.started, a.say.now = t.Context(), now, func() time.Time { now = now.Add(time.Hour); return now }
	task := &task{cfg: &settings{}, who: fetch.Who{Names: []string{"Ash"}}, inputs: fetch.Inputs("a.pgn"), peers: fetch.Inputs("a.pgn")}
	if _, err := a.readGames(task, 0); err != nil || out.String() != "note: reading: 0 MB, 1 game, 1 of them theirs\n" {
		t.Errorf("%q, %v", out.String(), err)
	}
	out.Reset()
	if _, err := a.openPeers(task, &profile.Profile{}); err != nil || !strings.HasPrefix(out.String(), "note: reading games of peers: 0 MB, 1 game\n") {
		t.Errorf("%q, %v", out.String(), err)
	}
}

// What the page says of the reading: warnings of games and of the replay, signs of two
// people, names.
func TestBasisOfTheReading(t *testing.T) {
	found := &findings{
		profile: &profile.Profile{Problems: []pgn.Problem{{Severity: pgn.Error}, {Severity: pgn.Note}}},
		summary: fetch.Summary{
			Problems: []pgn.Problem{{Kind: fetch.TwoPeople, Severity: pgn.Warning}, {Severity: pgn.Warning}, {Severity: pgn.Note}, {Kind: fetch.TwoPeople, Severity: pgn.Warning}},
			LeftOut:  []fetch.KindCount{{Kind: fetch.Simul, Games: 8}}, Suggestions: []fetch.Suggestion{{Name: "A", Games: 3}},
		},
		lost: []fact.Unread{{File: "x"}},
	}
	want := fact.Basis{
		Warnings: 4, TwoPeople: 2, LeftOut: []fact.LeftOut{{Reason: "simultaneous", Games: 8}}, Maybe: []fact.Maybe{{Name: "A", Games: 3}},
		Unread: []fact.Unread{{File: "x"}}, Sources: []fact.SourceCount{},
	}
	if got := found.basis(); !reflect.DeepEqual(got, want) {
		t.Errorf("%+v", got)
	}
}
