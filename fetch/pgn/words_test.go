package pgn

import "testing"

// Moves as people write them: what stands behind one, what is glued to it, what is apart.
func TestWhatIsReadOfWords(t *testing.T) {
	checkReadings(t, []reading{
		{"1. e8 : Q e5 2. N f3! O\n-O *", "e8=Q e5 Nf3 $1 O-O *", ""},
		{"[White \"A\"]\n\ned 1. e4 *", "White=A; e4 *", `note 3:1 0 "ed" label of a line, passed over: ed`},
		{"1. ah e5 2. hi e4 *", "e5 e4 *", `warning 1:4 0 "ah" stray: ah, warning 1:13 1 "hi" stray: hi`},
		{"1. e4 (1. d4 d5 [1... f5]) e5 *", "e4 (d4 d5 (f5)) e5 *", ""},
		{"1. O-O+e5 2. Nf3+e5 Bb5+e.p.2.c4 *", "O-O+ e5 Nf3+ e5 Bb5+ c4 *", ""},
		{"1. e4 f6 2. Qh5+ch2...g6 3. Bb5+ep4. c4 (4. Qh5+mate1-0) *", "e4 f6 Qh5+ g6 Bb5+ c4 (Qh5+) *", ""},
		{"1. RxN BxN *", "RxN BxN *", ""},
		{"1. d4–d5/e.p. Nf3 *", "d4-d5 Nf3 *", ""},
		{"1. e42.Nf3 h412.Nc3 *", "e4 Nf3 h4 Nc3 *", ""},
		{"1. e8 Qd4 2. e8 (Q a6 *", "e8 Qd4 e8=Q a6 *", ""},
		{"1. e8 (Qd4 d5) e5 *", "e8 (Qd4 d5) e5 *", ""},
		{"1. Nd8 Q e8 Q+ 2. d8 (R]# i8 Q *", "Nd8 Qe8 d8=R *", `warning 1:13 2 "Q+" stray: Q+, warning 1:27 3 "i8 Q" stray: i8 Q`},
		{"1. axb8 q bxa1(n)+ *", "axb8=Q bxa1=N *", ""},
		{"1. exd6 e.p. exd3ep 2. exd6/e.p. exd3e.p.+ *", "exd6 exd3 exd6 exd3 *", ""},
		{"1. exd6+e.p. exd3 e.p 2. exd6e cxb3 e. p. *", "exd6+ exd3 exd6 cxb3 *", ""},
		{"1. exd6 ep. exd3 mate 2. Qh7ch Qh2mat+ *", "exd6 exd3 Qh7 Qh2 *", ""},
		{"1. exd6/e.p.! exd3 E.P. 2. Nf3 Mate Nc6 CH Nf3 e *", "exd6 $1 exd3 Nf3 Nc6 Nf3 *", `warning 1:22 2 "P." stray: P., warning 1:48 5 "e" stray: e`},
		{"1. exd6 epx exd3 matey *", "exd6 exd3 *", `warning 1:9 1 "epx" stray: epx, warning 1:18 2 "matey" stray: matey`},
		{"1. a6N Nb8N 2. a8N Nb1N b8=N *", "a6 $146 Nb8 $146 a8N Nb1 $146 b8=N *", ""},
		{"1. e4 N Nf6 TN 2. d4 NT e5 *", "e4 $146 Nf6 $146 d4 e5 *", `warning 1:22 3 "NT" stray: NT`},
		{"1. e4 N\nf6 2. N f3 Nc6 *", "e4 $146 f6 Nf3 Nc6 *", ""},
		{"1. N\nf3 x e5 2. B b5 a6 3. N Nf3 *", "Nf3 e5 Bb5 a6 $146 Nf3 *", `warning 2:4 1 "x" stray: x`},
		{"1. d4 x N f3 Q d5 *", "d4 $146 f3 Qd5 *", `warning 1:7 1 "x" stray: x`},
		{"1. Nf3+Nc6 Qh4#0-1", "Nf3+ Nc6 Qh4# 0-1", ""},
		{"1. Nf3+1-0", "Nf3+ 1-0", ""},
		{"1. Qa10-1", "Qa1 0-1", ""},
		{"1. Qh81-0", "Qh8 1-0", ""},
		{"1. Qh81/2-1/2", "Qh8 1/2-1/2", ""},
		{"1. Nf3Nc6 Nxd5Qxd5 R1d1R8d8 a8Q b1N e4e5 *", "Nf3 Nc6 Nxd5 Qxd5 R1d1 R8d8 a8Q b1N e4e5 *", ""},
		{"1. e4Nf6 a1R3 *", "e4 Nf6 a1R3 *", ""},
		{"1. e4 (1. d4) ed {c} de cd *", `e4 (d4) ed "c" *`, `warning 1:22 2 "de cd" stray: de cd`},
		{"1. e4 e5 Rxx7 2. Rxx Raa Nab a:: *", "e4 e5 Rxx7 Rxx *", `warning 1:22 4 "Raa Nab a::" stray: Raa Nab a::`},
		{"1. Rdxe5 Nbxd7+ Qa1xb2xc3d4# *", "Rdxe5 Nbxd7+ Qa1xb2xc3d4# *", ""},
		{"1. Qa1xb2xc3d4 *", "Qa1xb2xc3d4 *", ""},
		{"1. nf3 qd4 2. rd1 kf8 bb5 pe4 *", "nf3 qd4 rd1 kf8 bb5 *", `warning 1:27 5 "pe4" stray: pe4`},
		{"1. a21- b30: c1- *", "c1- *", `warning 1:4 0 "a21- b30:" stray: a21- b30:`},
		{"1. e4-5 e4/5 e4:5 d5 *", "d5 *", `warning 1:4 0 "e4-5 e4/5 e4:5" stray: e4-5 e4/5 e4:5`},
		{"1. O - O o - o O -\nO - O x e5 *", "O-O O-O-O e5 *", `warning 1:10 1 "o - o" stray: o - o, warning 2:7 2 "x" stray: x`},
		{"1. O-O-O-O 0-0-0-0 0-o O-0 *", "O-O-O 0-0-0 *", `warning 1:9 1 "-O" stray: -O, warning 1:17 2 "-0 0-o O-0" stray: -0 0-o O-0`},
		{"1. O-O+ O-O-O# 2. O-O+-! O-Ox 3. O-O+Nf3 O-ONf3 *", "O-O+ O-O-O# O-O $18 $1 O-O+ Nf3 O-O Nf3 *", `warning 1:26 3 "O-Ox" stray: O-Ox`},
		{"1. OOO+! OO# 2. OOOO OON *", "O-O-O $1 O-O *", `warning 1:17 2 "OOOO OON" stray: OOOO OON`},
		{"1. O - O5 O - Ox *", "", `outside: warning 1:1 "1. O - O5 O - Ox *" text outside of any game, passed over`},
		{"1. ♔e2 ♕d1 2. ♖d1 ♗d1 ♘d2 ♙d4 ♚e2 ♛d1 ♜d1 ♝d1 ♞d2 ♟d4 *", "Ke2 Qd1 Rd1 Bd1 Nd2 Pd4 Ke2 Qd1 Rd1 Bd1 Nd2 Pd4 *", ""},
		{"1. Крe2 Фd4 2. Лd1 Сb5 Кf3 *", "Ke2 Qd4 Rd1 Bb5 Nf3 *", ""},
		{"1. ×d5 N×d5† Q×f7‡ *", "Nxd5+ Qxf7# *", `warning 1:4 0 "×d5" stray: ×d5`},
		{"1. Ｎｆ３ ｅ５ 2. ｅ４～ *", "Nf3 e5 e4 *", `warning 1:16 3 "～" stray: ～`},
		{"1. N\u00ADf3\u200B e\u2060d: 2. ♘\uFE0Ef3 ♘ f6 *", "Nf3 ed: Nf3 Nf6 *", ""},
		{"1. d4–d5e.p. Nf3 ♘f3Nc6 *", "d4-d5 Nf3 Nf3 Nc6 *", ""},
		{"1. e8 Q e1 = (N) 2. a8:R b8[B] h1/q *", "e8=Q e1=N a8:R b8=B h1/q *", ""},
		{"1. ♘f3 e.p. Qf6=+! 2. Bxf e5 3. Nge d5 4. Bx- *", "Nf3 Qf6 $15 $1 Bxf e5 Nge d5 *", `warning 1:43 6 "Bx-" stray: Bx-`},
	})
}

