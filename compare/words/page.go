package words

import (
	"fmt"
	"path"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"foreply/compare/fact"
	"foreply/fetch/pgn"
)

// The titles of the sections, and the labels of the page.
const (
	Tonight       = "tonight"
	LinesToExpect = "lines to expect"
	YourAnswer    = "your answer"
	HowItGoesOn   = "how often · how it goes on"
	YouBegin      = "you begin"
	Boards        = "boards"
	NoAnswer      = "no answer yet"
	NoAnswerShort = "no answer"
	BetweenYou    = "between you"
	YourPlans     = "your plans"
	WatchFor      = "watch for"
	MoveOrder     = "move order"
	IfSurprised   = "if surprised"
	YourOptions   = "your options"
	ToPlayThrough = "games to play through"
	AboutThem     = "about them"
	TheyCanKnow   = "they can know"
	HowFar        = "how far your book goes"
	NewestGames   = "their newest games"
	ToWrite       = "to write"

	// On the terminal only.
	YouMet           = "you met"
	TheirGames       = "their games"
	OtherColour      = "with the other colour"
	WhatChanged      = "what changed"
	WhereItWentWrong = "where it went wrong"
	Mistakes         = "mistakes"
	FromFirstMove    = "from the first move"

	MoreLines = "moves"

	PointsAreYours = "your side's points"
	Expected       = "expect"
	Otherwise      = "or"
	ToPlay         = "play"
	ToAnswer       = "answer"
	Changed        = "changed"
)

// The blanks of the head, in reading order.
const (
	EventBlank = "event"
	RoundBlank = "round"
	BoardBlank = "board"
	DateBlank  = "date"
	ClockBlank = "clock"
)

// Unnamed stands where the opponent's name is not known.
const Unnamed = "your opponent"

// YouHave says the user's colour.
func YouHave(color string) string { return "you have " + Colour(color) }

// YouNeed says what the user needs; ” for nothing.
func YouNeed(need string) string {
	if need == "" {
		return ""
	}
	return "you need a " + need
}

// Laws is the reminder that every sheet carries (FIDE Laws of Chess 11.3.1), and
// EventRules what stands behind it.
const (
	Laws = "For study before the round. Notes are forbidden during play (FIDE Laws of Chess 11.3.1): " +
		"leave this sheet outside the playing venue."
	EventRules = "The event's own rules decide."
)

// HowToRead says what the figures and the lines of the page mean.
const HowToRead = "4 in 10 (2–6): of ten games with that choice about 4; eight times in ten the share lies between 2 and 6. " +
	"'1 in 12 games' counts all games in which you have this colour. The thicker a line, the more games come through."

// LeftOut names what found no room; ” for nothing.
func LeftOut(list string) string {
	if list == "" {
		return ""
	}
	return "Left out for want of room: " + list + "."
}

// Lost names a part of the page that found no room, or so many rows of it with their
// reach together, or so many details.
func Lost(title string, count int, reach float64, details int) string {
	switch {
	case details > 0 && count == 0:
		return fmt.Sprintf("%s (%s)", title, Plural(details, "detail"))
	case count == 0:
		return title
	case title == MoreLines:
		return fmt.Sprintf("%s (lines together %s)", Plural(count, "move"), InN(reach))
	case reach > 0:
		return fmt.Sprintf("%s (%d more, together %s)", title, count, InN(reach))
	}
	return fmt.Sprintf("%s (%d more)", title, count)
}

// Expect says what to expect tonight, or the other way: the moves, of a second line from
// where they part from the first; how often; the opening; what the user plays.
func Expect(t *fact.Task, stem []string) Sentence {
	ply := len(t.Moves)
	if len(t.Choices) > 0 {
		return noneStandsOut(t)
	}
	if ply == 0 {
		return Sentence{say("anything: go through your main lines")}
	}
	s := Sentence{moves(t.Moves, 0)}
	if len(stem) > 0 {
		s = Sentence{parted(t.Moves, stem)}
	}
	switch {
	case t.Often != nil:
		s = s.And(say(" · %s", often(InTenths(t.Often))))
	case t.Of > 0:
		s = s.And(say(" · in %s", of(t.Played, t.Of, "game")))
	}
	if t.Peers {
		s = s.And(say(" · as players like them do"))
	}
	if t.Answer != "" {
		s = s.And(say(" · you play %s", move(t.Answer, ply)))
	}
	if t.Name != "" {
		s = s.And(say(" · %s", t.Name))
	}
	return s
}

