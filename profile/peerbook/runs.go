package peerbook

import (
	"bufio"
	"bytes"
	"encoding/binary"
	"fmt"
	"io"
	"os"
	"sync"
)

// runs are sorted lists of records of one width in a file that has no name any
// more, so that a killed build leaves nothing behind.
type runs struct {
	width int
	file  *os.File
	lock  sync.Mutex
	end   int64
	parts []part
}

type part struct{ at, size int64 }

func newRuns(folder string, width int) (*runs, error) {
	f, err := os.CreateTemp(folder, "foreply-peers-*.tmp")
	if err != nil {
		return nil, fmt.Errorf("making a file for the games in passing: %w", err)
	}
	os.Remove(f.Name()) // where an open file can't be removed, close does it
	return &runs{width: width, file: f}, nil
}

func (r *runs) close() {
	if r != nil {
		r.file.Close()
		os.Remove(r.file.Name())
	}
}

// runBuffer is how much of a run is written or read at a time.
const runBuffer = 64 << 10

// add writes a run: write gets a function that appends a record. Several may be
// written at once.
func (r *runs) add(records int, write func(put func([]byte))) error {
	size := int64(records) * int64(r.width)
	r.lock.Lock()
	at := r.end
	r.end += size
	r.parts = append(r.parts, part{at, size})
	r.lock.Unlock()
	w := bufio.NewWriterSize(io.NewOffsetWriter(r.file, at), runBuffer)
	write(func(b []byte) { w.Write(b) })
	if err := w.Flush(); err != nil {
		return fmt.Errorf("writing games in passing: %w", err)
	}
	return nil
}

// sources are the runs, to be merged.
func (r *runs) sources() []source {
	var out []source
	buffer := min(runBuffer, max(4<<10, mergeMemory/max(1, len(r.parts))))
	for _, p := range r.parts {
		out = append(out, &runSource{
			in:  bufio.NewReaderSize(io.NewSectionReader(r.file, p.at, p.size), buffer),
			rec: make([]byte, r.width),
		})
	}
	return out
}

// mergeMemory is what the buffers of a merge may take together.
const mergeMemory = 16 << 20

// source hands out records in order. A record is valid until the next call; nil
// is the end.
type source interface {
	next() ([]byte, error)
}

type runSource struct {
	in  *bufio.Reader
	rec []byte
}

func (s *runSource) next() ([]byte, error) {
	_, err := io.ReadFull(s.in, s.rec)
	switch {
	case err == io.EOF:
		return nil, nil
	case err != nil:
		return nil, fmt.Errorf("reading games in passing: %w", err)
	}
	return s.rec, nil
}

// memorySource hands out records that were never written.
type memorySource struct {
	n    int
	each func(i int) []byte
	at   int
}

func (s *memorySource) next() ([]byte, error) {
	if s.at == s.n {
		return nil, nil
	}
	s.at++
	return s.each(s.at - 1), nil
}

// merge hands out the records of sorted sources in one order. Records have 8
// bytes or more.
func merge(sources []source, hand func([]byte) error) error {
	var h []front
	for _, s := range sources {
		rec, err := s.next()
		if err != nil {
			return err
		}
		if rec != nil {
			h = append(h, front{binary.BigEndian.Uint64(rec), rec, s})
		}
	}
	for i := len(h)/2 - 1; i >= 0; i-- {
		sink(h, i)
	}
	for len(h) > 0 {
		if err := hand(h[0].rec); err != nil {
			return err
		}
		rec, err := h[0].from.next()
		switch {
		case err != nil:
			return err
		case rec == nil:
			h[0] = h[len(h)-1]
			h = h[:len(h)-1]
		default:
			h[0].first, h[0].rec = binary.BigEndian.Uint64(rec), rec
		}
		sink(h, 0)
	}
	return nil
}

// front is the next record of a source; first are its first 8 bytes.
type front struct {
	first uint64
	rec   []byte
	from  source
}

func (a *front) before(b *front) bool {
	if a.first != b.first {
		return a.first < b.first
	}
	return bytes.Compare(a.rec[8:], b.rec[8:]) < 0
}

// sink restores the order of a heap whose element i may be too large.
func sink(h []front, i int) {
	for {
		least := i
		for _, child := range [...]int{2*i + 1, 2*i + 2} {
			if child < len(h) && h[child].before(&h[least]) {
				least = child
			}
		}
		if least == i {
			return
		}
		h[i], h[least] = h[least], h[i]
		i = least
	}
}