// Labels of lines in a repertoire typed by hand, and what is none.
func TestWhatIsReadOfLabels(t *testing.T) {
	checkReadings(t, []reading{
		{"a) 1. e4 e5 *", "e4 e5 *", `note 1:1 0 "a)" label of a line, passed over: a)`},
		{"1. e4 e5\na) 2. Nf3 Nc6 *", "e4 e5 Nf3 Nc6 *", `note 2:1 2 "a)" label of a line, passed over: a)`},
		{"1. e4 e5 a ) 2. Nf3 *", "e4 e5 Nf3 *", `warning 1:10 2 "a" stray: a, warning 1:12 2 ")" closing parenthesis without an open one, passed over`},
		{"1. e4 e5\nwith c3: 2. c3 d5 *", "e4 e5 c3 d5 *", `note 2:1 2 "with c3:" label of a line, passed over: with c3:`},
		{"1. e4 e5\nwith c3 : 2. c3 d5 *", "e4 e5 c3 c3 d5 *", `warning 2:1 2 "with" stray: with, warning 2:9 3 ":" stray: :`},
		{"1. e4 e5\nwith 2. c3: 2... d5 *", "e4 e5 c3: d5 *", `note 2:1 2 "with" label of a line, passed over: with`},
		{"1. e4 e5\nb4) 2. b4 *", "e4 e5 b4 *", `note 2:1 2 "b4)" label of a line, passed over: b4)`},
		{"1. e4 e5 b4) 2. Nf3 *", "e4 e5 b4 Nf3 *", `warning 1:12 3 ")" closing parenthesis without an open one, passed over`},
		{"1. e4 e5\nMain line 2. Nf3 *", "e4 e5 Nf3 *", `note 2:1 2 "Main line" label of a line, passed over: Main line`},
		{"1. e4 e5\nMain line Nf3 *", "e4 e5 Nf3 *", `warning 2:1 2 "Main line" stray: Main line`},
		{"1. e4 e5 Main line 2. Nf3 *", "e4 e5 Nf3 *", `warning 1:10 2 "Main line" stray: Main line`},
		{"1. e4 e5\n** Main line ** 2. Nf3 *", "e4 e5 Nf3 *", `note 2:4 2 "Main line" label of a line, passed over: Main line`},
		{"1. e4 e5\n# - _Main line_ 2. Nf3 x *", "e4 e5 Nf3 *", `note 2:3 2 "- _Main line_" label of a line, passed over: - _Main line_, warning 2:24 3 "x" stray: x`},
		{"1. e4 e5\nMain line of all that there is and that there was a long year ago 2. Nf3 *", "e4 e5 Nf3 *", `warning 2:1 2 "Main line of all that there is and that …" stray: Main line of all that there is and that …`},
		{"1. e4 e5\nMain line of all that there is and was for a long long years 2. Nf3 *", "e4 e5 Nf3 *", `note 2:1 2 "Main line of all that there is and was f…" label of a line, passed over: Main line of all that there is and was f…`},
		{"1. e4 e5\nMain line of all that there is and was for a long long decade 2. Nf3 *", "e4 e5 Nf3 *", `warning 2:1 2 "Main line of all that there is and was f…" stray: Main line of all that there is and was f…`},
	})
}

