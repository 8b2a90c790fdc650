package words

import (
	"fmt"
	"strings"

	"foreply/compare/fact"
	"foreply/fetch/pgn"
)

// Kind says what a span of a sentence is, so that who prints it can set moves in
// bold, a note of the user's in oblique, or check a number.
type Kind uint8

const (
	Plain     Kind = iota // words of ours
	Move                  // a move, with its SAN and Ply
	Number                // how many: '2 of 3 games'
	Frequency             // how often: '5 in 10 (3–7)'
	Score                 // points: '4½ of 12'
	Day                   // a date
	Place                 // where it stands: 'white.pgn:12'
	Own                   // written by a player or in a game: never reworded
)

// Span is a piece of a sentence that is of one kind. Its text brings the blanks
// that belong to it.
type Span struct {
	Kind Kind
	Text string // as it reads behind the span before: 'c5' behind '1.e4', '1...c5' alone
	SAN  string // of a move
	Ply  int    // of a move: plies of the game before it; -1 for one that comes when it may
	Of   string // of a frequency of a line or a move: which; equal ones have equal figures
}

// Numbered is the text of a span at the start of a line: a move has its number
// there.
func (s Span) Numbered() string {
	if s.Kind == Move && s.Ply >= 0 {
		return Movetext([]string{s.SAN}, s.Ply)
	}
	return s.Text
}

// Clause is said whole or not at all. One that follows others begins with what
// joins it to them: '; last 2 Nov 2026'.
type Clause []Span

// Sentence is clauses, most wanted first: where room is short the last ones go.
type Sentence []Clause

// First is the sentence without all but its first n clauses.
func (s Sentence) First(n int) Sentence { return s[:min(n, len(s))] }

// Spans are those of all clauses.
func (s Sentence) Spans() []Span {
	var out []Span
	for _, c := range s {
		out = append(out, c...)
	}
	return out
}

// And adds clauses; those that say nothing are left away.
func (s Sentence) And(more ...Clause) Sentence {
	for _, c := range more {
		if len(c) > 0 {
			s = append(s, c)
		}
	}
	return s
}

func (s Sentence) String() string {
	var b strings.Builder
	for _, c := range s {
		b.WriteString(c.String())
	}
	return b.String()
}

func (c Clause) String() string {
	var b strings.Builder
	for _, span := range c {
		b.WriteString(span.Text)
	}
	return b.String()
}

// say makes a clause of a phrase that stands whole in one place: each %s in it
// takes the next of what: a Span, a Clause, or a string of our own words.
func say(phrase string, what ...any) Clause {
	parts := strings.Split(phrase, "%s")
	if len(parts) != len(what)+1 {
		panic(fmt.Sprintf("words: %q takes %d values, not %d", phrase, len(parts)-1, len(what)))
	}
	var c Clause
	for i, part := range parts {
		if part != "" {
			c = append(c, Span{Text: part})
		}
		if i == len(what) {
			break
		}
		switch w := what[i].(type) {
		case Span:
			c = append(c, w)
		case Clause:
			c = append(c, w...)
		case string:
			if w != "" {
				c = append(c, Span{Text: w})
			}
		default:
			panic(fmt.Sprintf("words: %T in %q", w, phrase))
		}
	}
	return c
}

// moves is a line of SAN with its numbers, after so many plies.
func moves(sans []string, ply int) Clause {
	var c Clause
	for i, san := range sans {
		text := Movetext([]string{san}, ply+i)
		if i > 0 {
			if (ply+i)%2 == 1 {
				text = san
			}
			c = append(c, Span{Text: " "})
		}
		c = append(c, Span{Kind: Move, Text: text, SAN: san, Ply: ply + i})
	}
	return c
}

// move is a single move with its number.
func move(san string, ply int) Span {
	return Span{Kind: Move, Text: Movetext([]string{san}, ply), SAN: san, Ply: ply}
}

// last is the last move of a line with its number.
func last(line []string) Span {
	if len(line) == 0 {
		return Span{Text: LastMove(nil)}
	}
	return move(line[len(line)-1], len(line)-1)
}

// games counts games, or other things by their noun.
func games(n int, noun string) Span { return Span{Kind: Number, Text: Plural(n, noun)} }

// of counts k of n: '2 of 3 games'.
func of(k, n int, noun string) Span {
	return Span{Kind: Number, Text: fmt.Sprintf("%d of %s", k, Plural(n, noun))}
}

func number(n int) Span { return Span{Kind: Number, Text: fmt.Sprint(n)} }

func often(text string) Span { return Span{Kind: Frequency, Text: text} }

// oftenOf tells how often a line comes, oftenIn without the interval; odd and oddIn do so
// of a share of its last move among those at its place.
func oftenOf(o fact.Often, line []string) Span { return event(Often(o), "reach", line) }
func oftenIn(o fact.Often, line []string) Span { return event(OftenIn(o), "reach", line) }
func odd(s fact.Share, line []string) Span     { return event(Odds(s), "share", line) }
func oddIn(s fact.Share, line []string) Span   { return event(OddsIn(s), "share", line) }

func event(text, what string, line []string) Span {
	return Span{Kind: Frequency, Text: text, Of: what + " of " + Movetext(line, 0)}
}

func day(date pgn.Date) Span { return Span{Kind: Day, Text: Date(date)} }

// yours is the score of the user's side out of the opponent's: '4½ of 12'.
func yours(s fact.Score) Span { return Span{Kind: Score, Text: Points(s.Yours())} }

// lastOn says when something was last, if that is known.
func lastOn(phrase string, date pgn.Date) Clause {
	if !date.Known() {
		return nil
	}
	return say(phrase, day(date))
}

// parted is a line from where it parts from the stem that the reader has seen, in
// full or cut in its middle.
func parted(line, stem []string) Clause { return tail(line, fact.Parts(line, stem)) }

// Strings are sentences as text.
func Strings(list []Sentence) []string {
	out := make([]string, len(list))
	for i, s := range list {
		out[i] = s.String()
	}
	return out
}
