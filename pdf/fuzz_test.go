package pdf

import (
	"bytes"
	"math/rand/v2"
	"testing"

	"foreply/compare/fact"
)

// Whatever a Report says, in whatever letters, there is a page and a text of it, and
// nothing on them overlaps. Reports are short, since a full one takes twenty times as
// long to set; a document, of which the fonts take most, is written of one in sixteen.
func FuzzPage(f *testing.F) {
	for i, w := range oddWords {
		f.Add(uint64(i), w, uint8(i))
	}
	f.Fuzz(func(t *testing.T, seed uint64, text string, form uint8) {
		opt, rest := forms[int(form)%len(forms)], int(form)/len(forms)
		m := maker{Rand: rand.New(rand.NewPCG(seed, 9)), most: 1}
		if rest%4 == 1 {
			m.most = 2
		}
		rep := m.report()
		rep.Opponent.Name, rep.Heading.Event, rep.Heading.Clock = text, text, text
		rep.Faults = append(rep.Faults, text)
		rep.Basis.Unread = append(rep.Basis.Unread, fact.Unread{File: text})
		for i := range rep.Sides {
			rep.Sides[i].Surprise.Note = text
			for j := range rep.Sides[i].Partings {
				rep.Sides[i].Partings[j].Name = text
			}
		}
		for _, p := range mustPages(t, rep, opt) {
			checkPage(t, p)
		}
		var set bytes.Buffer
		if err := Text(&set, rep, TextOptions{}); err != nil {
			t.Fatal(err)
		}
		checkText(t, set.String(), 80)
		if rest%16 > 0 {
			return
		}
		var page bytes.Buffer
		if _, err := Write(&page, rep, opt); err != nil || !bytes.HasPrefix(page.Bytes(), []byte("%PDF-")) {
			t.Fatalf("%v, %d bytes", err, page.Len())
		}
	})
}
