package pgn

import "testing"

// Tags as people break them: what was given before isn't lost to a broken one.
func TestWhatIsReadOfTags(t *testing.T) {
	checkReadings(t, []reading{
		{"[White \"A\"]\nhello\n[Black \"B\"]\nagain {c}\n[Round \"1\"]\n\n1. e4 *", `White=A; Black=B; Round=1; "c" e4 *`, `warning 2:1 0 "hello" stray: hello, warning 4:1 0 "again" stray: again`},
		{"[White \"A\"]\n[WHITE Elo \"2000\"]\n\n1. e4 *", "White=A; e4 *", `warning 2:1 0 "[WHITE Elo \"2000\"]" value not in quotes`},
		{"[White \"A\"]\n[White Elo \"2000\"]\n\n1. e4 *", "White=A; e4 *", `warning 2:1 0 "[White Elo \"2000\"]" value not in quotes`},
		{"[White Elo \"2000\"]\n\n1. e4 *", `White=Elo "2000; e4 *`, `warning 1:1 0 "[White Elo \"2000\"]" value not in quotes`},
		{"[White \"A &amp; B\"]\n[Black \"C &lt D\"]\n\n1. e4 *", "White=A & B; Black=C &lt D; e4 *", ""},
		{"[White \"A\"]\n[Black \"B\"]\n[White \"C\"]\n\n1. e4 *", "White=A; Black=B; White=C; e4 *", `warning 3:1 0 "[White \"C\"]" tag White given twice; the last value counts`},
		{"[Event \"A\r\nB\"]\n\n1. e4 *", "Event=A B; e4 *", `warning 1:1 0 "[Event \"A" value over two lines`},
		{"[White \"A\"]\nhello {c}\n[Black \"B\"]\n\n1. e4 *", `White=A; Black=B; "c" e4 *`, `warning 2:1 0 "hello" stray: hello`},
		{"[White \"A\"]\nhello\n{c}\n[Black \"B\"]\n\n1. e4 *", `White=A; Black=B; "c" e4 *`, `warning 2:1 0 "hello" stray: hello`},
	})
}

// Comments in comments end where the last of them does, and hide no game.
func TestWhatIsReadOfComments(t *testing.T) {
	checkReadings(t, []reading{
		{"1. e4 ;}\n e5 ;\n2. Nf3 {a  Ġ b} *", `e4 "}" e5 Nf3 "a Ġ b" *`, ""},
		{"1. e4 {a {b\n\n[White \"B\"]\n\n1. d4 } e5 *", "e4 \"a {b [White \\\"B\\\"] 1. d4\" e5 *", ""},
		{"1. e4 {a {b}\nc} x e5 *", `e4 "a {b} c" e5 *`, `warning 2:4 1 "x" stray: x`},
		{"1. e4 {a\n{b} x e5 *", `e4 "a {b" e5 *`, `warning 2:5 1 "x" stray: x`},
		{"1. e4 {a {b} e5 *\n\n[White \"B\"]\n\n1. d4 c} d5 *", `e4 "a {b" e5 * / White=B; d4 d5 *`, `warning 5:7 1 "c}" stray: c}`},
		{"1. e4 {a {b} {c} d} e5 *", `e4 "a {b} {c} d" e5 *`, ""},
		{"1. e4 {\xe9} *\n\n1. d4 {\xe9} *", `e4 "é" * / d4 "é" *`, `note 1:1 0 "" text is not UTF-8 from here on; read as Windows-1252`},
	})
}

// Signs that mean something in their place, and there only.
func TestWhatIsReadOfSigns(t *testing.T) {
	checkReadings(t, []reading{
		{"1. e4 --x e5 --- *", "e4 e5 *", `warning 1:7 1 "--x" stray: --x, warning 1:14 2 "---" stray: ---`},
		{"1. e4 – e5 2. – d5 *", "e4 e5 -- d5 *", `warning 1:7 1 "–" stray: –, warning 1:15 3 "–" null move in the main line: a lesson, not a game`},
		{"1. –d5 e5 *", "e5 *", `warning 1:4 0 "–d5" stray: –d5`},
		{"1. - e5 *", "e5 *", `warning 1:4 0 "-" stray: -`},
		{"1. e4 =- e5 *", "e4 e5 *", `warning 1:7 1 "=-" stray: =-`},
		{"1. e4 +/ e5 *", "e4 e5 *", `warning 1:7 1 "+/" stray: +/`},
		{"1. e4 e5 2 – d5 *", "e4 e5 d5 *", `warning 1:12 2 "–" stray: –`},
		{"1. e4 !!? e5 *", "e4 $5 e5 *", `warning 1:7 1 "!" stray: !`},
		{"1. e4 ±+ e5 *", "e4 $16 e5 *", ""},
		{"1. Qf3++/- e5 *", "Qf3+ $16 e5 *", ""},
		{"1. e4 !!!! e5 *", "e4 $3 e5 *", `warning 1:7 1 "!" stray: !`},
	})
}

