package pdf

import (
	"bufio"
	"fmt"
	"io"
	"strings"

	"golang.org/x/text/width"

	"foreply/compare/fact"
	"foreply/compare/words"
	"foreply/pdf/sheet"
)

// TextOptions choose how the terminal text looks. The zero value is 80 columns
// without any control sequence.
type TextOptions struct {
	Columns int  // width in characters; default 80, at least 40
	Style   bool // bold and dim by ANSI sequences
	Lines   int  // most branches shown for one colour; default 30
}

func (o TextOptions) withDefaults() TextOptions {
	if o.Columns == 0 {
		o.Columns = 80
	}
	o.Columns = max(o.Columns, 40)
	if o.Lines <= 0 {
		o.Lines = 30
	}
	return o
}

// Text writes a Report for reading in a terminal, in the order of the page,
// with letters for the pieces.
func Text(w io.Writer, rep *fact.Report, opt TextOptions) error {
	t := &teller{w: bufio.NewWriter(w), opt: opt.withDefaults()}
	t.head(rep)
	t.meetings(rep.Basis.Meetings)
	for i := range rep.Sides {
		t.side(&rep.Sides[i], len(rep.Sides) > 1)
	}
	t.list("about them", aboutThem(rep.About))
	t.foot(rep)
	return t.w.Flush() // a bufio.Writer keeps its first error
}

// look is how a piece of terminal text stands out.
type look int

const (
	usual look = iota
	bold
	dim
)

// piece is what no line breaks inside; first is what it reads at the start of
// a line.
type piece struct {
	s, first string
	look     look
}

// teller writes pieces to lines.
type teller struct {
	w   *bufio.Writer
	opt TextOptions
}

// pieces splits a sentence.
func pieces(s string, k look) []piece {
	var list []piece
	for _, w := range strings.Fields(sheet.Plain(s)) {
		list = append(list, piece{s: w, look: k})
	}
	return list
}

// sentence is pieces of a sentence that may hold moves: a line that begins with
// a black one repeats its number.
func sentence(s string) []piece {
	list := pieces(s, usual)
	for i := 1; i < len(list); i++ {
		list[i].first = numberAgain(list[i-1].s, list[i].s)
	}
	return list
}

// movePieces sets moves in letters; a line that begins with a black move
// repeats its number.
func movePieces(san []string, ply int, k look) []piece {
	var list []piece
	for i := range san {
		full := sheet.Plain(words.Movetext(san[i:i+1], ply+i))
		p := piece{s: full, look: k}
		if i > 0 && (ply+i)%2 == 1 {
			p.first, p.s = full, sheet.Plain(san[i])
		}
		list = append(list, p)
	}
	return list
}

// columns is how many places s takes in a terminal.
func columns(s string) int {
	n := 0
	for _, r := range s {
		n++
		switch width.LookupRune(r).Kind() {
		case width.EastAsianWide, width.EastAsianFullwidth:
			n++
		}
	}
	return n
}

// write sets pieces in lines: the first indented by first, the others by rest.
func (t *teller) write(first, rest int, list []piece) {
	at, indent := 0, first
	for _, p := range list {
		n := columns(p.s)
		if at > 0 && at+1+n > t.opt.Columns {
			t.w.WriteByte('\n')
			at, indent = 0, rest
		}
		if at == 0 {
			if p.first != "" {
				p.s = p.first
			}
			t.w.WriteString(strings.Repeat(" ", indent))
			at = indent
		} else {
			t.w.WriteByte(' ')
			at++
		}
		at += columns(p.s)
		t.styled(p.s, p.look)
	}
	t.w.WriteByte('\n')
}

func (t *teller) styled(s string, k look) {
	if !t.opt.Style || k == usual {
		t.w.WriteString(s)
		return
	}
	code := "1"
	if k == dim {
		code = "2"
	}
	t.w.WriteString("\x1b[" + code + "m" + s + "\x1b[0m")
}

// say writes a sentence at an indent.
func (t *teller) say(indent int, s string, k look) {
	if list := pieces(s, k); len(list) > 0 {
		t.write(indent, indent, list)
	}
}

// title opens a section.
func (t *teller) title(s string) {
	t.w.WriteByte('\n')
	t.styled(strings.ToUpper(s), bold)
	t.w.WriteByte('\n')
}

// list is a section of sentences; none when there is nothing to say.
func (t *teller) list(name string, sentences []string) {
	if len(sentences) == 0 {
		return
	}
	t.title(name)
	for _, s := range sentences {
		t.write(2, 4, sentence(s))
	}
}

// aboutThem are sentences of the opponent.
func aboutThem(list []fact.About) []string {
	var out []string
	for i := range list {
		a := &list[i]
		out = append(out, strings.TrimSpace(words.About(a).String()+" "+words.RestsOn(a).String()))
	}
	return out
}

// hints are sentences of what they do with the other colour.
func hints(list []fact.Hint) []string {
	var out []string
	for i := range list {
		out = append(out, words.Hint(&list[i]).String())
	}
	return out
}

func (t *teller) head(rep *fact.Report) {
	name := sheet.Plain(rep.Opponent.Name)
	if name == "" {
		name = "your opponent"
	}
	list := pieces(name, bold)
	if len(rep.Sides) == 1 {
		list = append(list, pieces("- you have "+colourName(rep.Sides[0].MyColor), usual)...)
	}
	t.write(0, 2, list)
	t.say(0, ratings(rep.Opponent.Ratings), dim)
	t.say(0, gameWords(rep.Heading), usual)
	l := layout{rep: rep}
	t.say(0, l.basis(), usual)
}

// gameWords tells what is known of the game to come.
func gameWords(h fact.Heading) string {
	parts := []string{h.Event}
	if h.Round != "" {
		parts = append(parts, "round "+h.Round)
	}
	if h.Board != "" {
		parts = append(parts, "board "+h.Board)
	}
	if h.Clock != "" {
		h.Clock = "clock " + h.Clock
	}
	if h.Need != "" {
		h.Need = "you need a " + h.Need
	}
	return sentenceList(append(parts, day(h.Date), h.Clock, h.Need))
}

// meetings are the games between the two, with the user's score.
func (t *teller) meetings(rows []fact.GameRow) {
	if len(rows) == 0 {
		return
	}
	t.title("you met")
	for _, g := range rows {
		mine := "Black"
		if g.Theirs == "black" {
			mine = "White"
		}
		head := fmt.Sprintf("%-11s  %1s with %s", day(g.Date), sheet.Plain(words.YourScore(&g)), mine)
		t.write(2, 6, append([]piece{{s: head}}, pieces(sentenceList([]string{strings.TrimSpace(g.ECO + " " + g.Opening), speed(g.Class)}), usual)...))
		list := movePieces(g.Moves, 0, usual)
		if left := words.HowLeft(&g); len(left) > 0 {
			list = append(list, sentence("- "+left.String())...)
		}
		t.write(6, 6, list)
	}
}

func (t *teller) foot(rep *fact.Report) {
	t.w.WriteByte('\n')
	for _, n := range words.Strings(words.Footnotes(rep)) {
		t.say(0, "! "+n, usual)
	}
	l := layout{rep: rep}
	t.say(0, l.sources(), dim)
	t.say(0, words.Engine(rep.Engine), dim)
	t.say(0, laws, dim)
}
