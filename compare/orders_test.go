package compare

import (
	"slices"
	"testing"

	"foreply/compare/book"
	"foreply/compare/fact"
	"foreply/compare/words"
	"foreply/profile/board"
)

// ordersOf tells the move orders of a book of White against games of theirs with
// Black.
func ordersOf(t *testing.T, text string, rows ...string) []string {
	t.Helper()
	r := Make(Input{Profile: gamesOf(board.Black, rows...), Books: []*book.Book{bookOf(t, board.White, text)}}, Options{When: today})
	got := []string{}
	for _, o := range r.Sides[0].Orders {
		got = append(got, words.Order(&o).String())
	}
	return got
}

func TestYourMoveOrder(t *testing.T) {
	const book = "1. d4 Nf6 2. c4 e6 (2... g6 3. Nf3 Bg7 4. Nc3) (2... e5 3. dxe5) 3. Nf3 d5 4. Nc3 *"
	gambit := repeated(12, "1-0 5400 2000 Elm: d4 Nf6 c4 e5 dxe5 Ng4")
	quiet := repeated(6, "1-0 5400 2000 Elm: d4 Nf6 c4 e6 Nf3 d5")
	knight := repeated(12, "1-0 5400 2000 Elm: d4 Nf6 Nf3 e6 c4 d5")
	for name, c := range map[string]struct {
		rows []string
		want []string
	}{
		"the knight first goes round their gambit": {
			slices.Concat(gambit, quiet, knight),
			[]string{"after 1.d4 Nf6: 2.c4 allows their 2...e5 (12 of 18 games, your side made 12 of 12, 6.0 expected); 2.Nf3 goes round it (they met it in 12 games), and 3.c4 is back in your book nearly always"},
		},
		"after the knight they play something else": {
			slices.Concat(gambit, quiet, repeated(12, "1-0 5400 2000 Elm: d4 Nf6 Nf3 c5 d5 e6")), []string{},
		},
		"one game that went round it": {
			slices.Concat(gambit, quiet, repeated(1, "1-0 5400 2000 Elm: d4 Nf6 Nf3 e6 c4 d5")), []string{},
		},
		"the other order lets in what the book has nothing for": {
			slices.Concat(gambit, quiet, knight, repeated(5, "1-0 5400 2000 Elm: d4 Nf6 Nf3 b5 e3 Bb7")), []string{},
		},
		"no line of theirs": {slices.Concat(quiet, knight), []string{}},
		"their line is only put off": {
			slices.Concat(
				repeated(12, "1-0 5400 2000 Elm: d4 Nf6 c4 c5 d5 e6"), quiet,
				repeated(12, "1-0 5400 2000 Elm: d4 Nf6 Nf3 g6 c4 c5"),
			),
			[]string{},
		},
	} {
		t.Run(name, func(t *testing.T) {
			if got := ordersOf(t, book, c.rows...); !slices.Equal(got, c.want) {
				t.Errorf("%q\nwant %q", got, c.want)
			}
		})
	}
}

// The pet line is among tonight's work, in a sentence.
func TestOrderTask(t *testing.T) {
	const book = "1. d4 Nf6 2. c4 e6 (2... g6 3. Nf3 Bg7 4. Nc3) (2... e5 3. dxe5) 3. Nf3 d5 4. Nc3 *"
	p := gamesOf(board.Black, slices.Concat(
		repeated(12, "1-0 5400 2000 Elm: d4 Nf6 c4 e5 dxe5 Ng4"), repeated(6, "1-0 5400 2000 Elm: d4 Nf6 c4 e6 Nf3 d5"),
		repeated(12, "1-0 5400 2000 Elm: d4 Nf6 Nf3 e6 c4 d5"))...)
	s := trapsOf(t, p, book)
	var got []string
	for _, task := range s.Tonight {
		if task.Lead == "order" {
			got = append(got, words.Task(&task).String())
		}
	}
	if want := "2.c4 allows their pet line 2...e5; 2.Nf3 goes round it"; !slices.Equal(got, []string{want}) {
		t.Errorf("%q, want %q", got, want)
	}
}

func TestTheirMoveOrder(t *testing.T) {
	const text = "1. e4 d6 2. d4 Nf6 3. Nc3 g6 4. f4 *"
	modern := repeated(12, "1-0 5400 2000 Elm: e4 d6 d4 g6 Nc3 Bg7")
	usual := repeated(6, "1-0 5400 2000 Elm: e4 d6 d4 Nf6 Nc3 g6")
	back := repeated(12, "1-0 5400 2000 Elm: e4 d6 d4 g6 Nc3 Nf6")
	some := repeated(3, "1-0 5400 2000 Elm: e4 d6 d4 g6 Nc3 Nf6")
	mixed := Make(Input{Profile: gamesOf(board.Black, slices.Concat(modern, some, usual)...), Books: []*book.Book{bookOf(t, board.White, text)}}, Options{When: today}).Sides[0].Orders
	if len(mixed) != 1 || mixed[0].Kind != fact.TheirOrder || mixed[0].Move != "g6" || mixed[0].Waits != "Nf6" || mixed[0].Games != 15 || mixed[0].Met != 15 {
		t.Errorf("%+v", mixed)
	}
	// Who never comes back plays another opening, and no other order.
	if got := ordersOf(t, text, slices.Concat(modern, usual)...); len(got) > 0 {
		t.Errorf("another opening: %q", got)
	}
	if got := ordersOf(t, text, slices.Concat(back, usual)...); len(got) > 0 {
		t.Errorf("they come back anyway: %q", got)
	}
	// The main line waits for 2...Nf6, though they never play it; as a
	// sideline it is nothing to keep back.
	if got := ordersOf(t, text, slices.Concat(modern, some)...); len(got) != 1 {
		t.Errorf("of a main line never played: %q", got)
	}
	const sideline = "1. e4 d6 2. d4 c6 (2... Nf6 3. Nc3 g6 4. f4) 3. Nc3 *"
	if got := ordersOf(t, sideline, slices.Concat(modern, some, repeated(6, "1-0 5400 2000 Elm: e4 d6 d4 c6 Nc3 Qc7"))...); len(got) > 0 {
		t.Errorf("of a sideline never played: %q", got)
	}
}
