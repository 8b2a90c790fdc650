package pgn

import (
	"bytes"
	"fmt"
	"slices"
	"strings"
	"testing"
	"testing/iotest"
	"unicode/utf16"
)

// flat reads a text's games without variations: their moves, and what is told of letters and
// encodings.
func flat(t *testing.T, text string) string {
	t.Helper()
	games, r := readAll(t, text, Options{})
	var out []string
	for _, g := range games {
		var moves []string
		for _, m := range g.Moves {
			moves = append(moves, string(m.SAN))
		}
		for _, p := range g.Problems {
			if p.Kind != NoTermination {
				moves = append(moves, fmt.Sprintf("(%s %d:%d %q %s; %s)", p.Severity, p.Line, p.Column, p.Token, p.Message, p.Hint))
			}
		}
		out = append(out, strings.Join(moves, " "))
	}
	for _, p := range r.Problems() {
		out = append(out, fmt.Sprintf("%s %d:%d %s; %s", p.Severity, p.Line, p.Column, p.Message, p.Hint))
	}
	return strings.Join(out, " / ")
}

// The letters of a game are read in the first language that has them all: each language by
// letters that no other before it has.
func TestLettersOfLanguages(t *testing.T) {
	for name, letters := range map[string]string{
		"German": "SLTDK", "French": "CFTDR", "Spanish or Italian": "CATDR", "Dutch": "PLTDK", "Polish": "SGWHK", "Portuguese": "CBTDR", "Czech": "JSVDK", "Hungarian": "HFBVK",
		"Finnish": "RLTDK", "Romanian": "CNTDR", "Icelandic": "RBHDK", "Estonian": "ROVLK",
	} {
		l := strings.Split(letters, "")
		text := fmt.Sprintf("1. e4 e5 2. %sf3 %sb4 3. %sa3 %sh4 4. %se2 a1=%s+ 5. O-O *", l[0], l[1], l[2], l[3], l[4], l[3])
		var k int // the first letter that is none of ours
		for k = 0; strings.Contains(english, l[k]); k++ {
		}
		first := []string{l[0] + "f3", l[1] + "b4", l[2] + "a3", l[3] + "h4", l[4] + "e2"}[k]
		want := fmt.Sprintf("e4 e5 Nf3 Bb4 Ra3 Qh4 Ke2 a1=Q+ O-O (warning 1:%d %q piece letters read as %s: %s for NBRQK; in PGN they are NBRQK)", strings.Index(text, first)+1, first, name, letters)
		if got := flat(t, text); got != want {
			t.Errorf("%s: %s, want\n%s", name, got, want)
		}
	}
	for _, c := range [][2]string{
		{"1. e4 e5 2. Nf3 Nc6 *", "e4 e5 Nf3 Nc6"}, {"1. Pe4 Pe5 2. Nf3 *", "Pe4 Pe5 Nf3"}, {"1. Pe4 Pe5 *", "Pe4 Pe5"},
		{"1. e4 Pf6 2. Nf3 *", "e4 Pf6 Nf3"},                                         // the knights are there already
		{"1. e4 e5 2. Sf3 Cc6 *", "e4 e5 Sf3 Cc6"},                                   // no language has both
		{"1. Pe4 Pe5 2. O-O *", "Pe4 Pe5 O-O"}, {"1. e4 Pf6 2. Rb1 *", "e4 Pf6 Rb1"}, // no language has P and R
		{"1. e4 e5 2. Lxf *", "e4 e5 Lxf"}, // may be a word
		// Labels of lines are those of a repertoire; a game has none.
		{"1. e4 e5\na) 2. Nf3 *", `e4 e5 Nf3 (warning 2:1 "a" text that is no move, passed over: a; put text between { and }) (warning 2:2 ")" closing parenthesis without an open one, passed over; )`},
		{"1. e4 -- 2. Z0 O-O-O *", "e4 -- Z0 O-O-O (warning 1:7 \"--\" null move in the main line: a lesson, not a game; )"},
	} {
		if got := flat(t, c[0]); got != c[1] {
			t.Errorf("%q: %s, want %s", c[0], got, c[1])
		}
	}
}

