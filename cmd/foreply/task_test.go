package main

import (
	"io"
	"testing"

	"foreply/fetch"
	"foreply/fetch/pgn"
	"foreply/profile"
)

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
		Files: []fetch.FileCount{{Name: "a.pgn", Games: 900, Theirs: 40}, {Name: "b.pgn.gz", Source: "club", Games: 40, Theirs: 1}},
		Problems: []pgn.Problem{
			{Kind: fetch.Unreadable, Severity: pgn.Error, File: "b.pgn.gz"}, {Kind: fetch.NotPGN, Severity: pgn.Error, File: "c.pgn"},
			{Kind: fetch.Empty, Severity: pgn.Note, File: "d.pgn"},
		},
	}}
	a := &app{say: newSpeaker(io.Discard)}
	a.reportProblems(found)
	b := found.basis()
	if len(b.Sources) != 2 || b.Sources[0].Games != 40 || b.Sources[0].Read != 900 || b.Sources[1].Name != "club: b.pgn.gz" || b.Sources[1].Games != 1 || b.Sources[1].Read != 40 {
		t.Errorf("sources %+v", b.Sources)
	}
	if len(b.Unread) != 2 || b.Unread[0].File != "b.pgn.gz" || !b.Unread[0].Partly || b.Unread[1].File != "c.pgn" || b.Unread[1].Partly {
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
