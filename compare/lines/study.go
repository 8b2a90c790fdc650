package lines

import (
	"fmt"
	"io"
	"path"
	"slices"
	"strings"

	"foreply/compare/book"
	"foreply/compare/fact"
	"foreply/compare/walk"
	"foreply/compare/words"
	"foreply/fetch/pgn"
	"foreply/profile/board"
)

// WritePGN writes what one studies an evening from: of every side a chapter for each line to
// expect, the likeliest first, with the user's own notes and glyphs, how often it comes and
// why it ends; behind a move without an answer what others answered and how that went. Then
// their games to play through, whole. A comment stands once, where it is met first.
func WritePGN(r *fact.Report, w io.Writer, books []*book.Book) error {
	for i := range r.Sides {
		s := &r.Sides[i]
		for _, c := range Chapters(r, s, books[i]) {
			if err := pgn.WriteLine(w, c.Tags, c.Line, c.Result); err != nil {
				return err
			}
		}
	}
	return nil
}

// Chapter is a game of the study.
type Chapter struct {
	Tags   pgn.Tags
	Line   *pgn.Line
	Result string
}

// study makes the chapters of a side.
type study struct {
	rep  *fact.Report
	side *fact.Side
	book *book.Book
	told map[string]bool // comments that stand already
	gaps map[string]*fact.Unanswered
}

// Chapters are the lines to expect of a side, then the games to play through.
func Chapters(r *fact.Report, s *fact.Side, b *book.Book) []Chapter {
	st := study{rep: r, side: s, book: b, told: map[string]bool{"": true}, gaps: map[string]*fact.Unanswered{}}
	for i := range s.Unanswered {
		st.gaps[strings.Join(s.Unanswered[i].Line, " ")] = &s.Unanswered[i]
	}
	var out []Chapter
	for i := range s.Exits {
		if x := &s.Exits[i]; !passed(x, s.Exits) {
			out = append(out, st.chapter(x, len(out)+1))
		}
	}
	if len(out) > 0 && r.Engine != nil {
		out[0].Line.Comments = []string{words.Evaluations(r.Engine)}
	}
	for i := range s.ModelGames {
		for k := range s.ModelGames[i].Games {
			out = append(out, st.model(&s.ModelGames[i].Games[k]))
		}
	}
	return out
}

// passed reports whether another line goes on where one ends by a move not seen from them.
func passed(x *fact.Exit, exits []fact.Exit) bool {
	return len(x.Line) == 0 || x.Unseen && slices.ContainsFunc(exits, func(o fact.Exit) bool {
		return len(o.Line) > len(x.Line) && slices.Equal(o.Line[:len(x.Line)], x.Line)
	})
}

// chapter is a line to expect.
func (st *study) chapter(x *fact.Exit, number int) Chapter {
	t := walk.Resolved(x.Line)
	line := &pgn.Line{}
	for i, m := range t.Moves {
		n := pgn.Node{SAN: t.SANs[i], NAGs: slices.Clone(st.book.Glyphs(t.Keys[i], m))}
		st.add(&n, st.book.Note(t.Keys[i+1]))
		st.judged(&n, t.SANs[:i+1])
		line.Moves = append(line.Moves, n)
	}
	end := &line.Moves[len(line.Moves)-1]
	end.Comments = append(end.Comments, words.Exit(x)+": "+words.HowOften(x, st.side.Counted()))
	if x.Best != nil {
		end.Comments = append(end.Comments, words.EvalCommand(x.Best))
	}
	if u := st.gaps[strings.Join(x.Line, " ")]; u != nil {
		st.add(end, words.Best(u.Best, len(u.Line), st.side.MyColor))
		st.add(end, words.Apart(u).String())
		line.Moves = append(line.Moves, answers(u)...)
	}
	return Chapter{Tags: st.tags(x, number), Line: line}
}

// add adds a comment that says something, if it doesn't stand yet.
func (st *study) add(n *pgn.Node, text string) {
	if text = strings.TrimSpace(text); !st.told[text] {
		st.told[text] = true
		n.Comments = append(n.Comments, text)
	}
}

