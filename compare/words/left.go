package words

import (
	"fmt"

	"foreply/compare/fact"
)

// Left says how their past games ran through the book; nothing of none.
func Left(l *fact.Left) Sentence {
	if l.Games == 0 {
		return nil
	}
	first := say("of %s, ", games(l.Games, "game"))
	join := ""
	for _, p := range []struct {
		n      int
		phrase string
	}{
		{l.Them, "they left in %s"}, {l.You, "the other side made a move that isn't yours in %s"},
		{l.Book, "your book had ended in %s"}, {l.Never, "%s never left it"},
	} {
		if p.n > 0 {
			first = append(first, say(join+p.phrase, number(p.n))...)
			join = ", "
		}
	}
	s := Sentence{first, say("; on average at move %s", Span{Kind: Number, Text: fmt.Sprintf("%.0f", l.Move)})}
	if l.Back > 0 {
		s = s.And(say("; %s came back by another move order", number(l.Back)))
	}
	return s
}
