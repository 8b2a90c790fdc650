package find

import (
	"encoding/json"
	"math/rand/v2"
	"os"
	"reflect"
	"slices"
	"strings"
	"testing"

	"foreply/compare/fact"
	"foreply/compare/walk"
	"foreply/compare/words"
	"foreply/profile/board"
)

// Material, pawns by wing and pawn facts of 21 opening lines, computed with
// python-chess; see the source line of the file. The statements are common
// practice. Facts about attacks and mates are not ours.
func TestStructureAgainstRulesOfThumb(t *testing.T) {
	data, err := os.ReadFile("../../testdata/structure/rules_of_thumb.tsv")
	if err != nil {
		t.Fatal(err)
	}
	lines := strings.Split(strings.TrimSpace(string(data)), "\n")[2:]
	checked := 0
	for _, row := range lines {
		f := strings.Split(row, "\t")
		var facts struct {
			IsoWhite *[]string            `json:"isolated_white"`
			IsoBlack *[]string            `json:"isolated_black"`
			DblWhite *map[string][]string `json:"doubled_white"`
			DblBlack *map[string][]string `json:"doubled_black"`
			CFile    *[2]int              `json:"c_file_pawns"`
			Castling *string              `json:"castling"`
		}
		if err := json.Unmarshal([]byte(f[5]), &facts); err != nil {
			t.Fatalf("%s: %v", f[0], err)
		}
		line := lineOf(f[1])
		s := Structure(&line)
		for what, pair := range map[string][2]any{
			"material": {pairOf(t, f[2]), [2]int{s.White.Material, s.Black.Material}}, "pawns a-d": {pairOf(t, f[3]), [2]int{s.White.QueenSide, s.Black.QueenSide}},
			"pawns e-h": {pairOf(t, f[4]), [2]int{s.White.KingSide, s.Black.KingSide}},
		} {
			checked++
			if pair[0] != pair[1] {
				t.Errorf("%s: %s %v, want %v", f[0], what, pair[1], pair[0])
			}
		}
		for what, pair := range map[string][2]*[]string{
			"isolated white": {facts.IsoWhite, &s.White.Isolated}, "isolated black": {facts.IsoBlack, &s.Black.Isolated},
			"doubled white": {keysOf(facts.DblWhite), &s.White.Doubled}, "doubled black": {keysOf(facts.DblBlack), &s.Black.Doubled},
		} {
			if pair[0] == nil {
				continue
			}
			checked++
			if !slices.Equal(*pair[0], *pair[1]) {
				t.Errorf("%s: %s %v, want %v", f[0], what, *pair[1], *pair[0])
			}
		}
		if facts.CFile != nil && slices.Contains(s.Black.HalfOpen, "c") != (facts.CFile[1] == 0 && facts.CFile[0] > 0) {
			t.Errorf("%s: half-open for Black: %v", f[0], s.Black.HalfOpen)
		}
		if facts.Castling != nil && *facts.Castling == "-" && s.Black.King != fact.LostCastling {
			t.Errorf("%s: Black %s", f[0], s.Black.King)
		}
	}
	if checked < 3*21+5 {
		t.Errorf("only %d facts checked", checked)
	}
}

func pairOf(t *testing.T, text string) (pair [2]int) {
	t.Helper()
	if err := json.Unmarshal([]byte(text), &pair); err != nil {
		t.Fatal(err)
	}
	return pair
}

func keysOf(m *map[string][]string) *[]string {
	if m == nil {
		return nil
	}
	keys := []string{}
	for k := range *m {
		keys = append(keys, k)
	}
	slices.Sort(keys)
	return &keys
}

// Positions that every player knows, in words.
func TestStructureSaid(t *testing.T) {
	for name, c := range map[string]struct {
		mine board.Color
		line string
		want string
	}{
		"nothing is uneven": {board.White, "e4 e5 Nf3 Nc6", ""},
		"exchange Spanish, from White": {
			board.White, "e4 e5 Nf3 Nc6 Bb5 a6 Bxc6 dxc6 O-O f6 d4 exd4 Nxd4",
			"you have a knight for a bishop; your majority 4 to 3 on the king's side, theirs 4 to 3 on the queen's side; " +
				"theirs: doubled on c, half-open e, bishop pair; open d",
		},
		"exchange Spanish, from Black": {
			board.Black, "e4 e5 Nf3 Nc6 Bb5 a6 Bxc6 dxc6",
			"you have a bishop for a knight; yours: doubled on c, half-open d, bishop pair",
		},
		"Carlsbad": {
			board.Black, "d4 d5 c4 e6 Nc3 Nf6 cxd5 exd5",
			"your majority 4 to 3 on the queen's side, theirs 4 to 3 on the king's side; yours: half-open e; theirs: half-open c",
		},
		"isolated pawn": {
			board.Black, "e4 c6 d4 d5 exd5 cxd5 c4 Nf6 Nc3 e6 Nf3 Be7 cxd5 Nxd5",
			"your majority 4 to 3 on the king's side, theirs 3 to 2 on the queen's side; yours: half-open d; " +
				"theirs: isolated d4, half-open e; open c",
		},
		"backward pawn of the Najdorf": {
			board.White, "e4 c5 Nf3 d6 d4 cxd4 Nxd4 Nf6 Nc3 a6 Be2 e5",
			"yours: half-open d; theirs: backward d6, half-open c",
		},
		"a pawn at home is not backward": {
			board.White, "e4 c5 c3 Nf6 e5 Nd5 d4 e6 Nf3", "",
		},
		"Berlin ending": {
			board.White, "e4 e5 Nf3 Nc6 Bb5 Nf6 O-O Nxe4 d4 Nd6 Bxc6 dxc6 dxe5 Nf5 Qxd8+ Kxd8",
			"you have a knight for a bishop; your majority 4 to 3 on the king's side, theirs 4 to 3 on the queen's side; " +
				"theirs: doubled on c, half-open e, bishop pair, castling lost; open d; queens off",
		},
		"opposite castling": {
			board.White, "d4 Nf6 c4 g6 Nc3 Bg7 e4 d6 f3 O-O Be3 c6 Qd2 a6 O-O-O",
			"castled on opposite sides",
		},
		"passed pawn": {
			board.White, "a4 b5 axb5 a6 bxa6",
			"you are up 2 pawns; your majority 4 to 2 on the queen's side; yours: passed a6; theirs: half-open a b",
		},
	} {
		t.Run(name, func(t *testing.T) {
			line := lineOf(c.line)
			s := Structure(&line)
			if got := words.Structure(&s, c.mine.String()).String(); got != c.want {
				t.Errorf("%q, want %q", got, c.want)
			}
		})
	}
}

