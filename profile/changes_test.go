package profile

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"foreply/fetch/pgn"
	"foreply/profile/board"
)

// firstMoves makes a profile of games a day apart with these first moves.
func firstMoves(moves []string) *Profile {
	day := on("2020.01.01").First
	rows := make([]string, len(moves))
	for i, m := range moves {
		date := (day + pgn.Day(i)).Date().Tag()
		rows[i] = fmt.Sprintf("%s 1-0 -: %s d6", date, m)
	}
	return builtFrom(rows...)
}

func repeated(move string, n int) []string {
	out := make([]string, n)
	for i := range out {
		out[i] = move
	}
	return out
}

// told is what a change rests on.
func told(c *Change) string {
	san := func(m board.Move) string { return c.Position.SAN(m) }
	switch {
	case c.HabitChanged():
		return fmt.Sprintf("habit %s %d of %d, %s %d of %d", san(c.Now), c.NowN, c.Of, san(c.Past), c.FormerN, c.PastOf)
	case c.Up:
		return fmt.Sprintf("up %s %d of %d, %d of %d", san(c.Move), c.N, c.Of, c.PastN, c.PastOf)
	}
	return fmt.Sprintf("down %s %d of %d, %d of %d, now %s %d", san(c.Move), c.N, c.Of, c.PastN, c.PastOf, san(c.Now), c.NowN)
}

// Beside the games compared it is told how often the move came before, however old the games are.
func TestChangeTellsAllGamesBefore(t *testing.T) {
	moves := slices.Concat(repeated("c4", 100), repeated("e4", 290), repeated("d4", 10))
	p := firstMoves(moves)
	found := p.Changes(board.White, Span{})
	if len(found) != 1 {
		t.Fatalf("%d changes", len(found))
	}
	if c := &found[0]; told(c) != "habit d4 10 of 10, e4 290 of 290" && told(c) != "habit d4 10 of 10, e4 110 of 110" || c.AllN != 290 || c.AllOf != 390 {
		t.Errorf("%s; %d of %d in all, want 290 of 390", told(c), c.AllN, c.AllOf)
	}
}

func TestChangesFound(t *testing.T) {
	mixed := func(n int, move string, others ...string) []string {
		moves := repeated(move, n)
		for i, o := range others {
			moves[(2*i+1)*n/(2*len(others))] = o
		}
		return moves
	}
	for name, c := range map[string]struct {
		moves []string
		want  string
	}{
		"the example of the notes": {
			append(mixed(44, "e4", "d4", "d4", "d4", "d4"), repeated("d4", 8)...),
			"habit d4 8 of 8, e4 40 of 44",
		},
		"taken up beside the old one": {
			append(mixed(60, "e4", "c4", "c4"), mixed(20, "e4", "c4", "c4", "c4", "c4", "c4", "c4", "c4", "c4", "c4")...),
			"up c4 9 of 19, 2 of 61",
		},
		"dropped for several others": {
			append(mixed(60, "e4", "Nf3", "b3"), "Nf3", "b3", "c4", "Nf3", "b3", "c4", "Nf3", "c4", "Nf3", "b3"),
			"down e4 0 of 10, 58 of 60, now Nf3 4",
		},
		"a new habit after another, once the old one was new": {
			slices.Concat(repeated("d4", 100), repeated("e4", 150), repeated("d4", 10)),
			"habit d4 10 of 10, e4 110 of 110", // the far look has the older change, at its edge
		},
		"one habit":               {mixed(60, "e4", "d4", "c4", "d4"), ""},
		"twice is no change":      {append(repeated("e4", 20), "d4", "d4"), ""},
		"just enough games":       {append(repeated("e4", 8), repeated("d4", 3)...), "habit d4 3 of 3, e4 8 of 8"}, // 8 looks at 1/165: 0.048
		"one before is missing":   {append(repeated("e4", 7), repeated("d4", 3)...), ""},
		"too few games":           {append(repeated("e4", 7), repeated("d4", 4)...), ""},
		"changed long ago":        {append(repeated("e4", 60), repeated("d4", 120)...), ""},
		"two moves taken by turn": {slices.Repeat([]string{"e4", "d4"}, 40), ""},
	} {
		t.Run(name, func(t *testing.T) {
			var got string
			for _, change := range firstMoves(c.moves).Changes(board.White, on("2021.01.01")) {
				got += told(&change)
				if change.Up && change.Last != nil || !change.Up && change.Last == nil {
					t.Errorf("%s: last played in %v", got, change.Last)
				}
			}
			if got != c.want {
				t.Errorf("%q, want %q", got, c.want)
			}
		})
	}
}

