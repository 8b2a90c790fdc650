package compare

import (
	"strings"
	"testing"

	"foreply/compare/book"
	"foreply/compare/fact"
	"foreply/compare/words"
	"foreply/profile"
	"foreply/profile/board"
	"foreply/profile/profiletest"
)

// The trap of the c3 Sicilian: 4...Nxe4? 5.Qa4+ wins the knight.
const (
	fell = "e4 =0.3 c5 =0.3 c3 =0.2 d6 =0.3 d4 =0.3 Nf6 =0.4 dxc5 =0.2 Nxe4 =3.9 Qa4+ =3.8 Nc6 Qxe4"
	knew = "e4 c5 c3 d6 d4 Nf6 dxc5 Nc6"
)

// trapsOf compares a book of White with games.
func trapsOf(t *testing.T, p *profile.Profile, chapters ...string) *fact.Side {
	t.Helper()
	r := Make(Input{Profile: p, Books: []*book.Book{bookOf(t, board.White, chapters...)}},
		Options{When: today, FewGames: 1})
	return &r.Sides[0]
}

// A trap worth a look stands in tonight.
func TestTrapTonight(t *testing.T) {
	const line2 = "e4 =0.3 d6 =0.3 d4 =0.3 Nf6 =0.4 Nc3 =0.4 e5 =0.5 dxe5 =0.4 Nxe4 =4.0"
	s := trapsOf(t, profiletest.Judged(t,
		"2026.01.01 1-0 300: e4 e5 Nf3 f6 Nxe5", "2026.01.02 1-0 300: e4 e5 Nf3 Nc6", "2026.01.03 1-0 300: "+line2,
	), "1. e4 e5 (1... d6 2. d4 Nf6 3. Nc3 e5 4. dxe5 dxe5 5. Qxd8+) 2. Nf3 Nc6 (2... f6 3. Nxe5) 3. Bb5 *")
	var tasks []string
	for _, task := range s.Tonight {
		if task.Lead == "trap" {
			tasks = append(tasks, words.Task(&task).String())
		}
	}
	if len(tasks) != 1 || !strings.HasPrefix(tasks[0], "1...d6") || !strings.Contains(tasks[0], "4.dxe5 Nxe4: wrong in 1 of 1 game here") {
		t.Errorf("tonight: %q", tasks)
	}
}

func TestInPawns(t *testing.T) {
	for cp, want := range map[int]string{
		0: "0.0", 4: "0.0", -4: "0.0", 30: "+0.3", -390: "-3.9", profile.MostEval: "won", -profile.MostEval: "lost",
	} {
		if got := words.Pawns(cp); got != want {
			t.Errorf("%d centipawns are %q, want %q", cp, got, want)
		}
	}
}
