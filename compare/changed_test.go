package compare

import (
	"slices"
	"strings"
	"testing"

	"foreply/compare/book"
	"foreply/compare/fact"
	"foreply/profile/board"
)

// A change says what the forecast says: the share in the notice, in tonight and of the
// branch in the tree is one number, and far from that of the few games since.
func TestChangedIsTheForecast(t *testing.T) {
	old := repeated(330, "1-0 5400 2000 Elm: e4 e5 Nf3 Nc6")
	for i := range old {
		old[i] = strings.Replace(old[i], "2026", "2025", 1)
	}
	rows := slices.Concat(old,
		[]string{"2026.11.01 1-0 5400 2000 Elm: e4 c5 Nf3 d6", "2026.11.02 1-0 5400 2000 Elm: e4 c5 Nf3 d6", "2026.11.03 1-0 5400 2000 Elm: e4 e5 Nf3 Nc6"},
		[]string{"2026.11.04 1-0 5400 2000 Elm: e4 c5 Nf3 d6", "2026.11.05 1-0 5400 2000 Elm: e4 c5 Nf3 d6", "2026.11.06 1-0 5400 2000 Elm: e4 c5 Nf3 d6"})
	r := Make(Input{Profile: gamesOf(board.Black, rows...), Books: []*book.Book{bookOf(t, board.White, "1. e4 e5 (1... c5 2. c3) 2. Nf3 *")}},
		Options{When: today, FewGames: 1})
	s := &r.Sides[0]
	if len(s.Changes) != 1 || s.Changes[0].Told() != "c5" || s.Changes[0].N != 5 || s.Changes[0].AllOf != 330 || s.Changes[0].PastOf >= 330 {
		t.Fatalf("%+v", s.Changes)
	}
	share := s.Changes[0].Share
	if share == nil || share.P > 0.75 || share.P < 0.2 {
		t.Fatalf("since then 5 of %d, the forecast says %+v", s.Changes[0].Of, share)
	}
	task := slices.IndexFunc(s.Tonight, func(t fact.Task) bool { return t.Lead == fact.LeadChanged })
	if task < 0 || s.Tonight[task].About.(*fact.Change).Share != share {
		t.Errorf("tonight: %+v", s.Tonight)
	}
	branch := slices.IndexFunc(s.Partings[0].Branches, func(b fact.Branch) bool { return b.Move == "c5" })
	if branch < 0 || s.Partings[0].Branches[branch].Share != *share {
		t.Errorf("%+v in the tree, %+v in the notice", s.Partings[0].Branches, share)
	}
}
