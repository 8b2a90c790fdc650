package main

import (
	"errors"
	"io"
	"reflect"
	"slices"
	"strings"
	"testing"

	"foreply/compare/fact"
	"foreply/fetch"
	"foreply/fetch/pgn"
	"foreply/profile"
	"foreply/profile/board"
)

// told is what stderr has of an error.
func told(err error) string {
	var out strings.Builder
	newSpeaker(&out).fail(err)
	return out.String()
}

// --rating wins over the configuration, and that over the games.
func TestRatingOfATask(t *testing.T) {
	cfg := &settings{config: config{Opponents: []opponentConfig{{ID: "birch", Names: []string{"Birch, L"}, Rating: 1700}, {ID: "ash", Names: []string{"Ash, M"}}}}}
	played := &profile.Profile{}
	for _, g := range []struct {
		elo   int
		speed pgn.Speed
	}{{1500, profile.Classical}, {1900, profile.Classical}, {0, profile.Classical}, {2100, profile.Blitz}} {
		played.Games = append(played.Games, profile.Game{Header: pgn.Header{Speed: g.speed}, Elo: g.elo})
	}
	for _, c := range []struct {
		quirk string
		flag  int
		id    string
		class profile.Class
		want  int
	}{
		{"the flag", 1600, "birch", profile.Classical, 1600},
		{"the configuration", 0, "birch", profile.Classical, 1700},
		{"the newest slow game for a slow one", 0, "ash", profile.Classical, 1900},
		{"the newest fast game for a fast one", 0, "ash", profile.Blitz, 2100},
		{"none of that speed: the newest of all", 0, "ash", profile.Rapid, 2100},
	} {
		task := &task{cfg: cfg, class: c.class}
		if err := task.setOpponent(&flags{rating: c.flag}, []string{c.id}); err != nil {
			t.Fatal(err)
		}
		if got := task.ratingOf(played); got != c.want {
			t.Errorf("%s: %d, want %d", c.quirk, got, c.want)
		}
	}
}

// What the sheet says of the files: how many games of theirs in how many, and which
// were read to a part.
func TestBasisOfTheFiles(t *testing.T) {
	found := &findings{profile: &profile.Profile{}, summary: fetch.Summary{
		Games: 940, Theirs: 41,
		Files: []fetch.FileCount{{Name: "a.pgn", Games: 900, Theirs: 40}, {Name: "b.pgn.gz", Source: "club", Games: 40, Theirs: 1}, {Name: "e.pgn"}},
		Problems: []pgn.Problem{
			{Kind: fetch.Unreadable, Severity: pgn.Error, File: "b.pgn.gz"}, {Kind: fetch.NotPGN, Severity: pgn.Error, File: "c.pgn"},
			{Kind: fetch.NotPGN, Severity: pgn.Error, File: "e.pgn"},
			{Kind: fetch.Empty, Severity: pgn.Note, File: "d.pgn"},
		},
	}}
	a := &app{say: newSpeaker(io.Discard)}
	a.reportProblems(found)
	b := found.basis()
	if want := []fact.SourceCount{{Name: "a.pgn", Games: 40, Read: 900}, {Name: "club: b.pgn.gz", Games: 1, Read: 40}, {Name: "e.pgn"}}; !reflect.DeepEqual(b.Sources, want) {
		t.Errorf("sources %+v", b.Sources)
	}
	if want := []fact.Unread{{File: "b.pgn.gz", Partly: true}, {File: "c.pgn"}, {File: "e.pgn"}}; !reflect.DeepEqual(b.Unread, want) {
		t.Errorf("unread %+v", b.Unread)
	}
}