// Where several languages fit, the first counts: it has the most files. The letter of what
// a pawn becomes is one, however it is set.
func TestFirstLanguageCounts(t *testing.T) {
	const german = "piece letters read as German: SLTDK for NBRQK; in PGN they are NBRQK)"
	for text, want := range map[string]string{
		"1. Td1 Dd2 *": `Rd1 Qd2 (warning 1:4 "Td1" ` + german, "1. e4 a1D *": `e4 a1Q (warning 1:7 "a1D" ` + german,
		"1. e4 a1/D *": `e4 a1/Q (warning 1:7 "a1/D" ` + german, "1. e4 h8=D# *": `e4 h8=Q# (warning 1:7 "h8=D#" ` + german,
		"1. \uff33f3 e5 *": `Nf3 e5 (warning 1:4 "Ｓf3" ` + german,
		"1. Sf3 Z0 *":      `Nf3 Z0 (warning 1:4 "Sf3" ` + german + ` (warning 1:8 "Z0" null move in the main line: a lesson, not a game; )`,
	} {
		if got := flat(t, text); got != want {
			t.Errorf("%q: %s, want %s", text, got, want)
		}
	}
	games, _ := readAll(t, "1. Sf3 *\n\n1. e4 Td8 *", Options{})
	if p := games[1].Problems[0]; p.Line != 3 || p.Column != 7 {
		t.Errorf("letters of the second game told at %d:%d", p.Line, p.Column)
	}
	if p := games[0].Problems[0]; p.Ply != 0 {
		t.Errorf("letters of a whole game told at half-move %d", p.Ply)
	}
	first, _ := readAll(t, "1. e4 e5 (1... Td8) 2. Dd2 *", Options{Variations: true})
	none, _ := readAll(t, "1. e4 *", Options{Variations: true})
	var names []string
	for _, l := range Languages(first[0], none[0]) {
		names = append(names, l.Name)
	}
	if got, want := strings.Join(names, ", "), "German, French, Spanish or Italian, Dutch, Portuguese, Finnish, Romanian"; got != want {
		t.Errorf("%s, want %s", got, want)
	}
	both, _ := readAll(t, "1. e4 (1. Sf3) e5 *", Options{Variations: true})
	if fit := Languages(both[0], first[0]); len(fit) != 1 || fit[0].Name != "German" {
		t.Errorf("%v", fit)
	}
}

// A knight's P is told by the pawns that go without it.
func TestKnightOrPawn(t *testing.T) {
	if got := flat(t, "1. e4 Pf6 2. Pc3 *"); !strings.HasPrefix(got, "e4 Nf6 Nc3 (") {
		t.Errorf("%s", got)
	}
}

// A tree in English letters has all that hung on it, and the other stays as it was.
func TestTreeInEnglishLetters(t *testing.T) {
	games, _ := readAll(t, "{so} 1. Sf3 $1 {a} (1. e4 d8=D+ (1... Tb8) {b}) 1... O-O *", Options{Variations: true})
	before := dumpText(games[0].Tree)
	fit := Languages(games...)
	if len(fit) == 0 || fit[0].Name != "German" {
		t.Fatalf("%v", fit)
	}
	if got, want := dumpText(fit[0].Line(games[0].Tree)), `"so" Nf3 $1 "a" (e4 d8=Q+ "b" (Rb8)) O-O`; got != want {
		t.Errorf("%s, want %s", got, want)
	}
	if after := dumpText(games[0].Tree); after != before {
		t.Errorf("%s, was %s", after, before)
	}
	p, found := fit[0].Foreign(games[0])
	if !found || p.Token != "Sf3" || p.Line != 1 || p.Column != 9 || p.Message != "piece letters read as German: SLTDK for NBRQK" || p.Kind != ForeignLetters || p.Severity != Warning || p.Hint != "in PGN they are NBRQK" {
		t.Errorf("%v %+v", found, p)
	}
	king, _ := readAll(t, "1. e4 Re7 2. Cf3 *", Options{Variations: true}) // in French
	if p, _ := languages[1].Foreign(king[0]); p.Token != "Re7" || p.Column != 7 {
		t.Errorf("%+v", p)
	}
	none, _ := readAll(t, "1. e4 O-O *", Options{Variations: true})
	if _, found := fit[0].Foreign(none[0]); found || Languages(none...) != nil || fit[0].Line(nil) != nil {
		t.Error("a game without letters has some")
	}
}

