package main

import (
	"errors"
	"fmt"
	"reflect"
	"strings"
	"testing"

	"foreply/profile"
)

// The least and the most of each number are taken; what lies beyond is refused where it
// stands, with the range.
func TestRangesOfNumbers(t *testing.T) {
	opponent := func(key, value string) string {
		return fmt.Sprintf("opponents: [{id: a, names: [x], %s: %s}]\n", key, value)
	}
	server := func(key, value string) string {
		return fmt.Sprintf("sources:\n  - {id: a, url: 'https://example.org/{player}/{year}/{month}', pages: months, start: 2018-01,\n     %s: %s}\n", key, value)
	}
	in := func(section string) func(string, string) string {
		return func(key, value string) string { return fmt.Sprintf("%s:\n  %s: %s\n", section, key, value) }
	}
	for _, c := range []struct {
		text                    func(key, value string) string
		key                     string
		least, most, low, above string
		want                    string // with the value
	}{
		{in("sheet"), "minutes", "1", "1440", "0", "1441", ":2: sheet.minutes: %s lies outside 1 to 1440\n"},
		{in("walk"), "plies", "2", "200", "1", "201", ":2: walk.plies: %s lies outside 2 to 200\n"},
		{in("walk"), "threshold", "0.0001", "0.5", "0.00009", "0.51", ":2: walk.threshold: %s lies outside 0.0001 to 0.5\n"},
		{in("walk"), "few_games", "1", "1000", "0", "1001", ":2: walk.few_games: %s lies outside 1 to 1000\n"},
		{in("engine"), "nodes", "1000", "1000000000", "999", "1000000001", ":2: engine.nodes: %s lies outside 1000 to 1e+09\n"},
		{in("engine"), "threads", "1", "512", "0", "513", ":2: engine.threads: %s lies outside 1 to 512\n"},
		{in("engine"), "hash", "1", "65536", "0", "65537", ":2: engine.hash: %s lies outside 1 to 65536\n"},
		{opponent, "rating", "0", "3999", "-1", "4000", ":1: opponents[0].rating: %s is no rating\n"},
		{server, "stop_after", "1", "600", "0", "601", ":3: sources[0].stop_after: %s lies outside 1 to 600\n"},
		{server, "max_mb", "1", "100000", "0", "100001", ":3: sources[0].max_mb: %s lies outside 1 to 100000\n"},
		{server, "pace", "0.001", "3600", "0.0009", "3601", ":3: sources[0].pace: %s lies outside 0.001 to 3600\n"},
	} {
		for _, value := range []string{c.least, c.most} {
			if _, err := load(t, c.text(c.key, value)); err != nil {
				t.Errorf("%s: %s is refused: %v", c.key, value, err)
			}
		}
		for _, value := range []string{c.low, c.above} {
			var n float64
			fmt.Sscan(value, &n)
			_, err := load(t, c.text(c.key, value))
			if want := fmt.Sprintf(c.want, fmt.Sprint(n)); err == nil || !strings.HasSuffix(told(err), want) || strings.Count(told(err), "error: ") != 1 {
				t.Errorf("%s: %s: %v, want %q", c.key, value, err, want)
			}
		}
	}
}