// A number is told from a name: who writes the word before it as tags do means a number.
func TestNumberOrName(t *testing.T) {
	for text, want := range map[string]bool{
		"NationalId C12-3": true, "PlayerID 77": true, "FideId 0012345": true, "12345": true,
		"Sigrid 2": false, "sigrid 12345": false, "NationalId": false, "NationalId alder": false, "NationalId ?": false,
		"1234": false, "Alder, Mina": false, "tallowmoth77": false,
	} {
		_, who := calledOpponent([]string{text})
		if got := len(who.IDs) == 1; got != want {
			t.Errorf("%q is a number: %v", text, got)
		}
	}
}

// Where the sheet's names come from, and what games are looked for by.
func TestNamesOfAnOpponent(t *testing.T) {
	cfg := &settings{file: "club.yaml", config: config{Opponents: []opponentConfig{
		{ID: "ash", Name: "Ash, Bo", Names: []string{"Ash, B", "ash7"}, Unsure: []string{"bo_a"}, FideIDs: []string{"1234567"}},
		{ID: "elm", Handles: []handleConfig{{"online", "elm9"}, {"other", "elm_x"}}},
		{ID: "fir", FideIDs: []string{"7654321"}},
		{ID: "oak", Unsure: []string{"oak1"}, Handles: []handleConfig{{"online", "oak2"}}},
	}}}
	for _, c := range []struct {
		id   string
		want fact.Opponent
		who  fetch.Who
	}{
		{"ash", fact.Opponent{ID: "ash", Name: "Ash, Bo", Names: []string{"Ash, B", "ash7"}, Unsure: []string{"bo_a"}},
			fetch.Who{Names: []string{"Ash, B", "ash7"}, Unsure: []string{"bo_a"}, IDs: []string{"1234567"}}},
		{"elm", fact.Opponent{ID: "elm", Name: "elm9", Names: []string{}}, fetch.Who{}},
		{"fir", fact.Opponent{ID: "fir", Name: "fir", Names: []string{}}, fetch.Who{IDs: []string{"7654321"}}},
		{"oak", fact.Opponent{ID: "oak", Name: "oak1", Names: []string{}, Unsure: []string{"oak1"}}, fetch.Who{Unsure: []string{"oak1"}}},
	} {
		got := &task{cfg: cfg}
		if err := got.setOpponent(&flags{}, []string{c.id}); err != nil || !reflect.DeepEqual(got.opponent, c.want) || !reflect.DeepEqual(got.who, c.who) {
			t.Errorf("%s: %+v, %+v, %v", c.id, got.opponent, got.who, err)
		}
	}
	got := &task{cfg: cfg}
	given := []string{"7654321", "Ash, Bo", "ash7", "NationalId C1"}
	if err := got.setOpponent(&flags{opponent: given, rating: 1900}, nil); err != nil || got.rating != 1900 ||
		!reflect.DeepEqual(got.opponent, fact.Opponent{Name: "Ash, Bo", Names: given}) ||
		!slices.Equal(got.who.Names, given) || len(got.who.IDs) != 2 || !slices.Contains(got.who.IDs, "NationalId C1") || !slices.Contains(got.who.IDs, "7654321") {
		t.Errorf("%+v, %+v, %v", got.opponent, got.who, err)
	}
}

