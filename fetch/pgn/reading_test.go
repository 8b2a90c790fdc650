package pgn

import (
	"bytes"
	"fmt"
	"slices"
	"strings"
	"testing"
)

// readWhole writes what is read of a text: of each game its tags, its tree and its result;
// and what is told of it.
func readWhole(t *testing.T, text string) (read, told string) {
	t.Helper()
	games, r := readAll(t, text, Options{Variations: true})
	var all, tales []string
	for _, g := range games {
		var b bytes.Buffer
		for _, tag := range g.tags {
			fmt.Fprintf(&b, "%s=%s; ", tag.Name, tag.Value)
		}
		dumpLine(&b, g.Tree)
		all = append(all, strings.TrimSpace(b.String()+" "+g.Termination))
		for _, p := range g.Problems {
			if p.Kind != NoTermination {
				tales = append(tales, fmt.Sprintf("%s %d:%d %d %q %s", p.Severity, p.Line, p.Column, p.Ply, p.Token, p.Message))
			}
		}
	}
	for _, p := range r.Problems() {
		tales = append(tales, fmt.Sprintf("outside: %s %d:%d %q %s", p.Severity, p.Line, p.Column, p.Token, p.Message))
	}
	return strings.Join(all, " / "), strings.Join(tales, ", ")
}

const stray = "text that is no move, passed over: "

// reading is what is to be read of a text, as readWhole writes it; 'stray: ' stands for the
// message of stray text.
type reading struct{ text, want, told string }

func checkReadings(t *testing.T, all []reading) {
	t.Helper()
	for _, c := range all {
		read, told := readWhole(t, c.text)
		if read != c.want {
			t.Errorf("%q is read\n%s, want\n%s", c.text, read, c.want)
		}
		checkFlat(t, c.text)
		if want := strings.ReplaceAll(c.told, "stray: ", stray); told != want {
			t.Errorf("%q told\n%s, want\n%s", c.text, told, want)
		}
	}
}

// checkFlat compares the main line that is read without variations with that of the tree:
// moves, their places, the comments on them, and the problems.
func checkFlat(t *testing.T, text string) {
	t.Helper()
	flat, _ := readAll(t, text, Options{})
	games, _ := readAll(t, text, Options{Variations: true})
	if len(flat) != len(games) {
		t.Fatalf("%q: %d games without variations, %d with them", text, len(flat), len(games))
	}
	for i, g := range games {
		if slices.ContainsFunc(flat[i].Problems, func(p Problem) bool { return p.Kind == ForeignLetters || p.Kind == StrayOpen }) {
			continue // these take a look at the tree, or at all games
		}
		if strings.Contains(text, "({c})") || slices.ContainsFunc(g.Problems, func(p Problem) bool { return p.Kind == Label }) {
			continue // the comments of a variation without moves, and labels, are for trees alone
		}
		var want, got []string
		for _, n := range g.Tree.Moves {
			want = append(want, fmt.Sprintf("%s %d:%d %q", n.SAN, n.Line, n.Column, n.Comments))
		}
		for _, m := range flat[i].Moves {
			got = append(got, fmt.Sprintf("%s %d:%d %q", m.SAN, m.Line, m.Column, noteComments(m.Note)))
		}
		for _, p := range g.Problems {
			want = append(want, p.String())
		}
		for _, p := range flat[i].Problems {
			got = append(got, p.String())
		}
		if !slices.Equal(got, want) {
			t.Errorf("%q: without variations\n%s, with them\n%s", text, got, want)
		}
	}
}

