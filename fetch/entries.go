package fetch

import (
	"bufio"
	"bytes"
	"errors"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"golang.org/x/text/encoding/charmap"
	unicode16 "golang.org/x/text/encoding/unicode"
	"golang.org/x/text/transform"

	"foreply/fetch/pgn"
)

// Entry is one player of an entry list.
type Entry struct {
	Name   string // as the list has it
	ID     string // federation ID, or empty
	Rating int    // 0 when not given
	Board  int    // 0 when not given
	Line   int    // of the list
}

// Kinds of problems with an entry list.
const (
	UnreadEntry pgn.Kind = "entry without a name"
	OddNumber   pgn.Kind = "odd number" // a number that is neither a board, a rating nor an ID
)

const (
	// mostEntrants of a list: each gets a sheet, and there is hardly an event with more.
	mostEntrants = 5000
	// mostEntryLine is the length of a line, in bytes.
	mostEntryLine = 64 << 10
)

// ReadEntries reads an entry list: a player a line, with name, federation ID,
// rating and board in any order, as the organisers' lists have them. The fields
// are told apart by what stands over them if the first line is a head (name, ID,
// rating, board), else by their size: up to 3 digits is a board, 4 digits a
// rating, more an ID. Fields are parted by tabs, semicolons or commas; the comma
// of 'Last, First' stays in the name. Empty lines and lines that begin with # or
// % are passed over. UTF-8, Windows-1252 and, with its mark, UTF-16 are read. Lines
// that can't be used become problems; the error is one of reading, or says that the
// file is no list.
func ReadEntries(r io.Reader, file string) ([]Entry, []pgn.Problem, error) {
	l := entryList{file: file}
	in := bufio.NewReaderSize(r, 64<<10)
	head, _ := in.Peek(sniffLength) // an error comes again with the first line
	if what := noList(head); what != "" {
		return nil, nil, &Error{
			fmt.Errorf("reading %s: it is no entry list but %s", file, what),
			"save the list as text or CSV, a player a line",
		}
	}
	lines := bufio.NewScanner(transform.NewReader(in, unicode16.BOMOverride(transform.Nop)))
	lines.Buffer(nil, mostEntryLine)
	for lines.Scan() {
		l.number++
		if l.line(lines.Text()); len(l.entries) > mostEntrants {
			return nil, nil, &Error{
				fmt.Errorf("reading %s:%d: there are more than %d players, the most of an entry list", file, l.number, mostEntrants),
				"is it the list of one event? Make a list of those who may sit at your board",
			}
		}
	}
	switch err := lines.Err(); {
	case errors.Is(err, bufio.ErrTooLong):
		return nil, nil, &Error{
			fmt.Errorf("reading %s:%d: the line has more than %d kB, the most of an entry list", file, l.number+1, mostEntryLine>>10),
			"an entry list is a text file with a player a line",
		}
	case err != nil:
		return nil, nil, fmt.Errorf("reading %s:%d: %w", file, l.number+1, err)
	}
	return l.entries, l.problems, nil
}

// noList says what a file is by its head, if it can't be an entry list: a table of
// an office program, for instance, is a zip archive.
func noList(head []byte) string {
	form, what := sniff(head)
	first, _, _ := bytes.Cut(trimHead(head), []byte("\n"))
	switch {
	case form == refusedForm:
		return what
	case form != textForm:
		return "a packed file"
	case bytes.HasPrefix(first, []byte("[")) && bytes.Contains(first, []byte(` "`)):
		return "games in PGN"
	}
	return ""
}

type entryList struct {
	file     string
	number   int // of the line
	begun    bool
	columns  []column // of the head, if there is one
	entries  []Entry
	problems []pgn.Problem
}

// column is what a field of an entry means.
type column int

const (
	anyColumn column = iota
	nameColumn
	firstNameColumn
	idColumn
	ratingColumn
	boardColumn
	otherColumn
)

// columnNames are the heads of columns, folded (common practice).
var columnNames = map[string]column{
	"name": nameColumn, "player": nameColumn, "last name": nameColumn, "surname": nameColumn,
	"first name": firstNameColumn, "given name": firstNameColumn,
	"id": idColumn, "fide id": idColumn, "fideid": idColumn, "fide no": idColumn, "id number": idColumn,
	"rating": ratingColumn, "elo": ratingColumn, "rtg": ratingColumn,
	"board": boardColumn, "bo": boardColumn, "bd": boardColumn,
}

func (l *entryList) line(text string) {
	if !utf8.ValidString(text) {
		text, _ = charmap.Windows1252.NewDecoder().String(text) // every byte has a meaning there
	}
	text = strings.TrimSpace(strings.Map(func(r rune) rune {
		if unicode.IsControl(r) && r != '\t' {
			return -1
		}
		return r
	}, text))
	if text == "" || text[0] == '#' || text[0] == '%' {
		return
	}
	text = tabsAside.Replace(text)
	if strings.Count(text, `"`)%2 == 1 { // one that nobody closed quotes nothing
		text = strings.ReplaceAll(text, `"`, "")
	}
	fields := entryFields(text)
	if !l.begun {
		l.begun = true
		if l.columns = headOf(fields); l.columns != nil {
			return
		}
	}
	e := Entry{Line: l.number}
	if l.columns != nil {
		l.byColumn(&e, fields)
	} else {
		l.bySize(&e, fields, separator(text) == ',')
	}
	if e.Name == "" {
		l.problem(UnreadEntry, text, "no name in this line of the entry list", "a line has a name, and if known ID, rating and board")
		return
	}
	l.entries = append(l.entries, e)
}

