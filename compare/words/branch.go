package words

import "foreply/compare/fact"

// ExitWhole says how often a line comes and why it ends, with the evaluation if there is
// one.
func ExitWhole(x *fact.Exit, mine string) Sentence {
	s := Sentence{say("%s; %s", oftenOf(x.Often(), x.Line), Exit(x))}
	if x.Best != nil && (x.Kind == fact.BookEnds || x.Kind == fact.LimitInBook) {
		s = s.And(say(" at %s", Span{Kind: Score, Text: Eval(x.Best, mine)}))
	}
	return s
}

// MoveOdds says how often the last move of a line, one of theirs, comes at its place.
func MoveOdds(line []string, b *fact.Branch) Span { return odd(b.Share, line) }

// RestsOnGames says what the frequency of a move rests on, unless that stands in its place,
// and when it was last played; then what a way back is worth.
func RestsOnGames(b *fact.Branch) Sentence {
	var s Sentence
	if b.Share.Seen > 0 && !b.Share.Hardly {
		s = s.And(Clause{{Kind: Number, Text: Counted(b.Share)}})
	}
	if b.Share.Seen > 0 {
		s = s.And(behindOthers(s, lastOn("last %s", b.Last)))
	}
	for i, c := range Back(b.Back) {
		if i == 0 {
			c = behindOthers(s, c)
		}
		s = s.And(c)
	}
	return s
}

// behindOthers joins a clause to those before it, if there are any.
func behindOthers(s Sentence, c Clause) Clause {
	if len(s) == 0 || len(c) == 0 {
		return c
	}
	return say("; %s", c)
}

// AsAfter says that a row goes on as another one does.
func AsAfter(label string) Clause { return say("as after %s", label) }

// AfterMove heads a note or a board.
func AfterMove(line []string) Clause { return say("after %s", last(line)) }

// BranchEnds says how the line of a row ends, with the evaluation if there is one; nothing
// where it goes on.
func BranchEnds(b *fact.Branch, mine string) Clause {
	text := branchEnds(b)
	if text == "" {
		return nil
	}
	if b.Best != nil {
		return say("%s at %s", text, Span{Kind: Score, Text: Eval(b.Best, mine)})
	}
	return say(text)
}

func branchEnds(b *fact.Branch) string {
	switch b.State {
	case fact.NoAnswer:
		return NoAnswer
	case fact.BookIsOver:
		return "book had ended"
	case fact.Returns:
		return "back in book"
	}
	if b.Next >= 0 {
		return ""
	}
	switch b.EndsWith {
	case fact.TheyLeave:
		return "they leave your book"
	case fact.BookEnds:
		return "book ends"
	case fact.LimitInBook:
		return "still in book"
	case fact.GameOver:
		return "game over"
	}
	return ""
}
