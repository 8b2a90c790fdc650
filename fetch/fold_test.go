package fetch

import (
	"strings"
	"testing"
	"unicode/utf8"
)

// The spellings of shared/reference/torture/43_same_player_spellings.pgn, for
// which no standard says who is who: the column is our rule.
func TestSpellingsOfOnePlayer(t *testing.T) {
	const player = "Alder, Mina"
	for _, c := range []struct {
		name string
		want likeness
	}{
		{"Alder, Mina", sameName},
		{"Alder,Mina", sameName},
		{"Alder, M.", initials},
		{"ALDER, Mina", sameName},
		{"Mina Alder", sameName},
		{"Alder, Mina (wh)", sameName},
		{"WFM Alder, Mina", sameName},
		{"Alder,  Mina", sameName},
		{"Alder, Mina K.", initials},
		{"Älder, Mina", sameName},
	} {
		t.Run(c.name, func(t *testing.T) {
			if got := spell(player).like(spell(c.name)); got != c.want {
				t.Errorf("likeness to %s: %d, want %d", player, got, c.want)
			}
			if got, want := (Who{Names: []string{player}}).Named(c.name), c.want == sameName; got != want {
				t.Errorf("counted as %s: %v, want %v", player, got, want)
			}
		})
	}
}

func TestFold(t *testing.T) {
	for _, c := range []struct{ quirk, name, want string }{
		{"empty", "", ""},
		{"white space only", " \t ", ""},
		{"no-break space", "Alder,\u00a0Mina", "mina alder"},
		{"zero-width space and byte order mark", "\ufeffAl\u200bder, Mina", "mina alder"},
		{"right-to-left override", "Alder, \u202eMina", "mina alder"},
		{"composed and combining umlaut", "Mu\u0308ller, Jörg", "jorg muller"},
		{"letters without decomposition", "Øster, Łucja Æsa Đura", "lucja aesa dura oster"},
		{"sharp s in small and capital", "GROẞ, Weiß", "weiss gross"},
		{"Turkish i with and without dot", "İnci, Işık", "isik inci"},
		{"full-width letters", "Ａｌｄｅｒ，Ｍｉｎａ", "mina alder"},
		{"Cyrillic with breve", "Йорк, Зоя", "зоя иорк"},
		{"apostrophes of four kinds", "O'Dell, D’Arcy Ne`il Mc´Ann", "darcy neil mcann odell"},
		{"hyphens in a name of two parts", "Alder-Brook, Jean-Marie", "jean marie alder brook"},
		{"several words in the surname", "de la Rue, Juan Pablo", "juan pablo de la rue"},
		{"initials glued and spaced", "Alder, J.P.", "j p alder"},
		{"title before the name, first name first", "GM Mina Alder", "mina alder"},
		{"title in small letters is a word", "Gm Alder", "gm alder"},
		{"nothing but a title", "GM", "gm"},
		{"title and a comma", "GM, Mina", "mina gm"},
		{"given name missing behind the comma", "Alder, ", "alder"},
		{"two commas", "Alder, Mina, jun", "mina jun alder"},
		{"title of a university", "Dr. Alder, Mina", "mina alder"},
		{"the same before the given name", "Alder, Prof. Dr. Mina", "mina alder"},
		{"colour twice", "Alder, Mina (white)(wh)", "mina alder"},
		{"year of birth stays", "Alder, Mina (1985)", "mina 1985 alder"},
		{"handle keeps its signs", "Tide_Walker-77", "tide_walker-77"},
		{"handle with a dot is two words", "tide.walker", "tide walker"},
		{"bytes that are not UTF-8", "Al\xffder, Mina", "mina alder"},
		{"UTF-8 read as Windows-1252", "MÃ¼ller, JÃ¶rg", "jorg muller"},
		{"the same of letters beyond Latin-1", "WÅ‚oskowik, JarosÅ‚aw", "jaroslaw wloskowik"},
		{"a letter that only begins like that", "Ãlder, Mina", "mina alder"},
		{"unknown", "?", "?"},
		{"a tabulator between", "Mina\tAlder", "mina alder"},
		{"blanks around a handle", " tide\u00a0\n", "tide"},
		{"colour in capital letters", "Alder, Mina (WH)", "mina alder"},
		{"an apostrophe read as Windows-1252", "OÂ´Neil, P", "p oneil"},
		{"a sign that is left of it", "tide×", "tide"},
	} {
		t.Run(c.quirk, func(t *testing.T) {
			if got := Fold(c.name); got != c.want {
				t.Errorf("Fold(%q) = %q, want %q", c.name, got, c.want)
			}
		})
	}
}

