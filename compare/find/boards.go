package find

import (
	"foreply/compare/book"
	"foreply/compare/fact"
	"foreply/compare/walk"
)

// Draw adds to boards what is drawn on them: where the last move came from, and the
// book's answer.
func Draw(boards []fact.Diagram, b *book.Book) {
	for i := range boards {
		d := &boards[i]
		t := walk.Resolved(d.Line)
		d.Origin = t.Origin()
		if answers := b.Answers(t.End.Key()); len(answers) > 0 {
			d.Arrow = answers[0].UCI()
		}
	}
}
