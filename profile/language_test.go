package profile

import (
	"strings"
	"testing"

	"foreply/fetch/pgn"
)

// A file is read in the language that has all its letters and in which most can be
// played; what was done is told once, and is a note where no other would do as well.
func TestForeignLettersOfAFile(t *testing.T) {
	for _, c := range []struct{ quirk, text, want, told string }{
		{"English", "1. e4 e5 2. Nf3 Nc6", "1.e4 1...e5 2.Nf3 2...Nc6", ""},
		{"German, told at the first game that has it", "1. e4 e5\n\n1. e4 e5 2. Sf3 Sc6 3. Lb5 (3. Lc4 Lc5) Tb8\n\n1. d4 Sf6\n",
			"1.e4 1...e5 / 1.e4 1...e5 2.Nf3 2...Nc6 3.Bb5 (3.Bc4 3...Bc5) 3...Rb8 / 1.d4 1...Nf6", "note 3:13 0 Sf3: piece letters read as German: SLTDK for NBRQK"},
		{"as well French as Spanish", "1. e4 e5 2. Cf3 Cc6", "1.e4 1...e5 2.Nf3 2...Nc6", "warning 1:13 0 Cf3: piece letters read as French: CFTDR for NBRQK"},
		{"a knight by what can be played", "1. e4 e5 2. Rf3 Rc6 3. De2 De7 4. Tg1 Tb8", "1.e4 1...e5 2.Nf3 2...Nc6 3.Qe2 3...Qe7 4.Rg1 4...Rb8",
			"note 1:13 0 Rf3: piece letters read as Finnish: RLTDK for NBRQK"},
		{"the same in two of them", "1. e4 e5 2. Rf3 Rc6 3. De2 De7", "1.e4 1...e5 2.Nf3 2...Nc6 3.Qe2 3...Qe7", "warning 1:13 0 Rf3: piece letters read as Finnish: RLTDK for NBRQK"},
		{"by what can be played in the variations", "1. e4 e5 2. De2 De7 (2... Rc6) (2... Rf6 3. Rf3 Tg8)", "1.e4 1...e5 2.Qe2 2...Qe7 (2...Nc6) (2...Nf6 3.Nf3 3...Rg8)",
			"note 1:13 0 De2: piece letters read as Finnish: RLTDK for NBRQK"},
		{"nothing of it can be played", "1. e4 e5 2. Sd7 a6", "1.e4 1...e5", "warning 1:13 0 Sd7: piece letters read as German: SLTDK for NBRQK, error 1:13 3 Sd7: illegal move 2.Sd7"},
		{"nothing can be played, and no other language has the letters", "1. e4 e5 2. Sd7 Lc5", "1.e4 1...e5", "warning 1:13 0 Sd7: piece letters read as German: SLTDK for NBRQK, error 1:13 3 Sd7: illegal move 2.Sd7"},
		{"what can't be played, and guesses, as they were written", "1. e4 e5 2. Sf3 Sc6 4. Lb5 Lb4 5. Sd5 *\n\n1. Sf3 d5 2. Sc3 e6 3. Sd4 a6 4. Sb5 *\n", "1.e4 1...e5 2.Nf3 2...Nc6 3.Bb5 3...Bb4 / 1.Nf3 1...d5 2.Nc3 2...e6 3.Nd4 3...a6",
			"note 1:13 0 Sf3: piece letters read as German: SLTDK for NBRQK, warning 1:24 5 Lb5: move number 4. where 3. was to come; read on, " +
				"error 1:35 7 Sd5: illegal move 4.Sd5, error 3:34 7 Sb5: ambiguous move 4.Sb5: Ncb5 or Ndb5"},
		{"each game in its own", "1. e4 e5 2. Sf3 Lc5\n\n1. d4 Cf6 2. c4 Fg7\n\n1. c4 Nf6\n", "1.e4 1...e5 2.Nf3 2...Bc5 / 1.d4 1...Nf6 2.c4 / 1.c4 1...Nf6",
			"note 1:13 0 Sf3: piece letters read as German: SLTDK for NBRQK, note 3:7 0 Cf6: piece letters read as French: CFTDR for NBRQK, error 3:17 4 Fg7: illegal move 2...Fg7"},
	} {
		checkReading(t, c.quirk, c.text, c.want, c.told)
	}
}

// What speaks for a language: the moves of all games that can be played, those of variations
// too, less those that can't; what is only guessed costs nothing.
func TestYieldOfALanguage(t *testing.T) {
	const text = "[SetUp \"1\"]\n[FEN \"nonsense\"]\n\n1. e4 *\n\n" + // tells nothing
		"1. e4 e5 3. Sf3 (2. f4 exf4) Sc6 (2... Ke3) *\n\n" + // German 4 and 2, less 1; English 2 and 0 less 1
		"1. d4 d5 *\n"
	var games []*pgn.Game
	for g := range pgn.NewReader(strings.NewReader(text), pgn.Options{Variations: true}).All() {
		games = append(games, g.Clone())
	}
	german := pgn.Languages(games[1])
	if len(german) == 0 || german[0].Name != "German" || len(games) != 3 {
		t.Fatal(german)
	}
	if got := [2]int{yield(games, &german[0]), yield(games, nil)}; got != [2]int{4 + 2 - 1 + 2, 2 - 1 + 2} {
		t.Errorf("German %d, English %d", got[0], got[1])
	}
	if games[1].Tree.Moves[2].SAN != "Sf3" {
		t.Error("to look is to translate")
	}
}