// Letters that are written as two where the sign is not at hand, however they are coded.
func TestSpelledOut(t *testing.T) {
	for name, want := range map[string]string{
		"Müller, Jörg": "joerg mueller", "Mu\u0308ller, Jo\u0308rg": "joerg mueller", "MÃ¼ller, JÃ¶rg": "joerg mueller", "ÅBERG, ØRN": "oern aaberg",
		"Ändersen, Ålf": "aalf aendersen", "Muller, Jorg": "jorg muller", "Al\xffder": "alder",
	} {
		if got := spelledOut(name); got != want {
			t.Errorf("%q: %s, want %s", name, got, want)
		}
	}
}

// Placeholders for a name that is not known, and names that only look like them.
func TestNameless(t *testing.T) {
	for name, want := range map[string]bool{
		"": true, "?": true, "??": true, "-": true, "?-*": true, "NN": true, "N. N.": true, "N.N.": true, "Unknown": true, "?, ?": true,
		"n": false, "nnn": false, "?!": false, "N. Nn": false, "unknown77": false,
	} {
		if got := nameless(Fold(name)); got != want {
			t.Errorf("%q: %v", name, got)
		}
	}
}

func TestHandlesThatDifferBySignsAreTwo(t *testing.T) {
	handles := []string{"a_b", "a-b", "ab", "a__b", "ab1"}
	for i, a := range handles {
		for _, b := range handles[i+1:] {
			if Fold(a) == Fold(b) {
				t.Errorf("%s and %s fold to %s", a, b, Fold(a))
			}
		}
	}
}

func FuzzFold(f *testing.F) {
	for _, seed := range []string{"Alder, Mina", "WFM Älder, Mina (wh)", "a_b", "ﷺ", "İ", "´x", "ẞ,", "a- b", "GM GM", "\u0345", "x\u212a", "(wh)", "'", ",,,", "ǅ", "⒈", "×\x19®"} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, name string) {
		folded := Fold(name)
		if again := Fold(folded); again != folded {
			t.Errorf("Fold(%q) = %q, folded again %q", name, folded, again)
		}
		if !utf8.ValidString(folded) || folded != strings.TrimSpace(folded) {
			t.Errorf("Fold(%q) = %q", name, folded)
		}
		if w := (Who{Names: []string{name}}); !nameless(folded) && !w.Named(name) {
			t.Errorf("%q is not among %q", name, w.Names)
		}
	})
}

func FuzzLikeness(f *testing.F) {
	f.Add("Alder, Mina", "Mina Alder")
	f.Add("de la Rue, J.", "Juan de la Rue")
	f.Add(",", "x")
	f.Fuzz(func(t *testing.T, a, b string) {
		one, two := spell(a), spell(b)
		if one.like(two) != two.like(one) {
			t.Errorf("%q and %q: %d one way, %d the other", a, b, one.like(two), two.like(one))
		}
		if !nameless(one.folded) && one.like(one) != sameName {
			t.Errorf("%q is not like itself", a)
		}
	})
}

