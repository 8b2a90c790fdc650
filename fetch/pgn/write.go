package pgn

import (
	"bytes"
	"fmt"
	"html"
	"io"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"
)

// roster are the seven tags every written game has, in this order (PGN standard
// 8.1.1).
var roster = []string{"Event", "Site", "Date", "Round", "White", "Black", "Result"}

// lineWidth is the longest line written, in characters (PGN standard 8.2.1).
const lineWidth = 79

// Write writes a game in PGN export format: the tree when the game has one, else
// the main line with its notes. Only errors of w come back.
func Write(w io.Writer, g *Game) error {
	line := g.Tree
	if line == nil {
		line = mainLine(g.Moves)
	}
	return WriteLine(w, g.tags, line, g.Termination)
}

// mainLine makes a Line of flat moves.
func mainLine(moves []Move) *Line {
	l := &Line{Moves: make([]Node, len(moves))}
	for i := range moves {
		l.Moves[i].SAN = string(moves[i].SAN)
		l.Moves[i].Comments = noteComments(moves[i].Note)
	}
	return l
}

// noteComments takes a raw note apart into its comments.
func noteComments(note []byte) []string {
	var all []string
	sc := scanner{b: note}
	for t := sc.next(); t.kind != endToken; t = sc.next() {
		if t.kind != commentToken {
			continue
		}
		if c := commentText(note[t.start:t.end]); len(c) > 0 {
			all = append(all, string(c))
		}
	}
	return all
}

// WriteLine writes one game of tags, a line with its variations, comments and
// glyphs, and a result, in PGN export format (standard 8.1, 8.2): the seven tags
// of the roster first, with '?' where they are missing, the others in order of
// name; lines of at most 79 characters; a blank line at the end. Move numbers
// start as the FEN tag says. An empty termination is written as '*'. The caller
// sees to it that moves are SAN.
func WriteLine(w io.Writer, tags Tags, line *Line, termination string) error {
	if termination == "" {
		termination = "*"
	}
	var b bytes.Buffer
	writeTags(&b, tags, termination)
	b.WriteByte('\n')
	p := printer{out: &b}
	ply := firstPly(tagLine(tags.Get("FEN")))
	p.line(line, ply)
	p.word(termination)
	b.WriteString("\n\n")
	_, err := w.Write(b.Bytes())
	return err
}

// writeTags writes the tag section.
func writeTags(b *bytes.Buffer, tags Tags, termination string) {
	for _, name := range roster {
		value := "?"
		switch {
		case tags.Has(name):
			value = tags.Get(name)
		case name == "Date":
			value = "????.??.??"
		case name == "Result":
			value = termination
		}
		writeTag(b, name, value)
	}
	var rest []string
	for _, t := range tags {
		if !slices.Contains(roster, t.Name) && validName(t.Name) {
			rest = append(rest, t.Name)
		}
	}
	slices.Sort(rest)
	for _, name := range slices.Compact(rest) {
		writeTag(b, name, tags.Get(name))
	}
}

func validName(name string) bool {
	for i := range len(name) {
		if !isNameByte(name[i]) {
			return false
		}
	}
	return name != ""
}

