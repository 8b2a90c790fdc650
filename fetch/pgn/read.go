package pgn

import (
	"bytes"
	"fmt"
	"io"
	"iter"
	"unicode/utf8"
)

// Options say what a Reader looks at. The zero value reads the main lines of all
// games.
type Options struct {
	Source, File string // for the places of problems; see Problem
	Variations   bool   // build Game.Tree as well

	// Want sees a game by its tags before the moves are looked at. The moves of one
	// that it refuses are skipped and the game is not handed out, though counted. The
	// game is valid during the call. Nil wants all.
	Want func(*Game) bool

	// Passing says that tags are kept no longer than the game is valid. Their
	// strings then need no memory of their own. Game.Clone makes copies that stay.
	Passing bool

	// Plies bounds the main line: behind so many half-moves a game's movetext is
	// passed over unread, its faults too. Zero reads all. Tree is then not cut.
	Plies int

	// MaxGame bounds a game, in bytes; 1 MiB when zero. What a longer game has
	// beyond it is left out with a TooLong problem; the next game is found again
	// by its tags.
	MaxGame int
}

const (
	defaultMaxGame = 1 << 20
	firstBlock     = 8 << 10   // bytes asked of the io.Reader first
	blockSize      = 128 << 10 // and then at a time
	maxLoose       = 50        // problems outside of games kept
)

// Reader reads the games of one input.
type Reader struct {
	src io.Reader
	opt Options
	err error

	buf        []byte
	start, end int  // what is read and not used yet
	filled     int  // end, or one more for a CR whose next byte is not known
	eof        bool // nothing will be added
	sniffed    bool // the mark of UTF-16 was looked for
	begun      bool // the mark of UTF-8 was looked for
	escape     bool // in the middle of an escape line too long for the buffer
	lost       bool // behind a game that was too long: the next tag section is to be found

	line, column int // place of buf[start]
	games        int
	loose        []Problem
	looseMore    int
	splitter     splitter
	parser       parser
}

// NewReader returns a Reader of the games in src.
func NewReader(src io.Reader, opt Options) *Reader {
	if opt.MaxGame <= 0 {
		opt.MaxGame = defaultMaxGame
	}
	r := &Reader{src: src, opt: opt, line: 1, column: 1}
	r.parser.opt = &r.opt
	r.splitter.ahead = r.ahead
	return r
}

// ahead reads the start of the next game while split looks for its end.
func (r *Reader) ahead(b []byte, sp span) (to, moves int) {
	return r.parser.ahead(b, sp, r.splitter.pairs, Problem{Game: r.games + 1, Line: r.line, Column: r.column})
}

// All returns the games one after another. A game is valid until the next one is
// asked for. After the loop, Err tells whether the input ended by itself.
func (r *Reader) All() iter.Seq[*Game] {
	return func(yield func(*Game) bool) {
		for g := r.next(); g != nil; g = r.next() {
			if !yield(g) {
				return
			}
		}
	}
}

// Err returns the error of the input that ended reading, nil at its end. Faults
// of the text are no errors: see Game.Problems and Reader.Problems.
func (r *Reader) Err() error { return r.err }

// Games returns the number of games seen so far, wanted or not.
func (r *Reader) Games() int { return r.games }

// Problems returns the problems found so far that belong to no game, such as
// text before the first one. Only the first are kept; the last entry counts the
// others.
func (r *Reader) Problems() []Problem {
	if r.looseMore == 0 {
		return r.loose
	}
	p := r.loose[len(r.loose)-1]
	p.Message = fmt.Sprintf("text outside of any game, and %d more times", r.looseMore)
	return append(r.loose[:len(r.loose):len(r.loose)], p)
}

// next returns the next wanted game, nil at the end.
func (r *Reader) next() *Game {
	for {
		if r.lost { // not before: it moves the buffer, and the game before lies there
			r.lost = false
			r.resync()
		}
		if !r.skipLead() {
			return nil
		}
		p, ok := r.cut()
		if !ok {
			return nil
		}
		r.lost = p.long
		if r.parse(&p) {
			return &r.parser.game
		}
	}
}

