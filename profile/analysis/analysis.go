// Package analysis has an engine look at positions, the most needed ones first,
// within a time, and keeps what it finds, so that the next sheet has it at once.
//
// In go positions in order of need and how to ask; out comes what was found of
// each. It drives package uci, in as many processes as there are cores. A
// position is looked at for a fixed number of nodes, and what was found earlier
// counts its time as if it were found now: so the same positions come out of
// the same call, with or without what was kept.
package analysis

import (
	"context"
	"errors"
	"runtime"
	"sync"
	"time"

	"foreply/profile/board"
	"foreply/profile/uci"
)

// Options of Look; the zero value of a field means its default.
type Options struct {
	Command   []string      // the engine's program and its arguments; needed
	Engine    uci.Options   // how it is started
	Nodes     int           // that each position is looked at for; default 400,000
	Lines     int           // best moves wanted of each; default 2
	Budget    time.Duration // of each process; default 3 min
	Processes int           // at once; default: one for each core that a process's threads leave
	Folder    string        // where results are kept; "" keeps none
	Now       func() time.Time
	Progress  func(done, of int) // is told when a position is done; nil for none
}

func (o Options) withDefaults() Options {
	o.Engine = o.Engine.WithDefaults()
	if o.Nodes == 0 {
		o.Nodes = 400_000
	}
	if o.Lines == 0 {
		o.Lines = 2
	}
	if o.Budget == 0 {
		o.Budget = 3 * time.Minute
	}
	if o.Processes == 0 {
		o.Processes = max(1, runtime.NumCPU()/o.Engine.Threads)
	}
	if o.Progress == nil {
		o.Progress = func(int, int) {}
	}
	return o
}

// Found is what an engine said of positions.
type Found struct {
	Engine  string                // its name and version, as it tells them
	Nodes   int                   // each position was looked at for
	Asked   int                   // positions that were wanted
	Trouble error                 // why the engine gave less than the time allowed; nil for no reason
	results map[string]uci.Result // by EPD
}

// NewFound is an engine's word on no position yet.
func NewFound(engine string, nodes int) *Found {
	return &Found{Engine: engine, Nodes: nodes, results: map[string]uci.Result{}}
}

// Add takes what it said of a position.
func (f *Found) Add(pos *board.Position, r uci.Result) { f.results[pos.EPD()] = r }

// Look has positions looked at in their order, each once, as far as the budget
// reaches. An engine that can't be started or goes wrong costs what it would have
// found, and is told in Trouble. The error is that of the context; what was found
// until then is kept in the folder.
func Look(ctx context.Context, positions []board.Position, opt Options) (*Found, error) {
	opt = opt.withDefaults()
	l := &look{opt: opt, found: NewFound("", opt.Nodes)}
	l.wanted = distinct(positions)
	l.found.Asked = len(l.wanted)
	if len(l.wanted) == 0 {
		return l.found, ctx.Err()
	}
	first, err := uci.Start(ctx, opt.Command, opt.Engine)
	if err != nil {
		l.found.Trouble = err
		return l.found, ctx.Err()
	}
	l.found.Engine = first.Name()
	l.recall()
	l.run(ctx, first)
	if l.shelf.close(); l.found.Trouble == nil {
		l.found.Trouble = l.shelf.err
	}
	return l.found, ctx.Err()
}

// distinct drops positions that came before, and those where the game is over.
func distinct(positions []board.Position) []board.Position {
	var out []board.Position
	seen := map[string]bool{}
	for _, pos := range positions {
		if epd := pos.EPD(); !seen[epd] && len(pos.Legal(nil)) > 0 {
			seen[epd] = true
			out = append(out, pos)
		}
	}
	return out
}

// look is one call of Look.
type look struct {
	opt    Options
	wanted []board.Position
	shelf  *shelf

	mu    sync.Mutex
	found *Found
	next  int           // of wanted
	spent time.Duration // by all processes, that of results kept earlier included
}

// recall takes what was found earlier.
func (l *look) recall() {
	l.shelf = openShelf(&l.opt, l.found.Engine)
	for i := range l.wanted {
		epd := l.wanted[i].EPD()
		if r, ok := l.shelf.kept[epd]; ok {
			l.found.results[epd] = r.result
			l.spent += r.spent
		}
	}
}

// run shares the positions out to processes; first is the one that runs already.
func (l *look) run(ctx context.Context, first *uci.Engine) {
	missing := len(l.wanted) - len(l.found.results)
	if l.over() {
		missing = 0
	}
	var all sync.WaitGroup
	for i := range min(l.opt.Processes, missing) {
		all.Go(func() {
			engine := first
			if i > 0 {
				var err error
				if engine, err = uci.Start(ctx, l.opt.Command, l.opt.Engine); err != nil {
					l.trouble(ctx, err)
					return
				}
				defer engine.Close()
			}
			l.work(ctx, engine)
		})
	}
	all.Wait()
	first.Close()
}