// Since is the first game of the new habit; what began years ago is no news.
func TestChangeHasADate(t *testing.T) {
	p := firstMoves(append(repeated("e4", 44), repeated("d4", 8)...))
	found := p.Changes(board.White, on("2021.01.01"))
	if len(found) != 1 || found[0].Since.Date.String() != "2020-02-14" {
		t.Fatalf("%+v", found)
	}
	for day, want := range map[string]int{"2023.02.13": 1, "2023.02.14": 0} { // three years, of which one is longer by a day
		if got := p.Changes(board.White, on(day)); len(got) != want {
			t.Errorf("on %s: %d changes, want %d", day, len(got), want)
		}
	}
	if old := p.Changes(board.White, on("2024.01.01")); len(old) != 0 {
		t.Errorf("told after four years: %+v", old)
	}
	if early := p.Changes(board.White, on("2020.02.14")); len(early) != 0 {
		t.Errorf("told before it happened: %+v", early)
	}
	var sameDay []string
	for i := range 28 {
		row := fmt.Sprintf("2020.01.%02d 1-0 -: e4 d6", i+1)
		if i >= 20 {
			row = "2020.02.01 1-0 -: d4 d6"
		}
		sameDay = append(sameDay, row)
	}
	if p := builtFrom(sameDay...); len(p.Changes(board.White, on("2020.02.02"))) != 1 || len(p.Changes(board.White, on("2020.02.01"))) != 0 {
		t.Error("games of the day itself tell of a change")
	}
}

// Blitz with another first move is a habit of its own.
func TestChangeOfSpeedIsNone(t *testing.T) {
	var rows []string
	for i := range 40 {
		clock, move := "5400", "e4"
		if i >= 25 {
			clock, move = "300", "d4"
		}
		rows = append(rows, fmt.Sprintf("2020.%02d.%02d 1-0 %s: %s d6", 1+i/20, 1+i%20, clock, move))
	}
	if found := builtFrom(rows...).Changes(board.White, on("2021.01.01")); len(found) > 0 {
		t.Errorf("%s", told(&found[0]))
	}
}

// A career whose games come in random order has nothing to tell: each of six
// habits, of one first move or several, with what follows, is dealt out anew; of
// ten shuffles of a career at most one may fire, and of all sixty at most three.
func TestChangesInShuffledCareers(t *testing.T) {
	lines := []string{
		"e4 e5 Nf3 Nc6 Bb5", "e4 e5 Nf3 Nc6 Bc4", "e4 c5 Nf3 d6 d4", "e4 c5 c3 d5 exd5", "e4 c6 d4 d5 Nc3",
		"e4 e6 d4 d5 Nc3", "e4 e6 d4 d5 e5", "d4 d5 c4 e6 Nc3", "d4 d5 c4 c6 Nf3", "d4 Nf6 c4 g6 Nc3", "d4 Nf6 Bf4 e6 e3",
		"c4 e5 Nc3 Nf6 g3", "Nf3 d5 g3 Nf6 Bg2",
	}
	all := 0
	for career := range uint64(6) {
		r := rand.New(rand.NewPCG(career, 8))
		rows := make([]string, 0, 220)
		// Habits last: a few lines at a time, new ones in every tenth of the career.
		for len(rows) < cap(rows) {
			few := []string{lines[r.IntN(len(lines))], lines[r.IntN(len(lines))], lines[r.IntN(len(lines))]}
			for range 22 {
				rows = append(rows, few[r.IntN(len(few))])
			}
		}
		fired := 0
		for range 10 {
			r.Shuffle(len(rows), func(i, j int) { rows[i], rows[j] = rows[j], rows[i] })
			if len(careerOf(rows).Changes(board.White, on("2023.01.01"))) > 0 {
				fired++
			}
		}
		if fired > 1 {
			t.Errorf("career %d: %d of 10 shuffles fire", career, fired)
		}
		all += fired
	}
	if all > 3 {
		t.Errorf("%d of 60 shuffles fire", all)
	}
}

// careerOf gives lines of play dates three days apart.
func careerOf(lines []string) *Profile {
	day := on("2020.01.01").First
	rows := make([]string, len(lines))
	for i, line := range lines {
		rows[i] = fmt.Sprintf("%s 1-0 5400: %s", (day + pgn.Day(3*i)).Date().Tag(), line)
	}
	return builtFrom(rows...)
}

