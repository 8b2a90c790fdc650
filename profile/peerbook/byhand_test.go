package peerbook

import (
	"bytes"
	"errors"
	"reflect"
	"slices"
	"strings"
	"testing"

	"foreply/profile/board"
)

// someDay is a day of the games made by hand, as pgn.Day.
const someDay = 738000

// line is moves in UCI notation from the usual start.
func line(t testing.TB, text string) []board.Move {
	t.Helper()
	pos := board.Start()
	var out []board.Move
	for _, word := range strings.Fields(text) {
		m, err := pos.ParseUCI(word)
		if err != nil {
			t.Fatalf("%s: %v", word, err)
		}
		out = append(out, m)
		pos.Play(m)
	}
	return out
}

// toAndFro is so many plies of knights that come and go.
func toAndFro(t testing.TB, plies int) []board.Move {
	return line(t, strings.Repeat("g1f3 g8f6 f3g1 f6g8 ", 11))[:plies]
}

func by(white, black string) [2]Player {
	return [2]Player{PlayerOf(white, white), PlayerOf(black, black)}
}

// gamesByHand are eight games, the last a copy of the one before it, with the first days that
// are possible.
func gamesByHand(t testing.TB) (games []Game, first []int32) {
	return []Game{
		{Moves: line(t, "e2e4 e7e5 g1f3"), Players: by("Ash", "Birch"), Last: someDay, Ratings: [2]int{2050, 1810}, Class: 2, Result: WhiteWon, Marks: 5},
		{Moves: line(t, "e2e4 e7e5 f1c4"), Players: by("Cedar", "Dale"), Last: someDay + 3, Ratings: [2]int{2050, 1810}, Class: 2, Result: Drawn, Marks: 5},
		{Moves: line(t, "e2e4 e7e5 g1f3"), Players: by("Elm", "Fir"), Last: someDay, Ratings: [2]int{2099, 1899}, Class: 2, Marks: 6},
		{Moves: line(t, "e2e4 c7c5"), Players: by("Ash", "Dale"), Last: someDay + 130, Ratings: [2]int{2000, 1800}, Class: 2, Result: BlackWon, Marks: 7},
		{Moves: line(t, "e2e4 c7c5"), Players: by("Dale", "Elm"), Last: someDay + 70, Ratings: [2]int{1850, 2010}, Class: 2, Result: BlackWon, Marks: 9},
		{Moves: line(t, "d2d4 d7d5"), Players: by("Fir", "Elm"), Last: someDay + 3, Ratings: [2]int{2050, 1810}, Class: 1},
		{Moves: toAndFro(t, 20), Players: by("Holm", "Gale"), Last: someDay + 1, Marks: 63},
		{Moves: toAndFro(t, 20), Players: by("Holm", "Hill"), Last: someDay + 5, Marks: 62},
	}, []int32{someDay - 10, someDay - 9, someDay, someDay, someDay, someDay - 300, someDay, someDay}
}

var byHand = Options{Plies: 2, Filter: "slow games, said in some words"}

