package main

import (
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"foreply/compare/fact"
	"foreply/fetch"
	"foreply/fetch/pgn"
	"foreply/profile/board"
)

// gameTask is a task with the user's side of the game, for prep and compare.
func (a *app) gameTask(cmd *cobra.Command, f *flags, args []string) (*task, error) {
	t, err := a.task(cmd, f, args)
	if err != nil {
		return nil, err
	}
	if err := t.setGame(f); err != nil {
		return nil, err
	}
	a.tellColor(t)
	return t, nil
}

// setGame takes the user's side of the game: colour, repertoire, day and clock.
func (t *task) setGame(f *flags) error {
	if err := t.setColor(f); err != nil {
		return err
	}
	if err := t.setBooks(f); err != nil {
		return err
	}
	t.me = fetch.Who{Names: t.cfg.Me.Names}
	if len(f.me) > 0 {
		t.me = fetch.Who{Names: f.me}
	}
	t.myGames = patterns(f.myGames, t.cfg.Me.Games)
	if err := t.cfg.thereAre(slices.Concat(t.bookFiles(), t.myGames)); err != nil {
		return err
	}
	if len(t.myGames) > 0 && t.me.IsZero() {
		return misuse("whose games are yours?", "--me 'Last, First' names you; repeat it for further spellings")
	}
	t.setDay()
	return nil
}

// bookFiles are the repertoire files of the colours that are prepared.
func (t *task) bookFiles() []fetch.Input {
	var out []fetch.Input
	for _, c := range t.mine {
		out = append(out, patterns(t.books[c], nil)...)
	}
	return out
}

// setDay takes the day and the clock of the game to come, and what is needed.
func (t *task) setDay() {
	if date := pgn.ParseDate(t.cfg.Sheet.Date); date.Full() {
		t.when = date.Span()
	}
	t.need, _ = fact.ParseNeed(t.cfg.Sheet.Need)
	if clock := t.cfg.Sheet.Clock; clock != "" {
		t.class, _ = clockClass(clock)
	}
}

// setColor takes the colour the user will have. Where it is not known yet the
// opponent is compared with every repertoire there is.
func (t *task) setColor(f *flags) error {
	switch strings.ToLower(f.color) {
	case "white":
		t.mine = []board.Color{board.White}
	case "black":
		t.mine = []board.Color{board.Black}
	case "both":
		t.mine = []board.Color{board.White, board.Black}
	case "":
		if len(f.both) > 0 {
			return misuse("which colour is the repertoire for?",
				"add --my-color white or black; if you don't know your colour yet, use --white-repertoire and --black-repertoire")
		}
		t.colorOpen = true
	default:
		return misuse(fmt.Sprintf("--my-color: %q is no colour", f.color), "white, black or both")
	}
	return nil
}

func (t *task) setBooks(f *flags) error {
	t.strict = f.strict
	if t.first = f.first; len(t.first) == 0 {
		t.first, t.mainPlace = t.cfg.Me.Repertoire.Main, t.cfg.inFile("me.repertoire.main")
	}
	t.books = [2][]string{board.White: t.cfg.Me.Repertoire.White, board.Black: t.cfg.Me.Repertoire.Black}
	if len(f.white) > 0 {
		t.books[board.White] = f.white
	}
	if len(f.black) > 0 {
		t.books[board.Black] = f.black
	}
	if t.colorOpen {
		return t.setOpenColor()
	}
	if len(f.both) > 0 {
		if len(t.mine) > 1 {
			return misuse("--repertoire is for one colour", "use --white-repertoire and --black-repertoire")
		}
		t.books[t.mine[0]] = f.both
	}
	for _, c := range t.mine {
		if len(t.books[c]) == 0 {
			return misuse(fmt.Sprintf("no repertoire for %s", c),
				fmt.Sprintf("--%s-repertoire %s.pgn names it, or me.repertoire.%s in %s", c, c, c, configName))
		}
	}
	return nil
}

// setOpenColor takes the colours that have a repertoire.
func (t *task) setOpenColor() error {
	for _, c := range [...]board.Color{board.White, board.Black} {
		if len(t.books[c]) > 0 {
			t.mine = append(t.mine, c)
		}
	}
	if len(t.mine) == 0 {
		return misuse("which colour will you have, and which is your repertoire?",
			"add --my-color and --repertoire; for both colours --white-repertoire and --black-repertoire")
	}
	return nil
}

// tellColor says what is done while the colour is open.
func (a *app) tellColor(t *task) {
	switch {
	case !t.colorOpen:
	case len(t.mine) > 1:
		a.say.note("no colour given: both are prepared; --my-color chooses one")
	default:
		a.say.note("no colour given, and no repertoire for %s: only %s is prepared", t.mine[0].Other(), t.mine[0])
	}
}
