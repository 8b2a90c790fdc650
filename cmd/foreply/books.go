package main

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"foreply/compare/book"
	"foreply/compare/words"
	"foreply/fetch"
	"foreply/fetch/pgn"
	"foreply/profile"
	"foreply/profile/board"
)

// brokenBook is the error of a repertoire with moves that can't be read.
type brokenBook struct {
	color    board.Color
	problems []pgn.Problem
}

func (b *brokenBook) Error() string {
	return fmt.Sprintf("the repertoire for %s has %s that can't be played", b.color, words.Plural(len(b.problems), "move"))
}

// readBooks reads the user's repertoires. A move in them that can't be played costs
// its line and is told here and at the foot of the page; with --strict it is an
// error.
func (a *app) readBooks(t *task) ([]*book.Book, error) {
	var books []*book.Book
	var soft []pgn.Problem
	for _, c := range t.mine {
		book, problems, err := a.readBook(c, t.books[c], t.first)
		if err != nil {
			return nil, err
		}
		broken := brokenMoves(book)
		if len(broken) > 0 && t.strict {
			return nil, advise(&brokenBook{c, broken}, checkHint)
		}
		a.tellBroken(c, broken)
		a.tellOtherColor(book)
		a.tellRivals(book, t.books[c])
		books = append(books, book)
		soft = append(soft, problems...)
	}
	a.tellSoft(soft)
	return books, checkFirst(t, books)
}

const checkHint = "'foreply check' reads the repertoire alone and lists all there is to mend"

// brokenMoves are the moves of a repertoire that can't be played.
func brokenMoves(b *book.Book) []pgn.Problem {
	var broken []pgn.Problem
	for _, p := range b.Problems {
		if p.Severity == pgn.Error {
			broken = append(broken, p)
		}
	}
	return broken
}

// tellBroken tells what is missing of the sheet for moves that can't be played.
func (a *app) tellBroken(c board.Color, broken []pgn.Problem) {
	if len(broken) == 0 {
		return
	}
	a.say.excerpts("warning", broken, mostShown)
	a.say.warn("%v; the lines behind them are missing from the sheet", &brokenBook{c, broken})
	a.say.hint(checkHint)
	a.say.hint("with --strict such a move stops the sheet")
}

// typedByHand are the kinds of problems that texts typed by hand have on every other
// line.
var typedByHand = []pgn.Kind{pgn.Guess, pgn.ForeignLetters, pgn.StrayText, pgn.StrayOpen, pgn.StrayClose}

// tellSoft tells what was wrong with the repertoires and cost no move: what comes
// of typing by hand as a sum.
func (a *app) tellSoft(soft []pgn.Problem) {
	var typed, other []pgn.Problem
	for _, p := range soft {
		if slices.Contains(typedByHand, p.Kind) && !a.say.verbose {
			typed = append(typed, p)
		} else {
			other = append(other, p)
		}
	}
	a.say.excerpts("warning", other, mostShown)
	if len(typed) > 0 {
		a.say.warn("%s of your repertoire read as a guess or passed over; first: %v", words.Plural(len(typed), "place"), typed[0])
		a.say.hint("'foreply check' lists them all")
	}
}

// readBook reads the repertoire for a colour, and returns what was wrong with it
// that cost no move.
func (a *app) readBook(c board.Color, files, first []string) (*book.Book, []pgn.Problem, error) {
	book := book.New(c)
	book.First = func(chapter, file string) bool { return rankOf(first, chapter, file) < len(first) }
	var chapters []*pgn.Game
	stray, err := a.readChapters(files, func(g *pgn.Game) { chapters = append(chapters, g) })
	if err != nil {
		return nil, nil, err
	}
	addInOrder(book, chapters, first)
	var soft []pgn.Problem
	for _, p := range append(stray, book.Problems...) {
		if p.Severity == pgn.Warning {
			soft = append(soft, p)
		}
	}
	if len(book.Chapters) == 0 {
		return nil, nil, advise(fmt.Errorf("no games in %s", strings.Join(files, ", ")),
			"a repertoire is a PGN file with a game for each chapter; was the export saved?")
	}
	if broken := brokenMoves(book); book.Positions() == 0 && len(broken) > 0 {
		return nil, nil, advise(&brokenBook{c, broken}, checkHint)
	}
	if book.Positions() == 0 {
		return nil, nil, advise(fmt.Errorf("no answer for %s in %s", c, strings.Join(files, ", ")),
			fmt.Sprintf("is it the right file? it must have moves for %s", c))
	}
	return book, soft, nil
}

// readChapters reads repertoire files with their variations: each game is a
// chapter. It returns the problems that belong to none of them. A file that can't be
// read is an error, since a part of a repertoire would look like a hole in it.
func (a *app) readChapters(patterns []string, each func(*pgn.Game)) (stray []pgn.Problem, err error) {
	games, err := fetch.Open(a.ctx, fetch.Inputs(patterns...), fetch.Options{Stdin: a.stdin, Variations: true, With: fetch.Kinds})
	if err != nil {
		return nil, hinted(err)
	}
	var file []*pgn.Game
	chapters, size := 0, 0
	for g := range games.All() {
		chapters, size = chapters+1, size+len(g.Text)
		if err := tooMuch(chapters, size); err != nil {
			return nil, err
		}
		if len(file) > 0 && file[0].File != g.File {
			chaptersOf(file, each)
			file = file[:0]
		}
		file = append(file, g.Clone())
	}
	chaptersOf(file, each)
	summary := games.Summary()
	for _, p := range summary.Problems {
		if p.Game > 0 {
			continue
		}
		if p.Severity == pgn.Error {
			return nil, problemError(&p)
		}
		stray = append(stray, p)
	}
	return stray, hinted(games.Err())
}

// A repertoire is held in memory as a whole. What has more is an archive of games, which
// --games reads at any size.
const (
	mostChapters   = 20_000
	mostRepertoire = 16 << 20 // bytes
)

func tooMuch(chapters, size int) error {
	limit := ""
	switch {
	case chapters > mostChapters:
		limit = fmt.Sprintf("%d chapters", mostChapters)
	case size > mostRepertoire:
		limit = fmt.Sprintf("%d MB", mostRepertoire>>20)
	default:
		return nil
	}
	return advise(fmt.Errorf("the repertoire has more than %s, the most for one colour", limit),
		"is it an archive of games? --games is for those; name the repertoire's own files")
}

// chaptersOf hands on the chapters of a file, in English letters whatever they were
// written in.
func chaptersOf(file []*pgn.Game, each func(*pgn.Game)) {
	profile.Translate(file)
	for _, g := range file {
		each(g)
	}
}

// problemError makes an error of a problem.
func problemError(p *pgn.Problem) error {
	err := errors.New(p.String())
	if p.Hint == "" {
		return err
	}
	return advise(err, p.Hint)
}

// notChess is the problem of a chapter of another variant; nil for chess.
func notChess(g *pgn.Game) *pgn.Problem {
	h := g.Header()
	if h.Start != pgn.OtherVariant {
		return nil
	}
	return &pgn.Problem{
		Kind: pgn.Kind(fetch.Variant), Severity: pgn.Warning, File: g.File, Line: g.Line, Game: g.Index,
		Token: h.Variant, Message: "not read, another variant: " + h.Variant,
	}
}
