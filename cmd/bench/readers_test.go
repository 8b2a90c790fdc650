package bench

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"strings"
	"testing"

	other "github.com/corentings/chess/v2"
	rules "github.com/notnil/chess"

	"foreply/fetch"
	"foreply/fetch/pgn"
	"foreply/profile"
	"foreply/profile/board"
	"foreply/profile/peerbook"
)

// depth is how deep trees are built, in plies.
const depth = 30

// scanMemory counts the lines of a text that is in memory.
func scanMemory(text []byte) (lines int) {
	for i := bytes.IndexByte(text, '\n'); i >= 0; i = bytes.IndexByte(text, '\n') {
		text = text[i+1:]
		lines++
	}
	return lines
}

// scan counts the lines of an input as it is read.
func scan(in io.Reader) (lines int, err error) {
	buf := make([]byte, 128<<10)
	for {
		n, err := in.Read(buf)
		lines += scanMemory(buf[:n])
		switch {
		case errors.Is(err, io.EOF):
			return lines, nil
		case err != nil:
			return lines, err
		}
	}
}

// tokens reads all games of an input and makes nothing of them.
func tokens(in io.Reader) (games int, err error) {
	r := pgn.NewReader(in, pgn.Options{})
	for range r.All() {
		games++
	}
	return games, r.Err()
}

// tree counts the moves of all games in files, as prep does for peers.
func tree(ctx context.Context, workers int, opt fetch.Options, patterns ...string) (*profile.Counts, error) {
	opt.Workers, opt.Plies = workers, depth
	games, err := fetch.Open(ctx, fetch.Inputs(patterns...), opt)
	if err != nil {
		return nil, err
	}
	var parts []*profile.Counts
	games.Spread(func() func(*pgn.Game) {
		part := profile.NewCounts(depth)
		parts = append(parts, part)
		return func(g *pgn.Game) { part.Add(g) }
	})
	for _, part := range parts[1:] {
		parts[0].Merge(part)
	}
	return parts[0], games.Err()
}

// peers makes a book of the games of files in memory, as prep --peers does, and
// reports its length.
func peers(ctx context.Context, workers int, path string) (int64, error) {
	games, err := fetch.Open(ctx, []fetch.Input{{Pattern: path}}, fetch.Options{Workers: workers, Plies: peerbook.Depth})
	if err != nil {
		return 0, err
	}
	take := profile.TakePeers(profile.PeerOptions{Fold: fetch.Fold}, workers)
	defer take.Close()
	games.Spread(func() func(*pgn.Game) { return take.Worker(nil) })
	if err := games.Err(); err != nil {
		return 0, err
	}
	about, err := take.Write(ctx, io.Discard)
	if err != nil {
		return 0, err
	}
	return about.Size, nil
}

// career reads one player's games out of a file, as prep does for the opponent.
func career(ctx context.Context, workers int, path, name string) (*profile.Profile, error) {
	games, err := fetch.Open(ctx, []fetch.Input{{Pattern: path}}, fetch.Options{Workers: workers, Who: fetch.Who{Names: []string{name}}})
	if err != nil {
		return nil, err
	}
	p := profile.Build(games.All(), profile.Options{MaxPly: depth, Them: func(g *pgn.Game) (board.Color, bool) {
		white, black := games.Match(g)
		if white {
			return board.White, !black
		}
		return board.Black, black
	}})
	return p, games.Err()
}

// plainTree is what one builds over a library: how often each move was played at a
// position, told apart by the first four fields of its FEN.
type plainTree map[string]map[string]int

func (t plainTree) add(fen, move string) {
	for range 2 {
		fen = fen[:strings.LastIndexByte(fen, ' ')]
	}
	moves := t[fen]
	if moves == nil {
		moves = map[string]int{}
		t[fen] = moves
	}
	moves[move]++
}

// rulesTree builds a tree with the reader of the rules library.
func rulesTree(in io.Reader) (games int, t plainTree, err error) {
	t = plainTree{}
	for s := rules.NewScanner(in); s.Scan(); games++ {
		g := s.Next()
		positions := g.Positions()
		for i, m := range g.Moves() {
			if i == depth {
				break
			}
			t.add(positions[i].String(), m.String())
		}
		err = s.Err()
	}
	return games, t, err
}

// otherTree builds a tree with another Go library for chess. Games that it refuses
// are passed over; see TestLegalCastlingRefused.
func otherTree(in io.Reader) (games int, t plainTree) {
	t = plainTree{}
	for s := other.NewScanner(in); s.HasNext(); games++ {
		g, err := s.ParseNext()
		if err != nil {
			continue
		}
		positions := g.Positions()
		for i, m := range g.Moves() {
			if i == depth {
				break
			}
			t.add(positions[i].String(), m.String())
		}
	}
	return games, t
}

// lines are the main lines of a text, each as moves in the notation of the UCI
// protocol.
type lines []string

func ourLines(text []byte) (out lines) {
	for g := range pgn.NewReader(bytes.NewReader(text), pgn.Options{}).All() {
		pos, err := profile.Start(g.Header())
		if err != nil {
			out = append(out, "no position")
			continue
		}
		var row []string
		for i := range g.Moves {
			m, err := pos.Resolve(g.Moves[i].SAN)
			if err != nil {
				break
			}
			row = append(row, m.UCI())
			pos.Play(m)
		}
		out = append(out, strings.Join(row, " "))
	}
	return out
}

// mostGames ends a reader that goes round in circles.
const mostGames = 1000

func rulesLines(text []byte) (out lines, err error) {
	defer func() {
		if r := recover(); r != nil {
			err = fmt.Errorf("panic: %v", r)
		}
	}()
	for s := rules.NewScanner(bytes.NewReader(text)); s.Scan() && len(out) < mostGames; {
		var row []string
		for _, m := range s.Next().Moves() {
			row = append(row, m.String())
		}
		out = append(out, strings.Join(row, " "))
		err = s.Err()
	}
	return out, err
}

func otherLines(text []byte) (out lines, err error) {
	defer func() {
		if r := recover(); r != nil {
			err = fmt.Errorf("panic: %v", r)
		}
	}()
	for s := other.NewScanner(bytes.NewReader(text)); s.HasNext() && len(out) < mostGames; {
		g, err := s.ParseNext()
		if err != nil {
			return out, err
		}
		var row []string
		for _, m := range g.Moves() {
			row = append(row, m.String())
		}
		out = append(out, strings.Join(row, " "))
	}
	return out, nil
}

// write puts a text into a file of its own.
func write(tb testing.TB, name string, text []byte) string {
	tb.Helper()
	path := tb.TempDir() + "/" + name
	if err := os.WriteFile(path, text, 0o644); err != nil {
		tb.Fatal(err)
	}
	return path
}
