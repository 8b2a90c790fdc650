package words

import (
	"testing"

	"foreply/compare/fact"
)

// Turned round, the same position is told from the other side.
func TestStructure(t *testing.T) {
	s := fact.Structure{
		Open: []string{"d"},
		White: fact.SideFacts{Men: fact.Men{Queens: 1, Rooks: 2, Bishops: 1, Knights: 2, Pawns: 7}, QueenSide: 3, KingSide: 4, Passed: []string{"e5"},
			King: fact.CastledShort},
		Black: fact.SideFacts{Men: fact.Men{Queens: 1, Rooks: 1, Bishops: 2, Knights: 2, Pawns: 5}, QueenSide: 4, KingSide: 1, Isolated: []string{"a6"},
			Doubled: []string{"c"}, Backward: []string{"c7"}, HalfOpen: []string{"e", "f"}, Bishops: true, King: fact.CastledLong},
	}
	for mine, want := range map[string]string{
		"white": "you have a rook and 2 pawns for a bishop; your majority 4 to 1 on the king's side, theirs 4 to 3 on the queen's side; yours: passed e5; " +
			"theirs: isolated a6, backward c7, doubled on c, half-open e f, bishop pair; open d; castled on opposite sides",
		"black": "you have a bishop for a rook and 2 pawns; your majority 4 to 3 on the queen's side, theirs 4 to 1 on the king's side; " +
			"yours: isolated a6, backward c7, doubled on c, half-open e f, bishop pair; theirs: passed e5; open d; castled on opposite sides",
	} {
		if got := Structure(&s, mine).String(); got != want {
			t.Errorf("%s: %q, want %q", mine, got, want)
		}
	}
	s = fact.Structure{White: fact.SideFacts{Men: fact.Men{Knights: 1}, KingSide: 2, QueenSide: 3, King: fact.MayCastle}, Black: fact.SideFacts{KingSide: 1, QueenSide: 1, King: fact.LostCastling}}
	for mine, want := range map[string]string{
		"white": "you are up a knight; your majority 3 to 1 on the queen's side and 2 to 1 on the king's side; theirs: castling lost; queens off",
		"black": "you are down a knight; their majority 3 to 1 on the queen's side and 2 to 1 on the king's side; yours: castling lost; queens off",
	} {
		if got := Structure(&s, mine).String(); got != want {
			t.Errorf("%s: %q, want %q", mine, got, want)
		}
	}
	if got := Structure(nil, "white"); got != nil {
		t.Errorf("of nothing: %q", got)
	}
}
