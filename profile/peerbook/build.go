package peerbook

import (
	"bytes"
	"cmp"
	"context"
	"encoding/binary"
	"errors"
	"io"
	"math"
	"os"
	"slices"
	"sync"
	"unsafe"

	"foreply/profile/board"
)

// Options of a Builder; the zero value of a field means its default.
type Options struct {
	Plies  int    // how deep moves are counted; default 24, at most Depth
	Memory int64  // bytes for games and moves in passing; default 256 MB
	Folder string // for what goes through the disk; default the system's
	// Least leaves out positions that fewer games passed; default 1.
	Least int
	// Filter says in words which games were let in; books of different filters are
	// not merged.
	Filter string
	// Progress, if not nil, is told now and then how much of the second half of
	// the work is done.
	Progress func(done, of int64)
}

const (
	defaultMemory = 256 << 20
	leastMemory   = 1 << 20
)

func (o Options) withDefaults() Options {
	o.Plies = min(cmp.Or(o.Plies, DefaultPlies), Depth)
	o.Memory = max(cmp.Or(o.Memory, defaultMemory), leastMemory)
	o.Folder = cmp.Or(o.Folder, os.TempDir())
	o.Least = max(o.Least, 1)
	return o
}

// Tally counts games that are not in a book.
type Tally struct {
	Twice    int // copies of a game that is
	Undated  int
	Unfit    int // another starting position, a null move, under 6 plies
	Filtered int // not let in by the filter
}

func (t *Tally) add(o Tally) {
	t.Twice += o.Twice
	t.Undated += o.Undated
	t.Unfit += o.Unfit
	t.Filtered += o.Filtered
}

// Builder makes a book of games and of other books. Close it in the end.
type Builder struct {
	opt     Options
	lock    sync.Mutex
	workers []*Worker
	books   []*Book
	games   *runs // nil until a worker's room is full
	visits  *runs // nil until there are more than fit
	tally   Tally
	first   int32 // earliest possible day of all games
	days    dayRange
	last    *visitSorter // what of the visits didn't go through the disk
	err     error
}

// dayRange is the range of the latest possible days of all games, copies
// included.
type dayRange struct {
	first, last uint16
	any         bool
}

func (d *dayRange) include(day uint16) {
	if !d.any {
		*d = dayRange{day, day, true}
	}
	d.first, d.last = min(d.first, day), max(d.last, day)
}

// NewBuilder begins a book.
func NewBuilder(opt Options) *Builder {
	return &Builder{opt: opt.withDefaults(), first: math.MaxInt32}
}

// Close gives back what goes through the disk.
func (b *Builder) Close() {
	b.games.close()
	b.visits.close()
}

// Worker takes games in, for one goroutine.
type Worker struct {
	Tally
	b     *Builder
	room  []byte // records
	order []place
	most  int // bytes of room
	width int
	first int32
	days  dayRange
}

// Workers returns so many workers that share the memory. It is called once.
func (b *Builder) Workers(n int) []*Worker {
	width := recordWidth(b.opt.Plies)
	most := int(b.opt.Memory) / 2 / n * width / (width + placeBytes)
	for range n {
		b.workers = append(b.workers, &Worker{b: b, width: width, most: max(most, width), first: math.MaxInt32})
	}
	return b.workers
}

// Add takes a game in. Its First is the earliest possible day.
func (w *Worker) Add(g *Game, first int32) {
	w.first = min(w.first, first)
	w.days.include(packDay(g.Last))
	if cap(w.room)-len(w.room) < w.width { // doubled while small, then whole: what is copied is garbage for a while
		more := min(max(cap(w.room), 1<<12), w.most/4)
		if cap(w.room) >= w.most/4 {
			more = w.most - len(w.room)
		}
		w.room = slices.Grow(w.room, max(more, w.width))
	}
	w.room = appendRecord(w.room, g, w.b.opt.Plies)
	if len(w.room)+w.width > w.most {
		w.spill()
	}
}

// spill writes the games as a run.
func (w *Worker) spill() {
	b := w.b
	b.lock.Lock()
	if b.games == nil && b.err == nil {
		b.games, b.err = newRuns(b.opt.Folder, w.width)
	}
	failed := b.err != nil
	b.lock.Unlock()
	if !failed {
		places := w.sorted()
		err := b.games.add(len(places), func(put func([]byte)) {
			for _, p := range places {
				put(w.record(p))
			}
		})
		if err != nil {
			b.fail(err)
		}
	}
	w.room = w.room[:0]
}

