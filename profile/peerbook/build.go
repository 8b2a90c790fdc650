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
	"runtime"
	"slices"
	"sync"
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
	players playerSet
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
	return &Builder{opt: opt.withDefaults(), first: math.MaxInt32, players: playerSet{most: mostPlayers}}
}

// Close gives back what goes through the disk.
func (b *Builder) Close() {
	b.games.close()
	b.visits.close()
}

// Worker takes games in, for one goroutine.
type Worker struct {
	Tally
	b       *Builder
	room    []byte // records
	order   []place
	most    int // bytes of room
	width   int
	first   int32
	days    dayRange
	players playerSet
}

// Workers returns so many workers that share the memory. It is called once.
func (b *Builder) Workers(n int) []*Worker {
	width := recordWidth(b.opt.Plies)
	most := int(b.opt.Memory) / 2 / n * width / (width + placeBytes)
	for range n {
		b.workers = append(b.workers, &Worker{b: b, width: width, most: max(most, width), first: math.MaxInt32, players: playerSet{most: b.players.most}})
	}
	return b.workers
}

// Add takes a game in. Its First is the earliest possible day.
func (w *Worker) Add(g *Game, first int32) {
	w.first = min(w.first, first)
	w.days.include(packDay(g.Last))
	for _, p := range g.Players {
		w.players.add(p)
	}
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
	players, err := book.players()
	if err != nil {
		return err
	}
	b.books = append(b.books, book)
	b.tally.add(a.Tally)
	if a.Games > 0 {
		b.players.join(players.set())
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

// gather closes the intake. More games than a little go through the disk, too: their
// room is wanted for the moves, and so as much is held for many games as for more.
func (b *Builder) gather() []source {
	rest := 0
	for _, w := range b.workers {
		b.tally.add(w.Tally)
		b.first = min(b.first, w.first)
		b.players.join(&w.players)
		w.players = playerSet{}
		if w.days.any {
			b.days.include(w.days.first)
			b.days.include(w.days.last)
		}
		rest += len(w.room)
	}
	var out []source
	for _, w := range b.workers {
		if int64(rest) > b.opt.Memory/restShare {
			w.spill()
			w.room, w.order = nil, nil
		}
		places := w.sorted()
		out = append(out, &memorySource{n: len(places), each: func(i int) []byte { return w.record(places[i]) }})
	}
	if b.games != nil {
		runtime.GC() // else the room counts beside that for the moves
		out = append(out, b.games.sources()...)
	}
	for _, book := range b.books {
		out = append(out, &bookSource{book: book})
	}
	return out
}

// restShare is the share of the memory that games may keep while their moves are
// sorted: one part of so many.
const restShare = 8

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
		block := w.about.Games / gamesInBlock
		if block > math.MaxUint32 {
			return errTooMany
		}
		way.visits(r, uint32(block), sorter)
		w.game(r, way.pos[:])
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

// errTooMany: the number of a block of games has 32 bits.
var errTooMany = errors.New("a book has room for 270 thousand million games; make several")

// checkEvery is after how many steps a context is asked.
const checkEvery = 1 << 14

// writePositions sums the visits up.
func (b *Builder) writePositions(ctx context.Context, w *writer) error {
	var sum summing
	var key uint64
	var blocks []uint32 // of the first passes
	var done, passes int64
	end := func() {
		if passes >= int64(b.opt.Least) {
			sum.close()
			w.position(key, passes, sum.moves)
			if passes < fewPasses {
				w.place(key, blocks)
			}
		}
		sum.reset()
		passes, blocks = 0, blocks[:0]
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
		key = v.key
		if passes++; passes < fewPasses {
			blocks = append(blocks, v.block)
		}
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
