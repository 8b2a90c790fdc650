package pdf

import (
	"regexp"
	"strconv"
	"strings"
)

// ink is how a run of text looks.
type ink struct {
	size float64
	bold bool
	gray Gray
}

// word is what no line breaks inside. At the start of a line it may read
// otherwise: a black move gets its number back.
type word struct {
	s, first string
	ink      ink
}

// line is one line of words with the space each takes.
type line struct {
	items []Run // X from the start of the line, Y zero
	w     float64
	size  float64 // the largest on it
}

// say splits a sentence that the program made: moves in it get figurines, and
// a black move its number when a line begins with it.
func (f *faces) say(s string, k ink) []word {
	words := f.own(figurines(s), k)
	for i := 1; i < len(words); i++ {
		words[i].first = numberAgain(words[i-1].s, words[i].s)
	}
	return words
}

var (
	whiteMove = regexp.MustCompile(`^\(?(\d+)\.[^.\s]+[^.,;:\s]$`)
	bareMove  = regexp.MustCompile(`^(?:[KQRBN♚♛♜♝♞]|[a-h]|O-O)[a-h1-8xOKQRBN♚♛♜♝♞=+#-]*[.,;:)]*$`)
)

// numberAgain is how a black move reads at the start of a line when the word
// before it is White's move, ” for any other word.
func numberAgain(before, s string) string {
	m := whiteMove.FindStringSubmatch(before)
	if m == nil || !bareMove.MatchString(s) {
		return ""
	}
	return m[1] + "..." + s
}

// own splits text that is printed as it came: names and the user's own notes.
func (f *faces) own(s string, k ink) []word {
	var words []word
	for _, w := range strings.Fields(f.of(k.bold).reduce(s)) {
		words = append(words, word{s: w, ink: k})
	}
	return words
}

// unbroken is text that stays on one line.
func (f *faces) unbroken(s string, k ink) []word {
	if s == "" {
		return nil
	}
	return []word{{s: f.of(k.bold).reduce(s), ink: k}}
}

// moves sets a line of moves; ply is the half-moves played before it.
func (f *faces) moves(san []string, ply int, k ink) []word {
	words := make([]word, 0, len(san))
	for i, m := range san {
		full := f.of(k.bold).reduce(numbered(m, ply+i))
		full = strings.ReplaceAll(full, " ", "")
		w := word{s: full, ink: k}
		if i > 0 && (ply+i)%2 == 1 {
			w.first = full
			w.s = strings.ReplaceAll(f.of(k.bold).reduce(figurine(m)), " ", "")
		}
		words = append(words, w)
	}
	return words
}

// lineTo sets a line from a half-move on in grey, its last move in bold black.
func (f *faces) lineTo(san []string, from int, g Gray) []word {
	words := f.moves(san[from:], from, ink{move, false, g})
	if n := len(words); n > 0 {
		words[n-1].ink = ink{move, true, black}
	}
	return words
}

// numbered is a move with its number, black ones with three periods.
func numbered(san string, ply int) string {
	n := strconv.Itoa(ply/2 + 1)
	if ply%2 == 0 {
		return n + "." + figurine(san)
	}
	return n + "..." + figurine(san)
}

// The solid figurines of both colours: at ten points and in a photocopy they
// hold where the outlined ones break up.
var solid = strings.NewReplacer("K", "♚", "Q", "♛", "R", "♜", "B", "♝", "N", "♞")

// figurine puts a figurine for the letter of the piece.
func figurine(san string) string {
	if strings.HasPrefix(san, "O") || strings.HasPrefix(san, "0") {
		return san
	}
	return solid.Replace(san)
}

var sanInText = regexp.MustCompile(`\b[KQRBN][a-h]?[1-8]?x?[a-h][1-8](?:[+#]|\b)|\b[a-h](?:x[a-h])?[18]=[QRBN](?:[+#]|\b)`)

// figurines puts figurines into the moves of a sentence.
func figurines(s string) string {
	return sanInText.ReplaceAllStringFunc(s, figurine)
}

// breakLines sets words in lines no wider than w. After max lines (0: any
// number) it ends with an ellipsis; the bool says whether all went in.
func (f *faces) breakLines(words []word, w float64, max int) ([]line, bool) {
	var lines []line
	var cur line
	for i := 0; i < len(words); i++ {
		next, ok := f.append(cur, words[i], w)
		if ok {
			cur = next
			continue
		}
		if max > 0 && len(lines) == max-1 {
			return append(lines, f.ellipsis(cur, w)), false
		}
		lines = append(lines, cur)
		cur, _ = f.append(line{}, words[i], w)
	}
	if len(cur.items) > 0 {
		lines = append(lines, cur)
	}
	return lines, true
}

// breakClause is breakLines which, where not all goes in, ends behind the last
// sentence or clause that does, if that takes as many lines and the last of them
// is two thirds full. After a comma it does not: lists of moves have one behind each.
func (f *faces) breakClause(words []word, w float64, max int) []line {
	set, whole := f.breakLines(words, w, max)
	if whole {
		return set
	}
	for i, wd := range words {
		if !endsClause(wd.s) {
			continue
		}
		part := append(words[:i+1:i+1], word{s: "…", ink: wd.ink})
		lines, whole := f.breakLines(part, w, max)
		if !whole {
			break
		}
		if len(lines) == max && lines[max-1].w >= w*2/3 {
			set = lines
		}
	}
	return set
}

