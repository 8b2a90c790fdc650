package pdf

import (
	"bufio"
	"io"
	"strings"

	"foreply/compare/fact"
	"foreply/compare/words"
	"foreply/fetch/pgn/plain"
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
	t := &lineWriter{w: bufio.NewWriter(w), opt: opt.withDefaults()}
	t.head(rep)
	t.meetings(rep.Basis.Meetings)
	for i := range rep.Sides {
		t.side(&rep.Sides[i], len(rep.Sides) > 1)
	}
	t.list(words.AboutThem, aboutThem(rep.About))
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

// lineWriter writes pieces to lines.
type lineWriter struct {
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

// said is the pieces of a sentence: a line that begins with a black move repeats its
// number.
func said(s words.Sentence) []piece {
	var list []piece
	apart := true // a blank stands before what comes
	for _, span := range s.Spans() {
		apart = apart || strings.TrimLeft(span.Text, " ") != span.Text
		for i, w := range strings.Fields(sheet.Plain(span.Text)) {
			p := piece{s: w}
			if i == 0 && span.Kind == words.Move {
				p.first = sheet.Plain(span.Numbered())
			}
			if apart || i > 0 {
				list = append(list, p)
			} else {
				list[len(list)-1].glue(p)
			}
			apart = false
		}
		apart = apart || strings.TrimRight(span.Text, " ") != span.Text
	}
	return list
}

// glue adds what follows without a blank.
func (p *piece) glue(next piece) {
	if p.first != "" || next.first != "" {
		p.first = p.atStart() + next.atStart()
	}
	p.s += next.s
}

// atStart is what a piece reads at the start of a line.
func (p piece) atStart() string {
	if p.first != "" {
		return p.first
	}
	return p.s
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

// write sets pieces in lines: the first indented by first, the others by rest.
func (t *lineWriter) write(first, rest int, list []piece) {
	at, indent := 0, first
	for _, p := range list {
		n := plain.Columns(p.s)
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
		at += plain.Columns(p.s)
		t.styled(p.s, p.look)
	}
	t.w.WriteByte('\n')
}

func (t *lineWriter) styled(s string, k look) {
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
func (t *lineWriter) say(indent int, s string, k look) {
	if list := pieces(s, k); len(list) > 0 {
		t.write(indent, indent, list)
	}
}

// title opens a section.
func (t *lineWriter) title(s string) {
	t.w.WriteByte('\n')
	t.styled(strings.ToUpper(s), bold)
	t.w.WriteByte('\n')
}

// list is a section of sentences; none when there is nothing to say.
func (t *lineWriter) list(name string, sentences []words.Sentence) {
	if len(sentences) == 0 {
		return
	}
	t.title(name)
	for _, s := range sentences {
		t.write(2, 4, said(s))
	}
}

// aboutThem are sentences of the opponent.
func aboutThem(list []fact.About) []words.Sentence {
	var out []words.Sentence
	for i := range list {
		out = append(out, words.About(&list[i]).And(words.RestsOn(&list[i])))
	}
	return out
}

// hints are sentences of what they do with the other colour.
func hints(list []fact.Hint) []words.Sentence {
	var out []words.Sentence
	for i := range list {
		out = append(out, words.Sentence{words.Hint(&list[i])})
	}
	return out
}

func (t *lineWriter) head(rep *fact.Report) {
	name := sheet.Plain(rep.Opponent.Name)
	if name == "" {
		name = words.Unnamed
	}
	list := pieces(name, bold)
	if len(rep.Sides) == 1 {
		list = append(list, pieces("- "+words.YouHave(rep.Sides[0].MyColor), usual)...)
	}
	t.write(0, 2, list)
	var ratings []string
	for _, r := range rep.Opponent.Ratings {
		ratings = append(ratings, words.Rating(r))
	}
	t.say(0, joined(ratings), dim)
	t.say(0, words.GameToCome(&rep.Heading), usual)
	t.write(0, 0, said(words.Basis(&rep.Basis)))
}

// meetings are the games between the two, with the user's score.
func (t *lineWriter) meetings(rows []fact.GameRow) {
	if len(rows) == 0 {
		return
	}
	t.title(words.YouMet)
	for i := range rows {
		if i == t.opt.Lines {
			t.say(2, words.MoreGames(len(rows)-i), dim)
			break
		}
		g := &rows[i]
		t.write(2, 6, append([]piece{{s: words.MeetingColumns(g)}}, pieces(openingAndSpeed(g.ECO, g.Opening, g.Class), usual)...))
		list := movePieces(g.Moves, 0, usual)
		if left := words.HowLeft(g); len(left) > 0 {
			list = append(append(list, piece{s: "-"}), said(words.Sentence{left})...)
		}
		t.write(6, 6, list)
	}
}

// openingAndSpeed are a game's opening and time class; nothing where its file gives no
// clock, as those of games over the board mostly do.
func openingAndSpeed(eco, opening, speed string) string {
	return joined([]string{strings.TrimSpace(eco + " " + opening), words.Class(speed)})
}

func (t *lineWriter) foot(rep *fact.Report) {
	t.w.WriteByte('\n')
	for _, n := range words.Footnotes(rep) {
		t.write(0, 0, append([]piece{{s: "!"}}, said(n)...))
	}
	t.say(0, words.Sources(rep), dim)
	t.say(0, words.Engine(rep.Engine), dim)
	t.say(0, words.Laws+" "+words.EventRules, dim)
}
