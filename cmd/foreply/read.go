package main

import (
	"fmt"
	"slices"
	"strings"

	"foreply/compare/fact"
	"foreply/compare/words"
	"foreply/fetch"
	"foreply/fetch/pgn"
	"foreply/profile"
	"foreply/profile/board"
)

// findings is what the reading of the opponent's games gave.
type findings struct {
	profile *profile.Profile
	summary fetch.Summary
	lost    []fact.Unread // files of games that couldn't be read
}

// readGames reads the opponent's games and says what was wrong with them. One
// unreadable file among others is a warning, and a footnote of the sheet; no
// game at all is an error that names the nearest players seen.
func (a *app) readGames(t *task, maxPly int) (*findings, error) {
	if len(t.inputs) == 0 {
		return &findings{profile: profile.Build(func(func(*pgn.Game) bool) {}, profile.Options{MaxPly: maxPly})}, nil
	}
	games, err := fetch.Open(a.ctx, t.inputs, fetch.Options{
		Who: t.who, Stdin: a.stdin,
		Progress: a.say.reading("reading", true),
	})
	if err != nil {
		return nil, hinted(err)
	}
	found := &findings{}
	found.profile = profile.Build(games.All(), profile.Options{Them: colorOf(games), MaxPly: maxPly})
	if err := games.Err(); err != nil {
		return nil, hinted(err)
	}
	found.summary = games.Summary()
	a.reportProblems(found)
	if len(found.profile.Games) == 0 {
		err := noGames(t, found)
		if !t.byPeers() {
			return nil, err
		}
		a.say.note("%v", err)
	}
	a.suggest(t, found)
	return found, nil
}

// readOwn reads the user's own games; nil when none were named.
func (a *app) readOwn(t *task) (*profile.Profile, error) {
	if len(t.myGames) == 0 {
		return nil, nil
	}
	games, err := fetch.Open(a.ctx, t.myGames, fetch.Options{Who: t.me, Stdin: a.stdin})
	if err != nil {
		return nil, hinted(err)
	}
	own := profile.Build(games.All(), profile.Options{Them: colorOf(games)})
	if err := games.Err(); err != nil {
		return nil, hinted(err)
	}
	if len(own.Games) == 0 {
		a.say.note("no game of yours in %s", inputNames(t.myGames))
	}
	return own, nil
}

func colorOf(games *fetch.Games) func(*pgn.Game) (board.Color, bool) {
	return func(g *pgn.Game) (board.Color, bool) {
		white, black := games.Match(g)
		if white {
			return board.White, !black
		}
		return board.Black, black
	}
}

// reportProblems tells problems of files, and signs of two people under one
// name, one by one; those of games as a sum.
func (a *app) reportProblems(found *findings) {
	inGames := a.reportFiles(found.summary.Problems)
	a.reportTwice(found.summary)
	a.say.problems(append(inGames, found.profile.Problems...), found.summary.Theirs)
	read := map[string]bool{}
	for _, f := range found.summary.Files {
		read[f.Name] = f.Games > 0
	}
	for _, p := range found.summary.Problems {
		if p.Severity == pgn.Error {
			found.lost = append(found.lost, fact.Unread{File: p.File, Partly: read[p.File]})
		}
	}
}

// reportTwice tells of games that may be counted twice, once they are a few and more than one in
// a hundred; -v lists them anyway.
func (a *app) reportTwice(s fetch.Summary) {
	var list []pgn.Problem
	for _, p := range s.Problems {
		if p.Kind == fetch.PerhapsTwice {
			list = append(list, p)
		}
	}
	if len(list) < 3 || a.say.verbose || 100*len(list) <= s.Theirs {
		return
	}
	a.say.warn("%s may be counted twice; first: %v; -v lists them all", words.Plural(len(list), "game"), list[0])
}

// reportFiles tells the problems that concern more than a game and returns the
// others.
func (a *app) reportFiles(problems []pgn.Problem) (inGames []pgn.Problem) {
	var told []pgn.Problem
	for _, p := range problems {
		switch {
		case p.Game > 0 && p.Kind != fetch.TwoPeople:
			inGames = append(inGames, p)
		case p.Severity != pgn.Note || a.say.verbose:
			told = append(told, p)
		}
	}
	a.say.excerpts("warning", told, mostShown)
	return inGames
}

// noGamesError says that there is nothing to go by; all was read as it should.
type noGamesError struct{ error }