func TestLikeness(t *testing.T) {
	for _, c := range []struct {
		quirk, a, b string
		want        likeness
	}{
		{"same words, surname first without comma", "Alder Mina", "Alder, Mina", otherOrder},
		{"initial", "Alder, M", "Alder, Mina", initials},
		{"two initials for a double name", "Alder, J.P.", "Alder, Jean-Pierre", initials},
		{"shortened given name", "Alder, Mi", "Alder, Mina", initials},
		{"second given name", "Alder, Mina K.", "Mina Alder", initials},
		{"surname of several words against first name first", "de la Rue, J", "Juan de la Rue", initials},
		{"surname first without comma, initial behind", "Alder M.", "Alder, Mina", initials},
		{"surname first without comma, initial behind, against the usual order", "Alder M.", "Mina Alder", initials},
		{"surname of several words first without comma", "de la Rue J", "de la Rue, Juan", initials},
		{"surname first without comma, another initial", "Alder T.", "Alder, Mina", unlike},
		{"one surname of two", "Alder, Mina", "Alder Brook, Mina", partSurname},
		{"the other surname of two, hyphen", "Brook, Mina", "Alder-Brook, Mina", partSurname},
		{"surname without its particles", "Rue, Juan", "de la Rue, Juan", partSurname},
		{"one surname of two, another given name", "Alder, Tomas", "Alder Brook, Mina", unlike},
		{"surname alone", "Alder", "Alder, Mina", sameSurname},
		{"another given name", "Alder, Tomas", "Alder, Mina", unlike},
		{"another initial", "Alder, T.", "Alder, Mina", unlike},
		{"one letter of the surname", "Aldrr, Mina", "Alder, Mina", nearName},
		{"two letters swapped", "Adler, Mina", "Alder, Mina", nearName},
		{"umlaut as two letters", "Mueller, Joerg", "Müller, Jörg", sameName},
		{"umlaut as two letters, one of two", "Mueller, Jörg", "Müller, Jörg", nearName},
		{"another surname", "Brook, Mina", "Alder, Mina", unlike},
		{"handles one letter apart", "tidewalker77", "tidewalkar77", nearName},
		{"handles one digit apart", "tidewalker77", "tidewalker78", unlike},
		{"short handles one letter apart", "abc", "abd", unlike},
		{"unknown is like nobody", "?", "?", unlike},
		{"glued, and all in capitals: a name", "ALDER, MK", "Alder, Mina Karla", unlike},
		{"a short given name in capitals throughout", "ALDER, JO", "Alder, Jo", sameName},
		{"initials glued, of four", "Alder, MKLT", "Alder, Mina Karla", unlike},
		{"three initials glued", "Alder, MKL", "Alder, Mina Karla Lo", initials},
		{"a number behind the given name", "Alder, Mina2", "Alder, Mina", otherOrder},
		{"one initial each, the same", "Alder, M", "Alder, Mi M", initials},
		{"several initials speak for none", "Alder, M H", "Alder, Mina", initials},
		{"a surname cut off after seven letters", "Brookma, T", "Brookmansfield, Tomas", nearName},
		{"after six", "Brookm, T", "Brookmansfield, Tomas", unlike},
		{"cut off, another given name", "Brookma, U", "Brookmansfield, Tomas", unlike},
		{"cut off, no given name", "Brookma", "Brookmansfield, Tomas", unlike},
		{"the end of two surnames, no comma in one", "Mina Brook", "Alder Brook, Mina", unlike},
		{"one surname of two, the first of two given names", "Alder, Mina K", "Alder Brook, Mina", partSurname},
		{"two letters of ten", "Brookfurst, T", "Brockfirst, Tomas", nearName},
		{"two letters of nine", "Brookfust, T", "Brockfist, Tomas", unlike},
		{"three letters of sixteen", "Brookfurstenberg, T", "Brockfirstanberg, Tomas", unlike},
		{"letters doubled elsewhere", "Kapelli, T", "Kappeli, Tomas", nearName},
		{"short names of one sound", "Jan, T", "Yan, T", unlike},
		{"longer names of one sound", "Janina, T", "Yanina, T", nearName},
		{"N. N. is nobody", "N. N.", "N, Nina", unlike},
		{"several initials, one of them", "Alder, M H", "Alder, M", initials},
		{"another second given name", "Alder, Mina Karla", "Alder, Mina Lena", unlike},
		{"one surname of two, another second given name", "Alder, Mina Karla", "Alder Brook, Mina Lena", partSurname},
		{"one letter of five", "Brock, Tomas", "Brook, Tomas", nearName},
		{"one letter of four", "Bros, Tom", "Brot, Tom", nearName}, // seven with the given name
		{"one letter of three, one initial", "Elm, T", "Eln, T", unlike},
		{"a surname and its first word as a handle", "alder", "Alder, Mina", sameSurname},
	} {
		t.Run(c.quirk, func(t *testing.T) {
			if got, back := spell(c.a).like(spell(c.b)), spell(c.b).like(spell(c.a)); got != c.want || back != c.want {
				t.Errorf("%q and %q: %d, %d, want %d", c.a, c.b, got, back, c.want)
			}
		})
	}
}

// Why two names may be one player's, and whether they are taken for one.
func TestAlike(t *testing.T) {
	for _, c := range []struct {
		other, why string
		same       bool
	}{
		{"Mina ALDER", "", true}, {"Alder Mina", "the same words in another order", false}, {"Alder, M", "agrees as far as it is spelled out", false}, {"Adler, Mina", "spelled nearly alike", false},
		{"Alder", "the surname alone", false}, {"Alder-Brook, Mina", "a part of the surname, the same given name", false}, {"Brook, Tomas", "", false},
	} {
		if why, same := Alike("Alder, Mina", c.other); why != c.why || same != c.same {
			t.Errorf("%s: %q, %v, want %q, %v", c.other, why, same, c.why, c.same)
		}
	}
}

func TestDistance(t *testing.T) {
	for _, c := range []struct {
		a, b string
		want int
	}{
		{"", "", 0}, {"", "abc", 3}, {"abc", "abc", 0}, {"abc", "abd", 1}, {"abc", "acb", 1},
		{"abcd", "badc", 2}, {"ca", "abc", 3}, {"kitten", "sitting", 3}, {"ä", "a", 1},
	} {
		if got := Distance(c.a, c.b); got != c.want || Distance(c.b, c.a) != c.want {
			t.Errorf("distance(%q, %q) = %d, want %d", c.a, c.b, got, c.want)
		}
	}
}

// One letter of five may differ, of ten two, counted in the shorter name.
func TestNearNames(t *testing.T) {
	for _, c := range []struct {
		a, b string
		want bool
	}{
		{"berg", "bergs", false}, {"berg", "burg", false}, {"brock", "brook", true}, {"brock", "brocks", true}, {"brock", "bruok", false},
		{"brookfirst", "brockfurst", true}, {"brookfirs", "brockfurs", false},
	} {
		if near(c.a, c.b) != c.want || near(c.b, c.a) != c.want {
			t.Errorf("%s and %s: near %v", c.a, c.b, !c.want)
		}
	}
}