// An opponent that can't be taken: what was given, and what to type.
func TestFaultsOfAnOpponent(t *testing.T) {
	none := &settings{}
	two := &settings{file: "club.yaml", config: config{Opponents: []opponentConfig{{ID: "ash", Names: []string{"Ash"}}, {ID: "elm", Names: []string{"Elm"}}}}}
	const byName = "hint: --opponent 'Last, First' names one; repeat it for further spellings and handles\n"
	const byID = "hint: club.yaml has ash, elm; --opponent 'Last, First' names somebody else\n"
	for _, c := range []struct {
		cfg  *settings
		f    flags
		args []string
		want string
	}{
		{two, flags{opponent: []string{"Ash"}}, []string{"ash"}, "error: the opponent is given twice\nhint: give either the id of the configuration or --opponent\n"},
		{two, flags{rating: -1}, []string{"ash"}, "error: --rating: a rating is wanted, not -1\n"},
		{two, flags{rating: 4000}, []string{"ash"}, "error: --rating: a rating is wanted, not 4000\n"},
		{two, flags{rating: 3999}, []string{"ash"}, ""},
		{two, flags{}, nil, "error: who is the opponent?\n" + byID},
		{none, flags{}, nil, "error: who is the opponent?\n" + byName},
		{two, flags{}, []string{"oak"}, "error: no opponent oak in the configuration\n" + byID},
		{none, flags{}, []string{"oak"}, "error: no opponent oak in the configuration\n" +
			"hint: there is no foreply.yaml in this folder, nor in your configuration folder; --config FILE names one elsewhere\n" + byName},
		{&settings{unread: errors.New("locked")}, flags{}, []string{"oak"}, "error: no opponent oak in the configuration\n" + byName +
			"hint: your own configuration was not read: locked\n"},
		{two, flags{}, []string{"Oak, Pia"}, "error: \"Oak, Pia\" is no id of the configuration\nhint: a name goes behind --opponent: --opponent \"Oak, Pia\"\n"},
	} {
		err := (&task{cfg: c.cfg}).setOpponent(&c.f, c.args)
		if got := ""; err != nil {
			if got = told(err); got != c.want {
				t.Errorf("%q: %q, want %q", c.args, got, c.want)
			}
		} else if c.want != "" {
			t.Errorf("%q: no error, want %q", c.args, c.want)
		}
	}
}

// Games and peers come from the flags, else from the configuration: the flags don't add.
func TestInputsOfATask(t *testing.T) {
	t.Chdir(t.TempDir())
	for _, name := range []string{"flag.pgn", "one.pgn", "two.pgn", "peer.pgn", "lent.pgn"} {
		write(t, name, "1. e4 *\n")
	}
	cfg := func() *settings {
		return &settings{config: config{
			Opponents: []opponentConfig{{ID: "ash", Names: []string{"Ash"}, Handles: []handleConfig{{"online", "ash7"}}}},
			Sources:   []sourceConfig{{ID: "club", Files: []string{"one.pgn"}}, {ID: "online", Files: []string{"two.pgn"}}, {ID: "many", Files: []string{"one.pgn"}, Mixed: true}},
			Peers:     []string{"peer.pgn"}, Cache: "none",
		}}
	}
	all := []fetch.Input{{Source: "club", Pattern: "one.pgn"}, {Source: "online", Pattern: "two.pgn", Handles: []string{"ash7"}}, {Pattern: "one.pgn"}}
	for _, c := range []struct {
		quirk         string
		f             flags
		inputs, peers []fetch.Input
	}{
		{"the configuration's", flags{}, all, fetch.Inputs("peer.pgn")},
		{"--games", flags{games: []string{"flag.pgn", "two.pgn"}}, fetch.Inputs("flag.pgn", "two.pgn"), fetch.Inputs("peer.pgn")},
		{"--peers", flags{peers: []string{"lent.pgn"}}, all, fetch.Inputs("lent.pgn")},
	} {
		got := &task{cfg: cfg(), opponent: fact.Opponent{ID: "ash"}}
		if err := got.setInputs(&c.f); err != nil || !reflect.DeepEqual(got.inputs, c.inputs) || !reflect.DeepEqual(got.peers, c.peers) {
			t.Errorf("%s: %+v, peers %+v, %v", c.quirk, got.inputs, got.peers, err)
		}
	}
	if got := (&task{who: fetch.Who{Names: []string{"Ash"}, Unsure: []string{"bo"}}, inputs: append(all, all[1])}).sought(); strings.Join(got, " ") != "Ash bo ash7" {
		t.Errorf("sought by %q", got)
	}
}