func (b *Builder) fail(err error) {
	b.lock.Lock()
	defer b.lock.Unlock()
	if b.err == nil {
		b.err = err
	}
}

// Err is what went wrong while games were taken in.
func (b *Builder) Err() error {
	b.lock.Lock()
	defer b.lock.Unlock()
	return b.err
}

// place is where a record stands; first are its first 8 bytes.
type place struct {
	first uint64
	n     uint32
}

const placeBytes = 16

func (w *Worker) record(p place) []byte { return w.room[int(p.n)*w.width:][:w.width] }

func (w *Worker) sorted() []place {
	n := len(w.room) / w.width
	places := slices.Grow(w.order[:0], n)[:n]
	w.order = places
	for i := range places {
		places[i].n = uint32(i)
		places[i].first = binary.BigEndian.Uint64(w.record(places[i]))
	}
	slices.SortFunc(places, func(a, b place) int {
		if a.first != b.first {
			return cmp.Compare(a.first, b.first)
		}
		return bytes.Compare(w.record(a)[8:], w.record(b)[8:])
	})
	return places
}

// ErrOther says that a book doesn't go with the one that is made.
var ErrOther = errors.New("made in another way")

// AddBook takes the games of a book in, which must be of the same depth and
// filter.
func (b *Builder) AddBook(book *Book) error {
	a := book.About()
	if a.Plies != b.opt.Plies || a.Filter != b.opt.Filter || a.Least != b.opt.Least {
		return ErrOther
	}
	b.books = append(b.books, book)
	b.tally.add(a.Tally)
	if a.Games > 0 {
		b.first = min(b.first, a.First)
		b.days.include(packDay(a.Last))
		b.days.include(book.days.base)
	}
	return nil
}

// Write makes the book. The same games give the same bytes, whoever took them in
// and in whatever order.
func (b *Builder) Write(ctx context.Context, to io.Writer) (*About, error) {
	sources := b.gather()
	if b.err != nil {
		return nil, b.err
	}
	w := newWriter(to, b)
	if err := b.writeGames(ctx, w, sources); err != nil {
		return nil, err
	}
	if err := b.writePositions(ctx, w); err != nil {
		return nil, err
	}
	return w.finish()
}

// gather closes the intake.
func (b *Builder) gather() []source {
	var out []source
	for _, w := range b.workers {
		b.tally.add(w.Tally)
		b.first = min(b.first, w.first)
		if w.days.any {
			b.days.include(w.days.first)
			b.days.include(w.days.last)
		}
		places := w.sorted()
		out = append(out, &memorySource{n: len(places), each: func(i int) []byte { return w.record(places[i]) }})
	}
	if b.games != nil {
		out = append(out, b.games.sources()...)
	}
	for _, book := range b.books {
		out = append(out, &bookSource{book: book})
	}
	return out
}

// writeGames writes the games in order, each once, and sorts their moves.
func (b *Builder) writeGames(ctx context.Context, w *writer, sources []source) error {
	sorter := newVisitSorter(b)
	way := newWay()
	before := make(record, 0, recordWidth(b.opt.Plies))
	n := 0
	err := merge(sources, func(rec []byte) error {
		if n++; n%checkEvery == 0 && ctx.Err() != nil {
			return context.Cause(ctx)
		}
		r := record(rec)
		if r.length() >= alikePlies && len(before) > 0 && bytes.Equal(before.sameGame(), r.sameGame()) {
			w.about.Twice++
			return nil
		}
		before = append(before[:0], r...)
		if w.about.Games == math.MaxUint32 {
			return errTooMany
		}
		way.visits(r, uint32(w.about.Games), sorter)
		w.game(r)
		return errors.Join(w.err, sorter.failed())
	})
	if e := sorter.finish(); err == nil {
		err = e
	}
	for _, worker := range b.workers {
		worker.room, worker.order = nil, nil
	}
	w.endGames()
	b.last = sorter
	return firstOf(err, w.err)
}

// errTooMany: the number of a game has 32 bits.
var errTooMany = errors.New("a book has room for 4,294,967,295 games; make several")

// checkEvery is after how many steps a context is asked.
const checkEvery = 1 << 14

// way is the positions of the newest game.
type way struct {
	before record
	pos    [Depth + 1]board.Position
	keys   [Depth + 1]uint64
}

