package profile

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"foreply/profile/board"
)

// level writes a game of "Them" with Black whose evaluations follow the moves.
func evaluated(date, class string, moves string) string {
	return fmt.Sprintf("[White \"Other\"]\n[Black \"Them\"]\n[Date %q]\n[TimeControl %q]\n[Result \"1-0\"]\n\n%s 1-0\n\n", date, class, moves)
}

// The c3 Sicilian trap of the demo: 4...Nxe4 5.Qa4+ wins the knight.
const trap = "1. e4 {[%eval 0.3]} c5 {[%eval 0.3]} 2. c3 {[%eval 0.2]} d6 {[%eval 0.3]} 3. d4 {[%eval 0.3]} Nf6 {[%eval 0.4]} 4. dxc5 {[%eval 0.2]} "

func TestSlipsAreFound(t *testing.T) {
	const (
		wrong   = trap + "Nxe4 {[%eval 3.9]} 5. Qa4+ {[%eval 3.8]}"
		right   = trap + "Nc6 {[%eval 0.2]} 5. Bc4"
		silent  = "1. e4 c5 2. c3 d6 3. d4 Nf6 4. dxc5 Nxe4 5. Qa4+"
		decided = "1. e4 {[%eval 0.3]} c5 {[%eval 0.3]} 2. c3 {[%eval 0.2]} d6 {[%eval 0.3]} 3. d4 {[%eval 0.3]} Nf6 {[%eval 0.4]} 4. dxc5 {[%eval 2.2]} Nxe4 {[%eval 3.9]}"
		small   = trap + "Nxe4 {[%eval 0.9]} 5. Qa4+"
		other   = trap + "e6 {[%eval 0.2]} 5. Be3"
		mild    = trap + "Nxe4 {[%eval 0.4]} 5. Qa4+"
	)
	for name, c := range map[string]struct {
		games []string
		want  string // 'games of visits, later games, before after'; empty for none
	}{
		"level at its edge, a fall of a pawn": {[]string{trap[:len(trap)-len("dxc5 {[%eval 0.2]} ")] + "dxc5 {[%eval 1.5]} Nxe4 {[%eval 2.5]} 5. Qa4+"}, "1 of 1, 0 since, -150 -250"},
		"beyond it":                           {[]string{trap[:len(trap)-len("dxc5 {[%eval 0.2]} ")] + "dxc5 {[%eval 1.51]} Nxe4 {[%eval 2.6]} 5. Qa4+"}, ""},
		"a fall of less":                      {[]string{trap + "Nxe4 {[%eval 1.19]} 5. Qa4+"}, ""},
		"once":                                {[]string{wrong}, "1 of 1, 0 since, -20 -390"},
		"a game without evaluations counts":   {[]string{silent, wrong}, "2 of 2, 0 since, -20 -390"},
		"repaired":                            {[]string{wrong, wrong, right}, "2 of 3, 1 since Nc6, -20 -390"},
		"known better and fell for it again":  {[]string{wrong, right, wrong}, "2 of 3, 0 since, -20 -390"},
		"moves before the slip are no repair": {[]string{right, right, wrong, other, right}, "1 of 5, 2 since e6, -20 -390"},
		"decided before":                      {[]string{decided}, ""},
		"a small fall":                        {[]string{small}, ""},
		"other games disagree":                {[]string{wrong, mild, mild, mild, mild}, ""},
		"no evaluations":                      {[]string{silent, silent}, ""},
	} {
		t.Run(name, func(t *testing.T) {
			var text strings.Builder
			for i, moves := range c.games {
				text.WriteString(evaluated(fmt.Sprintf("2026.01.%02d", i+1), "300", moves))
			}
			var got []string
			for _, s := range annotated(t, text.String()).Slips(board.Black, nil) {
				if s.By() != board.Black || s.Position.SAN(s.Move) != "Nxe4" {
					t.Errorf("%v %s", s.By(), s.Position.SAN(s.Move))
				}
				line := fmt.Sprintf("%d of %d, %d since", len(s.Games), s.Visits, len(s.Since))
				if s.Instead != board.NoMove {
					line += " " + s.Position.SAN(s.Instead)
				}
				got = append(got, fmt.Sprintf("%s, %d %d", line, s.Before, s.After))
			}
			want := []string{c.want}
			if c.want == "" {
				want = nil
			}
			if !slices.Equal(got, want) {
				t.Errorf("%q, want %q", got, want)
			}
		})
	}
}

// The other side's slips are where the opponent wins: 1.f3 e5 2.g4?? Qh4#.
func TestSlipOfTheOtherSide(t *testing.T) {
	p := annotated(t, evaluated("2026.01.01", "300", "1. f3 {[%eval -0.6]} e5 {[%eval -0.6]} 2. g4 {[%eval #-1]} Qh4#"))
	found := p.Slips(board.Black, nil)
	if len(found) != 1 || found[0].By() != board.White || found[0].Position.SAN(found[0].Move) != "g4" || found[0].After != -MostEval {
		t.Errorf("%+v", found)
	}
	if other := p.Slips(board.White, nil); len(other) != 0 {
		t.Errorf("games with the other colour: %+v", other)
	}
}