// noneStandsOut names the likeliest moves where none is likely alone.
func noneStandsOut(t *fact.Task) Sentence {
	var list Clause
	for i, c := range t.Choices {
		if i > 0 {
			list = append(list, Span{Text: ", "})
		}
		list = append(list, move(c.Move, len(t.Moves)))
		if c.P > 0 {
			list = append(list, say(" %s", often(Rate(c.P)))...)
		}
	}
	s := Sentence{list}
	if t.Of > 0 {
		s = s.And(say(" · no move twice in %s", games(t.Of, "game")))
	}
	if len(t.Moves) > 0 {
		s = s.And(say(" · after %s", moves(t.Moves, 0)))
	}
	if t.Peers {
		s = s.And(say(" · as players like them do"))
	}
	return s
}

// Play says the user's answer to the line to expect, and how far it is prepared.
func Play(t *fact.Task) Sentence {
	if len(t.Moves) == 0 {
		return nil
	}
	s := Sentence{Clause{last(t.Moves)}}
	if t.Depth > 0 {
		s = s.And(say(" · prepared to about move %s", number(int(t.Depth+0.5))))
	}
	return s
}

// MoreToAnswer counts the gaps that tonight doesn't name.
func MoreToAnswer(n int) Clause {
	if n <= 0 {
		return nil
	}
	return say(" · %s more", number(n))
}

// InGames says how often something comes in all games with the opponent: '4 in 10 games',
// '1 in 12 games'. A share at its place has no 'games'.
func InGames(p float64) string {
	if p >= always {
		return "nearly every game"
	}
	return InN(p) + " games"
}

// InTenths says a reach with its interval in few words: '4 in 10 games (2–6)', '1 in 12 games'; of one
// hardly known it counts the games.
func InTenths(o *fact.Often) string {
	text := InGames(o.P)
	switch {
	case o.Hardly && o.Of == 0:
		return text
	case o.Hardly:
		return fmt.Sprintf("hardly known: in %d of %s", o.Games, Plural(o.Of, "game"))
	}
	if o.P < tellTens || o.P >= always || o.TenLo >= o.TenHi {
		return text
	}
	return fmt.Sprintf("%s (%d–%d)", text, o.TenLo, o.TenHi)
}

// Points of your side in so many games: '3 of 6', '2½ of 7'.
func pointsOf(s fact.Score) Span {
	n := s.Games() - s.Unknown
	if n == 0 {
		return Span{Kind: Score, Text: "–"}
	}
	return Span{Kind: Score, Text: fmt.Sprintf("%s of %d", Sum(s.Yours()), n)}
}

// Answers are how others met a move of theirs after so many plies, each with the points
// of the user's side: '3.d4 2 of 6, 3.Nf3 1 of 2'.
func Answers(list []fact.Met, ply int) Sentence {
	var s Sentence
	for i, m := range list {
		phrase := "%s %s"
		if i > 0 {
			phrase = ", %s %s"
		}
		s = s.And(say(phrase, move(m.Move, ply), pointsOf(m.Score)))
	}
	return s
}

// SheetTitle is a document's title.
func SheetTitle(name string) string {
	if name == "" {
		return "Preparation"
	}
	return "Preparation for " + name
}

// WithColourOf says of which colour of the user's something is told.
func WithColourOf(color, text string) string { return "with " + Colour(color) + ": " + text }

// Rating says a rating with its list and day.
func Rating(r fact.Rating) string {
	s := UndatedRating(r)
	if r.Date.Known() {
		s += ", " + Date(r.Date)
	}
	return s
}

// UndatedRating says a rating with its list.
func UndatedRating(r fact.Rating) string { return fmt.Sprintf("%d %s", r.Value, r.List) }

// Capital begins a sentence.
func Capital(s string) string {
	r, n := utf8.DecodeRuneInString(s)
	if n == 0 {
		return ""
	}
	return string(unicode.ToUpper(r)) + s[n:]
}

