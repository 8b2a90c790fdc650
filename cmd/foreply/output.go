package main

import (
	"bufio"
	"bytes"
	"cmp"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"math/rand/v2"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"

	"foreply/fetch"
	"foreply/fetch/pgn/plain"
	"foreply/pdf/sheet"
	"foreply/profile/hindsight"
	"foreply/profile/peerbook"
)

// outFile is a file in the making: written beside its place and renamed when
// whole, so that a failed run leaves none. It is opened before the work begins,
// since nobody wants to hear of a missing folder after it. It is locked while it is
// written: what a killed run left behind has no lock, and the next run removes it.
type outFile struct {
	*os.File
	path string // as the user gave it
	real string // the same with links followed
}

// What our own files begin with, and may be replaced for.
const (
	pdfHead = "%PDF-"
	pgnHead = `[Event "Lines to expect"]`
	csvHead = hindsight.CSVHead
	epdHead = "" // an EPD file has no head: its first line tells by epdMark
)

// pdfMark stands in every PDF of ours.
const pdfMark = "/Creator (" + sheet.Creator + ")"

// epdMark stands in every line of our EPD files.
const epdMark = `; c1 "reach `

var notOurs = map[string]string{
	pdfHead: "no sheet of ours", pgnHead: "no list of lines", csvHead: "no list of forecasts", epdHead: "no list of ends",
	configHead: "not made by 'foreply field'", peerbook.AnyHead: "no book of peers",
}

// ours tells whether we wrote a file, by its first bytes, and a PDF by the mark in
// it.
func ours(f io.Reader, head string) (bool, error) {
	start, err := io.ReadAll(io.LimitReader(f, startBytes))
	switch {
	case err != nil || len(start) == 0:
		return len(start) == 0, err
	case head == epdHead:
		line, _, _ := bytes.Cut(start, []byte("\n"))
		return bytes.Contains(line, []byte(epdMark)), nil
	case !bytes.HasPrefix(start, []byte(head)):
		return false, nil
	case head == pdfHead:
		rest, err := io.ReadAll(io.LimitReader(f, mostSheet))
		return bytes.Contains(slices.Concat(start, rest), []byte(pdfMark)), err
	}
	return true, nil
}

const (
	startBytes = 4096     // enough for any head, and for a line of EPD
	mostSheet  = 16 << 20 // a larger PDF is none of ours
)

// createOut opens the file that will become path. A file that stands there is
// replaced only if it is one of ours or --force is given, and never if it is read in
// this run.
func (a *app) createOut(path, head string, reads []fetch.Input) (*outFile, error) {
	if path == "-" {
		return nil, misuse("nothing is written to standard output but text and JSON", "give the name of a file")
	}
	real := followLinks(path)
	if err := a.mayReplace(path, real, head, reads); err != nil {
		return nil, err
	}
	folder := filepath.Dir(real)
	if info, err := os.Stat(folder); err != nil || !info.IsDir() {
		return nil, advise(fmt.Errorf("writing %s: there is no folder %s", path, folder),
			"make the folder first, or give another place")
	}
	if whole, err := filepath.Abs(real); err == nil {
		if slices.Contains(a.writes, whole) {
			return nil, misuse(fmt.Sprintf("writing %s: it is to be written twice", path), "give two names")
		}
		a.writes = append(a.writes, whole)
	}
	f, err := createPart(real)
	if err != nil {
		return nil, advise(fmt.Errorf("writing %s: %w", path, fetch.Cause(err)), "give another place")
	}
	return &outFile{f, path, real}, nil
}

// followLinks returns what a symbolic link leads to, though it need not be there
// yet.
func followLinks(path string) string {
	const most = 40 // as systems do
	for range most {
		to, err := os.Readlink(path)
		if err != nil {
			break
		}
		if !filepath.IsAbs(to) {
			to = filepath.Join(filepath.Dir(path), to)
		}
		path = to
	}
	return path
}

// createPart makes the unfinished file and locks it, after removing those that were
// left behind.
func createPart(path string) (*os.File, error) {
	folder, name := filepath.Dir(path), "."+filepath.Base(path)+"."
	removeLeftovers(folder, name)
	for {
		f, err := os.OpenFile(filepath.Join(folder, fmt.Sprintf("%s%08x.part", name, rand.Uint32())), os.O_CREATE|os.O_EXCL|os.O_RDWR, 0o666)
		if errors.Is(err, fs.ErrExist) {
			continue
		}
		if err != nil {
			return nil, err
		}
		if fetch.TryLock(f) == nil && stillThere(f) {
			return f, nil
		}
		f.Close() // another run took it for a leftover
	}
}

