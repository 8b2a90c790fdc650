package bench

import (
	"bytes"
	"cmp"
	"context"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"runtime"
	"slices"
	"strings"
	"testing"
	"time"

	"foreply/fetch"
	"foreply/fetch/pgn/plain"
)

var (
	tableFile = flag.String("table", "", "measure, and write the table to this `FILE`")
	rounds    = flag.Int("rounds", 7, "how often each contender runs; the median counts")
)

const (
	distinctSize = 8 << 20   // bytes of different games
	bigSize      = 100 << 20 // bytes of a file in which they are repeated
	rulesSample  = 100 << 10 // bytes for the rules library, which takes a second for them
	otherSample  = 1 << 20   // bytes for the other library
)

// contender is one way of reading a file.
type contender struct {
	name string
	size int // bytes read
	run  func() error
	wall []time.Duration
	cpu  []time.Duration
}

// mbs is the median speed in MB (10^6 bytes) a second.
func (c *contender) mbs() float64 { return float64(c.size) / 1e6 / median(c.wall).Seconds() }

// cpuPerMB is the median processor time for a MB, of all cores.
func (c *contender) cpuPerMB() float64 { return median(c.cpu).Seconds() / (float64(c.size) / 1e6) }

func median[T cmp.Ordered](all []T) T { return slices.Sorted(slices.Values(all))[len(all)/2] }

// race runs the contenders in turn, so that whatever else the machine does meets
// them all, and does so in several rounds.
func race(t *testing.T, all []*contender) {
	t.Helper()
	for range *rounds {
		for _, c := range all {
			runtime.GC()
			cpu, begun := processorTime(), time.Now()
			if err := c.run(); err != nil {
				t.Fatalf("%s: %v", c.name, err)
			}
			c.wall = append(c.wall, time.Since(begun))
			c.cpu = append(c.cpu, processorTime()-cpu)
		}
	}
}

// file is a contender that reads a file as a stream.
func file(name, path string, size int, read func(*os.File) error) *contender {
	return &contender{name: name, size: size, run: func() error {
		in, err := os.Open(path)
		if err != nil {
			return err
		}
		defer in.Close()
		return read(in)
	}}
}

// floors are what no reader can be faster than, and what reading alone takes.
func floors(path string, text []byte) []*contender {
	return []*contender{
		{name: "newline scan of memory", size: len(text), run: func() error { scanMemory(text); return nil }},
		file("newline scan of the file", path, len(text), func(in *os.File) error { _, err := scan(in); return err }),
		file("tokens alone, one worker", path, len(text), func(in *os.File) error { _, err := tokens(in); return err }),
	}
}

// ours are the ways of prep.
func ours(ctx context.Context, path, name string, size int) []*contender {
	way := func(name string, run func() error) *contender { return &contender{name: name, size: size, run: run} }
	all := []*contender{
		way("tree, one worker", func() error { _, err := tree(ctx, 1, fetch.Options{}, path); return err }),
		way("tree, two workers", func() error { _, err := tree(ctx, 2, fetch.Options{}, path); return err }),
		way("peers, two workers", func() error { _, err := peers(ctx, 2, path); return err }),
	}
	if name != "" {
		all = append(all, way("one player's games of it, two workers", func() error { _, err := career(ctx, 2, path, name); return err }))
	}
	return all
}

// libraries read the start of the file only, and build a tree.
func libraries(t *testing.T, text []byte) []*contender {
	some := func(size int) (string, int) {
		size = beforeEvent(text, size)
		return write(t, "sample.pgn", text[:size]), size
	}
	rulesPath, rulesSize := some(rulesSample)
	otherPath, otherSize := some(otherSample)
	all := []*contender{
		file("the rules library and a tree", rulesPath, rulesSize, func(in *os.File) error { rulesTree(in); return nil }),
		file("the other library and a tree", otherPath, otherSize, func(in *os.File) error { otherTree(in); return nil }),
	}
	return slices.DeleteFunc(all, func(c *contender) bool {
		if err := withoutPanic(c.run); err != nil {
			t.Logf("%s is left out: %v", c.name, err)
			return true
		}
		return false
	})
}