// judged adds what an engine found of the move at the end of a line: one of the book to
// look at again, or one of theirs and how to punish it.
func (st *study) judged(n *pgn.Node, line []string) {
	for i := range st.side.Again {
		if a := &st.side.Again[i]; slices.Equal(line, slices.Concat(a.Line, a.Played.Moves[:1])) {
			st.add(n, words.LookAgain(a, st.side.MyColor))
		}
	}
	for i := range st.side.Traps {
		if t := &st.side.Traps[i]; t.Best != nil && slices.Equal(line, t.Line) {
			st.add(n, words.Trap(t).String())
		}
	}
}

// answers are what others played against a move without an answer and how that went on: the
// commonest first, the others as variations.
func answers(u *fact.Unanswered) []pgn.Node {
	var main []pgn.Node
	for i := range u.Others {
		way := answer(&u.Others[i])
		if i == 0 {
			main = way
			continue
		}
		main[0].Variations = append(main[0].Variations, &pgn.Line{Moves: way})
	}
	return main
}

// answer is an answer of others with its count, and how most went on.
func answer(m *fact.Met) []pgn.Node {
	way := []pgn.Node{{SAN: m.Move, Comments: []string{words.MetIn(m)}}}
	for i := range m.Then {
		way = append(way, pgn.Node{SAN: m.Then[i].Move, Comments: []string{words.WentOnIn(&m.Then[i], i%2 == 1)}})
	}
	return way
}

// tags head a chapter.
func (st *study) tags(x *fact.Exit, number int) pgn.Tags {
	tags := append(st.players(), pgn.Tag{Name: "Event", Value: words.LinesTitle}, pgn.Tag{Name: "Round", Value: fmt.Sprint(number)},
		pgn.Tag{Name: "Date", Value: st.rep.Basis.AsOf.Tag()}, pgn.Tag{Name: "Annotator", Value: "foreply"})
	return opening(tags, x.ECO, x.Name)
}

// players have the colours of the game to come.
func (st *study) players() pgn.Tags { return st.colours(st.rep.Heading.Me) }

// colours puts who has the user's side beside the opponent.
func (st *study) colours(mine string) pgn.Tags {
	white, black := named(mine), named(st.rep.Opponent.Name)
	if st.side.MyColor == board.Black.String() {
		white, black = black, white
	}
	return pgn.Tags{{Name: "White", Value: white}, {Name: "Black", Value: black}}
}

func named(s string) string {
	if s == "" {
		return "?"
	}
	return s
}

// opening adds what an opening is called, as far as that is known.
func opening(tags pgn.Tags, eco, name string) pgn.Tags {
	return known(tags, pgn.Tag{Name: "ECO", Value: eco}, pgn.Tag{Name: "Opening", Value: name})
}

// known adds the tags that have a value.
func known(tags pgn.Tags, more ...pgn.Tag) pgn.Tags {
	for _, t := range more {
		if t.Value != "" {
			tags = append(tags, t)
		}
	}
	return tags
}

// model is a game of theirs, whole, with its tags and where it stands; where it left the
// book is said.
func (st *study) model(m *fact.ModelGame) Chapter {
	line := &pgn.Line{}
	for _, san := range m.Moves {
		line.Moves = append(line.Moves, pgn.Node{SAN: san})
	}
	if at := min(m.LeftPly, len(line.Moves)-1); at >= 0 {
		if text := words.PlayedLeft(&m.PlayedGame).String(); text != "" {
			line.Moves[at].Comments = []string{text}
		}
	}
	mine, theirs := "WhiteElo", "BlackElo"
	if st.side.MyColor == board.Black.String() {
		mine, theirs = theirs, mine
	}
	tags := known(st.colours(m.Rival), pgn.Tag{Name: "Event", Value: m.Event}, pgn.Tag{Name: "Site", Value: m.Site}, pgn.Tag{Name: "Round", Value: m.Round},
		pgn.Tag{Name: "Date", Value: m.Date.Tag()}, pgn.Tag{Name: "Result", Value: m.Result},
		pgn.Tag{Name: mine, Value: rating(m.RivalElo)}, pgn.Tag{Name: theirs, Value: rating(m.Elo)},
		pgn.Tag{Name: "Source", Value: fmt.Sprintf("%s:%d", path.Base(m.File), m.FileLine)})
	return Chapter{Tags: opening(tags, m.ECO, m.Opening), Line: line, Result: m.Result}
}

func rating(elo int) string {
	if elo == 0 {
		return ""
	}
	return fmt.Sprint(elo)
}
