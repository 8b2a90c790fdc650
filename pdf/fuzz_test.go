package pdf

import (
	"bytes"
	"io"
	"math/rand/v2"
	"testing"

	"foreply/compare/fact"
)

// Whatever a Report says, in whatever letters, there is a page and a text of it.
func FuzzPage(f *testing.F) {
	for i, w := range oddWords {
		f.Add(uint64(i), w, uint8(i))
	}
	f.Fuzz(func(t *testing.T, seed uint64, text string, form uint8) {
		m := maker{rand.New(rand.NewPCG(seed, 9))}
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
		var page bytes.Buffer
		if _, err := Write(&page, rep, forms[int(form)%len(forms)]); err != nil || !bytes.HasPrefix(page.Bytes(), []byte("%PDF-")) {
			t.Fatalf("%v, %d bytes", err, page.Len())
		}
		if err := Text(io.Discard, rep, TextOptions{}); err != nil {
			t.Fatal(err)
		}
	})
}
