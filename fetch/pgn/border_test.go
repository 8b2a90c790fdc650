package pgn

import (
	"strings"
	"testing"
)

// borders are texts in which it isn't plain where a game ends.
var borders = []reading{
	{"[White \"A\"]\n\n{c}\n[White \"B\"]\n\n1. e4 *", `White=A; "c" / White=B; e4 *`, ""},
	{"[White \"A\"]\n{open\n\n[White \"B\"]\n[Black \"C\"]\n\n1. e4 {x} *", `White=A; "open" / White=B; Black=C; e4 "x" *`, `error 2:1 0 "{open" comment not closed; the rest of the game is taken for its text`},
	{"[Event \"A\"]\n[Event \"B\"]\n[Result \"*\"]\n[White \"C\"]\n[Event \"D\"]\n\n1. e4 *", "Event=A; Event=B; Result=*; White=C; / Event=D; e4 *", `warning 2:1 0 "[Event \"B\"]" tag Event given twice; the last value counts`},
	{"[White \"A\"]\n( 1. d4\n[Black \"B\"]\n\n1. e4\n1. d4 d5 *", "White=A; d4 / Black=B; e4 d4 d5 *", `warning 2:1 0 "(" variation before any move; its parentheses are passed over`},
	{"[White \"A\"]\n(\n[Black \"B\"]\n\n1. e4 e5\n1. d4 d5 *", "White=A; Black=B; e4 e5 / d4 d5 *", `warning 2:1 0 "(" stray: (`},
	{"1. e4 e5 (\n\n1. d4 d5) 2. Nf3 *", "e4 e5 (d4 d5) Nf3 *", ""},
	{"1. e4 e5 ({c}\n\n1. d4 d5) 2. Nf3 *", `e4 e5 ("c" d4 d5) Nf3 *`, ""},
	{"1. e4 e5 ({c} {d}\n\n1. d4 d5) 2. Nf3 *", `e4 e5 ("c" "d" d4 d5) Nf3 *`, ""},
	{"1. e4 e5 (1. d4\n\n1. c4 c5) 2. Nf3 *", "e4 e5 (d4) / c4 c5 Nf3 *", `warning 1:10 3 "(" variation not closed; it ends with the game, warning 3:9 2 ")" closing parenthesis without an open one, passed over`},
	{"1. e4 ))( \n1. d4 d5) e5 *", "e4 (d4 d5) e5 *", `warning 1:7 1 ")" closing parenthesis without an open one, passed over, warning 1:8 1 ")" closing parenthesis without an open one, passed over`},
	{"1. e4 e5 2. Nf3 ; 3. Bb5 a6\n 2... Nc6 *", `e4 e5 Nf3 "3. Bb5 a6" Nc6 *`, ""},
	{"1. e4 e5 2. Nf3 ; 3. Bb5 1-0\n 2... Nc6 *", `e4 e5 Nf3 "3. Bb5 1-0" Nc6 *`, ""},
	{"1. e4\n\n1. d4 *", "e4 / d4 *", ""},
	{"1. e4\n1. d4 *", "e4 d4 *", ""},
	{"1. e4 (1. c4 c5\n1. d4) e5 *", "e4 (c4 c5 d4) e5 *", ""},
	{"1. e4 e5\n[White Alder]\n2. Nf3 *", "e4 e5 Nf3 *", `note 2:1 2 "[White Alder]" label of a line, passed over: [White Alder]`},
	{"1. e4 e5\n\n[White Alder]\n\n2. Nf3 *", "e4 e5 / White=Alder; Nf3 *", `warning 3:1 0 "[White Alder]" value not in quotes`},
	{"[White \"A\"]\n\nhello\n\n[White \"B\"]\n\n1. e4 *", "White=A; / White=B; e4 *", `warning 3:1 0 "hello" stray: hello`},
	{"[White \"A\"]\n\nhello 1. e4\n\n[White \"B\"]\n\n1. e4 *", "White=A; e4 / White=B; e4 *", `note 3:1 0 "hello" label of a line, passed over: hello`},
	{"[White \"A\"]\nhello\n\n[Black \"B\"]\n[White \"C\"]\n\n1. e4 *", "White=A; Black=B; White=C; e4 *", `warning 2:1 0 "hello" stray: hello, warning 5:1 0 "[White \"C\"]" tag White given twice; the last value counts`},
	{"1. e4 e5 (1... c5 1-0 {c} ) 2. Nf3 *", `e4 e5 (c5 "c") Nf3 *`, ""},
	{"1. e4 e5 (1... c5 1-0 {c} 2. Nf3 *", `e4 e5 "c" (c5) 1-0 / Nf3 *`, `warning 1:10 3 "(" variation not closed; it ends with the game`},
	{"1. e4 1-0 {a}\n{b} 1. d4 *", `e4 "a" 1-0 / "b" d4 *`, ""},
	{"1. e4 1-0 ; a\n; b\n1. d4 *", `e4 "a" 1-0 / "b" d4 *`, ""},
	{"1. e4 1-0 {a\n\n[White \"B\"]\n\n1. d4 {x} *", `e4 "a" 1-0 / White=B; d4 "x" *`, `error 1:11 1 "{a" comment not closed; the rest of the game is taken for its text`},
	{"1. e4 e5 &thetasym; 1-0 1. d4 *", "e4 e5 1-0 / d4 *", ""},
	{"1. e4 e5 <a; 1-0> 2. Nf3 *", `e4 e5 "1-0> 2. Nf3 *"`, `warning 1:11 2 "a" stray: a`},
	{"1. e4 {a\n\n[White \"B\"]\n\n1. d4 } e5 1-0 {b} ; c\n1. d4 *", "e4 \"a [White \\\"B\\\"] 1. d4\" e5 \"b\" \"c\" 1-0 / d4 *", ""},
	{"1. e4 {a\n\n[White \"B\"]\n\n1. d4 d5 2. c4 c5 3. Nc3 Nc6 4. Nf3 Nf6 5. e3 e6 6. a3 a6 7. b4 b6 8. Bb2 } e5 1-0", "e4 \"a [White \\\"B\\\"] 1. d4 d5 2. c4 c5 3. Nc3 Nc6 4. Nf3 Nf6 5. e3 e6 6. a3 a6 7. b4 b6 8. Bb2\" e5 1-0", ""},
	{"1. e4 {a {b} {c} 1. d4 d5 2. c4 c5 3. Nc3 Nc6 4. Nf3 Nf6 5. e3 e6 6. a3 a6 7. b4 b6 8. Bb2} e5 1-0", `e4 "a {b} {c} 1. d4 d5 2. c4 c5 3. Nc3 Nc6 4. Nf3 Nf6 5. e3 e6 6. a3 a6 7. b4 b6 8. Bb2" e5 1-0`, ""},
	{"1. e4 e5 ))\n1. d4 d5 *", "e4 e5 / d4 d5 *", `warning 1:10 2 ")" closing parenthesis without an open one, passed over, warning 1:11 2 ")" closing parenthesis without an open one, passed over`},
	{"[White \"A\"]\nhello\n\n[White \"B\"]\n\n1. e4 *", "White=A; / White=B; e4 *", `warning 2:1 0 "hello" stray: hello`},
	{"[White \"A\"]\nhello\n[Black \"B\"]\n\n[White \"C\"]\n\n1. e4 *", "White=A; Black=B; / White=C; e4 *", `warning 2:1 0 "hello" stray: hello`},
	{"1. e4\n1. d4 d5\n1. c4 *", "e4 d4 d5 / c4 *", ""},
	{"1. e4 e5 (1... c5 1-0 {a long comment that takes more bytes than are looked at behind a sign before it is judged}) 2. Nf3 *", `e4 e5 (c5 "a long comment that takes more bytes than are looked at behind a sign before it is judged") Nf3 *`, ""},
	{"1. e4 e5 1-0                                                                      {a} 1. d4 *", `e4 e5 "a" 1-0 / d4 *`, ""},
}

