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
		{"[White \"A\"]\nhello {c} there\n[Black \"B\"]\n\n1. e4 *", `White=A; Black=B; "c" e4 *`, `warning 2:1 0 "hello" stray: hello, warning 2:11 0 "there" stray: there`},
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
		{"1. e4 e5 * [White \"A\"] 1. d4 d5 *", "e4 e5 * / White=A; d4 d5 *", ""},
		{"1. e4 *%x\n1. d4 *", "e4 * / d4 *", `note 1:8 0 "%x" label of a line, passed over: %x`},
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

// Quotes and brackets of tags, and what is a tag behind moves.
func TestWhatIsReadOfBrokenTags(t *testing.T) {
	checkReadings(t, []reading{
		{"[White\n\n\"A\"]\n\n1. e4 *", "White=; e4 *", `warning 1:1 0 "[White" value not in quotes, note 3:1 0 "\"A\"]" label of a line, passed over: "A"]`},
		{"[\n\nWhite \"A\"]\n\n1. e4 *", "e4 *", `warning 1:1 0 "[" tag without a name, note 3:1 0 "White \"A\"]" label of a line, passed over: White "A"]`},
		{"[White \"A\"\n\n]\n\n1. e4 *", "White=A; e4 *", `warning 1:1 0 "[White \"A\"" bracket not closed, note 3:1 0 "]" label of a line, passed over: ]`},
		{"[White \"A\"\n]\n[Black \"B\"]\n\n1. e4 *", "White=A; Black=B; e4 *", ""},
		{"[ \"A\"]\n[White \"B\"]\n\n1. e4 *", "White=B; e4 *", `warning 1:1 0 "[ \"A\"]" tag without a name`},
		{"[Event \"A\nB \"C\"\n[White \"D\"]\n\n1. e4 *", "Event=A; White=D; e4 *", `warning 1:1 0 "[Event \"A" quote not closed, warning 2:1 0 "B \"C\"" stray: B "C"`},
		{"[Event \"A\n[White \"D\"]\n\n1. e4 *", "Event=A; White=D; e4 *", `warning 1:1 0 "[Event \"A" quote not closed`},
		{"[Event \"A \t\n\n1. e4 *", "Event=A; e4 *", `warning 1:1 0 "[Event \"A" quote not closed`},
		{"[Event \"A\" [White \"B\"]\n\n1. e4 *", "Event=A; White=B; e4 *", `warning 1:1 0 "[Event \"A\"" bracket not closed`},
		{"[Event \"A\\\\\"]\n[White \"B\"]\n\n1. e4 *", "Event=A\\; White=B; e4 *", ""},
		{"[Event \"A\\\\\\\"B\"]\n[White \"B\"]\n\n1. e4 *", "Event=A\\\"B; White=B; e4 *", ""},
		{"[Event &#34;A&#34;]\n[White „B‟]\n[Black «C»]\n\n1. e4 *", "Event=A; White=B; Black=C; e4 *", `warning 1:1 0 "[Event &#34;A&#34;]" value not in quotes, warning 2:1 0 "[White „B‟]" value not in quotes, warning 3:1 0 "[Black «C»]" value not in quotes`},
		{"[Event A]\n1. e4 *", "Event=A; e4 *", `warning 1:1 0 "[Event A]" value not in quotes`},
		{"1. e4 e5\n\n[White]\n2. Nf3 *", "e4 e5 Nf3 *", `note 3:1 2 "[White]" label of a line, passed over: [White]`},
		{"1. e4 e5\n\n[3 b]\n2. Nf3 *", "e4 e5 Nf3 *", `note 3:1 2 "[3 b]" label of a line, passed over: [3 b]`},
		{"1. e4 e5\n\n[White Alder\n2. Nf3 *", "e4 e5 Nf3 *", `note 3:1 2 "[White Alder" label of a line, passed over: [White Alder`},
		{"1. e4 e5\n\n[White\t\"Alder\"]\n\n1. d4 *", "e4 e5 / White=Alder; d4 *", ""},
		{"1. e4 e5\n\n[\tWhite &quot;Alder&quot;]\n\n1. d4 *", "e4 e5 / White=Alder; d4 *", `warning 3:1 0 "[ White &quot;Alder&quot;]" value not in quotes`},
		{"1. e4 e5\n\n[White &#34;Alder&#34;]\n1. d4 *", "e4 e5 / White=Alder; d4 *", `warning 3:1 0 "[White &#34;Alder&#34;]" value not in quotes`},
		{"1. e4 e5\n[White „Alder”]\n1. d4 *", "e4 e5 / White=Alder; d4 *", `warning 2:1 0 "[White „Alder”]" value not in quotes`},
		{"[whiteELO \"2\"]\n[eco \"C42\"]\n[utcdate \"2026.11.02\"]\n[xY \"z\"]\n\n1. e4 *", "WhiteElo=2; ECO=C42; UTCDate=2026.11.02; xY=z; e4 *", ""},
		{"[White \"A \"B\" C\" ]\n\n1. e4 *", `White=A "B" C; e4 *`, `warning 1:1 0 "[White \"A \"B\" C\" ]" quote inside the value not escaped`},
		{"1. e4 e5\n[ \tWhite\t\"B\"]\n1. d4 *", "e4 e5 / White=B; d4 *", ""},
		{"1. e4 e5\n[White &quot;B&quot;]\n1. d4 *", "e4 e5 / White=B; d4 *", `warning 2:1 0 "[White &quot;B&quot;]" value not in quotes`},
		{"1. e4 e5\n[White «B»]\n1. d4 *", "e4 e5 / White=B; d4 *", `warning 2:1 0 "[White «B»]" value not in quotes`},
		{"[WhiteELO \"2\"]\n\n1. e4 *", "WhiteElo=2; e4 *", ""},
		{"[White \"A]\n\n1. e4 *\n\n[White \"B\"]\n\n1. d4 *", "White=A; e4 * / White=B; d4 *", `warning 1:1 0 "[White \"A]" quote not closed`},
	})
}