func newWay() *way {
	w := &way{}
	w.pos[0] = board.Start()
	w.keys[0] = w.pos[0].Key()
	return w
}

// visits hands the moves of a game on by its number; it is replayed from where it
// leaves the one before it.
func (w *way) visits(r record, game uint32, to *visitSorter) {
	n, shared := r.kept(), 0
	if len(w.before) > 0 {
		shared = min(sharedMoves(w.before, r), w.before.kept()-1) // behind the last move it wasn't played
	}
	for i := shared; i < n-1; i++ {
		w.pos[i+1] = w.pos[i]
		w.pos[i+1].Play(r.move(i))
		w.keys[i+1] = w.pos[i+1].Key()
	}
	for i := range n {
		c := board.Color(i & 1)
		v := newVisit(w.keys[i], r.move(i), r.player(c).Surname(), r.day(), r.band(c), r.classResult())
		v.game = game
		to.add(v)
	}
	w.before = append(w.before[:0], r...)
}

// visitSorter sorts visits in runs, one while the next is gathered.
type visitSorter struct {
	b      *Builder
	room   []visit
	most   int
	sorted chan []visit // rooms that may be filled again
	work   sync.WaitGroup
	count  int64
}

func newVisitSorter(b *Builder) *visitSorter {
	s := &visitSorter{b: b, most: int(b.opt.Memory) / 4 / int(unsafe.Sizeof(visit{})), sorted: make(chan []visit, 1)}
	s.sorted <- nil
	return s
}

func (s *visitSorter) add(v visit) {
	if cap(s.room) == len(s.room) {
		more := max(cap(s.room), 1<<12)
		if more >= s.most/4 {
			more = s.most - len(s.room)
		}
		s.room = slices.Grow(s.room, more)
	}
	if s.room = append(s.room, v); len(s.room) == s.most {
		s.spill()
	}
}

func (s *visitSorter) spill() {
	room := s.room
	s.count += int64(len(room))
	s.room = (<-s.sorted)[:0]
	if s.b.visits == nil {
		visits, err := newRuns(s.b.opt.Folder, visitBytes)
		if err != nil {
			s.b.fail(err)
			s.sorted <- room
			return
		}
		s.b.visits = visits
	}
	s.work.Go(func() {
		slices.SortFunc(room, compareVisits)
		var rec [visitBytes]byte
		err := s.b.visits.add(len(room), func(put func([]byte)) {
			for _, v := range room {
				put(v.append(rec[:0]))
			}
		})
		if err != nil {
			s.b.fail(err)
		}
		s.sorted <- room
	})
}

func (s *visitSorter) failed() error { return s.b.Err() }

// finish waits for what is being sorted, and sorts the rest.
func (s *visitSorter) finish() error {
	s.work.Wait()
	<-s.sorted // the other room goes
	slices.SortFunc(s.room, compareVisits)
	s.count += int64(len(s.room))
	return s.failed()
}

func (s *visitSorter) sources() []source {
	var rec [visitBytes]byte
	out := []source{&memorySource{n: len(s.room), each: func(i int) []byte { return s.room[i].append(rec[:0]) }}}
	if s.b.visits != nil {
		out = append(out, s.b.visits.sources()...)
	}
	return out
}

// writePositions sums the visits up.
func (b *Builder) writePositions(ctx context.Context, w *writer) error {
	var sum summing
	var key uint64
	var game uint32
	var done, passes int64
	end := func() {
		switch {
		case passes < int64(b.opt.Least):
		case passes == 1:
			w.sole(key, game)
		default:
			sum.close()
			w.position(key, passes, sum.moves)
		}
		sum.reset()
		passes = 0
	}
	err := merge(b.last.sources(), func(rec []byte) error {
		if done++; done%checkEvery == 0 {
			if ctx.Err() != nil {
				return context.Cause(ctx)
			}
			if b.opt.Progress != nil {
				b.opt.Progress(done, b.last.count)
			}
		}
		v := visitOf(rec)
		if v.key != key && passes > 0 {
			end()
		}
		key, game = v.key, v.game
		passes++
		sum.add(v)
		return w.err
	})
	if err == nil && passes > 0 {
		end()
	}
	w.endPositions()
	return firstOf(err, w.err)
}

func firstOf(errs ...error) error {
	for _, err := range errs {
		if err != nil {
			return err
		}
	}
	return nil
}