// A book says what is in it: games, days, what was left out and why, positions, moves and passes;
// whether it is made at once or of books.
func TestAboutByHand(t *testing.T) {
	games, first := gamesByHand(t)
	build := func(from, to int, tallies []Tally, books ...*Book) (*About, *Book) {
		b := NewBuilder(byHand)
		defer b.Close()
		workers := b.Workers(2)
		for i := from; i < to; i++ {
			workers[i%2].Add(&games[i], first[i])
		}
		for i, tally := range tallies {
			workers[i].Tally = tally
		}
		for _, book := range books {
			if err := b.AddBook(book); err != nil {
				t.Fatal(err)
			}
		}
		var out bytes.Buffer
		about, err := b.Write(t.Context(), &out)
		if err != nil {
			t.Fatal(err)
		}
		return about, opened(t, out.Bytes())
	}
	one, two := Tally{Undated: 2, Unfit: 3, Filtered: 4}, Tally{Undated: 10, Unfit: 20, Filtered: 30}
	about, b := build(0, 8, []Tally{one, two})
	got := b.About()
	want := About{Tally: Tally{Twice: 1, Undated: 12, Unfit: 23, Filtered: 34}, Games: 7, First: someDay - 300, Last: someDay + 130,
		Plies: 2, Least: 1, Filter: byHand.Filter, Positions: 4, Moves: 7, Passes: 14, Size: got.Size}
	if !reflect.DeepEqual(*about, got) {
		t.Errorf("written as %+v, read as %+v", *about, got)
	}
	bare := got
	bare.positionsAt, bare.players, bare.gameIndex, bare.rows, bare.keyIndexes = 0, stretch{}, stretch{}, stretch{}, want.keyIndexes
	if bare != want {
		t.Errorf("got\n%+v, want\n%+v", bare, want)
	}
	_, left := build(0, 5, []Tally{one})
	_, right := build(5, 8, []Tally{two})
	_, none := build(0, 0, nil)
	if a := none.About(); a.Games != 0 || a.First != 0 || a.Last != 0 {
		t.Errorf("of an empty book: %+v", a)
	}
	for _, books := range [][]*Book{{left, right, none}, {none, right, left}} {
		if merged, _ := build(0, 0, nil, books...); !reflect.DeepEqual(*merged, got) {
			t.Errorf("merged\n%+v, want\n%+v", *merged, got)
		}
	}
	deep := Options{Plies: 99, Least: -4}.withDefaults()
	if deep.Plies != Depth || deep.Least != 1 {
		t.Errorf("%+v", deep)
	}
	for _, opt := range []Options{{Plies: 2}, {Plies: 2, Filter: byHand.Filter, Least: 2}, {Plies: 3, Filter: byHand.Filter}} {
		if err := NewBuilder(opt).AddBook(b); !errors.Is(err, ErrOther) {
			t.Errorf("added to %+v: %v", opt, err)
		}
	}
}

// The rows: games by class, then by White's band, then by Black's; of each the days and what was
// marked how often.
func TestRowsByHand(t *testing.T) {
	games, _ := gamesByHand(t)
	row := func(class, white, black uint8, days []DayGames, marks map[int]uint32) Row {
		r := Row{Class: class, Bands: [2]uint8{white, black}, Days: days}
		for mark, n := range marks {
			r.Marks[mark] = n
		}
		return r
	}
	want := []Row{
		row(0, 0, 0, []DayGames{{someDay + 1, 1}}, map[int]uint32{63: 1}),
		row(1, 16, 14, []DayGames{{someDay + 3, 1}}, map[int]uint32{0: 1}),
		row(2, 14, 16, []DayGames{{someDay + 70, 1}}, map[int]uint32{9: 1}),
		row(2, 16, 14, []DayGames{{someDay, 2}, {someDay + 3, 1}, {someDay + 130, 1}}, map[int]uint32{5: 2, 6: 1, 7: 1}),
	}
	got, err := opened(t, built(t, byHand, 1, games)).Rows()
	if err != nil || !reflect.DeepEqual(got, want) {
		t.Errorf("%v\n%v, want\n%v", err, got, want)
	}
	if bands := games[0].Bands(); bands != [2]uint8{16, 14} {
		t.Errorf("bands %v", bands)
	}
}