// Results and what is not one, plain movetext with something odd in it, and the problems of
// tags: whose they are, and where.
func TestWhatIsReadBesideMoves(t *testing.T) {
	checkReadings(t, []reading{
		{"1. e4 $1-0 e5 *", "e4 $1 e5 *", `warning 1:9 1 "-0" stray: -0`},
		{"1. e4 -1-0 e5 *", "e4 e5 *", `warning 1:7 1 "-1-0" stray: -1-0`},
		{"1. e4 4/1-0 e5 *", "e4 e5 *", `warning 1:8 1 "/1-0" stray: /1-0`},
		{"1. e4 1:0:30 e5 *", "e4 e5 *", ""},
		{"1. e4 1-0-0 e5 *", "e4 e5 *", `warning 1:8 1 "-0-0" stray: -0-0`},
		{"1. e4 1-0/2 e5 *", "e4 e5 *", `warning 1:8 1 "-0/2" stray: -0/2`},
		{"1. e4 1-0F e5 *", "e4 e5 *", `warning 1:8 1 "-0F" stray: -0F`},
		{"1. e4 11-0 e5 *", "e4 e5 *", `warning 1:9 1 "-0" stray: -0`},
		{"1. e4 1-\n0\n\n1. d4 1/2-\r\n1/2", "e4 1-0 / d4 1/2-1/2", ""},
		{"1. e4 (1. d4 ] d5) e5 *", "e4 (d4 d5) e5 *", `warning 1:14 1 "]" stray: ]`},
		{"1. e4 see ** this ** e5 *", "e4 e5 *", `warning 1:7 1 "see ** this" stray: see ** this`},
		{"1. 0000 e5 *", "0000 e5 *", `warning 1:4 1 "0000" null move in the main line: a lesson, not a game`},
		{"(1. d4 x d5) 1. e4 *", "e4 (d4 d5) *", `warning 1:8 1 "x" stray: x`},
		{"((1. e4)) e5 *", "e4 e5 *", `warning 1:1 0 "(" variation before any move; its parentheses are passed over, warning 1:2 0 "(" variation before any move; its parentheses are passed over`},
		{"1. e4 (1. d4) e5 ; 2. Nf3 Nc6\n*", `e4 (d4) e5 "2. Nf3 Nc6" *`, ""},
		{"1. e4 e5) 2. Nf3 *", "e4 e5 Nf3 *", `warning 1:9 2 ")" closing parenthesis without an open one, passed over`},
		{"1. e4 ({c}) e5 (1... c5) () *", `e4 "c" e5 (c5) *`, ""},
		{"1. e4 * {a} {b} ; c\n", `e4 "a" "b" "c" *`, ""},
		{"1. e4 x {c} y e5 *", `e4 "c" e5 *`, `warning 1:7 1 "x" stray: x, warning 1:13 1 "y" stray: y`},
		{"1. e4 {c} ed *", `e4 "c" *`, `warning 1:11 1 "ed" stray: ed`},
		{"1. e4 {c} d5 ed *", `e4 "c" d5 ed *`, ""},
		{"1. a1 Q *", "a1=Q *", ""},
		{"1. Ni3 e5 *", "e5 *", `warning 1:4 0 "Ni3" stray: Ni3`},
		{"1. e4 e5 2: Nf3 *", "e4 e5 Nf3 *", ""},
		{"1. e4 abcdefghijklmnopqrstuvwxyzabcdefghijklmnopqrstuvwxyz e5 *", "e4 e5 *", `warning 1:7 1 "abcdefghijklmnopqrstuvwxyzabcdefghijklmn…" stray: abcdefghijklmnopqrstuvwxyzabcdefghijklmn…`},
		{"{only a comment}\n", "", ""},
		{"1-0\n\n1. e4 *", "e4 *", `outside: warning 1:1 "1-0" result without a game, passed over`},
		{"1. e4 * %x\n1. d4 *", "e4 * / d4 *", `note 1:9 0 "%x" label of a line, passed over: %x`},
		{"\ufeffx 1. e4 *", "e4 *", `note 1:1 0 "x" label of a line, passed over: x`},
		{"1. e4 e5 * [White \"A\"] 1. d4 {é} d5 x *", `e4 e5 * / White=A; d4 "é" d5 *`, `warning 1:37 2 "x" stray: x`},
		{"1. Sf3 *\n\n1. e4 e5 2. Sf3 *", "Sf3 * / e4 e5 Sf3 *", ""},
		{"1. e4 e5 2. Nf3 x *", "e4 e5 Nf3 *", `warning 1:17 3 "x" stray: x`},
		{"(1. d4; 1. c4) 1. e4 *", "e4 (d4 c4) *", ""},
		{"1. e4 * 1. d4 {é} x *", `e4 * / d4 "é" *`, `warning 1:19 1 "x" stray: x`},
		{"1. e4 e5 (1... c5 2. Nf3 x) 2. d4 *", "e4 e5 (c5 Nf3) d4 *", `warning 1:26 3 "x" stray: x`},
		{"  [Result \"won\"]\n\n1. e4\nx e5 1-0", "Result=won; e4 e5 1-0", `note 1:3 0 "[Result \"won\"]" Result tag holds "won", warning 4:1 1 "x" stray: x`},
		{"{\xe9 only a comment}\n", "", ""},
		{"[Result \"1-0\"]\n\n1. e4 *", "Result=1-0; e4 *", `note 3:7 1 "*" result 1-0 in the tag, * at the end`},
		{"[Result \"1:0\"]\n\n1. e4 0-1", "Result=1:0; e4 0-1", `note 1:1 0 "[Result \"1:0\"]" Result tag holds "1:0", warning 3:7 1 "0-1" result 1-0 in the tag, 0-1 at the end`},
		{"[SetUp \"1\"]\n[FEN \"8/8/8/4k3/8/4K3/4P3/8 w - - 0 1\"]\n\n1. e4 *", "SetUp=1; FEN=8/8/8/4k3/8/4K3/4P3/8 w - - 0 1; e4 *", ""},
		{"[SetUp \"0\"]\n\n1. e4 *", "SetUp=0; e4 *", ""},
		{"1. e4 éééééééééééééééééééééééééééééééééééééééééé e5 *", "e4 e5 *", `warning 1:7 1 "éééééééééééééééééééééééééééééééééééééééé…" stray: éééééééééééééééééééééééééééééééééééééééé…`},
	})
}
