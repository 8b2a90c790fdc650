package find

import (
	"slices"

	"foreply/compare/book"
	"foreply/compare/fact"
	"foreply/compare/walk"
	"foreply/profile"
)

// Between are games in which a rival is looked for: the opponent's with the user,
// or the user's own with the opponent.
type Between struct {
	Games []profile.Game
	Rival func(name string) bool // nil: not known, none is found
}

// Meetings returns all games between the two, newest first: those among the
// opponent's games, and those that only the user's own files have.
func Meetings(theirs, own Between, books []*book.Book) []fact.GameRow {
	var found []*profile.Game
	add := func(from Between) {
		if from.Rival == nil {
			return
		}
		for i := range from.Games {
			g := &from.Games[i]
			if from.Rival(g.Rival().Name) && !slices.ContainsFunc(found, func(o *profile.Game) bool { return sameMeeting(o, g) }) {
				found = append(found, g)
			}
		}
	}
	add(theirs)
	first := len(found)
	add(own)
	rows := make([]fact.GameRow, len(found))
	for i, g := range found {
		fromYou := i >= first // read from the user's side
		rows[i] = meeting(books, g, fromYou)
	}
	slices.SortStableFunc(rows, func(a, b fact.GameRow) int { return b.Date.Compare(a.Date) })
	return rows
}

// meeting is the row of a game between the two, beside today's book for the
// colour the user had; fromYou says that the game's own side is the user.
func meeting(books []*book.Book, g *profile.Game, fromYou bool) fact.GameRow {
	mine := g.Theirs.Other()
	if fromYou {
		mine = g.Theirs
	}
	row := Row(g)
	if i := slices.IndexFunc(books, func(b *book.Book) bool { return b.Mine == mine }); i >= 0 {
		row = rowOf(books[i], nil, g)
		row.Answer = answerTo(books[i], g, row.LeftBy, row.LeftPly)
	}
	row.Moves = walk.NewTrack(g.Moves[:min(len(g.Moves), max(rowMoves, row.LeftPly+1))]).SANs
	if fromYou {
		row.Theirs, row.Score, row.Elo = mine.Other().String(), otherPoints(row.Score), g.Elo
	}
	return row
}

// MetScore is their score in games between the two, in those with a colour of theirs if one
// is given.
func MetScore(rows []fact.GameRow, theirs string) fact.Score {
	var s fact.Score
	for i := range rows {
		if theirs != "" && rows[i].Theirs != theirs {
			continue
		}
		switch rows[i].Score {
		case "1":
			s.Wins++
		case "½":
			s.Draws++
		case "0":
			s.Losses++
		default:
			s.Unknown++
		}
	}
	return s
}

// sameMeeting takes two records of one game for one: the same moves as far as
// both go, and no contradiction of the dates.
func sameMeeting(a, b *profile.Game) bool {
	n := min(len(a.Moves), len(b.Moves))
	return slices.Equal(a.Moves[:n], b.Moves[:n]) && !a.Date.Contradicts(b.Date)
}