// AsSentence begins a note with a capital and ends it with a full stop, since others
// follow in the line.
func AsSentence(s string) string {
	s = Capital(strings.TrimSpace(s))
	if s == "" || strings.ContainsAny(s[len(s)-1:], ".!?") {
		return s
	}
	return s + "."
}

// theirs is the colour the opponent has against a side.
func theirs(mine string) string {
	if mine == "black" {
		return "White"
	}
	return "Black"
}

// Played counts the opponent's games with the colour they will have.
func Played(s *fact.Side) string {
	text := fmt.Sprintf("with %s %s games", theirs(s.MyColor), Thousands(s.Games))
	if s.Games == 1 {
		text = "with " + theirs(s.MyColor) + " 1 game"
	}
	if s.Slow > 0 {
		text += fmt.Sprintf(", %s slow", Thousands(s.Slow))
	}
	return text + Last(s.Last)
}

// NoGames says that none with their colour was found.
func NoGames(s *fact.Side) string {
	return fmt.Sprintf("no game of theirs with %s was found", theirs(s.MyColor))
}

// AllGames heads the games of an opponent who has few.
func AllGames(s *fact.Side) string {
	return fmt.Sprintf("all their games with %s", theirs(s.MyColor))
}

// YourRecord counts the games with a colour of theirs and what your side made of them.
func YourRecord(s *fact.Side) Clause {
	if s.Score.Games()-s.Score.Unknown == 0 {
		return Clause{games(s.Games, "game")}
	}
	return say("%s, your side %s", games(s.Games, "game"), yours(s.Score))
}

// Sources names the files with their games, the names taken, what was left out, the book
// and the day.
func Sources(r *fact.Report) string {
	var parts []string
	add := func(lead string, list []string) {
		if len(list) > 0 {
			parts = append(parts, lead+strings.Join(list, ", "))
		}
	}
	var list []string
	for _, s := range r.Basis.Sources {
		list = append(list, fmt.Sprintf("%s %s of %s", path.Base(s.Name), Thousands(s.Games), Thousands(s.Read)))
	}
	add("sources: ", list)
	add("your book: ", bookFiles(r.Sides))
	if r.Basis.AsOf.Known() {
		parts = append(parts, "made for "+Date(r.Basis.AsOf))
	}
	add("names: ", r.Opponent.Names)
	list = nil
	for _, o := range r.Basis.LeftOut {
		list = append(list, fmt.Sprintf("%s %s", Thousands(o.Games), o.Reason))
	}
	add("not counted: ", list)
	return AsSentence(strings.Join(parts, "; "))
}

// bookFiles are the repertoire files of all sides, each once.
func bookFiles(sides []fact.Side) []string {
	var files []string
	for i := range sides {
		for _, f := range sides[i].Book.Files {
			if f = path.Base(f); !slices.Contains(files, f) {
				files = append(files, f)
			}
		}
	}
	return files
}

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
	if left := HowLeft(g); len(left) > 0 {
		s = s.And(say(" – %s", left))
	}
	return s
}

