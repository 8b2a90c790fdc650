package fetch

import (
	"bytes"
	"errors"
	"io"
	"slices"
	"strings"
	"testing"
	"testing/iotest"

	"foreply/fetch/pgn"
)

func TestReadEntries(t *testing.T) {
	tests := map[string]struct {
		list     string
		want     []Entry
		problems int
	}{
		"names alone": {"Ashgrove, Tilde\nBrandmere, Otto\n", []Entry{
			{Name: "Ashgrove, Tilde", Line: 1}, {Name: "Brandmere, Otto", Line: 2}}, 0},
		"comma in the name and numbers behind it": {"Ashgrove, Tilde, 4455667, 2105, 3\n", []Entry{
			{Name: "Ashgrove, Tilde", ID: "4455667", Rating: 2105, Board: 3, Line: 1}}, 0},
		"board first, spaces only": {"3. Ashgrove, Tilde 2105\n12) otter_77\n", []Entry{
			{Name: "Ashgrove, Tilde", Rating: 2105, Board: 3, Line: 1}, {Name: "otter_77", Board: 12, Line: 2}}, 0},
		"head, tabs, columns of no use": {"No\tTitle\tName\tFIDE-ID\tElo\tBoard\n1\tFM\tAshgrove, Tilde\t04455667\t2105\t3\n", []Entry{
			{Name: "Ashgrove, Tilde", ID: "4455667", Rating: 2105, Board: 3, Line: 2}}, 0},
		"head with first names, semicolons": {"Last name;First name;Rating\nAshgrove;Tilde;\n", []Entry{
			{Name: "Ashgrove, Tilde", Line: 2}}, 0},
		"quoted name": {"name,rating\n\"Ashgrove, Tilde\",2105\n", []Entry{{Name: "Ashgrove, Tilde", Rating: 2105, Line: 2}}, 0},
		"name with a comma that nobody quoted": {"name,rating\nAshgrove, Tilde,2105\n", []Entry{
			{Name: "Ashgrove, Tilde", Rating: 2105, Line: 2}}, 0},
		"a rating of three digits under a head": {"name,rating\nAshgrove,980\n", []Entry{{Name: "Ashgrove", Rating: 980, Line: 2}}, 0},
		"no rating yet":                         {"Ashgrove, Tilde, 0, 0\n", []Entry{{Name: "Ashgrove, Tilde", Line: 1}}, 0},
		"comments, empty lines, a mark of UTF-8": {"\ufeff# team match\n\nAshgrove, Tilde\n% end\n", []Entry{
			{Name: "Ashgrove, Tilde", Line: 3}}, 0},
		"title and federation, no head": {"1\tGM\tAshgrove, Tilde\tSWE\t2105\nBRANDMERE, OTT, 2001\nABC;1900\n", []Entry{
			{Name: "Ashgrove, Tilde", Rating: 2105, Board: 1, Line: 1}, {Name: "BRANDMERE, OTT", Rating: 2001, Line: 2},
			{Name: "ABC", Rating: 1900, Line: 3}}, 0},
		"control characters": {"Ash\x7fgrove, \u0085Tilde\n", []Entry{{Name: "Ashgrove, Tilde", Line: 1}}, 0},
		"UTF-16":             {"\xff\xfeA\x00s\x00h\x00;\x001\x009\x000\x000\x00\n\x00", []Entry{{Name: "Ash", Rating: 1900, Line: 1}}, 0},
		"Windows-1252":       {"Dvo\xf8e, Zo\xeb\n", []Entry{{Name: "Dvoøe, Zoë", Line: 1}}, 0},
		"a line of numbers":  {"Ashgrove\n2105 3\n", []Entry{{Name: "Ashgrove", Line: 1}}, 1},
		"two ratings":        {"Ashgrove 2105 2140\n", []Entry{{Name: "Ashgrove", Rating: 2140, Line: 1}}, 1},
		"three digits are a board": {"101. Ashgrove, Tilde 2105\n", []Entry{
			{Name: "Ashgrove, Tilde", Rating: 2105, Board: 101, Line: 1}}, 0},
		"quoted fields with commas in them": {"name,club,rating\n\"Ashgrove, Tilde\",\"Reed, East, 2\",2105\n\"Brandmere\", Reed ,1990\n", []Entry{
			{Name: "Ashgrove, Tilde", Rating: 2105, Line: 2}, {Name: "Brandmere", Rating: 1990, Line: 3}}, 0},
		"quoted fields with the sign that parts them": {"name;club;board\n\"Ashgrove; Tilde\";\"A;B\";3\n", []Entry{{Name: "Ashgrove; Tilde", Board: 3, Line: 2}}, 0},
		"a quoted name, no head, IDs": {"\"Ashgrove, Tilde\",4455667,2105\n\"Brandmere, Otto\" 12\n", []Entry{
			{Name: "Ashgrove, Tilde", ID: "4455667", Rating: 2105, Line: 1}, {Name: "Brandmere, Otto", Board: 12, Line: 2}}, 0},
		"tabs before semicolons before commas": {"Name\tClub\tElo\nAshgrove, Tilde\tReed; East, 2\t2105\n", []Entry{{Name: "Ashgrove, Tilde", Rating: 2105, Line: 2}}, 0},
		"semicolons before commas, no head": {"Ashgrove, Tilde; 2105; 3\n4;Brandmere, Otto;1990\n", []Entry{
			{Name: "Ashgrove, Tilde", Rating: 2105, Board: 3, Line: 1}, {Name: "Brandmere, Otto", Rating: 1990, Board: 4, Line: 2}}, 0},
		"each line parted in its own way": {"Ashgrove, Tilde, 2105\nBrandmere, Otto;1990\nCarrow, Una\t1800\t2\n", []Entry{
			{Name: "Ashgrove, Tilde", Rating: 2105, Line: 1}, {Name: "Brandmere, Otto", Rating: 1990, Line: 2}, {Name: "Carrow, Una", Rating: 1800, Board: 2, Line: 3}}, 0},
		"the sign of another list, quoted": {"name,club,rating\nAshgrove,\"Reed; East\",2105\n\"Brandmere\tO\",Reed,1990\n", []Entry{
			{Name: "Ashgrove", Rating: 2105, Line: 2}, {Name: "Brandmere O", Rating: 1990, Line: 3}}, 0},
		"a quote that nobody closed": {"name;rating\nAsh\"grove;2105\n\"Brandmere, Otto;1990\nCarrow \"Una\";1800\n", []Entry{
			{Name: "Ashgrove", Rating: 2105, Line: 2}, {Name: "Brandmere, Otto", Rating: 1990, Line: 3}, {Name: "Carrow Una", Rating: 1800, Line: 4}}, 0},
		"semicolons lined up by tabs": {"name;\trating\nAshgrove;\t2105\nBrandmere, Otto\t;1990\nCarrow\t;\t1800\n", []Entry{
			{Name: "Ashgrove", Rating: 2105, Line: 2}, {Name: "Brandmere, Otto", Rating: 1990, Line: 3}, {Name: "Carrow", Rating: 1800, Line: 4}}, 0},
		"a comment before the head":        {"# team match\nName;Elo\nAshgrove;2105\n", []Entry{{Name: "Ashgrove", Rating: 2105, Line: 3}}, 0},
		"a head in the middle is an entry": {"Ashgrove\nName\n", []Entry{{Name: "Ashgrove", Line: 1}, {Name: "Name", Line: 2}}, 0},
		"a club behind a name that has its fields": {"name,rating,board\nAshgrove,2105,3,Reed\nBrandmere,1990,4,Reed,East,1\n", []Entry{
			{Name: "Ashgrove", Rating: 2105, Board: 3, Line: 2}, {Name: "Brandmere", Rating: 1990, Board: 4, Line: 3}}, 0},
		"words in place of numbers":                 {"name,rating,board,id\nAshgrove,none,none,none\n", []Entry{{Name: "Ashgrove", Line: 2}}, 0},
		"neither rating nor ID yet, behind numbers": {"3 Ashgrove, Tilde, 2105, 0\n", []Entry{{Name: "Ashgrove, Tilde", Rating: 2105, Board: 3, Line: 1}}, 0},
		"short and long numbers of a federation":    {"Ashgrove 12345\nBrandmere 1234567890\n", []Entry{{Name: "Ashgrove", ID: "12345", Line: 1}, {Name: "Brandmere", ID: "1234567890", Line: 2}}, 0},
		"a number of more digits is a name":         {"12345678901\n", []Entry{{Name: "12345678901", Line: 1}}, 0},
		"titles around names and numbers": {"GM Ashgrove, Tilde 2105 WFM\nIM, Brandmere, Otto, 1990\nDr. Una Carrow 4\nFM 1800 Dale, V\n", []Entry{
			{Name: "Ashgrove, Tilde", Rating: 2105, Line: 1}, {Name: "Brandmere, Otto", Rating: 1990, Line: 2}, {Name: "Una Carrow", Board: 4, Line: 3}, {Name: "Dale, V", Rating: 1800, Line: 4}}, 0},
		"a title alone":       {"GM 2105\n", nil, 1},
		"names in brackets":   {"[Ashgrove], 2105\n", []Entry{{Name: "[Ashgrove]", Rating: 2105, Line: 1}}, 0},
		"a handle of numbers": {"name\n12345\n", []Entry{{Name: "12345", Line: 2}}, 0},
		"nothing":             {"", nil, 0},
	}
	for name, test := range tests {
		t.Run(name, func(t *testing.T) {
			got, problems, err := ReadEntries(strings.NewReader(test.list), "list.txt")
			if err != nil {
				t.Fatal(err)
			}
			if len(got) != len(test.want) {
				t.Fatalf("got %+v, want %+v", got, test.want)
			}
			for i := range got {
				if got[i] != test.want[i] {
					t.Errorf("got %+v, want %+v", got[i], test.want[i])
				}
			}
			if len(problems) != test.problems {
				t.Errorf("problems: %v, want %d", problems, test.problems)
			}
			for _, p := range problems {
				if p.Line < 1 || p.File != "list.txt" || p.Hint == "" {
					t.Errorf("a problem without its place or hint: %+v", p)
				}
			}
		})
	}
}