// All that a change tells, of a habit dropped deeper in the game for several moves; what was
// played too long ago to be compared is counted beside.
func TestAllOfAChange(t *testing.T) {
	var rows []string
	for i := range 40 {
		rows = append(rows, "e4 e5 "+map[bool]string{false: "Nf3 Nc6", true: "Nc3 Nf6"}[i%20 == 9])
	}
	for i := range 12 {
		rows = append(rows, "e4 e5 "+[]string{"f4 d5", "Bc4 Nf6", "f4 exf4", "Nc3 Nc6"}[i%4])
	}
	p := careerOf(rows)
	found := p.Changes(board.White, on("2020.09.01"))
	if len(found) != 1 {
		t.Fatalf("%d changes", len(found))
	}
	c := &found[0]
	line := ""
	for _, m := range c.Line {
		line += " " + m.UCI()
	}
	got := fmt.Sprintf("%s after%s, %s %q; up %v: %d of %d, %d of %d; now %s %d, past %s %d; all %d of %d; since %s, last %s", c.Position.SAN(c.Move), line, c.Group, c.Speed, c.Up,
		c.N, c.Of, c.PastN, c.PastOf, c.Position.SAN(c.Now), c.NowN, c.Position.SAN(c.Past), c.FormerN, c.AllN, c.AllOf, c.Since.Date, c.Last.Date)
	if want := `Nf3 after e2e4 e7e5, slow "slow"; up false: 0 of 12, 38 of 40; now f4 6, past Nf3 38; all 38 of 40; since 2020-04-30, last 2020-04-27`; got != want {
		t.Errorf("%s, want\n%s", got, want)
	}
}

// How surely a change is one, by hand: of 8 games with 1.e4 and then 3 with 1.d4 one split can
// be looked at, for two moves, in two directions and through two windows; 3 of 11 games lie at
// the end once in 165 orders.
func TestChanceOfAChange(t *testing.T) {
	found := firstMoves(append(repeated("e4", 8), repeated("d4", 3)...)).Changes(board.White, on("2021.01.01"))
	if len(found) != 1 || math.Abs(found[0].Chance-8./165) > 1e-12 || !found[0].Up {
		t.Errorf("%+v, want a chance of 8 in 165", found)
	}
	// Beside another place as often visited it must be twice as clear.
	var rows []string
	for i := range 11 {
		rows = append(rows, fmt.Sprintf("2020.01.%02d 1-0 -: %s d6", i+1, map[bool]string{false: "e4", true: "d4"}[i >= 8]), fmt.Sprintf("2020.01.%02d 1-0 60: c4 d6", i+1))
	}
	if found := builtFrom(rows...).Changes(board.White, on("2021.01.01")); len(found) > 0 {
		t.Errorf("%+v", found)
	}
}

// The alarm is shared out by the visits that are compared, of which there are 300 at most: what
// is older makes no place more important, nor less.
func TestOldVisitsShareNoAlarm(t *testing.T) {
	p := firstMoves(slices.Concat(repeated("c4", 900), repeated("e4", 100), slices.Repeat([]string{"e4", "d4"}, 100)))
	w := p.Watch(board.White)
	if places, visits := w.changePlaces(on("2026.01.01")); len(places) != 1 || visits != 300 || len(places[0].visits) != 300 || len(places[0].whole) != 1200 {
		t.Errorf("%d places of %d visits", len(places), visits)
	}
}

// Changes come at the most visited places first; at one place by the names of the speeds. They
// are looked for in the first 16 plies.
func TestOrderAndDepthOfChanges(t *testing.T) {
	var lines []string
	for i := range 60 {
		lines = append(lines, map[bool]string{false: "d4 d5 c4", true: "d4 d5 Nf3"}[i >= 45]+" e6", map[bool]string{false: "d4 Nf6 Nf3", true: "d4 Nf6 Nc3"}[i >= 40]+" g6")
		if i%3 > 0 {
			lines = append(lines, "d4 e6 "+map[bool]string{false: "e4", true: "c3"}[i >= 40]+" d5")
		}
	}
	var got []string
	for _, c := range careerOf(lines).Changes(board.White, on("2021.12.01")) {
		got = append(got, c.Position.SAN(c.Now)+" "+fmt.Sprint(c.Of+c.PastOf))
	}
	// Two places of 60 visits, in the order of their keys, then that of 40.
	slices.Sort(got[:min(2, len(got))])
	if want := "[Nc3 60 Nf3 60 c3 40]"; fmt.Sprint(got) != want {
		t.Errorf("%v, want %s", got, want)
	}
	for range 8 { // speeds are in a map
		var rows, speeds []string
		for i := range 30 {
			move := map[bool]string{false: "e4", true: "d4"}[i >= 22]
			for _, clock := range []string{"5400", "60", "180"} {
				rows = append(rows, fmt.Sprintf("2020.01.%02d 1-0 %s: %s d6", i+1, clock, move))
			}
		}
		for _, c := range builtFrom(rows...).Changes(board.White, on("2020.03.01")) {
			speeds = append(speeds, c.Speed)
		}
		if want := "[blitz bullet slow]"; fmt.Sprint(speeds) != want {
			t.Fatalf("%v, want %s", speeds, want)
		}
	}
	const seven = "d4 Nf6 c4 g6 Nc3 Bg7 e4 d6 Nf3 O-O Be2 e5 O-O Nc6 "
	for line, want := range map[string]int{seven + "%s": 1, seven + "d5 Ne7 %s": 0} {
		var deep []string
		for i := range 60 {
			deep = append(deep, fmt.Sprintf(line, map[bool]string{false: "Re1", true: "Rb1"}[i >= 45]))
		}
		if found := careerOf(deep).Changes(board.White, on("2021.01.01")); len(found) != want {
			t.Errorf("%d changes after %s, want %d", len(found), line, want)
		}
	}
}

