package pdf

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"math/rand/v2"
	"strings"
	"testing"

	"foreply/compare/fact"
	"foreply/compare/words"
	"foreply/fetch/pgn"
	"foreply/pdf/sheet"
)

func fieldRows(n int, rep *fact.Report) []fact.FieldRow {
	var rows []fact.FieldRow
	for i := range n {
		row := fact.FieldRow{Name: fmt.Sprintf("Ashgrove, Tilde %d", i+1), ID: fmt.Sprint(i), Board: i % 5, Rating: 1800 + i}
		if i%7 == 6 {
			row.Missing = "no game of " + row.Name + " among the 265 games read"
		} else {
			row.Fill(rep)
		}
		rows = append(rows, row)
	}
	return rows
}

// Every player stands on a page, whole, however many there are: with what to expect and
// what has no answer with each colour.
func TestField(t *testing.T) {
	rep := bothReport()
	for n, most := range map[int]int{0: 1, 1: 1, 3: 1, 12: 2, 60: 8} {
		got, err := layoutField(Field{Title: "The field", Rows: fieldRows(n, rep)}, Options{}, (*fieldPages).rows)
		if err != nil {
			t.Fatal(err)
		}
		if len(got) > most {
			t.Errorf("%d players on %d pages", n, len(got))
		}
		all := ""
		for _, p := range got {
			checkPage(t, p)
			all += strings.ReplaceAll(pageText(p), "\n", " ")
		}
		told := 0
		for i := range n {
			if name := fmt.Sprintf("Ashgrove, Tilde %d", i+1); !strings.Contains(all, name) {
				t.Errorf("%d players: %s is missing", n, name)
			}
			if i%7 != 6 {
				told++
			}
		}
		for _, want := range []string{"5...a6", "6...h5", "2.♞c3", "1.b3"} {
			if c := strings.Count(all, strings.TrimLeft(want, "0123456789.")); c < told {
				t.Errorf("%d players: %s stands %d times", n, want, c)
			}
		}
	}
}

// The candidates for a board have tonight and the lines of both colours each, four to a
// page.
func TestCandidates(t *testing.T) {
	for n, pages := range map[int]int{2: 1, 3: 1, 4: 1, 5: 2} {
		got, err := layoutField(Field{Title: "Board 2", Rows: fieldRows(n, bothReport())}, Options{}, (*fieldPages).bands)
		if err != nil {
			t.Fatal(err)
		}
		if len(got) != pages {
			t.Errorf("%d candidates on %d pages", n, len(got))
		}
		boxes := 0
		for _, p := range got {
			checkPage(t, p)
			boxes += strings.Count(pageText(p), "\n"+words.LinesToExpect+"\n")
		}
		if boxes != 2*n {
			t.Errorf("%d candidates: lines to expect stand %d times", n, boxes)
		}
	}
}

// A name that may be the player's stands beside them, in the field and among the candidates,
// with the number of others.
func TestFieldTellsOtherNames(t *testing.T) {
	rep := *bothReport()
	rep.Basis.Maybe = []fact.Maybe{{Name: "Ashgr., T", Games: 12}, {Name: "Tilde A", Games: 1}, {Name: "tilde", Games: 3}}
	rows := fieldRows(2, &rep)
	for name, set := range map[string]func(*fieldPages) []sheet.Block{"field": (*fieldPages).rows, "candidates": (*fieldPages).bands} {
		pages, err := layoutField(Field{Title: "Board 2", Rows: rows}, Options{}, set)
		if err != nil {
			t.Fatal(err)
		}
		text := strings.Join(strings.Fields(pageText(pages[0])), " ")
		if n := strings.Count(text, "not counted, but maybe theirs: Ashgr., T (12 games) and 2 more"); n != 2 {
			t.Errorf("%s: told of %d of 2 players: %s", name, n, text)
		}
	}
}

// Whatever the rows say, nothing overlaps or leaves the margins.
func TestAnyField(t *testing.T) {
	n := uint64(20)
	if testing.Short() {
		n = 6
	}
	for seed := range n {
		m := maker{Rand: rand.New(rand.NewPCG(seed, 8))}
		var rows []fact.FieldRow
		for range m.IntN(70) {
			row := fact.FieldRow{Name: m.words(6), ID: "x", Board: m.IntN(90), Rating: m.IntN(2800)}
			if m.IntN(5) == 0 {
				row.Missing = m.words(30)
			} else {
				row.Fill(m.report())
				if seed%3 == 0 { // what one says of a candidate has to end somewhere
					row.Fill(m.plainReport())
				}
				for i := range row.Report.Sides {
					row.Report.Sides[i].MyColor = [...]string{"white", "black"}[i]
				}
			}
			rows = append(rows, row)
		}
		set := (*fieldPages).rows
		if seed%3 == 0 {
			set = (*fieldPages).bands
		}
		pages, err := layoutField(Field{Title: m.words(20), Rows: rows}, Options{Paper: []string{"a4", "letter"}[seed%2]}, set)
		if err != nil {
			t.Fatal(err)
		}
		for _, p := range pages {
			checkPage(t, p)
		}
	}
}

func TestFieldGolden(t *testing.T) {
	pages, err := layoutField(Field{Title: "The field: Winter League", Rows: fieldRows(8, bothReport())}, Options{}, (*fieldPages).rows)
	if err != nil {
		t.Fatal(err)
	}
	golden(t, "field.txt", []byte(pages[0].Dump()))
	if pages, err = layoutField(Field{Title: "Board 2: Ashgrove or Ashgrove", Rows: fieldRows(3, bothReport())}, Options{}, (*fieldPages).bands); err != nil {
		t.Fatal(err)
	}
	golden(t, "candidates.txt", []byte(pages[0].Dump()))
}

func TestFieldDocument(t *testing.T) {
	field := Field{Title: "The field", AsOf: pgn.ParseDate("2026-11-25"), Rows: fieldRows(60, bothReport())}
	var a, b bytes.Buffer
	if err := WriteField(&a, field, Options{}); err != nil {
		t.Fatal(err)
	}
	if err := WriteField(&b, field, Options{}); err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(a.Bytes(), b.Bytes()) {
		t.Error("the same field gives other bytes")
	}
	field.Rows = field.Rows[:1]
	for name, doc := range map[string]struct {
		write func(io.Writer, Field, Options) error
		set   func(*fieldPages) []sheet.Block
	}{"field": {WriteField, (*fieldPages).rows}, "candidates": {WriteCandidates, (*fieldPages).bands}} {
		pages, err := layoutField(field, Options{}, doc.set)
		if err != nil {
			t.Fatal(err)
		}
		want, err := sheet.Render(pages, made(field.AsOf), words.Language)
		if b.Reset(); err != nil || doc.write(&b, field, Options{}) != nil || !bytes.Equal(b.Bytes(), want) {
			t.Errorf("%s: another document, %v", name, err)
		}
	}
	if !strings.Contains(a.String(), "/CreationDate (D:20261125000000)") || !strings.Contains(a.String(), "/Lang (en)") {
		t.Error("the document is of another day or language")
	}
	for want, err := range map[error]error{ErrPaper: WriteField(&a, field, Options{Paper: "napkin"}), errFull: WriteCandidates(fullDisk{}, Field{Title: "The field"}, Options{})} {
		if !errors.Is(err, want) || !strings.Contains(err.Error(), " The field: ") {
			t.Errorf("%v, want %v of The field", err, want)
		}
	}
}
