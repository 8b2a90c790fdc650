package words

import (
	"fmt"
	"path"
	"strings"

	"foreply/compare/fact"
	"foreply/fetch/pgn"
)

// Meeting says what the user made of a game between the two and when, then who left the
// book; the moves stand between the clauses.
func Meeting(g *fact.GameRow) Sentence {
	mine := "White"
	if g.Theirs == "white" {
		mine = "Black"
	}
	result := Span{Kind: Score, Text: YourScore(g)}
	head := say("%s with %s:", result, mine)
	if g.Date.Known() {
		head = say("%s with %s, %s:", result, mine, day(g.Date))
	}
	s := Sentence{head}
	if g.Answer != "" {
		return s.And(say(" – your book has %s", move(g.Answer, g.LeftPly)))
	}
	if left := HowLeft(g); len(left) > 0 {
		s = s.And(say(" – %s", left))
	}
	return s
}

// PlayedHead says what the user's side made of a game of theirs, when and against whom.
func PlayedHead(g *fact.PlayedGame) Clause {
	c := say("%s", Span{Kind: Score, Text: g.Yours})
	joined := " %s"
	if g.Date.Known() {
		c = append(c, say(" %s", day(g.Date))...)
		joined = ", %s"
	}
	if who := rival(g); who != "" {
		c = append(c, say(joined, Span{Text: who})...)
	}
	if g.RivalElo > 0 {
		c = append(c, say(" %s", number(g.RivalElo))...)
	}
	return append(c, say(":")...)
}

// rival is who had the user's side in a game of theirs; empty where nobody is named.
func rival(g *fact.PlayedGame) string {
	if g.Rival == "?" {
		return ""
	}
	return g.Rival
}

// Surname is what stands before the comma of a name as games have it; a handle as it is.
func Surname(name string) string {
	surname, _, _ := strings.Cut(name, ",")
	return surname
}

// PlayedTo says which position of a game of theirs a board shows: after which move, against
// whom, when, and what the user's side made of the game.
func PlayedTo(g *fact.PlayedGame) Clause {
	n := min(fact.ShownPlies, g.Plies) - 1
	c := say("%s", move(g.Moves[n], n))
	if who := rival(g); who != "" {
		c = say("%s %s", move(g.Moves[n], n), Span{Text: who})
	}
	if year := (pgn.Date{Year: g.Date.Year}); year.Known() {
		c = append(c, say(", %s", day(year))...)
	}
	return append(c, say(": %s", Span{Kind: Score, Text: g.Yours})...)
}

// PlayedLeft says who left the book in a game of theirs, and what the book plays there.
func PlayedLeft(g *fact.PlayedGame) Clause {
	n := min(g.LeftPly, len(g.Moves)-1)
	switch {
	case g.LeftBy == fact.GameEnded || n < 0:
		return nil
	case g.LeftBy == fact.BookOver:
		return say("your book ends before %s", move(g.Moves[n], n))
	case g.LeftBy == fact.LeftByThem:
		return say("%s is not in your book", move(g.Moves[n], n))
	case g.Answer != "":
		return say("your book has %s", move(g.Answer, n))
	}
	return nil
}

// NewestAsides say beside the newest games which they are and whose points those are, and
// in fewer words the points alone.
func NewestAsides(along bool) []string {
	if !along {
		return []string{PointsAreYours}
	}
	return []string{"in your lines; " + PointsAreYours, "in your lines"}
}

// PlayThrough says which games of theirs are worth playing through for a line to expect,
// which stands before it: each by its file and number there, with its month and, if rivals are
// told, the surname of who had the user's side; games of the same file name it once. Told are
// those that came as far into the line as the first.
func PlayThrough(m *fact.ModelGames, rivals bool) Sentence {
	var s Sentence
	named := ""
	for i := range m.Games {
		g := &m.Games[i]
		if g.Deep < m.Games[0].Deep {
			continue
		}
		where := fmt.Sprint(g.Game)
		if g.File != named {
			named, where = g.File, strings.TrimSuffix(path.Base(g.File), path.Ext(g.File))+" "+where
		}
		joined := " %s"
		if i > 0 {
			joined = "; %s"
		}
		c := say(joined, Span{Kind: Place, Text: where})
		if month := (pgn.Date{Year: g.Date.Year, Month: g.Date.Month}); month.Known() {
			c = append(c, say(", %s", day(month))...)
		}
		if name := Surname(rival(&g.PlayedGame)); rivals && name != "" {
			c = append(c, say(", %s", Span{Text: name})...)
		}
		s = s.And(c)
	}
	return s
}

// BookDoubted says what is wrong with a move of the user's book that stands before it, and
// how often it comes.
func BookDoubted(a *fact.Again, mine string) Sentence {
	return Sentence{say("is your book's move: %s", AgainTail(a, mine)), say(" (%s)", oftenIn(a.Often, a.Line))}
}

// MeetingColumns are the date of a game between the two and what the user made of it.
func MeetingColumns(g *fact.GameRow) string {
	mine := "Black"
	if g.Theirs == "black" {
		mine = "White"
	}
	return fmt.Sprintf("%-11s  %1s with %s", Dated(g.Date), YourScore(g), mine)
}
