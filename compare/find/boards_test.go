package find

import (
	"fmt"
	"testing"

	"foreply/compare/fact"
)

// On a board is drawn where the last move came from, and the book's answer where it has one.
func TestDraw(t *testing.T) {
	boards := []fact.Diagram{{Line: fields("e4 e5")}, {Line: fields("e4 c5")}, {Line: nil}}
	Draw(boards, bookOf(t, "1. e4 e5 2. Nf3 (2. Nc3) *"))
	if got := fmt.Sprint(boards[0].Origin, boards[0].Arrow, boards[1].Origin, boards[1].Arrow, boards[2].Origin, boards[2].Arrow); got != fmt.Sprint("e7", "g1f3", "c7", "", "", "e2e4") {
		t.Errorf("%s", got)
	}
}