// PlayedHead says what the user's side made of a game of theirs, when and against whom.
func PlayedHead(g *fact.PlayedGame) Clause {
	who := Clause{{Text: g.Rival}}
	if g.RivalElo > 0 {
		who = say("%s %s", who[0], number(g.RivalElo))
	}
	result := Span{Kind: Score, Text: g.Yours}
	if !g.Date.Known() {
		return say("%s %s:", result, who)
	}
	return say("%s %s, %s:", result, day(g.Date), who)
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

// PlayThrough says which game of theirs is worth playing through for a line to expect: the
// line's last move, the file with the game's number, the month.
func PlayThrough(m *fact.ModelGames) Clause {
	g := &m.Games[0]
	file := strings.TrimSuffix(path.Base(g.File), path.Ext(g.File))
	where := Span{Kind: Place, Text: fmt.Sprintf("%s %d", file, g.Game)}
	if month := (pgn.Date{Year: g.Date.Year, Month: g.Date.Month}); month.Known() {
		return say("%s %s, %s", last(m.Line), where, day(month))
	}
	return say("%s %s", last(m.Line), where)
}

// Numeral is a number that stands for a note.
func Numeral(n int) string { return fmt.Sprint(n) }

// BookDoubted says what is wrong with a move of the user's book that stands before it, and
// how often it comes.
func BookDoubted(a *fact.Again, mine string) Sentence {
	return Sentence{say("is your book's move: %s", AgainTail(a, mine)), say(" (%s)", often(InGames(a.Reach)))}
}

// usualSetUp says which moves are most common in the user's book.
func usualSetUp(sans []string) Clause {
	if len(sans) == 0 {
		return nil
	}
	return say("Your usual set-up: %s", bareList(sans))
}

// noteFrom says where the user's nearest note stands, which follows.
func noteFrom(s *fact.Surprise) Clause {
	if len(s.NoteLine) == 0 {
		return say("Your note at the head of the chapter: ")
	}
	return say("Your note at %s: ", last(s.NoteLine))
}

// Coverage says how far the book reaches, in games of a hundred. It names the first moves
// at which an answer begins to fail, and what was too rare to follow.
func Coverage(side *fact.Side) Sentence {
	const most, whole = 4, 97
	var s Sentence
	for _, c := range side.Coverage {
		switch {
		case c.Of100 > whole || len(s) == most:
		case len(s) == 0:
			s = s.And(say("you still have an answer at move %s in %s of 100 such games", number(c.Move), number(c.Of100)))
		default:
			s = s.And(say(", at %s in %s", number(c.Move), number(c.Of100)))
		}
	}
	return s.And(rare(side, len(s) > 0))
}

func rare(side *fact.Side, behind bool) Clause {
	text := Rare(side.Other, side.Threshold)
	switch {
	case text == "":
		return nil
	case behind:
		return say("; %s", text)
	}
	return say("%s", text)
}

// SoFar says how past games ran through the book.
func SoFar(l *fact.Left) Sentence {
	s := Left(l)
	if len(s) == 0 {
		return nil
	}
	return append(Sentence{append(say("so far: "), s[0]...)}, s[1:]...)
}

// BoardIn says in few words how often a board's position comes.
func BoardIn(d *fact.Diagram) Span {
	if d.Counted {
		return BoardOften(d)
	}
	return often(InGames(d.Reach))
}

// BestMoves are an engine's best moves after so many plies.
func BestMoves(best []fact.Evaluated, ply int, mine string) Sentence {
	var s Sentence
	for i := range best {
		phrase := "best %s (%s)"
		if i > 0 {
			phrase = "or %s (%s)"
		}
		s = s.And(say(phrase, moves(best[i].Moves, ply), Span{Kind: Score, Text: Eval(&best[i], mine)}))
	}
	return s
}

// GameToCome tells what is known of the game to come.
func GameToCome(h *fact.Heading) string {
	var parts []string
	for _, p := range []string{h.Event, led("round ", h.Round), led("board ", h.Board), dated(h.Date), led("clock ", h.Clock), YouNeed(h.Need)} {
		if p != "" {
			parts = append(parts, p)
		}
	}
	return strings.Join(parts, "; ")
}

func led(lead, text string) string {
	if text == "" {
		return ""
	}
	return lead + text
}

func dated(d pgn.Date) string {
	if !d.Known() {
		return ""
	}
	return Date(d)
}

// MeetingColumns are the date of a game between the two and what the user made of it.
func MeetingColumns(g *fact.GameRow) string {
	mine := "Black"
	if g.Theirs == "black" {
		mine = "White"
	}
	return fmt.Sprintf("%-11s  %1s with %s", dated(g.Date), YourScore(g), mine)
}

// GameColumns are the date of a game of theirs, what the user's side made of it, and the
// other player's rating.
func GameColumns(g *fact.GameRow) string {
	rating := "-"
	if g.Elo > 0 {
		rating = fmt.Sprint(g.Elo)
	}
	return fmt.Sprintf("%-11s  %1s  %4s", dated(g.Date), YourScore(g), rating)
}

// SeeBelow refers to a parting by its letter.
func SeeBelow(key string) string { return "see " + key }

// ExitWhole says how often a line comes and why it ends, with the evaluation if there is
// one.
func ExitWhole(x *fact.Exit, mine string) Sentence {
	s := Sentence{say("%s; %s", often(OneIn(x.Reach)), Exit(x))}
	if x.Best != nil && (x.Kind == fact.BookEnds || x.Kind == fact.LimitInBook) {
		s = s.And(say(" at %s", Span{Kind: Score, Text: Eval(x.Best, mine)}))
	}
	return s
}

// RestsOnGames says what the frequency of a move rests on, unless that stands in its place,
// and when it was last played; then what a way back is worth.
func RestsOnGames(b *fact.Branch) Sentence {
	var s Sentence
	if b.Share.Seen > 0 && !b.Share.Hardly {
		s = s.And(Clause{of(b.Share.Seen, b.Share.Of, "game")})
	}
	if b.Share.Seen > 0 {
		s = s.And(behindOthers(s, lastOn("last %s", b.Last)))
	}
	for i, c := range Back(b.Back) {
		if i == 0 {
			c = behindOthers(s, c)
		}
		s = s.And(c)
	}
	return s
}

// behindOthers joins a clause to those before it, if there are any.
func behindOthers(s Sentence, c Clause) Clause {
	if len(s) == 0 || len(c) == 0 {
		return c
	}
	return say("; %s", c)
}

// Surprised are what helps when they leave early: the usual set-up, moves that lead back,
// the nearest note.
func Surprised(sp *fact.Surprise) []Sentence {
	var list []Sentence
	if c := usualSetUp(sp.SetUp); len(c) > 0 {
		list = append(list, Sentence{c})
	}
	for i := range sp.Returns {
		list = append(list, WayBack(&sp.Returns[i]))
	}
	if sp.Note != "" {
		list = append(list, Sentence{append(noteFrom(sp), Span{Kind: Own, Text: sp.Note})})
	}
	return list
}

// Gap says all that is known of a move without an answer, but its line.
func Gap(u *fact.Unanswered, few bool, mine string) Sentence {
	var s Sentence
	add := func(more Sentence) {
		for i, c := range more {
			if i == 0 && len(s) > 0 {
				c = say("; %s", c)
			}
			s = s.And(c)
		}
	}
	add(Unanswered(u, few))
	add(BestMoves(u.Best, len(u.Line), mine))
	add(Met(u.Others, len(u.Line)))
	add(Sentence{}.And(Apart(u)))
	add(PeersMet(u))
	add(Sentence{}.And(SetUp(u)))
	return s
}

// RestsOnLine says what a page rests on, with the games of its colour if it is one; the
// games between the two stand elsewhere on it.
func RestsOnLine(b *fact.Basis, one *fact.Side) Sentence {
	rest := *b
	rest.Meetings = nil
	s := Basis(&rest)
	if len(s) > 0 && len(s[0]) > 0 {
		s[0][0].Text = Capital(s[0][0].Text)
	}
	if one != nil && one.Games > 0 {
		s = s.And(say("; %s", WithColour(one)))
	}
	return s
}

// WithColour is what the head says of one colour: their games with it and what the user's
// side made of them.
func WithColour(s *fact.Side) Clause {
	n := s.Score.Games() - s.Score.Unknown
	if n == 0 {
		return say("with %s %s", theirs(s.MyColor), games(s.Games, "game"))
	}
	return say("with %s %s, your side made %s", theirs(s.MyColor), games(s.Games, "game"), yours(s.Score))
}

// NoteMark is how the lines refer to a note by its number.
func NoteMark(n int) Span { return Span{Kind: Number, Text: fmt.Sprintf("note %d", n)} }

// AsAfter says that a row goes on as another one does.
func AsAfter(label string) Clause { return say("as after %s", label) }

// AfterMove heads a note or a board.
func AfterMove(line []string) Clause { return say("after %s", last(line)) }

// BranchEnds says how the line of a row ends, with the evaluation if there is one; nothing
// where it goes on.
func BranchEnds(b *fact.Branch, mine string) Clause {
	text := branchEnds(b)
	if text == "" {
		return nil
	}
	if b.Best != nil {
		return say("%s at %s", text, Span{Kind: Score, Text: Eval(b.Best, mine)})
	}
	return say(text)
}

func branchEnds(b *fact.Branch) string {
	switch b.State {
	case fact.NoAnswer:
		return NoAnswer
	case fact.BookIsOver:
		return "book had ended"
	case fact.Returns:
		return "back in book"
	}
	if b.Next >= 0 {
		return ""
	}
	switch b.EndsWith {
	case fact.TheyLeave:
		return "they leave your book"
	case fact.BookEnds:
		return "book ends"
	case fact.LimitInBook:
		return "still in book"
	case fact.GameOver:
		return "game over"
	}
	return ""
}

// PeersAnswer is how players like them met a move of theirs, in few words.
func PeersAnswer(u *fact.Unanswered) Clause {
	var c Clause
	for _, clause := range PeersMet(u) {
		c = append(c, clause...)
	}
	return c
}

// YourSetUp says what the user usually plays in the family of an unanswered move.
func YourSetUp(sans []string) Clause {
	if len(sans) == 0 {
		return nil
	}
	return say("Your set-up: %s", bareList(sans))
}

// SeenIn says how often they played an unanswered move, and when last: '7 of 31 games,
// last Sep 2026'.
func SeenIn(u *fact.Unanswered) Clause {
	return append(Clause{Seen(u)}, lastOn(", last %s", u.Last)...)
}

// Language is that of these words, as a document names it (RFC 3066).
const Language = "en"

// The columns and the foot of a field's pages.
const (
	FieldPlayer    = "board, player, games"
	HowToReadField = "4 in 10: of ten games in which they have that choice. 1 in 20 behind a line: how often the game comes there if you play your book."
)

// IfYouHave heads what to do with a colour.
func IfYouHave(color string) string { return "if you have " + Colour(color) }

// Players counts the players of a field, and the pages where there are several.
func Players(n, page, of int) string {
	text := Plural(n, "player")
	if of > 1 {
		text += fmt.Sprintf(", page %d of %d", page, of)
	}
	return text
}

// Found says how many games of a player were found, and when the last was.
func Found(n int, last pgn.Date) string { return Thousands(n) + plainGames(n) + Last(last) }

func plainGames(n int) string {
	if n == 1 {
		return " game"
	}
	return " games"
}

// fewChoices are the moves of theirs that a field names.
const fewChoices = 3

// FirstChoices are the likeliest moves of theirs at the first parting, or of few games what
// most of them did.
func FirstChoices(s *fact.Side) Sentence {
	if s.Counted() || len(s.Partings) == 0 {
		for i := range s.Tonight {
			if s.Tonight[i].Lead == fact.LeadExpect {
				return append(Sentence{say("%s: ", games(s.Games, "game"))}, Expect(&s.Tonight[i], nil)...)
			}
		}
		return nil
	}
	fk := &s.Partings[0]
	var out Sentence
	for i := range fk.Branches[:min(len(fk.Branches), fewChoices)] {
		br := &fk.Branches[i]
		c := say("%s %s", move(br.Move, len(fk.Stem)), often(InN(br.Share.P)))
		switch {
		case i > 0:
			c = say(", %s", c)
		case len(fk.Stem) > 0:
			c = say("after %s: %s", Movetext(fk.Stem, 0), c)
		}
		out = out.And(c)
	}
	return out
}

// mainPlies is how far a field tells the main line.
const mainPlies = 10

// MainLine is the likeliest line to expect, and how often it comes.
func MainLine(s *fact.Side) Sentence {
	x := &s.Exits[0]
	line := moves(x.Line[:min(len(x.Line), mainPlies)], 0)
	if len(x.Line) > mainPlies {
		line = append(line, Span{Text: " …"})
	}
	return Sentence{say("main %s", line), say(" · %s", often(InGames(x.Reach)))}
}

// Gaps are the likeliest moves of theirs without an answer.
func Gaps(s *fact.Side) Sentence {
	var out Sentence
	for i := range s.Unanswered[:min(len(s.Unanswered), fewChoices)] {
		u := &s.Unanswered[i]
		if len(u.Line) == 0 {
			continue
		}
		n := len(u.Line)
		c := say("%s %s", moves(u.Line[max(0, n-2):], max(0, n-2)), often(InGames(u.Reach)))
		if len(out) == 0 {
			c = say("no answer %s", c)
		} else {
			c = say("; %s", c)
		}
		out = out.And(c)
	}
	return out
}

// ChangedTo is Change under its name.
func ChangedTo(ch *fact.Change) Sentence {
	s := Change(ch)
	s[0] = say("changed: %s", s[0])
	return s
}