// parse reads a piece into r.parser.game and reports whether it is a wanted game.
func (r *Reader) parse(p *piece) bool {
	p.at.Game = r.games + 1
	switch r.parser.read(p) {
	case noGame:
		r.outside(&r.parser)
	case unwanted:
		r.games++
	case wanted:
		r.games++
		return true
	}
	return false
}

// outside reports a text that is no game, unless it is only comments.
func (r *Reader) outside(p *parser) {
	q := Problem{Kind: StrayText, Severity: Warning, Message: "text outside of any game, passed over"}
	switch {
	case p.sp.body == p.sp.bodyEnd && p.sp.value != "":
		q.Message = "result without a game, passed over"
	case !p.foundFault():
		return
	}
	if len(r.loose) >= maxLoose {
		r.looseMore++
		return
	}
	p.game.Index = 0
	p.game.Problems, p.counts = nil, nil
	p.report(q, token{line: p.game.Line, end: min(len(p.b), 40)})
	r.loose = append(r.loose, p.game.Problems...)
}

// piece is a text that split cut out, most often a game.
type piece struct {
	text  []byte
	sp    span
	pairs []tagPair
	at    Problem // place of the first byte
	long  bool    // it goes on beyond Options.MaxGame
}

// cut returns the next piece and moves on behind it; false when reading failed
// within it.
func (r *Reader) cut() (p piece, ok bool) {
	for {
		window := r.buf[r.start:r.end]
		last := r.eof && len(window) <= r.opt.MaxGame
		full := len(window) >= r.opt.MaxGame
		window = window[:min(len(window), r.opt.MaxGame)]
		sp, ok := r.splitter.split(window, last || full)
		if !ok {
			r.fill()
			continue
		}
		cutOff := sp.end == len(window) && sp.markEnd == sp.bodyEnd
		if cutOff && last && r.err != nil {
			return p, false
		}
		p = piece{text: window[:sp.end], sp: sp, pairs: r.splitter.pairs, long: cutOff && !last}
		p.at = Problem{Line: r.line, Column: r.column}
		r.advance(sp.end)
		return p, true
	}
}

// skipLead goes to the first byte of the next game; false at the end.
func (r *Reader) skipLead() bool {
	for {
		if r.end-r.start < lookahead && !r.eof {
			r.fill()
			continue
		}
		r.skipMark()
		b := r.buf[r.start:r.end]
		i := r.endEscape(b)
		if r.column == 1 && i == 0 {
			i = skipEscapes(b, 0)
		}
		i, _ = skipSpace(b, i)
		if i < len(b) && len(b)-i < lookahead && !r.eof { // a bullet may be cut off
			r.fill()
			continue
		}
		if i < len(b) || r.eof {
			r.advance(i)
			return i < len(b)
		}
		r.dropLead(b)
	}
}

// skipMark passes over the byte order mark of UTF-8 at the start of the input.
func (r *Reader) skipMark() {
	if !r.begun && bytes.HasPrefix(r.buf[r.start:r.end], []byte("\uFEFF")) {
		r.start += 3
	}
	r.begun = true
}

// endEscape returns where the escape line ends that was cut off by dropLead.
func (r *Reader) endEscape(b []byte) int {
	if !r.escape {
		return 0
	}
	i := lineEnd(b, 0)
	r.escape = i == len(b)
	return i
}

// dropLead lets go of white space and escape lines that fill the whole buffer.
func (r *Reader) dropLead(b []byte) {
	n := bytes.LastIndexByte(b, '\n') + 1
	if n == 0 && len(b) >= blockSize {
		r.escape = r.escape || r.column == 1 && b[0] == '%'
		n = len(b)
	}
	r.advance(n)
	r.fill()
}

// advance moves the start by n bytes and keeps count of line and column. The
// column is not worked out where a line ends, since it begins anew there.
func (r *Reader) advance(n int) {
	b := r.buf[r.start : r.start+n]
	r.start += n
	lines := bytes.Count(b, newline)
	r.line += lines
	if r.start < r.end && (r.buf[r.start] == '\n' || r.buf[r.start] == '\r') {
		r.column = 1
		return
	}
	if lines > 0 {
		r.column = 1
		b = b[bytes.LastIndexByte(b, '\n')+1:]
	}
	r.column += utf8.RuneCount(b)
}

