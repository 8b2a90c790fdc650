package fetch

import (
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"path/filepath"
	"reflect"
	"slices"
	"strings"
	"testing"

	"foreply/fetch/pgn"
)

// What a file is instead of games, and what to do about it, by its first bytes.
func TestWhatAFileIs(t *testing.T) {
	const unpack, export, text, page, utf8 = "unpack it first and give the PGN file or its folder", "export the games as PGN from the program that wrote it",
		"give a text file of games in PGN, plain or packed as gzip, bzip2, zstd, zip or tar", "download the games themselves, as PGN; the page may be an error or a login", "save it as UTF-8"
	for _, c := range []struct {
		head string
		form form
		says string // behind 'it does not look like PGN: it is '
		hint string
	}{
		{"\x1f\x8b\x08", gzipForm, "", ""}, {"\x28\xb5\x2f\xfd", zstdForm, "", ""}, {"\x50\x2a\x4d\x18", zstdForm, "", ""}, {"\x5f\x2a\x4d\x18", zstdForm, "", ""},
		{"\x60\x2a\x4d\x18", textForm, "", ""}, {"PK\x03\x04", zipForm, "", ""}, {"PK\x05\x06", zipForm, "", ""}, {"PK\x01\x02", textForm, "", ""},
		{strings.Repeat("x", 257) + "ustar", tarForm, "", ""}, {strings.Repeat("x", 256) + "ustar", textForm, "", ""},
		{"BZh1\x31\x41\x59\x26\x53\x59", bzip2Form, "", ""}, {"BZh9\x17\x72\x45\x38\x50\x90", bzip2Form, "", ""}, {"BZh0\x31\x41\x59\x26\x53\x59", textForm, "", ""}, {"BZh9 is no", textForm, "", ""},
		{"\xff\xfe\x00\x00", refusedForm, "UTF-32 text", utf8}, {"\x00\x00\xfe\xff", refusedForm, "UTF-32 text", utf8},
		{"\xfd7zXZ\x00", refusedForm, "an xz file", unpack}, {"7z\xbc\xaf\x27\x1c", refusedForm, "a 7z archive", unpack}, {"Rar!\x1a\x07", refusedForm, "a rar archive", unpack},
		{"\x04\x22\x4d\x18", refusedForm, "an lz4 file", unpack}, {"\x1f\x9d", refusedForm, "a compress (.Z) file", unpack},
		{"%PDF-1.7", refusedForm, "a PDF", text}, {"SQLite format 3\x00", refusedForm, "a database file", export}, {"\x7f\x02\x01\x00abcd", refusedForm, "binary data", export},
		{"<html>", refusedForm, `a web page (HTML) and starts with "<html>"`, page}, {"\ufeff \n<?XML version='1'?>\n<x>", refusedForm, `a web page (HTML) and starts with "<?XML version='1'?>"`, page},
		{"<svg", refusedForm, `a web page (HTML) and starts with "<svg"`, page}, {"<body", refusedForm, `a web page (HTML) and starts with "<body"`, page}, {"<head", refusedForm, `a web page (HTML) and starts with "<head"`, page},
		{"<b>", textForm, "", ""},
		{`{"a": 1}`, refusedForm, "JSON and starts with `{\"a\": 1}`", page}, {"[{", refusedForm, `JSON and starts with "[{"`, page}, {`[ ["`, refusedForm, "JSON and starts with `[ [\"`", page},
		{`["a"]`, refusedForm, "JSON and starts with `[\"a\"]`", page}, {`{ "" :`, refusedForm, "JSON and starts with `{ \"\" :`", page},
		{"[", textForm, "", ""}, {"{", textForm, "", ""}, {"", textForm, "", ""}, {`{"a"`, textForm, "", ""}, {`{"a" 1. e4`, textForm, "", ""}, {`{"`, textForm, "", ""}, {`{a: 1}`, textForm, "", ""},
		{`[Event "x"]`, textForm, "", ""}, {`("a": 1)`, textForm, "", ""},
	} {
		form, what := sniff([]byte(c.head))
		if form != c.form || (what != "") != (c.says != "") {
			t.Errorf("%q: form %d, %q", c.head, form, what)
		}
		if c.says == "" {
			continue
		}
		var said *Error
		if err := notPGN(what, []byte(c.head)); !errors.As(err, &said) || !errors.Is(err, ErrNotPGN) || err.Error() != "it does not look like PGN: it is "+c.says || said.Hint != c.hint {
			t.Errorf("%q: %v; %s", c.head, err, said.Hint)
		}
	}
}

