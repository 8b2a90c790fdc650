package pdf

import (
	"fmt"
	"strings"

	"foreply/compare"
)

// side writes one colour.
func (t *teller) side(s *compare.Side, several bool) {
	if several {
		t.w.WriteByte('\n')
		t.styled("== if you have "+colourName(s.MyColor)+" "+strings.Repeat("=", t.opt.Columns-21), bold)
		t.w.WriteByte('\n')
		t.say(0, played(s), usual)
	}
	t.tonight(s.Tonight)
	switch {
	case s.Few || len(s.Forks) == 0 && len(s.Exits) == 0:
		t.games(s)
	case len(s.Forks) == 0:
		t.exits(s.Exits)
	default:
		t.forks(s)
	}
	t.boards(s.Boards)
	t.unanswered(s)
	t.surprise(s.Surprise)
	t.others(s)
	t.list("they can know", s.KnowOfYou)
}

func (t *teller) tonight(tasks []compare.Task) {
	if len(tasks) == 0 {
		return
	}
	t.title("tonight")
	for _, task := range tasks {
		t.write(2, 4, append(pieces(task.Lead, bold), sentence(task.Text)...))
	}
}

// games lists the games when they are too few to count.
func (t *teller) games(s *compare.Side) {
	t.title("their games")
	if len(s.List) == 0 {
		t.say(2, noGames(s), usual)
	}
	for _, g := range s.List {
		list := pieces(fmt.Sprintf("%-11s  %1s  %4s", day(g.Date), g.Score, elo(g.Elo)), usual)
		list = append(list, pieces(g.Class+"; "+g.Left+"; "+g.ECO+" "+g.Opening, usual)...)
		t.write(2, 4, list)
	}
}

// exits are the lines in full where there are no forks.
func (t *teller) exits(list []compare.Exit) {
	t.title("to expect")
	for i, e := range list {
		if i == t.opt.Lines {
			t.say(2, leftOutLines(list[i:]), dim)
			break
		}
		words := movePieces(e.Line, 0, bold)
		t.write(2, 4, append(words, pieces(compare.OneIn(e.Reach)+"; "+exitWords(e), usual)...))
		t.say(6, e.Note, usual)
	}
}

// forks writes the likeliest branches in reading order.
func (t *teller) forks(s *compare.Side) {
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
				t.branch(br, len(fk.Stem), keys)
			}
		}
	}
	t.say(2, r.missing(n), dim)
	t.say(2, coverage(s.Coverage), usual)
}

// branch is one move of theirs: move, frequency, answer; then what follows.
func (t *teller) branch(br compare.Branch, ply int, keys map[int]string) {
	mv := plain(compare.Movetext([]string{br.Move}, ply))
	answer := "[no answer yet]"
	if br.Answer != "" {
		answer = "[" + plain(compare.Movetext([]string{br.Answer}, ply+1)) + "]"
	}
	freq := compare.InTen(br.Share)
	gap := func(s string, n int) string { return strings.Repeat(" ", max(1, n-columns(s))) }
	t.w.WriteString("   ")
	t.styled(mv, bold)
	t.w.WriteString(gap(mv, 12) + freq + gap(freq, 22))
	t.styled(answer, bold)
	if k := keys[br.Next]; k != "" {
		t.w.WriteString(" see " + k)
	}
	t.w.WriteByte('\n')
	list := pieces(sentenceList([]string{counts(br.Share), since(br)}), dim)
	if keys[br.Next] == "" && len(br.Then) > 0 {
		list = append(list, movePieces(br.Then, ply+2, usual)...)
	}
	if s := ending(br); s != "" && br.State != compare.NoAnswer {
		list = append(list, pieces("("+s+")", dim)...)
	}
	t.write(15, 15, list)
	t.say(15, br.Note, usual)
}

func (t *teller) unanswered(s *compare.Side) {
	if len(s.Unanswered) == 0 {
		return
	}
	t.title("no answer yet")
	for _, u := range s.Unanswered {
		t.write(2, 4, movePieces(u.Line, 0, bold))
		t.say(4, openText(u), usual)
		t.say(4, u.Note, usual)
	}
}

func (t *teller) surprise(sp compare.Surprise) {
	var list []string
	if sp.Note != "" {
		list = append(list, noteLead(sp)+" "+sp.Note)
	}
	if len(sp.SetUp) > 0 {
		list = append(list, "your usual set-up: "+strings.Join(sp.SetUp, ", "))
	}
	t.list("if surprised", append(list, sp.Returns...))
}

// others are the other answers of the book and the mistakes it knows.
func (t *teller) others(s *compare.Side) {
	var list []string
	for _, o := range s.Options {
		list = append(list, o.Text)
	}
	t.list("your options", list)
	if len(s.Mistakes) == 0 {
		return
	}
	t.title("mistakes")
	for _, m := range s.Mistakes {
		t.write(2, 4, append(movePieces(m.Line, 0, usual), pieces(mistakeText(m), usual)...))
	}
}

// boards draws up to three positions beside each other: capitals for White.
func (t *teller) boards(list []compare.Diagram) {
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

// textBoard is one board with its title and caption.
func textBoard(d compare.Diagram, w int) []string {
	rows := strings.Split(strings.SplitN(plain(d.EPD), " ", 2)[0], "/")
	var out []string
	out = append(out, "  "+plain(d.Title))
	for i := range rows {
		r := i
		if d.View == "black" {
			r = len(rows) - 1 - i
		}
		out = append(out, fmt.Sprintf("  %d ", len(rows)-r)+textRank(rows[r], d.View == "black"))
	}
	files := "a b c d e f g h"
	if d.View == "black" {
		files = "h g f e d c b a"
	}
	out = append(out, "    "+files)
	line := " "
	for _, word := range strings.Fields(plain(d.Caption)) {
		if columns(line)+1+columns(word) > w && line != " " {
			out, line = append(out, line), " "
		}
		line += " " + word
	}
	return append(out, line)
}

func textRank(row string, turned bool) string {
	var cells []string
	for _, r := range row {
		if r >= '1' && r <= '8' {
			for range r - '0' {
				cells = append(cells, ".")
			}
			continue
		}
		cells = append(cells, string(r))
	}
	if turned {
		for i, j := 0, len(cells)-1; i < j; i, j = i+1, j-1 {
			cells[i], cells[j] = cells[j], cells[i]
		}
	}
	return strings.Join(cells, " ")
}
