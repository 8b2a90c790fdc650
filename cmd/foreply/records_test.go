package main

import (
	"bufio"
	"fmt"
	"math"
	"reflect"
	"strings"
	"testing"

	"foreply/fetch/pgn"
	"foreply/profile"
	"foreply/profile/board"
	"foreply/profile/stat"
)

// A record says what was scored; what was expected and the performance only of enough rated
// games, and of how many where that isn't all.
func TestRecordText(t *testing.T) {
	count := profile.Count{Games: 14, Wins: 8, Draws: 3, Losses: 3}
	open := count
	open.Games, open.Unknown = 16, 2
	for want, r := range map[string]profile.Record{
		"3 games|no result given":                                                     {Count: profile.Count{Games: 3, Unknown: 3}},
		"1 game|+1 =0 -0|1 of 1":                                                      {Count: profile.Count{Games: 1, Wins: 1}},
		"14 games|+8 =3 -3|9½ of 14":                                                  {Count: count, Rated: 3, Points: 2, Expected: 1},
		"16 games|+8 =3 -3|9½ of 14|7.8 expected|performed like 1941":                 {Count: open, Rated: 14, Points: 9.5, Expected: 7.84, Performance: stat.Performance{Rating: 1941}},
		"14 games|+8 =3 -3|9½ of 14|rated 8½ of 12, 6.1 expected|performed like 1900": {Count: count, Rated: 12, Points: 8.5, Expected: 6.1, Performance: stat.Performance{Rating: 1900}},
		"14 games|+8 =3 -3|9½ of 14|rated 12 of 12, 6.1 expected":                     {Count: count, Rated: 12, Points: 12, Expected: 6.1, Performance: stat.Performance{Rating: 2700, Notional: true}},
	} {
		if got := strings.ReplaceAll(recordText(&r), "\t", "|"); got != want {
			t.Errorf("%s, want %s", got, want)
		}
	}
}

// played is a profile of games with the user's rating list told by the site: twelve with
// White at a club, won by every third, and some with Black.
func played(t *testing.T, n int, more ...string) *profile.Profile {
	t.Helper()
	var text strings.Builder
	for i := range n {
		result, elo, speed := "1-0", 1700+10*(i%2), "5400+30"
		switch {
		case i%3 == 1:
			result, elo, speed = "0-1", 1900, "900+10"
		case i%3 == 2:
			result = "1/2-1/2"
		}
		fmt.Fprintf(&text, "[White \"Ash\"]\n[Black \"x\"]\n[Result \"%s\"]\n[WhiteElo \"1800\"]\n[BlackElo \"%d\"]\n[TimeControl \"%s\"]\n\n1. e4 e5 %s\n\n", result, elo, speed, result)
	}
	text.WriteString(strings.Join(more, ""))
	text.WriteString("[White \"y\"]\n[Black \"Ash\"]\n[Result \"0-1\"]\n\n1. d4 d5 0-1\n")
	games := pgn.NewReader(strings.NewReader(text.String()), pgn.Options{}).All()
	return profile.Build(games, profile.Options{Them: func(g *pgn.Game) (board.Color, bool) {
		if g.Tags().Get("White") == "Ash" {
			return board.White, true
		}
		return board.Black, true
	}})
}

// Of up to twelve games only the sum is told; of more, each speed and each rating too; of the
// other colour nothing.
func TestRecordsAreTold(t *testing.T) {
	for n, want := range map[int]string{
		12: "results with white\n  over the board  12 games  +4 =4 -4  6 of 12",
		13: "results with white\n  over the board  13 games  +5 =4 -4  7 of 13",
	} {
		var out strings.Builder
		w := bufio.NewWriter(&out)
		tellRecords(w, played(t, n), board.White)
		w.Flush()
		rows := strings.Split(strings.TrimSpace(out.String()), "\n")
		if !strings.HasPrefix(strings.Join(rows[:2], "\n"), want) || (len(rows) > 2) != (n > 12) {
			t.Errorf("%d games:\n%s", n, out.String())
		}
		if n > 12 {
			for i, head := range []string{"classical 9 games +5 =4 -0 7 of 9 5.7 expected", "rapid 4 games +0 =0 -4 0 of 4", "1800-1999 4 games +0", "1600-1799 9 games +5"} {
				if got := strings.Join(strings.Fields(rows[2+i]), " "); !strings.HasPrefix(got, head) {
					t.Errorf("row %d is %q, want %q", 2+i, rows[2+i], head)
				}
			}
		}
	}
	var out strings.Builder
	w := bufio.NewWriter(&out)
	online := func(control string) string {
		return fmt.Sprintf("[White \"Ash\"]\n[Black \"x\"]\n[Site \"https://example.org/1\"]\n[Result \"1-0\"]\n[TimeControl %q]\n\n1. e4 e5 1-0\n\n", control)
	}
	tellRecords(w, played(t, 13, online("180+2"), online("900+10")), board.White)
	w.Flush()
	var lists []string
	for row := range strings.Lines(out.String()) {
		if strings.HasPrefix(row, "  ") && !strings.HasPrefix(row, "   ") {
			lists = append(lists, strings.Join(strings.Fields(row), " "))
		}
	}
	// A list of few games is not broken down, whatever another has.
	if got := strings.Join(lists, "; "); !strings.HasPrefix(got, "example.org 2 games +2 =0 -0 2 of 2; over the board 13 games +5 =4 -4 7 of 13") || len(lists) != 2 || strings.Contains(out.String(), "blitz") || !strings.Contains(out.String(), "rapid") {
		t.Errorf("%q\n%s", lists, out.String())
	}
	if groupName("unknown") != "speed unknown" || groupName("blitz") != "blitz" {
		t.Error("groups by other names")
	}
}

// A record of the JSON has each figure under its name. Four games against 1700, 1900, 1700
// and 1710 with 2½ points: 62.5 % gives a difference of 95 (FIDE B.01, table 8.1.1: 63 %) to their
// average of 1752.5, rounded up; the expected points are by table 8.1.2.
func TestRecordsOfTheJSON(t *testing.T) {
	p := played(t, 4) // +2 =1 -1
	got := recordsToJSON(p, board.White)
	var groups []string
	for _, r := range got {
		groups = append(groups, r.By+" "+r.Group)
	}
	if want := []string{"colour white", "class classical", "class rapid", "rating 1800-1999", "rating 1600-1799"}; !reflect.DeepEqual(groups, want) {
		t.Fatalf("%q", groups)
	}
	all := got[0]
	expected := all.Expected
	all.Expected = 0
	want := recordJSON{List: "over the board", By: "colour", Group: "white", countJSON: countJSON{4, 2, 1, 1, 0}, Rated: 4, Points: 2.5, Average: 1753, Performance: 1753 + 95}
	if all != want || math.Abs(expected-(0.64+0.36+0.64+0.62)) > 1e-9 {
		t.Errorf("%+v, expected %v", all, expected)
	}
	if lost := got[2]; !lost.Notional || lost.Points != 0 || lost.Average != 1900 || lost.Performance != 1900-800 {
		t.Errorf("all lost: %+v", lost)
	}
	if black := recordsToJSON(p, board.Black); len(black) == 0 || black[0].Rated != 0 || black[0].countJSON != (countJSON{1, 1, 0, 0, 0}) {
		t.Errorf("with black: %+v", black)
	}
	if text, none := recordsToJSON(&profile.Profile{}, board.White), []recordJSON{}; !reflect.DeepEqual(text, none) {
		t.Errorf("of nothing: %v", text)
	}
}
