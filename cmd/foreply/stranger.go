package main

import (
	"cmp"
	"errors"
	"fmt"
	"io/fs"
	"slices"
)

// A foreply.yaml that merely lies in the working folder may be a stranger's: it came
// with an archive, or with a folder that somebody shared. It counts in all that it
// says but this: it starts no program, sets no options of an engine (which may name
// files to write), and has no token sent. These need the user's own word: the file
// named with --config, or the same in their own configuration.

// holdBack takes from a file found in the working folder what needs the user's word.
func (s *settings) holdBack() {
	own, err := ownSettings()
	s.holdEngine(&own.Engine)
	s.holdTokens(own.Sources)
	if len(s.held)+len(s.tokensHeld) > 0 {
		s.unread = err
	}
}

// ownSettings is what the user's own configuration says; nothing, with the reason, if
// it can't be read.
func ownSettings() (*settings, error) {
	place := ownConfig()
	if place == "" {
		return &settings{}, nil
	}
	text, err := readConfig(place)
	if errors.Is(err, fs.ErrNotExist) {
		return &settings{}, nil
	}
	if err == nil {
		var own *settings
		if own, err = readSettings(place, text, nil); err == nil {
			return own, nil
		}
	}
	return &settings{}, err
}

// holdEngine drops a program, and options of an engine, that the file names, unless
// the user's own configuration has the same.
func (s *settings) holdEngine(own *engineConfig) {
	e := &s.Engine
	const command, options = "engine.command", "engine.options"
	if e.wanted() && s.origin(command) == s.inFile(command) && e.Command != own.Command {
		s.held = append(s.held, fmt.Sprintf("%s: the engine %q is not started", s.inFile(command), e.Command))
		e.Command = ""
	}
	if e.wanted() && len(e.Options) > 0 && !slices.Equal(e.Options, own.Options) {
		s.held = append(s.held, s.inFile(options)+": the engine's options are not set")
		e.Options = nil
	}
}

// holdTokens marks the servers that get no token: a file may name any variable, and
// any address for it to go to.
func (s *settings) holdTokens(own []sourceConfig) {
	s.tokensHeld = map[string]string{}
	for i, source := range s.Sources {
		same := func(other sourceConfig) bool {
			return source.TokenFrom == other.TokenFrom && source.URL == other.URL && source.List == other.List
		}
		if source.TokenFrom != "" && !slices.ContainsFunc(own, same) {
			s.tokensHeld[source.ID] = cmp.Or(s.inFile(fmt.Sprintf("sources[%d].token_from", i)), configName)
		}
	}
}

// tellHeld says what a configuration in the working folder doesn't get.
func (a *app) tellHeld(s *settings) {
	for _, what := range s.held {
		a.say.note("%s: a file in the working folder can't ask for that by itself", what)
	}
	if len(s.held) > 0 {
		a.say.hint("--engine or FOREPLY_ENGINE names a program, --config %s takes all of the file; or write the same into %s", configName, ownConfig())
	}
}

// tokenHeld says of each server that gets no token, and that an opponent would be
// asked for at, why nothing is asked there.
func (s *settings) tokenHeld(opponents []opponentConfig) []error {
	var errs []error
	for _, source := range s.Sources {
		asked := slices.ContainsFunc(opponents, func(o opponentConfig) bool { return len(o.at(source.ID)) > 0 })
		if place := s.tokensHeld[source.ID]; place != "" && asked {
			err := fmt.Errorf("%s: a file in the working folder can't have a token sent by itself", place)
			errs = append(errs, atSource(source.ID, advise(err, s.hinted("if the file is yours, name it: --config "+configName,
				fmt.Sprintf("to have it so for good, write a source with the same url, list and token_from into %s", ownConfig()))...)))
		}
	}
	return errs
}