func dumpText(l *Line) string {
	var b bytes.Buffer
	dumpLine(&b, l)
	return b.String()
}

// Lines that are not UTF-8 are Windows-1252; those beside them stay what they are.
func TestOtherEncodings(t *testing.T) {
	wide := func(order int, text string) string {
		var b strings.Builder
		for _, u := range utf16.Encode([]rune(text)) {
			pair := [2]byte{byte(u), byte(u >> 8)}
			b.WriteByte(pair[order])
			b.WriteByte(pair[1-order])
		}
		return b.String()
	}
	text := "[White \"\x8a\x9f \x80 \xe9\xff \x81\"]\n[Black \"Čapek, Ö\"]\n\n1. e4 {\x93x\x94} \xbd-\xbd\n"
	games, _ := readAll(t, text, Options{Variations: true})
	if g := games[0]; len(games) != 1 || g.Tags().Get("White") != "ŠŸ € éÿ \ufffd" || g.Tags().Get("Black") != "Čapek, Ö" || g.Tree.Moves[0].Comments[0] != "“x”" || g.Termination != "1/2-1/2" {
		t.Errorf("%q %s %s", g.tags, dumpText(g.Tree), g.Termination)
	}
	for _, c := range []struct{ name, text string }{
		{"little end first", "\xff\xfe" + wide(0, "[White \"Č♞😀\"]\r\n\r\n1. e4 e5 *\r\n")}, {"big end first", "\xfe\xff" + wide(1, "[White \"Č♞😀\"]\r\n\r\n1. e4 e5 *\r\n")},
	} {
		games, r := readAll(t, c.text, Options{})
		if len(games) != 1 || games[0].Tags().Get("White") != "Č♞😀" || len(games[0].Moves) != 2 || len(r.Problems()) != 1 || r.Problems()[0].Kind != BadEncoding {
			t.Errorf("%s: %d games, %v", c.name, len(games), r.Problems())
		}
	}
	for order, mark := range []string{"\xff\xfe", "\xfe\xff"} {
		for _, before := range []string{"", "x"} { // pairs lie across the pieces that are read
			text := "1. e4  {" + before + strings.Repeat("😀", 5000) + "} e5 *\n"
			for _, mark := range []string{"", mark} {
				games, r := readFrom(t, iotest.OneByteReader(strings.NewReader(mark+wide(order, text))), Options{File: "a.pgn"})
				want := []Problem{{Kind: BadEncoding, Severity: Note, File: "a.pgn", Line: 1, Column: 1, Message: "text is UTF-16, converted", Hint: "save it as UTF-8"}}
				if !slices.Equal(r.Problems(), want) || len(games) != 1 || string(games[0].Text) != strings.TrimSpace(text) {
					t.Errorf("order %d, mark %q: %d games, %+v", order, mark, len(games), r.Problems())
				}
			}
		}
	}
	half := func(unit string) string { return "\xff\xfe" + wide(0, "1. e4 {") + unit }
	for text, want := range map[string]string{half("\x00\xd8") + wide(0, "a} *"): "{\ufffda}", half("\x00\xdca\x00}\x00"): "{\ufffda}", half("a\x00\x00\xd8"): "{a\ufffd", half("a\x00b"): "{a\ufffd"} {
		games, _ := readAll(t, text, Options{})
		if got := string(games[0].Moves[0].Note); got != want {
			t.Errorf("%q: note %q, want %q", text, got, want)
		}
	}
	for _, text := range []string{"\x00\x00\x00\x00\x00\x00\x00\x00", "\xe9\x00\xe9\x00\xe9\x00\xe9\x00"} {
		if _, r := readAll(t, text, Options{}); len(r.Problems()) > 0 && r.Problems()[0].Kind == BadEncoding {
			t.Errorf("%q: %v", text, r.Problems())
		}
	}
	if games, r := readAll(t, "1\x00.\x00e\x00", Options{}); len(games) != 0 || len(r.Problems()) == 0 || r.Problems()[0].Kind != BadEncoding {
		t.Errorf("a short text: %v", r.Problems())
	}
	if p := games[0].Problems; len(p) != 1 || p[0].Kind != BadEncoding || p[0].Severity != Note || p[0].Message != "text is not UTF-8 from here on; read as Windows-1252" || p[0].Line != 1 {
		t.Errorf("%+v", p)
	}
}

