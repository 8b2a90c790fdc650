package main

import (
	"bufio"
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"unicode/utf8"

	"foreply/profile/hindsight"
	"foreply/profile/peerbook"
)

// outFile is a file in the making: written beside its place and renamed when
// whole, so that a failed run leaves none. It is opened before the work begins,
// since nobody wants to hear of a missing folder after it.
type outFile struct {
	*os.File
	path string
}

// What our own files begin with, and may be replaced for.
const (
	pdfHead = "%PDF-"
	pgnHead = `[Event "Lines to expect"]`
	csvHead = hindsight.CSVHead
	epdHead = "" // an EPD file has no head: its first line tells by epdMark
)

// epdMark stands in every line of our EPD files.
const epdMark = `; c1 "reach `

var notOurs = map[string]string{
	pdfHead: "no PDF", pgnHead: "no list of lines", csvHead: "no list of forecasts", epdHead: "no list of ends",
	configHead: "not made by 'foreply field'", peerbook.Head: "no book of peers of this version",
}

// ours tells whether we wrote a file, by its first bytes.
func ours(start []byte, head string) bool {
	if head == epdHead {
		line, _, _ := bytes.Cut(start, []byte("\n"))
		return bytes.Contains(line, []byte(epdMark))
	}
	return bytes.HasPrefix(start, []byte(head))
}

// startBytes is enough for any head, and for a line of EPD.
const startBytes = 4096

// createOut opens the file that will become path. A file that stands there is
// replaced only if it begins with head, or as our EPD files do.
func createOut(path, head string) (*outFile, error) {
	if path == "-" {
		return nil, misuse("nothing is written to standard output but text and JSON", "give the name of a file")
	}
	if err := mayReplace(path, head); err != nil {
		return nil, err
	}
	folder := filepath.Dir(path)
	if info, err := os.Stat(folder); err != nil || !info.IsDir() {
		return nil, advise(fmt.Errorf("writing %s: there is no folder %s", path, folder),
			"make the folder first, or give another place")
	}
	part := filepath.Join(folder, fmt.Sprintf(".%s.%d.part", filepath.Base(path), os.Getpid()))
	f, err := os.OpenFile(part, os.O_CREATE|os.O_EXCL|os.O_WRONLY, 0o666)
	if err != nil {
		return nil, advise(fmt.Errorf("writing %s: %w", path, cause(err)), "give another place")
	}
	return &outFile{f, path}, nil
}

// mayReplace refuses to overwrite what we did not write: a slip of the hand must
// not cost a repertoire.
func mayReplace(path, head string) error {
	info, err := os.Stat(path)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil
	case err != nil:
		return advise(fmt.Errorf("writing %s: %w", path, cause(err)), "give another place")
	case info.IsDir():
		return advise(fmt.Errorf("writing %s: it is a folder", path), "give a file name, as "+filepath.Join(path, "sheet.pdf"))
	case !info.Mode().IsRegular():
		return fmt.Errorf("writing %s: it is no plain file", path)
	}
	f, err := os.Open(path)
	if err != nil {
		return fmt.Errorf("writing %s: %w", path, cause(err))
	}
	defer f.Close()
	start, err := io.ReadAll(io.LimitReader(f, startBytes))
	if len(start) > 0 && !ours(start, head) {
		return advise(fmt.Errorf("writing %s: the file is there already and is %s", path, notOurs[head]), "give another name")
	}
	if err != nil {
		return fmt.Errorf("writing %s: %w", path, cause(err))
	}
	return nil
}

// fill writes the file through a buffer.
func (o *outFile) fill(write func(io.Writer) error) error {
	w := bufio.NewWriter(o)
	err := write(w)
	if err == nil {
		err = w.Flush()
	}
	if err != nil {
		return fmt.Errorf("writing %s: %w", o.path, cause(err))
	}
	return nil
}

// keep puts the finished file in its place.
func (o *outFile) keep() error {
	err := o.Sync()
	if e := o.Close(); err == nil {
		err = e
	}
	if err == nil {
		err = os.Rename(o.Name(), o.path)
	}
	if err != nil {
		return fmt.Errorf("writing %s: %w", o.path, cause(err))
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

// cause takes the operation and the path off an error of the file system: the
// message has them already.
func cause(err error) error {
	var path *fs.PathError
	if errors.As(err, &path) {
		return path.Err
	}
	var link *os.LinkError
	if errors.As(err, &link) {
		return link.Err
	}
	return err
}

// columns is how wide text is set; wider is hard to read.
const columns = 80

// wrap prints words behind a head, and the rest of them indented on further
// lines.
func wrap(w io.Writer, head, indent string, words []string) {
	line, bare := head, true
	for _, word := range words {
		if !bare && utf8.RuneCountInString(line)+1+utf8.RuneCountInString(word) > columns {
			fmt.Fprintln(w, line)
			line, bare = indent, true
		}
		if !bare {
			line += " "
		}
		line += word
		bare = false
	}
	fmt.Fprintln(w, line)
}
