package pgn

import (
	"os"
	"regexp"
	"strconv"
	"strings"
	"testing"
)

// The examples of the table of commands (PGN supplement of 2001; later practice
// as python-chess 1.11.2 reads it) with the values that stand beside them.
func TestCommandTable(t *testing.T) {
	table, err := os.ReadFile("../../testdata/pgn/pgn_embedded_commands.tsv")
	if err != nil {
		t.Fatal(err)
	}
	checked := 0
	for line := range strings.Lines(string(table)) {
		f := strings.Split(line, "\t")
		if len(f) < 5 {
			continue
		}
		m := Move{Note: []byte(f[3])}
		switch f[0] {
		case "clk":
			got, ok := m.Clk()
			checked += checkTable(t, f, got, ok)
		case "emt":
			got, ok := m.Emt()
			checked += checkTable(t, f, got, ok)
		case "eval":
			got, ok := m.Eval()
			value := float64(got.Centipawns)
			if got.IsMate {
				value = float64(max(got.Mate, -got.Mate))
			}
			checked += checkTable(t, f, value, ok)
			if strings.Contains(f[4], "Black mates") != (got.IsMate && got.Mate < 0) || strings.Contains(f[4], "depth 18") != (got.Depth == 18) {
				t.Errorf("%s: %+v", f[3], got)
			}
		}
	}
	if checked != 7 {
		t.Errorf("%d examples checked", checked)
	}
}

// checkTable compares with the first number in the column of the value.
func checkTable(t *testing.T, f []string, got float64, ok bool) int {
	t.Helper()
	want, err := strconv.ParseFloat(regexp.MustCompile(`-?[0-9.]+`).FindString(f[4]), 64)
	if err != nil {
		t.Fatal(err)
	}
	if !ok || got != want {
		t.Errorf("%s: %v %v, want %v", f[3], got, ok, want)
	}
	return 1
}

func TestParseClk(t *testing.T) {
	for comment, want := range map[string]float64{
		"[%clk 1:05:23]": 3923, "[%clk 0:00:07.3]": 7.3, "[%clk 5:00]": 300, "[%clk 42]": 42,
		"text [%clk 0:01:00] text": 60, "[%CLK 0:01:00]": -1, "[%clk]": -1, "[%clk ]": -1, "[%clk 0:01:00": -1,
		"[%clk 1:2:3:4]": -1, "[%clk -0:01:00]": -1, "[%clk 1.5:00]": -1, "[%clk a]": -1, "[%clkx 0:01:00]": -1,
		"[%clk 0:01:00][%clk 0:02:00]": 60, "": -1, "[%": -1, "[%clk 9999999:00:00]": -1,
		"[%emt 0:01:00] [%clk\t0:03:00 ]": 180, "[%clk 0:0\n2:00]": 120, // a line was broken
		"[%clk 999999]": 999999, "[%clk 1000000]": -1, "[%clk 0:00:07.123456789]": 7.123456789, "[%clk 0:00:07.1234567890]": -1,
	} {
		got, ok := ParseClk(comment)
		if !ok {
			got = -1
		}
		if got != want {
			t.Errorf("%q: %v, want %v", comment, got, want)
		}
	}
}

func TestParseEval(t *testing.T) {
	for comment, want := range map[string]Eval{
		"[%eval 0.35,18]":    {Centipawns: 35, Depth: 18},
		"[%eval -6.05]":      {Centipawns: -605},
		"[%eval +.5]":        {Centipawns: 50},
		"[%eval 1]":          {Centipawns: 100},
		"[%eval 0.125]":      {Centipawns: 13},
		"[%eval -0.125]":     {Centipawns: -13},
		"[%eval 0.994999]":   {Centipawns: 99},
		"[%eval #3]":         {Mate: 3, IsMate: true},
		"[%eval #-2,40]":     {Mate: -2, IsMate: true, Depth: 40},
		"[%eval 0.1,deep]":   {Centipawns: 10},
		"[%eval 0.2 , 12 ]x": {Centipawns: 20, Depth: 12},
		"[%eval #999,9999]":  {Mate: 999, IsMate: true, Depth: 9999},
		"[%eval #-999]":      {Mate: -999, IsMate: true},
		"[%eval 0.1,10000]":  {Centipawns: 10},
		"[%eval 99999]":      {Centipawns: 9999900},
	} {
		if got, ok := ParseEval(comment); !ok || got != want {
			t.Errorf("%q: %+v %v, want %+v", comment, got, ok, want)
		}
	}
	for _, comment := range []string{"", "[%eval ]", "[%eval #]", "[%eval --1]", "[%eval 1e5]", "[%eval 1234567]", "[%eval 100000]", "[%eval #1000]", "[%eval #-1000]", "[%eval 1.x]", "[%eval .]"} {
		if got, ok := ParseEval(comment); ok {
			t.Errorf("%q read as %+v", comment, got)
		}
	}
}

func TestPlainComment(t *testing.T) {
	for comment, want := range map[string]string{
		"[%clk 0:00:07][%eval -6.05] White is toast": "White is toast",
		"good [%clk 1:02:03] text":                   "good text",
		"a\n  b [%cal Ge2e4] ":                       "a b",
		"[%csl Gd4]":                                 "",
		"one[%csl Gd4]two":                           "one two",
		"[see 4.d4] and [%open":                      "[see 4.d4] and [%open",
		"":                                           "",
	} {
		if got := PlainComment(comment); got != want {
			t.Errorf("%q: %q, want %q", comment, got, want)
		}
	}
}

// shortComment and the search for each brace find the same ends.
func TestShortComment(t *testing.T) {
	for _, c := range []struct {
		text string
		want int
	}{
		{"{[%clk 0:09:57]} e5 1-0", 16},
		{"{} and some more", 2},
		{"{1234567} 89abcdef", 9},
		{"{12345678} 9abcdef", 10},
		{"{one {two} three}", 0},
		{"{by the book} and more", 0}, // 'y' looks like a brace; the long way finds the end
		{"{\x7f} and so on", 0},
		{"{\xfb\xfd\xf9} e4 e5 Nf3", 5},
		{"{too near the end}", 0},
		{"{longer than the times of a clock are} e4", 0},
	} {
		if got := shortComment([]byte(c.text), 0); got != c.want {
			t.Errorf("shortComment(%q) = %d, want %d", c.text, got, c.want)
		}
	}
}

// Each command has its own reader, of a move's note and of a comment alike.
func TestCommandsApart(t *testing.T) {
	const comment = "{[%eval 0.25,9] [%emt 0:00:07] [%clk 0:05:00]}"
	m := Move{Note: []byte(comment)}
	for name, got := range map[string][2]func() (float64, bool){
		"clk": {m.Clk, func() (float64, bool) { return ParseClk(comment) }}, "emt": {m.Emt, func() (float64, bool) { return ParseEmt(comment) }},
	} {
		want := map[string]float64{"clk": 300, "emt": 7}[name]
		for _, read := range got {
			if secs, ok := read(); !ok || secs != want {
				t.Errorf("%s: %v %v, want %v", name, secs, ok, want)
			}
		}
	}
	if e, ok := m.Eval(); !ok || e != (Eval{Centipawns: 25, Depth: 9}) {
		t.Errorf("eval %+v %v", e, ok)
	}
}
