package fetch

import (
	"bytes"
	"errors"
	"fmt"
	"unicode/utf8"
)

// form is what a file is by its first bytes.
type form int

const (
	textForm form = iota
	gzipForm
	bzip2Form
	zstdForm
	zipForm
	tarForm
	refusedForm
)

// sniffLength reaches the mark of a tar archive.
const sniffLength = 512

// signatures are the first bytes of formats, from their published descriptions.
var signatures = []struct {
	at    int
	bytes string
	form  form
	what  string // for refused forms
}{
	{0, "\x1f\x8b", gzipForm, ""},
	{0, "\x28\xb5\x2f\xfd", zstdForm, ""},
	{0, "PK\x03\x04", zipForm, ""},
	{0, "PK\x05\x06", zipForm, ""}, // without members
	{0, "\xff\xfe\x00\x00", refusedForm, "UTF-32 text"},
	{0, "\x00\x00\xfe\xff", refusedForm, "UTF-32 text"},
	{0, "\xfd7zXZ\x00", refusedForm, "an xz file"},
	{0, "7z\xbc\xaf\x27\x1c", refusedForm, "a 7z archive"},
	{0, "Rar!\x1a\x07", refusedForm, "a rar archive"},
	{0, "\x04\x22\x4d\x18", refusedForm, "an lz4 file"},
	{0, "\x1f\x9d", refusedForm, "a compress (.Z) file"},
	{257, "ustar", tarForm, ""},
	{0, "%PDF-", refusedForm, "a PDF"},
	{0, "SQLite format 3\x00", refusedForm, "a database file"},
}

// sniff tells the form of a file from its head, and for refused ones what it is.
func sniff(head []byte) (form, string) {
	if isBzip2(head) {
		return bzip2Form, ""
	}
	if len(head) > 3 && head[0] >= 0x50 && head[0] <= 0x5f && string(head[1:4]) == "\x2a\x4d\x18" {
		return zstdForm, "" // a skippable frame first
	}
	for _, s := range signatures {
		if len(head) >= s.at+len(s.bytes) && string(head[s.at:s.at+len(s.bytes)]) == s.bytes {
			return s.form, s.what
		}
	}
	switch {
	case isBinary(head):
		return refusedForm, "binary data"
	case isHTML(head):
		return refusedForm, "a web page (HTML)"
	case isJSON(head):
		return refusedForm, "JSON"
	}
	return textForm, ""
}

// isBzip2 looks past 'BZh9' at the number that begins a block or ends the stream.
func isBzip2(head []byte) bool {
	return len(head) >= 10 && string(head[:3]) == "BZh" && head[3] >= '1' && head[3] <= '9' &&
		(string(head[4:10]) == "\x31\x41\x59\x26\x53\x59" || string(head[4:10]) == "\x17\x72\x45\x38\x50\x90")
}

// isBinary takes text for what it is although some bytes of it are zero: in UTF-16
// every other one is, and some programs fill up with zeros.
func isBinary(head []byte) bool {
	zeros, odd := 0, 0
	for _, c := range head {
		switch {
		case c == 0:
			zeros++
		case c >= 0x7f, c < ' ' && c != '\t' && c != '\n' && c != '\r':
			odd++
		}
	}
	return zeros > 0 && (odd > len(head)/10 || zeros > len(head)*6/10)
}

func trimHead(head []byte) []byte {
	return bytes.TrimLeft(bytes.TrimPrefix(head, []byte("\xef\xbb\xbf")), " \t\r\n")
}

func isHTML(head []byte) bool {
	text := bytes.ToLower(trimHead(head))
	for _, start := range [...]string{"<!doctype", "<html", "<head", "<body", "<?xml", "<svg"} {
		if bytes.HasPrefix(text, []byte(start)) {
			return true
		}
	}
	return false
}

// isJSON must not take a comment before the first tag, { "so called" }, for an
// object: a key is followed by a colon. An array does not begin like a tag.
func isJSON(head []byte) bool {
	text := trimHead(head)
	if len(text) == 0 {
		return false
	}
	rest := bytes.TrimLeft(text[1:], " \t\r\n")
	switch {
	case len(rest) == 0:
		return false
	case text[0] == '[':
		return bytes.IndexByte([]byte(`{["`), rest[0]) >= 0
	case text[0] == '{' && rest[0] == '"':
		end := bytes.IndexByte(rest[1:], '"')
		return end >= 0 && bytes.HasPrefix(bytes.TrimLeft(rest[end+2:], " \t\r\n"), []byte(":"))
	}
	return false
}

// ErrNotPGN is what an error wraps about something that is no text of games.
var ErrNotPGN = errors.New("it does not look like PGN")

// notPGN says what the file is instead, and how it begins if that can be read.
func notPGN(what string, head []byte) error {
	hint := "give a text file of games in PGN, plain or packed as gzip, bzip2, zstd, zip or tar"
	switch what {
	case "an xz file", "a 7z archive", "a rar archive", "an lz4 file", "a compress (.Z) file":
		hint = "unpack it first and give the PGN file or its folder"
	case "a web page (HTML)", "JSON":
		hint = "download the games themselves, as PGN; the page may be an error or a login"
	case "UTF-32 text":
		hint = "save it as UTF-8"
	case "a database file", "binary data":
		hint = "export the games as PGN from the program that wrote it"
	}
	if isHTML(head) || isJSON(head) {
		what += " and starts with " + FirstLine(head)
	}
	return &Error{fmt.Errorf("%w: it is %s", ErrNotPGN, what), hint}
}

// longestExcerpt in bytes.
const longestExcerpt = 80

// FirstLine quotes the first line of a text, with escapes for what does not print.
func FirstLine(head []byte) string {
	line, _, _ := bytes.Cut(trimHead(head), []byte("\n"))
	line = bytes.TrimRight(line, " \t\r")
	if len(line) <= longestExcerpt {
		return quote(line)
	}
	end := longestExcerpt
	for end > longestExcerpt-utf8.UTFMax && !utf8.RuneStart(line[end]) {
		end--
	}
	return quote(line[:end]) + "..."
}

// quote spares a text with quotes their escapes, if it can be read without.
func quote(text []byte) string {
	if bytes.IndexByte(text, '"') >= 0 {
		return fmt.Sprintf("%#q", text)
	}
	return fmt.Sprintf("%q", text)
}
