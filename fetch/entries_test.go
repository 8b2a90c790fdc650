package fetch

import (
	"errors"
	"strings"
	"testing"
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
		"control characters":  {"Ash\x7fgrove, \u0085Tilde\n", []Entry{{Name: "Ashgrove, Tilde", Line: 1}}, 0},
		"UTF-16":              {"\xff\xfeA\x00s\x00h\x00;\x001\x009\x000\x000\x00\n\x00", []Entry{{Name: "Ash", Rating: 1900, Line: 1}}, 0},
		"Windows-1252":        {"Dvo\xf8e, Zo\xeb\n", []Entry{{Name: "Dvoøe, Zoë", Line: 1}}, 0},
		"a line of numbers":   {"Ashgrove\n2105 3\n", []Entry{{Name: "Ashgrove", Line: 1}}, 1},
		"two ratings":         {"Ashgrove 2105 2140\n", []Entry{{Name: "Ashgrove", Rating: 2140, Line: 1}}, 1},
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

// What can't be an entry list is told from what it is.
func TestReadEntriesOfSomethingElse(t *testing.T) {
	for _, c := range []struct{ quirk, text, want string }{
		{"table of an office program", packZip("sheet.xml", "<x/>"), "it is no entry list but a packed file"},
		{"games", "\n[Event \"?\"]\n[White \"Ashgrove, Tilde\"]\n\n1. e4 *\n", "it is no entry list but games in PGN"},
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