// What can't be used of a line is told: where it is, what was read, what to do.
func TestProblemsOfEntries(t *testing.T) {
	entries, problems, err := ReadEntries(strings.NewReader("\n3 Ashgrove 4, 2105\nBrandmere 1990 2010 1234567 7654321\n5 1800\n"), "list.txt")
	at := func(kind pgn.Kind, line int, token, message, hint string) pgn.Problem {
		return pgn.Problem{Kind: kind, Severity: pgn.Warning, File: "list.txt", Line: line, Token: token, Message: message, Hint: hint}
	}
	const many, head = "a number too many in this line of the entry list", "a head line with name, ID, rating, board tells what is what"
	want := []pgn.Problem{
		at(OddNumber, 2, "4", many, head), at(OddNumber, 3, "1234567", many, head), at(OddNumber, 3, "1990", many, head),
		at(UnreadEntry, 4, "5 1800", "no name in this line of the entry list", "a line has a name, and if known ID, rating and board"),
	}
	if !slices.Equal(problems, want) || err != nil {
		t.Errorf("%#v, %v", problems, err)
	}
	if want := []Entry{{Name: "Ashgrove", Rating: 2105, Board: 3, Line: 2}, {Name: "Brandmere", ID: "7654321", Rating: 2010, Line: 3}}; !slices.Equal(entries, want) {
		t.Errorf("%+v", entries)
	}
	_, problems, _ = ReadEntries(strings.NewReader("given name;name\nOtto;\n"), "list.txt")
	if len(problems) != 1 || problems[0].Kind != UnreadEntry || problems[0].Token != "Otto;" {
		t.Errorf("a first name alone: %v", problems)
	}
	broken := io.MultiReader(strings.NewReader("Ashgrove\nBrandmere\n"), iotest.ErrReader(errors.New("the disk fails")))
	if _, _, err := ReadEntries(broken, "list.txt"); err == nil || err.Error() != "reading list.txt:3: the disk fails" {
		t.Errorf("%v", err)
	}
}

