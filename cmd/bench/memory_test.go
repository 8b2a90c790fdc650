package bench

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"runtime"
	"strconv"
	"strings"
	"testing"
	"unsafe"

	"foreply/fetch"
	"foreply/fetch/pgn"
	"foreply/profile"
	"foreply/profile/board"
)

// over reads a file again and again until so many bytes are read, ending with a
// whole file.
type over struct {
	in   *os.File
	left int64
}

func (o *over) Read(p []byte) (int, error) {
	n, err := o.in.Read(p)
	o.left -= int64(n)
	if !errors.Is(err, io.EOF) || o.left <= 0 {
		return n, err
	}
	_, err = o.in.Seek(0, io.SeekStart)
	return n, err
}

// footprint is what a tree takes, measured in a process of its own.
type footprint struct {
	peak      int // KiB of memory at the most, by the operating system
	games     int
	positions int
	perPlace  float64 // bytes of a position in the end
	perGame   float64 // allocations
}

const childFile, childSize = "FOREPLY_BENCH_FILE", "FOREPLY_BENCH_BYTES"

// TestChild builds the counting tree of so many bytes for its parent, which
// TestMemory and TestTable are.
func TestChild(t *testing.T) {
	path := os.Getenv(childFile)
	if path == "" {
		t.Skip("not called by another test")
	}
	size, err := strconv.ParseInt(os.Getenv(childSize), 10, 64)
	if err != nil {
		t.Fatal(err)
	}
	in, err := os.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	defer in.Close()
	before := heap()
	c, err := tree(t.Context(), 2, fetch.Options{Stdin: &over{in, size}}, "-")
	if err != nil {
		t.Fatal(err)
	}
	after := heap()
	fmt.Printf("footprint %d %d %d %d %d\n", peak(t), c.Games(), c.Len(),
		int64(after.HeapAlloc)-int64(before.HeapAlloc), after.Mallocs-before.Mallocs)
	runtime.KeepAlive(c)
}

func heap() (m runtime.MemStats) {
	runtime.GC()
	runtime.ReadMemStats(&m)
	return m
}

// peak is the most memory this process had, in KiB.
func peak(t *testing.T) int {
	status, err := os.Open("/proc/self/status")
	if err != nil {
		t.Skip("the system does not tell the peak of memory:", err)
	}
	defer status.Close()
	for s := bufio.NewScanner(status); s.Scan(); {
		if f := strings.Fields(s.Text()); len(f) > 1 && f[0] == "VmHWM:" {
			kib, err := strconv.Atoi(f[1])
			if err != nil {
				t.Fatal(err)
			}
			return kib
		}
	}
	return 0
}

// treeFootprint measures the tree of a file read again and again.
func treeFootprint(t *testing.T, path string, size int64) (f footprint) {
	t.Helper()
	child := exec.Command(os.Args[0], "-test.run", "^TestChild$", "-test.v")
	child.Env = append(os.Environ(), childFile+"="+path, fmt.Sprintf("%s=%d", childSize, size))
	out, err := child.CombinedOutput()
	if err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	_, row, found := strings.Cut(string(out), "footprint ")
	var bytes, mallocs float64
	if n, err := fmt.Sscan(row, &f.peak, &f.games, &f.positions, &bytes, &mallocs); !found || n != 5 {
		t.Skipf("no footprint in %q: %v", out, err)
	}
	f.perPlace, f.perGame = bytes/float64(f.positions), mallocs/float64(f.games)
	return f
}

// Memory grows with the positions, not with the input: reading the same games
// three times as long takes no more, and few allocations.
func TestMemory(t *testing.T) {
	path := write(t, "a.pgn", games(2<<20, 1, false))
	short, long := treeFootprint(t, path, 10<<20), treeFootprint(t, path, 30<<20)
	if short.positions != long.positions || float64(long.peak) > 1.1*float64(short.peak) {
		t.Errorf("30 MB took %d KiB, 10 MB %d KiB", long.peak, short.peak)
	}
	for _, f := range []footprint{short, long} {
		if f.perPlace > 150 || f.perGame > 10 {
			t.Errorf("%.0f bytes a position, %.1f allocations a game", f.perPlace, f.perGame)
		}
	}
}

// memory writes what trees take.
func memory(t *testing.T, b *strings.Builder, path string) {
	t.Helper()
	fmt.Fprintf(b, "\n## Memory\n\nThe tree of the different games above, read over and over by two workers, in a process of its own.\n\n"+
		"| read | games | positions | peak | bytes a position | allocations a game |\n|---|---|---|---|---|---|\n")
	for _, size := range []int64{100e6, 1000e6} {
		f := treeFootprint(t, path, size)
		fmt.Fprintf(b, "| %d MB | %d | %d | %.1f MiB | %.0f | %.2f |\n", size/1e6, f.games, f.positions, float64(f.peak)/1024, f.perPlace, f.perGame)
	}
	positions, perPlace := visitsFootprint(t, path)
	fmt.Fprintf(b, "\nAn opponent's tree has every visit on top and is laid out for the forecast: with all these games for one\n"+
		"player's, %d positions take %.0f bytes each.\n", positions, perPlace)
}

// visitsFootprint measures the trees of a Profile, all games taken for White's.
func visitsFootprint(t *testing.T, path string) (positions int, perPlace float64) {
	t.Helper()
	in, err := os.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	defer in.Close()
	p := profile.Build(pgn.NewReader(in, pgn.Options{}).All(), profile.Options{
		MaxPly: depth, Them: func(*pgn.Game) (board.Color, bool) { return board.White, true },
	})
	before := heap()
	again := p.Only(func(*profile.Game) bool { return true })
	after := heap()
	positions = again.Tree(board.White).Len()
	list := cap(again.Games) * int(unsafe.Sizeof(profile.Game{}))
	runtime.KeepAlive(p)
	return positions, float64(int64(after.HeapAlloc)-int64(before.HeapAlloc)-int64(list)) / float64(positions)
}
