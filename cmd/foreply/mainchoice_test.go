package main

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"foreply/compare/book"
	"foreply/fetch/pgn"
	"foreply/profile/board"
)

func chapters(text string) []*pgn.Game {
	var out []*pgn.Game
	for g := range pgn.NewReader(strings.NewReader(text), pgn.Options{File: "white.pgn", Variations: true}).All() {
		out = append(out, g.Clone())
	}
	return out
}

// The chapters of --main come in its order, before the others in theirs.
func TestOrderOfChapters(t *testing.T) {
	const text = "[Event \"One\"]\n\n1. a3 *\n\n[Event \"Two\"]\n\n1. b3 *\n\n[Event \"Three\"]\n\n1. c3 *\n\n[Event \"Four\"]\n\n1. d3 *\n"
	for first, want := range map[string]string{"": "a3 b3 c3 d3", "three": "c3 a3 b3 d3", "four,two": "d3 b3 a3 c3", "white.pgn": "a3 b3 c3 d3"} {
		b := book.New(board.White)
		addInOrder(b, chapters(text), strings.FieldsFunc(first, func(r rune) bool { return r == ',' }))
		start := board.Start()
		var got []string
		for _, m := range b.Answers(start.Key()) {
			got = append(got, start.SAN(m))
		}
		if strings.Join(got, " ") != want {
			t.Errorf("--main %s: %q, want %s", first, got, want)
		}
	}
}

// A book of ten positions that gives several answers and few moves of theirs is asked about;
// a smaller one says nothing of itself.
func TestBookOfTheOtherColour(t *testing.T) {
	line := strings.Fields("d4 d5 c4 e6 Nc3 Nf6 Bg5 Be7 e3 O-O Nf3 Nbd7 Rc1 c6 Bd3 dxc4 Bxc4 Nd5 Bxe7 Qxe7 O-O Nxc3 Rxc3 e5")
	for plies, asked := range map[int]bool{23: true, 19: true, 17: false} {
		var moves strings.Builder
		for i, san := range line[:plies] {
			if i%2 == 0 {
				fmt.Fprintf(&moves, "%d. ", i/2+1)
			}
			moves.WriteString(san + " ")
			if i == 0 {
				moves.WriteString("(1. e4) (1. c4) (1. Nf3) (1. b3) 1... ")
			}
		}
		b := book.New(board.White)
		for _, g := range chapters(moves.String() + "*\n") {
			b.Add(g)
		}
		var told bytes.Buffer
		(&app{say: newSpeaker(&told)}).tellOtherColor(b)
		const want = "note: is this your repertoire for white: white.pgn? It has 1.3 moves of yours at a position and 1.0 of theirs, as one for black would\n"
		if plies == 23 && told.String() != want {
			t.Errorf("%q", told.String())
		}
		if got := strings.Contains(told.String(), "is this your repertoire for white"); got != asked {
			t.Errorf("%d positions: %q", b.Positions(), told.String())
		}
	}
}

// Of the positions at which the alphabet chose, the first is told, and how many more there
// are; a file that was named itself has its place by choice.
func TestRivalsAreCounted(t *testing.T) {
	dir := t.TempDir()
	a, z := filepath.Join(dir, "a.pgn"), filepath.Join(dir, "z.pgn")
	for text, want := range map[string]string{
		"1. d4 d5 2. c4 e6 3. Nc3 *":                          "",
		"1. d4 d5 2. Bf4 *":                                   "after 1.d4 d5 | alone",
		"1. d4 d5 2. Bf4 (2. c4 e6 3. Nf3) *":                 "after 1.d4 d5 | alone; so at 1 position more",
		"1. e4 (1. d4 d5 2. Bf4 (2. c4 e6 3. Nf3)) 1... e5 *": "at the first move | alone; so at 2 positions more",
	} {
		b := book.New(board.White)
		for _, file := range []struct{ name, text string }{{a, "1. d4 d5 2. c4 e6 3. Nc3 *\n"}, {z, text + "\n"}} {
			if err := os.WriteFile(file.name, []byte(file.text), 0o600); err != nil {
				t.Fatal(err)
			}
			for g := range pgn.NewReader(strings.NewReader(file.text), pgn.Options{File: file.name, Variations: true}).All() {
				b.Add(g.Clone())
			}
		}
		for _, patterns := range [][]string{{dir}, {filepath.Join(dir, "*.pgn")}, {a, z}, {a, dir}} {
			var told bytes.Buffer
			(&app{say: newSpeaker(&told)}).tellRivals(b, patterns)
			from, to, _ := strings.Cut(want, " | ")
			note, _, _ := strings.Cut(told.String(), "\n")
			if patterns[0] == a && told.Len() > 0 {
				t.Errorf("%s was named itself: %q", a, note)
			}
			if patterns[0] != a && (!strings.Contains(note, from+" ") && want != "" || !strings.HasSuffix(note, to)) {
				t.Errorf("%s: %q, want %q", text, note, want)
			}
		}
	}
}

// What the alphabet chose is told with both files, and the hint names the one that would else
// come second; the moves bear their numbers, those of a set-up chapter by its position.
func TestRivalIsNamed(t *testing.T) {
	dir := t.TempDir()
	a, z := filepath.Join(dir, "a.pgn"), filepath.Join(dir, "z.pgn")
	const setUp = "[SetUp \"1\"]\n[FEN \"r1bqkbnr/pppp1ppp/2n5/4p3/4P3/5N2/PPPP1PPP/RNBQKB1R w KQkq - 2 3\"]\n\n"
	for first, c := range map[string]struct{ second, want string }{
		"1. e4 e5 2. Nf3 *\n":          {"\n1. e4 e5 2. f4 *\n", "after 1.e4 e5 two files give a first answer: 2.Nf3 (A:1) is taken, before 2.f4 (Z:2), by the alphabet alone"},
		setUp + "3. Bb5 a6 4. Ba4 *\n": {setUp + "3. Bb5 a6 4. Bxc6 *\n", "after 3.Bb5 a6 two files give a first answer: 4.Ba4 (A:4) is taken, before 4.Bxc6 (Z:4), by the alphabet alone"},
		"\n\n1. c4 e5 2. g3 *\n":       {"1. d4 d5 2. c4 *\n", "at the first move two files give a first answer: 1.c4 (A:3) is taken, before 1.d4 (Z:1), by the alphabet alone"},
	} {
		b := book.New(board.White)
		for file, text := range map[string]string{a: first, z: c.second} {
			write(t, file, text)
		}
		for _, file := range []string{a, z} {
			for g := range pgn.NewReader(strings.NewReader(string(readFile(t, file))), pgn.Options{File: file, Variations: true}).All() {
				b.Add(g.Clone())
			}
		}
		var told bytes.Buffer
		(&app{say: newSpeaker(&told)}).tellRivals(b, []string{dir})
		want := "note: " + strings.NewReplacer("A:", a+":", "Z:", z+":").Replace(c.want) + "\nhint: --main z.pgn puts that file first; so does naming the files one by one, or [Role \"main\"] in it\n"
		if told.String() != want {
			t.Errorf("%q\nwant %q", told.String(), want)
		}
		told.Reset()
		if (&app{say: newSpeaker(&told)}).tellRivals(b, []string{filepath.Join(dir, "a*"), filepath.Join(dir, "z*")}); told.Len() > 0 {
			t.Errorf("the patterns have an order: %q", told.String())
		}
	}
}