// Numbers, results in variations, signs of web pages.
func TestWhatIsReadOfNumbers(t *testing.T) {
	checkReadings(t, []reading{
		{"1. e4,e5 ,, 2. Nf3 *", "e4 e5 Nf3 *", ""},
		{"1. e4 e5 2... 3 .. Nf3 …… Nc6 4.… a6 *", "e4 e5 Nf3 Nc6 a6 *", ""},
		{"1. e4 12-0 e5 *", "e4 e5 *", `warning 1:9 1 "-0" stray: -0`},
		{"1. e4 (1. d4 1 - 0) (1. c4 0 -1) e5 *", "e4 (d4) (c4) e5 *", `warning 1:30 1 "-1" stray: -1`},
		{"1. ０-０ e5 2. ５ *", "0-0 e5 *", `warning 1:14 2 "５" stray: ５`},
		{"1. e4 1:00 e5 0:000 *", "e4 e5 *", ""},
		{"1. e4 00 000 0000 *", "e4 O-O O-O-O 0000 *", `warning 1:14 4 "0000" null move in the main line: a lesson, not a game`},
		{"1. e4 &nbsp; e5 & 2. Nf3 &x Nc6 *", "e4 e5 Nf3 Nc6 *", `warning 1:17 2 "&" stray: &, warning 1:26 3 "&x" stray: &x`},
		{"1. e4 <br> e5 <br *", "e4 e5 *", `warning 1:16 2 "br" stray: br`},
		{"1. e4 (=) e5 (= ) *", "e4 e5 *", `warning 1:15 1 "=" annotation sign before any move, passed over`},
		{"1. e4 [ 1. d4 d5] e5 [1 x] 2. Nf3 [1... c5] *", "e4 (d4 d5) e5 Nf3 (c5) *", `warning 1:22 2 "[1 x]" stray: [1 x]`},
		{"1. e4 $255 $256 $ x *", "e4 $255 *", `warning 1:12 1 "$256 $ x" stray: $256 $ x`},
		{"1. e4 *** e5 *", "e4 e5 *", ""},
		{"1. e4 c5 \u00a02.\u00a0Nf3 *", "e4 c5 Nf3 *", ""},
		{"1. e4 (1. d4\nd5) e5 *", "e4 (d4 d5) e5 *", ""},
	})
}
