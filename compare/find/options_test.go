package find

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"foreply/compare/fact"
	"foreply/profile"
	"foreply/profile/board"
)

// twoAnswers is a book with two answers to 1...e5, each covering what they
// mostly play then.
const twoAnswers = "1. e4 e5 2. Nf3 (2. Nc3 Nf6 (2... Nc6) 3. Bc4) 2... Nc6 3. Bc4 *"

// Two answers to 1...e5: each gets a walk of its own, and a handful of results
// does not separate them.
//
//	1.e4 e5 ─┬─ 2.Nf3 Nc6 3.Bc4
//	         └─ 2.Nc3 ─┬─ 2...Nf6 3.Bc4
//	                   └─ 2...Nc6, no answer
func TestOptions(t *testing.T) {
	rows := slices.Concat(
		repeated(9, "1-0 5400 2000: e4 e5 Nf3 Nc6 Bc4"), repeated(5, "0-1 5400 2000: e4 e5 Nc3 Nf6 f4"),
	)
	got := optionsOf(t, rows, twoAnswers)
	if len(got) != 2 || got[0].Move != "Nf3" || !got[0].Main || got[1].Move != "Nc3" || got[1].Main || line(got[1].Line) != "e4 e5" {
		t.Fatalf("%+v", got)
	}
	for i, want := range []struct {
		games     int
		likeliest string
	}{{9, "Nc6"}, {5, "Nf6"}} {
		o := got[i]
		if o.Familiar != want.games || o.Likeliest != want.likeliest || o.Covered < 0.5 || o.Known.P < 0.5 || o.Score.Seen != want.games || o.Score.Of != 14 {
			t.Errorf("%+v", o)
		}
		for _, r := range [][3]float64{{o.CoveredLo, o.Covered, o.CoveredHi}, {o.Known.Lo, o.Known.P, o.Known.Hi}, {o.Score.Lo, o.Score.P, o.Score.Hi}} {
			if !(0 <= r[0] && r[0] <= r[1] && r[1] <= r[2] && r[2] <= 1) {
				t.Errorf("%s: interval %v", o.Move, r)
			}
		}
	}
	if got[0].Score.P <= got[1].Score.P { // they lost all against the first, won all against the second
		t.Errorf("expected scores %.2f and %.2f", got[0].Score.P, got[1].Score.P)
	}
	if move, _ := recommended(got); move != "" {
		t.Errorf("%s is recommended", move)
	}
}

// Games that came to an answer by another order of moves have met it, too.
func TestOptionMetByAnotherOrder(t *testing.T) {
	got := optionsOf(t, slices.Concat(
		repeated(9, "1-0 5400 2000: e4 e5 Nf3 Nc6 Bc4"), repeated(5, "0-1 5400 2000: e4 e5 Nc3 Nf6 f4"), repeated(3, "0-1 5400 2000: Nc3 e5 e4 Nf6 f4"),
	), twoAnswers)
	if len(got) != 2 || got[0].Familiar != 9 || got[1].Familiar != 8 {
		t.Errorf("%+v", got)
	}
}

// The first move is an option like any other, and comes first. What few games tell
// sets nothing apart.
func TestOptionsBeginWithTheFirstMove(t *testing.T) {
	rows := resultRows(func(knight, _ int) string { return []string{"1-0", "0-1"}[knight] }, level)
	c := compare(t, gamesOf(t, rows...), twoAnswers, "[Role \"surprise\"]\n\n1. d4 d5 2. c4 *")
	var got []string
	for _, o := range Options(c.w, c.look, c.games, true) {
		got = append(got, line(append(slices.Clone(o.Line), o.Move)))
		if len(o.Reasons) > 0 {
			t.Errorf("%s is recommended by few games", o.Move)
		}
	}
	if want := []string{"e4", "d4", "e4 e5 Nf3", "e4 e5 Nc3"}; !slices.Equal(got, want) {
		t.Errorf("got %q, want %q", got, want)
	}
}

