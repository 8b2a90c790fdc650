package pgn

import (
	"bytes"
	"slices"
	"strings"
	"unicode/utf8"
)

// Get returns the value of the tag, empty when it is missing. The last value
// counts. Names are case sensitive (PGN standard 8.1).
func (t Tags) Get(name string) string {
	for i := len(t) - 1; i >= 0; i-- {
		if t[i].Name == name {
			return t[i].Value
		}
	}
	return ""
}

// clone returns a copy with strings of its own.
func (t Tags) clone() Tags {
	var text strings.Builder
	n := 0
	for i := range t {
		n += len(t[i].Name) + len(t[i].Value)
	}
	text.Grow(n)
	for i := range t {
		text.WriteString(t[i].Name)
		text.WriteString(t[i].Value)
	}
	rest := text.String()
	out := slices.Clone(t)
	for i := range out {
		name, value := len(t[i].Name), len(t[i].Name)+len(t[i].Value)
		out[i] = Tag{rest[:name], rest[name:value]}
		rest = rest[value:]
	}
	return out
}

// Has reports whether the tag is given, be it with an empty value.
func (t Tags) Has(name string) bool {
	for i := range t {
		if t[i].Name == name {
			return true
		}
	}
	return false
}

// maxValue bounds a tag value, in bytes; the standard has 255 (7.1).
const maxValue = 8192

// tagPair is where the parts of one tag pair lie in the text.
type tagPair struct {
	start           int // its opening bracket
	name, nameEnd   int
	value, valueEnd int    // between the quotes
	end             int    // behind the closing bracket
	plain           bool   // on one line, nothing to unescape
	fault           string // empty when well formed
}

// plainTag reads a tag pair as programs write it: [Name "value"]. t is not
// touched when there is none.
func plainTag(b []byte, i int, t *tagPair) bool {
	p := i + 1
	for p < len(b) && isNameByte(b[p]) {
		p++
	}
	if p == i+1 || p+2 >= len(b) || b[p] != ' ' || b[p+1] != '"' {
		return false
	}
	value := p + 2
	n := bytes.IndexByte(b[value:min(len(b), value+maxValue)], '"')
	if n < 0 {
		return false
	}
	end := value + n
	if end+1 >= len(b) || b[end+1] != ']' {
		return false
	}
	for _, c := range b[value:end] {
		if c == '\\' || c == '\n' || c == '\r' {
			return false
		}
	}
	t.start, t.name, t.nameEnd = i, i+1, p
	t.value, t.valueEnd, t.end = value, end, end+2
	t.plain, t.fault = true, ""
	return true
}

// scanTag reads the tag pair whose opening bracket is b[i]. A broken pair ends
// with its line and has a fault; a pair whose name was read still counts.
func scanTag(b []byte, i int) tagPair {
	t := tagPair{start: i}
	if plainTag(b, i, &t) {
		return t
	}
	p, breaks := skipSpace(b, i+1)
	if breaks > 1 {
		return unquotedTag(b, t)
	}
	t.name = p
	for p < len(b) && isNameByte(b[p]) {
		p++
	}
	t.nameEnd = p
	q, breaks := skipSpace(b, p)
	if q >= len(b) || b[q] != '"' || breaks > 1 || t.name == t.nameEnd {
		return unquotedTag(b, t)
	}
	t.value = q + 1
	t.valueEnd, t.fault = stringEnd(b, t.value)
	t.end = t.valueEnd
	if t.end >= len(b) || b[t.end] != '"' {
		if t.end < len(b) && b[t.end] == ']' {
			t.end++
		}
		return t
	}
	p, breaks = skipSpace(b, t.end+1)
	if p >= len(b) || b[p] != ']' || breaks > 1 {
		t.end++
		t.fault = "bracket not closed"
		return t
	}
	t.end = p + 1
	return t
}

// unquotedTag makes the best of a pair without a quote where one is due:
// [Event Club evening]. It ends at its bracket or with its line.
func unquotedTag(b []byte, t tagPair) tagPair {
	end := t.start + 1
	for end < len(b) && b[end] != ']' && b[end] != '\n' {
		end++
	}
	t.end = end
	if end < len(b) && b[end] == ']' {
		t.end++
	}
	t.nameEnd = min(t.nameEnd, end)
	if t.name >= t.nameEnd {
		t.name, t.nameEnd = t.start, t.start
		t.fault = "tag without a name"
		return t
	}
	t.value, t.valueEnd = trim(b, t.nameEnd, end)
	t.value, t.valueEnd = trimQuotes(b, t.value, t.valueEnd)
	t.fault = "value not in quotes"
	return t
}

// otherQuotes are what word processors and people put for the quotes of a tag, and
// the signs they set between name and value.
const otherQuotes = "\"'`´“”„‟«»‘’‚″′:= \t"

// trimQuotes moves the bounds of b[i:j] inwards over quotes of any kind.
func trimQuotes(b []byte, i, j int) (int, int) {
	if htmlQuote(b[i:j]) {
		i += entity(b[i:j])
		if k := bytes.LastIndexByte(b[i:j], '&'); k >= 0 && htmlQuote(b[i+k:j]) {
			j = i + k
		}
	}
	j = i + len(bytes.TrimRight(b[i:j], otherQuotes))
	return j - len(bytes.TrimLeft(b[i:j], otherQuotes)), j
}

