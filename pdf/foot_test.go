package pdf

import (
	"slices"
	"strings"
	"testing"

	"foreply/compare/fact"
	"foreply/compare/words"
	"foreply/fetch/pgn"
	"foreply/pdf/sheet"
)

// The foot says what is missing, the warnings, how to read the page, whose evaluations, the
// sources and the rule of the game, the rule in bold; where all is too long the sources go,
// never what is missing or the rule.
func TestFoot(t *testing.T) {
	rep := richReport()
	rep.Engine = &fact.Engine{Name: "Mover", Nodes: 1000}
	l, _ := layoutOf(t, rep)
	read := func(b sheet.Block) (all, bold string, lines int) {
		at := map[float64]bool{}
		var text, strong []string
		for _, it := range b.Items[1:] {
			r := it.(sheet.Run)
			text = append(text, r.S)
			if r.Bold {
				strong = append(strong, r.S)
			}
			if r.Size != 6.5 || r.X+r.W > l.w+0.01 || r.Y > b.H {
				t.Errorf("%s", r.Dump())
			}
			at[r.Y] = true
		}
		return strings.Join(text, " "), strings.Join(strong, " "), len(at)
	}
	order := func(missing string) string {
		return words.LeftOut(missing) + " " + strings.Join(l.warnings(), " ") + " " + words.HowToRead + " " + words.Engine(rep.Engine) + " " + words.Sources(rep) + " " + words.Laws + " " + words.EventRules
	}
	l.w = 2000
	b := l.foot("some moves")
	all, bold, lines := read(b)
	if want := order("some moves"); all != want || bold != words.Laws || !about(b.H, 1.2*sheet.MM+float64(lines)*2.75*sheet.MM) {
		t.Errorf("%q in %d lines, %g high\nwant %q", all, lines, b.H, want)
	}
	sameDrawn(t, "rule", b.Items[:1], []sheet.Item{stroke(0, 0, 2000, 0, 0.6)})
	if all, _, _ := read(l.foot("")); all != strings.TrimSpace(order("")) {
		t.Errorf("nothing missing: %q", all)
	}
	l.w = 300
	long := strings.TrimSpace(strings.Repeat("many things, ", 60)) + " the end"
	for missing, most := range map[string]int{"": 4, "some": 4, long: 99} {
		b := l.foot(missing)
		all, bold, lines := read(b)
		if !strings.HasPrefix(all, words.LeftOut(missing)) || !strings.HasSuffix(all, words.Laws+" "+words.EventRules) || bold != words.Laws || !strings.Contains(all, "…") {
			t.Errorf("%q", all)
		}
		last, _ := l.f.Break(append(l.f.Own(words.Laws, ink(6.5, true)), l.f.Own(words.EventRules, ink(6.5, false))...), l.w, 0)
		if missing != long && lines != most+len(last) {
			t.Errorf("%d lines, want %d and %d", lines, most, len(last))
		}
	}
	exact := 0
	for l.w = 400.0; l.w < 900; l.w += 20 { // a line more is not worth a cut
		lines, _ := l.f.Break(append(append(l.f.Own(strings.TrimSuffix(order(""), " "+words.Laws+" "+words.EventRules), ink(6.5, false)), l.f.Own(words.Laws, ink(6.5, true))...), l.f.Own(words.EventRules, ink(6.5, false))...), l.w, 0)
		all, _, got := read(l.foot(""))
		if cut := strings.Contains(all, "…"); len(lines) <= 5 && (cut || got != len(lines)) {
			t.Errorf("%g wide: %d lines of %d, cut: %v", l.w, got, len(lines), cut)
		}
		if len(lines) == 5 {
			exact++
		}
	}
	if exact == 0 {
		t.Error("no width in which all takes five lines")
	}
	l.w = 300
	l.form.margin = 0 // half a sheet
	last, _ := l.f.Break(append(l.f.Own(words.Laws, ink(6.5, true)), l.f.Own(words.EventRules, ink(6.5, false))...), l.w, 0)
	if _, _, lines := read(l.foot("")); lines != 2+len(last) {
		t.Errorf("half a sheet: %d lines", lines)
	}
}

