// Command generate makes the games of the demo and judges its repertoires.
//
// In come the table of opening habits (habits.txt), the cast and the calendar in
// this package, and a free UCI engine that plays everything the habits leave open;
// with -judge also the two hand-written repertoires. Out go opponent-otb.pgn and
// opponent-online.pgn, or the engine's objections to the repertoires. It belongs
// to testdata/demo alone: no other package uses it.
//
//	go run ./cmd/measure/demo          writes the two files of games
//	go run ./cmd/measure/demo -judge   goes through the repertoires
//
// The same engine version gives the same files: it runs on one thread with fixed
// nodes, and all chance comes from fixed seeds.
package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"os"
	"os/signal"
	"path/filepath"
	"slices"
	"strings"

	"github.com/notnil/chess"
	"github.com/notnil/chess/opening"
)

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt)
	defer stop()
	if err := run(ctx); err != nil {
		fmt.Fprintln(os.Stderr, "error:", err)
		os.Exit(1)
	}
}

func run(ctx context.Context) error {
	program := flag.String("engine", "", "the program of a UCI engine")
	folder := flag.String("folder", "testdata/demo", "the demo's folder")
	judging := flag.Bool("judge", false, "judge the repertoires instead of making games")
	nodes := flag.Int("nodes", 300000, "nodes per position when judging")
	flag.Parse()
	if *program == "" {
		return errors.New("which engine? -engine names a program that speaks UCI")
	}
	e, err := startEngine(ctx, *program)
	if err != nil {
		return err
	}
	if *judging {
		err = judgeBoth(e, *folder, *nodes)
	} else {
		err = makeGames(e, *folder)
	}
	if closing := e.Close(); err == nil {
		err = closing
	}
	return err
}

// judgeBoth prints what the engine objects to in the two repertoires. White's
// lines may stand 0.6 pawns worse, Black's 0.9.
func judgeBoth(e *engine, folder string, nodes int) error {
	for _, b := range []struct {
		file  string
		side  chess.Color
		limit int
	}{{"white.pgn", chess.White, -60}, {"black.pgn", chess.Black, -90}} {
		chapters, err := readChapters(filepath.Join(folder, b.file))
		if err != nil {
			return err
		}
		j := &judge{engine: e, nodes: nodes, side: b.side, limit: b.limit, score: map[string]int{}}
		objections, err := j.audit(chapters)
		if err != nil {
			return err
		}
		fmt.Printf("%s, judged by %s: %d objections\n", b.file, e.name, len(objections))
		for _, o := range objections {
			fmt.Println("  " + o)
		}
	}
	return nil
}

func makeGames(e *engine, folder string) error {
	h, err := readHabits(habitText)
	if err != nil {
		return err
	}
	t := &table{engine: e, habits: h, memory: map[string]string{}}
	eco := opening.NewBookECO()
	var slow, fast []*page
	plans := schedule()
	for i, p := range plans {
		g, err := t.play(p)
		if err != nil {
			return err
		}
		if p.fast {
			fast = append(fast, fastPage(g, eco))
		} else {
			slow = append(slow, slowPage(g, eco))
		}
		fmt.Fprintf(os.Stderr, "\r%d of %d games, %d searches", i+1, len(plans), t.searches)
	}
	fmt.Fprintf(os.Stderr, "\nplayed by %s\n", e.name)
	if slow, err = spoil(slow); err != nil {
		return err
	}
	slices.Reverse(fast) // as a download has it: newest first
	if err := write(filepath.Join(folder, "opponent-otb.pgn"), slow); err != nil {
		return err
	}
	return write(filepath.Join(folder, "opponent-online.pgn"), fast)
}

func write(path string, pages []*page) error {
	var b strings.Builder
	for _, p := range pages {
		b.WriteString(p.String())
	}
	return os.WriteFile(path, []byte(b.String()), 0o644)
}