// Without games: those of a server that were not fetched yet, or none named; with a rating,
// peers alone will do.
func TestNoInputs(t *testing.T) {
	t.Chdir(t.TempDir())
	write(t, "peer.pgn", "1. e4 *\n")
	server := &settings{config: config{
		Opponents: []opponentConfig{{ID: "ash", Handles: []handleConfig{{"online", "ash7"}}}, {ID: "elm", Names: []string{"Elm"}}},
		Sources:   []sourceConfig{{ID: "online", URL: "https://example.org/{player}"}}, Cache: "none",
	}}
	noGames := "error: where are the games?\nhint: --games 'games/*.pgn' names them, or list them under sources in foreply.yaml\n"
	for _, c := range []struct {
		cfg    *settings
		id     string
		rating int
		peers  []string
		want   string
	}{
		{server, "ash", 0, nil, "error: no games of ash yet\nhint: 'foreply fetch ash' gets them\n"},
		{server, "elm", 0, nil, noGames},
		{&settings{}, "", 0, []string{"peer.pgn"}, noGames},
		{&settings{}, "", 1900, nil, noGames},
		{&settings{}, "", 1900, []string{"peer.pgn"}, ""},
	} {
		err := (&task{cfg: c.cfg, rating: c.rating, opponent: fact.Opponent{ID: c.id}}).setInputs(&flags{peers: c.peers})
		if (err != nil) != (c.want != "") || err != nil && told(err) != c.want {
			t.Errorf("%s, %d, %q: %v, want %q", c.id, c.rating, c.peers, err, c.want)
		}
	}
	if got, _ := server.lacking("ash"); !slices.Equal(got, []string{"online"}) {
		t.Errorf("not fetched from %q", got)
	}
}

// What a run reads it never writes over: games, peers, own games, either book, the
// configuration.
func TestReadsOfATask(t *testing.T) {
	got := (&task{
		cfg: &settings{file: "c"}, inputs: fetch.Inputs("g"), peers: fetch.Inputs("p"), myGames: fetch.Inputs("m"),
		books: [2][]string{board.White: {"w"}, board.Black: {"b1", "b2"}},
	}).reads()
	if names := inputNames(got); names != "g, p, m, w, b1, b2, c" {
		t.Errorf("reads %s", names)
	}
	if got := (&task{cfg: &settings{}}).reads(); len(got) > 0 {
		t.Errorf("reads %q", got)
	}
}

// 90+30 is what players say; the note tells what it was read as, and what was meant perhaps.
func TestClockInMinutes(t *testing.T) {
	for clock, want := range map[string]string{
		"90+30":  "note: club.yaml:7: sheet.clock 90+30 was read as 90 seconds and 30 a move, rapid; 90 minutes are 5400+30\n",
		"120+1":  "note: club.yaml:7: sheet.clock 120+1 was read as 120 seconds and 1 a move, blitz; 120 minutes are 7200+1\n",
		"121+1":  "",
		"90":     "",
		"0+30":   "",
		"5400+3": "",
		"rapid":  "",
		"":       "",
	} {
		var out strings.Builder
		cfg := &settings{file: "club.yaml", lines: map[string]int{"sheet.clock": 7}, config: config{Sheet: sheetConfig{Clock: clock}}}
		(&app{say: newSpeaker(&out)}).tellClock(cfg)
		if out.String() != want {
			t.Errorf("%s: %q, want %q", clock, out.String(), want)
		}
	}
}

