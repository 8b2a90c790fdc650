package profile

import (
	"context"
	"errors"
	"io"
	"strings"
	"testing"

	"foreply/fetch/pgn"
	"foreply/profile/peerbook"
)

// What is left out of a book is counted by why: games without a date, unfit ones (another
// start, a null move, under six plies), filtered ones; one move more and it counts.
func TestLeftOutOfABook(t *testing.T) {
	const six = "1. e4 e5 2. Nf3 Nc6 3. Bb5 a6 *"
	text := "[Date \"2026.01.01\"]\n\n" + six + "\n\n[Date \"2026.01.01\"]\n\n1. e4 e5 2. Nf3 Nc6 3. Bb5 *\n\n[Date \"2026.01.01\"]\n\n1. d4 d5 2. -- d4 3. e4 e5 4. c4 *\n\n" +
		"[Date \"2026.01.01\"]\n[SetUp \"1\"]\n[FEN \"4k3/8/8/8/8/8/4P3/4K3 w - - 0 1\"]\n[White \"Hale\"]\n\n1. e4 Kd7 2. e5 Kc7 3. e6 Kc8 *\n\n" +
		"[White \"Ash\"]\n\n1. c4 c5 2. Nc3 Nc6 3. g3 g6 *\n\n[White \"Ash\"]\n\n1. c4 e5 2. Nc3 Nc6 3. g3 g6 *\n\n" +
		"[Date \"2025.12.??\"]\n\n1. c4 e6 2. Nc3 Nc6 3. g3 g6 *\n"
	intake := TakePeers(PeerOptions{Filter: PeerFilter{Since: on("2026.01.01").First}}, 0) // there is one worker at least
	defer intake.Close()
	takes := []func(*pgn.Game){intake.Worker(nil), intake.Worker(func(g *pgn.Game) (white, black bool) { return g.Header().White.Name == "Hale", false })} // two share it
	for g := range pgn.NewReader(strings.NewReader(text), pgn.Options{File: "x.pgn"}).All() {
		takes[g.Index%2](g)
	}
	about, err := intake.Write(context.Background(), io.Discard)
	if err != nil || about.Games != 1 || about.Unfit != 3 || about.Undated != 2 || about.Filtered != 1 {
		t.Errorf("%+v, %v", about, err)
	}
	for range 2 {
		intake.Worker(nil)
	}
}

// The opponent is known by games that don't count, too.
func TestNamesOfUnfitGames(t *testing.T) {
	intake := TakePeers(PeerOptions{}, 1)
	defer intake.Close()
	take := intake.Worker(func(*pgn.Game) (white, black bool) { return true, false })
	for g := range pgn.NewReader(strings.NewReader("[SetUp \"1\"]\n[FEN \"4k3/8/8/8/8/8/4P3/4K3 w - - 0 1\"]\n[White \"Hale\"]\n\n1. e4 *\n"), pgn.Options{}).All() {
		take(g)
	}
	if own := intake.Own(); len(own) != 1 || own[0] != playerOf("Hale", strings.ToLower) {
		t.Errorf("%v", own)
	}
}

// A surname is taken in small letters and without blanks, the whole name as it is folded.
func TestPlayerOfAName(t *testing.T) {
	fold := func(name string) string { return strings.ToLower(strings.ReplaceAll(name, " ", "")) }
	for name, want := range map[string]peerbook.Player{
		"Hale, Mina": peerbook.PlayerOf("hale", "hale,mina"), " Hale , Mina": peerbook.PlayerOf("hale", "hale,mina"), "De Hale": peerbook.PlayerOf("de hale", "dehale"),
	} {
		if got := playerOf(name, fold); got != want {
			t.Errorf("%q: %v, want %v", name, got, want)
		}
	}
	intake := TakePeers(PeerOptions{Fold: fold}, 1)
	defer intake.Close()
	take := intake.Worker(func(*pgn.Game) (white, black bool) { return true, false })
	for g := range pairedGames("Ha_le,_Mina/ Ash/ 2026.01.01 1-0 -: e4") {
		take(g)
	}
	if own := intake.Own(); len(own) != 1 || own[0] != peerbook.PlayerOf("ha le", "hale,mina") {
		t.Errorf("the fold that was given isn't used: %v", own)
	}
}

// A book in memory reads as a file does: what is there, and that it ends.
func TestBytesOfABook(t *testing.T) {
	var m memoryBook
	for _, part := range []string{"ab", "cde"} {
		if n, err := m.Write([]byte(part)); n != len(part) || err != nil {
			t.Errorf("%d, %v", n, err)
		}
	}
	for _, c := range []struct {
		at   int64
		want string
		err  error
	}{{0, "abc", nil}, {2, "cde", nil}, {3, "de", io.EOF}, {4, "e", io.EOF}, {5, "", io.EOF}, {9, "", io.EOF}} {
		b := make([]byte, 3)
		if n, err := m.ReadAt(b, c.at); string(b[:n]) != c.want || err != c.err {
			t.Errorf("at %d: %q, %v", c.at, b[:n], err)
		}
	}
}

// failing is a book that can't be read any more once it was opened.
type failing struct {
	memoryBook
	err error
}

func (f *failing) ReadAt(b []byte, at int64) (int, error) {
	if f.err != nil {
		return 0, f.err
	}
	return f.memoryBook.ReadAt(b, at)
}

// A position that can't be read has no peers, and the first reason is kept.
func TestPeersThatCannotBeRead(t *testing.T) {
	intake := TakePeers(PeerOptions{}, 1)
	defer intake.Close()
	take := intake.Worker(nil)
	for g := range gamesOf("2020.01.01 1-0 -: e4 e5 Nf3 Nc6 Bb5 a6") {
		take(g)
	}
	var f failing
	if _, err := intake.Write(context.Background(), &f.memoryBook); err != nil {
		t.Fatal(err)
	}
	book, err := peerbook.Open(&f, int64(len(f.memoryBook)))
	if err != nil {
		t.Fatal(err)
	}
	peers, err := OpenPeers(book, builtFrom(), Own{})
	if err != nil || peers.Err() != nil {
		t.Fatal(err, peers.Err())
	}
	f.err = errors.New("the disk is gone")
	pos := after(t, "e4")
	if got := peers.Record(pos.Key(), 1, Span{}); got != nil || !errors.Is(peers.Err(), f.err) {
		t.Errorf("%v, %v", got, peers.Err())
	}
}