func recommended(options []fact.Option) (move string, reasons []string) {
	for _, o := range options {
		if len(o.Reasons) > 0 {
			return o.Move, o.Reasons
		}
	}
	return "", nil
}

// resultRows are 240 games of a player rated 2000 in which 2.Nf3 and 2.Nc3 take
// turns; result tells the result of each, rival the other player's rating.
func resultRows(result func(knight, i int) string, rival func(knight int) int) []string {
	lines := []string{"e4 e5 Nf3 Nc6 Bc4", "e4 e5 Nc3 Nc6 Bc4"}
	var rows []string
	for i := range 240 {
		rows = append(rows, fmt.Sprintf("20%02d.%02d.%02d %s 5400 %d: %s",
			25+i/168, i%168/28%12+1, i%28+1, result(i%2, i), rival(i%2), lines[i%2]))
	}
	return rows
}

func level(int) int { return 2000 }

const bothAnswered = "1. e4 e5 2. Nf3 (2. Nc3 Nc6 3. Bc4) 2... Nc6 3. Bc4 *"

func optionsOf(t *testing.T, rows []string, chapters ...string) []fact.Option {
	t.Helper()
	c := compare(t, gamesOf(t, rows...), chapters...)
	return Options(c.w, c.look, c.games, false)
}

// They lost all of 120 games against 2.Nf3 and won all of 120 against 2.Nc3. The
// root is 0.5; over 250 games of prior that is 185 of 370 points against
// (125+0)/370 = 0.34, intervals of about 0.03 to either side: apart.
func TestOptionRecommendedByResults(t *testing.T) {
	lostToNf3 := func(knight, _ int) string { return []string{"1-0", "0-1"}[knight] }
	got := optionsOf(t, resultRows(lostToNf3, level), bothAnswered)
	if m, why := recommended(got); m != "Nf3" || !slices.Equal(why, []string{fact.ByResults}) || got[0].Score.Seen != 120 {
		t.Fatalf("%+v", got)
	}
}

// The shuffled twins: the same 240 results dealt out by chance recommend
// nothing, however they are shuffled.
func TestNoOptionRecommendedByShuffledResults(t *testing.T) {
	for seed := range uint64(20) {
		results := slices.Repeat([]string{"1-0", "0-1"}, 120)
		r := rand.New(rand.NewPCG(seed, 11))
		r.Shuffle(len(results), func(i, j int) { results[i], results[j] = results[j], results[i] })
		got := optionsOf(t, resultRows(func(_, i int) string { return results[i] }, level), bothAnswered)
		if m, _ := recommended(got); m != "" {
			t.Errorf("seed %d: %s is recommended: %+v", seed, m, got)
		}
	}
}

// They lost to players 400 points above and won against players 400 below: the
// ratings explain it, the openings don't.
func TestNoOptionRecommendedWhereRatingsExplain(t *testing.T) {
	lostToNf3 := func(knight, _ int) string { return []string{"1-0", "0-1"}[knight] }
	got := optionsOf(t, resultRows(lostToNf3, func(knight int) int { return []int{2800, 1200}[knight] }), bothAnswered)
	if m, _ := recommended(got); m != "" {
		t.Errorf("%s is recommended: %+v", m, got)
	}
}