func stillThere(f *os.File) bool {
	at, err := os.Stat(f.Name())
	mine, other := f.Stat()
	return err == nil && other == nil && os.SameFile(at, mine)
}

// removeLeftovers removes unfinished files of this name that nobody has open: the
// system frees the lock of a process that ends.
func removeLeftovers(folder, name string) {
	entries, err := os.ReadDir(folder)
	if err != nil {
		return
	}
	for _, e := range entries {
		if !e.Type().IsRegular() || !strings.HasPrefix(e.Name(), name) || !strings.HasSuffix(e.Name(), ".part") {
			continue
		}
		f, err := os.OpenFile(filepath.Join(folder, e.Name()), os.O_RDWR, 0)
		if err != nil {
			continue
		}
		if fetch.TryLock(f) == nil {
			os.Remove(f.Name())
		}
		f.Close()
	}
}

// mayReplace refuses to overwrite what we did not write: a slip of the hand must
// not cost a repertoire.
func (a *app) mayReplace(path, real, head string, reads []fetch.Input) error {
	info, err := os.Stat(real)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil
	case err != nil:
		return advise(fmt.Errorf("writing %s: %w", path, fetch.Cause(err)), "give another place")
	case info.IsDir():
		return advise(fmt.Errorf("writing %s: it is a folder", path), "give a file name, as "+filepath.Join(path, "sheet.pdf"))
	case !info.Mode().IsRegular():
		return fmt.Errorf("writing %s: it is no plain file", path)
	case isRead(info, reads):
		return advise(fmt.Errorf("writing %s: it is one of the files that are read", path), "give another name")
	case a.force:
		return nil
	}
	f, err := os.Open(real)
	if err != nil {
		return fmt.Errorf("writing %s: %w", path, fetch.Cause(err))
	}
	defer f.Close()
	mine, err := ours(f, head)
	if err != nil {
		return fmt.Errorf("writing %s: %w", path, fetch.Cause(err))
	}
	if !mine {
		return advise(fmt.Errorf("writing %s: the file is there already and is %s", path, notOurs[head]), "give another name, or --force to replace it")
	}
	return nil
}

// pagesBefore are the pages of an earlier run in a folder, which this one didn't make anew. The
// sheet that prep makes by default is not looked at: it is newer, or the user's own.
func (a *app) pagesBefore(folder string) []string {
	var out []string
	entries, _ := os.ReadDir(folder) // one that can't be read has none
	for _, e := range entries {
		path := filepath.Join(folder, e.Name())
		whole, err := filepath.Abs(followLinks(path))
		if err != nil || slices.Contains(a.writes, whole) || e.Name() == defaultOut || filepath.Ext(path) != ".pdf" {
			continue
		}
		if f, err := fetch.OpenPlain(path); err == nil {
			if mine, err := ours(f, pdfHead); err == nil && mine {
				out = append(out, e.Name())
			}
			f.Close()
		}
	}
	return out
}

// isRead reports whether a file is among those of the inputs, by whatever name.
func isRead(info fs.FileInfo, reads []fetch.Input) bool {
	for _, in := range reads {
		files, err := fetch.Files([]fetch.Input{in})
		if err != nil {
			continue // told where it is read
		}
		for _, name := range files {
			if other, err := os.Stat(name); err == nil && os.SameFile(info, other) {
				return true
			}
		}
	}
	return false
}

// fill writes the file through a buffer.
func (o *outFile) fill(write func(io.Writer) error) error {
	w := bufio.NewWriter(o)
	err := write(w)
	if err == nil {
		err = w.Flush()
	}
	if err != nil {
		return fmt.Errorf("writing %s: %w", o.path, fetch.Cause(err))
	}
	return nil
}

// keep puts the finished file in its place. Where the system can, it is renamed
// while it is still locked, so that nobody takes it for a leftover.
func (o *outFile) keep() error {
	err := o.Sync()
	if runtime.GOOS == "windows" {
		err = cmp.Or(err, o.Close())
	}
	if err == nil {
		err = os.Rename(o.Name(), o.real)
	}
	if runtime.GOOS != "windows" {
		err = cmp.Or(err, o.Close())
	}
	if err != nil {
		return fmt.Errorf("writing %s: %w", o.path, fetch.Cause(err))
	}
	return nil
}

// drop removes an unfinished file; after keep it does nothing.
func (o *outFile) drop() {
	if o != nil {
		o.Close()
		os.Remove(o.Name())
	}
}

// columns is how wide text is set; wider is hard to read.
const columns = 80

// wrap prints words behind a head, and the rest of them indented on further
// lines.
func wrap(w io.Writer, head, indent string, words []string) {
	for _, line := range plain.Wrap(head, indent, words, columns) {
		fmt.Fprintln(w, line)
	}
}
