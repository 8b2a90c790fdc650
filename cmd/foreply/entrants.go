package main

import (
	"cmp"
	"errors"
	"fmt"
	"slices"
	"strings"

	"foreply/fetch"
	"foreply/fetch/pgn"
)

// entrant is a player of the entry list as the folder's configuration has them.
type entrant struct {
	fetch.Entry
	who opponentConfig
}

// readEntrants reads the entry list and finds out who of it is known already.
func (r *fieldRun) readEntrants(list string) error {
	name := list
	if list == "-" {
		name = "standard input"
	}
	entries, problems, err := r.readList(list, name)
	var known *fetch.Error
	switch {
	case errors.As(err, &known):
		return hinted(err)
	case err != nil:
		return advise(fmt.Errorf("reading %s: %w", name, fetch.Cause(err)), "the entry list is a text file with a player a line")
	}
	r.say.excerpts("warning", problems, mostShown)
	if len(entries) == 0 {
		return advise(fmt.Errorf("no player in %s", name), "the entry list has a player a line: name, and if known ID, rating and board")
	}
	taken := map[string]bool{summaryName: true}
	for _, e := range entries {
		taken[boardName(e.Board)] = true
	}
	for _, e := range entries {
		who := r.home.entrant(e, taken)
		if len(r.flags.games) > 0 { // where the handles' sources are not asked
			for _, h := range who.Handles {
				who.Names = append(slices.Clip(who.Names), h.Handle)
			}
			who.Handles = nil
		}
		r.entrants = append(r.entrants, entrant{e, who})
	}
	return nil
}

func (r *fieldRun) readList(list, name string) ([]fetch.Entry, []pgn.Problem, error) {
	if list == "-" {
		return fetch.ReadEntries(r.stdin, name)
	}
	file, err := fetch.OpenPlain(list)
	if err != nil {
		return nil, nil, err
	}
	defer file.Close()
	return fetch.ReadEntries(file, name)
}

// summaryName and boardName are the pages beside the sheets, whose names no
// player's id may take.
const summaryName = "field"

func boardName(n int) string { return fmt.Sprintf("board-%d", n) }

// entrant returns the configured opponent that an entry means, or a new one.
func (s *settings) entrant(e fetch.Entry, taken map[string]bool) opponentConfig {
	out := opponentConfig{Name: e.Name, Names: []string{e.Name}}
	if e.ID != "" {
		out.FideIDs = []string{e.ID}
	}
	if i := slices.IndexFunc(s.Opponents, func(o opponentConfig) bool { return meansEntry(&o, e) }); i >= 0 {
		out = s.Opponents[i]
	}
	if out.ID == "" {
		out.ID = idOf(e.Name)
	}
	out.Rating = cmp.Or(e.Rating, out.Rating)
	base := out.ID
	for n := 2; taken[out.ID]; n++ {
		out.ID = fmt.Sprintf("%.36s-%d", base, n)
	}
	taken[out.ID] = true
	return out
}

func meansEntry(o *opponentConfig, e fetch.Entry) bool {
	if slices.Contains(o.FideIDs, e.ID) {
		return true
	}
	return named(fetch.Who{Names: append([]string{o.Name}, o.Names...)})(e.Name)
}

// idOf makes an id of a name, last name first as the entry list has it.
func idOf(name string) string {
	var words []string
	for part := range strings.SplitSeq(name, ",") {
		words = append(words, strings.FieldsFunc(fetch.Fold(part), func(c rune) bool {
			return (c < 'a' || c > 'z') && (c < '0' || c > '9')
		})...)
	}
	id := strings.Join(words, "-")
	if id == "" {
		return "player"
	}
	return strings.TrimRight(id[:min(len(id), 36)], "-")
}
