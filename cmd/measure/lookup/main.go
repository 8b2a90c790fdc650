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
	var before, after runtime.MemStats
	for _, how := range []string{"cold", "again"} {
		if how == "cold" {
			if err := forget(path); err != nil {
				return fmt.Errorf("making %s cold: %w", path, err)
			}
		}
		runtime.GC()
		runtime.ReadMemStats(&before)
		begun, used := time.Now(), processorTime()
		book, end, err := open(path)
		if err != nil {
			return err
		}
		opened := time.Since(begun)
		moves, err := ask(book, keys)
		if err != nil {
			return err
		}
		asked := time.Since(begun) - opened
		spent := processorTime() - used
		runtime.GC()
		runtime.ReadMemStats(&after)
		end()
		fmt.Fprintf(out, "%-6s opened in %v, %d positions with %d moves in %v (both %v of processor time); %.1f MB held\n", how,
			opened.Round(10*time.Microsecond), len(keys), moves, asked.Round(10*time.Microsecond), spent.Round(10*time.Microsecond), float64(after.HeapAlloc-before.HeapAlloc)/1e6)
		runtime.KeepAlive(book)
	}
	return nil
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

func ask(book *peerbook.Book, keys []uint64) (moves int, err error) {
	r := book.Reader()
	for _, key := range keys {
		found, err := r.Total(key)
		if err != nil {
			return 0, err
		}
		moves += len(found)
	}
	return moves, nil
}