// A judge tells of level positions only: what was lost before is no slip, nor is what was
// won and still is; and what the games say themselves it isn't asked.
func TestJudgedSlips(t *testing.T) {
	p := annotated(t, evaluated("2026.01.01", "300", "1. e4 c5 2. Nf3 d6"))
	for name, c := range map[string]struct {
		before, after int
		want          int
	}{
		"from level": {-40, -140, 4}, "a small fall": {-40, -139, 0}, "from the edge of level": {150, 50, 4}, "won before": {151, -400, 0},
		"lost before": {-151, -700, 0}, "from the other edge": {-150, -250, 4}, "a mate is told as much as counts": {0, -99_990, 4},
	} {
		slips := p.Slips(board.Black, func(*board.Position, board.Move) (int, int, bool) { return c.before, c.after, true })
		if len(slips) != c.want {
			t.Errorf("%s: %d slips, want %d", name, len(slips), c.want)
		}
		for _, s := range slips {
			if !s.Judged || s.Before != c.before || s.After != max(c.after, -MostEval) || len(s.Games) != 1 || s.Visits != 1 {
				t.Errorf("%s: %+v", name, s)
			}
		}
	}
}

// A game that comes to a position again counts once, by its first move there.
func TestSlipOfARepetition(t *testing.T) {
	again := "1. Nf3 Nf6 2. Ng1 {[%eval 0.0]} Ng8 {[%eval 2.0]} 3. Nf3 {[%eval 0.0]} Nf6 {[%eval 0.0]} 4. Ng1 e5"
	other := "1. Nf3 Nf6 2. Ng1 e5"
	p := annotated(t, evaluated("2026.01.01", "300", again)+evaluated("2026.01.02", "300", other)+evaluated("2026.01.03", "300", "1. Nf3 Nf6 2. Ng1 d5")+
		evaluated("2026.01.04", "300", "1. Nf3 Nf6 2. Ng1 d5")+evaluated("2026.01.05", "300", "1. Nf3 Nf6 2. Ng1 d5"))
	found := p.Slips(board.Black, nil)
	if len(found) != 1 {
		t.Fatalf("%+v", found)
	}
	s := found[0]
	if got := fmt.Sprintln(s.Position.SAN(s.Move), s.Before, s.After, s.Games, s.Visits, s.Since, s.Position.SAN(s.Instead)); got != "Ng8 0 -200 [0] 5 [1 2 3 4] d5\n" {
		t.Error(got)
	}
}

// The commonest slip comes first, then the earlier one; of means those of all games that
// tell count.
func TestSlipsInOrder(t *testing.T) {
	a := "1. e4 {[%eval 0.2]} e5 {[%eval 0.2]} 2. Nf3 {[%eval 0.2]} f6 {[%eval 1.6]} 3. Nxe5"
	b := "1. e4 {[%eval 0.2]} e5 {[%eval 0.2]} 2. Nf3 {[%eval 0.4]} f6 {[%eval 1.8]} 3. Nxe5"
	c := "1. d4 {[%eval 0.1]} g5 {[%eval 1.3]} 2. Bxg5 {[%eval 1.3]} f6 {[%eval 2.9]}"
	p := annotated(t, evaluated("2026.01.01", "300", c)+evaluated("2026.01.02", "300", a)+evaluated("2026.01.03", "300", b))
	var got []string
	for _, s := range p.Slips(board.Black, nil) {
		got = append(got, fmt.Sprintf("%s %d to %d in %v", s.Position.SAN(s.Move), s.Before, s.After, s.Games))
	}
	if want := "f6 -30 to -170 in [1 2], g5 -10 to -130 in [0], f6 -130 to -290 in [0]"; strings.Join(got, ", ") != want {
		t.Errorf("%s, want %s", strings.Join(got, ", "), want)
	}
}

// A judge says nothing of moves that the games themselves hold for wrong.
func TestGamesBeforeTheJudge(t *testing.T) {
	p := annotated(t, evaluated("2026.01.01", "300", "1. e4 {[%eval 0.2]} e5 {[%eval 0.2]} 2. Nf3 {[%eval 0.2]} f6 {[%eval 1.6]} 3. Nxe5"))
	asked := 0
	slips := p.Slips(board.Black, func(*board.Position, board.Move) (int, int, bool) {
		asked++
		return 0, 0, true
	})
	if len(slips) != 1 || slips[0].Judged || asked != 4 { // 1.e4 e5 2.Nf3 and 3.Nxe5
		t.Errorf("asked %d times: %+v", asked, slips)
	}
}
