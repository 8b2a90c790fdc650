package words

import "foreply/compare/fact"

// Shown says what they can know of you, most telling first; mine is the user's
// colour.
func Shown(s *fact.Shown, mine string) []Sentence {
	if s == nil {
		return nil
	}
	if s.Games == 0 {
		return []Sentence{{say("no game of yours with %s in the files: they can know nothing of it", Colour(mine))}}
	}
	var out []Sentence
	for i := range s.Habits {
		out = append(out, habit(&s.Habits[i]))
	}
	out = append(out, Sentence{say("of your %s on the lines to expect you have shown %s",
		games(s.Choices, "main choice"), number(s.Known))})
	for _, line := range s.Hidden {
		out = append(out, Sentence{say("never shown: %s", moves(line, 0))})
	}
	return out
}

func habit(h *fact.Habit) Sentence {
	played := mostPlayed([]fact.Played{{Move: h.Move, Games: h.N}}, len(h.Line), h.Of)
	s := Sentence{say("you opened %s", played)}
	if len(h.Line) > 0 {
		s = Sentence{say("after %s you played %s", parted(h.Line, nil), played)}
	}
	s = s.And(lastOn(", last %s", h.Last))
	if h.Book != "" {
		s = s.And(say("; your book's %s in %s", move(h.Book, len(h.Line)), number(h.BookN)))
	}
	return s
}

// Colour is a side as it stands in a sentence.
func Colour(color string) string {
	if color == "white" {
		return "White"
	}
	return "Black"
}