// resync goes to the next tag section after a game that was too long.
func (r *Reader) resync() {
	const keep, behind = 512, 64 + mostIndent // the blank line may have gone with the game
	for {
		back := min(r.start, behind)
		b := r.buf[r.start-back : r.end]
		if k := nextSection(b, back); k >= 0 {
			r.advance(k - back)
			return
		}
		if r.eof {
			r.advance(r.end - r.start)
			return
		}
		r.advance(max(0, r.end-r.start-keep))
		r.fill()
	}
}

// nextSection finds a tag pair from b[from] on at the start of a line that follows
// a blank line or a termination marker, as safeCut wants it, or is the Event, first
// of the roster; -1 when there is none.
func nextSection(b []byte, from int) int {
	for p := lineBracket(b, from); p >= 0; p = lineBracket(b, p+1) {
		if !startsTag(b, p) {
			continue
		}
		if _, ended := beforeMarker(b[:p]); ended || afterBlank(b, p) || bytes.HasPrefix(b[p:], []byte("[Event ")) {
			return p
		}
	}
	return -1
}

// fill adds to the buffer, at least one byte unless the input ends. It moves
// what is not used yet to the front and makes room when there is little.
func (r *Reader) fill() {
	if r.start > 0 {
		n := copy(r.buf, r.buf[r.start:r.filled])
		r.end -= r.start
		r.filled = n
		r.start = 0
	}
	room := min(max(firstBlock, len(r.buf)), blockSize)
	if want := r.filled + room; want > len(r.buf) {
		grown := make([]byte, max(want, 2*len(r.buf)))
		copy(grown, r.buf[:r.filled])
		r.buf = grown
	}
	for empty := 0; r.filled < len(r.buf) && !r.eof; {
		n, err := r.src.Read(r.buf[r.filled:])
		r.filled += n
		if empty++; n > 0 {
			empty = 0
		}
		if !r.sniffed && (r.filled >= utf16Sniff || err != nil) {
			r.sniffed = true
			if r.widen(err) {
				continue
			}
		}
		switch {
		case err == io.EOF:
			r.eof = true
		case err == nil && empty < 100:
		default:
			r.fail(err)
		}
	}
	r.lineEnds()
}

// widen puts a converter before an input that is UTF-16. err is the error of the first Read, which the converter passes on.
func (r *Reader) widen(err error) bool {
	order, mark := utf16Order(r.buf[:r.filled])
	if order == nil {
		return false
	}
	first := bytes.Clone(r.buf[mark:r.filled])
	r.filled = 0
	var rest io.Reader = r.src
	if err != nil {
		rest = errReader{err}
	}
	r.src = &utf16Reader{src: io.MultiReader(bytes.NewReader(first), rest), order: order}
	r.loose = append(r.loose, Problem{Kind: BadEncoding, Severity: Note, Source: r.opt.Source, File: r.opt.File,
		Line: 1, Column: 1, Message: "text is UTF-16, converted", Hint: "save it as UTF-8"})
	return true
}

// errReader has nothing but an error.
type errReader struct{ err error }

func (e errReader) Read([]byte) (int, error) { return 0, e.err }

func (r *Reader) fail(err error) {
	if err == nil {
		err = io.ErrNoProgress
	}
	r.err = fmt.Errorf("reading %s: %w", r.opt.File, err)
	r.eof = true
}

// lineEnds turns each lone CR among the new bytes into an LF, so that nothing
// else has to know of it. A CR at the end waits for the next byte.
func (r *Reader) lineEnds() {
	b := r.buf[:r.filled]
	for i := r.end; ; i++ {
		k := bytes.IndexByte(b[i:], '\r')
		if k < 0 {
			r.end = r.filled
			return
		}
		i += k
		switch {
		case i+1 < len(b) && b[i+1] == '\n':
		case i+1 < len(b) || r.eof:
			b[i] = '\n'
		default:
			r.end = i
			return
		}
	}
}