// What names a host, and what a place.
func TestNamesOfHosts(t *testing.T) {
	for site, want := range map[string]bool{
		"example.org": true, "my-club.example.org": true, "7.example.org": true, "x.or": true, "x.abcd": true,
		"x.o": false, "x.abcde": false, "St.Olmar": false, "example.Org": false, "example.o1g": false, ".org": false, "ex ample.org": false, "ex_ample.org": false, "Aldbury": false, "": false, "x.o-g": false,
	} {
		if got := namesHost(site); got != want {
			t.Errorf("%q: %v", site, got)
		}
	}
}

// A word stands by itself: no letter next to it, be it beyond ASCII.
func TestWordsByThemselves(t *testing.T) {
	for text, want := range map[string]bool{
		"int": true, "INT": true, "Aldbury INT": true, "(int)": true, "int.": true, "1int2": true, "print": false, "into": false, "éint": false, "inté": false, "in": false, "": false, "print int": true, "in t": false,
	} {
		if got := hasWord(text, "xyz", "int"); got != want {
			t.Errorf("%q: %v", text, got)
		}
	}
}

// Of a move the letter of the piece is exchanged, and that of what a pawn becomes; the move
// itself stays as it was.
func TestExchange(t *testing.T) {
	for san, want := range map[string]string{
		"Sf3": "Nf3", "Tad1+": "Rad1+", "e8=D": "e8=Q", "e8D#": "e8Q#", "axb1S": "axb1N", "e8/L": "e8/B", "SxD": "NxD", "O-O": "O-O", "Z0": "Z0", "--": "--", "e4": "e4", "D": "Q",
	} {
		b := []byte(san)
		if got := string(exchange(b, languages[0].english)); got != want || string(b) != san {
			t.Errorf("%s becomes %s, want %s; it is %s now", san, got, want, b)
		}
	}
}

// A move whose letters were translated is still told as it stands in the text; all others stand
// there as they are.
func TestTokenOfATranslatedMove(t *testing.T) {
	at := func(column int, san string) Node { return Node{SAN: san, Line: 3, Column: column} }
	knight := at(9, "Sf6")
	knight.Variations = []*Line{{Moves: []Node{at(15, "d5"), at(20, "exd8=D")}}}
	from := &Line{Moves: []Node{at(4, "e4"), knight, at(33, "Kc3")}}
	g := &Game{Tree: from}
	languages[0].Translate(g) // German
	(&Language{}).Translate(&Game{})
	var got []string
	g.Tree.each(func(n *Node) { got = append(got, n.SAN+" "+g.Token(n)) })
	if want := "e4 e4, Nf6 Sf6, d5 d5, exd8=Q exd8=D, Kc3 Kc3"; strings.Join(got, ", ") != want {
		t.Errorf("%s, want %s", strings.Join(got, ", "), want)
	}
	if from.Moves[1].SAN != "Sf6" || g.Token(&Node{SAN: "Nf3"}) != "Nf3" {
		t.Errorf("the line itself was changed: %+v", from.Moves[1])
	}
}