// A file is binary if it has zeros and a tenth of odd signs, or is mostly zeros.
func TestBinary(t *testing.T) {
	for _, c := range []struct {
		zeros, odd, letters int
		want                bool
	}{{0, 9, 0, false}, {1, 1, 18, false}, {1, 2, 17, false}, {1, 3, 16, true}, {6, 0, 4, false}, {7, 0, 3, true}, {1, 0, 9, false}} {
		head := strings.Repeat("\x00", c.zeros) + strings.Repeat("\x7f", c.odd) + strings.Repeat("\t", c.letters)
		if got := isBinary([]byte(head)); got != c.want {
			t.Errorf("%d zeros, %d odd, %d others: %v", c.zeros, c.odd, c.letters, got)
		}
	}
	for c, odd := range map[string]bool{"\x1f": true, "\x7f": true, "\xe4": true, "\t": false, "\n": false, "\r": false, " ": false, "~": false} {
		if got := isBinary([]byte("\x00ab" + c + c)); got != odd {
			t.Errorf("%q is odd: %v", c, got)
		}
	}
}

// The first line is quoted, and cut where it is too long, between letters.
func TestFirstLine(t *testing.T) {
	for _, c := range [][2]string{
		{"\ufeff \r\n one two \t\r\nthree", `"one two"`}, {`say "so"`, "`say \"so\"`"}, {"a\x01b", `"a\x01b"`}, {strings.Repeat("x", 80), `"` + strings.Repeat("x", 80) + `"`},
		{strings.Repeat("x", 81), `"` + strings.Repeat("x", 80) + `"...`}, {strings.Repeat("x", 79) + "éé", `"` + strings.Repeat("x", 79) + `"...`}, {strings.Repeat("x", 78) + "éé", `"` + strings.Repeat("x", 78) + `é"...`},
	} {
		if got := FirstLine([]byte(c[0])); got != c[1] {
			t.Errorf("%q: %s, want %s", c[0], got, c[1])
		}
	}
}

// What can't be read is a problem of its file and an error: with what is wrong, without the
// file twice, and with advice.
func TestFailures(t *testing.T) {
	for _, c := range []struct {
		quirk    string
		err      error
		had      int // games that came from the file before
		kind     pgn.Kind
		says, do string
	}{
		{"no right to read", &fs.PathError{Op: "open", Path: "a.pgn", Err: fs.ErrPermission}, 0, Unreadable, "permission denied", "make the file readable for you"},
		{"broken off", fmt.Errorf("reading a.pgn: %w", io.ErrUnexpectedEOF), 0, Unreadable, "the compressed data breaks off", "get the file again"},
		{"broken off behind games", io.ErrUnexpectedEOF, 3, Unreadable, "the compressed data breaks off", "the games before the break are used; get the file again for the rest"},
		{"no games", &Error{fmt.Errorf("reading a.pgn: %w", ErrNotPGN), "export it"}, 0, NotPGN, "it does not look like PGN", "export it"},
		{"over a limit", &Error{fmt.Errorf("%w: too much", ErrOverLimit), "less"}, 0, OverLimit, ErrOverLimit.Error() + ": too much", "less"},
		{"anything", errors.New("reading a.pgn: odd"), 0, Unreadable, "odd", "the file may be damaged; get it again"},
		{"anything with advice", &Error{errors.New("odd"), "do so"}, 0, Unreadable, "odd", "do so"},
	} {
		sum := tally{Summary: Summary{Files: []FileCount{{Name: "a.pgn", Games: c.had}, {Name: "b.pgn", Games: 5}}}}
		sum.fail(&file{name: "a.pgn", source: "club"}, "a.pgn", c.err)
		sum.fail(&file{}, "c.pgn", errors.New("another"))
		want := pgn.Problem{Kind: c.kind, Severity: pgn.Error, Source: "club", File: "a.pgn", Message: c.says, Hint: c.do}
		var said *Error
		if len(sum.Problems) != 2 || sum.Problems[0] != want {
			t.Errorf("%s: %+v, want %+v", c.quirk, sum.Problems, want)
		}
		if !errors.As(sum.firstError, &said) || said.Error() != "reading a.pgn: "+c.says || said.Hint != c.do {
			t.Errorf("%s: the first error %v, %+v", c.quirk, sum.firstError, said)
		}
	}
}

