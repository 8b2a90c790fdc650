package pdf

import (
	"fmt"
	"slices"
	"strings"

	"foreply/compare/fact"
	"foreply/compare/words"
	"foreply/pdf/sheet"
)

// side writes one colour.
func (t *teller) side(s *fact.Side, several bool) {
	if several {
		t.w.WriteByte('\n')
		t.styled("== if you have "+colourName(s.MyColor)+" "+strings.Repeat("=", t.opt.Columns-21), bold)
		t.w.WriteByte('\n')
		t.say(0, played(s), usual)
	}
	t.tonight(s.Tonight)
	switch tellBy(s) {
	case byGames:
		t.games(s)
	case byExits:
		t.exits(s)
	default:
		t.forks(s)
	}
	if s.PeersOnly {
		t.list("with the other colour", hints(s.Hints))
	}
	t.boards(s.Boards)
	t.unanswered(s)
	t.changes(s.Changes)
	t.traps(s)
	t.orders(s.Orders)
	t.surprise(s.Surprise)
	t.others(s)
	t.list("they can know", words.Strings(words.Shown(s.KnowOfYou, s.MyColor)))
}

func (t *teller) tonight(tasks []fact.Task) {
	if len(tasks) == 0 {
		return
	}
	t.title("tonight")
	for _, task := range tasks {
		text := words.Task(&task).String()
		if task.Note != "" {
			text += ". " + task.Note
		}
		list := append(pieces(task.Lead, bold), sentence(text)...)
		if task.Kind == "look" && task.File != "" {
			list = append(list, pieces("("+placeOf(task)+")", dim)...)
		}
		t.write(2, 4, list)
	}
}

// games lists the games when they are too few to count.
func (t *teller) games(s *fact.Side) {
	t.title("their games")
	if len(s.List) == 0 {
		t.say(2, noGames(s), usual)
	}
	for _, g := range s.List {
		t.game(g)
	}
	for _, hint := range hints(s.Hints) {
		t.write(2, 4, sentence(hint))
	}
}

// game is one game in two lines: date, their score, the other player's rating,
// opening and speed; the moves as far as they matter, and where the book was
// left.
func (t *teller) game(g fact.GameRow) {
	rating := elo(g.Elo)
	if rating == "" {
		rating = "-"
	}
	head := fmt.Sprintf("%-11s  %1s  %4s", day(g.Date), sheet.Plain(g.Score), rating)
	t.write(2, 6, append([]piece{{s: head}}, pieces(sentenceList([]string{strings.TrimSpace(g.ECO + " " + g.Opening), speed(g.Class)}), usual)...))
	t.write(6, 6, append(movePieces(g.Moves, 0, usual), sentence("- "+words.HowLeft(&g).String())...))
}

// exits are the lines in full where there are no forks.
func (t *teller) exits(s *fact.Side) {
	list := s.Exits
	t.title("to expect")
	for i, e := range list {
		if i == t.opt.Lines {
			t.say(2, leftOutLines(list[i:]), dim)
			break
		}
		text := movePieces(e.Line, 0, bold)
		t.write(2, 4, append(text, pieces(words.OneIn(e.Reach)+"; "+exitWords(e, s.MyColor), usual)...))
		t.say(6, e.Note, usual)
		t.say(6, words.Structure(&e.Structure, s.MyColor).String(), dim)
		t.say(6, words.Instant(e.Instant).String(), dim)
	}
}

// forks writes the likeliest branches in reading order.
func (t *teller) forks(s *fact.Side) {
	t.title("forks")
	r := rank(s.Forks)
	n := min(t.opt.Lines, len(r.order))
	keys := r.keys(n)
	shown := map[at]bool{}
	for _, a := range r.order[:n] {
		shown[a] = true
	}
	for i, fk := range s.Forks {
		if keys[i] == "" {
			continue
		}
		from := r.parted(i)
		stem := append(pieces(keys[i], bold), movePieces(fk.Stem[from:], from, dim)...)
		if len(fk.Stem) == 0 {
			stem = append(stem, pieces("from the first move", dim)...)
		}
		t.write(0, 3, append(stem, pieces(fk.ECO+" "+fk.Name, dim)...))
		for j, br := range fk.Branches {
			if shown[at{i, j}] {
				t.branch(br, len(fk.Stem), keys, s.MyColor)
			}
		}
	}
	t.say(2, r.missing(n), dim)
	t.say(2, coverage(s), usual)
	t.say(2, leftWords(&s.Left), usual)
}