// What is read of texts as people and programs write them, each oddity beside what it is
// not; and what is told of it.
func TestWhatIsRead(t *testing.T) {
	checkReadings(t, []reading{
		// Tags.
		{"[White \"A\"]\n[Black  \"B\" ]\n[ Round\t\"1\"]\n\n1. e4 *", "White=A; Black=B; Round=1; e4 *", ""},
		{"[White \"A \\\"B\\\" \\\\C\"]\n\n1. e4 *", "White=A \"B\" \\C; e4 *", ""},
		{"[White \"A \"B\" C\"]\n\n1. e4 *", "White=A \"B\" C; e4 *", `warning 1:1 0 "[White \"A \"B\" C\"]" quote inside the value not escaped`},
		{"[White \"A\\\"]\n[Black \"B\"]\n\n1. e4 *", "White=A\\; Black=B; e4 *", `warning 1:1 0 "[White \"A\\\"]" backslash before the closing quote`},
		{"[Event \"A\nB\"]\n[Black \"C\"]\n\n1. e4 *", "Event=A B; Black=C; e4 *", `warning 1:1 0 "[Event \"A" value over two lines`},
		{"[White \"A]\n[Black \"B\"]\n\n1. e4 *", "White=A; Black=B; e4 *", `warning 1:1 0 "[White \"A]" quote not closed`},
		{"[White \"A\"\n[Black \"B\"]\n\n1. e4 *", "White=A; Black=B; e4 *", `warning 1:1 0 "[White \"A\"" bracket not closed`},
		{"[Event Club evening]\n[Black 'B']\n[Round: \"3\"]\n\n1. e4 *", "Event=Club evening; Black=B; Round=3; e4 *",
			`warning 1:1 0 "[Event Club evening]" value not in quotes, warning 2:1 0 "[Black 'B']" value not in quotes, warning 3:1 0 "[Round: \"3\"]" value not in quotes`},
		{"[White &quot;A&quot;]\n[Black “B”]\n\n1. e4 *", "White=A; Black=B; e4 *", `warning 1:1 0 "[White &quot;A&quot;]" value not in quotes, warning 2:1 0 "[Black “B”]" value not in quotes`},
		{"[white \"A\"]\n[BLACKELO \"1800\"]\n[Whatever \"x\"]\n\n1. e4 *", "White=A; BlackElo=1800; Whatever=x; e4 *", ""},
		{"[White \"A\"] [Black \"B\"] 1. e4 *", "White=A; Black=B; e4 *", ""},
		{"[White \"A \\B \\\\\"]\n\n1. e4 *", "White=A \\B \\; e4 *", ""},
		{"[ White \"A\"]\n[Black_2-x \"B\"]\n\n1. e4 *", "White=A; Black_2-x=B; e4 *", ""},
		{"[White \"A\"]\n{between}\n[Black \"B\"]\n; a line\n\n1. e4 *", "White=A; Black=B; \"between\" \"a line\" e4 *", ""},
		// Numbers, glued and apart.
		{"1.e4e5 2.Nf3Nc6 3...Bb5 4 . a6 *", "e4e5 Nf3 Nc6 Bb5 a6 *", ""},
		{"1: e4 e5 2) Nf3 … Nc6 3.... Bb5 *", "e4 e5 Nf3 Nc6 Bb5 *", ""},
		{"1. e4, e5, 2. Nf3,Nc6; and so on\n3. Bb5.*", "e4 e5 Nf3 Nc6 \"and so on\" Bb5 *", ""},
		// Glyphs.
		{"1. e4! e5? 2. Nf3!! Nc6?? 3. Bb5!? a6?! $10 $255 *", "e4 $1 e5 $2 Nf3 $3 Nc6 $4 Bb5 $5 a6 $6 $10 $255 *", ""},
		{"1. e4 $256 e5 $ Nf3 $0 *", "e4 e5 Nf3 $0 *", `warning 1:7 1 "$256" ` + stray + `$256, warning 1:15 2 "$" ` + stray + "$"},
		{"1. e4 = e5 += 2. Nf3 ± Nc6 ∓ 3. Bb5+- a6 -+ 4. Ba4+/- Nf6 -/+ 5. O-O+/= Be7 =/+ 6. Re1 ∞ *",
			"e4 $10 e5 $14 Nf3 $16 Nc6 $17 Bb5 $18 a6 $19 Ba4 $16 Nf6 $17 O-O $14 Be7 $15 Re1 $13 *", ""},
		{"1. e4 !? e5 !!! 2. Nf3 -- Nc6 +- *", "e4 $5 e5 $3 Nf3 -- Nc6 $18 *", `warning 1:24 4 "--" null move in the main line: a lesson, not a game`},
		{"1. e4 +x e5 ~ 2. Nf3 @ *", "e4 e5 Nf3 *", `warning 1:8 1 "x" ` + stray + `x, warning 1:13 2 "~" ` + stray + `~, warning 1:22 3 "@" ` + stray + "@"},
		{"1. e4+ e5# 2. Nf3 + Nc6 # 3. Bb5++ *", "e4+ e5# Nf3 Nc6 Bb5++ *", ""},
		// Comments.
		{"{first} 1. e4 {a  b\n\tc} {} {d} e5 ; to the end 2. d4\n2. Nf3 {[%clk 0:01:00] x} *", `"first" e4 "a b c" "d" e5 "to the end 2. d4" Nf3 "[%clk 0:01:00] x" *`, ""},
		{"1. e4 {open\n\n[White \"B\"]\n\n1. d4 *", "e4 \"open\" / White=B; d4 *", `error 1:7 1 "{open" comment not closed; the rest of the game is taken for its text`},
		{"% passed over\n1. e4\n% this, too\ne5 % 2. d4 *", "e4 e5 d4 *", `warning 4:4 2 "%" ` + stray + "%"},
		{"1. e4 {see\n[White \"B\"]\n{x} more} e5 {no\n\n[end\n\n[Round 2] {y} z} 2. Nf3 *", "e4 \"see [White \\\"B\\\"] {x} more\" e5 \"no [end [Round 2] {y} z\" Nf3 *", ""}, // tags quoted, games not
		{"1. e4 {so\n\n[White \"B\"]\n\n1. d4 d5 1-0 } e5 ; [White \"C\"] 1. c4 *\n2. Nf3 *", "e4 \"so [White \\\"B\\\"] 1. d4 d5 1-0\" e5 \"[White \\\"C\\\"] 1. c4 *\" Nf3 *", ""},
		{"1. e4 {a ; b\n} e5 {c (} 2. Nf3 ; d } x\n Nc6 *", "e4 \"a ; b\" e5 \"c (\" Nf3 \"d } x\" Nc6 *", ""},
		// Variations.
		{"1. e4 ({so} 1. d4 {x} d5 (1... f5)) (1. c4) 1... e5 *", `e4 ("so" d4 "x" d5 (f5)) (c4) e5 *`, ""},
		{"1. e4 (1. d4 *) (1. c4 c5 1-0) e5 1-0", "e4 (d4) (c4 c5) e5 1-0", ""},
		{"1. e4 [1. d4 d5] e5 [text 1] () *", "e4 (d4 d5) e5 *", `warning 1:21 2 "[text 1]" ` + stray + "[text 1]"},
		{"1. e4 (1. d4; 1. c4 c5; 1. b3) e5; the end (\n*", "e4 (d4 c4 c5 b3) e5 \"the end (\" *", ""},
		// A semicolon between alternatives, and before a comment that quotes a game.
		{"1. e4 (1. d4 ; 1. c4 c5 1-0\nd5) e5 *", "e4 (d4 \"1. c4 c5 1-0\" d5) e5 *", ""},
		{"1. e4 (1. d4 ; see 1. c4 c5\nd5 ; 1. f4 is odd\nf5) e5 ; 1. d4 d5 1-0\n*", "e4 (d4 \"see 1. c4 c5\" d5 \"1. f4 is odd\" f5) e5 \"1. d4 d5 1-0\" *", ""},
		{"1. e4 (1. d4 (1. c4; 1. b3) d5; 1. f4) 1-0", "e4 (d4 (c4 b3) d5 f4) 1-0", ""},
		// The first move in brackets is one, a variation of it stands before it.
		{"(1. e4) 1... e5 2. Nf3 *", "e4 e5 Nf3 *", `warning 1:1 0 "(" variation before any move; its parentheses are passed over`},
		{"(1. e4 e5) 2. Nf3 Nc6 (2... d6) *", "e4 e5 Nf3 Nc6 (d6) *", `warning 1:1 0 "(" variation before any move; its parentheses are passed over`},
		{"(1. d4 d5) (1. c4) 1. e4 e5 (2. d4) 2. Nf3 *", "e4 (d4 d5) (c4) e5 (d4) Nf3 *", ""},
		{"1. e4 (1... c5 2. c3) 1... e5 *", "e4 (c5 c3) e5 *", ""},
		{"1. e4 (1. d4 1/2-1/2) (1. c4 ½-½) e5 *", "e4 (d4) (c4) e5 *", ""},
		{"1. e4 ) e5 *", "e4 e5 *", `warning 1:7 1 ")" closing parenthesis without an open one, passed over`},
		{"( 1. e4 ) e5 *", "e4 e5 *", `warning 1:1 0 "(" variation before any move; its parentheses are passed over`},
		{"1. e4 (1. d4 d5 (1... f5 *", "e4 (d4 d5 (f5)) *", `warning 1:7 3 "(" variation not closed; it ends with the game`},
		// Moves in odd forms.
		{"1. Ng1-f3 d7d5 2. e2xd3 0-0 3. o-o-o O-O-O+ 4. 00 000 *", "Ng1-f3 d7d5 e2xd3 0-0 o-o-o O-O-O+ O-O O-O-O *", ""},
		{"1. e8=Q e8(N) 2. e8/R e8q 3. e8 = B exd6 e.p. 4. exd6ep *", "e8=Q e8=N e8/R e8q e8=B exd6 exd6 *", ""},
		{"1. e4:d5 Qd8:d5+ 2. Nb1:c3 N:f3! 3. e4: Nf3: 4. b:c8=Q ed5: *", "e4:d5 Qd8:d5+ Nb1:c3 N:f3 $1 e4: Nf3: b:c8=Q ed5: *", ""},
		{"1. ed de: 2. e:d+ cd:+ 3. exd fe+ 4. ab:! f:e# ah *", "ed de: e:d+ cd:+ exd fe+ ab: $1 f:e# *", `warning 1:48 8 "ah" ` + stray + "ah"},
		{"1. O\u00ADO+ O\u00ADO\u00ADO#! 2. O\u00ADO+- O\u200BO\u200BO+ *", "O-O O-O-O $1 O-O $18 O-O-O *", ""},
		{"1. O\u00ADO O\u00ADO\u00ADO 2. O–O–O 0—0 3. O-O-O+! 0-0-0+- 4. O-O?! o-o= *", "O-O O-O-O O-O-O 0-0 O-O-O+ $1 0-0-0 $18 O-O $6 o-o $10 *", ""},
		{"1. -- Z0 2. 0000 null *", "-- Z0 0000 *", `warning 1:4 1 "--" null move in the main line: a lesson, not a game, warning 1:18 3 "null" ` + stray + "null"},
		{"1. ♘f3 ♞c6 2. e4–e5 *", "Nf3 Nc6 e4-e5 *", ""},
		{"1. e4 hello, world 2 e5 *", "e4 e5 *", `warning 1:7 1 "hello, world" ` + stray + "hello, world"},
		{"1. e4 (=) e5 <ref 1-0> 2. Nf3 < Nc6 > &amp; Bb5 ** *", "e4 e5 Nf3 Bb5 *", ""},
		// Results.
		{"1. e4 1-0 1. d4 0-1 1. c4 1/2-1/2 1. Nf3 *", "e4 1-0 / d4 0-1 / c4 1/2-1/2 / Nf3 *", ""},
		{"1. e4 ½-½\n1. d4 1:0\n1. c4 1 - 0\n1. Nf3 1/2\n1. b3 0–1", "e4 1/2-1/2 / d4 1-0 / c4 1-0 / Nf3 1/2-1/2 / b3 0-1", ""},
		{"[Result \"1-0\"]\n\n1. e4 0-1", "Result=1-0; e4 0-1", `warning 3:7 1 "0-1" result 1-0 in the tag, 0-1 at the end`},
		{"[Result \"*\"]\n\n1. e4 0-1", "Result=*; e4 0-1", `note 3:7 1 "0-1" result * in the tag, 0-1 at the end`},
		{"[Result \"won\"]\n\n1. e4 0-1", "Result=won; e4 0-1", `note 1:1 0 "[Result \"won\"]" Result tag holds "won"`},
		// Between the games.
		{"hello there\n\n[White \"A\"]\n\n1. e4 *\nbye 1. d4 *", "White=A; e4 * / d4 *", `note 6:1 0 "bye" label of a line, passed over: bye, outside: warning 1:1 "hello there" text outside of any game, passed over`},
		{"1.e4 c5\n1.d4 d5\n  2.c4", "e4 c5 / d4 d5 c4", ""},
		{"[SetUp \"1\"]\n\n1. e4 *", "SetUp=1; e4 *", `warning 1:1 0 "" SetUp tag says 1, but there is no FEN tag`},
		{"[White \"A\"]\n[White \"B\"]\n\n*", "White=A; White=B;  *", `warning 2:1 0 "[White \"B\"]" tag White given twice; the last value counts`},
		// Another language.
		{"1. Sf3 Sc6 2. Lb5 *", "Sf3 Sc6 Lb5 *", ""},
	})
}