// The account of two files of two sources: each file's games and the player's, what was
// left out and why, on whose handles games rest, whose names are like them.
func TestAccountOfTwoFiles(t *testing.T) {
	one := game("Alder, Mina", "a", line(30, "a"), "1-0") + game("Alder, M.", "b", line(30, "b"), "1-0") + game("x", "tide", line(30, "c"), "1-0") + game("x", "y", line(30, "d"), "1-0") +
		game("Alder, Mina", "b", "", "1-0") + game("Alder, Mina", "b", line(30, "h"), "1-0", "Mode", "EM")
	two := game("tide", "x", line(30, "e"), "1-0") + game("ebb", "b", line(30, "f"), "1-0") + game("Alder, M.", "ebb", line(30, "g"), "1-0") + game("Alder, Mina", "a", line(30, "a"), "1-0") +
		game("Alder, Mina", "ebb", line(30, "h"), "1-0")
	dir := folder(t, "one.pgn", one, "two.pgn", two)
	g, err := Open(t.Context(), []Input{
		{Source: "one", Pattern: filepath.Join(dir, "one.pgn"), Handles: []string{"tide"}}, {Source: "two", Pattern: filepath.Join(dir, "two.pgn"), Handles: []string{"ebb"}},
	}, Options{Who: Who{Names: []string{"Alder, Mina"}, Unsure: []string{"ebb"}}})
	if err != nil {
		t.Fatal(err)
	}
	n := 0
	for range g.All() {
		n++
	}
	got := g.Summary()
	want := Summary{
		Files: []FileCount{{Name: dir + "/one.pgn", Source: "one", Bytes: int64(len(one)), Games: 6, Theirs: 4}, {Name: dir + "/two.pgn", Source: "two", Bytes: int64(len(two)), Games: 5, Theirs: 4}},
		Games: 11, Theirs: 8, Kept: 4, Duplicates: 1, LeftOut: []KindCount{{BothSides, 1}, {Correspondence, 1}, {Forfeit, 1}},
		Suggestions: []Suggestion{{"Alder, M.", 2, "agrees as far as it is spelled out", false}},
		Problems: []pgn.Problem{{Kind: pgn.Kind(BothSides), Severity: pgn.Note, Source: "two", File: dir + "/two.pgn", Line: 25, Game: 5,
			Message: "Alder, Mina and ebb are both taken for the opponent; the game is left out"}},
	}
	if !reflect.DeepEqual(got, want) || n != 4 {
		t.Errorf("%d games\n%+v, want\n%+v", n, got, want)
	}
}

// The names of a block are reported once each, with the games they stand in without a number,
// and whether one of the player's stood beside them; then a new block begins.
func TestNamesOfABlock(t *testing.T) {
	r := newRoster("", Who{Names: []string{"Alder, Mina"}, IDs: []string{"7"}})
	s := newSightings(r)
	numbered, named := tagged(tags("White", "Elder", "WhiteFideId", "7", "Black", "Brook")), tagged(tags("White", "Elder", "Black", "Alder, Mina"))
	other := tagged(tags("White", "Alder, Mina", "WhiteFideId", "8", "Black", "Brook"))
	for _, c := range []struct {
		games []*pgn.Game
		want  []sighted
	}{
		{[]*pgn.Game{numbered, numbered, named, other, numbered}, []sighted{{"Elder", false, 1, true}, {"Brook", false, 4, false}, {"Alder, Mina", true, 1, false}}},
		{nil, nil},
		{[]*pgn.Game{named, named}, []sighted{{"Elder", false, 2, false}, {"Alder, Mina", true, 2, false}}},
	} {
		for _, g := range c.games {
			s.see(g)
		}
		got := s.report()
		if !slices.Equal(got, c.want) {
			t.Errorf("%+v, want %+v", got, c.want)
		}
		r.add(got)
	}
	want := []Suggestion{{"Elder", 3, "stands with the same FIDE number in other games", false}}
	if got := suggestions([]*roster{r}); !slices.Equal(got, want) {
		t.Errorf("%+v, want %+v", got, want)
	}
}