// What can't be an entry list is told from what it is.
func TestReadEntriesOfSomethingElse(t *testing.T) {
	for _, c := range []struct{ quirk, text, want string }{
		{"table of an office program", packZip("sheet.xml", "<x/>"), "it is no entry list but a packed file"},
		{"games", "\n[Site \"?\"]\n[White \"Ashgrove, Tilde\"]\n\n1. e4 *\n", "it is no entry list but games in PGN"},
		{"web page", "<!DOCTYPE html><table>", "it is no entry list but a web page (HTML)"},
	} {
		t.Run(c.quirk, func(t *testing.T) {
			entries, _, err := ReadEntries(strings.NewReader(c.text), "list.txt")
			var e *Error
			if len(entries) > 0 || !errors.As(err, &e) || !strings.Contains(err.Error(), c.want) || e.Hint == "" {
				t.Errorf("%v, %v", entries, err)
			}
		})
	}
}

// What is no entry list of an event is refused by its size, with the limit's name.
func TestEntryListWithoutEnd(t *testing.T) {
	for name, c := range map[string]struct{ list, want string }{
		"100,000 players": {strings.Repeat("Ashgrove, Tilde\n", 100_000), "e.txt:5001: there are more than 5000 players"},
		"one line":        {"Ashgrove, Tilde\n" + strings.Repeat("x", 100<<20), "e.txt:2: the line has more than 64 kB"},
	} {
		_, _, err := ReadEntries(strings.NewReader(c.list), "e.txt")
		var known *Error
		if !errors.As(err, &known) || !strings.Contains(err.Error(), c.want) || known.Hint == "" {
			t.Errorf("%s: %v", name, err)
		}
	}
	if entries, _, err := ReadEntries(strings.NewReader(strings.Repeat("Ashgrove, Tilde\n", 5000)), "e.txt"); len(entries) != 5000 || err != nil {
		t.Errorf("%d entries, %v", len(entries), err)
	}
}

