package main

import (
	"fmt"
	"slices"
	"strings"

	"github.com/notnil/chess"
)

// The blemishes of the slow games, such as real collections have.

// spoil adds them to the pages of the slow games, oldest first.
func spoil(pages []*page) ([]*page, error) {
	if err := mistype(pages); err != nil {
		return nil, err
	}
	return addForfeit(repeatCut(pages)), nil
}

// longGame finds the first game from an index on that has some half-moves.
func longGame(pages []*page, from, plies int) int {
	for i := from; i < len(pages); i++ {
		if len(pages[i].sans) >= plies {
			return i
		}
	}
	return len(pages) - 1
}

// mistype makes one move of one game illegal by a slip of the finger, late enough
// that the opening stays readable. The moves behind it remain in the text.
func mistype(pages []*page) error {
	const ply = 44
	p := pages[longGame(pages, 23, ply+10)]
	for at := ply; at < len(p.sans); at++ {
		pos, err := follow(p.sans[:at])
		if err != nil {
			return err
		}
		if wrong, ok := slip(pos, p.sans[at]); ok {
			p.sans = slices.Clone(p.sans)
			p.sans[at] = wrong
			return nil
		}
	}
	return fmt.Errorf("no move to mistype")
}

// slip looks for a neighbouring square to which no move goes that could be meant.
func slip(pos *chess.Position, san string) (string, bool) {
	if !strings.ContainsAny(san[:1], "NBRQ") || strings.ContainsAny(san, "x+#") {
		return "", false
	}
	piece, rank := san[:1], san[len(san)-1:]
	for _, file := range "abcdefgh" {
		square := string(file) + rank
		free := !slices.ContainsFunc(pos.ValidMoves(), func(m *chess.Move) bool { return m.S2().String() == square })
		if free {
			return piece + square, true
		}
	}
	return "", false
}

// repeatCut adds a second copy of a game as a live transmission left it: the other
// spelling of the opponent, fewer tags, the end missing.
func repeatCut(pages []*page) []*page {
	game := longGame(pages, 50, 60)
	p := pages[game]
	plies := min(50, len(p.sans))
	copied := *p
	copied.tags = slices.Clone(p.tags)
	copied.sans, copied.after, copied.end = p.sans[:plies], p.after[:plies], "*"
	for _, t := range p.tags {
		if t.value == themName {
			copied.set(t.name, themShort)
		}
	}
	copied.set("Result", "*")
	copied.set("Event", p.get("Event")+" (live)")
	copied.drop("TimeControl")
	copied.drop("ECO")
	return slices.Insert(pages, game+1, &copied)
}

// addForfeit adds a game won because the other player did not come.
func addForfeit(pages []*page) []*page {
	const after = 36 // the last match of a league season
	last := pages[after]
	p := &page{tags: slices.Clone(last.tags), before: "Not played: the other player didn't come.", end: "1-0"}
	other := clubPlayers[len(clubPlayers)-1]
	p.set("Date", "2025.04.18")
	p.set("Round", "8")
	p.set("WhiteTeam", "Weirside B")
	p.set("BlackTeam", "Copse End")
	p.set("White", themName)
	p.set("Black", other.name)
	p.set("BlackElo", fmt.Sprint(other.rating))
	p.set("Result", "1-0")
	p.set("Termination", "forfeit")
	p.drop("ECO")
	return slices.Insert(pages, after+1, p)
}
