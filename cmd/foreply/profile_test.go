package main

import (
	"fmt"
	"math"
	"reflect"
	"slices"
	"strings"
	"testing"

	"foreply/fetch/pgn"
	"foreply/profile/board"
)

// The fixture testdata/diff (its README.md names the source) is a player's 411
// games with both trees to 16 plies, counted by two other libraries. What the
// expected trees have beyond our output (occurrences, min_ply, child_key) is not
// compared; every field that we print is.
func TestProfileMatchesTheDifferentialTrees(t *testing.T) {
	for _, color := range []string{"white", "black"} {
		t.Run(color, func(t *testing.T) {
			want := decode(t, readFile(t, testdata+"/diff/expected_tree_"+color+".json"))["nodes"].(map[string]any)
			stdout, stderr, code := call(t, "profile", "--json", "--plies", "16", "--their-color", color,
				"--games", testdata+"/diff/games.pgn", "--opponent", "Kestrel, Ada")
			if code != 0 {
				t.Fatalf("exit code %d\n%s", code, stderr)
			}
			out := decode(t, []byte(stdout))
			got := out["nodes"].(map[string]any)
			if len(got) != len(want) {
				t.Errorf("%d positions, want %d", len(got), len(want))
			}
			edges := 0
			for epd, w := range want {
				node, ok := got[epd].(map[string]any)
				if !ok {
					t.Errorf("no node %s", epd)
					continue
				}
				edges += compareNode(t, epd, node, w.(map[string]any))
			}
			if edges < 1000 {
				t.Errorf("only %d moves compared", edges)
			}
			checkForecast(t, got, color)
			if out["plies"] != 16.0 || out["their_color"] != color {
				t.Errorf("plies %v, their_color %v", out["plies"], out["their_color"])
			}
		})
	}
}

// How deep moves are shown changes no share of what is shown, in text or in JSON: the forecast
// learns from the whole games.
func TestPliesShownChangeNoShare(t *testing.T) {
	var texts, nodes []string
	first := board.Start()
	for _, plies := range []string{"1", "6", "60"} {
		args := []string{"--plies", plies, "--their-color", "white", "--games", testdata + "/diff/games.pgn", "--opponent", "Kestrel, Ada"}
		text, stderr, code := call(t, append([]string{"profile"}, args...)...)
		table, _, found := strings.Cut(text, "main lines")
		out, _, codeJSON := call(t, append([]string{"profile", "--json"}, args...)...)
		start := decode(t, []byte(out))["nodes"].(map[string]any)[first.EPD()].(map[string]any)
		if code+codeJSON != 0 || !found || start["forecast"] == nil {
			t.Fatalf("%d, %s", code, stderr)
		}
		texts, nodes = append(texts, table), append(nodes, fmt.Sprint(start["forecast"], start["moves"].(map[string]any)["e2e4"].(map[string]any)["share"]))
	}
	if len(slices.Compact(texts)) > 1 || len(slices.Compact(nodes)) > 1 {
		t.Errorf("%s\n%s", texts, nodes)
	}
}

// A move that was only played in games of the day or later has its share, which the rest then has not.
func TestSharesOfMovesPlayedLaterSumUp(t *testing.T) {
	out, stderr, code := call(t, "profile", "--json", "--their-color", "white", "--date", "2021-06-01",
		"--games", testdata+"/diff/games.pgn", "--opponent", "Kestrel, Ada")
	if code != 0 {
		t.Fatal(stderr)
	}
	for epd, n := range decode(t, []byte(out))["nodes"].(map[string]any) {
		node := n.(map[string]any)
		forecast, ok := node["forecast"].(map[string]any)
		if !ok {
			continue
		}
		sum := forecast["unseen"].(map[string]any)["p"].(float64)
		for _, e := range node["moves"].(map[string]any) {
			sum += e.(map[string]any)["share"].(map[string]any)["p"].(float64)
		}
		if math.Abs(sum-1) > 1e-9 {
			t.Errorf("%s: the shares sum to %v", epd, sum)
		}
	}
}

// compareNode compares every field that we print and returns the number of moves.
func compareNode(t *testing.T, epd string, got, want map[string]any) int {
	gotMoves, wantMoves := got["moves"].(map[string]any), want["moves"].(map[string]any)
	compareFields(t, epd, got, want)
	if len(gotMoves) != len(wantMoves) {
		t.Errorf("%s: %d moves, want %d", epd, len(gotMoves), len(wantMoves))
	}
	for uci, w := range wantMoves {
		edge, ok := gotMoves[uci].(map[string]any)
		if !ok {
			t.Errorf("%s: no move %s", epd, uci)
			continue
		}
		compareFields(t, epd+" "+uci, edge, w.(map[string]any))
	}
	return len(wantMoves)
}

// checkForecast finds a forecast where the opponent is to move and nowhere else: the
// shares of the moves played and of all others sum to 1, each lies in its interval.
func checkForecast(t *testing.T, nodes map[string]any, theirs string) {
	sure := func(where string, share any) float64 {
		s := share.(map[string]any)
		p, lo, hi := s["p"].(float64), s["lo"].(float64), s["hi"].(float64)
		if lo > p || p > hi || hi-lo > 0.5 && s["hardly_known"] != true {
			t.Errorf("%s: %v", where, s)
		}
		return p
	}
	for epd, n := range nodes {
		node := n.(map[string]any)
		forecast, ok := node["forecast"].(map[string]any)
		if ok != (node["to_move"] == theirs[:1]) {
			t.Errorf("%s: forecast %v", epd, forecast)
		}
		if !ok {
			continue
		}
		sum := sure(epd, forecast["unseen"])
		for uci, e := range node["moves"].(map[string]any) {
			sum += sure(epd+" "+uci, e.(map[string]any)["share"])
		}
		if math.Abs(sum-1) > 1e-9 || forecast["strength"].(float64) <= 0 || forecast["visits"].(float64) < 1 {
			t.Errorf("%s: the shares sum to %v; %v", epd, sum, forecast)
		}
	}
}

func compareFields(t *testing.T, where string, got, want map[string]any) {
	for field, value := range got {
		if field == "last_date" { // the fixture has tags
			want[field] = pgn.ParseDate(want[field].(string)).String()
		}
		if field != "moves" && field != "forecast" && field != "share" && !reflect.DeepEqual(value, want[field]) {
			t.Errorf("%s: %s is %v, want %v", where, field, value, want[field])
		}
	}
}