// Halves of points, zeros for castling, brackets and semicolons in variations.
func TestWhatIsReadOfVariations(t *testing.T) {
	checkReadings(t, []reading{
		{"1. e4 e5 (1... c5 0.5-0.5) 2. Nf3 (2. c4 0,5 : 0,5) 0.5-0.5", "e4 e5 (c5) Nf3 (c4) 1/2-1/2", ""},
		{"1. e4 (1. d4 0.5) e5 *", "e4 (d4) e5 *", ""},
		{"1. e4 0\u00AD0 2. 0\u00AD0\u00AD0+ 0\u200B0= *", "e4 O-O O-O-O O-O $10 *", ""},
		{"1. e4 [see 2. Nf3] e5 *", "e4 e5 *", `warning 1:7 1 "[see 2. Nf3]" stray: [see 2. Nf3]`},
		{"1. e4 (1. d4 ; 1. f4 (1. b3) f5 1-0\nd5) e5 *", `e4 (d4 "1. f4 (1. b3) f5 1-0" d5) e5 *`, ""},
		{"1. e4 (1. d4 ; 12\nd5) e5 *", `e4 (d4 "12" d5) e5 *`, ""},
		{"(d4 d5) 1. e4 *", "d4 d5 e4 *", `warning 1:1 0 "(" variation before any move; its parentheses are passed over`},
		{"1. e4 e5\nwith O-O: 2. O-O *", "e4 e5 O-O *", `note 2:1 2 "with O-O:" label of a line, passed over: with O-O:`},
		{"1. e4 (1. d4; 1. c4; see the book\nd5) e5 *", `e4 (d4 c4 "see the book" d5) e5 *`, ""},
	})
}