// On positions of random games each side's facts are those of the other side in
// the position turned round, and agree with a plain reading of the FEN.
func TestStructureOfRandomPositions(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 8))
	seen := [4]int{}
	for range 300 {
		pos := board.Start()
		for range 20 + r.IntN(100) {
			legal := pos.Legal(nil)
			if len(legal) == 0 {
				break
			}
			pos.Play(legal[r.IntN(len(legal))])
		}
		placement := strings.Fields(pos.EPD())[0]
		turned, err := board.ParseFEN(turnedRound(placement) + " w - - 0 1")
		if err != nil {
			continue // the side not to move is in check
		}
		a, b := Structure(&walk.Track{End: pos}), Structure(&walk.Track{End: turned})
		mirror := func(f fact.SideFacts) fact.SideFacts {
			for _, list := range [][]string{f.Isolated, f.Backward, f.Passed} {
				for i, s := range list {
					list[i] = s[:1] + string('1'+'8'-s[1])
				}
			}
			f.King = ""
			return f
		}
		b.White.King, b.Black.King = "", ""
		for _, pair := range [][2]fact.SideFacts{{b.Black, mirror(a.White)}, {b.White, mirror(a.Black)}} {
			if !reflect.DeepEqual(pair[0], pair[1]) {
				t.Fatalf("%s\n%+v\n%+v", pos.EPD(), pair[0], pair[1])
			}
		}
		a = Structure(&walk.Track{End: pos})
		isolated, doubled, passed := plainPawns(placement)
		if !slices.Equal(a.White.Isolated, isolated) || !slices.Equal(a.White.Doubled, doubled) || !slices.Equal(a.White.Passed, passed) {
			t.Fatalf("%s: %+v, want isolated %v, doubled %v, passed %v", pos.EPD(), a.White, isolated, doubled, passed)
		}
		for i, n := range []int{len(isolated), len(doubled), len(passed), len(a.White.Backward)} {
			seen[i] += n
		}
	}
	if slices.Contains(seen[:], 0) {
		t.Errorf("the games test little: %v", seen)
	}
}

// turnedRound swaps the sides of a FEN placement.
func turnedRound(placement string) string {
	ranks := strings.Split(placement, "/")
	slices.Reverse(ranks)
	return strings.Map(func(c rune) rune {
		switch {
		case c >= 'a' && c <= 'z':
			return c - 'a' + 'A'
		case c >= 'A' && c <= 'Z':
			return c - 'A' + 'a'
		}
		return c
	}, strings.Join(ranks, "/"))
}

// plainPawns reads White's isolated pawns, doubled files and passed pawns off a
// placement, square by square.
func plainPawns(placement string) (isolated, doubled, passed []string) {
	isolated, doubled, passed = []string{}, []string{}, []string{}
	var square [8][8]rune // by file and rank
	for i, rank := range strings.Split(placement, "/") {
		file := 0
		for _, c := range rank {
			if c >= '1' && c <= '8' {
				file += int(c - '0')
				continue
			}
			square[file][7-i] = c
			file++
		}
	}
	count := func(file int, man rune, from int) int {
		n := 0
		for rank := from; file >= 0 && file < 8 && rank < 8; rank++ {
			if square[file][rank] == man {
				n++
			}
		}
		return n
	}
	for file := range 8 {
		if count(file, 'P', 0) > 1 {
			doubled = append(doubled, string(rune('a'+file)))
		}
		for rank := range 8 {
			if square[file][rank] != 'P' {
				continue
			}
			name := string(rune('a'+file)) + string(rune('1'+rank))
			if count(file-1, 'P', 0)+count(file+1, 'P', 0) == 0 {
				isolated = append(isolated, name)
			}
			if count(file-1, 'p', rank+1)+count(file, 'p', rank+1)+count(file+1, 'p', rank+1) == 0 {
				passed = append(passed, name)
			}
		}
	}
	return isolated, doubled, passed
}