// Whatever stands in an entry list, players have names and numbers that can be, and a
// good line behind it is read.
func FuzzEntries(f *testing.F) {
	for _, seed := range []string{"Ashgrove, Tilde, 4455667, 2105, 3", "No\tName\tElo\n1\tAshgrove\t2105", "name;rating\n\"A;B\";1", "\xff\xfeA\x00", "3. \xe9 2105", "a\x00b\u202e,99999999999999999999"} {
		f.Add([]byte(seed))
	}
	f.Fuzz(func(t *testing.T, text []byte) {
		before, problems, err := ReadEntries(bytes.NewReader(text), "e.txt")
		for i, e := range before {
			if e.Name == "" || e.Rating < 0 || e.Board < 0 || e.Line < 1 || i > 0 && e.Line <= before[i-1].Line || strings.ContainsAny(e.Name, "\x00\x1b\n") {
				t.Fatalf("%+v", e)
			}
		}
		for i := range problems {
			_ = problems[i].String() + problems[i].Caret()
		}
		if err != nil || bytes.HasPrefix(text, []byte("\xff\xfe")) || bytes.HasPrefix(text, []byte("\xfe\xff")) {
			return
		}
		after, _, err := ReadEntries(bytes.NewReader(append(bytes.Clone(text), "\nAshgrove, Tilde\n"...)), "e.txt")
		if err != nil || len(after) < len(before) {
			t.Fatalf("with a line more: %d after %d, %v", len(after), len(before), err)
		}
	})
}
