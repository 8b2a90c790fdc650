package pdf

import (
	"foreply/compare/fact"
	"foreply/compare/words"
	"foreply/pdf/sheet"
)

// Tonight's type, in points: moves, what is said of them, the words it begins with.
const (
	nightMoves = 11.5
	nightWords = 9.5
	nightLead  = 9.0
	nightRow   = 4.7 * sheet.MM
	nightText  = 14 * sheet.MM // where the text begins
)

// nightly is a line of tonight.
type nightly struct {
	lead    string
	clauses [][]sheet.Piece
	must    int // so many of them stand
}

// nightShare is the most of a height that tonight takes; beyond it, which no comparison
// reaches, its lines lose their ends.
const nightShare = 0.5

// tonight says what to expect, what to play, what changed and what has no answer yet, in
// the largest type. Every line of it stands on the page.
func (l *layout) tonight(s *fact.Side, h float64) sheet.Block {
	for most := 12; ; most-- {
		if b := l.tonightIn(s, most); b.H <= nightShare*h || most == 1 {
			return b
		}
	}
}

// tonightIn is tonight in so many lines a task at most.
func (l *layout) tonightIn(s *fact.Side, most int) sheet.Block {
	var b sheet.Block
	c := l.columnOf(l.form.lines)
	if !l.form.narrow {
		b = c.Frame(sheet.Part{Title: words.Tonight}, sheet.Block{})
	}
	for _, n := range l.nightly(s) {
		lines := l.nightLines(n, most)
		base := b.H + nightRow - 1.1*sheet.MM
		b.Add(l.f.Label(n.lead, 0, base, nightText-2, ink(nightLead, false)))
		for i, line := range lines {
			for _, it := range line.At(base + float64(i)*nightRow) {
				b.Add(it.Moved(nightText, 0))
			}
		}
		b.H += nightRow * float64(max(1, len(lines)))
	}
	return b
}

// nightLines are as many clauses as stand whole in the lines that those take which must.
func (l *layout) nightLines(n nightly, most int) []sheet.TextLine {
	style := styleOf(nightWords)
	style.Strong = ink(nightMoves, true)
	w := l.form.lines - nightText
	must, _ := l.f.Clauses(n.clauses[:min(n.must, len(n.clauses))], style, w, 99)
	fewest, _ := l.f.Break(must, w, 0)
	said, _ := l.f.Clauses(n.clauses, style, w, len(fewest))
	lines, _ := l.f.Break(said, w, most)
	return lines
}

// nightly are tonight's lines.
func (l *layout) nightly(s *fact.Side) []nightly {
	var list []nightly
	add := func(lead string, text words.Sentence, must int) {
		if len(text) > 0 {
			list = append(list, nightly{lead, sentencePieces(text), must})
		}
	}
	var stem []string
	for i := range s.Tonight {
		switch t := &s.Tonight[i]; t.Lead {
		case fact.LeadExpect:
			add(words.Expected, words.Expect(t, nil), 2)
			stem = t.Moves
		case fact.LeadPlay:
			add(words.ToPlay, words.Play(t), 1)
		case fact.LeadOr:
			add(words.Otherwise, words.Expect(t, stem), 3)
		case fact.LeadChanged:
			add(words.Changed, words.Task(t), 2)
			for _, c := range list[len(list)-1].clauses {
				plainly(c)
			}
		}
	}
	if len(s.Unanswered) > 0 && !l.form.narrow {
		list = append(list, nightly{words.ToAnswer, l.toAnswer(s), namedTonight})
	}
	return list
}

// changedTonight is how many changes the page says in tonight.
func changedTonight(s *fact.Side) int {
	n := 0
	for i := range s.Tonight {
		if s.Tonight[i].Lead == fact.LeadChanged {
			n++
		}
	}
	return n
}

// namedTonight is how many moves without an answer tonight names.
const namedTonight = 3

// toAnswer are the likeliest moves without an answer with their letters.
func (l *layout) toAnswer(s *fact.Side) [][]sheet.Piece {
	var all [][]sheet.Piece
	n := min(len(s.Unanswered), namedTonight)
	for i := range n {
		u := &s.Unanswered[i]
		clause := append(letterPieces(i), shortWay(u.Line)...)
		clause = append(clause, sheet.Piece{S: " "}, sheet.Piece{S: howLikely(s, u), Whole: true})
		if i > 0 {
			clause = append([]sheet.Piece{{S: "  "}}, clause...)
		}
		all = append(all, clause)
	}
	if more := clausePieces(words.MoreToAnswer(len(s.Unanswered) - n)); len(more) > 0 {
		all = append(all, more)
	}
	return all
}

// howLikely is how often a move without an answer comes.
func howLikely(s *fact.Side, u *fact.Unanswered) string { return words.HowLikely(u, s.Counted()).Text }

// tickPieces are a square to tick.
func tickPieces() []sheet.Piece {
	return []sheet.Piece{{Look: sheet.ToTick, S: "☐", Tied: true}}
}

func letterPieces(i int) []sheet.Piece {
	return []sheet.Piece{{Look: sheet.OnDisc, S: letter(i), Tied: true}}
}
