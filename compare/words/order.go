package words

import (
	"fmt"

	"foreply/compare/fact"
)

// Order says what another order of moves would do: 'after 1.d4 Nf6: 2.c4 allows
// their 2...e5 (7 in 10, 12 games); 2.Nf3 goes round it (they met it in 9 games)'.
func Order(o *fact.Order) Sentence {
	here := len(o.Line)
	var where Clause
	if here > 0 {
		where = say("after %s: ", moves(o.Line, 0))
	}
	if o.Kind == fact.TheirOrder {
		return Sentence{say("%swith %s at once (%s) they keep back %s: after your %s (%s), %s %s", where,
			move(o.Move, here), games(o.Games, "game"), move(o.Waits, here),
			move(o.Pet, here+1), games(o.Met, "game"), move(o.Other, here+2), often(Comes(o.P)))}
	}
	return Sentence{
		say("%s%s allows their %s (%s, %s%s); %s goes round it (they met it in %s)", where, move(o.Move, here), move(o.Pet, here+1),
			often(InN(o.P)), games(o.Games, "game"), made(", %s", o.Score, o.Expected), move(o.Other, here), games(o.Met, "game")),
		say(", and %s of their moves then come back to your book by %s", often(Tenths(o.Back)), move(o.Move, here+2)),
	}
}

// made is what the user's side made of games, beside what was to be expected of it,
// out of the opponent's score and expectation; nothing of games without a result.
func made(phrase string, s fact.Score, expected float64) Clause {
	n := s.Games() - s.Unknown
	if n == 0 {
		return nil
	}
	return say(phrase, say("your side made %s, %s expected", yours(s), Span{Kind: Score, Text: fmt.Sprintf("%.1f", float64(n)-expected)}))
}
