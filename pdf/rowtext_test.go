package pdf

import (
	"strings"
	"testing"

	"foreply/compare/fact"
	"foreply/pdf/sheet"
)

// rowText is what the row with a label says, and its aside.
func rowText(rows *treeRows, label string, v sheet.TreeView) (text, aside string) {
	for n := range rows.rows {
		if rows.rows[n].Label == label {
			text = seen(rows.rows[n].Text(v))
			if f := rows.rows[n].Aside; f != nil {
				aside = seen([][]sheet.Piece{f(v)})
			}
			return text, aside
		}
	}
	return "no row " + label, ""
}

// A row says how often its move comes, that it has no answer, with its letter behind the line
// it is about, the way back, its note, how it goes on, how it ends, and how often others come.
func TestTextOfRows(t *testing.T) {
	all := sheet.TreeView{Stands: func(int) bool { return true }}
	rows := newTreeRows(rowsCase(), false)
	rows.notes = map[int]int{0: 9, 1: 2}
	for label, want := range map[string][2]string{
		"1...c5":     {"5 in 10 (4–6) · *note 2* · 2...d6 *3.d4*", " · ~Sicilian~"},
		"1...e6":     {"2 in 10 (1–3) · 2...b6 · *no answer yet* <B>", ""},
		"1...d5":     {"1 in 10 (0–2) · *no answer yet* <C>", ""},
		"1...g5":     {"1 in 10 (0–2) · *no answer, rare line*", ""},
		"1...♞f6":    {"1 in 10 (0–2) · back in your book 8 in 10", ""},
		"3...cxd4":   {"8 in 10 (7–9) · 4...♞f6 · *book ends** at **+0.4*", ""},
		"3...g6":     {"1 in 10 (0–2) · *no answer yet* <A>", ""},
		"1.e4":       {"1...d6 *2.d4* ♞f6 *3.♞c3*", ""},
		"3...♞bd7":   {"4 in 10 (3–5) · *back in book*", ""},
		"you begin":  {"", ""},
		"nothing of": {"no row nothing of", ""},
	} {
		text, aside := rowText(rows, label, all)
		if text != want[0] || aside != want[1] {
			t.Errorf("%s: %q and %q, want %q", label, text, aside, want)
		}
	}
	if _, aside := rowText(rows, "1...c5", sheet.TreeView{Leaf: true, Stands: all.Stands}); aside != "" {
		t.Errorf("where nothing hangs on a row the opening is named: %q", aside)
	}
	narrow := newTreeRows(rowsCase(), true)
	if text, _ := rowText(narrow, "1...d5", all); !strings.HasSuffix(text, "· *no answer* <C>") {
		t.Errorf("narrow: %q", text)
	}
	if text, aside := rowText(narrow, "1...c5", all); text != "5 in 10 (4–6) · 2...d6 *3.d4*" || aside != "" {
		t.Errorf("narrow: %q and %q", text, aside)
	}
	if text, _ := rowText(rows, "1...g5", sheet.TreeView{Others: 0.25, Stands: all.Stands}); !strings.HasSuffix(text, " · else 3 in 10") {
		t.Errorf("others: %q", text)
	}
}

