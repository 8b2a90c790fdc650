package main

import (
	"bytes"
	"context"
	"encoding/csv"
	"encoding/json"
	"io"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"unicode/utf8"
)

// The CSV holds the forecasts that the figures of --json are the means of.
func TestPredictionsAreThoseOfTheFigures(t *testing.T) {
	file := filepath.Join(t.TempDir(), "forecasts.csv")
	stdout, stderr, code := call(t, "hindsight", "--games", testdata+"/diff/games.pgn", "--opponent", "Kestrel, Ada", "--predictions", file, "--json")
	if code != 0 {
		t.Fatalf("exit code %d\n%s", code, stderr)
	}
	type figures struct {
		Predictions int
		OneEvent    float64 `json:"one_event_bits"`
		Full        float64 `json:"full_bits"`
		Raw         float64 `json:"raw_bits"`
	}
	var want map[string]figures
	var all map[string]json.RawMessage
	if err := json.Unmarshal([]byte(stdout), &all); err != nil {
		t.Fatal(err)
	}
	want = map[string]figures{}
	for _, side := range []string{"white", "black", "pooled"} {
		var f figures
		if err := json.Unmarshal(all[side], &f); err != nil {
			t.Fatal(err)
		}
		want[side] = f
	}
	rows, err := csv.NewReader(bytes.NewReader(readFile(t, file))).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	got := map[string]figures{}
	for _, row := range rows[1:] {
		checkShares(t, row[15])
		for _, side := range []string{row[3], "pooled"} {
			f := got[side]
			f.Predictions++
			f.OneEvent -= bits(t, row[7])
			f.Full -= bits(t, row[8])
			f.Raw -= bits(t, row[9])
			got[side] = f
		}
	}
	for side, w := range want {
		g := got[side]
		n := float64(g.Predictions)
		if g.Predictions != w.Predictions || g.Predictions == 0 || math.Abs(g.OneEvent/n-w.OneEvent)+math.Abs(g.Full/n-w.Full)+math.Abs(g.Raw/n-w.Raw) > 1e-9 {
			t.Errorf("%s: the CSV has %+v over %v, the JSON %+v", side, g, n, w)
		}
	}
}

// checkShares reads the shares of a row: they sum to 1, each in its interval.
func checkShares(t *testing.T, text string) {
	t.Helper()
	sum := 0.0
	for share := range strings.FieldsSeq(text) {
		var v [3]float64
		for i, digits := range strings.Split(share, "=")[1:] {
			x, err := strconv.ParseFloat(digits, 64)
			if err != nil || i > 2 {
				t.Fatalf("%q: %v", share, err)
			}
			v[i] = x
		}
		if v[0] < v[1] || v[0] > v[2] {
			t.Errorf("%s lies outside of its interval", share)
		}
		sum += v[0]
	}
	if math.Abs(sum-1) > 1e-9 {
		t.Errorf("the shares sum to %v: %s", sum, text)
	}
}

func bits(t *testing.T, text string) float64 {
	t.Helper()
	p, err := strconv.ParseFloat(text, 64)
	if err != nil {
		t.Fatal(err)
	}
	return math.Log2(p)
}

// What is printed fits a screen of 24 lines of 80 characters, for one player and
// for a folder of many, and ends with the verdict.
func TestHindsightFitsAScreen(t *testing.T) {
	folder := t.TempDir()
	games := readFile(t, testdata+"/diff/games.pgn")
	for _, name := range []string{"a", "b", "c", "d", "e", "f", "g", "a-file-with-a-name-that-is-rather-long-for-a-table"} {
		if err := os.WriteFile(filepath.Join(folder, name+".pgn"), games, 0o666); err != nil {
			t.Fatal(err)
		}
	}
	for name, args := range map[string][]string{
		"one player": {"--games", testdata + "/diff/games.pgn", "--opponent", "Kestrel, Ada", "-o", filepath.Join(t.TempDir(), "x.pdf")},
		"folder":     {folder},
	} {
		t.Run(name, func(t *testing.T) {
			stdout, stderr, code := call(t, append([]string{"hindsight"}, args...)...)
			if code != 0 {
				t.Fatalf("exit code %d\n%s", code, stderr)
			}
			lines := strings.Split(strings.TrimSuffix(stdout, "\n"), "\n")
			if len(lines) > 24 {
				t.Errorf("%d lines\n%s", len(lines), stdout)
			}
			for _, line := range lines {
				if utf8.RuneCountInString(line) > columns && !strings.HasPrefix(line, "wrote ") {
					t.Errorf("too long: %s", line)
				}
			}
			if !strings.HasSuffix(stdout, ".\n") || !strings.Contains(stdout, "\n\nFor th") {
				t.Errorf("no verdict at the end of\n%s", stdout)
			}
		})
	}
}

// An interrupt while it works leaves no file.
func TestInterruptedHindsight(t *testing.T) {
	ctx, cancel := context.WithCancel(t.Context())
	silent, keepOpen := io.Pipe()
	defer keepOpen.Close()
	folder := t.TempDir()
	var out, errs bytes.Buffer
	code := run(ctx, []string{"hindsight", "--games", testdata + "/diff/games.pgn", "--opponent", "Kestrel, Ada", "--peers", "-",
		"-o", filepath.Join(folder, "x.pdf"), "--predictions", filepath.Join(folder, "x.csv")},
		&signalReader{r: silent, began: cancel}, &out, &errs)
	left, err := os.ReadDir(folder)
	if code != exitInterrupted || err != nil || len(left) > 0 || out.Len() > 0 || strings.Contains(errs.String(), "error:") {
		t.Errorf("exit code %d, left %v, %v, stdout %q, stderr %q", code, left, err, out.String(), errs.String())
	}
}

// The peers that the forecasts of several players leant on are those of the one with most, not
// of all together.
func TestPeersOfATest(t *testing.T) {
	one := &tested{players: []player{{Peers: &peersTold{Games: 300}}}}
	two := &tested{players: []player{{Peers: &peersTold{Games: 100}}, {}, {Peers: &peersTold{Games: 300}}}}
	for want, tested := range map[string]*tested{", theirs and 300 of peers": one, ", theirs and up to 300 of peers": two} {
		if got := tested.heading(); !strings.HasSuffix(got, want) {
			t.Errorf("%q, want %q", got, want)
		}
	}
}
