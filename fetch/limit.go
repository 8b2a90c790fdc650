package fetch

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"io"
)

// Limits guard against compressed files that unpack without end. Each counts per
// file on disk, whatever is nested in it; zero takes the default.
type Limits struct {
	Entries  int   // members of an archive that are looked at; default 10 000
	Unpacked int64 // bytes; default 64 GiB
	Ratio    int64 // unpacked to packed bytes, from 16 MiB unpacked on; default 200
}

const (
	defaultEntries  = 10_000
	defaultUnpacked = 64 << 30
	// PGN packs to a fifth or a tenth; a file that holds one game over and over
	// may reach 100.
	defaultRatio = 200
	ratioFrom    = 16 << 20
	// A zip archive that comes through a stream waits in a temporary file.
	spoolLimit = 4 << 30
	// gzip in zip in zstd is odd enough.
	deepest = 3
	// What the zstd program packs by default or with --long stays under this.
	zstdWindow = 128 << 20
)

func (l Limits) orDefault() Limits {
	l.Entries = cmp.Or(l.Entries, defaultEntries)
	l.Unpacked = cmp.Or(l.Unpacked, defaultUnpacked)
	l.Ratio = cmp.Or(l.Ratio, defaultRatio)
	return l
}

// ErrOverLimit is what an error wraps about something too large to be read.
var ErrOverLimit = errors.New("over a limit")

func overLimit(format string, args ...any) error {
	return &Error{
		fmt.Errorf("%s: %w", fmt.Sprintf(format, args...), ErrOverLimit),
		"if you trust the file, unpack it yourself and give what comes out",
	}
}

// packedReader counts what comes from disk and stops when the context ends.
type packedReader struct {
	ctx  context.Context
	r    io.Reader
	n    int64
	read func(n int)
}

func (p *packedReader) Read(b []byte) (int, error) {
	if err := context.Cause(p.ctx); err != nil {
		return 0, err
	}
	n, err := p.r.Read(b)
	p.n += int64(n)
	p.read(n)
	return n, err
}

// guard is what one file on disk has unpacked to so far.
type guard struct {
	limits   Limits
	packed   func() int64 // bytes on disk
	unpacked int64
}

func (g *guard) check() error {
	switch {
	case g.unpacked > g.limits.Unpacked:
		return overLimit("it unpacks to more than %d bytes", g.limits.Unpacked)
	case g.unpacked > ratioFrom && g.unpacked/g.limits.Ratio > g.packed():
		return overLimit("it unpacks to more than %d times its size", g.limits.Ratio)
	}
	return nil
}

// guardedReader counts unpacked bytes.
type guardedReader struct {
	guard *guard
	r     io.Reader
}

func (g *guardedReader) Read(b []byte) (int, error) {
	n, err := g.r.Read(b)
	g.guard.unpacked += int64(n)
	if over := g.guard.check(); over != nil {
		return 0, over
	}
	return n, err
}
