package pdf

import (
	"fmt"
	"path"
	"slices"
	"strconv"
	"strings"

	"foreply/compare/fact"
	"foreply/compare/words"
	"foreply/fetch/pgn/plain"
	"foreply/pdf/sheet"
)

// side writes one colour.
func (t *lineWriter) side(s *fact.Side, several bool) {
	if several {
		t.w.WriteByte('\n')
		head := "== " + words.IfYouHave(s.MyColor) + " "
		t.styled(head+strings.Repeat("=", t.opt.Columns-plain.Columns(head)), bold)
		t.w.WriteByte('\n')
		t.say(0, words.Played(s), usual)
	}
	t.tonight(s.Tonight)
	switch tellBy(s) {
	case byGames:
		t.games(s)
	case byExits:
		t.exits(s)
	default:
		t.partings(s)
	}
	if s.PeersOnly {
		t.list(words.OtherColour, hints(s.Hints))
	}
	t.boards(s.Boards)
	t.unanswered(s)
	t.changes(s.Changes)
	t.wrong(s)
	t.orders(s.Orders)
	t.surprise(&s.Surprise)
	t.list(words.YourOptions, words.Options(s))
	t.mistakes(s)
	t.list(words.TheyCanKnow, words.Shown(s.KnowOfYou, s.MyColor))
}

func (t *lineWriter) tonight(tasks []fact.Task) {
	if len(tasks) == 0 {
		return
	}
	t.title(words.Tonight)
	for i := range tasks {
		task := &tasks[i]
		list := append(pieces(words.Lead(task.Lead), bold), said(words.Task(task))...)
		list = append(list, pieces(task.Note, usual)...)
		if task.Kind == fact.ToLook && task.File != "" {
			list = append(list, pieces("("+placeOf(task)+")", dim)...)
		}
		t.write(2, 4, list)
	}
}

// placeOf is where to look in the repertoire: file and line.
func placeOf(t *fact.Task) string {
	where := path.Base(t.File)
	if t.Line > 0 {
		where += ":" + strconv.Itoa(t.Line)
	}
	return where
}

// games lists the games when they are too few to count.
func (t *lineWriter) games(s *fact.Side) {
	t.title(words.TheirGames)
	if len(s.FewGames) == 0 {
		t.say(2, words.NoGames(s), usual)
	}
	if len(s.FewGames) > 0 {
		t.say(2, words.PointsAreYours, dim)
	}
	for i := range s.FewGames {
		t.game(&s.FewGames[i])
	}
	for _, hint := range hints(s.Hints) {
		t.write(2, 4, said(hint))
	}
}

// game is one game in two lines: the result of the user's side, when and against whom,
// opening and speed; the moves as far as they tell something, and what the book says to it.
func (t *lineWriter) game(g *fact.PlayedGame) {
	head := said(words.Sentence{words.PlayedHead(g)})
	t.write(2, 6, append(head, pieces(openingAndSpeed(g.ECO, g.Opening, g.Speed), usual)...))
	tell := min(max(g.Telling, 1), len(g.Moves))
	line := movePieces(g.Moves[:tell], 0, usual)
	if tell < g.Plies {
		line = append(line, piece{s: "…"})
	}
	if left := words.PlayedLeft(g); len(left) > 0 {
		line = append(append(line, piece{s: "-"}), said(words.Sentence{left})...)
	}
	t.write(6, 6, line)
}

// exits are the lines in full where there are no partings.
func (t *lineWriter) exits(s *fact.Side) {
	list := s.Exits
	t.title(words.LinesToExpect)
	for i, e := range list {
		if i == t.opt.Lines {
			t.say(2, leftOutLines(list[i:]), dim)
			break
		}
		text := movePieces(e.Line, 0, bold)
		t.write(2, 4, append(text, said(words.ExitWhole(&e, s.MyColor))...))
		t.say(6, e.Note, usual)
		t.sentence(6, words.Structure(&e.Structure, s.MyColor))
		t.clause(6, words.Instant(e.Instant))
	}
}