// The book has an answer to what they play after 2.Nf3, always 2...Nc6, and to
// little of what they play after 2.Nc3: 2...Nf6 is a sixth of it.
func TestOptionRecommendedByTheBook(t *testing.T) {
	after := []string{"Nc6", "Nf6", "Bc5", "d6", "g6", "Nc6", "f5"}
	var rows []string
	replies := []string{}
	for i := range 84 {
		if i%2 == 0 {
			replies = append(replies, "Nf3 Nc6")
		} else {
			replies = append(replies, "Nc3 "+after[1+i/2%6])
		}
	}
	for i, moves := range replies {
		rows = append(rows, fmt.Sprintf("2026.%02d.%02d 1/2-1/2 5400 2000: e4 e5 %s", i/28+1, i%28+1, moves))
	}
	got := optionsOf(t, rows, "1. e4 e5 2. Nf3 (2. Nc3 Nf6 3. Bc4) 2... Nc6 3. Bc4 *")
	if m, why := recommended(got); m != "Nf3" || !slices.Equal(why, []string{fact.ByBook}) {
		t.Errorf("%+v", got)
	}
	// The shuffled twin: the replies are dealt out over both moves.
	for seed := range uint64(10) {
		var theirs []string
		for _, moves := range replies {
			theirs = append(theirs, strings.Fields(moves)[1])
		}
		r := rand.New(rand.NewPCG(seed, 12))
		r.Shuffle(len(theirs), func(i, j int) { theirs[i], theirs[j] = theirs[j], theirs[i] })
		rows = rows[:0]
		for i, m := range theirs {
			rows = append(rows, fmt.Sprintf("2026.%02d.%02d 1/2-1/2 5400 2000: e4 e5 %s %s", i/28+1, i%28+1, []string{"Nf3", "Nc3"}[i%2], m))
		}
		got := optionsOf(t, rows, bothAnswered)
		if m, _ := recommended(got); m != "" {
			t.Errorf("seed %d: %s is recommended: %+v", seed, m, got)
		}
	}
}

// Results for one option, the book for another: nothing is recommended.
func TestJudgeContradiction(t *testing.T) {
	of := func(score, book float64) option {
		return option{rated: score, Option: fact.Option{
			Move: "Nf3", Score: fact.Share{P: score, Lo: score - 0.03, Hi: score + 0.03}, Covered: book, CoveredLo: book - 0.1, CoveredHi: book + 0.1,
		}}
	}
	for _, c := range []struct {
		name    string
		options []option
		want    int
	}{
		{"results for one, the book for the other", []option{of(0.6, 0.3), of(0.5, 0.8)}, -1},
		{"both for one", []option{of(0.6, 0.8), of(0.5, 0.3)}, 0},
		{"results alone", []option{of(0.5, 0.5), of(0.6, 0.5)}, 1},
		{"the book alone", []option{of(0.5, 0.9), of(0.5, 0.5)}, 0},
		{"the best of three is not apart from the second", []option{of(0.6, 0.5), of(0.58, 0.5), of(0.3, 0.5)}, -1},
	} {
		judge(c.options)
		got := slices.IndexFunc(c.options, func(o option) bool { return len(o.Reasons) > 0 })
		if got != c.want {
			t.Errorf("%s: option %d, want %d", c.name, got, c.want)
		}
	}
}

// A short draw tells of a style; another short game doesn't, since the queens may yet have
// come off.
func TestStyleOfShortGames(t *testing.T) {
	moves := func(n int) []board.Move { return make([]board.Move, n) }
	var s fact.Style
	for _, g := range []profile.Game{
		{Moves: moves(30), Result: profile.Draw}, {Moves: moves(30), Result: profile.Win}, {Moves: moves(60), Result: profile.Win}, {Moves: moves(60), Result: profile.Draw},
	} {
		enterStyle(&s, &g)
	}
	if want := (fact.Style{Of: 3, ShortDraws: 1}); s != want {
		t.Errorf("%+v, want %+v", s, want)
	}
}

// Each answer has the style of the games that met it: of nine draws by move 5 after 2.Nf3, and
// of two after 2.Nc3, where three games were won.
func TestStyleOfAnAnswer(t *testing.T) {
	got := optionsOf(t, slices.Concat(
		repeated(9, "1/2-1/2 5400 2000: e4 e5 Nf3 Nc6 Bc4"), repeated(2, "1/2-1/2 5400 2000: e4 e5 Nc3 Nf6 f4"), repeated(3, "0-1 5400 2000: e4 e5 Nc3 Nf6 f4"),
	), twoAnswers)
	if len(got) != 2 || got[0].Style != (fact.Style{Of: 9, ShortDraws: 9}) || got[1].Style != (fact.Style{Of: 2, ShortDraws: 2}) {
		t.Errorf("%+v", got)
	}
}
