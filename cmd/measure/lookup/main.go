// Command lookup measures how fast a book of peers answers: it opens the book,
// gathers the positions of a walk along the moves played most, opens it anew and
// looks all of them up.
//
//	go run ./cmd/measure/lookup [-positions 5000] BOOK
//
// What the system keeps of the file in memory is asked to go before (Linux).
package main

import (
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
		begun := time.Now()
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
		runtime.GC()
		runtime.ReadMemStats(&after)
		end()
		fmt.Fprintf(out, "%-6s opened in %v, %d positions with %d moves in %v; %.1f MB held\n", how,
			opened.Round(10*time.Microsecond), len(keys), moves, asked.Round(10*time.Microsecond), float64(after.HeapAlloc-before.HeapAlloc)/1e6)
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

// walk gathers positions breadth first.
func walk(path string, n int) ([]uint64, error) {
	book, end, err := open(path)
	if err != nil {
		return nil, err
	}
	defer end()
	r := book.Reader()
	var keys []uint64
	seen := map[uint64]bool{}
	line := []board.Position{board.Start()}
	for len(line) > 0 && len(keys) < n {
		pos := line[0]
		line = line[1:]
		if key := pos.Key(); !seen[key] {
			seen[key] = true
			keys = append(keys, key)
			moves, err := r.At(key)
			if err != nil {
				return nil, err
			}
			for _, m := range moves {
				next := pos
				next.Play(m.Move)
				line = append(line, next)
			}
		}
	}
	return keys, nil
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
