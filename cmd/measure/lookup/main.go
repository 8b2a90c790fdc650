// Command lookup measures how fast a book of peers answers: it opens the book,
// gathers the positions of a walk along the moves played most, opens it anew and
// looks all of them up.
//
//	go run ./cmd/measure/lookup [-positions 5000] BOOK
//
// What the system keeps of the file in memory is asked to go before (Linux).
package main

import (
	"container/heap"
	"flag"
	"fmt"
	"io"
	"os"
	"runtime"
	"time"

	"foreply/profile/board"
	"foreply/profile/peerbook"
)

func main() {
	if err := run(os.Args[1:], os.Stdout); err != nil {
		fmt.Fprintln(os.Stderr, "lookup:", err)
		os.Exit(1)
	}
}

func run(args []string, out io.Writer) error {
	fs := flag.NewFlagSet("lookup", flag.ContinueOnError)
	n := fs.Int("positions", 5000, "how many positions are looked up")
	if err := fs.Parse(args); err != nil {
		return err
	}
	path := fs.Arg(0)
	keys, err := walk(path, *n)
	if err != nil {
		return fmt.Errorf("walking through %s: %w", path, err)
	}
	for _, how := range []string{"cold", "again", "again"} {
		if how == "cold" {
			if err := forget(path); err != nil {
				return fmt.Errorf("making %s cold: %w", path, err)
			}
		}
		if err := lookUp(out, how, path, keys); err != nil {
			return err
		}
	}
	return nil
}

// lookUp opens the book, looks the positions up and says how long both took: by the
// clock, of a processor, and ready to run but without one, as on a busy machine. What
// is held is the book and its Reader.
func lookUp(out io.Writer, how, path string, keys []uint64) error {
	var before, after runtime.MemStats
	runtime.GC()
	runtime.ReadMemStats(&before)
	ready := waited()
	begun, used := time.Now(), processorTime()
	book, end, err := open(path)
	if err != nil {
		return err
	}
	defer end()
	opened := time.Since(begun)
	r := book.Reader()
	moves, err := ask(r, keys)
	if err != nil {
		return err
	}
	asked := time.Since(begun) - opened
	spent, stood := processorTime()-used, waited()-ready
	runtime.GC()
	runtime.ReadMemStats(&after)
	round := func(d time.Duration) time.Duration { return d.Round(10 * time.Microsecond) }
	_, err = fmt.Fprintf(out, "%-6s opened in %v, %d positions with %d moves in %v; of both %v of a processor, %v waiting for one; %.1f MB held\n", how,
		round(opened), len(keys), moves, round(asked), round(spent), round(stood), float64(after.HeapAlloc-before.HeapAlloc)/1e6)
	runtime.KeepAlive(r)
	return err
}

func open(path string) (*peerbook.Book, func() error, error) {
	f, err := os.Open(path)
	if err != nil {
		return nil, nil, err
	}
	info, err := f.Stat()
	if err != nil {
		return nil, nil, err
	}
	book, err := peerbook.Open(f, info.Size())
	return book, f.Close, err
}

// walk gathers positions from the first move on, those that most games passed first.
func walk(path string, n int) ([]uint64, error) {
	book, end, err := open(path)
	if err != nil {
		return nil, err
	}
	defer end()
	r := book.Reader()
	var keys []uint64
	seen := map[uint64]bool{}
	ahead := waiting{{pos: board.Start()}}
	for len(ahead) > 0 && len(keys) < n {
		pos := heap.Pop(&ahead).(reached).pos
		key := pos.Key()
		if seen[key] {
			continue
		}
		seen[key] = true
		keys = append(keys, key)
		moves, err := r.Total(key)
		if err != nil {
			return nil, err
		}
		for _, m := range moves {
			next := reached{pos: pos}
			next.pos.Play(m.Move)
			for _, c := range m.Cells {
				next.games += int(c.Passes)
			}
			heap.Push(&ahead, next)
		}
	}
	return keys, nil
}

// reached is a position, and how many games passed on the way that came to it.
type reached struct {
	pos   board.Position
	games int
}

// waiting is a heap, the most games on top.
type waiting []reached

func (w waiting) Len() int           { return len(w) }
func (w waiting) Less(i, k int) bool { return w[i].games > w[k].games }
func (w waiting) Swap(i, k int)      { w[i], w[k] = w[k], w[i] }
func (w *waiting) Push(x any)        { *w = append(*w, x.(reached)) }
func (w *waiting) Pop() any {
	old := *w
	last := old[len(old)-1]
	*w = old[:len(old)-1]
	return last
}

func ask(r *peerbook.Reader, keys []uint64) (moves int, err error) {
	for _, key := range keys {
		found, err := r.Total(key)
		if err != nil {
			return 0, err
		}
		moves += len(found)
	}
	return moves, nil
}
