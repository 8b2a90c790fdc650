package main

import (
	"cmp"
	"errors"
	"fmt"
	"reflect"
	"regexp"
	"slices"
	"strings"

	"foreply/compare/fact"
	"foreply/fetch"
	"foreply/fetch/pgn"
	"foreply/fetch/web"
	"foreply/profile"
)

// idForm is what an id may look like: it stands on the command line and names a
// folder of the cache.
var idForm = regexp.MustCompile(`^[a-z0-9][a-z0-9_-]{0,39}$`)

// validate checks what the values mean; their types were checked before.
func (s *settings) validate() error {
	var errs []error
	add := func(err error) {
		if err != nil {
			errs = append(errs, err)
		}
	}
	for _, err := range s.opponentFaults() {
		add(err)
	}
	for _, err := range s.sourceFaults() {
		add(err)
	}
	add(s.oneOf("sheet.paper", s.Sheet.Paper, "a4", "letter"))
	if s.Sheet.Date != "" {
		if !pgn.ParseDate(s.Sheet.Date).Full() {
			add(s.bad("sheet.date", "write it as YYYY-MM-DD", "%q is no day", s.Sheet.Date))
		}
	}
	if s.Sheet.Clock != "" {
		if _, ok := clockClass(s.Sheet.Clock); !ok {
			add(s.bad("sheet.clock", clockHint, "%q is no time control", s.Sheet.Clock))
		}
	}
	if _, ok := fact.ParseNeed(s.Sheet.Need); !ok {
		add(s.bad("sheet.need", "win, draw or any", "%q is no result to need", s.Sheet.Need))
	}
	add(s.between("sheet.minutes", float64(s.Sheet.Minutes), 1, 24*60))
	add(s.between("walk.plies", float64(s.Walk.Plies), 2, 200))
	add(s.between("walk.threshold", s.Walk.Threshold, 0.0001, 0.5))
	add(s.between("walk.few_games", float64(s.Walk.FewGames), 1, 1000))
	for _, err := range s.engineFaults() {
		add(err)
	}
	return errors.Join(errs...)
}

const clockHint = "write it as PGN does, 5400+30 or 40/5400+30:1800+30, or name a class: classical, rapid, blitz, bullet"

// clockClass reads a TimeControl tag or the name of a time class.
func clockClass(text string) (profile.Class, bool) {
	if class, ok := pgn.ParseSpeed(text); ok {
		return class, class != profile.UnknownClass
	}
	control := pgn.ParseControl(text)
	class := control.Speed()
	return class, class != profile.UnknownClass
}

// noRating tells what can be nobody's rating; 0 is one that is not known.
func noRating(n int) bool { return n < 0 || n >= highestRating }

// highestRating is above all ratings.
const highestRating = 4000

func (s *settings) opponentFaults() []error {
	var errs []error
	seen := map[string]bool{}
	for i, o := range s.Opponents {
		path := fmt.Sprintf("opponents[%d]", i)
		errs = append(errs, s.idFault(path, o.ID, seen))
		if len(o.Names)+len(o.Unsure)+len(o.FideIDs)+len(o.Handles) == 0 {
			errs = append(errs, s.bad(path, `add names: ["Last, First", handle]`, "no names to find the games by"))
		}
		if noRating(o.Rating) {
			errs = append(errs, s.bad(path+".rating", "", "%d is no rating", o.Rating))
		}
		for _, id := range o.FideIDs {
			if fetch.ParseNumber(id).Number == "" {
				errs = append(errs, s.bad(path+".fide_ids", "", "%q is no number of FIDE or a federation", id))
			}
		}
		for j, h := range o.Handles {
			errs = append(errs, s.handleFault(fmt.Sprintf("%s.handles[%d]", path, j), h))
		}
	}
	return errs
}

func (s *settings) handleFault(path string, h handleConfig) error {
	var ids []string
	for _, source := range s.Sources {
		ids = append(ids, source.ID)
	}
	if !slices.Contains(ids, h.Source) {
		hint := "known are " + strings.Join(ids, ", ")
		if near, ok := nearest(h.Source, ids); ok {
			hint = fmt.Sprintf("did you mean %s?", near)
		}
		return s.bad(path, hint, "there is no source %q", h.Source)
	}
	if err := web.CheckHandle(h.Handle); err != nil {
		return s.bad(path, "", "%v", err)
	}
	return nil
}

