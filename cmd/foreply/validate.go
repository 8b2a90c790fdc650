package main

import (
	"errors"
	"fmt"
	"regexp"
	"slices"
	"strings"

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
	if s.Sheet.Clock != "" {
		if _, ok := clockClass(s.Sheet.Clock); !ok {
			add(s.bad("sheet.clock", clockHint, "%q is no time control", s.Sheet.Clock))
		}
	}
	add(s.between("walk.plies", float64(s.Walk.Plies), 2, 200))
	add(s.between("walk.threshold", s.Walk.Threshold, 0.0001, 0.5))
	add(s.between("walk.few_games", float64(s.Walk.FewGames), 1, 1000))
	return errors.Join(errs...)
}

const clockHint = "write it as PGN does, 5400+30 or 40/5400+30:1800+30, or name a class: classical, rapid, blitz, bullet"

// clockClass reads a TimeControl tag or the name of a time class.
func clockClass(text string) (profile.Class, bool) {
	if class, ok := profile.ParseClass(text); ok {
		return class, class != profile.UnknownClass
	}
	class := profile.ClassOf(text)
	return class, class != profile.UnknownClass
}

func (s *settings) opponentFaults() []error {
	var errs []error
	seen := map[string]bool{}
	for i, o := range s.Opponents {
		path := fmt.Sprintf("opponents[%d]", i)
		errs = append(errs, s.idFault(path, o.ID, seen))
		if len(o.Names)+len(o.Unsure)+len(o.FideIDs) == 0 {
			errs = append(errs, s.bad(path, `add names: ["Last, First", handle]`, "no names to find the games by"))
		}
		for _, id := range o.FideIDs {
			if strings.Trim(id, "0123456789") != "" || id == "" {
				errs = append(errs, s.bad(path+".fide_ids", "", "%q is no FIDE number", id))
			}
		}
	}
	return errs
}

func (s *settings) sourceFaults() []error {
	var errs []error
	seen := map[string]bool{}
	for i, source := range s.Sources {
		path := fmt.Sprintf("sources[%d]", i)
		errs = append(errs, s.idFault(path, source.ID, seen))
		if len(source.Files) == 0 {
			errs = append(errs, s.bad(path, `add files: ["games/*.pgn"]`, "no files"))
		}
	}
	return errs
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

// bad makes an error that begins with where the value came from.
func (s *settings) bad(path, hint, format string, args ...any) error {
	place := s.origin(path)
	if place == "" {
		place = path
	}
	err := fmt.Errorf("%s: %s", place, fmt.Sprintf(format, args...))
	if hint == "" {
		return err
	}
	return advise(err, hint)
}