// partings writes the likeliest branches in reading order.
func (t *lineWriter) partings(s *fact.Side) {
	t.title(words.LinesToExpect)
	r := rank(s.Partings)
	n := min(t.opt.Lines, len(r.order))
	keys := r.keys(n)
	shown := map[at]bool{}
	for _, a := range r.order[:n] {
		shown[a] = true
	}
	for i, fk := range s.Partings {
		if keys[i] == "" {
			continue
		}
		from := r.parted(i)
		stem := append(pieces(keys[i], bold), movePieces(fk.Stem[from:], from, dim)...)
		if len(fk.Stem) == 0 {
			stem = append(stem, pieces(words.FromFirstMove, dim)...)
		}
		t.write(0, 3, append(stem, pieces(fk.ECO+" "+fk.Name, dim)...))
		for j := range fk.Branches {
			if shown[at{i, j}] {
				t.branch(&fk.Branches[j], fk.Stem, keys, s.MyColor)
			}
		}
	}
	t.say(2, r.missing(n), dim)
	t.sentence(2, words.Coverage(s))
	t.sentence(2, words.SoFar(&s.Left))
}

// branch is one move of theirs: move, frequency, answer; then what follows.
func (t *lineWriter) branch(br *fact.Branch, stem []string, keys map[int]string, myColor string) {
	ply := len(stem)
	mv := sheet.Plain(words.Movetext([]string{br.Move}, ply))
	answer := "[" + words.NoAnswer + "]"
	if br.Answer != "" {
		answer = "[" + sheet.Plain(words.Movetext([]string{br.Answer}, ply+1)) + "]"
	}
	freq := words.MoveOdds(slices.Concat(stem, []string{br.Move}), br).Text
	gap := func(s string, n int) string { return strings.Repeat(" ", max(1, n-plain.Columns(s))) }
	t.w.WriteString("   ")
	t.styled(mv, bold)
	t.w.WriteString(gap(mv, 12) + freq + gap(freq, 24))
	t.styled(answer, bold)
	if k := keys[br.Next]; k != "" {
		t.w.WriteString(" " + words.SeeBelow(k))
	}
	t.w.WriteByte('\n')
	list := said(words.RestsOnGames(br))
	if keys[br.Next] == "" && len(br.Then) > 0 {
		if len(list) > 0 {
			list[len(list)-1].s += ";"
		}
		list = append(list, movePieces(br.Then, ply+2, usual)...)
	}
	if s := words.BranchEnds(br, myColor); len(s) > 0 && br.State != fact.NoAnswer {
		list = append(list, pieces("("+s.String()+")", dim)...)
	}
	if len(list) > 0 {
		t.write(15, 15, list)
	}
	t.say(15, br.Note, usual)
	if br.Trap != nil {
		t.sentence(15, words.Trap(br.Trap))
	}
	t.sentence(15, words.Structure(br.Structure, myColor))
	t.clause(15, words.Instant(br.Instant))
}

// sentence is a sentence at an indent, if it says anything.
func (t *lineWriter) sentence(indent int, s words.Sentence) {
	if len(s) > 0 {
		t.write(indent, indent, said(s))
	}
}

// clause is a clause at an indent, if it says anything.
func (t *lineWriter) clause(indent int, c words.Clause) {
	if len(c) > 0 {
		t.write(indent, indent, said(words.Sentence{c}))
	}
}

func (t *lineWriter) unanswered(s *fact.Side) {
	if len(s.Unanswered) == 0 {
		return
	}
	t.title(words.NoAnswer)
	for i := range s.Unanswered {
		u := &s.Unanswered[i]
		t.write(2, 4, movePieces(u.Line, 0, bold))
		t.write(4, 4, said(words.Gap(u, s.Counted(), s.MyColor)))
		for k := range u.Others {
			t.sentence(6, words.Onward(&u.Others[k], len(u.Line)))
		}
		t.say(4, u.Note, usual)
	}
}

func (t *lineWriter) changes(list []fact.Change) {
	var sentences []words.Sentence
	for i := range list {
		sentences = append(sentences, words.Change(&list[i]))
	}
	t.list(words.WhatChanged, sentences)
}

// orders tell where the order of moves matters.
func (t *lineWriter) orders(list []fact.Order) {
	var sentences []words.Sentence
	for i := range list {
		sentences = append(sentences, words.Order(&list[i]))
	}
	t.list(words.MoveOrder, sentences)
}

