package words

import (
	"fmt"
	"strings"

	"foreply/compare/fact"
)

func Left(l *fact.Left) string {
	var parts []string
	for _, p := range []struct {
		n    int
		text string
	}{
		{l.Them, "they left in %d"}, {l.You, "the other side made a move that isn't yours in %d"},
		{l.Book, "your book had ended in %d"}, {l.Never, "%d never left it"},
	} {
		if p.n > 0 {
			parts = append(parts, fmt.Sprintf(p.text, p.n))
		}
	}
	text := fmt.Sprintf("of %s, %s; on average at move %.0f", Plural(l.Games, "game"), strings.Join(parts, ", "), l.Move)
	if l.Back > 0 {
		text += fmt.Sprintf("; %d came back by another move order", l.Back)
	}
	return text
}
