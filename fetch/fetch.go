package fetch

import (
	"context"
	"errors"
	"io"
	"iter"
	"runtime"
	"slices"

	"foreply/fetch/pgn"
)

// Options are the choices of one run; the zero value reads all games.
type Options struct {
	Who      Who            // whose games; zero = all games
	With     []Kind         // kinds handed out beside Normal; the others are left out and counted
	Stdin    io.Reader      // what the pattern "-" reads
	Progress func(Progress) // called now and then and at the end of each file; may be nil
	Limits   Limits         // for compressed files and archives
	// Variations asks for Game.Tree too: the repertoire is read so.
	Variations bool
	MaxGame    int // bytes of one game, as pgn.Options.MaxGame; zero = its default
	Plies      int // half-moves read of a game, as pgn.Options.Plies; zero = all
	Workers    int // goroutines that read; zero = one for each processor
}

// Progress is how far the reading has come.
type Progress struct {
	File  string // as in Problem.File
	Bytes int64  // read from disk or standard input so far, all files together, still packed
	Total int64  // bytes of all files; 0 when not known, as with standard input
	Games int    // seen
	Kept  int    // seen and wanted
}

// Input is one place to read from.
type Input struct {
	Source  string   // id of the configured source, or empty
	Pattern string   // a file, a glob, a folder (read with its subfolders), or "-" for standard input
	Handles []string // names of the player at this source only, beside those of Options.Who
}

// Inputs are the places that patterns name, of no source.
func Inputs(patterns ...string) []Input {
	var inputs []Input
	for _, pattern := range patterns {
		inputs = append(inputs, Input{Pattern: pattern})
	}
	return inputs
}

// Games is a stream of games with its Err, to be asked after the loop.
type Games struct {
	ctx     context.Context
	opt     Options
	files   []file
	rosters []*roster // one for each source
	all     bool      // nobody in particular is meant
	tally   tally
	started bool
	err     error
}

// Open finds the files of all inputs. It reads none of them, but it fails when a
// pattern matches nothing, with an Error that says what to do. The context ends
// the reading as well.
func Open(ctx context.Context, inputs []Input, opt Options) (*Games, error) {
	files, err := expandAll(inputs)
	if err != nil {
		return nil, err
	}
	if opt.Stdin == nil && slices.ContainsFunc(files, func(f file) bool { return f.stdin() }) {
		return nil, errors.New("reading -: there is no standard input")
	}
	g := &Games{ctx: ctx, opt: opt, files: files}
	g.rosters = newRosters(inputs, opt.Who)
	g.all = !slices.ContainsFunc(g.rosters, func(r *roster) bool { return !r.who.IsZero() })
	g.tally.total = totalSize(files)
	return g, nil
}

// roster is the one of a source; a game that no input of this stream can have
// brought is judged by Options.Who alone.
func (g *Games) roster(source string) *roster {
	for _, r := range g.rosters {
		if r.source == source {
			return r
		}
	}
	return newRoster(source, g.opt.Who)
}

// Match reports which side of a game is the player, by Options.Who and the
// handles of the game's source.
func (g *Games) Match(game *pgn.Game) (white, black bool) {
	return g.roster(game.Source).match(game)
}

// All hands out the games, once: a second loop gets none. They stay valid. With
// a Who, all files are read before the first game comes, since a later file may
// hold the same game more fully. Without, games come as they are read, and
// duplicates are not looked for: that would take memory for the whole archive.
// The order is that of the inputs, of the file names within a pattern, and of the
// file; a game found twice stands where it stood first.
func (g *Games) All() iter.Seq[*pgn.Game] {
	return func(yield func(*pgn.Game) bool) {
		if g.started {
			return
		}
		g.started = true
		if g.all {
			g.read(g.inOrder(yield))
			return
		}
		for _, game := range g.collect() {
			if !yield(game) {
				return
			}
		}
	}
}

// Spread hands each game to one of several functions, in place of All: for what
// is counted over an archive, in any order. There is one function for each
// worker, made by hand; it is called by one goroutine at a time and must not
// share what it changes with the others. A game is valid during the call, its
// place in the file counts from somewhere in it. Duplicates are not looked for.
func (g *Games) Spread(hand func() func(*pgn.Game)) {
	if g.started {
		return
	}
	g.started = true
	hands := make([]func(*pgn.Game), g.workers())
	for i := range hands {
		hands[i] = hand()
	}
	g.read(takers{each: hands})
}

// workers is how many goroutines read.
func (g *Games) workers() int {
	if g.opt.Workers > 0 {
		return g.opt.Workers
	}
	return runtime.GOMAXPROCS(0)
}

// Err is why the stream ended early: a cancelled context, or nothing at all that
// could be read. One unreadable file among others is a problem in the Summary.
func (g *Games) Err() error { return g.err }

// collect reads everything and joins what stands twice.
func (g *Games) collect() []*pgn.Game {
	var (
		found = newFinder()
		clash []pgn.Problem
	)
	g.read(g.inOrder(func(game *pgn.Game) bool {
		white, _ := g.Match(game)
		e := newCopy(game, white)
		first, perhaps := found.find(e)
		if first != nil {
			g.tally.Duplicates++
			g.tally.Kept--
			found.change(first, func() { clash = append(clash, first.join(e)...) })
			return true
		}
		if perhaps != nil {
			clash = append(clash, perhaps.perhaps(e))
		}
		found.add(e)
		return true
	}))
	if g.ctx.Err() != nil {
		return nil
	}
	g.tally.Problems = slices.Concat(g.tally.Problems, clash, doubts(found.copies))
	out := make([]*pgn.Game, len(found.copies))
	for i, e := range found.copies {
		out[i] = e.game
	}
	return out
}