// What was played from a position, worked out by hand: days apart and all together, a player's
// second game with a move weighing sqrt(2)-1 (92,682 of 65,536ths less the first).
func TestMovesByHand(t *testing.T) {
	games, _ := gamesByHand(t)
	games = append(games, Game{Moves: games[0].Moves, Players: by("Ash", "Dale"), Last: someDay + 3, Ratings: [2]int{2070, 1700}, Class: 2, Result: BlackWon})
	b := opened(t, built(t, byHand, 1, games))
	start, e4, d4, nf3 := board.Start(), line(t, "e2e4")[0], line(t, "d2d4")[0], line(t, "g1f3")[0]
	const second = 92682 - Unit
	third := weightOf(3) - weightOf(2)
	want := map[board.Move][]Cell{
		d4:  {{Day: someDay + 3, Band: 16, Class: 1, Passes: 1, Weight: Unit}},
		nf3: {{Day: someDay + 1, Passes: 1, Weight: Unit}},
		e4: {
			{Day: someDay, Band: 16, Class: 2, Passes: 2, White: 1, Weight: 2 * Unit},
			{Day: someDay + 3, Band: 16, Class: 2, Passes: 2, Drawn: 1, Black: 1, Weight: Unit + second},
			{Day: someDay + 70, Band: 14, Class: 2, Passes: 1, Black: 1, Weight: Unit},
			{Day: someDay + 130, Band: 16, Class: 2, Passes: 1, Black: 1, Weight: third},
		},
	}
	total := map[board.Move][]Cell{
		d4:  {{Band: 16, Class: 1, Passes: 1, Weight: Unit}},
		nf3: {{Passes: 1, Weight: Unit}},
		e4: {
			{Band: 14, Class: 2, Passes: 1, Black: 1, Weight: Unit},
			{Band: 16, Class: 2, Passes: 5, White: 1, Drawn: 1, Black: 2, Weight: 3*Unit + second + third},
		},
	}
	if third != 20830 { // 65536*(sqrt(3)-sqrt(2)) = 113511.7-92681.9, each rounded
		t.Errorf("a third game weighs %d", third)
	}
	r := b.Reader()
	for name, c := range map[string]struct {
		at   func(uint64) ([]Move, error)
		want map[board.Move][]Cell
	}{"by days": {r.At, want}, "in total": {r.Total, total}} {
		moves, err := c.at(start.Key())
		got := map[board.Move][]Cell{}
		for _, m := range moves {
			got[m.Move] = m.Cells
		}
		if err != nil || len(moves) != 3 || !reflect.DeepEqual(got, c.want) {
			t.Errorf("%s: %v\n%v, want\n%v", name, err, got, c.want)
		}
	}
	start.Play(e4)
	moves, err := r.At(start.Key()) // Black's bands and names
	c5, e5 := line(t, "e2e4 c7c5")[1], line(t, "e2e4 e7e5")[1]
	answers := []Move{{c5, []Cell{
		{Day: someDay + 70, Band: 16, Class: 2, Passes: 1, Black: 1, Weight: Unit},
		{Day: someDay + 130, Band: 14, Class: 2, Passes: 1, Black: 1, Weight: Unit},
	}}, {e5, []Cell{
		{Day: someDay, Band: 14, Class: 2, Passes: 2, White: 1, Weight: 2 * Unit},
		{Day: someDay + 3, Band: 13, Class: 2, Passes: 1, Black: 1, Weight: Unit},
		{Day: someDay + 3, Band: 14, Class: 2, Passes: 1, Drawn: 1, Weight: second},
	}}}
	if err != nil || !reflect.DeepEqual(moves, answers) {
		t.Errorf("answers to e4: %v\n%v, want\n%v", err, moves, answers)
	}
}

// A game out of a book is as it was, but for moves deeper than the book and ratings, of which the
// band is known.
func TestGamesOutOfABook(t *testing.T) {
	games, _ := gamesByHand(t)
	b := opened(t, built(t, byHand, 1, games))
	less, err := b.Less(Own{Players: []Player{by("Birch", "")[0], by("Cedar", "")[0], PlayerOf("Gale", "Gale")}})
	if err != nil {
		t.Fatal(err)
	}
	want := []Game{games[0], games[1], games[6]}
	for i := range want {
		want[i].Moves = want[i].Moves[:2]
	}
	want[0].Ratings, want[1].Ratings = [2]int{2000, 1800}, [2]int{2000, 1800}
	slices.SortFunc(less.Games, func(a, b Game) int {
		return slices.Index([]uint8{5, 63}, a.Marks)*100 + int(a.Last) - slices.Index([]uint8{5, 63}, b.Marks)*100 - int(b.Last)
	})
	if !reflect.DeepEqual(less.Games, want) {
		t.Errorf("got\n%+v, want\n%+v", less.Games, want)
	}
}