// A branch that another order of moves leads to names the row under which it goes on, while
// that stands.
func TestRowJoinsAnother(t *testing.T) {
	s := &fact.Side{MyColor: "black", Partings: []fact.Parting{
		{From: -1, Branches: []fact.Branch{
			{Move: "d4", Answer: "Nf6", Share: share(6, 5, 7, 6, 10), Reach: 0.6, State: fact.Answered, Next: 1}, {Move: "c4", Answer: "Nf6", Then: san("d4"), Share: share(3, 2, 4, 3, 10), Reach: 0.3, State: fact.Answered, Next: 1},
			{Move: "Nf3", Answer: "Nf6", Share: share(1, 0, 2, 1, 10), Reach: 0.1, State: fact.Answered, Next: 1},
		}},
		{Stem: san("d4 Nf6"), From: 0, Name: "Indian", Branches: []fact.Branch{{Move: "c4", Answer: "e6", Share: share(6, 5, 7, 6, 10), Reach: 0.5, State: fact.Answered, Next: -1, EndsWith: fact.BookEnds}}},
	}}
	rows := newTreeRows(s, false)
	for stands, want := range map[bool][2]string{true: {"3 in 10 (2–4) · 2.d4 · as after 1.d4", "1 in 10 (0–2) · as after 1.d4"}, false: {"3 in 10 (2–4) · 2.d4", "1 in 10 (0–2)"}} {
		v := sheet.TreeView{Stands: func(row int) bool { return row != 0 || stands }}
		c4, _ := rowText(rows, "1.c4", v)
		nf3, _ := rowText(rows, "1.♞f3", v)
		if got := [2]string{c4, nf3}; got != want {
			t.Errorf("stands %v: %q, want %q", stands, got, want)
		}
	}
	if _, aside := rowText(rows, "1.d4", sheet.TreeView{Stands: func(int) bool { return true }}); aside != " · ~Indian~" {
		t.Errorf("%q", aside)
	}
	if _, aside := rowText(rows, "1.c4", sheet.TreeView{Stands: func(int) bool { return true }}); aside != "" {
		t.Errorf("a row on which nothing hangs: %q", aside)
	}
}

// A parting may be told by another order than the row that it hangs on: the row goes on by its
// own moves.
func TestRowGoesOnByItsOwnOrder(t *testing.T) {
	partings := []fact.Parting{
		{Stem: san("e4 c5 c3"), From: -1, Branches: []fact.Branch{
			{Move: "e6", Answer: "d4", State: fact.Answered, Then: san("d5 e5 Nc6 Nf3"), Next: 1, Reach: 0.2, Share: share(3, 2, 4, 3, 10)},
			{Move: "d5", Answer: "exd5", State: fact.Answered, Next: -1, Reach: 0.1, Share: share(2, 1, 3, 2, 10)},
		}},
		{Stem: san("e4 e6 d4 d5 e5 c5 c3 Nc6 Nf3"), From: 0, Branches: []fact.Branch{{Move: "Qb6", Answer: "a3", State: fact.Answered, Next: -1, Reach: 0.1}}},
	}
	rows := rowsOf(&fact.Side{MyColor: "white"}, partings, false)
	got := ""
	for n := range rows.rows {
		if rows.rows[n].Box == "3.d4" {
			got = saidIn(rows.text(n, sheet.TreeView{Stands: func(int) bool { return true }}))
		}
	}
	if !strings.Contains(got, "3...d5 4.e5 ♞c6 5.♞f3") {
		t.Errorf("%q", got)
	}
}

// Behind moves that are counted the others are counted, too; beside a forecast they are
// forecast.
func TestOthersBesideCounts(t *testing.T) {
	counted := fact.Share{P: 0.5, Lo: 0.1, Hi: 0.9, Seen: 5, Of: 11, TenHi: 9, TenLo: 1, Hardly: true}
	known := fact.Share{P: 0.2, Lo: 0.1, Hi: 0.3, Seen: 2, Of: 11, TenLo: 1, TenHi: 3}
	all := counted
	all.Seen = 6
	for want, shares := range map[string][]fact.Share{
		"else 6 of 11 games": {counted}, "else 3 in 10": {counted, known}, "": {counted, all},
	} {
		p := fact.Parting{From: -1}
		for i, s := range shares {
			p.Branches = append(p.Branches, fact.Branch{Move: []string{"e4", "d4"}[i], Answer: "e6", Share: s, Reach: s.P, Next: -1})
		}
		rows := rowsOf(&fact.Side{MyColor: "black"}, []fact.Parting{p}, false)
		v := sheet.TreeView{Others: 0.3, Stands: func(int) bool { return true }}
		if got := rows.others(at{0, len(shares) - 1}, v); got != want {
			t.Errorf("%d moves: %q, want %q", len(shares), got, want)
		}
	}
}