// work looks at positions with one process, until there are no more, the time is
// over or something is wrong.
func (l *look) work(ctx context.Context, engine *uci.Engine) {
	for {
		pos, ok := l.take()
		if !ok || ctx.Err() != nil {
			return
		}
		begun := l.opt.Now()
		result, err := engine.Search(ctx, pos, l.opt.Nodes, l.opt.Lines)
		if err != nil && !errors.Is(err, uci.ErrSlow) {
			l.trouble(ctx, err)
			return
		}
		l.done(&pos, result, err, l.opt.Now().Sub(begun))
	}
}

// over tells whether the time is spent.
func (l *look) over() bool { return l.spent >= l.opt.Budget*time.Duration(l.opt.Processes) }

// take hands out the next position that isn't known.
func (l *look) take() (board.Position, bool) {
	l.mu.Lock()
	defer l.mu.Unlock()
	for ; l.next < len(l.wanted); l.next++ {
		if _, known := l.found.results[l.wanted[l.next].EPD()]; known {
			continue
		}
		if l.over() {
			break
		}
		l.next++
		return l.wanted[l.next-1], true
	}
	l.next = len(l.wanted)
	return board.Position{}, false
}

// done keeps a result. A search that was stopped gave none.
func (l *look) done(pos *board.Position, result uci.Result, slow error, spent time.Duration) {
	l.mu.Lock()
	defer l.mu.Unlock()
	l.spent += spent
	if slow != nil {
		l.found.Trouble = slow
		return
	}
	for i := range result.Lines {
		line := &result.Lines[i]
		line.Moves = line.Moves[:min(len(line.Moves), kept)]
	}
	l.found.Add(pos, result)
	l.shelf.add(pos.EPD(), entry{result, spent})
	l.opt.Progress(len(l.found.results), len(l.wanted))
}

// trouble notes what went wrong with a process; the others take no further
// position.
func (l *look) trouble(ctx context.Context, err error) {
	l.mu.Lock()
	defer l.mu.Unlock()
	l.next = len(l.wanted)
	if l.found.Trouble == nil && ctx.Err() == nil {
		l.found.Trouble = err
	}
}

// Len is how many positions were looked at.
func (f *Found) Len() int { return len(f.results) }

// Lines are the best moves of a position, best first; nil where it was not
// looked at, and of a nil Found.
func (f *Found) Lines(pos *board.Position) []uci.Line {
	if f == nil {
		return nil
	}
	return f.results[pos.EPD()].Lines
}

// Through is the line that begins with a move of a position: that of the position
// if the move is among the best there, else the move with the best line of the
// position after it. ok is false where neither is known.
func (f *Found) Through(pos *board.Position, m board.Move) (line uci.Line, ok bool) {
	for _, l := range f.Lines(pos) {
		if l.Moves[0] == m {
			return l, true
		}
	}
	after := *pos
	after.Play(m)
	line.Moves = []board.Move{m}
	if len(after.Legal(nil)) == 0 {
		if after.InCheck() {
			line.Score = uci.Score{Mate: 1}.For(pos.Turn())
		}
		return line, true
	}
	lines := f.Lines(&after)
	if len(lines) == 0 {
		return uci.Line{}, false
	}
	line.Depth = lines[0].Depth + 1
	line.Moves = append(line.Moves, lines[0].Moves...)
	line.Score = lines[0].Score.For(pos.Turn())
	if line.Score.Mate > 0 { // the move itself is one of those to mate
		line.Score.Mate++
	}
	line.Score = line.Score.For(pos.Turn())
	return line, true
}

// Judged is a move beside the best one.
type Judged struct {
	Played uci.Line // begins with the move
	Best   uci.Line
	// Loss is how much worse the move is, in centipawns for the side that moves; 0
	// if it is as good. Beyond Decided a game is won or lost, and all the same.
	Loss int
}

// Decided is the evaluation in centipawns beyond which a difference is none: five
// pawns, more than a rook's worth where nothing stands against it (our choice).
const Decided = 500

// Judge compares a move of a position with the best one; ok is false where one of
// them is not known.
func (f *Found) Judge(pos *board.Position, m board.Move) (j Judged, ok bool) {
	lines := f.Lines(pos)
	if len(lines) == 0 {
		return Judged{}, false
	}
	j.Best = lines[0]
	if j.Played, ok = f.Through(pos, m); !ok {
		return Judged{}, false
	}
	value := func(l *uci.Line) int {
		return min(max(l.Score.For(pos.Turn()).Value(), -Decided), Decided)
	}
	j.Loss = max(0, value(&j.Best)-value(&j.Played))
	return j, true
}
