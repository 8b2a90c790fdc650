package pgn

import (
	"bytes"
	"slices"
	"sync"
)

// Reading with several workers. One goroutine reads the input and cuts it into
// blocks where a game surely ends; each block is read by a worker just as a
// Reader reads a whole input; what the blocks gave is put together in their order
// by the caller's goroutine. So neither the games nor the problems nor their
// places depend on how many workers there are, or on where the blocks end.
//
// Where a game surely ends, whatever stands further up, is what safeCut knows: it
// asks for more than split does. In a text without such places (games without
// their results) pieces are cut out one by one with split and handed to the
// workers instead: slower, and with the same outcome.

// Worker is what one of the goroutines of Spread does with the games it reads. Its
// functions are never called twice at a time.
type Worker struct {
	// Want is like Options.Want, in place of it.
	Want func(*Game) bool

	// Game takes a wanted game, valid during the call. Games come as they are
	// read: those of one worker in order, but with gaps. Numbers of games count from
	// the start of the block until Passed.Place sets them right.
	Game func(*Game)

	// Done is called at the end of each block, and what it returns once all blocks
	// before are done: in the order of the input, one at a time, in the goroutine
	// that called Spread. False ends the reading. Either may be nil.
	Done func() func(Passed) bool
}

// Passed is what lies before a block.
type Passed struct {
	Games int  // games, wanted or not
	told  bool // a game there has the note that the text is not UTF-8
}

// Place sets the numbers of a game and its problems right.
func (p Passed) Place(g *Game) {
	g.Index += p.Games
	for i := range g.Problems {
		g.Problems[i].Game += p.Games
	}
	if p.told {
		g.Problems = slices.DeleteFunc(g.Problems, func(q Problem) bool { return q.Kind == BadEncoding })
	}
}

// block is a part of the input that one worker reads.
type block struct {
	text         []byte // whole games
	buf          []byte // where text lies, to be used again
	piece        *piece // in place of text: one game that split cut out
	line, column int
	err          error // why the input ends with this block before its time

	games int
	told  bool
	loose []Problem
	more  int // as Reader.looseMore
	done  func(Passed) bool
	ready chan struct{} // closed when a worker has read it
}

const (
	spreadSize   = 256 << 10 // bytes of a block
	blocksAhead  = 2         // blocks waiting, for each worker
	searchFactor = 2         // how many times MaxGame is searched for a safe cut
)

// Spread reads all games with the workers, each in a goroutine of its own; with a
// single one, in that of the caller. It is called in place of All; Err, Games and
// Problems tell the same as after All.
func (r *Reader) Spread(workers []Worker) {
	s := &spreader{r: r, size: spreadSize}
	s.run(workers)
}

// spreader is a Spread at work.
type spreader struct {
	r      *Reader // cuts the input
	size   int     // bytes of a block
	tried  int     // bytes of the buffer that have no safe cut
	passed Passed
	stop   chan struct{}
	spare  chan []byte // buffers of blocks to be used again
}

func (s *spreader) run(workers []Worker) {
	s.r.splitter.ahead = nil // r only cuts; the workers read
	s.stop, s.spare = make(chan struct{}), make(chan []byte, (blocksAhead+1)*len(workers)+2)
	first := s.next()
	if len(workers) > 1 && first != nil && !s.r.eof {
		s.spread(first, workers)
		return
	}
	w := newBlockReader(s.r.opt, &workers[0])
	for b := first; b != nil; b = s.next() {
		w.read(b)
		if !s.pass(b) {
			return
		}
	}
}

// spread deals the blocks out to the workers.
func (s *spreader) spread(first *block, workers []Worker) {
	var all sync.WaitGroup
	jobs, order := make(chan *block), make(chan *block, blocksAhead*len(workers))
	all.Go(func() { s.deal(first, jobs, order) })
	for i := range workers {
		all.Go(func() {
			w := newBlockReader(s.r.opt, &workers[i])
			for b := range jobs {
				w.read(b)
				close(b.ready)
			}
		})
	}
	for b := range order {
		<-b.ready
		if !s.pass(b) {
			break
		}
	}
	close(s.stop)
	all.Wait()
}

// deal cuts the input until its end or until the caller has enough. A block that
// is in order always reaches a worker, so that nobody waits for it in vain.
func (s *spreader) deal(first *block, jobs, order chan<- *block) {
	defer close(order)
	defer close(jobs)
	for b := first; b != nil; b = s.next() {
		select {
		case order <- b:
			jobs <- b
		case <-s.stop:
			return
		}
	}
}

// pass puts together what the blocks gave. It is called in their order.
func (s *spreader) pass(b *block) bool {
	r := s.r
	for i := range b.loose {
		if len(r.loose) < maxLoose {
			r.loose = append(r.loose, b.loose[i])
		} else {
			r.looseMore++
		}
	}
	r.looseMore += b.more
	goOn := b.done == nil || b.done(s.passed)
	r.games += b.games
	s.passed = Passed{Games: r.games, told: s.passed.told || b.told}
	if b.piece == nil {
		select {
		case s.spare <- b.buf:
		default:
		}
	}
	return goOn
}