var eventLine = regexp.MustCompile(`[\r\n][ \t]*\[Event `)

// beforeEvent returns where the last game within the first bytes of a text begins, its
// tags indented or not; the bytes if it has no such place.
func beforeEvent(text []byte, size int) int {
	size = min(size, len(text))
	places := eventLine.FindAllIndex(text[:size], -1)
	if len(places) == 0 {
		return size
	}
	return places[len(places)-1][0]
}

// withoutPanic makes an error of what a library makes of a file that it can't read.
func withoutPanic(run func() error) (err error) {
	defer func() {
		if r := recover(); r != nil {
			err = fmt.Errorf("panic: %v", r)
		}
	}()
	return run()
}

func TestBeforeEvent(t *testing.T) {
	for text, want := range map[string]int{
		"[Event \"a\"]\n\n*\n\n[Event \"b\"]": 15, "[Event \"a\"]\r\n\r\n*\r\n\r\n[Event \"b\"]": 19,
		"  [Event \"a\"]\n\n*\n\n  [Event \"b\"]": 17, "1. e4 *": 7,
	} {
		if got := beforeEvent([]byte(text), 1000); got != want {
			t.Errorf("%q: %d, want %d", text, got, want)
		}
	}
	if withoutPanic(func() error { panic("no") }) == nil {
		t.Error("a panic is no error")
	}
}

// TestTable measures and writes the table; 'make bench' runs it.
func TestTable(t *testing.T) {
	if *tableFile == "" {
		t.Skip("no -table given")
	}
	var b strings.Builder
	intro(&b)
	tidy, clocked := games(distinctSize, 1, false), games(distinctSize, 1, true)
	distinct := section(t, &b, "8 MB of different games over the board", write(t, "a.pgn", tidy), "", tidy, libraries(t, tidy))
	repeat := func(text []byte) []byte { return bytes.Repeat(text, (bigSize+len(text)-1)/len(text)) }
	big := repeat(tidy)
	path := write(t, "b.pgn", big)
	tidyBig := section(t, &b, "100 MB over the board: those games repeated", path, player(7), big, nil)
	wrapped := repeat(inLines(clocked))
	clockBig := section(t, &b, "100 MB with a clock behind each move, in lines of 79 characters", write(t, "c.pgn", wrapped), "player7", wrapped, nil)
	line := repeat(clocked)
	section(t, &b, "100 MB with a clock behind each move, a game's moves on one line", write(t, "d.pgn", line), "player7", line, nil)
	for _, arg := range flag.Args() {
		text, err := os.ReadFile(arg)
		if err != nil {
			t.Fatal(err)
		}
		section(t, &b, "a file given: "+filepath.Base(arg), arg, "", text, libraries(t, text))
	}
	verdicts(&b, distinct, tidyBig, clockBig)
	memory(t, &b, write(t, "e.pgn", tidy))
	if err := os.WriteFile(*tableFile, []byte(b.String()), 0o644); err != nil {
		t.Fatal(err)
	}
}

func intro(b *strings.Builder) {
	fmt.Fprintf(b, "# How fast games become a tree\n\n"+
		"Written by `make bench` (package bench); don't edit. %s, %s/%s, %d processors, medians of %d rounds in\n"+
		"which the contenders take turns. MB are 10^6 bytes. A tree is that of all games, to ply %d. 'Times the scan' is\n"+
		"how much longer it takes than counting the lines of the same file with bytes.IndexByte, read in blocks of 128 kB as\n"+
		"everybody here reads it; 'of memory' leaves the reading out. 'Processor' is time on all cores for a MB, which other\n"+
		"work on the machine disturbs least. The libraries read only the start of the file, a size that takes them about a second.\n",
		runtime.Version(), runtime.GOOS, runtime.GOARCH, runtime.NumCPU(), *rounds, depth)
}

