package main

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"time"

	"foreply/profile/analysis"
	"foreply/profile/board"
	"foreply/profile/uci"
)

// noEngine as a command says that none is wanted.
const noEngine = "none"

const engineTimeHint = "write it as 90s, 3m or 1h"

func (e *engineConfig) wanted() bool { return e.Command != "" && e.Command != noEngine }

// placed tells whether the program is given by its place, not only its name.
func (e *engineConfig) placed() bool {
	program, _, _ := strings.Cut(e.Command, " ")
	return strings.ContainsAny(program, "/"+string(filepath.Separator))
}

// wholePath gives the program of a command, not its arguments, a path that holds in
// any folder; one without a slash would be looked for elsewhere.
func wholePath(command string, beside func(string) string) string {
	program, arguments, more := strings.Cut(command, " ")
	program = beside(program)
	if whole, err := filepath.Abs(program); err == nil {
		program = whole
	}
	if more {
		program += " " + arguments
	}
	return program
}

// engineFaults checks what the configuration says of the engine.
func (s *settings) engineFaults() []error {
	e := &s.Engine
	errs := []error{
		s.between("engine.nodes", float64(e.Nodes), 1000, 1e9),
		s.between("engine.threads", float64(e.Threads), 1, 512),
		s.between("engine.hash", float64(e.Hash), 1, 1<<16),
	}
	if e.Time != "" {
		if d, err := time.ParseDuration(e.Time); err != nil || d <= 0 {
			errs = append(errs, s.bad("engine.time", engineTimeHint, "%q is no time for the engine", e.Time))
		}
	}
	for i, text := range e.Options {
		if name, _, ok := strings.Cut(text, "="); !ok || strings.TrimSpace(name) == "" || strings.ContainsAny(text, "\r\n") {
			errs = append(errs, s.bad(fmt.Sprintf("engine.options[%d]", i), `write it as "Name=value"`, "%q is no option", text))
		}
	}
	return errs
}

// command is the program with its arguments: the text as it is if there is such
// a program, else its words.
func (e *engineConfig) command() []string {
	if _, err := exec.LookPath(e.Command); err == nil {
		return []string{e.Command}
	}
	return strings.Fields(e.Command)
}

// analysis are the options of a look; engineFaults has checked them.
func (e *engineConfig) analysis() analysis.Options {
	opt := analysis.Options{
		Command: e.command(), Nodes: e.Nodes, Folder: e.Cache, Now: time.Now,
		Engine: uci.Options{Threads: e.Threads, Hash: e.Hash},
	}
	opt.Budget, _ = time.ParseDuration(e.Time)
	for _, text := range e.Options {
		name, value, _ := strings.Cut(text, "=")
		opt.Engine.Set = append(opt.Engine.Set, uci.Setting{Name: strings.TrimSpace(name), Value: strings.TrimSpace(value)})
	}
	if opt.Folder == "" {
		if folder, err := os.UserCacheDir(); err == nil {
			opt.Folder = filepath.Join(folder, "foreply", "engine")
		}
	}
	return opt
}

// look has the engine of the configuration look at positions, the most needed
// first. It returns nil if there is none, or if it found nothing: that costs what
// it would have found, not the sheet.
func (a *app) look(e *engineConfig, positions []board.Position) (*analysis.Found, error) {
	if !e.wanted() || a.engineFailed || len(positions) == 0 {
		return nil, nil
	}
	return a.lookBy(e.analysis(), positions)
}

func (a *app) lookBy(opt analysis.Options, positions []board.Position) (*analysis.Found, error) {
	opt.Progress = a.say.engine(opt.Now)
	found, err := analysis.Look(a.ctx, positions, opt)
	if err != nil {
		if found.Len() > 0 {
			a.say.note("what the engine found is kept")
		}
		return nil, err
	}
	a.say.clear()
	a.tellLook(found)
	if found.Len() == 0 {
		return nil, nil
	}
	return found, nil
}

// tellLook says what an engine left undone.
func (a *app) tellLook(found *analysis.Found) {
	switch {
	case found.Trouble != nil && found.Len() == 0:
		a.engineFailed = true
		a.say.warn("nothing from the engine: %v", found.Trouble)
		a.say.hint("--engine names the program of a UCI engine; '--engine none' goes without")
	case found.Trouble != nil:
		a.say.warn("the engine looked at %d of %d positions: %v", found.Len(), found.Asked, found.Trouble)
	case found.Len() < found.Asked:
		a.say.note("the engine looked at %d of %d positions, the most needed first; a longer --engine-time reaches further", found.Len(), found.Asked)
	}
}
