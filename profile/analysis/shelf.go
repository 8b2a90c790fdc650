package analysis

import (
	"bufio"
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"time"

	"foreply/profile/board"
	"foreply/profile/uci"
)

// kept is how many plies of a line are kept.
const kept = 10

// shelf keeps results of one engine with one set of options in a file, a line of
// JSON for each. Lines are only ever added, each by one write, so that two runs
// at once don't harm each other; a line cut off by a crash is passed over.
type shelf struct {
	kept map[string]entry // by EPD
	file *os.File         // nil where nothing is kept
	err  error            // of the first write that failed
}

// entry is a result with the time it took.
type entry struct {
	result uci.Result
	spent  time.Duration
}

// asked is the first line of a file: what its results depend on.
type asked struct {
	Engine  string        `json:"engine"`
	Nodes   int           `json:"nodes"`
	Lines   int           `json:"lines"`
	Threads int           `json:"threads"`
	Hash    int           `json:"hash"`
	Set     []uci.Setting `json:"set"`
}

// record is any other line.
type record struct {
	EPD   string       `json:"epd"`
	Spent int64        `json:"ms"`
	Lines []recordLine `json:"lines"`
}

type recordLine struct {
	Centipawns int      `json:"cp"` // from White's side
	Mate       int      `json:"mate,omitempty"`
	Depth      int      `json:"depth"`
	Moves      []string `json:"moves"` // as UCI writes them
}

// openShelf reads what was kept for an engine, and makes room for more. Where
// that can't be, nothing is kept, and err says why.
func openShelf(opt *Options, engine string) *shelf {
	s := &shelf{kept: map[string]entry{}}
	if opt.Folder == "" {
		return s
	}
	head, err := json.Marshal(asked{engine, opt.Nodes, opt.Lines, opt.Engine.Threads, opt.Engine.Hash, opt.Engine.Set})
	if err == nil {
		sum := sha256.Sum256(head)
		err = s.open(filepath.Join(opt.Folder, hex.EncodeToString(sum[:8])+".jsonl"), head)
	}
	s.fail(err)
	return s
}

// fail keeps the first error.
func (s *shelf) fail(err error) {
	if err != nil && s.err == nil {
		s.err = fmt.Errorf("keeping what the engine finds: %w", err)
	}
}

func (s *shelf) open(path string, head []byte) error {
	if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
		return err
	}
	data, err := os.ReadFile(path)
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return err
	}
	s.read(data)
	if s.file, err = os.OpenFile(path, os.O_CREATE|os.O_APPEND|os.O_WRONLY, 0o666); err != nil {
		return err
	}
	if len(data) == 0 {
		s.write(head)
	} else if !bytes.HasSuffix(data, []byte("\n")) {
		s.write(nil)
	}
	return nil
}

// read takes the lines that are whole and true to the rules.
func (s *shelf) read(data []byte) {
	r := bufio.NewReader(bytes.NewReader(data))
	for {
		line, err := r.ReadBytes('\n')
		var rec record
		if json.Unmarshal(line, &rec) == nil {
			if result, ok := rec.result(); ok {
				s.kept[rec.EPD] = entry{result, time.Duration(rec.Spent) * time.Millisecond}
			}
		}
		if errors.Is(err, io.EOF) {
			return
		}
	}
}

// result reads the moves of a record on the board; false if one is illegal.
func (r *record) result() (uci.Result, bool) {
	start, err := board.ParseFEN(r.EPD)
	if err != nil || len(r.Lines) == 0 {
		return uci.Result{}, false
	}
	var out uci.Result
	for _, l := range r.Lines {
		line := uci.Line{Score: uci.Score{Centipawns: l.Centipawns, Mate: l.Mate}, Depth: l.Depth}
		pos := start
		for _, text := range l.Moves {
			m, err := pos.ParseUCI(text)
			if err != nil || m == board.NullMove {
				return uci.Result{}, false
			}
			line.Moves = append(line.Moves, m)
			pos.Play(m)
		}
		if len(line.Moves) == 0 {
			return uci.Result{}, false
		}
		out.Lines = append(out.Lines, line)
	}
	return out, true
}

// add keeps a result.
func (s *shelf) add(epd string, e entry) {
	if s.file == nil || s.err != nil {
		return
	}
	rec := record{EPD: epd, Spent: int64((e.spent + time.Millisecond - 1) / time.Millisecond)} // rounded up: the time that was over stays so
	for _, l := range e.result.Lines {
		line := recordLine{Centipawns: l.Score.Centipawns, Mate: l.Score.Mate, Depth: l.Depth}
		for _, m := range l.Moves {
			line.Moves = append(line.Moves, m.UCI())
		}
		rec.Lines = append(rec.Lines, line)
	}
	text, err := json.Marshal(rec)
	if s.fail(err); err == nil {
		s.write(text)
	}
}

// write adds a line.
func (s *shelf) write(line []byte) {
	_, err := s.file.Write(append(line, '\n'))
	s.fail(err)
}

func (s *shelf) close() {
	if s.file != nil {
		s.fail(s.file.Close())
	}
}
