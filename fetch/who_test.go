package fetch

import (
	"strings"
	"testing"

	"foreply/fetch/pgn"
)

func tags(pairs ...string) pgn.Tags {
	var out pgn.Tags
	for i := 0; i < len(pairs); i += 2 {
		out = append(out, pgn.Tag{Name: pairs[i], Value: pairs[i+1]})
	}
	return out
}

// tagged is a game of nothing but tags.
func tagged(tags pgn.Tags) *pgn.Game {
	g := &pgn.Game{}
	g.SetTags(tags)
	return g
}

func TestMatch(t *testing.T) {
	for _, c := range []struct {
		quirk        string
		who          Who
		tags         pgn.Tags
		white, black bool
	}{
		{"nobody meant", Who{}, tags("White", "Alder, Mina"), false, false},
		{"name", Who{Names: []string{"alder mina", "Mina Alder"}}, tags("White", "Alder, Mina", "Black", "Brook, T"), true, false},
		{"handle, other case", Who{Names: []string{"TideWalker77"}}, tags("White", "brook", "Black", "tidewalker77"), false, true},
		{"no tags", Who{Names: []string{"Alder, Mina"}}, nil, false, false},
		{"an empty name is nobody", Who{Names: []string{""}}, tags("White", ""), false, false},
		{"a question mark is nobody", Who{Names: []string{"?"}}, tags("White", "?"), false, false},
		{"NN is nobody", Who{Names: []string{"NN"}}, tags("White", "nn", "Black", "N.N."), false, false},
		{"nor is N. N.", Who{Names: []string{"N. N."}}, tags("White", "N N", "Black", "N, N."), false, false},
		{"nor who is not known", Who{Names: []string{"Unknown", "-", "?, ?"}}, tags("White", "unknown", "Black", "-"), false, false},
		{"nor are signs, as many as there are", Who{Names: []string{"???", "--", "*"}}, tags("White", "???", "Black", "--"), false, false},
		{"a handle with a sign is", Who{Names: []string{"nn-", "?!"}}, tags("White", "NN-", "Black", "nn"), true, false},
		{"N. Nn is somebody", Who{Names: []string{"Nn, N."}}, tags("White", "N. Nn", "Black", "N. N."), true, false},
		{"initials are no match", Who{Names: []string{"Alder, Mina"}}, tags("White", "Alder, M."), false, false},
		{"initials given by the user are", Who{Names: []string{"Alder, M"}}, tags("White", "Alder, M."), true, false},
		{"number right, name wrong", Who{Names: []string{"Alder, Mina"}, IDs: []string{"1234567"}},
			tags("White", "Aldermann", "WhiteFideId", " 01234567"), true, false},
		{"name right, number another", Who{Names: []string{"Alder, Mina"}, IDs: []string{"1234567"}},
			tags("White", "Alder, Mina", "WhiteFideId", "7654321"), false, false},
		{"number not given in the game", Who{Names: []string{"Alder, Mina"}, IDs: []string{"1234567"}},
			tags("White", "Alder, Mina"), true, false},
		{"number 0 is none", Who{Names: []string{"Alder, Mina"}, IDs: []string{"1234567"}},
			tags("White", "Alder, Mina", "WhiteFideId", "0"), true, false},
		{"number not given by the user", Who{Names: []string{"Alder, Mina"}},
			tags("White", "Alder, Mina", "WhiteFideId", "7654321"), true, false},
		{"the number in a tag of other capitals", Who{IDs: []string{"1234567"}}, tags("White", "x", "WhiteFIDEId", "7", "WhiteFideID", "1234567"), true, false},
		{"national number", Who{Names: []string{"Alder, Mina"}, IDs: []string{"1234567", "99"}},
			tags("White", "Aldermann", "WhiteNationalId", "99", "Black", "Alder, Mina", "BlackNationalId", "77"), true, true},
		{"national number, FIDE number another", Who{IDs: []string{"99"}}, tags("White", "x", "WhiteFideId", "7", "WhiteNationalId", "99"), true, false},
		{"national numbers that decide", Who{Names: []string{"Alder, Mina"}, IDs: []string{"nationalid c1"}},
			tags("White", "Alder, Mina", "WhiteNationalId", "C2", "Black", "Aldermann", "BlackNationalId", "C1"), false, true},
		{"one that decides, where another federation's or none stands", Who{Names: []string{"Alder, Mina"}, IDs: []string{"NationalId C1"}},
			tags("White", "Alder, Mina", "WhiteClubId", "C2", "WhiteFideId", "7", "Black", "Alder, Mina"), true, true},
		{"two that decide", Who{IDs: []string{"NationalId C1", "NationalId C2"}},
			tags("White", "x", "WhiteNationalId", "C2", "Black", "y", "BlackNationalId", "C3"), true, false},
		{"the FIDE number with its word", Who{IDs: []string{"FideId 12345"}}, tags("White", "x", "WhiteFideId", "12345", "Black", "y", "BlackFideId", "54321"), true, false},
		{"a number given with zeros before it", Who{IDs: []string{"FideId 0012345"}}, tags("White", "x", "WhiteFideId", "12345", "Black", "y", "BlackFideId", "54321"), true, false},
		{"number of the team", Who{IDs: []string{"99"}}, tags("White", "x", "WhiteTeamId", "99"), false, false},
		{"umlaut written out", Who{Names: []string{"Müller, Jörg"}}, tags("White", "Mueller, Joerg", "Black", "Muller, Jorg"), true, true},
		{"umlaut in the file", Who{Names: []string{"Mueller, Joerg"}}, tags("White", "Müller, Jörg", "Black", "Muller, Jorg"), true, false},
		{"two ways without the umlaut are two names", Who{Names: []string{"Muller, Jorg"}}, tags("White", "Mueller, Joerg", "Black", "MÜLLER, JÖRG"), false, true},
		{"northern letters", Who{Names: []string{"Søren Åberg"}}, tags("White", "Aaberg, Soeren", "Black", "Aberg, Soren"), true, true},
		{"UTF-8 read as Windows-1252", Who{Names: []string{"Dvořáková, Jiřina"}}, tags("White", "DvoÅ™Ã¡kovÃ¡, JiÅ™ina"), true, false},
		{"the number of the other side", Who{IDs: []string{"1234567"}},
			tags("White", "x", "Black", "y", "BlackFideId", "1234567"), false, true},
		{"unsure handle", Who{Names: []string{"Alder, Mina"}, Unsure: []string{"tide"}}, tags("White", "x", "Black", "Tide"), false, true},
		{"against themselves", Who{Names: []string{"Alder, Mina", "tide"}}, tags("White", "tide", "Black", "Alder, Mina"), true, true},
	} {
		t.Run(c.quirk, func(t *testing.T) {
			white, black := c.who.Match(tagged(c.tags))
			if white != c.white || black != c.black {
				t.Errorf("Match = %v, %v, want %v, %v", white, black, c.white, c.black)
			}
			matcher := c.who.Matcher()
			for range 2 { // the second time from memory
				if white, black := matcher(tagged(c.tags)); white != c.white || black != c.black {
					t.Errorf("the matcher says %v, %v, want %v, %v", white, black, c.white, c.black)
				}
			}
			white, black = newRoster("", c.who).match(tagged(c.tags))
			if white != c.white || black != c.black {
				t.Errorf("the roster says %v, %v, want %v, %v", white, black, c.white, c.black)
			}
		})
	}
}