// wrong is where they went wrong, then where who sat on the user's side did, and moves of
// the book that an engine finds worse, each line in full.
func (t *lineWriter) wrong(s *fact.Side) {
	for _, kind := range [...]struct{ name, title string }{{fact.TheirSlip, words.WhereItWentWrong}, {fact.OthersSlip, words.WhereYouMay}} {
		titled := false
		for i := range s.Traps {
			if s.Traps[i].Kind != kind.name {
				continue
			}
			if !titled {
				t.title(kind.title)
				titled = true
			}
			t.write(2, 4, movePieces(s.Traps[i].Line, 0, bold))
			t.write(4, 4, said(words.Trap(&s.Traps[i])))
		}
	}
	if len(s.Again) > 0 {
		t.title(words.Doubted)
	}
	for i := range s.Again {
		a := &s.Again[i]
		t.write(2, 4, movePieces(append(slices.Clone(a.Line), a.Played.Moves[0]), 0, bold))
		t.write(4, 4, said(words.BookDoubted(a, s.MyColor)))
	}
}

func (t *lineWriter) surprise(sp *fact.Surprise) {
	t.list(words.IfSurprised, words.Surprised(sp))
}

// mistakes are the moves that the book marks as bad.
func (t *lineWriter) mistakes(s *fact.Side) {
	if len(s.Mistakes) == 0 {
		return
	}
	t.title(words.Mistakes)
	for i := range s.Mistakes {
		m := &s.Mistakes[i]
		list := append(movePieces(m.Line, 0, usual), said(words.Mistake(m, s.Counted()))...)
		t.write(2, 4, append(list, pieces(m.Note, usual)...))
	}
}

// boards draws up to three positions beside each other: capitals for White.
func (t *lineWriter) boards(list []fact.Diagram) {
	const slot = 26
	list = list[:min(len(list), max(1, t.opt.Columns/slot))]
	if len(list) == 0 {
		return
	}
	t.title(words.Boards)
	lines := make([][]string, len(list))
	tall := 0
	for i, d := range list {
		lines[i] = textBoard(d, slot-2)
		tall = max(tall, len(lines[i]))
	}
	for row := range tall {
		var b strings.Builder
		for i := range list {
			cell := ""
			if row < len(lines[i]) {
				cell = lines[i][row]
			}
			b.WriteString(cell + strings.Repeat(" ", max(0, slot-plain.Columns(cell))))
		}
		t.w.WriteString(strings.TrimRight(b.String(), " ") + "\n")
	}
}

// textBoard is one board with its title and caption, w columns wide.
func textBoard(d fact.Diagram, w int) []string {
	out := textLines(words.BoardTitle(&d).String(), w)
	rows := ranks(d.EPD)
	files := "a b c d e f g h"
	turned := d.View == "black"
	if turned {
		files = "h g f e d c b a"
	}
	for i := range rows {
		r := i
		if turned {
			r = 7 - i
		}
		cells := strings.Split(rows[r], "")
		if turned {
			slices.Reverse(cells)
		}
		out = append(out, fmt.Sprintf("  %d %s", 8-r, strings.Join(cells, " ")))
	}
	if len(rows) > 0 {
		out = append(out, "    "+files)
	}
	return append(out, textLines(words.BoardWhy(&d).String()+": "+words.BoardOften(&d).Text, w)...)
}

// textLines breaks a sentence into indented lines of w columns; a word that is
// longer is cut.
func textLines(s string, w int) []string {
	const indent = "  "
	list := strings.Fields(sheet.Plain(s))
	if len(list) == 0 {
		return nil
	}
	for i, word := range list {
		for r := []rune(word); plain.Columns(indent+list[i]) > w; r = r[:len(r)-1] {
			list[i] = string(r[:len(r)-1])
		}
	}
	return plain.Wrap(indent, indent, list, w)
}

// ranks are the eight ranks of a position from the eighth down, a point for an
// empty square; none if the EPD does not hold a whole board.
func ranks(epd string) []string {
	placement, _, _ := strings.Cut(sheet.Plain(epd), " ")
	rows := strings.Split(placement, "/")
	if len(rows) != 8 {
		return nil
	}
	for i, row := range rows {
		var b strings.Builder
		for _, r := range row {
			if r >= '1' && r <= '8' {
				b.WriteString(strings.Repeat(".", int(r-'0')))
			} else {
				b.WriteRune(r)
			}
		}
		if rows[i] = b.String(); len(rows[i]) != 8 {
			return nil
		}
	}
	return rows
}