// What found no room is named by colour where there are two, each title once: all of a part
// is more than any row of it, rows are added up.
func TestWhatIsMissing(t *testing.T) {
	lost := []sheet.Loss{
		{Half: 1, Title: "moves", Count: 2, Weight: 0.1}, {Half: 2, Title: "moves", Count: 5, Weight: 0.3}, {Half: 1, Title: "moves", Count: 3, Weight: 0.2, Clauses: 4}, {Title: "about", Clauses: 1},
		{Half: 2, Title: "boards"}, {Half: 2, Title: "boards", Count: 3}, {Half: 1, Title: "plans", Count: 2}, {Half: 1, Title: "plans"}, {Title: "about", Clauses: 2},
	}
	want := []sheet.Loss{{Half: 1, Title: "moves", Count: 5, Weight: 0.3, Clauses: 4}, {Half: 2, Title: "moves", Count: 5, Weight: 0.3}, {Title: "about", Clauses: 3}, {Half: 2, Title: "boards"}, {Half: 1, Title: "plans"}}
	got := together(lost)
	for i := range got {
		got[i].Weight = float64(int(got[i].Weight*1000+0.5)) / 1000
	}
	if !slices.Equal(got, want) {
		t.Errorf("%+v\nwant %+v", got, want)
	}
	l, _ := layoutOf(t, bothReport())
	for _, c := range []struct {
		lost []sheet.Loss
		want string
	}{
		{nil, ""}, {[]sheet.Loss{{Title: "a"}, {Title: "b", Count: 2}}, "a, b (2 more)"},
		{[]sheet.Loss{{Half: 2, Title: "c"}, {Title: "a"}, {Half: 1, Title: "b", Count: 1}, {Half: 2, Title: "d", Clauses: 2}}, "a; with White: b (1 more); with Black: c, d (2 details)"},
		{[]sheet.Loss{{Half: 2, Title: "c"}}, "with Black: c"},
	} {
		if got := l.named(c.lost); got != c.want {
			t.Errorf("%q, want %q", got, c.want)
		}
	}
	var d drawn
	d.leftOut([]sheet.Loss{{Half: 1, Title: "moves", Count: 2, Weight: 0.1}, {Title: "about", Clauses: 3}})
	if told := []fact.NotTold{{Section: "moves", Count: 2, Reach: 0.1}, {Section: "about", Details: 3}}; !slices.Equal(d.LeftOut, told) {
		t.Errorf("%+v", d.LeftOut)
	}
	d.leftOut([]sheet.Loss{{Title: "moves", Count: 2}, {Title: "moves", Count: 3}})
	if told := []fact.NotTold{{Section: "moves", Count: 5}}; !slices.Equal(d.LeftOut, told) {
		t.Errorf("%+v", d.LeftOut)
	}
	if d.leftOut(nil); d.LeftOut == nil || len(d.LeftOut) > 0 {
		t.Errorf("nothing left out: %#v", d.LeftOut)
	}
}

// All warnings stand in the foot, from the first.
func TestWarningsStand(t *testing.T) {
	rep := richReport()
	l, _ := layoutOf(t, rep)
	got := l.warnings()
	if want := words.Footnotes(rep); len(got) != len(want) || !strings.HasPrefix(got[0], "The forecast assumes") {
		t.Errorf("%q", got)
	}
}

// Which games of others the shares lean on stands once on a page: under the name, or in the
// foot where that line has no room for it.
func TestPeersStandOnce(t *testing.T) {
	used := &fact.PeersUsed{Games: 777, Before: 777, First: pgn.ParseDate("2019"), Last: pgn.ParseDate("2026-10-31"), MinRating: 1900, MaxRating: 2100, Speed: "slow"}
	for name, rep := range map[string]*fact.Report{"one colour": richReport(), "both": bothReport()} {
		rep.Basis.Peers = used
		l, _ := layoutOf(t, rep)
		places := map[string]bool{}
		for l.w = 300.0; l.w < 1300; l.w += 10 {
			var head []string
			for _, it := range l.head().Items {
				if r, ok := it.(sheet.Run); ok {
					head = append(head, r.S)
				}
			}
			above, below := strings.Count(strings.Join(head, " "), "777 games"), 0
			for _, s := range l.warnings() {
				below += strings.Count(s, "777 games")
			}
			if above+below != 1 {
				t.Errorf("%s, %g wide: %d times under the name, %d in the foot: %q", name, l.w, above, below, head)
				break
			}
			places[[]string{"head", "foot"}[below]] = true
		}
		l.w, rep.Basis.Games = 300, 0 // then the head is of nothing but them
		if got := strings.Join(l.warnings(), " "); strings.Contains(got, "777 games") {
			t.Errorf("%s, of no games of theirs: %q", name, got)
		}
		if len(places) != 2 {
			t.Errorf("%s: stands in %v", name, places)
		}
	}
}