func (s *settings) sourceFaults() []error {
	var errs []error
	seen := map[string]bool{}
	for i, source := range s.Sources {
		path := fmt.Sprintf("sources[%d]", i)
		errs = append(errs, s.idFault(path, source.ID, seen))
		switch {
		case len(source.Files) > 0 && source.URL != "":
			errs = append(errs, s.bad(path, "make two sources of it", "it has files and a url"))
		case source.URL != "" && source.Mixed:
			errs = append(errs, s.bad(path, "leave mixed out", "a server is one place"))
		case source.URL != "":
			errs = append(errs, s.serverFaults(path, &source)...)
		case len(source.Files) == 0:
			errs = append(errs, s.bad(path, `add files: ["games/*.pgn"], or the url of a server`, "no files and no url"))
		default:
			errs = append(errs, s.onlyForServers(path, &source))
		}
	}
	return errs
}

// serverFaults checks a source with a URL, and keeps it for fetch.
func (s *settings) serverFaults(path string, source *sourceConfig) []error {
	errs := []error{
		s.between(path+".stop_after", float64(source.StopAfter), 1, 600),
		s.between(path+".max_mb", float64(source.MaxMB), 1, 100_000),
		s.between(path+".pace", source.Pace, 0.001, 3600),
	}
	if strings.HasPrefix(source.TokenFrom, envPrefix) {
		errs = append(errs, s.bad(path+".token_from", "choose another name for the variable",
			"names that begin with %s are for keys of the configuration", envPrefix))
	}
	checked, faults := web.NewSource(source.description())
	for _, f := range faults {
		at, text := path+"."+f.Key, f.Err.Error()
		if s.origin(at) == "" {
			at = path
		}
		errs = append(errs, s.bad(at, f.Hint, "%s", text))
	}
	s.web[source.ID] = checked
	return errs
}

// onlyForServers finds a key that has no meaning without a URL.
func (s *settings) onlyForServers(path string, source *sourceConfig) error {
	plain := sourceConfig{ID: source.ID, Files: source.Files, Mixed: source.Mixed}
	if reflect.DeepEqual(*source, plain) {
		return nil
	}
	return s.bad(path, "files have no more than id, files and mixed", "it has keys that only a source with a url has")
}

func (c *sourceConfig) description() web.Description {
	return web.Description{
		ID: c.ID, URL: c.URL, Query: c.Query, Headers: c.Headers, TokenFrom: c.TokenFrom, Pages: c.Pages, Start: c.Start,
		StopAfter: c.StopAfter, List: c.List, ListPath: c.ListPath, MaxMB: c.MaxMB, Pace: c.Pace,
	}
}

func (s *settings) idFault(path, id string, seen map[string]bool) error {
	again := seen[id]
	seen[id] = true
	switch {
	case id == "":
		return s.bad(path, "add id: a short word of your choice", "no id")
	case !idForm.MatchString(id):
		return s.bad(path+".id", "small letters, digits, - and _ will do", "%q can't be an id", id)
	case again:
		return s.bad(path+".id", "", "the id %s is given twice", id)
	}
	return nil
}

func (s *settings) oneOf(path, value string, choices ...string) error {
	if value == "" || slices.Contains(choices, strings.ToLower(value)) {
		return nil
	}
	return s.bad(path, "", "%s is wanted, not %q", strings.Join(choices, " or "), value)
}

// between checks a number that was given; 0 where nothing was given stands for
// the default.
func (s *settings) between(path string, value, least, most float64) error {
	if value >= least && value <= most || s.origin(path) == "" {
		return nil
	}
	return s.bad(path, "", "%v lies outside %v to %v", value, least, most)
}

// bad makes an error that begins with where the value came from. One of a flag
// means that the command was called wrongly.
func (s *settings) bad(path, hint, format string, args ...any) error {
	m := &mishap{err: fmt.Errorf("%s: %s", cmp.Or(s.origin(path), path), fmt.Sprintf(format, args...)), usage: s.flag(path) != nil}
	if hint != "" {
		m.hints = []string{hint}
	}
	return m
}