// trim moves the bounds of b[i:j] inwards over white space.
func trim(b []byte, i, j int) (int, int) {
	for i < j && isSpace(b[i]) {
		i++
	}
	for j > i && isSpace(b[j-1]) {
		j--
	}
	return i, j
}

// stringEnd finds the closing quote of the string that starts at b[i]. A quote
// that is not escaped but followed by more text and another closing quote on the
// line is part of the value, as people type it. A string broken over two lines
// is joined. Without a closing quote it ends with the line.
func stringEnd(b []byte, i int) (end int, fault string) {
	line := tagLineEnd(b, i)
	if q, fault := quoteIn(b, i, line); q >= 0 {
		return q, fault
	}
	if next := skipTabs(b, line+1); next < len(b) && b[next] != '[' && b[next] > ' ' {
		nextEnd := tagLineEnd(b, next)
		if q, _ := quoteIn(b, next, nextEnd); q >= 0 && closes(b, q, nextEnd) {
			return q, "value over two lines"
		}
	}
	_, line = trim(b, i, line)
	if line > i && b[line-1] == ']' {
		line--
	}
	return line, "quote not closed"
}

// tagLineEnd is lineEnd, but not further than a value may be long.
func tagLineEnd(b []byte, i int) int { return lineEnd(b[:min(len(b), i+maxValue)], i) }

// quoteIn returns the closing quote in b[i:line], -1 when there is none.
func quoteIn(b []byte, i, line int) (quote int, fault string) {
	first, escaped := -1, -1
	for p := i; p < line; p++ {
		switch b[p] {
		case '\\':
			if p+1 < line && (b[p+1] == '"' || b[p+1] == '\\') {
				p++
				if b[p] == '"' {
					escaped = p
				}
			}
		case '"':
			if closes(b, p, line) {
				if first >= 0 {
					fault = "quote inside the value not escaped"
				}
				return p, fault
			}
			if first < 0 {
				first = p
			}
		case '[':
			if first >= 0 {
				return first, ""
			}
		}
	}
	if first < 0 && escaped >= 0 && closes(b, escaped, line) {
		return escaped, "backslash before the closing quote"
	}
	return first, ""
}

// closes reports whether the quote at p is followed by a closing bracket.
func closes(b []byte, p, line int) bool {
	for p++; p < line && isSpace(b[p]); p++ {
	}
	return p < line && b[p] == ']'
}

// startsTag reports whether b[i] opens a tag pair beyond doubt: a bracket, a
// name, a quote, all on one line.
func startsTag(b []byte, i int) bool {
	name := skipTabs(b, i+1)
	p := name
	for p < len(b) && isNameByte(b[p]) {
		p++
	}
	if p == name {
		return false
	}
	p = skipTabs(b, p)
	return p < len(b) && (b[p] == '"' || b[p] == '&' && htmlQuote(b[p:]) || b[p] >= utf8.RuneSelf && doubleQuote(b[p:]))
}

// htmlQuote reports whether b starts with a quote as the text of a web page has it.
func htmlQuote(b []byte) bool {
	return bytes.HasPrefix(b, []byte("&quot;")) || bytes.HasPrefix(b, []byte("&#34;"))
}

// doubleQuote reports whether b starts with a quote as word processors set it.
func doubleQuote(b []byte) bool {
	r, _ := utf8.DecodeRune(b)
	return strings.ContainsRune("“”„‟«»", r)
}

// tagLike reports whether the line at b[i] is a bracket with a name and a value
// without quotes.
func tagLike(b []byte, i int) bool {
	t := scanTag(b, i)
	return t.valueEnd > t.value && class[b[t.name]]&letter != 0 && b[t.end-1] == ']'
}

func skipTabs(b []byte, i int) int {
	for i < len(b) && (b[i] == ' ' || b[i] == '\t') {
		i++
	}
	return i
}

// tagNames are the names that are put right when their capitals are others: those
// of the roster and those by which a game is judged.
var tagNames = []string{
	"Event", "Site", "Date", "Round", "White", "Black", "Result", "WhiteElo", "BlackElo", "WhiteTitle", "BlackTitle",
	"WhiteFideId", "BlackFideId", "WhiteType", "BlackType", "FEN", "SetUp", "Variant", "TimeControl", "Termination",
	"ECO", "Opening", "UTCDate", "UTCTime", "EventType", "Mode", "PlyCount",
}

// tagName returns the name of a tag with its usual capitals. Names as programs
// write them are told by a glance.
func tagName(name string) string {
	if n := len(name); n < 3 || name[0] < 'a' && name[1] >= 'a' && name[n-1] >= 'a' {
		return name
	}
	switch name {
	case "ECO", "FEN", "UTCDate", "UTCTime":
		return name
	}
	for _, known := range tagNames {
		if strings.EqualFold(name, known) {
			return known
		}
	}
	return name
}

func isNameByte(c byte) bool { return class[c]&(letter|digit) != 0 || c == '_' || c == '-' }