// Suggestions: a number first, then the likest, then those of most games, then by the name,
// twenty at most; with none of them, and no game, the nearest names.
func TestOrderOfSuggestions(t *testing.T) {
	of := func(names ...string) *roster {
		r := newRoster("", Who{Names: names})
		r.ids[Fold("Rowan, Elm")] = true
		return r
	}
	seen := func(r *roster, name string, games int) { r.add([]sighted{{name: name, games: games}}) }
	r := of("Brook, Tomas", "Alder, Mina")
	for i, name := range []string{"Alder", "Alder, M", "Aldr, Mina", "Alder, Mi", "Adler, Mina", "Rowan, Elm", "Alder Mina", "Nobody, N"} {
		seen(r, name, []int{9, 1, 2, 1, 2, 1, 1, 99}[i])
	}
	two := newRoster("two", Who{Names: []string{"Alder, Mina"}})
	seen(two, "Alder, Mi", 1) // at another source
	var got []string
	for _, s := range suggestions([]*roster{r, two}) {
		got = append(got, fmt.Sprintf("%s %d", s.Name, s.Games))
	}
	if want := "Rowan, Elm 1|Alder Mina 1|Alder, Mi 2|Alder, M 1|Adler, Mina 2|Aldr, Mina 2|Alder 9"; strings.Join(got, "|") != want {
		t.Errorf("%s, want %s", strings.Join(got, "|"), want)
	}
	for i := range 30 {
		seen(r, "Alder, Mina"+string(rune('a'+i)), 1)
	}
	if n := len(suggestions([]*roster{r})); n != 20 {
		t.Errorf("%d suggestions", n)
	}

	far := newRoster("", Who{Names: []string{"Xerxes", "Mina", "Y"}})
	long := strings.Repeat("x", longestName+1)
	for i, name := range []string{"Xerox", "Xerces", "Zerxes", "NN", long, "Mina, Otto", "Alder, Mina", "Y. Aldermanstone-Brook", "Xirxis", "Quillon, Ada"} {
		seen(far, name, []int{1, 3, 5, 9, 9, 9, 1, 1, 1, 1}[i])
	}
	want := []Suggestion{
		{"Alder, Mina", 1, "has that given name; the surname is wanted, too", true}, {"Zerxes", 5, "among the nearest names in the files", true}, {"Xerces", 3, "among the nearest names in the files", true},
	}
	if got := nearest([]*roster{far}, map[string]int{"Alder, Mina": 1, "Zerxes": 5, "Xerces": 3}); !slices.Equal(got, want) {
		t.Errorf("%+v, want %+v", got, want)
	}
	games := map[string]int{}
	for name, s := range far.seen {
		games[name] = s.games
	}
	var names []string
	for _, s := range nearest([]*roster{far}, games) {
		names = append(names, s.Name)
	}
	if got, want := strings.Join(names, "|"), "Alder, Mina|Zerxes|Xerces|Xirxis|Xerox"; got != want {
		t.Errorf("%s, want %s", got, want)
	}
}

// Handles given at several places of one source belong together, and to no other source.
func TestRostersOfSources(t *testing.T) {
	rosters := newRosters([]Input{{Source: "b", Handles: []string{"tide"}}, {Source: "a", Handles: []string{"ebb"}}, {Source: "b", Handles: []string{"flow"}}}, Who{Names: []string{"Alder, Mina"}})
	var got []string
	for _, r := range rosters {
		got = append(got, r.source+": "+strings.Join(r.who.Names, "; "))
	}
	if want := "a: Alder, Mina; ebb|b: Alder, Mina; tide; flow"; strings.Join(got, "|") != want {
		t.Errorf("%s, want %s", strings.Join(got, "|"), want)
	}
}

// An empty file is noted with its source; one that had games, or other text, is not.
func TestEmptyFilesAreNoted(t *testing.T) {
	for _, c := range []struct {
		games int
		blank bool
		want  []pgn.Problem
	}{{0, true, []pgn.Problem{{Kind: Empty, Severity: pgn.Note, Source: "club", File: "a.pgn", Message: "the file has no text"}}}, {1, true, nil}, {0, false, nil}} {
		var sum tally
		if sum.endFile(FileCount{Name: "a.pgn", Source: "club", Games: c.games}, nil, c.blank); !slices.Equal(sum.Problems, c.want) || len(sum.Files) != 1 {
			t.Errorf("%d games, blank %v: %+v", c.games, c.blank, sum.Problems)
		}
	}
}

// Games are handed out once, in which way soever.
func TestHandedOutOnce(t *testing.T) {
	g, err := Open(context.Background(), Inputs(folder(t, "a.pgn", oneGame)), Options{})
	if err != nil {
		t.Fatal(err)
	}
	n := 0
	hand := func() func(*pgn.Game) { return func(*pgn.Game) { n++ } }
	g.Spread(hand)
	g.Spread(hand)
	for range g.All() {
		n++
	}
	if n != 1 || g.Summary().Games != 1 {
		t.Errorf("handed out %d times", n)
	}
}

// Of two games of one day, of other rounds or players, each is corrected by its own.
func TestCorrectedInItsRound(t *testing.T) {
	of := func(rival, moves, result, round string) string {
		return game("Alder, Mina", rival, line(40, moves), result, "Date", "2019.03.01", "Round", round)
	}
	s := Store{t.TempDir()}
	update(t, s, of("Brook, T", "a", "1-0", "4")+of("Brook, T", "b", "1-0", "5")+of("Crane, U", "c", "1-0", "4"))
	if added, total := update(t, s, of("Brook, T", "a", "0-1", "4")+of("Crane, U", "c", "0-1", "4")); added != 0 || total != 3 {
		t.Errorf("%d new of %d", added, total)
	}
	if want := of("Brook, T", "a", "0-1", "4") + of("Brook, T", "b", "1-0", "5") + of("Crane, U", "c", "0-1", "4"); kept(t, s) != want {
		t.Errorf("kept\n%s", kept(t, s))
	}
}
