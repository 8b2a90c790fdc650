package main

import (
	"encoding/json"
	"fmt"
	"io"

	"foreply/compare"
	"foreply/compare/book"
	"foreply/compare/fact"
	"foreply/compare/find"
	"foreply/compare/words"
	"foreply/fetch/pgn"
	"foreply/profile"
)

// makeReport does the work of prep and compare: it reads the repertoire, then
// the games, and compares. The books come back for the export of lines.
func (a *app) makeReport(t *task) (*fact.Report, []*book.Book, error) {
	books := t.opened
	if books == nil {
		var err error
		if books, err = a.readBooks(t); err != nil {
			return nil, nil, err
		}
	}
	found, err := a.readGames(t, 0)
	if err != nil {
		return nil, nil, err
	}
	own, err := a.readOwn(t)
	if err != nil {
		return nil, nil, err
	}
	peers, when, err := a.readPeers(t, found.profile)
	if err != nil {
		return nil, nil, err
	}
	sheet, walk := t.cfg.Sheet, t.cfg.Walk
	report, err := a.compareWith(&t.cfg.Engine,
		compare.Input{
			Profile: found.profile, Own: own, Peers: peers, Books: books,
			Opponent: t.opponent, Heading: t.heading(), Basis: found.basis(),
		},
		compare.Options{
			MaxPly: walk.Plies, Threshold: walk.Threshold, FewGames: walk.FewGames, Minutes: sheet.Minutes,
			Need: t.need, DoubleRound: sheet.DoubleRound,
			When: when, Class: t.class, Me: named(t.me), Them: named(t.who),
		})
	if err != nil {
		return nil, nil, err
	}
	if err := peers.Err(); err != nil {
		return nil, nil, badBook(inputNames(t.peers), err)
	}
	return report, books, a.ctx.Err()
}

// heading is what the head of the sheet says of the game.
func (t *task) heading() fact.Heading {
	sheet := t.cfg.Sheet
	h := fact.Heading{Date: t.when.First.Date(), Event: sheet.Event, Round: sheet.Round, Board: sheet.Board, Clock: sheet.Clock}
	if t.need != fact.AnyResult {
		h.Need = t.need.String()
	}
	if len(t.me.Names) > 0 {
		h.Me = t.me.Names[0]
	}
	return h
}

// compareWith compares and, if there is an engine, has it look at what the Report
// leaves open and compares again with what it found.
func (a *app) compareWith(engine *engineConfig, in compare.Input, opt compare.Options) (*fact.Report, error) {
	report := compare.Make(in, opt)
	if !engine.wanted() || a.ctx.Err() != nil {
		return report, nil
	}
	found, err := a.look(engine, find.Wanted(report, in.Profile, in.Books))
	if err != nil || found == nil {
		return report, err
	}
	in.Engine = found
	return compare.Make(in, opt), nil
}

// gameDay is the day of the game to come: as given, else the day after the
// newest game, of the peers if there is none of theirs; not known where no game has a
// date. Games of that day and later are not known yet.
func (a *app) gameDay(t *task, p *profile.Profile, peers *profile.Peers) profile.Span {
	if !t.when.Known() {
		switch {
		case len(p.Games) == 0 && peers != nil && peers.Span.Known():
			return pgn.OneDay(peers.Span.Last + 1)
		case p.Newest() == 0:
			a.say.note("no game has a date; all count alike")
		}
		return p.NextDay()
	}
	later := 0
	for i := range p.Games {
		if g := &p.Games[i]; g.Span.Known() && !g.Span.Before(t.when) {
			later++
		}
	}
	if later > 0 {
		a.say.note("%s not certainly earlier than %s: counted, but not in the forecast", words.Plural(later, "game"), t.when.First)
	}
	return t.when
}

// writeJSON prints a value as indented JSON.
func writeJSON(w io.Writer, value any) error {
	if err := encodeJSON(w, value, ""); err != nil {
		return fmt.Errorf("writing JSON: %w", err)
	}
	return nil
}

const jsonIndent = "  "

// encodeJSON writes a value whose rows after the first begin with a prefix.
func encodeJSON(w io.Writer, value any, prefix string) error {
	e := json.NewEncoder(w)
	e.SetEscapeHTML(false)
	e.SetIndent(prefix, jsonIndent)
	return e.Encode(value)
}