// A number as people give it: alone, or with the word of its tag.
func TestParseNumber(t *testing.T) {
	for text, want := range map[string]Number{
		"1234567": {"", "1234567"}, " c12-3 ": {"", "C12-3"}, "NationalId c12-3": {"NationalId", "C12-3"}, "clubID 7": {"clubID", "7"}, "FideId 12345": {"", "12345"}, "FIDEID 12345": {"", "12345"},
		"": {"", ""}, "?": {"", ""},
	} {
		if got := ParseNumber(text); got != want {
			t.Errorf("%q: %+v, want %+v", text, got, want)
		}
	}
	for _, text := range []string{"id 7", "club 7", "Id7"} {
		if got := ParseNumber(text); got.Tag != "" {
			t.Errorf("%q: %+v", text, got)
		}
	}
}

// Further handles are those of the copy alone; somebody is named by any of the three.
func TestFurtherHandles(t *testing.T) {
	base := Who{Names: append(make([]string, 0, 4), "Alder, Mina")}
	one, two := base.With("tide"), base.With("ebb")
	if len(base.Names) != 1 || strings.Join(one.Names, " ") != "Alder, Mina tide" || strings.Join(two.Names, " ") != "Alder, Mina ebb" {
		t.Errorf("%q, %q, %q", base.Names, one.Names, two.Names)
	}
	for _, w := range []Who{{Names: []string{"x"}}, {IDs: []string{"x"}}, {Unsure: []string{"x"}}} {
		if w.IsZero() {
			t.Errorf("%+v names nobody", w)
		}
	}
	if !(Who{}).IsZero() {
		t.Error("nobody is somebody")
	}
}