func writeTag(b *bytes.Buffer, name, value string) {
	value = strings.ReplaceAll(tagLine(value), `\`, `\\`)
	if html.UnescapeString(value) != value { // the reader would take it for what a web page means
		value = strings.ReplaceAll(value, "&", "&amp;")
	}
	fmt.Fprintf(b, "[%s \"%s\"]\n", name, strings.ReplaceAll(value, `"`, `\"`))
}

// tagLine is a tag value without what can't stand in one (PGN standard 4.2, 7.1):
// control characters become blanks, and what the reader would not look at goes, as where
// a long value takes more bytes in UTF-8 than it had.
func tagLine(value string) string {
	room := maxValue - 1 // the closing quote
	for i, r := range value {
		if room -= writtenBytes(r); room < 0 {
			value = value[:i]
			break
		}
	}
	return strings.Map(func(r rune) rune {
		if isBlank(r) {
			return ' '
		}
		return r
	}, value)
}

// writtenBytes is how many bytes a sign of a tag value takes at most.
func writtenBytes(r rune) int {
	switch r {
	case '"', '\\':
		return 2
	case '&':
		return len("&amp;")
	}
	return utf8.RuneLen(r)
}

// firstPly returns the number of half-moves before the first move, by the side
// and move number of the FEN tag.
func firstPly(fen string) int {
	f := strings.Fields(fen)
	ply := 0
	if len(f) >= 6 && isDigits(f[5], 4) {
		n, _ := strconv.Atoi(f[5])
		ply = 2 * max(0, n-1)
	}
	if len(f) >= 2 && f[1] == "b" {
		ply++
	}
	return ply
}

// printer sets movetext in lines.
type printer struct {
	out *bytes.Buffer
	col int
	gap bool // the next word needs a blank before it
}

// step is a Line being written.
type step struct {
	line   *Line
	ply    int  // half-moves before the next move
	next   int  // index of the next move
	side   int  // index of the next variation of the move before
	number bool // the next move needs its number though it is Black's
}

// line writes a line with all that hangs on it. It keeps its own stack, since
// files nest as deep as they like.
func (p *printer) line(l *Line, ply int) {
	if l == nil {
		return
	}
	stack := []step{p.begin(l, ply)}
	for len(stack) > 0 {
		s := &stack[len(stack)-1]
		if s.next > 0 {
			if vs := s.line.Moves[s.next-1].Variations; s.side < len(vs) {
				s.side++
				s.number = true
				p.open()
				stack = append(stack, p.begin(vs[s.side-1], s.ply-1))
				continue
			}
		}
		if s.next == len(s.line.Moves) {
			stack = stack[:len(stack)-1]
			if len(stack) > 0 {
				p.close()
			}
			continue
		}
		p.move(s)
	}
}

func (p *printer) begin(l *Line, ply int) step {
	for _, c := range l.Comments {
		p.comment(c)
	}
	return step{line: l, ply: ply, number: true}
}

// move writes the next move of a line with its glyphs and comments.
func (p *printer) move(s *step) {
	n := &s.line.Moves[s.next]
	if s.ply%2 == 0 {
		p.word(strconv.Itoa(s.ply/2+1) + ".")
	} else if s.number || !plainSAN(n.SAN) {
		p.word(strconv.Itoa(s.ply/2+1) + "...")
	}
	p.word(n.SAN)
	for _, g := range n.NAGs {
		p.word("$" + strconv.Itoa(g))
	}
	for _, c := range n.Comments {
		p.comment(c)
	}
	s.number = len(n.Comments) > 0
	s.next++
	s.ply++
	s.side = 0
}

// plainSAN reports whether the reader knows the move for one without its number.
func plainSAN(san string) bool {
	return isMove([]byte(san)) || san == "--" || san == "Z0" || san != "" && castling([]byte(san)) == len(san)
}

func (p *printer) newLine() {
	if p.col > 0 {
		p.out.WriteByte('\n')
		p.col = 0
	}
}

// word writes a word, on the next line if it does not fit.
func (p *printer) word(w string) { p.piece(w, len(w)) }

// piece writes a word that is n characters wide.
func (p *printer) piece(w string, n int) {
	switch {
	case p.col == 0 || !p.gap:
	case p.col+1+n > lineWidth:
		p.out.WriteByte('\n')
		p.col = 0
	default:
		p.out.WriteByte(' ')
		p.col++
	}
	p.out.WriteString(w)
	p.col += n
	p.gap = true
}

func (p *printer) open() {
	p.word("(")
	p.gap = false
}

func (p *printer) close() {
	p.gap = false
	if p.col+1 > lineWidth {
		p.newLine()
	}
	p.word(")")
}

// comment writes a comment in braces; one with a brace in it, which braces cannot
// hold for sure, behind a semicolon on a line of its own.
func (p *printer) comment(c string) {
	c = fold(strings.TrimFunc(c, isBlank))
	if c == "" {
		return
	}
	if strings.ContainsAny(c, "{}") {
		p.newLine() // behind a move it might be read as what stands between two lines
		p.out.WriteString("; " + c + "\n")
		return
	}
	for _, w := range unbroken("{" + c + "}") {
		p.piece(w, len([]rune(w)))
	}
}

// unbroken cuts a comment into the pieces between which a line may break: at
// blanks, but not inside a command, and not before a sign that other readers
// take for a tag or an escape at the start of a line.
func unbroken(c string) []string {
	var pieces []string
	from := 0
	command := false
	for i := 0; i < len(c); i++ {
		switch {
		case c[i] == '[' && strings.HasPrefix(c[i:], "[%"):
			command = true
		case c[i] == ']':
			command = false
		case c[i] == ' ' && !command && i+1 < len(c) && c[i+1] != '[' && c[i+1] != '%':
			pieces = append(pieces, c[from:i])
			from = i + 1
		}
	}
	return append(pieces, c[from:])
}