// branch is one move of theirs: move, frequency, answer; then what follows.
func (t *teller) branch(br fact.Branch, ply int, keys map[int]string, myColor string) {
	mv := sheet.Plain(words.Movetext([]string{br.Move}, ply))
	answer := "[no answer yet]"
	if br.Answer != "" {
		answer = "[" + sheet.Plain(words.Movetext([]string{br.Answer}, ply+1)) + "]"
	}
	freq := words.InTen(br.Share)
	gap := func(s string, n int) string { return strings.Repeat(" ", max(1, n-columns(s))) }
	t.w.WriteString("   ")
	t.styled(mv, bold)
	t.w.WriteString(gap(mv, 12) + freq + gap(freq, 22))
	t.styled(answer, bold)
	if k := keys[br.Next]; k != "" {
		t.w.WriteString(" see " + k)
	}
	t.w.WriteByte('\n')
	list := pieces(sentenceList([]string{counts(br.Share), since(br), words.Back(br.Back).String()}), dim)
	if keys[br.Next] == "" && len(br.Then) > 0 {
		list = append(list, movePieces(br.Then, ply+2, usual)...)
	}
	if s := ending(br, myColor); br.Back == nil && s != "" && br.State != fact.NoAnswer {
		list = append(list, pieces("("+s+")", dim)...)
	}
	t.write(15, 15, list)
	t.say(15, br.Note, usual)
	t.say(15, trapText(br.Trap), usual)
	t.say(15, words.Structure(br.Structure, myColor).String(), dim)
	t.say(15, words.Instant(br.Instant).String(), dim)
}

// trapText says whether a move of theirs was wrong before.
func trapText(t *fact.Trap) string {
	if t == nil {
		return ""
	}
	return words.Trap(t).String()
}

func (t *teller) unanswered(s *fact.Side) {
	if len(s.Unanswered) == 0 {
		return
	}
	t.title("no answer yet")
	for _, u := range s.Unanswered {
		t.write(2, 4, movePieces(u.Line, 0, bold))
		t.write(4, 4, sentence(sentenceList(openParts(&u, s))))
		for i := range u.Others {
			t.say(6, words.Onward(&u.Others[i], len(u.Line)).String(), usual)
		}
		t.say(4, words.SetUp(&u).String(), usual)
		t.say(4, u.Note, usual)
	}
}

func (t *teller) changes(list []fact.Change) {
	var sentences []string
	for i := range list {
		sentences = append(sentences, words.Change(&list[i]).String())
	}
	t.list("what changed", sentences)
}

// orders tell where the order of moves matters.
func (t *teller) orders(list []fact.Order) { t.list("move orders", orderWords(list)) }

func orderWords(list []fact.Order) []string {
	sentences := make([]string, len(list))
	for i := range list {
		sentences[i] = words.Order(&list[i]).String()
	}
	return sentences
}

// traps are where a side went wrong, each line in full.
func (t *teller) traps(s *fact.Side) {
	if len(s.Traps)+len(s.Again) == 0 {
		return
	}
	t.title("where it went wrong")
	for i := range s.Traps {
		tr := &s.Traps[i]
		t.write(2, 4, movePieces(tr.Line, 0, bold))
		t.write(4, 4, sentence(words.Trap(tr).String()))
	}
	for i := range s.Again {
		a := &s.Again[i]
		t.write(2, 4, movePieces(append(slices.Clone(a.Line), a.Played.Moves[0]), 0, bold))
		t.write(4, 4, sentence(againText(a, s.MyColor)))
	}
}

// againText says what is wrong with a move of the user's book.
func againText(a *fact.Again, myColor string) string {
	return "your book's move, " + words.OneIn(a.Reach) + ": " + words.Again(a, len(a.Line), myColor)
}

func (t *teller) surprise(sp fact.Surprise) {
	var list []string
	if sp.Note != "" {
		list = append(list, noteLead(sp)+" "+sp.Note)
	}
	if len(sp.SetUp) > 0 {
		list = append(list, "your usual set-up: "+strings.Join(sp.SetUp, ", "))
	}
	for i := range sp.Returns {
		list = append(list, words.WayBack(&sp.Returns[i]).String())
	}
	t.list("if surprised", list)
}

// others are the other answers of the book and the mistakes it knows.
func (t *teller) others(s *fact.Side) {
	t.list("your options", words.Strings(words.Options(s)))
	if len(s.Mistakes) == 0 {
		return
	}
	t.title("mistakes")
	for i := range s.Mistakes {
		m := &s.Mistakes[i]
		t.write(2, 4, append(movePieces(m.Line, 0, usual), pieces(mistakeText(m, s.Counted()), usual)...))
	}
}

// boards draws up to three positions beside each other: capitals for White.
func (t *teller) boards(list []fact.Diagram) {
	const slot = 26
	list = list[:min(len(list), max(1, t.opt.Columns/slot))]
	if len(list) == 0 {
		return
	}
	t.title("boards")
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
			b.WriteString(cell + strings.Repeat(" ", max(0, slot-columns(cell))))
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
	var out []string
	line := ""
	for _, word := range strings.Fields(sheet.Plain(s)) {
		for columns(indent+word) > w {
			r := []rune(word)
			word = string(r[:len(r)-1])
		}
		if line != "" && columns(line)+1+columns(word) > w {
			out, line = append(out, line), ""
		}
		if line == "" {
			line = indent + word
		} else {
			line += " " + word
		}
	}
	if line == "" {
		return out
	}
	return append(out, line)
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