// section measures one file and writes its part of the table.
func section(t *testing.T, b *strings.Builder, title, path, name string, text []byte, more []*contender) map[string]*contender {
	t.Helper()
	all := slices.Concat(floors(path, text), ours(t.Context(), path, name, len(text)), more)
	race(t, all)
	fmt.Fprintf(b, "\n## %s%s\n\n", strings.ToUpper(title[:1]), title[1:])
	fmt.Fprintf(b, "| what | of | MB/s | times the scan | of memory | processor, ms/MB |\n|---|---|---|---|---|---|\n")
	byName := map[string]*contender{}
	for _, c := range all {
		byName[c.name] = c
		fmt.Fprintf(b, "| %s | %.2f MB | %s | %s | %s | %s |\n", c.name, float64(c.size)/1e6, digits(c.mbs()),
			digits(all[1].mbs()/c.mbs()), digits(all[0].mbs()/c.mbs()), digits(1000*c.cpuPerMB()))
	}
	return byName
}

// digits prints three digits.
func digits(x float64) string {
	switch {
	case x >= 100:
		return fmt.Sprintf("%.0f", x)
	case x >= 10:
		return fmt.Sprintf("%.1f", x)
	case x >= 1:
		return fmt.Sprintf("%.2f", x)
	}
	return fmt.Sprintf("%.3f", x)
}

// verdicts sets the ratios beside what was asked for.
func verdicts(b *strings.Builder, distinct, tidy, clocked map[string]*contender) {
	const two, filter, scan = "tree, two workers", "one player's games of it, two workers", "newline scan of the file"
	fmt.Fprintf(b, "\n## What was asked for\n\n"+
		"Load when this was measured: %s. On a busy machine the clock says little, and a second worker gains\n"+
		"nothing by it. Processor time is that of all cores: of two workers', half is what two idle processors take at best.\n\n| ratio | asked | measured | by processor time |\n|---|---|---|---|\n", load())
	for _, row := range []struct {
		what, asked string
		fast, slow  *contender
	}{
		{"different games: the rules library's time to ours", "at least 200", distinct[two], distinct["the rules library and a tree"]},
		{"different games: the other library's time to ours", "at least 100", distinct[two], distinct["the other library and a tree"]},
		{"100 MB over the board: our time to the scan's", "at most 15", tidy[scan], tidy[two]},
		{"100 MB with clocks, in lines: our time to the scan's", "at most 8", clocked[scan], clocked[two]},
		{"one player of 100 MB over the board: our time to the scan's", "at most 6", tidy[scan], tidy[filter]},
		{"100 MB over the board: two workers' time to one's", "at most 0.88", tidy["tree, one worker"], tidy[two]},
		{"100 MB with clocks: two workers' time to one's", "at most 0.88", clocked["tree, one worker"], clocked[two]},
	} {
		fmt.Fprintf(b, "| %s | %s | %s | %s |\n", row.what, row.asked, digits(row.fast.mbs()/row.slow.mbs()),
			digits(row.slow.cpuPerMB()/row.fast.cpuPerMB()))
	}
}

// load is how many processes wanted a processor, on average of the last minute.
func load() string {
	text, err := os.ReadFile("/proc/loadavg")
	if f := strings.Fields(string(text)); err == nil && len(f) > 2 {
		return fmt.Sprintf("%s processes on %d processors", f[0], runtime.NumCPU())
	}
	return "not known"
}

// inLines breaks the movetext of games into lines of at most 79 characters, as the
// export format has them (PGN standard 8.2.1).
func inLines(text []byte) []byte {
	var b bytes.Buffer
	for row := range bytes.Lines(text) {
		if row[0] == '[' || row[0] == '\n' {
			b.Write(row)
			continue
		}
		for _, line := range plain.Wrap("", "", strings.Fields(string(row)), 79) {
			b.WriteString(line + "\n")
		}
	}
	return b.Bytes()
}
