package words

import (
	"fmt"
	"slices"

	"foreply/compare/fact"
)

// Order says what another order of moves would do: 'after 1.d4 Nf6: 2.c4 allows their
// 2...e5 (7 in 10 (5–8), 12 of 18 games); 2.Nf3 goes round it (they met it in 9 games)'.
func Order(o *fact.Order) Sentence {
	here := len(o.Line)
	var where Clause
	if here > 0 {
		where = say("after %s: ", moves(o.Line, 0))
	}
	if o.Kind == fact.TheirOrder {
		return Sentence{say("%s%s at once (%s) goes round %s: after %s (%s) %s comes %s", where,
			move(o.Move, here), games(o.Games, "game"), moves([]string{o.Waits, o.Pet}, here),
			move(o.Pet, here+1), games(o.Met, "game"), move(o.Other, here+2),
			odd(o.Share, slices.Concat(o.Line, []string{o.Move, o.Pet, o.Other})))}
	}
	share := Clause{odd(o.Share, slices.Concat(o.Line, []string{o.Move, o.Pet}))}
	if !o.Share.Hardly { // which counts
		share = say("%s, %s", share, Span{Kind: Number, Text: Counted(o.Share)})
	}
	return Sentence{
		say("%s%s allows their %s (%s%s); %s goes round it (they met it in %s)", where, move(o.Move, here), move(o.Pet, here+1),
			share, made(", %s", o.Score, o.Expected), move(o.Other, here), games(o.Met, "game")),
		say(", and %s is back in your book %s", move(o.Move, here+2), often(InN(o.Back))),
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