// The user's side of the game: what a flag says wins over the configuration, for each
// colour by itself.
func TestSideOfATask(t *testing.T) {
	cfg := config{
		Me: meConfig{
			Names: []string{"Me"}, Games: []string{"mine.pgn"},
			Repertoire: repertoireConfig{White: []string{"w.pgn"}, Black: []string{"b.pgn", "c.pgn"}, Main: []string{"Main"}},
		},
		Sheet: sheetConfig{Date: "2026-11-07", Need: "draw", Clock: "180+2"},
	}
	both := []board.Color{board.White, board.Black}
	w, b := []string{"w.pgn"}, []string{"b.pgn", "c.pgn"}
	for _, c := range []struct {
		quirk string
		f     flags
		mine  []board.Color
		open  bool
		books [2][]string
	}{
		{"all from the configuration", flags{}, both, true, [2][]string{w, b}},
		{"a colour", flags{color: "Black"}, both[1:], false, [2][]string{w, b}},
		{"the other", flags{color: "WHITE"}, both[:1], false, [2][]string{w, b}},
		{"both", flags{color: "both"}, both, false, [2][]string{w, b}},
		{"a book for the colour", flags{color: "black", both: []string{"x.pgn"}}, both[1:], false, [2][]string{w, {"x.pgn"}}},
		{"a book for the other", flags{color: "white", both: []string{"x.pgn"}}, both[:1], false, [2][]string{{"x.pgn"}, b}},
		{"a white book", flags{white: []string{"x.pgn"}}, both, true, [2][]string{{"x.pgn"}, b}},
		{"a black book", flags{black: []string{"x.pgn"}}, both, true, [2][]string{w, {"x.pgn"}}},
	} {
		got := &task{cfg: &settings{config: cfg}, class: profile.Classical}
		err := got.setGame(&c.f)
		if err != nil || !slices.Equal(got.mine, c.mine) || got.colorOpen != c.open || !reflect.DeepEqual(got.books, c.books) {
			t.Errorf("%s: %v, open %v, books %q, %v", c.quirk, got.mine, got.colorOpen, got.books, err)
		}
		if !slices.Equal(got.me.Names, []string{"Me"}) || inputNames(got.myGames) != "mine.pgn" || !slices.Equal(got.first, []string{"Main"}) || got.strict ||
			got.need != fact.NeedDraw || got.class != profile.Blitz || got.when.First.Date().String() != "2026-11-07" {
			t.Errorf("%s: %+v", c.quirk, got)
		}
	}
	got := &task{cfg: &settings{config: cfg}}
	err := got.setGame(&flags{me: []string{"I", "Myself"}, myGames: []string{"own.pgn"}, first: []string{"Second"}, strict: true})
	if err != nil || !slices.Equal(got.me.Names, []string{"I", "Myself"}) || inputNames(got.myGames) != "own.pgn" || !slices.Equal(got.first, []string{"Second"}) || !got.strict || got.mainPlace != "" {
		t.Errorf("flags: %+v, %v", got, err)
	}
	if files := inputNames(got.bookFiles()); files != "w.pgn, b.pgn, c.pgn" {
		t.Errorf("book files %s", files)
	}
	got = &task{cfg: &settings{}, class: profile.Classical}
	if err := got.setGame(&flags{color: "black", both: []string{"x.pgn"}}); err != nil || got.class != profile.Classical || got.when.Known() || got.need != fact.AnyResult {
		t.Errorf("nothing given: %+v, %v", got, err)
	}
}

// What is missing of the user's side is asked for by its own name.
func TestFaultsOfASide(t *testing.T) {
	for _, c := range []struct {
		f    flags
		want string
	}{
		{flags{both: []string{"x"}}, "error: which colour is the repertoire for?\nhint: add --my-color white or black; "},
		{flags{color: "green"}, "error: --my-color: \"green\" is no colour\nhint: white, black or both\n"},
		{flags{color: "both", both: []string{"x"}}, "error: --repertoire is for one colour\nhint: use --white-repertoire and --black-repertoire\n"},
		{flags{}, "error: which colour will you have, and which is your repertoire?\nhint: add --my-color and --repertoire; "},
		{flags{color: "black", white: []string{"x"}}, "error: no repertoire for black\nhint: --black-repertoire black.pgn names it, or me.repertoire.black in foreply.yaml\n"},
		{flags{color: "both", black: []string{"x"}}, "error: no repertoire for white\nhint: --white-repertoire white.pgn names it, or me.repertoire.white in foreply.yaml\n"},
		{flags{black: []string{"x"}, myGames: []string{"m"}}, "error: whose games are yours?\nhint: --me 'Last, First' names you; "},
	} {
		err := (&task{cfg: &settings{}}).setGame(&c.f)
		if err == nil || !strings.HasPrefix(told(err), c.want) {
			t.Errorf("%+v: %v, want %q", c.f, err, c.want)
		}
	}
}

