package pgn

import (
	"bytes"
	"math/rand/v2"
	"strings"
	"testing"
)

// fragments are pieces of PGN and of what people make of it. Put together at
// random they reach more odd states than bytes at random do.
var fragments = []string{
	"[Event \"A\"]", "[White \"Alder, Mina\"]", "[Result \"1-0\"]", "[Result \"*\"]", "[A \"x \\\" y\"]", "[B \"broken", "[C", "[D \"two\n\"]", "[FEN \"8/8 b - - 0 7\"]",
	"[White\n\"x\"]", "[ Black \"y\" ]", "[E unquoted]", "[]", "[\"\"]", "]", "[F \"a \"b\" c\"]", "[SetUp \"1\"]",
	"\n", "\n\n", "\r\n", "\r", "\t", " ", "  ", "\v", "\f", "\x00", "\u00a0", "\ufeff", "\xa0",
	"1.", "1. ", "1...", "2.", "12", "1 .", "...", ".", "1",
	"e4", "e5", "Nf3", "O-O", "0-0-0", "0-0", "--", "Z0", "e8=Q+", "e8(Q)", "exd6 e.p.", "exd6e.p.", "Qh4#", "Nbd7", "Bxf", "exd", "ed", "♘f3", "O–O", "e4e5", "N", "D", "Nf3+-", "e4=",
	"!", "?", "!?", "$1", "$14", "$", "$999", "±", "+-", "=", "+", "#", "-", "/", "½", "\xbd", "1/2", "-1/2", "(=)",
	"1-0", "0-1", "1/2-1/2", "*", "½-½", "1 - 0", "1–0",
	"(", ")", "( ", " )", "{", "}", "{comment}", "{[%clk 0:01:02]}", "{a\n\n[Event \"x\"]\nb}", "{ä", "; rest", "; }", "%", "\n%", "\n% gone\n", "<", ">", "<1-0>",
	"text", "Bad", "don't", "äöü", "\xe4\xf6", "\"", "'", ",", ":", "\\", "€", "\x80", "😀",
	"1. e4 e5 2. Nf3 ", "\n\n1. d4 d5 ", "\n1. c4 c5 ", "\n\n[Event \"B\"]\n", "\n[White \"C\"]\n[Black \"D\"]\n\n1. e4 *\n",
}

func TestFragmentsAtRandom(t *testing.T) {
	rnd := rand.New(rand.NewPCG(7, 11))
	n := 4000
	if testing.Short() {
		n = 600
	}
	for range n {
		var b strings.Builder
		for range 1 + rnd.IntN(14) {
			b.WriteString(fragments[rnd.IntN(len(fragments))])
			if rnd.IntN(3) == 0 {
				b.WriteByte(' ')
			}
		}
		text := []byte(b.String())
		if !t.Run("", func(t *testing.T) {
			checkRead(t, text)
			checkWriteRead(t, text)
		}) {
			t.Fatalf("with %q", text)
		}
	}
}

// A window that is smaller than the text must not change what is read from it.
func TestBlockBordersChangeNothing(t *testing.T) {
	rnd := rand.New(rand.NewPCG(3, 5))
	for range 60 {
		var b bytes.Buffer
		for b.Len() < 3*firstBlock {
			b.WriteString(fragments[rnd.IntN(len(fragments))])
			if rnd.IntN(40) == 0 {
				b.WriteString("\n\n" + lastGame)
			}
		}
		text := b.Bytes()
		whole, _ := readBytes(t, bytes.NewReader(text), Options{Variations: true})
		r := NewReader(bytes.NewReader(text), Options{Variations: true, File: "fuzz.pgn"})
		r.buf = make([]byte, 1<<20) // all in one block
		var games []*Game
		for g := range r.All() {
			games = append(games, g.Clone())
		}
		sameGames(t, games, whole)
	}
}