func TestBordersOfGames(t *testing.T) { checkReadings(t, borders) }

// What split finds in the start of a text it finds in the whole of it; when it may be another
// thing, it waits for more.
func TestSplitWaitsForMore(t *testing.T) {
	rest := "\n\n[White \"Z\"]\n\n1. e4 {" + strings.Repeat("so ", lookahead) + "} e5 0-1\n"
	for _, c := range borders {
		text := []byte(c.text + rest)
		for len(text) > 0 {
			var s splitter
			whole, _ := s.split(text, true)
			for n := range text {
				if sp, ok := s.split(text[:n], false); ok && sp != whole {
					t.Fatalf("%q: %+v, want %+v", text[:n], sp, whole)
				}
			}
			next, _ := skipSpace(text, whole.end)
			text = text[next:]
		}
	}
}

// A comment longer than what is looked through at once ends at its brace, unless a game
// hides in it.
func TestFarComments(t *testing.T) {
	long := strings.Repeat("word\n", 15_000)
	games, _ := readAll(t, "1. e4 {"+long+"} x e5 *", Options{Variations: true})
	if p := games[0].Problems[0]; len(games[0].Moves) != 2 || p.Line != 15_001 || p.Column != 3 {
		t.Errorf("%d moves, %v", len(games[0].Moves), p)
	}
	for _, rest := range []string{"\n[White \"B\"]\n\n1. d4 {c} d5 *", "\n[White \"B\"]\n\n1. d4 d5 *"} {
		games, _ = readAll(t, "1. e4 {"+long+rest, Options{Variations: true})
		if len(games) != 2 || games[0].Problems[0].Kind != OpenComment || games[1].Line != 15_002 || len(games[1].Moves) != 2 {
			t.Errorf("%q: %d games, %v", rest, len(games), games[0].Problems)
		}
	}
	games, _ = readAll(t, "1. e4 {"+long, Options{Variations: true})
	if p := games[0].Problems[0]; len(games) != 1 || p.Kind != OpenComment || p.Column != 7 {
		t.Errorf("%d games, %v", len(games), p)
	}
}
