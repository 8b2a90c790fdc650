package bench

import (
	"errors"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// What the two libraries make of the fixtures, where it is not what we make of
// them: by file and library, who is wrong and why. The fixtures come with their
// expected reading, which the tests of fetch/pgn check for us.
//
// Sections are those of the PGN standard; none says that we are wrong.
var unread = map[[2]string]string{
	{"02_bare_movetext.pgn", "rules"}: "the library: wants tags; the import format does without them (3.1: be liberal in what is read)",

	{"05_comments_before_moves.pgn", "rules"}:  "the library: panics at a comment before move 1, which section 5 allows anywhere",
	{"09_percent_escape.pgn", "other"}:         "the library: reads the escaped line, which section 6 says to pass over",
	{"12_null_moves.pgn", "other"}:             "nobody: -- is no SAN but common practice; the library refuses the whole input",
	{"13_zero_castling.pgn", "rules"}:          "nobody: 0-0 is no SAN (8.2.3.3 has the letter) but common; the library drops the game",
	{"13_zero_castling.pgn", "other"}:          "nobody: as above; the library refuses the whole input",
	{"15_promotion_forms.pgn", "rules"}:        "nobody: e8Q is no SAN (8.2.3.3) but common; the library drops the game",
	{"15_promotion_forms.pgn", "other"}:        "nobody: as above; the library refuses the whole input",
	{"16_en_passant_forms.pgn", "rules"}:       "nobody: 'e.p.' is no SAN but common; the library drops the game",
	{"16_en_passant_forms.pgn", "other"}:       "nobody: as above; the library refuses the whole input",
	{"17_uci_moves.pgn", "other"}:              "nobody: e2e4 is no SAN but unmistakable; the library refuses the whole input",
	{"24_no_blank_between_games.pgn", "rules"}: "the library: takes all games for one; the blank line is layout, not syntax (7: tokens)",
	{"24_no_blank_between_games.pgn", "other"}: "the library: loses a game for the same reason",
	{"30_result_mismatch.pgn", "other"}:        "the library: loses a game; the marker ends it whatever the tag says (8.2.6)",
	{"32_empty_games.pgn", "rules"}:            "the library: loses games that have tags and a result only",
	{"33_empty_file.pgn", "rules"}:             "the library: makes a game of nothing",
	{"34_whitespace_file.pgn", "rules"}:        "the library: makes a game of nothing",
	{"35_stray_parentheses.pgn", "rules"}:      "the file is broken; the library loses a neighbour that is not",
	{"35_stray_parentheses.pgn", "other"}:      "the file is broken; the library refuses the neighbours that are not",
	{"37_illegal_move.pgn", "rules"}:           "the file is broken; the library drops the good games, too",
	{"37_illegal_move.pgn", "other"}:           "the file is broken; the library refuses the good games, too",
	{"38_ambiguous_move.pgn", "rules"}:         "the file is broken; the library drops the game with the moves before the fault",
	{"41_partial_dates.pgn", "rules"}:          "the library: makes a game of the end of the file",
	{"43_same_player_spellings.pgn", "rules"}:  "the library: makes a game of the end of the file",
	{"44_chess960.pgn", "rules"}:               "nobody: a variant neither of us knows; we give the tags, the library nothing",
	{"44_chess960.pgn", "other"}:               "nobody: as above; the library refuses the game of chess beside it, too",
	{"49_mainline_null_move.pgn", "rules"}:     "nobody: -- is no SAN but common practice; the library drops the game",
	{"49_mainline_null_move.pgn", "other"}:     "nobody: as above; the library refuses the whole input",
}

// readOtherwise are the inputs that a library reads to the end, game by game, and
// still has other moves. The quirks are looked at for this, too.
var readOtherwise = map[[2]string]string{
	{"07_brace_multiline.pgn", "rules"}:     "the library: stops at a comment over several lines, which section 5 allows",
	{"09_percent_escape.pgn", "rules"}:      "the library: plays the moves of an escaped line (section 6)",
	{"38_ambiguous_move.pgn", "other"}:      "the library: takes one of the pieces; 8.2.3.4 asks the text to tell which",
	{"percent_lines.pgn", "other"}:          "the library: stops at an escaped line (section 6)",
	{"wrapped_at_odd_columns.pgn", "rules"}: "the library: loses castling broken over a line, which we join",
}

func TestThreeReadersAgree(t *testing.T) {
	for _, dir := range []string{"torture", "quirks"} {
		files, err := filepath.Glob("../../testdata/pgn/" + dir + "/*.pgn")
		if err != nil || len(files) == 0 {
			t.Fatalf("no fixtures in %s: %v", dir, err)
		}
		for _, file := range files {
			text, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			ours := ourLines(text)
			for name, read := range map[string]func([]byte) (lines, error){"rules": rulesLines, "other": otherLines} {
				theirs, err := read(text)
				compareLines(t, dir == "torture", [2]string{filepath.Base(file), name}, ours, theirs, err)
			}
		}
	}
}

func compareLines(t *testing.T, strict bool, at [2]string, ours, theirs lines, err error) {
	t.Helper()
	if err != nil && !errors.Is(err, io.EOF) || len(ours) != len(theirs) || lost(ours, theirs) {
		if strict && unread[at] == "" {
			t.Errorf("%v: %d games, we have %d; %v: who is wrong?", at, len(theirs), len(ours), err)
		}
		return
	}
	same := slices.Equal(ours, theirs)
	if !same && readOtherwise[at] == "" {
		t.Errorf("%v: moves %q, we have %q: who is wrong?", at, theirs, ours)
	}
	if same && (unread[at] != "" || readOtherwise[at] != "") {
		t.Errorf("%v: agrees now; take it off the list", at)
	}
}

// lost reports whether a game came without any of its moves: passed over, not read.
func lost(ours, theirs lines) bool {
	for i := range ours {
		if ours[i] != "" && theirs[i] == "" {
			return true
		}
	}
	return false
}

// On games as programs write them all three agree to the last move.
func TestThreeReadersAgreeOnTidyGames(t *testing.T) {
	for name, text := range map[string][]byte{
		"tidy": games(60_000, 5, false), "clocked": games(100_000, 5, true),
	} {
		ours := ourLines(text)
		for name2, read := range map[string]func([]byte) (lines, error){"rules": rulesLines, "other": otherLines} {
			theirs, err := read(text)
			if err != nil && !errors.Is(err, io.EOF) {
				t.Fatalf("%s, %s: %v", name, name2, err)
			}
			for len(theirs) > len(ours) && theirs[len(theirs)-1] == "" { // of the end of the file
				theirs = theirs[:len(theirs)-1]
			}
			if !slices.Equal(ours, theirs) {
				t.Errorf("%s: %d games, %s has %d or other moves", name, len(ours), name2, len(theirs))
			}
		}
	}
}

// The other library refuses to castle while an enemy piece stands beside the king
// on its other side. It is wrong: only the squares that the king crosses and its
// target matter (FIDE Laws 3.8.2, 3.8.2.2). About one made-up game in 150 has that.
func TestLegalCastlingRefused(t *testing.T) {
	const text = `[Event "?"]

1. e4 d5 2. Ba6 Nxa6 3. exd5 Nh6 4. Na3 e6 5. d6 Bd7 6. Qf3 Be7 7. dxe7 b5
8. exd8=N O-O 9. Qxa8 *
`
	ours := ourLines([]byte(text))
	if rules, _ := rulesLines([]byte(text)); !slices.Equal(ours, rules) || len(ours) != 1 || !strings.HasSuffix(ours[0], "e8g8 f3a8") {
		t.Errorf("we read %q, the rules library %q", ours, rules)
	}
	if _, err := otherLines([]byte(text)); err == nil {
		t.Error("the other library castles now; take this test off")
	}
}
