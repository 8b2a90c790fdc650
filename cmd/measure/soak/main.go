// Command soak tries what single tests can't: it kills foreply at any moment of its
// work, many times, and gives it files that were damaged in any way. It says what
// came of it, and fails if anything was lost, hung, grew or ended without a word.
//
//	go run ./cmd/measure/soak [-kills 200] [-runs 500] [-seed 1]
//
// It is called in the project's folder, asks its own server on loopback alone, and
// leaves nothing but, where something failed, the folder it names. Bounded: with the
// defaults it takes some minutes. The memory of a run is known on Linux only.
package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"io"
	"os"
	"os/exec"
	"os/signal"
	"path/filepath"
)

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt)
	defer stop()
	if err := run(ctx, os.Args[1:], os.Stdout); err != nil {
		fmt.Fprintln(os.Stderr, "error:", err)
		os.Exit(1)
	}
}

func run(ctx context.Context, args []string, out io.Writer) (err error) {
	fs := flag.NewFlagSet("soak", flag.ContinueOnError)
	kills := fs.Int("kills", 200, "how often a run is killed, over fetch, field, prep and init")
	runs := fs.Int("runs", 500, "runs of prep over damaged files")
	seed := fs.Uint64("seed", 1, "of what is chosen by chance")
	if err := fs.Parse(args); err != nil {
		return err
	}
	folder, err := os.MkdirTemp("", "foreply-soak-")
	if err != nil {
		return err
	}
	defer func() {
		if err == nil {
			err = os.RemoveAll(folder)
		} else if ctx.Err() != nil {
			err = errors.Join(ctx.Err(), os.RemoveAll(folder))
		} else {
			err = fmt.Errorf("%w; what was found stands in %s", err, folder)
		}
	}()
	b, err := newBench(ctx, folder)
	if err != nil {
		return err
	}
	return errors.Join(b.kill(ctx, *kills, *seed, out), b.damage(ctx, *runs, *seed, out))
}

// bench is where programs are tried.
type bench struct {
	folder  string
	program string
	// What is fed to the program: games of three players, and a repertoire for either
	// colour.
	games, white, black []byte
}

// The invented games and repertoires of the project's own tests.
const (
	gamesFile = "testdata/diff/games.pgn"
	whiteFile = "testdata/demo/white.pgn"
	blackFile = "testdata/demo/black.pgn"
)

func newBench(ctx context.Context, folder string) (*bench, error) {
	b := &bench{folder: folder, program: filepath.Join(folder, "foreply")}
	for file, text := range map[string]*[]byte{gamesFile: &b.games, whiteFile: &b.white, blackFile: &b.black} {
		var err error
		if *text, err = os.ReadFile(file); err != nil {
			return nil, fmt.Errorf("%w: call it in the project's folder", err)
		}
	}
	build := exec.CommandContext(ctx, "go", "build", "-o", b.program, "./cmd/foreply")
	if text, err := build.CombinedOutput(); err != nil {
		return nil, fmt.Errorf("building foreply: %w\n%s", err, text)
	}
	return b, nil
}

// lay makes an empty folder with files.
func (b *bench) lay(name string, files map[string][]byte) (string, error) {
	folder := filepath.Join(b.folder, name)
	if err := os.RemoveAll(folder); err != nil {
		return "", err
	}
	if err := os.Mkdir(folder, 0o700); err != nil {
		return "", err
	}
	for name, text := range files {
		if err := os.WriteFile(filepath.Join(folder, name), text, 0o600); err != nil {
			return "", err
		}
	}
	return folder, nil
}