// While the colour is open it is told what is prepared.
func TestOpenColourIsTold(t *testing.T) {
	for _, c := range []struct {
		open bool
		mine []board.Color
		want string
	}{
		{false, []board.Color{board.White}, ""},
		{true, []board.Color{board.White, board.Black}, "note: no colour given: both are prepared; --my-color chooses one\n"},
		{true, []board.Color{board.White}, "note: no colour given, and no repertoire for black: only white is prepared\n"},
		{true, []board.Color{board.Black}, "note: no colour given, and no repertoire for white: only black is prepared\n"},
	} {
		var out strings.Builder
		(&app{say: newSpeaker(&out)}).tellColor(&task{colorOpen: c.open, mine: c.mine})
		if out.String() != c.want {
			t.Errorf("%+v: %q", c, out.String())
		}
	}
}

// The day of the game to come: as given, else after the newest game, or after the newest of
// the peers where there is no game.
func TestDayOfATask(t *testing.T) {
	game := func(date string) profile.Game {
		d := pgn.ParseDate(date)
		return profile.Game{Header: pgn.Header{Date: d}, Span: d.Span()}
	}
	played := &profile.Profile{Games: []profile.Game{game("2026.??.??"), game("2026.10.20"), game("2026.10.25"), game("2026.10.26"), {}}}
	peers := &profile.Peers{Span: profile.Span{First: pgn.ParseDate("2024.11.12").Span().First, Last: pgn.ParseDate("2026.03.05").Span().Last}}
	for _, c := range []struct {
		quirk string
		given string
		p     *profile.Profile
		peers *profile.Peers
		day   string
		told  string
	}{
		{"as given", "2026-10-25", played, peers, "2026-10-25", "note: 3 games not certainly earlier than 2026-10-25: counted, but not in the forecast\n"},
		{"as given, after all", "2027-01-01", played, peers, "2027-01-01", ""},
		{"no game, no peers", "", &profile.Profile{}, nil, "", "note: no game has a date; all count alike\n"},
		{"no game", "", &profile.Profile{}, peers, "2026-03-06", ""},
		{"games and peers", "", &profile.Profile{Games: []profile.Game{game("2026.10.26"), game("2025.01.02")}}, peers, "2026-10-27", ""},
		{"no date", "", &profile.Profile{Games: []profile.Game{{}}}, peers, "", "note: no game has a date; all count alike\n"},
	} {
		var out strings.Builder
		when := (&app{say: newSpeaker(&out)}).gameDay(&task{when: pgn.ParseDate(c.given).Span()}, c.p, c.peers)
		if day := when.First.Date().String(); c.day != "" && day != c.day || c.day == "" && when.Known() || out.String() != c.told {
			t.Errorf("%s: %s, told %q", c.quirk, day, out.String())
		}
	}
}

// The head of the sheet has what was said of the game, each in its place.
func TestHeadingOfATask(t *testing.T) {
	got := (&task{
		cfg:  &settings{config: config{Sheet: sheetConfig{Event: "Cup", Round: "3", Board: "2", Clock: "5400+30", Need: "win"}}},
		when: pgn.ParseDate("2026-11-07").Span(), need: fact.NeedWin, me: fetch.Who{Names: []string{"Me", "I"}},
	}).heading()
	if want := (fact.Heading{Date: pgn.ParseDate("2026-11-07"), Event: "Cup", Round: "3", Board: "2", Clock: "5400+30", Need: "win", Me: "Me"}); got != want {
		t.Errorf("%+v", got)
	}
	if got := (&task{cfg: &settings{}}).heading(); got != (fact.Heading{}) {
		t.Errorf("nothing said: %+v", got)
	}
}
