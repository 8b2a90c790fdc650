package compare

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"foreply/compare/book"
	"foreply/compare/fact"
	"foreply/compare/find"
	"foreply/compare/words"
	"foreply/fetch/pgn"
	"foreply/profile"
	"foreply/profile/board"
	"foreply/profile/profiletest"
)

// shuffled goes on from an opening to a number of moves, to and fro on the queen's
// side.
func shuffled(opening string, moves int) string {
	line := strings.Fields(opening)
	step := []string{"Rb1", "Rb8", "Ra1", "Ra8"}
	if opening == blackLong {
		step = []string{"Rb1", "Kb8", "Ra1", "Kc8"}
	}
	for i := len(line); i < 2*moves; i++ {
		line = append(line, step[i%4])
	}
	return strings.Join(line, " ")
}

const (
	castledShort = "e4 e5 Nf3 Nf6 Be2 Be7 O-O O-O Nc3 Nc6 d3 d6"
	blackLong    = "d4 d5 Nc3 Nc6 Bf4 Bf5 Qd2 Qd7 Nf3 O-O-O e3 e6"
	queensOff    = "e4 e5 d4 exd4 Qxd4 Qf6 Qxf6 Nxf6 Nf3 Be7 Nc3 Nc6"
)

func aboutThem(t *testing.T, peers *profile.Peers, class profile.Class, rows ...string) []string {
	t.Helper()
	repertoire := bookOf(t, board.White, "1. e4 e5 2. Nf3 *")
	r := Make(Input{Profile: gamesOf(board.Black, rows...), Books: []*book.Book{repertoire}, Peers: peers},
		Options{When: today, Class: class})
	var got []string
	for i := range r.About {
		got = append(got, words.About(&r.About[i]).String())
	}
	return got
}

func TestAboutThem(t *testing.T) {
	short, long := shuffled(castledShort, 30), shuffled(castledShort, 61)
	even := slices.Concat(repeated(20, "1-0 5400 2000 Elm: "+short), repeated(20, "0-1 5400 2000 Elm: "+short))
	late := shuffled(queensOff, 30)
	for name, c := range map[string]struct {
		rows []string
		want []string
	}{
		"nothing unusual": {
			slices.Concat(even[:34], repeated(6, "0-1 5400 2000 Elm: "+late), repeated(5, "1-0 5400 2000 Elm: "+shuffled(castledShort, 65))),
			[]string{"against their Black your side made 25 of 45, about as rated"},
		},
		"queens come off, nobody castles": {
			repeated(30, "1/2-1/2 5400 2000 Elm: "+late),
			[]string{
				"castles late or never: uncastled at move 20 in 30 of 30 games (usual: 2 in 10)",
				"queens come off early: by move 20 in 30 of 30 games (usual: 2 in 10)",
				"against their Black your side made 15 of 30, about as rated",
			},
		},
		"long games, and bad at them": {
			slices.Concat(repeated(20, "0-1 5400 2000 Elm: "+short), repeated(20, "1-0 5400 2000 Elm: "+long)),
			[]string{
				"did badly in games of 50 moves or more: the other side made 20 of 20, expected about 10",
				"long games: 60 moves or more in 20 of 40 games (usual: 1 in 8)",
				"castles early: uncastled at move 20 in 0 of 40 games (usual: 2 in 10)",
			},
		},
		"draws early": {
			slices.Concat(repeated(14, "1/2-1/2 5400 2000 Elm: "+shuffled(castledShort, 18)), even[:26]),
			[]string{
				"draws early: before move 25 in 14 of 40 games (usual: 1 in 25)",
				"against their Black your side made 27 of 40, more than rated (20.0 expected)",
			},
		},
	} {
		t.Run(name, func(t *testing.T) {
			got := aboutThem(t, nil, profile.Classical, c.rows...)
			if !slices.Equal(got, c.want) {
				t.Errorf("%q\nwant %q", got, c.want)
			}
		})
	}
}

