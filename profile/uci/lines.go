package uci

import (
	"bytes"
	"strings"
	"sync"
)

// longest is how many bytes of a line are kept; no line of the protocol comes
// near it.
const longest = 64 << 10

// lineWriter cuts what a process writes into lines and hands them to who reads,
// until nobody does.
type lineWriter struct {
	lines chan string
	gone  <-chan struct{}
	part  []byte
}

func (w *lineWriter) Write(b []byte) (int, error) {
	n := len(b)
	for {
		line, rest, whole := bytes.Cut(b, []byte("\n"))
		w.part = append(w.part, line[:min(len(line), longest-len(w.part))]...)
		if !whole {
			return n, nil
		}
		select {
		case w.lines <- strings.TrimSpace(string(w.part)):
		case <-w.gone:
		}
		w.part, b = w.part[:0], rest
	}
}

// troubles keeps the first words that a process says of its troubles.
type troubles struct {
	mu   sync.Mutex
	kept []byte
}

// mostTold is how much of them is told.
const mostTold = 200

func (t *troubles) Write(b []byte) (int, error) {
	t.mu.Lock()
	defer t.mu.Unlock()
	t.kept = append(t.kept, b[:min(len(b), mostTold-len(t.kept))]...)
	return len(b), nil
}

func (t *troubles) text() string {
	t.mu.Lock()
	defer t.mu.Unlock()
	return strings.Join(strings.Fields(string(t.kept)), " ")
}