// headOf reads the first line as names of columns; nil if it names no player.
func headOf(fields []string) []column {
	var columns []column
	for _, f := range fields {
		c, known := columnNames[strings.Join(strings.FieldsFunc(strings.ToLower(f), func(r rune) bool { return !unicode.IsLetter(r) }), " ")]
		if !known {
			c = otherColumn
		}
		columns = append(columns, c)
	}
	if !slices.Contains(columns, nameColumn) {
		return nil
	}
	return columns
}

// entryFields splits at tabs, else at semicolons, else at commas; quoted fields
// stay whole.
func entryFields(text string) []string {
	sep := separator(text)
	var fields []string
	var field strings.Builder
	quoted := false
	for _, r := range text {
		switch {
		case r == '"':
			quoted = !quoted
		case r == sep && !quoted:
			fields = append(fields, strings.TrimSpace(field.String()))
			field.Reset()
		case r == '\t':
			field.WriteByte(' ')
		default:
			field.WriteRune(r)
		}
	}
	return append(fields, strings.TrimSpace(field.String()))
}

// separator is the sign that parts the fields of a line; what is quoted doesn't count.
func separator(text string) rune {
	sep, quoted := ',', false
	for _, r := range text {
		switch {
		case r == '"':
			quoted = !quoted
		case quoted:
		case r == '\t':
			return r
		case r == ';':
			sep = r
		}
	}
	return sep
}

// tabsAside takes off the tabs that only line up what semicolons part.
var tabsAside = strings.NewReplacer("\t;\t", ";", "\t;", ";", ";\t", ";")

// byColumn reads a line under a head. A name with a comma that nobody quoted
// makes one field too many: it is joined again.
func (l *entryList) byColumn(e *Entry, fields []string) {
	at := slices.Index(l.columns, nameColumn)
	if len(fields) == len(l.columns)+1 && number(fields[at+1]) < 0 {
		joined := fields[at] + ", " + fields[at+1]
		fields = slices.Concat(fields[:at], []string{joined}, fields[at+2:])
	}
	first := ""
	for i, f := range fields[:min(len(fields), len(l.columns))] {
		switch l.columns[i] {
		case nameColumn:
			e.Name = f
		case firstNameColumn:
			first = f
		case idColumn:
			e.ID = pgn.FIDENumber(f)
		case ratingColumn:
			e.Rating = max(0, number(f))
		case boardColumn:
			e.Board = max(0, number(f))
		}
	}
	if first != "" && e.Name != "" {
		e.Name += ", " + first
	}
}

// bySize reads a line without a head: numbers by their size, words as the name.
// Titles are no part of a name. Commas may be those of the name, so there every other word counts.
func (l *entryList) bySize(e *Entry, fields []string, commas bool) {
	var names []string
	for _, f := range fields {
		words := strings.Fields(f)
		for len(words) > 0 && (isTitle(words[0]) || l.take(e, words[0])) {
			words = words[1:]
		}
		for len(words) > 0 && (isTitle(words[len(words)-1]) || l.take(e, words[len(words)-1])) {
			words = words[:len(words)-1]
		}
		if len(words) > 0 {
			names = append(names, strings.Join(words, " "))
		}
	}
	if !commas && slices.ContainsFunc(names, func(name string) bool { return !aside(name) }) {
		names = slices.DeleteFunc(names, aside)
	}
	e.Name = strings.Join(names, ", ")
}

// aside tells a field that stands beside a name in organisers' lists: a title, or
// the three letters of a federation (common practice).
func aside(field string) bool {
	return isTitle(field) || len(field) == 3 && strings.Trim(field, "ABCDEFGHIJKLMNOPQRSTUVWXYZ") == ""
}

func isTitle(word string) bool { return slices.Contains(titles, strings.TrimRight(word, ".")) }

// take puts a number where it belongs; false if the word is none, or its place
// is taken.
func (l *entryList) take(e *Entry, word string) bool {
	word = strings.TrimRight(word, ".:)")
	n := number(word)
	switch {
	case n < 0:
		return false
	case n == 0: // no rating, no ID
	case len(word) <= 3 && e.Board == 0:
		e.Board = n
	case len(word) == 4 && e.Rating == 0:
		e.Rating = n
	case len(word) > 4 && e.ID == "":
		e.ID = pgn.FIDENumber(word)
	default:
		l.problem(OddNumber, word, "a number too many in this line of the entry list", "a head line with name, ID, rating, board tells what is what")
	}
	return true
}

func (l *entryList) problem(kind pgn.Kind, token, message, hint string) {
	l.problems = append(l.problems, pgn.Problem{
		Kind: kind, Severity: pgn.Warning, File: l.file, Line: l.number, Token: token, Message: message, Hint: hint,
	})
}

// number is a whole number of at most ten digits, or -1.
func number(text string) int {
	if text == "" || len(text) > 10 || strings.Trim(text, "0123456789") != "" {
		return -1
	}
	n, _ := strconv.Atoi(text)
	return n
}