// Games of the same moves are one from 20 plies on, by the first 40, however deep the book is;
// the one of the earliest day counts.
func TestWhichGamesAreOne(t *testing.T) {
	other := func(plies int, last string) []board.Move {
		return append(toAndFro(t, plies), line(t, last)...)
	}
	for name, c := range map[string]struct {
		a, b []board.Move
		want int
	}{
		"19 plies":                  {toAndFro(t, 19), toAndFro(t, 19), 2},
		"20 plies":                  {toAndFro(t, 20), toAndFro(t, 20), 1},
		"one is longer":             {toAndFro(t, 20), toAndFro(t, 24), 2},
		"one ends otherwise":        {other(24, "a2a3"), other(24, "a2a4"), 2},
		"one ends with another man": {other(24, "b1c3"), other(24, "c2c3"), 2},
		"40 plies and longer":       {toAndFro(t, 40), toAndFro(t, 44), 1},
		"other from move 21 on":     {other(40, "a2a3"), other(40, "a2a4"), 1},
		"other at move 20":          {other(36, "a2a3 a7a6 h2h3 h7h6"), other(36, "a2a3 a7a6 h2h3 h7h5"), 2},
	} {
		games := []Game{{Moves: c.a, Players: by("Ash", "Birch"), Last: someDay + 2}, {Moves: c.b, Players: by("Cedar", "Dale"), Last: someDay}}
		b := opened(t, built(t, Options{Plies: 4}, 1, games))
		if a := b.About(); a.Games != c.want || a.Twice != 2-c.want {
			t.Errorf("%s: %d games, %d twice", name, a.Games, a.Twice)
		}
		rows, err := b.Rows()
		if err != nil || rows[0].Days[0].Day != someDay {
			t.Errorf("%s: %v, %v", name, rows, err)
		}
		less, err := b.Less(Own{Lines: [][]board.Move{c.b}})
		if err != nil || len(less.Games) != 1 && c.want == 1 || !slices.ContainsFunc(less.Games, func(g Game) bool { return g.Last == someDay }) {
			t.Errorf("%s: without the second %v, %v", name, less.Games, err)
		}
	}
}

// A name's hashes, by the values that the FNV reference gives for "a" and "" (RFC 9923).
func TestPlayersByHash(t *testing.T) {
	const a, empty = 0xaf63dc4c8601ec8c, 0xcbf29ce484222325
	p := PlayerOf("a", "")
	if want := uint32((a>>23 ^ a) & (1<<23 - 1)); p.Surname() != want {
		t.Errorf("surname %x, want %x", p.Surname(), want)
	}
	if want := Player((empty>>17 ^ empty) & (1<<17 - 1)); p&(1<<17-1) != want {
		t.Errorf("the rest %x, want %x", p&(1<<17-1), want)
	}
	if q := PlayerOf("a", "a"); q == p || q.Surname() != p.Surname() {
		t.Error("players of one surname are two")
	}
}

func TestDaysAndBandsAtTheirEnds(t *testing.T) {
	const last = 693596 + 1<<16 - 1 // 65,536 days from 1 January 1900 on
	for day, want := range map[int32]int32{0: 693596, 693595: 693596, 693596: 693596, 693597: 693597, last: last, last + 1: last, 1 << 30: last} {
		if got := unpackDay(packDay(day)); got != want {
			t.Errorf("day %d is kept as %d, want %d", day, got, want)
		}
	}
	for band, want := range map[uint8][2]int{0: {0, 0}, 1: {1, 600}, 2: {600, 700}, 30: {3400, 3500}, 31: {3500, 1<<31 - 1}} {
		if lo, hi := BandRange(band); lo != want[0] || hi != want[1] {
			t.Errorf("band %d: %d to %d, want %v", band, lo, hi, want)
		}
	}
	if BandOf(3499) != 30 || BandOf(3500) != 31 || BandOf(9999) != 31 {
		t.Error("the last bands")
	}
}

// A line that fits and a day that fits are asked for by the line's number.
func TestLinesByNumber(t *testing.T) {
	games, _ := gamesByHand(t)
	b := opened(t, built(t, byHand, 1, games))
	own := Own{Lines: [][]board.Move{games[0].Moves, games[3].Moves}, Fits: func(line int, day int32) bool { return line == 1 && day == someDay+130 }}
	less, err := b.Less(own)
	if err != nil || len(less.Games) != 1 || less.Games[0].Marks != 7 {
		t.Errorf("%+v, %v", less.Games, err)
	}
	own.Fits = nil
	if less, err = b.Less(own); err != nil || len(less.Games) != 4 {
		t.Errorf("of any day %+v, %v", less.Games, err)
	}
}

// A rating lies in the range of its band, and bands follow one another.
func TestBandsOfRatings(t *testing.T) {
	before := uint8(0)
	for rating := 1; rating < 4000; rating++ {
		band := BandOf(rating)
		if lo, hi := BandRange(band); rating < lo || rating >= hi || band < before || band > before+1 {
			t.Fatalf("%d is in band %d, %d to %d, after band %d", rating, band, lo, hi, before)
		}
		before = band
	}
	if BandOf(0) != 0 || BandOf(-5) != 0 || BandOf(600) != BandOf(699) || BandOf(600) == BandOf(599) {
		t.Error("no rating, or the first hundred")
	}
}