// The texts that a key may have are taken in capitals, too; others are refused with the
// place and what may stand there.
func TestTextsOfAConfiguration(t *testing.T) {
	for _, text := range []string{
		"sheet: {paper: A4}\n", "sheet: {paper: Letter}\n", "sheet: {need: win}\n", "sheet: {need: any}\n", "sheet: {clock: bullet}\n",
		"sheet: {clock: '40/5400+30:1800+30'}\n", "engine: {time: 90s}\n", "engine: {options: ['Syzygy Path = /x y', 'Ponder=']}\n",
		"opponents: [{id: a-b_9, unsure: [x]}, {id: " + strings.Repeat("a", 40) + ", fide_ids: ['1234567', 'NationalId C1']}]\n",
	} {
		if _, err := load(t, text); err != nil {
			t.Errorf("%s is refused: %v", text, err)
		}
	}
	for text, want := range map[string]string{
		"sheet:\n  need: glory\n":                                          ":2: sheet.need: \"glory\" is no result to need\nhint: win, draw or any\n",
		"sheet:\n  clock: unknown\n":                                       ":2: sheet.clock: \"unknown\" is no time control\nhint: write it as PGN does, ",
		"sheet:\n  date: 2026-11\n":                                        ":2: sheet.date: \"2026-11\" is no day\nhint: write it as YYYY-MM-DD\n",
		"engine:\n  time: 0s\n":                                            ":2: engine.time: \"0s\" is no time for the engine\nhint: write it as 90s, 3m or 1h\n",
		"engine:\n  time: -3m\n":                                           ":2: engine.time: \"-3m\" is no time for the engine\nhint: ",
		"engine:\n  options: [A=b, ' =c']\n":                               ":2: engine.options[1]: \" =c\" is no option\nhint: write it as \"Name=value\"\n",
		"engine:\n  options: [\"A=b\\nquit\"]\n":                           ":2: engine.options[0]: \"A=b\\nquit\" is no option\nhint: ",
		"opponents: [{id: A, names: [x]}]\n":                               ":1: opponents[0].id: \"A\" can't be an id\nhint: small letters, digits, - and _ will do\n",
		"opponents: [{id: " + strings.Repeat("a", 41) + ", names: [x]}]\n": "can't be an id\nhint: small letters",
		"opponents:\n- {id: a, fide_ids: ['1234567', x]}\n":                ":2: opponents[0].fide_ids: \"x\" is no number of FIDE or a federation\n",
		"sources: [{id: a, files: [x]}]\nopponents: [{id: b, handles: [{source: a, handle: c}, {source: quux, handle: d}]}]\n": ":2: opponents[0].handles[1]: there is no source \"quux\"\nhint: known are a\n",
		"sources: [{id: a, files: [x]}, {id: a, files: [y]}]\n":                                                                ":1: sources[1].id: the id a is given twice\n",
		"sources: [{id: a, files: [x]}, {}]\n":                                                                                 ":1: sources[1]: no id\nhint: add id: a short word of your choice\n",
		"sources:\n- {id: a, url: 'https://example.org/{player}', mixed: true}\n":                                              ":2: sources[0]: a server is one place\nhint: leave mixed out\n",
		"sources:\n- id: a\n  url: 'https://example.org/{player}'\n  pages: weeks\n":                                           ":4: sources[0].pages: ",
		"sources:\n- id: a\n  files: [x]\n  mixed: true\n  token_from: X_Y\n":                                                  ":2: sources[0]: it has keys that only a source with a url has\nhint: files have no more than id, files and mixed\n",
	} {
		_, err := load(t, text)
		if err == nil || !strings.Contains(told(err), want) {
			t.Errorf("%s: %v, want %q", text, err, want)
		}
	}
}

// Each key of a server goes to where servers are asked by its own name.
func TestDescriptionOfAServer(t *testing.T) {
	var source sourceConfig
	v := reflect.ValueOf(&source).Elem()
	for i := range v.NumField() {
		switch f, name := v.Field(i), v.Type().Field(i).Name; f.Kind() {
		case reflect.String:
			f.SetString(name)
		case reflect.Slice:
			f.Set(reflect.ValueOf([]string{name}))
		case reflect.Int:
			f.SetInt(int64(i))
		case reflect.Float64:
			f.SetFloat(float64(i))
		}
	}
	d := reflect.ValueOf(source.description())
	for i := range d.NumField() {
		name := d.Type().Field(i).Name
		if want := v.FieldByName(name).Interface(); d.Field(i).IsZero() || !reflect.DeepEqual(d.Field(i).Interface(), want) {
			t.Errorf("%s is %v, want %v", name, d.Field(i), want)
		}
	}
}

// A fault of a flag is one of the call; those of the file and the environment are not.
func TestWhereAFaultWasMade(t *testing.T) {
	for _, c := range []struct {
		env, want string
		args      []string
		usage     bool
	}{
		{"", "error: --clock: \"long\"", []string{"--clock", "long"}, true},
		{"slow", "error: --clock: \"long\"", []string{"--clock", "long"}, true},
		{"slow", "error: FOREPLY_SHEET_CLOCK: \"slow\"", nil, false},
		{"", ":1: sheet.clock: \"dull\"", nil, false},
	} {
		t.Setenv("FOREPLY_SHEET_CLOCK", c.env)
		_, err := load(t, "sheet: {clock: dull}\n", c.args...)
		if err == nil || !strings.Contains(told(err), c.want) {
			t.Fatalf("%q: %v, want %q", c.args, err, c.want)
		}
		var m *mishap
		if usage := errors.As(err, &m) && m.usage; usage != c.usage {
			t.Errorf("%s: called wrongly: %v", c.want, usage)
		}
	}
}

func TestClassOfAClock(t *testing.T) {
	for text, want := range map[string]profile.Class{
		"Classical": profile.Classical, "rapid": profile.Rapid, "blitz": profile.Blitz, "bullet": profile.Bullet,
		"5400+30": profile.Classical, "900+10": profile.Rapid, "180+2": profile.Blitz, "60": profile.Bullet,
	} {
		if got, ok := clockClass(text); got != want || !ok {
			t.Errorf("%s: %v, %v", text, got, ok)
		}
	}
	for _, text := range []string{"unknown", "long", "?", "-"} {
		if _, ok := clockClass(text); ok {
			t.Errorf("%s is a clock", text)
		}
	}
}
