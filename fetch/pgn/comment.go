package pgn

import (
	"strconv"
	"strings"
)

// chars is what comments come as: Move.Note is bytes, Node.Comments are strings.
type chars interface{ ~string | ~[]byte }

// Eval is an engine's judgement written into a comment, from White's side.
type Eval struct {
	Centipawns int // hundredths of a pawn
	Mate       int // moves to mate, negative when Black mates; only if IsMate
	IsMate     bool
	Depth      int // search depth, 0 when not given
}

// Clk reads the time left on the mover's clock, in seconds, from the [%clk]
// command of the note (PGN supplement of 2001, 4.2).
func (m *Move) Clk() (secs float64, ok bool) { return seconds(command(m.Note, "clk")) }

// Emt reads the time used for the move, in seconds, from [%emt] (supplement, 4.4).
func (m *Move) Emt() (secs float64, ok bool) { return seconds(command(m.Note, "emt")) }

// Eval reads the [%eval] command of the note; common practice.
func (m *Move) Eval() (Eval, bool) { return eval(command(m.Note, "eval")) }

// ParseClk reads the [%clk] command of a comment; see Move.Clk.
func ParseClk(comment string) (secs float64, ok bool) { return seconds(command(comment, "clk")) }

// ParseEmt reads the [%emt] command of a comment; see Move.Emt.
func ParseEmt(comment string) (secs float64, ok bool) { return seconds(command(comment, "emt")) }

// ParseEval reads the [%eval] command of a comment; see Move.Eval.
func ParseEval(comment string) (Eval, bool) { return eval(command(comment, "eval")) }

// PlainComment returns the text of a comment without its [%...] commands, runs of
// white space folded to one blank.
func PlainComment(comment string) string {
	var b strings.Builder
	for {
		i := strings.Index(comment, "[%")
		if i < 0 {
			break
		}
		n := strings.IndexByte(comment[i:], ']')
		if n < 0 {
			break
		}
		b.WriteString(comment[:i])
		b.WriteByte(' ')
		comment = comment[i+n+1:]
	}
	b.WriteString(comment)
	return strings.Join(strings.Fields(b.String()), " ")
}

// command returns the operands of the first command of that name; ok is false
// when there is none.
func command[T chars](s T, name string) (operands string, ok bool) {
	for i := 0; i+3+len(name) < len(s); i++ {
		if s[i] != '[' || s[i+1] != '%' || string(s[i+2:i+2+len(name)]) != name || !isSpace(s[i+2+len(name)]) {
			continue
		}
		from := i + 3 + len(name)
		for j := from; j < len(s); j++ {
			if s[j] == ']' {
				// A line end may have come into a number.
				return strings.Join(strings.Fields(string(s[from:j])), ""), true
			}
		}
		return "", false
	}
	return "", false
}

// seconds reads h:mm:ss, m:ss or s, the seconds with a fraction or without.
func seconds(s string, ok bool) (float64, bool) {
	if !ok {
		return 0, false
	}
	parts := strings.Split(s, ":")
	if len(parts) > 3 {
		return 0, false
	}
	total := 0.0
	for i, p := range parts {
		whole, frac, _ := strings.Cut(p, ".")
		if !isDigits(whole, 6) || i < len(parts)-1 && whole != p || frac != "" && !isDigits(frac, 9) {
			return 0, false
		}
		v, err := strconv.ParseFloat(p, 64)
		if err != nil {
			return 0, false
		}
		total = total*60 + v
	}
	return total, true
}

func isDigits(s string, most int) bool {
	if s == "" || len(s) > most {
		return false
	}
	for i := range len(s) {
		if s[i] < '0' || s[i] > '9' {
			return false
		}
	}
	return true
}

// eval reads pawns with an optional depth, or # and the moves to mate.
func eval(s string, ok bool) (Eval, bool) {
	if !ok {
		return Eval{}, false
	}
	var e Eval
	value, depth, hasDepth := strings.Cut(s, ",")
	value, depth = strings.TrimSpace(value), strings.TrimSpace(depth)
	if hasDepth && isDigits(depth, 4) {
		e.Depth, _ = strconv.Atoi(depth)
	}
	if mate, isMate := strings.CutPrefix(value, "#"); isMate {
		n, err := strconv.Atoi(mate)
		if err != nil || n > 999 || n < -999 {
			return Eval{}, false
		}
		e.Mate, e.IsMate = n, true
		return e, true
	}
	cp, ok := centipawns(value)
	e.Centipawns = cp
	return e, ok
}

// centipawns reads a decimal number of pawns, rounded half away from zero.
func centipawns(s string) (int, bool) {
	digits, negative := strings.CutPrefix(s, "-")
	if !negative {
		digits = strings.TrimPrefix(s, "+")
	}
	whole, frac, _ := strings.Cut(digits, ".")
	if whole+frac == "" || whole != "" && !isDigits(whole, 5) || frac != "" && !isDigits(frac, 9) {
		return 0, false
	}
	pawns, _ := strconv.Atoi("0" + whole)
	frac += "000"
	hundredths, _ := strconv.Atoi(frac[:2])
	n := pawns*100 + hundredths
	if frac[2] >= '5' {
		n++
	}
	if negative {
		n = -n
	}
	return n, true
}

// isEmpty reports whether nothing stands in a comment as read.
func isEmpty(raw []byte) bool {
	for _, c := range raw[1:] {
		if !isSpace(c) {
			return c == '}' && raw[0] == '{'
		}
	}
	return true
}

// commentText returns what stands in a comment as read: without its braces or
// semicolon, trimmed, runs of white space folded to one blank.
func commentText[T chars](raw T) T {
	from, to := 1, len(raw)
	if raw[0] == '{' && to > 1 && raw[to-1] == '}' {
		to--
	}
	for from < to && isSpace(raw[from]) {
		from++
	}
	for from < to && isSpace(raw[to-1]) {
		to--
	}
	return fold(raw[from:to])
}

// fold turns each run of white space into one blank.
func fold[T chars](s T) T {
	for i := range len(s) {
		if c := s[i]; isSpace(c) && (c != ' ' || i+1 < len(s) && isSpace(s[i+1])) {
			return T(strings.Join(strings.FieldsFunc(string(s), isBlank), " "))
		}
	}
	return s
}

func isBlank(r rune) bool { return r < 0x80 && isSpace(byte(r)) }
