package fetch

import (
	"fmt"
	"strings"
	"testing"
)

// Whose games they are, from the files to the account: what is kept, what is left
// out and counted, what is only suggested, what is doubted.
func TestWhose(t *testing.T) {
	n := 0
	of := func(white, black string, more ...string) string {
		n++ // moves of their own, so that none is a duplicate
		return game(white, black, line(40, string(rune('a'+n%8))+string(rune('1'+n/8%8))+" N"), "1-0", more...)
	}
	mina := Who{Names: []string{"Alder, Mina"}}
	for _, c := range []struct {
		quirk string
		who   Who
		text  string
		kept  int
		rest  string // what the Summary says beside it
	}{
		{"spellings that are the name", mina,
			of("Alder, Mina", "x") + of("x", "Mina Alder") + of("ALDER,MINA", "x") + of("WFM Alder,  Mina", "x") + of("x", "Alder, Mina (bl)") +
				of("Álder, Minä", "x"), 6, ""},
		{"spellings that may be, suggested", mina, of("Alder, Mina", "x") + of("Alder, M.", "x") + of("Alder Mina", "x") + of("Aldre, Mina", "x") + of("Alder", "x"), 1,
			"Alder Mina (the same words in another order), Alder, M. (agrees as far as it is spelled out), Aldre, Mina (spelled nearly alike), Alder (the surname alone)"},
		{"another initial is another player", Who{Names: []string{"Alder, M"}}, of("Alder, M", "x") + of("Alder, H.", "x") + of("H. Alder", "x"), 1, ""},
		{"initials glued, and a number behind them", Who{Names: []string{"Alder, Mina Karla"}}, of("Alder,MK", "x") + of("Alder,M2", "x") + of("Alder,KM", "x"), 0,
			"Alder,M2 (agrees as far as it is spelled out), Alder,MK (agrees as far as it is spelled out)"},
		{"other ways to write another alphabet", Who{Names: []string{"Ibrayev, N"}}, of("Ibrayev, N", "x") + of("Ibraev, N", "x") + of("Ibraiev,N", "x"), 1,
			"Ibraev, N (spelled nearly alike), Ibraiev,N (spelled nearly alike)"},
		{"a surname cut off, one surname of two with an initial", Who{Names: []string{"Aldermanstone Brook, Mina"}}, of("Aldermanstone Brook, Mina", "x") +
			of("Aldermansto,M", "x") + of("Aldermanstone, M", "x"), 1,
			"Aldermansto,M (spelled nearly alike), Aldermanstone, M (spelled nearly alike)"},
		{"namesakes, by their numbers", mina, of("Alder, Mina", "x", "WhiteFideId", "1234567", "Date", "2001.03.02") +
			of("Alder, Mina", "x", "WhiteFideId", "7654321", "Date", "2019.03.02"), 2, "perhaps two players"},
		{"namesakes, by the numbers of their federation", mina, of("Alder, Mina", "x", "WhiteNationalId", "C12-3") +
			of("x", "Alder, Mina", "BlackNationalId", "c12-4"), 2, "perhaps two players"},
		{"numbers of two federations", mina, of("Alder, Mina", "x", "WhiteNationalId", "12") + of("x", "Alder, Mina", "BlackClubId", "34", "BlackFideId", "56"), 2, ""},
		{"the number of a federation, in small letters", Who{IDs: []string{"c12-3"}}, of("Elder", "x", "WhiteNationalId", "C12-3") + of("y", "x", "WhiteNationalId", "C12-4"), 1, ""},
		{"another given name is another player", mina, of("Alder, Mina", "x") + of("Alder, Tomas", "x") + of("Alder, T.", "x"), 1, ""},
		{"initials given by the user", Who{Names: []string{"Alder, M"}}, of("Alder, M.", "x") + of("M. Alder", "x"), 2, ""},
		{"umlaut with one letter and with two", Who{Names: []string{"Müller, Jörg"}},
			of("Mueller, Joerg", "x") + of("Muller, Jorg", "x") + of("MÜLLER, JÖRG", "x") + of("Mu\u0308ller, Jo\u0308rg", "x") + of("MÃ¼ller, JÃ¶rg", "x"), 5, ""},
		{"two letters are no umlaut", Who{Names: []string{"Muller, Jorg"}}, of("Müller, Jörg", "x") + of("Mueller, Joerg", "x"), 1,
			"Mueller, Joerg (spelled nearly alike)"},
		{"northern letters", Who{Names: []string{"Aabye, Soeren"}}, of("Åbye, Søren", "x") + of("Aabye, Søren", "x") + of("Abye, Soren", "x"), 2, "Abye, Soren (spelled nearly alike)"},
		{"a handle in other capitals", Who{Names: []string{"TideWalker77"}}, of("tidewalker77", "x") + of("TIDEWALKER77", "x"), 2, ""},
		{"handles that differ by a sign or a digit", Who{Names: []string{"tide_walker7"}}, of("tide-walker7", "x") + of("tide_walker8", "x") + of("tide_walker7", "x"), 1,
			"tide-walker7 (spelled nearly alike)"},
		{"a handle the user is not sure of", Who{Names: []string{"Alder, Mina"}, Unsure: []string{"tide"}}, of("Alder, Mina", "x") + of("Tide", "x"), 2, ""},
		{"the number decides against the name", Who{Names: []string{"Alder, Mina"}, IDs: []string{"1234567"}},
			of("Alder, Mina", "x", "WhiteFideId", "7654321") + of("Alder, Mina", "x", "WhiteFideId", "01234567"), 1, ""},
		{"the number decides for another spelling, which is suggested where it stands without", Who{Names: []string{"Alder, Mina"}, IDs: []string{"1234567"}},
			of("Aldermann, W", "x", "WhiteFIDEid", "1234567") + of("Aldermann, W", "x"), 1, "Aldermann, W (stands with the same FIDE number in other games)"},
		{"no number in the file", Who{Names: []string{"Alder, Mina"}, IDs: []string{"1234567"}}, of("Alder, Mina", "x") + of("Alder, Mina", "x", "WhiteFideId", "0"), 2, ""},
		{"a number of the federation", Who{IDs: []string{"4711"}}, of("?", "x", "WhiteNationalId", "4711") + of("x", "y", "WhiteNationalId", "12"), 1, ""},
		{"namesakes with numbers are told apart", Who{Names: []string{"Alder, Mina"}, IDs: []string{"1"}},
			of("Alder, Mina", "Alder, Mina", "WhiteFideId", "1", "BlackFideId", "2"), 1, ""},
		{"namesakes without numbers, by their ratings", mina, of("Alder, Mina", "x", "Date", "2019.03.02", "WhiteElo", "1500") +
			of("Alder, Mina", "x", "Date", "2019.04.02", "WhiteElo", "2100"), 2, "perhaps two players"},
		{"namesakes in two places on a day", mina, of("Alder, Mina", "x", "Date", "2019.03.02", "Site", "Aldbury") +
			of("Alder, Mina", "x", "Date", "2019.03.02", "Site", "Norwick"), 2, "perhaps two players"},
		{"forfeits", mina, of("Alder, Mina", "x") + game("Alder, Mina", "x", "", "1-0") + game("x", "Alder, Mina", "1. e4", "+:-") +
			of("Alder, Mina", "x", "Termination", "time forfeit"), 2, "forfeit: 2"},
		{"a forfeit of nine half-moves and a game of ten", mina, game("Alder, Mina", "x", line(9, "a"), "1-0", "Termination", "forfeit") +
			game("Alder, Mina", "x", line(10, "b"), "1-0", "Termination", "forfeit"), 1, "forfeit: 1"},
		{"engines", mina, of("Alder, Mina", "x") + of("Alder, Mina", "x", "BlackType", "program") + of("x", "Alder, Mina", "WhiteTitle", "BOT") +
			of("Alder, Mina", "Computer level 3"), 1, "against an engine: 3"},
		{"correspondence", mina, of("Alder, Mina", "x") + of("Alder, Mina", "x", "Mode", "EM") + of("Alder, Mina", "x", "TimeControl", "1/259200") +
			of("Alder, Mina", "x", "Event", "Fernschach-Pokal"), 1, "correspondence: 3"},
		{"simultaneous games", mina, of("Alder, Mina", "x") + of("Alder, Mina", "x", "Event", "Simul, 20 boards") + of("x", "Alder, Mina", "EventType", "simultan"), 1,
			"simultaneous: 2"},
		{"variants and set-up positions", mina, of("Alder, Mina", "x") + of("Alder, Mina", "x", "Variant", "Chess960") +
			of("Alder, Mina", "x", "FEN", "8/8/8/8/8/8/8/K1k5 w - - 0 1"), 1, "set-up position: 1, variant: 1"},
		{"the player under two names against himself", Who{Names: []string{"Alder, Mina", "tide"}}, of("Alder, Mina", "tide"), 0, "both sides match: 1, both sides match"},
		{"nobody", mina, of("?", "") + of("NN", "-"), 0, ""},
		{"a given name alone", Who{Names: []string{"Mina"}}, of("Alder, Mina", "Brook, T") + of("Min", "Elder, Mina Karla"), 0,
			"Alder, Mina (has that given name; the surname is wanted, too), Elder, Mina Karla (has that given name; the surname is wanted, too), " +
				"Min (among the nearest names in the files), Brook, T (among the nearest names in the files)"},
		{"names that are not there", mina, of("Elder, Nina", "Brook, T"), 0,
			"Elder, Nina (among the nearest names in the files), Brook, T (among the nearest names in the files)"},
	} {
		t.Run(c.quirk, func(t *testing.T) {
			r := run(t, Options{Who: c.who}, folder(t, "a.pgn", c.text))
			if r.Kept != c.kept || len(r.games) != c.kept {
				t.Errorf("kept %d games, want %d", r.Kept, c.kept)
			}
			if got := account(&r.Summary); got != c.rest {
				t.Errorf("account: %s\nwant: %s", got, c.rest)
			}
			left := 0
			for _, k := range r.LeftOut {
				left += k.Games
			}
			if r.Theirs != r.Kept+r.Duplicates+left {
				t.Errorf("%d games of the player are not %d kept, %d twice and %d left out", r.Theirs, r.Kept, r.Duplicates, left)
			}
		})
	}
}

// account is what a Summary says beside the games kept.
func account(s *Summary) string {
	var out []string
	for _, k := range s.LeftOut {
		out = append(out, fmt.Sprintf("%s: %d", k.Kind, k.Games))
	}
	for _, g := range s.Suggestions {
		out = append(out, fmt.Sprintf("%s (%s)", g.Name, g.Why))
	}
	for _, p := range s.Problems {
		out = append(out, string(p.Kind))
	}
	return strings.Join(out, ", ")
}