// Peers who castle long as often make it no news.
func TestAboutThemAgainstPeers(t *testing.T) {
	rows := slices.Concat(repeated(20, "1-0 5400 2000 Elm: "+shuffled(blackLong, 30)), repeated(20, "0-1 5400 2000 Elm: "+shuffled(castledShort, 30)))
	alone := aboutThem(t, nil, profile.Classical, rows...)
	if !slices.Contains(alone, "castles long: in 20 of 40 games (usual: 1 in 8)") {
		t.Errorf("without peers: %q", alone)
	}
	peers := func(longs int) *profile.Peers {
		return profile.NewPeers(func(yield func(*pgn.Game) bool) {
			for i := range 175 {
				opening := castledShort
				if i < longs {
					opening = blackLong
				}
				if !yield(peerGame(fmt.Sprintf("2025.01.%02d", i%28+1), opening, i)) {
					return
				}
			}
		}, gamesOf(board.Black, rows...), nil)
	}
	for longs, want := range map[int]string{170: "", 10: "castles long: in 20 of 40 games (players like them: 1 in 35)"} {
		got := aboutThem(t, peers(longs), profile.Classical, rows...)
		at := slices.IndexFunc(got, func(s string) bool { return strings.HasPrefix(s, "castles long") })
		switch {
		case at < 0 && want != "", at >= 0 && got[at] != want:
			t.Errorf("%d of 175 peers' games: %q, want %q", longs, got, want)
		}
	}
}

// peerGame makes the i-th of 175 different games: what has the same moves is one
// game.
func peerGame(date, opening string, i int) *pgn.Game {
	words := append(strings.Fields(opening),
		[...]string{"a3", "a4", "h3", "h4", "g3"}[i%5], [...]string{"a6", "a5", "h6", "h5", "g6"}[i/5%5],
		[...]string{"b3", "b4", "Nh4", "Ng5", "Nb5", "Nb1", "Rb1"}[i/25])
	kings := [...]string{"Kh8", "Kh1", "Kg8", "Kg1"}
	if opening == blackLong {
		kings = [...]string{"Kb8", "Kd1", "Kc8", "Ke1"}
	}
	for len(words) < 50 {
		words = append(words, kings[(len(words)+1)%4])
	}
	g := &pgn.Game{File: "peers.pgn", Index: i + 1}
	g.SetTags(pgn.Tags{{Name: "Date", Value: date}})
	for _, w := range words {
		g.Moves = append(g.Moves, pgn.Move{SAN: []byte(w)})
	}
	return g
}

// Only games of the coming speed count, if they are enough.
func TestAboutThemAtASpeed(t *testing.T) {
	rows := slices.Concat(
		repeated(40, "1/2-1/2 5400 2000 Elm: "+shuffled(castledShort, 30)),
		repeated(30, "1/2-1/2 300 2000 Elm: "+shuffled(queensOff, 30)),
	)
	for class, want := range map[profile.Class]string{
		profile.Classical: "castles early: uncastled at move 20 in 0 of 40 slow games (usual: 2 in 10)",
		profile.Blitz:     "castles late or never: uncastled at move 20 in 30 of 30 blitz games (usual: 2 in 10)",
		profile.Rapid:     "castles late or never: uncastled at move 20 in 30 of 70 games (usual: 2 in 10)",
	} {
		if got := aboutThem(t, nil, class, rows...); !slices.Contains(got, want) {
			t.Errorf("%v: %q, want %q", class, got, want)
		}
	}
}

