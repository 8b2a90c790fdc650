package words

import (
	"fmt"

	"foreply/compare/fact"
	"foreply/fetch/pgn"
)

// habits are the phrases for what they do often, and for what they do seldom;
// '12 of 40 games' goes into them.
var habits = map[string][2]string{
	fact.LongCastling:  {"castles long: in %s", ""},
	fact.LateCastling:  {"castles late or never: uncastled at move 20 in %s", "castles early: uncastled at move 20 in %s"},
	fact.EarlyQueens:   {"queens come off early: by move 20 in %s", "keeps the queens on: off by move 20 in %s"},
	fact.OppositeSides: {"castling on opposite sides: in %s", ""},
	fact.ShortDraw:     {"draws early: before move 25 in %s", ""},
	fact.LongGame:      {"long games: 60 moves or more in %s", "short games: 60 moves or more in %s"},
}

// About says a fact of the opponent.
func About(a *fact.About) Sentence {
	if phrases, ok := habits[a.Kind]; ok {
		return habitOften(a, phrases)
	}
	switch a.Kind {
	case fact.AgainstLower:
		return results(a, fmt.Sprintf("against players %d or more below them", a.Limit))
	case fact.InLongGames:
		return results(a, fmt.Sprintf("in games of %d moves or more", a.Limit))
	case fact.AtOnce:
		return atOnce(a)
	case fact.PlainRecord:
		return Sentence{say("against their %s your side made %s", Colour(a.Color), yours(a.Score))}.And(besideRatings(a.Rated))
	}
	return nil
}

func habitOften(a *fact.About, phrases [2]string) Sentence {
	phrase := phrases[1]
	if a.Above {
		phrase = phrases[0]
	}
	if phrase == "" { // seldom, where that tells nothing
		return nil
	}
	source := "usual"
	if a.Peers {
		source = "players like them"
	}
	return Sentence{say(phrase, of(a.K, a.N, gamesOf(a.Speed))), say(" (%s: %s)", source, often(InN(a.Usual)))}
}

// gamesOf is what the games of a speed are called.
func gamesOf(speed string) string {
	if speed == "" {
		return "game"
	}
	return Class(speed) + " game"
}

// results says where they did well or badly, in points of the side that you
// will have.
func results(a *fact.About, where string) Sentence {
	how := "did badly "
	if a.Above {
		how = "did well "
	}
	n := a.Score.Games() - a.Score.Unknown
	return Sentence{say(how+where+": the other side made %s, expected about %s",
		yours(a.Score), Span{Kind: Score, Text: fmt.Sprintf("%.0f", float64(n)-a.Expected)})}
}

func atOnce(a *fact.About) Sentence {
	if a.Above {
		return Sentence{
			say("usually instant to move %s", number(a.Move)),
			say(" (%s with clocks; others to move %s)", games(a.N, "fast game"), number(a.UsualMove)),
		}
	}
	return Sentence{
		say("thinks early, usually from move %s on", number(a.Move+1)),
		say(" (%s with clocks; others from move %s)", games(a.N, "fast game"), number(a.UsualMove+1)),
	}
}

// besideRatings says what a record is worth beside the ratings, for your side.
func besideRatings(r *fact.Rated) Clause {
	if r == nil {
		return nil
	}
	text := [...]string{"more than rated", "about as rated", "less than rated"}[r.Beside+1]
	if r.Beside != 0 {
		text += fmt.Sprintf(" (%.1f expected)", float64(r.Games)-r.Expected)
	}
	if r.All {
		return say(", " + text)
	}
	made := Span{Kind: Score, Text: fmt.Sprintf("%s of %d", Halves(float64(r.Games)-r.Points), r.Games)}
	return say("; %s %s, %s", List(r.List), made, text)
}

// List says where the games of a rating list were played.
func List(list string) string {
	switch list {
	case pgn.OverTheBoard:
		return "over the board"
	case pgn.Online:
		return "online"
	}
	return "at " + list
}

// RestsOn says how many games a fact rests on, where its sentence doesn't.
func RestsOn(a *fact.About) Clause {
	switch a.Kind {
	case fact.AgainstLower, fact.InLongGames:
		if n := a.Score.Games() - a.Score.Unknown; n == a.N {
			return nil
		}
		return say(" (%s)", games(a.N, "game"))
	}
	return nil
}