// noGames says why there is nothing to go by.
func noGames(t *task, found *findings) error {
	s := found.summary
	who := strings.Join(t.sought(), ", ")
	switch {
	case s.Theirs == 1:
		return &noGamesError{fmt.Errorf("the only game of %s can't be used: %s", who, leftOutText(found.leftOut()))}
	case s.Theirs > 1:
		return &noGamesError{fmt.Errorf("none of the %d games of %s can be used: %s", s.Theirs, who, leftOutText(found.leftOut()))}
	}
	err := error(&noGamesError{fmt.Errorf("no game of %s among the %s read", who, words.Plural(s.Games, "game"))})
	if s.Games == 0 {
		return advise(&noGamesError{fmt.Errorf("no games in %s", inputNames(t.inputs))}, "is it a PGN file, and was the export saved?")
	}
	spelled, how := "the name must be spelled as in the White and Black tags; ", "--opponent can be repeated"
	if id := t.opponent.ID; id != "" {
		how = fmt.Sprintf("the names of %s stand in %s", id, t.cfg.file)
	} else if len(s.Suggestions) > 0 {
		spelled, how = "", "--opponent takes the name as the games have it, and can be repeated"
	}
	var hints []string
	for _, near := range s.Suggestions[:min(len(s.Suggestions), mostShown)] {
		hints = append(hints, fmt.Sprintf("seen: %s, %s (%s)", near.Name, words.Plural(near.Games, "game"), near.Why))
	}
	return advise(err, append(hints, spelled+how)...)
}

// sought are the names that games were looked for by.
func (t *task) sought() []string {
	out := append(append([]string{}, t.who.Names...), t.who.Unsure...)
	for _, in := range t.inputs {
		for _, h := range in.Handles {
			if !slices.Contains(out, h) {
				out = append(out, h)
			}
		}
	}
	return out
}

func inputNames(inputs []fetch.Input) string { return strings.Join(filesOf(inputs), ", ") }

// suggest names spellings that may be the opponent too and were not counted.
func (a *app) suggest(t *task, found *findings) {
	s := likely(found.summary.Suggestions)
	if len(s) == 0 {
		return
	}
	a.say.note("not counted, but maybe theirs: %s", a.spellings(s))
	if t.opponent.ID == "" {
		a.say.hint("--opponent %q adds one", s[0].Name)
	} else {
		a.say.hint("add what is theirs to the names of %s in %s", t.opponent.ID, t.cfg.file)
	}
}

// likely drops names that are only the nearest of all.
func likely(list []fetch.Suggestion) []fetch.Suggestion {
	return slices.DeleteFunc(slices.Clone(list), func(s fetch.Suggestion) bool { return s.Far })
}

// maybe are the names that may be the opponent's, as the page tells them: one name of
// several sources once.
func maybe(list []fetch.Suggestion) []fact.Maybe {
	var out []fact.Maybe
	for _, s := range likely(list) {
		i := slices.IndexFunc(out, func(m fact.Maybe) bool { return m.Name == s.Name })
		if i < 0 {
			i = len(out)
			out = append(out, fact.Maybe{Name: s.Name})
		}
		out[i].Games += s.Games
	}
	return out
}

// spellings lists names with how many games have them: the first, and with -v all.
func (a *app) spellings(list []fetch.Suggestion) string {
	var names []string
	for i, near := range list {
		if i == mostShown && !a.say.verbose {
			names = append(names, fmt.Sprintf("and %d more (-v names them)", len(list)-i))
			break
		}
		names = append(names, fmt.Sprintf("%q (%s)", near.Name, words.Plural(near.Games, "game")))
	}
	return strings.Join(names, ", ")
}

// leftOut counts the opponent's games that were not used.
func (found *findings) leftOut() []fact.LeftOut {
	var out []fact.LeftOut
	add := func(reason string, n int) {
		if n > 0 {
			out = append(out, fact.LeftOut{Reason: reason, Games: n})
		}
	}
	for _, k := range found.summary.LeftOut {
		add(string(k.Kind), k.Games)
	}
	add("found twice", found.summary.Duplicates)
	p := found.profile
	add(string(fetch.SetUp), p.SetUps)
	add("no legal move", p.NoMoves)
	add("null moves, a lesson", p.NullMove)
	return out
}

func leftOutText(list []fact.LeftOut) string {
	var parts []string
	for _, l := range list {
		parts = append(parts, fmt.Sprintf("%d %s", l.Games, l.Reason))
	}
	return strings.Join(parts, ", ")
}

// basis is what only the reading knows of what the Report rests on.
func (found *findings) basis() fact.Basis {
	b := fact.Basis{LeftOut: found.leftOut(), Unread: found.lost, Sources: []fact.SourceCount{}}
	for _, f := range found.summary.Files {
		name := f.Name
		if f.Source != "" {
			name = f.Source + ": " + name
		}
		b.Sources = append(b.Sources, fact.SourceCount{Name: name, Games: f.Theirs, Read: f.Games})
	}
	b.Maybe = maybe(found.summary.Suggestions)
	for _, p := range found.summary.Problems {
		if p.Kind == fetch.TwoPeople {
			b.TwoPeople++
		}
	}
	b.Warnings = len(worth(found.summary.Problems)) + len(worth(found.profile.Problems))
	return b
}
