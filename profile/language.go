package profile

import (
	"foreply/fetch/pgn"
)

// Translate turns the piece letters of another language in the trees of games into
// English ones. The games are those of one file: it is read in one language, the one
// that has all its letters and in which most of it can be played; only where none has
// them all, each game in its own. A problem of the first game concerned says what
// was done, a note where no other language would do as well.
func Translate(games []*pgn.Game) {
	if fit := pgn.Languages(games...); len(fit) > 0 {
		translate(games, fit)
		return
	}
	for i := range games {
		if fit := pgn.Languages(games[i]); len(fit) > 0 {
			translate(games[i:i+1], fit)
		}
	}
}

// translate reads games in the best of the languages; of two as good, in the first.
func translate(games []*pgn.Game, fit []pgn.Language) {
	var best pgn.Language
	most, alone := yield(games, nil), true // English: letters that it hasn't can't be played
	for i := range fit {
		switch y := yield(games, &fit[i]); {
		case y > most || i == 0 && y == most:
			alone = y > most
			best, most = fit[i], y
		case y == most:
			alone = false
		}
	}
	if best.Name == "" {
		return
	}
	told := false
	for _, g := range games {
		if p, found := best.Foreign(g); found && !told {
			if alone {
				p.Severity = pgn.Note
			}
			g.Problems = append(g.Problems, p)
			told = true
		}
		best.Translate(g)
	}
}

// yield counts the moves that can be played when games are read in a language, nil
// for English, less those that can't.
func yield(games []*pgn.Game, l *pgn.Language) int {
	n := 0
	for _, g := range games {
		start, err := Start(g.Header())
		if err != nil {
			continue
		}
		read := *g
		if l != nil {
			read.Tree = l.Line(g.Tree)
		}
		line, problems := Replay(&read, start)
		n += played(line)
		for _, p := range problems {
			if p.Severity == pgn.Error {
				n--
			}
		}
	}
	return n
}

func played(l *Line) int {
	n := len(l.Moves)
	for i := range l.Moves {
		for _, v := range l.Moves[i].Variations {
			n += played(v)
		}
	}
	return n
}
