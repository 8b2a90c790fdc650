package uci

import (
	"errors"
	"strings"
	"testing"
	"time"

	"foreply/profile/board"
	"foreply/profile/uci/scripted"
)

func TestScoreOfASide(t *testing.T) {
	s := Score{Centipawns: 30, Mate: 4}
	if s.For(board.White) != s || s.For(board.Black) != (Score{Centipawns: -30, Mate: -4}) {
		t.Errorf("White's %v, Black's %v", s.For(board.White), s.For(board.Black))
	}
}

// An answer that makes no sense is told with the move and the position.
func TestNonsenseInWords(t *testing.T) {
	const start = "rnbqkbnr/pppppppp/8/8/8/8/PPPPPPPP/RNBQKBNR w KQkq -"
	for best, want := range map[string]string{
		"e2e5": `the engine's answer is wrong: "e2e5" is no legal move in ` + start,
		"0000": `the engine's answer is wrong: "0000" is no legal move in ` + start,
		"":     `the engine's answer is wrong: "" is no legal move in ` + start,
		"e2e4": `the engine's answer is wrong: no evaluation with the move e2e4 in ` + start,
	} {
		c := newCollector(board.Start())
		c.read("id depth 1 score cp 5 pv e2e4") // no word of a search
		c.read(strings.TrimSpace("bestmove " + best))
		c.read("")
		r, err := c.result()
		if !errors.Is(err, ErrNonsense) || err.Error() != want || len(r.Lines) > 0 {
			t.Errorf("%s: %v, want %s", best, err, want)
		}
	}
}

// The counters of a position are not told: the same position is the same question.
func TestCountersAreNotTold(t *testing.T) {
	e, in := answering(Options{}, "readyok", "info depth 1 score cp 5 pv c3d5", "bestmove c3d5")
	if _, err := e.Search(t.Context(), hanging(t), 70, 1); err != nil || !strings.Contains(in.String(), "position fen r1b1kbnr/ppp1pppp/2n5/3q4/8/2N5/PPPP1PPP/R1BQKBNR w KQkq - 0 1\n") {
		t.Errorf("%v, told %s", err, in.String())
	}
}

// Who isn't ready in the time for greetings is given up, however long a search may take.
func TestNeverReady(t *testing.T) {
	e, _ := answering(Options{Handshake: 20 * time.Millisecond, Search: time.Hour}, "uciok")
	if err := e.greet(t.Context()); !errors.Is(err, ErrSilent) || err.Error() != `no answer to "isready" within 20ms` {
		t.Errorf("%v", err)
	}
}

// Who minds no stop is given up after the time for that.
func TestNoAnswerToStop(t *testing.T) {
	e, err := play(t, scripted.Lost)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := e.Search(t.Context(), board.Start(), 1000, 1); err == nil || err.Error() != `no answer to "stop" within 300ms` {
		t.Errorf("%v", err)
	}
}

// What a process writes becomes lines, however it is cut, without blanks and carriage returns
// around them, the longest up to a bound; when nobody reads any more, it goes nowhere.
func TestLinesOfAProcess(t *testing.T) {
	gone := make(chan struct{})
	w := &lineWriter{lines: make(chan string, 10), gone: gone}
	long := strings.Repeat("x", longest)
	for _, text := range []string{"one\r\n  two words ", "and more\n\nthr", "", "ee\n", long + "yz", "more\nfour\n", "five"} {
		if n, err := w.Write([]byte(text)); n != len(text) || err != nil {
			t.Errorf("%.20q: %d, %v", text, n, err)
		}
	}
	for _, want := range []string{"one", "two words and more", "", "three", long, "four"} {
		if got := <-w.lines; got != want {
			t.Errorf("%.30q, want %.30q", got, want)
		}
	}
	if len(w.lines) > 0 {
		t.Errorf("%q is no line yet", <-w.lines)
	}
	close(gone)
	if n, err := w.Write([]byte(strings.Repeat("\n", 30))); n != 30 || err != nil {
		t.Errorf("with nobody there: %d, %v", n, err)
	}
}

// Of what a process says of its troubles the first 200 bytes are kept, as one line.
func TestTroubles(t *testing.T) {
	var w troubles
	for _, text := range []string{"no\tlibrary\n", "of that\r\nname ", strings.Repeat("z", 300), "and so on"} {
		if n, err := w.Write([]byte(text)); n != len(text) || err != nil {
			t.Errorf("%.20q: %d, %v", text, n, err)
		}
	}
	if got, want := w.text(), "no library of that name "+strings.Repeat("z", 200-25); got != want {
		t.Errorf("%q, want %q", got, want)
	}
}