var clauseEnd = regexp.MustCompile(`[^.\d][.]["')]?$|[!?;]["')]?$`)

// endsClause says whether a pause follows a word; the period of a move's number is
// none.
func endsClause(s string) bool { return clauseEnd.MatchString(s) }

// clauses are the words of as many of a sentence's first parts as go whole into the
// lines; of a single part also what does not.
func (f *faces) clauses(parts []string, k ink, w float64, max int) []word {
	for n := len(parts); ; n-- {
		words := f.say(sentenceList(parts[:n]), k)
		if _, whole := f.breakLines(words, w, max); whole || n <= 1 {
			return words
		}
	}
}

// breakAround is breakLines where the first line has another width than the
// rest; it stays empty when its first word does not fit in it.
func (f *faces) breakAround(words []word, first, w float64, max int) ([]line, bool) {
	var l line
	n := 0
	for ; n < len(words) && f.fits(words[n], l, first); n++ {
		l, _ = f.append(l, words[n], first)
	}
	if n == len(words) {
		if n == 0 {
			return nil, true
		}
		return []line{l}, true
	}
	if max == 1 {
		if n == 0 {
			return nil, false
		}
		return []line{f.ellipsis(l, first)}, false
	}
	if max > 0 {
		max--
	}
	rest, whole := f.breakLines(words[n:], w, max)
	return append([]line{l}, rest...), whole
}

// fits says whether a word goes uncut on a line.
func (f *faces) fits(wd word, l line, w float64) bool {
	if len(l.items) > 0 {
		_, ok := f.append(l, wd, w)
		return ok
	}
	s := wd.s
	if wd.first != "" {
		s = wd.first
	}
	return f.of(wd.ink.bold).width(s, wd.ink.size) <= w
}

// append adds a word to a line if it fits. The first word of a line always
// goes in, cut if it must be.
func (f *faces) append(l line, wd word, w float64) (line, bool) {
	s := wd.s
	fc := f.of(wd.ink.bold)
	gap := 0.0
	if len(l.items) == 0 {
		if wd.first != "" {
			s = wd.first
		}
		s = cut(fc, s, wd.ink.size, w)
	} else {
		gap = fc.width(" ", wd.ink.size)
	}
	width := fc.width(s, wd.ink.size)
	if len(l.items) > 0 && l.w+gap+width > w {
		return l, false
	}
	t := Run{X: l.w + gap, W: width, Size: wd.ink.size, Bold: wd.ink.bold, Gray: wd.ink.gray, S: s}
	out := line{w: l.w + gap + width, size: max(l.size, wd.ink.size)}
	out.items = joinRuns(l.items, t)
	return out, true
}

// joinRuns adds a text to a line's runs, to the last one if it looks the same.
func joinRuns(items []Run, t Run) []Run {
	n := len(items)
	if n > 0 {
		last := items[n-1]
		if last.Size == t.Size && last.Bold == t.Bold && last.Gray == t.Gray {
			last.S += " " + t.S
			last.W = t.X + t.W - last.X
			return append(items[:n-1:n-1], last)
		}
	}
	return append(items[:n:n], t)
}

// ellipsis ends a line that the text goes on behind.
func (f *faces) ellipsis(l line, w float64) line {
	last := &l.items[len(l.items)-1]
	fc := f.of(last.Bold)
	room := w - last.X
	if len(l.items) > 1 && room < fc.width("…", last.Size) {
		l.items = l.items[:len(l.items)-1]
		return f.ellipsis(l, w)
	}
	s := last.S + " …"
	for fc.width(s, last.Size) > room {
		i := strings.LastIndexByte(strings.TrimSuffix(s, " …"), ' ')
		if i < 0 {
			s = cut(fc, last.S+"…", last.Size, room)
			break
		}
		s = s[:i] + " …"
	}
	last.S = s
	last.W = fc.width(s, last.Size)
	l.w = last.X + last.W
	return l
}

// cut shortens a single word to the width, with an ellipsis.
func cut(fc *face, s string, size, w float64) string {
	if fc.width(s, size) <= w {
		return s
	}
	room := w - fc.width("…", size)
	for i, r := range s {
		if room -= fc.width(string(r), size); room < 0 {
			return s[:i] + "…"
		}
	}
	return s
}

// at places a line on a baseline.
func (l line) at(base float64) []Item {
	items := make([]Item, len(l.items))
	for i, t := range l.items {
		items[i] = t.moved(0, base)
	}
	return items
}

// setLines lays lines under each other.
func setLines(lines []line) block {
	var b block
	for _, l := range lines {
		b.h += l.size * leading
		base := b.h - l.size*underBase
		b.add(l.at(base)...)
	}
	return b
}

// underBase is what a line has under its baseline, as a share of its size.
const underBase = (leading-ascent-descent)/2 + descent

// leading is the distance of lines as a share of their size.
const leading = 1.28

// para is breakLines and set in one.
func (f *faces) para(words []word, w float64, max int) block {
	lines, _ := f.breakLines(words, w, max)
	return setLines(lines)
}

// label is one line of text, cut to the width.
func (f *faces) label(s string, x, base, w float64, k ink) Run {
	fc := f.of(k.bold)
	s = cut(fc, fc.reduce(s), k.size, w)
	return Run{X: x, Y: base, W: fc.width(s, k.size), Size: k.size, Bold: k.bold, Gray: k.gray, S: s}
}

// right moves a text so that it ends at x.
func right(t Run, x float64) Run {
	t.X = x - t.W
	return t
}
