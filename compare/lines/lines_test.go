package lines

import (
	"strings"
	"testing"

	"foreply/compare/fact"
	"foreply/fetch/pgn"
)

// Who has White is the user in lines of their White, the opponent in those of their Black; an
// unknown name is a question mark.
func TestTags(t *testing.T) {
	r := &fact.Report{Opponent: fact.Opponent{Name: "Quist, Ola"}, Heading: fact.Heading{Me: "Alder, Mina"}, Basis: fact.Basis{AsOf: pgn.Date{Year: 2026, Month: 11, Day: 2}}}
	for color, want := range map[string]string{"white": "Alder, Mina - Quist, Ola", "black": "Quist, Ola - Alder, Mina"} {
		tags := lineTags(r, &fact.Side{MyColor: color})
		if got := tags.Get("White") + " - " + tags.Get("Black"); got != want || tags.Get("Date") != "2026.11.02" {
			t.Errorf("%s: %s, %s", color, got, tags.Get("Date"))
		}
	}
	tags := lineTags(&fact.Report{}, &fact.Side{MyColor: "white"})
	if tags.Get("White") != "?" || tags.Get("Black") != "?" || tags.Get("Date") != "????.??.??" {
		t.Errorf("%v", tags)
	}
}

// A string has 255 characters at most and is cut between words; nothing of it is lost.
func TestChunks(t *testing.T) {
	for _, n := range []int{1, 63, 64, 65, 127, 128, 129, 400} {
		text := strings.TrimSpace(strings.Repeat("1.e4 ", n))[:5*n-1]
		for _, text := range []string{text, text + "5", "x" + text} {
			got := chunks(text)
			for _, c := range got {
				if len(c) > longestString || c == "" || strings.HasPrefix(c, " ") || strings.HasSuffix(c, " ") {
					t.Errorf("%d signs: %q", len(c), c)
				}
			}
			if strings.Join(got, " ") != text {
				t.Errorf("%q is lost in %q", text, got)
			}
		}
	}
}

// The likeliest child is the main line, at every node.
func TestSort(t *testing.T) {
	root := &branch{next: []*branch{{san: "d4", reach: 0.2}, {san: "e4", reach: 0.7, next: []*branch{{san: "e5", reach: 0.3}, {san: "c5", reach: 0.4}}}}}
	root.sort()
	moves := root.moves()
	if moves[0].SAN != "e4" || moves[1].SAN != "c5" || moves[0].Variations[0].Moves[0].SAN != "d4" || moves[1].Variations[0].Moves[0].SAN != "e5" {
		t.Errorf("%+v", moves)
	}
}