// next cuts the next block off the input; nil at its end.
func (s *spreader) next() *block {
	r := s.r
	for {
		if window := r.end - r.start; r.eof || window >= s.size && s.tried < window {
			r.skipMark()
			b := r.buf[r.start:r.end]
			switch {
			case len(b) == 0:
				return nil
			case r.eof && len(b) <= s.size:
				return s.block(len(b))
			}
			if n := safeCut(b, s.tried); n > 0 {
				return s.block(n)
			}
			s.tried = len(b)
		}
		if r.eof || s.tried >= searchFactor*r.opt.MaxGame {
			return s.single()
		}
		r.fill()
	}
}

// block takes n bytes off the input as a block. The block takes the buffer along,
// and what is behind it goes to another one.
func (s *spreader) block(n int) *block {
	r := s.r
	b := &block{buf: r.buf, text: r.buf[r.start : r.start+n], line: r.line, column: r.column, ready: make(chan struct{})}
	r.advance(n)
	s.tried = 0
	if r.eof && r.start == r.end {
		b.err = r.err
	}
	var fresh []byte
	select {
	case fresh = <-s.spare:
	default:
	}
	if len(fresh) < len(r.buf) {
		fresh = make([]byte, len(r.buf))
	}
	copy(fresh, r.buf[r.start:r.filled])
	r.end, r.filled = r.end-r.start, r.filled-r.start
	r.start, r.buf = 0, fresh
	return b
}

// single cuts out one game with split; nil at the end.
func (s *spreader) single() *block {
	r := s.r
	before := r.end - r.start
	defer func() { s.tried = max(0, s.tried-(before-(r.end-r.start))) }()
	if !r.skipLead() {
		return nil
	}
	p, ok := r.cut()
	if !ok {
		r.start = r.end
		return nil
	}
	p.text, p.pairs = bytes.Clone(p.text), slices.Clone(p.pairs)
	if p.long {
		r.resync()
	}
	return &block{piece: &p, ready: make(chan struct{})}
}

// blockReader reads blocks for one worker.
type blockReader struct {
	r    Reader
	work *Worker
}

func newBlockReader(opt Options, work *Worker) *blockReader {
	w := &blockReader{work: work}
	w.r.opt = opt
	w.r.opt.Want = work.Want
	w.r.parser.opt = &w.r.opt
	w.r.splitter.ahead = w.r.ahead
	w.r.eof, w.r.sniffed, w.r.begun = true, true, true
	return w
}

func (w *blockReader) read(b *block) {
	r := &w.r
	r.buf, r.start, r.end, r.filled = b.text, 0, len(b.text), len(b.text)
	r.line, r.column, r.err = b.line, b.column, b.err
	r.games, r.loose, r.looseMore, r.escape = 0, nil, 0, false
	r.parser.told = false
	if b.piece != nil {
		if r.parse(b.piece) {
			w.work.Game(&r.parser.game)
		}
	} else {
		for g := r.next(); g != nil; g = r.next() {
			w.work.Game(g)
		}
	}
	b.games, b.loose, b.more, b.told = r.games, r.loose, r.looseMore, r.parser.told
	if w.work.Done != nil {
		b.done = w.work.Done()
	}
}

// safeCut returns the last place behind b[from] at which a game starts for
// certain, 0 when there is none. b starts between two games. The place is that
// of a tag section, which the reader looks for behind a game that is too long, and
//   - the nearest brace before it closes a comment, or there is none; so it is
//     in no comment, since braces nest over no tag;
//   - nothing but white space lies between it and a termination marker, which
//     stands apart from what is before it, on a line without signs that could
//     make it part of a tag, a comment or an escape. A marker followed by a
//     tag ends a game always, even in an open variation.
func safeCut(b []byte, from int) int {
	brace := len(b) // place of the nearest brace before what was looked at; -1 when there is none
	if bytes.IndexByte(b, '{') < 0 {
		brace = -1
	}
	for end := len(b); ; {
		end = bytes.LastIndexByte(b[from:end], '[') + from
		if end < from {
			return 0
		}
		if !startsLine(b, end) || !startsTag(b, end) || !endsWithMarker(b[:end]) {
			continue
		}
		for brace >= end {
			brace--
			for brace >= 0 && b[brace] != '{' && b[brace] != '}' {
				brace--
			}
		}
		if brace < 0 || b[brace] == '}' {
			return end
		}
	}
}

// endsWithMarker reports whether the last line of b that is not blank ends with
// a termination marker beyond doubt.
func endsWithMarker(b []byte) bool {
	before, ok := beforeMarker(b)
	return ok && plainLine(before)
}

// beforeMarker returns what stands before the termination marker at the end of b,
// if there is one apart from its text.
func beforeMarker(b []byte) (before []byte, ok bool) {
	end := len(b)
	for end > 0 && isSpace(b[end-1]) {
		end--
	}
	b = b[:end]
	for _, m := range [...]string{"1-0", "0-1", "1/2-1/2", "*"} {
		if bytes.HasSuffix(b, []byte(m)) {
			start := end - len(m)
			return b[:start], start == 0 || isSpace(b[start-1]) || b[start-1] == '}'
		}
	}
	return nil, false
}

// plainLine reports whether the unfinished line at the end of b is movetext that
// ends outside of comments, if the nearest brace is a closing one.
func plainLine(b []byte) bool {
	line := b[bytes.LastIndexByte(b, '\n')+1:]
	if len(line) > 0 && line[0] == '%' || bytes.IndexByte(line, ';') >= 0 || bytes.IndexByte(line, '"') >= 0 {
		return false
	}
	rest := line[bytes.LastIndexByte(line, '}')+1:]
	return !bytes.ContainsAny(rest, "[]<>{")
}
