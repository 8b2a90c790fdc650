package main

import (
	"bufio"
	"context"
	"fmt"
	"io"
	"os/exec"
	"strconv"
	"strings"
	"time"
)

// mateScore is the value in centipawns given to a forced mate in 0.
const mateScore = 100000

// choice is one move the engine proposes, with its score in centipawns from the
// point of view of the side to move.
type choice struct {
	move  string
	score int
}

// engine drives a UCI engine in a process of its own. Every exchange has a time
// limit, since an engine that crashed or went mute would otherwise hang us.
type engine struct {
	cmd   *exec.Cmd
	in    io.WriteCloser
	lines chan string
	name  string
}

// startEngine starts the program with the settings that make a fixed-node search
// repeatable: one thread, a fixed table, nothing random.
func startEngine(ctx context.Context, path string) (*engine, error) {
	cmd := exec.CommandContext(ctx, path)
	in, err := cmd.StdinPipe()
	if err != nil {
		return nil, err
	}
	out, err := cmd.StdoutPipe()
	if err != nil {
		return nil, err
	}
	if err := cmd.Start(); err != nil {
		return nil, fmt.Errorf("starting the engine: %w", err)
	}
	e := &engine{cmd: cmd, in: in, lines: make(chan string, 256)}
	go func() {
		defer close(e.lines)
		for s := bufio.NewScanner(out); s.Scan(); {
			e.lines <- s.Text()
		}
	}()
	id, err := e.ask("uci", "uciok")
	if err != nil {
		return nil, err
	}
	for _, l := range id {
		if n, ok := strings.CutPrefix(l, "id name "); ok {
			e.name = n
		}
	}
	return e, e.send("setoption name Threads value 1", "setoption name Hash value 16")
}

// Close ends the engine and waits for it.
func (e *engine) Close() error {
	if err := e.send("quit"); err != nil {
		return err
	}
	for range e.lines { // let the reader finish
	}
	return e.cmd.Wait()
}

func (e *engine) send(lines ...string) error {
	_, err := io.WriteString(e.in, strings.Join(lines, "\n")+"\n")
	return err
}

// ask sends a line and returns all output up to the line that starts with stop.
func (e *engine) ask(line, stop string) ([]string, error) {
	if err := e.send(line); err != nil {
		return nil, err
	}
	limit := time.NewTimer(time.Minute)
	defer limit.Stop()
	var got []string
	for {
		select {
		case l, open := <-e.lines:
			if !open {
				return nil, fmt.Errorf("the engine ended while asked %q", line)
			}
			got = append(got, l)
			if strings.HasPrefix(l, stop) {
				return got, nil
			}
		case <-limit.C:
			return nil, fmt.Errorf("the engine gave no answer to %q", line)
		}
	}
}

// newGame empties the engine's memory, so that a game does not depend on the
// games before it.
func (e *engine) newGame(width int) error {
	if err := e.send("ucinewgame", fmt.Sprintf("setoption name MultiPV value %d", width)); err != nil {
		return err
	}
	_, err := e.ask("isready", "readyok")
	return err
}

// search returns the best moves of a position, best first; none when the game is
// over there. The position is given as UCI has it: startpos or fen ..., and moves.
func (e *engine) search(where string, nodes int) ([]choice, error) {
	if err := e.send("position " + where); err != nil {
		return nil, err
	}
	out, err := e.ask(fmt.Sprintf("go nodes %d", nodes), "bestmove")
	if err != nil {
		return nil, err
	}
	var found []choice
	for _, l := range out {
		rank, c, ok := parseInfo(l)
		if !ok {
			continue
		}
		for len(found) < rank {
			found = append(found, choice{})
		}
		found[rank-1] = c
	}
	return found, nil
}

// parseInfo reads 'info depth 7 ... multipv 2 score cp 31 ... pv e2e4 ...'.
func parseInfo(l string) (rank int, c choice, ok bool) {
	f := strings.Fields(l)
	if len(f) == 0 || f[0] != "info" {
		return 0, c, false
	}
	rank = 1
	for i := 0; i+1 < len(f); i++ {
		switch f[i] {
		case "multipv":
			rank, _ = strconv.Atoi(f[i+1])
		case "cp":
			c.score, _ = strconv.Atoi(f[i+1])
		case "mate":
			n, _ := strconv.Atoi(f[i+1])
			c.score = mateScore - n
			if n <= 0 {
				c.score = -mateScore - n
			}
		case "pv":
			c.move = f[i+1]
			return rank, c, true
		}
	}
	return 0, c, false
}