// The way to a change is that of the newest game, whatever order of moves came before.
func TestLineOfAChange(t *testing.T) {
	var lines []string
	for i := range 60 {
		way := []string{"d4 d5 c4 e6", "c4 e6 d4 d5"}[i%2]
		lines = append(lines, way+map[bool]string{false: " Nc3", true: " Nf3"}[i >= 45]+" Nf6")
	}
	found := careerOf(lines).Changes(board.White, on("2021.01.01"))
	if len(found) != 1 || len(found[0].Line) != 4 || found[0].Line[0].UCI() != "c2c4" {
		t.Errorf("%+v", found)
	}
}

// Of which speed a change is told: by the clock or the event; nothing where no game here tells
// one, and 'unknown' where only some don't.
func TestSpeedOfAChange(t *testing.T) {
	change := func(extra int, slow string, event string) (groups []string) {
		var text strings.Builder
		game := func(day int, tags, move string) {
			fmt.Fprintf(&text, "[White \"Them\"]\n[Black \"Ash\"]\n[Date \"2020.01.%02d\"]\n%s\n1. %s d6 *\n\n", day, tags, move)
		}
		for i := range 30 {
			game(i+1, fmt.Sprintf("[TimeControl %q]\n[Event %q]\n", slow, event), map[bool]string{false: "e4", true: "d4"}[i >= 22])
		}
		for i := range extra {
			game(i+1, "[TimeControl \"60\"]\n", "e4")
		}
		for _, c := range annotated(t, text.String()).Changes(board.White, on("2020.03.01")) {
			groups = append(groups, fmt.Sprintf("%s %q", c.Group, c.Speed))
		}
		return groups
	}
	for _, c := range []struct {
		extra       int
		slow, event string
		want        string
	}{
		{0, "-", "Club", `[slow ""]`}, {5, "-", "Club", `[slow "unknown"]`}, {5, "5400", "Club", `[slow "slow"]`},
		{0, "5400", "Club", `[slow "slow"]`}, {0, "-", "Club blitz", `[blitz "blitz"]`}, {5, "900", "Club", `[rapid "rapid"]`},
	} {
		if got := fmt.Sprint(change(c.extra, c.slow, c.event)); got != c.want {
			t.Errorf("%d bullet games beside those of %q, %s: %s, want %s", c.extra, c.slow, c.event, got, c.want)
		}
	}
}

// A habit is a move of six games in ten or more, before and after.
func TestHabitChanged(t *testing.T) {
	const a, b = board.Move(1), board.Move(2)
	for want, cases := range map[bool][]Change{
		true:  {{Now: a, NowN: 3, Of: 5, Past: b, FormerN: 6, PastOf: 10}},
		false: {{Now: a, NowN: 3, Of: 6, Past: b, FormerN: 6, PastOf: 10}, {Now: a, NowN: 3, Of: 5, Past: b, FormerN: 5, PastOf: 10}, {Now: a, NowN: 3, Of: 5, Past: a, FormerN: 6, PastOf: 10}},
	} {
		for _, c := range cases {
			if c.HabitChanged() != want {
				t.Errorf("%+v: %v", c, !want)
			}
		}
	}
	// Of moves played as often the main one is always the same.
	for _, visits := range [][]Visit{{{Move: a}, {Move: b}, {Move: b}, {Move: a}}, {{Move: b}, {Move: a}, {Move: a}, {Move: b}}} {
		if m, n := mainMove(visits); m != a || n != 2 {
			t.Errorf("of %v: %v, %d times", visits, m, n)
		}
	}
}
