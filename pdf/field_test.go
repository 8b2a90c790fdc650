package pdf

import (
	"bytes"
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"

	"foreply/compare/fact"
	"foreply/fetch/pgn"
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

// Every player stands on a page, whole, however many there are; the fewer they
// are, the more is said of each.
func TestField(t *testing.T) {
	rep := bothReport()
	tasks := len(rep.Sides[0].Tonight)
	for n, pages := range map[int]int{0: 1, 1: 1, 2: 1, 3: 1, 12: 1, 48: 1, 49: 2, 60: 2, 200: 5} {
		got, err := layoutField(Field{Title: "The field", Rows: fieldRows(n, rep)}, Options{})
		if err != nil {
			t.Fatal(err)
		}
		if len(got) != pages {
			t.Errorf("%d players on %d pages, want %d", n, len(got), pages)
		}
		all := ""
		for _, p := range got {
			checkPage(t, p)
			all += pageText(p)
		}
		for i := range n {
			if name := fmt.Sprintf("Ashgrove, Tilde %d", i+1); !strings.Contains(all, name) {
				t.Errorf("%d players: %s is missing", n, name)
			}
		}
		if leads := strings.Count(all, rep.Sides[0].Tonight[0].Lead); n > 0 && n <= 3 && leads < n {
			t.Errorf("%d players: tonight's %d lines are not told", n, tasks)
		}
	}
}

// Whatever the rows say, nothing overlaps or leaves the margins.
func TestAnyField(t *testing.T) {
	for seed := range uint64(60) {
		m := maker{rand.New(rand.NewPCG(seed, 8))}
		var rows []fact.FieldRow
		for range m.IntN(70) {
			row := fact.FieldRow{Name: m.words(6), ID: "x", Board: m.IntN(90), Rating: m.IntN(2800)}
			if m.IntN(5) == 0 {
				row.Missing = m.words(30)
			} else {
				row.Fill(m.report())
			}
			rows = append(rows, row)
		}
		pages, err := layoutField(Field{Title: m.words(20), Rows: rows}, Options{Paper: []string{"a4", "letter"}[seed%2]})
		if err != nil {
			t.Fatal(err)
		}
		for _, p := range pages {
			checkPage(t, p)
		}
	}
}

func TestFieldGolden(t *testing.T) {
	pages, err := layoutField(Field{Title: "Board 2: who may sit there", Rows: fieldRows(3, bothReport())}, Options{})
	if err != nil {
		t.Fatal(err)
	}
	golden(t, "field.txt", []byte(pages[0].Dump()))
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
	if err := WriteField(&a, field, Options{Paper: "napkin"}); err == nil {
		t.Error("no error for an unknown paper")
	}
}
