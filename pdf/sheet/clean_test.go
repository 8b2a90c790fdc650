package sheet

import (
	"math/rand/v2"
	"strings"
	"testing"
)

// oddPieces are what texts are put together from: plain words, signs of other scripts, and
// what is written anew. U+FFFD itself is none: it can't be told from what was no UTF-8.
var oddPieces = []string{
	"Nf3", "after 1.e4", "a", "e", "-", ".", " ", "  ", "é", "♞f3", "½", "日本", "\u3000", "🙂", "\u2603\ufe0f", "ﷺ", // the snowman has a variation selector
	"\t", "\n", "\r\n", "\u00a0", "\u2028", "\u0301", "\u0327", "e\u0301", "\x00", "\x7f", "\u0085", "\u200b", "\u202e", "\u2066", "\ufeff", "\ue000", "\xff", "\u212b", "\u1100\u1161",
}

// Text is called plain where writing it anew changes nothing, and only there. A control
// character before it has it written anew, and leaves no trace.
func TestIsPlain(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 7))
	plain := 0
	if got := Plain("a\u200b\u0301"); got != "\u00e1" {
		t.Errorf("a mark kept from its letter by an unseen sign: %q", got)
	}
	for range 3000 {
		var b strings.Builder
		for range r.IntN(5) {
			b.WriteString(oddPieces[r.IntN(len(oddPieces))])
		}
		s := b.String()
		anew := Plain("\x00" + s)
		if isPlain(s) != (anew == s) {
			t.Errorf("%q is plain: %v; written anew it is %q", s, isPlain(s), anew)
		}
		if Plain(s) != anew {
			t.Errorf("%q: %q, written anew %q", s, Plain(s), anew)
		}
		if isPlain(s) {
			plain++
		}
		if !strings.Contains(anew, "\ufffd") && !isPlain(anew) {
			t.Errorf("%q is written anew as %q, which is not plain", s, anew)
		}
	}
	if plain < 300 || plain > 2700 {
		t.Errorf("%d of 3000 texts are plain: too few of one kind", plain)
	}
}
