package fetch

import (
	"context"
	"errors"
	"io"
	"iter"
	"slices"
	"strings"

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
	return g.roster(game.Source).match(game.Tags)
}

// All hands out the games, once: a second loop gets none. With a Who, all files
// are read before the first game comes, since a later file may hold the same
// game more fully; the games stay valid. Without, games come as they are read,
// valid until the next, and duplicates are not looked for: that would take
// memory for the whole archive. The order is that of the inputs, of the file
// names within a pattern, and of the file; a game found twice stands where it
// stood first.
func (g *Games) All() iter.Seq[*pgn.Game] {
	return func(yield func(*pgn.Game) bool) {
		if g.started {
			return
		}
		g.started = true
		if g.all {
			g.read(yield)
			return
		}
		for _, game := range g.collect() {
			if !yield(game) {
				return
			}
		}
	}
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
	g.read(func(game *pgn.Game) bool {
		white, _ := g.Match(game)
		e := newEntry(game.Clone(), white)
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
	})
	if g.ctx.Err() != nil {
		return nil
	}
	g.tally.Problems = slices.Concat(g.tally.Problems, clash, doubts(found.entries))
	out := make([]*pgn.Game, len(found.entries))
	for i, e := range found.entries {
		out[i] = e.game
	}
	return out
}

// errEnough unwinds the reading when the caller's loop ends.
var errEnough = errors.New("enough")

// read goes through the files in order.
func (g *Games) read(hand func(*pgn.Game) bool) {
	for i := range g.files {
		err := g.readFile(&g.files[i], hand)
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

func (g *Games) readFile(f *file, hand func(*pgn.Game) bool) error {
	packed, close, err := f.open(g.opt.Stdin)
	if err != nil {
		return err
	}
	defer close()
	o := &opener{
		ctx:    g.ctx,
		limits: g.opt.Limits.orDefault(),
		each:   func(name string, text io.Reader) error { return g.readText(f, name, text, hand) },
		fail:   func(name string, err error) { g.tally.fail(f, name, err) },
		read:   func(n int) { g.tally.bytes += int64(n); g.progress(f.name, n) },
	}
	return o.file(f, packed)
}

// readText reads one text of games: a plain file, or what was unpacked.
func (g *Games) readText(f *file, name string, text io.Reader, hand func(*pgn.Game) bool) error {
	var (
		count  = FileCount{Name: name, Source: f.source}
		roster = g.roster(f.source)
		in     = &countingReader{r: text, blank: true}
	)
	r := pgn.NewReader(in, pgn.Options{
		Source: f.source, File: name, Variations: g.opt.Variations, MaxGame: g.opt.MaxGame,
		Want: func(tags pgn.Tags) bool { return g.want(&count, roster, tags) },
	})
	stopped := false
	for game := range r.All() {
		if g.ctx.Err() != nil {
			break
		}
		if kind := Classify(game.Tags, len(game.Moves)); !g.wanted(kind) {
			g.tally.leaveOut(kind)
			continue
		}
		g.tally.Kept++
		if !hand(game) {
			stopped = true
			break
		}
	}
	count.Bytes = in.n
	g.tally.endFile(count, r.Problems(), in.blank)
	g.progress(name, progressEvery)
	if stopped {
		return errEnough
	}
	if r.Err() == nil {
		g.tally.whole++
	}
	return r.Err()
}

// want judges a game by its tags, before its moves are read.
func (g *Games) want(count *FileCount, roster *roster, tags pgn.Tags) bool {
	count.Games++
	g.tally.Games++
	kind := Classify(tags, anyMoves)
	if !g.all {
		white, black := roster.see(tags)
		if !white && !black {
			return false
		}
		if white && black {
			kind = BothSides
		}
	}
	count.Theirs++
	if !g.wanted(kind) {
		g.tally.leaveOut(kind)
		return false
	}
	return true
}

func (g *Games) wanted(kind Kind) bool { return kind == Normal || slices.Contains(g.opt.With, kind) }

// progressEvery is the number of bytes between two calls of Options.Progress.
const progressEvery = 1 << 20

func (g *Games) progress(name string, n int) {
	g.tally.sinceReport += n
	if g.opt.Progress == nil || g.tally.sinceReport < progressEvery {
		return
	}
	g.tally.sinceReport = 0
	g.opt.Progress(Progress{
		File: name, Bytes: g.tally.bytes, Total: g.tally.total, Games: g.tally.Games, Kept: g.tally.Kept,
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