// Six blitz games played at once to move 12 are told with their number.
func TestInstantIsTold(t *testing.T) {
	game := func(pauses ...int) string {
		var words []string
		for n := 1; n <= 15; n++ {
			seconds := 1
			if slices.Contains(pauses, n) {
				seconds = 20
			}
			move := [2]string{"Nf3 Nf6", "Ng1 Ng8"}[(n-1)%2]
			words = append(words, fmt.Sprintf("%s {[%%emt %d]}", move, seconds))
		}
		return strings.Join(words, " ")
	}
	for name, c := range map[string]struct {
		games int
		moves string
		want  string
	}{
		"six games":        {6, game(10, 13), "usually instant to move 12 (6 fast games with clocks; others to move 6)"},
		"sixteen games":    {16, game(10, 13), "usually instant to move 12 (16 fast games with clocks; others to move 6)"},
		"a slow start":     {16, game(2, 3), "thinks early, usually from move 3 on (16 fast games with clocks; others from move 7)"},
		"as others":        {16, game(3, 7), ""},
		"too few to count": {5, game(10, 13), ""},
	} {
		t.Run(name, func(t *testing.T) {
			rows := make([]string, c.games)
			for i := range rows {
				rows[i] = fmt.Sprintf("2026.01.%02d 1-0 300: %s", i+1, c.moves)
			}
			got := ""
			for _, a := range find.About(profiletest.Judged(t, rows...), profile.Blitz, nil) {
				if a.Kind == fact.AtOnce {
					got = words.About(&a).String()
				}
			}
			if got != c.want {
				t.Errorf("%q, want %q", got, c.want)
			}
		})
	}
}

// Where the book ends they may know more: six games played at once to move 12.
func TestInstantBehindTheBook(t *testing.T) {
	moves := "e4 {[%emt 0]} e5 {[%emt 0]} Nf3 Nc6 {[%emt 1]} "
	for n := 3; n <= 15; n++ {
		seconds := 1
		if n > 12 {
			seconds = 20
		}
		moves += [2]string{"Ng1 Nb8", "Nf3 Nc6"}[(n-1)%2] + fmt.Sprintf(" {[%%emt %d]} ", seconds)
	}
	rows := make([]string, 6)
	for i := range rows {
		rows[i] = fmt.Sprintf("2026.01.%02d 1-0 300: %s", i+1, moves)
	}
	s := trapsOf(t, profiletest.Judged(t, rows...), "1. e4 e5 2. Nf3 Nc6 *")
	want := "they are usually instant to move 13 here (6 games)"
	if got := words.Instant(s.Exits[0].Instant).String(); got != want {
		t.Errorf("%q, want %q", got, want)
	}
	if few := trapsOf(t, profiletest.Judged(t, rows[:5]...), "1. e4 e5 2. Nf3 Nc6 *"); few.Exits[0].Instant != nil {
		t.Errorf("five games: %+v", few.Exits[0].Instant)
	}
}

// An exit tells the structure at its end, and so does the branch that leads to
// it.
func TestStructureAtAnExit(t *testing.T) {
	s := trapsOf(t, gamesOf(board.Black, slices.Concat(
		repeated(20, "1-0 5400 2000 Elm: e4 e5 Nf3 Nc6 Bb5 a6 Bxc6 dxc6"),
		repeated(20, "1-0 5400 2000 Elm: e4 c5 Nf3 d6"),
	)...), "1. e4 e5 (1... c5 2. Nf3) 2. Nf3 Nc6 3. Bb5 a6 4. Bxc6 dxc6 5. O-O *")
	want := "you have a knight for a bishop; theirs: doubled on c, half-open d, bishop pair"
	told := 0
	for _, x := range s.Exits {
		if strings.Join(x.Line, " ") == "e4 e5 Nf3 Nc6 Bb5 a6 Bxc6 dxc6 O-O" && words.Structure(&x.Structure, "white").String() == want && x.Structure.White.King == fact.CastledShort {
			told++
		}
	}
	for _, f := range s.Partings {
		for _, b := range f.Branches {
			if words.Structure(b.Structure, "white").String() == want && b.Move == "e5" {
				told++
			}
		}
	}
	if told != 2 {
		t.Errorf("told %d times: exits %+v", told, s.Exits)
	}
}
