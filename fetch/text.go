package fetch

import (
	"context"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"

	"foreply/fetch/pgn"
)

// takers are what the games of a text go to: one function for each worker, and,
// if games are wanted in order, one that takes them from all.
type takers struct {
	each    []func(*pgn.Game)
	ordered func(*pgn.Game) bool
}

// inOrder makes takers that hand out copies in the order of the files.
func (g *Games) inOrder(hand func(*pgn.Game) bool) takers {
	return takers{each: make([]func(*pgn.Game), g.workers()), ordered: hand}
}

// errEnough unwinds the reading when the caller's loop ends.
var errEnough = errors.New("enough")

// read goes through the files in order.
func (g *Games) read(to takers) {
	for i := range g.files {
		err := g.readFile(&g.files[i], to)
		switch {
		case errors.Is(err, errEnough):
			return
		case g.ctx.Err() != nil:
			g.err = context.Cause(g.ctx)
			return
		case err != nil:
			g.tally.fail(&g.files[i], g.files[i].name, err)
		}
	}
	if g.tally.whole == 0 && g.tally.Games == 0 {
		g.err = g.tally.firstError
	}
}

func (g *Games) readFile(f *file, to takers) error {
	packed, close, err := f.open(g.opt.Stdin)
	if err != nil {
		return err
	}
	defer close()
	o := &opener{
		ctx:    g.ctx,
		limits: g.opt.Limits.orDefault(),
		each:   func(name string, text io.Reader) error { return g.readText(f, name, text, to) },
		fail:   func(name string, err error) { g.tally.fail(f, name, err) },
		read:   func(n int) { g.tally.bytes.Add(int64(n)) },
	}
	return o.file(f, packed)
}

// readText reads one text of games: a plain file, or what was unpacked.
func (g *Games) readText(f *file, name string, text io.Reader, to takers) error {
	t := &textRun{
		g: g, count: FileCount{Name: name, Source: f.source}, roster: g.roster(f.source), ordered: to.ordered,
	}
	in := &countingReader{r: text, blank: true}
	r := pgn.NewReader(in, pgn.Options{
		Source: f.source, File: name, Variations: g.opt.Variations, MaxGame: g.opt.MaxGame, Plies: g.opt.Plies, Passing: true,
	})
	workers := make([]pgn.Worker, len(to.each))
	for i, hand := range to.each {
		workers[i] = t.worker(hand)
	}
	r.Spread(workers)
	t.count.Bytes = in.n
	g.tally.endFile(t.count, slices.Concat(r.Problems(), t.garbled.problem(f.source, name)), in.blank)
	g.progress(name, true)
	if t.enough {
		return errEnough
	}
	if r.Err() == nil {
		g.tally.whole++
	}
	return r.Err()
}

// textRun is a text being read.
type textRun struct {
	g       *Games
	count   FileCount
	roster  *roster
	ordered func(*pgn.Game) bool
	enough  bool
	notes   int // told on games left out
	garbled garbledNames
}

// mostNotes are told of one text on games left out.
const mostNotes = 100

// share is what one worker found in a block.
type share struct {
	games, theirs, kept int
	leftOut             map[Kind]int
	notes               []pgn.Problem // on games left out
	ordered             []*pgn.Game   // copies
}

func (s *share) leaveOut(kind Kind) {
	if s.leftOut == nil {
		s.leftOut = map[Kind]int{}
	}
	s.leftOut[kind]++
}

// worker makes a worker whose games go to hand, or in order if that is nil.
func (t *textRun) worker(hand func(*pgn.Game)) pgn.Worker {
	var (
		found share
		seen  = newSightings(t.roster)
	)
	return pgn.Worker{
		Want: func(game *pgn.Game) bool { return t.g.want(&found, seen, game) },
		Game: func(game *pgn.Game) {
			if n := movesOf(game); n < playedFromForfeit { // else it is what the tags say
				if kind := Classify(game.Header(), n); !t.g.wanted(kind) {
					found.leaveOut(kind)
					return
				}
			}
			found.kept++
			if hand == nil {
				found.ordered = append(found.ordered, game.Clone())
			} else {
				hand(game)
			}
		},
		Done: func() func(pgn.Passed) bool {
			block, names := found, seen.report()
			found = share{}
			return func(p pgn.Passed) bool { return t.add(&block, names, p) }
		},
	}
}

// movesOf counts half-moves. Where some could not be read, the game was played, and
// its problem has to come out.
func movesOf(game *pgn.Game) int {
	if slices.ContainsFunc(game.Problems, func(p pgn.Problem) bool { return p.Severity == pgn.Error }) {
		return max(playedFrom, len(game.Moves))
	}
	return len(game.Moves)
}

// add takes in what was found in a block. Blocks come in their order.
func (t *textRun) add(s *share, names []sighted, passed pgn.Passed) (goOn bool) {
	sum := &t.g.tally
	t.roster.add(names)
	t.garbled.see(names)
	t.count.Games += s.games
	t.count.Theirs += s.theirs
	sum.Games += s.games
	for kind, n := range s.leftOut {
		sum.leaveOut(kind, n)
	}
	for _, p := range s.notes[:min(len(s.notes), max(0, mostNotes-t.notes))] {
		p.Game += passed.Games
		sum.Problems = append(sum.Problems, p)
		t.notes++
	}
	for _, game := range s.ordered {
		if t.g.ctx.Err() != nil {
			return false
		}
		passed.Place(game)
		sum.Kept++
		if !t.ordered(game) {
			t.enough = true
			return false
		}
	}
	if t.ordered == nil {
		sum.Kept += s.kept
	}
	t.g.progress(t.count.Name, false)
	return t.g.ctx.Err() == nil
}

// want judges a game by its tags, before its moves are read.
func (g *Games) want(found *share, seen *sightings, game *pgn.Game) bool {
	found.games++
	both := false
	if !g.all {
		white, black := seen.see(game)
		if !white && !black {
			return false
		}
		both = white && black
	}
	found.theirs++
	kind := Classify(game.Header(), anyMoves)
	if both {
		kind = BothSides
	}
	if g.wanted(kind) {
		return true
	}
	found.leaveOut(kind)
	if both {
		white, black := game.Players()
		found.notes = append(found.notes, pgn.Problem{
			Kind: pgn.Kind(BothSides), Severity: pgn.Note, Source: game.Source, File: game.File, Line: game.Line, Game: game.Index,
			Message: fmt.Sprintf("%s and %s are both taken for the opponent; the game is left out", white.Name, black.Name),
		})
	}
	return false
}

func (g *Games) wanted(kind Kind) bool { return kind == Normal || slices.Contains(g.opt.With, kind) }

// progressEvery is the number of bytes between two calls of Options.Progress.
const progressEvery = 1 << 20

func (g *Games) progress(name string, end bool) {
	bytes := g.tally.bytes.Load()
	if g.opt.Progress == nil || !end && bytes-g.tally.reported < progressEvery {
		return
	}
	g.tally.reported = bytes
	g.opt.Progress(Progress{
		File: name, Bytes: bytes, Total: g.tally.total, Games: g.tally.Games, Kept: g.tally.Kept,
	})
}

// countingReader counts bytes and notes whether anything but white space (and a byte
// order mark) came.
type countingReader struct {
	r     io.Reader
	n     int64
	blank bool
}

func (c *countingReader) Read(p []byte) (int, error) {
	n, err := c.r.Read(p)
	c.n += int64(n)
	for i := 0; c.blank && i < n; i++ {
		c.blank = p[i] <= ' ' || strings.IndexByte("\xef\xbb\xbf", p[i]) >= 0
	}
	return n, err
}
