package board

import (
	"errors"
	"testing"
)

// Whatever the text, Resolve gives a legal move that reads back, or one of its
// three errors; and in that position every legal move's SAN reads back.
func FuzzResolve(f *testing.F) {
	for _, r := range readings {
		for _, texts := range r.want {
			for _, text := range texts {
				f.Add(r.fen, []byte(text))
			}
		}
	}
	f.Fuzz(func(t *testing.T, fen string, text []byte) {
		p, err := ParseFEN(fen)
		if err != nil {
			p = Start()
		}
		legal := map[Move]bool{NullMove: !p.InCheck()}
		for _, m := range p.Legal(nil) {
			legal[m] = true
			if got, err := p.Resolve([]byte(p.SAN(m))); got != m || err != nil {
				t.Errorf("%s: %s written as %s, read as %q, %v", p.FEN(), m.UCI(), p.SAN(m), got.UCI(), err)
			}
		}
		m, err := p.Resolve(text)
		switch {
		case err == nil && !legal[m]:
			t.Errorf("%s: %q gives the illegal %q", p.FEN(), text, m.UCI())
		case err != nil && m != NoMove:
			t.Errorf("%q: a move and an error", text)
		case err != nil && !errors.Is(err, ErrUnreadable) && !errors.Is(err, ErrIllegal) && !errors.Is(err, ErrAmbiguous):
			t.Errorf("%q: error %v", text, err)
		}
		if u, err := p.ParseUCI(string(text)); err == nil && (!legal[u] || u.UCI() != string(text)) {
			t.Errorf("%s: %q taken for %q", p.FEN(), text, u.UCI())
		}
	})
}

// What ParseFEN accepts is written in one way and reads back as the same.
func FuzzParseFEN(f *testing.F) {
	for _, row := range table(f, "perft.tsv") {
		f.Add(row["fen"])
	}
	for _, row := range table(f, "fen_examples.tsv") {
		f.Add(row["fen_1994"])
		f.Add(row["epd_legal_ep"])
	}
	f.Fuzz(func(t *testing.T, fen string) {
		p, err := ParseFEN(fen)
		if err != nil {
			if !errors.Is(err, ErrFEN) {
				t.Errorf("error %v", err)
			}
			return
		}
		for _, text := range []string{p.FEN(), p.EPD()} {
			q, err := ParseFEN(text)
			if err != nil {
				t.Fatalf("%q, written as %q: %v", fen, text, err)
			}
			if q.EPD() != p.EPD() || q.Key() != p.Key() {
				t.Errorf("%q, written as %q, reads as %q", fen, text, q.EPD())
			}
		}
		for _, m := range p.Legal(nil) {
			after := p
			after.Play(m)
			if again, err := ParseFEN(after.FEN()); err != nil || again != after {
				t.Fatalf("%s, then %s: %v; %s set up anew", p.FEN(), m.UCI(), err, again.FEN())
			}
		}
	})
}
