package main

import (
	"slices"
	"strings"
	"testing"

	"github.com/notnil/chess"
)

// demo is the folder of the files under test, seen from this package.
const demo = "../../../testdata/demo/"

func mustRead(t *testing.T, name string) []*chapter {
	t.Helper()
	c, err := readChapters(demo + name)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// played is a game with its positions.
type played struct {
	*chapter
	white bool // the opponent has White
	sans  []string
	at    []*chess.Position // one more than moves that are legal
	wrong string            // the first illegal move
}

func replay(t *testing.T, c *chapter) *played {
	t.Helper()
	g := &played{chapter: c, white: strings.HasPrefix(c.tags["White"], "Hallvoss") || c.tags["White"] == themHandle}
	pos := startPosition()
	if fen := c.tags["FEN"]; fen != "" {
		setup, err := chess.FEN(fen)
		if err != nil {
			t.Fatal(err)
		}
		pos = chess.NewGame(setup).Position()
	}
	g.at = append(g.at, pos)
	for _, s := range c.line {
		g.sans = append(g.sans, s.san)
		if g.wrong != "" {
			continue
		}
		m, err := moveOf(pos, s.san)
		if err != nil {
			g.wrong = s.san
			continue
		}
		pos = pos.Update(m)
		g.at = append(g.at, pos)
	}
	return g
}

// replays are the games of each file, replayed once for all tests.
var replays = map[string][]*played{}

func replayAll(t *testing.T, name string) []*played {
	t.Helper()
	if replays[name] == nil {
		for _, c := range mustRead(t, name) {
			replays[name] = append(replays[name], replay(t, c))
		}
	}
	return slices.Clone(replays[name])
}

func TestRepertoires(t *testing.T) {
	for _, b := range []struct {
		file      string
		side      chess.Color
		main      int // chapters of this role
		positions int
	}{{"white.pgn", chess.White, 6, 1000}, {"black.pgn", chess.Black, 8, 800}} {
		t.Run(b.file, func(t *testing.T) {
			chapters := mustRead(t, b.file)
			got, err := take(chapters, b.side)
			if err != nil {
				t.Fatal(err)
			}
			t.Logf("%d chapters, %d positions, %d notes, mistakes %q, stops %q", len(chapters), got.positions, got.notes, got.mistakes, got.open)
			if got.positions < b.positions {
				t.Errorf("%d distinct positions, want at least %d", got.positions, b.positions)
			}
			if got.notes < 50 {
				t.Errorf("%d notes, want at least 50", got.notes)
			}
			if got.roles["main"] != b.main || got.roles["surprise"] != 1 || got.roles["rest"] != 1 || len(got.roles) != 3 {
				t.Errorf("roles %v", got.roles)
			}
			if len(got.meetings) == 0 || len(got.options) == 0 || len(got.mistakes) == 0 || len(got.open) == 0 {
				t.Errorf("want meetings, options, mistakes and open ends, got %+v", got)
			}
			for _, c := range chapters {
				if c.end != "*" {
					t.Errorf("%s ends with %s", c.tags["Event"], c.end)
				}
			}
		})
	}
}

// byDate says what the PGN dates of two games allow to say about their order.
func byDate(a, b string) int {
	for i := 0; i < len(a) && i < len(b); i++ {
		if a[i] == '?' || b[i] == '?' {
			return 0
		}
		if a[i] != b[i] {
			return int(a[i]) - int(b[i])
		}
	}
	return 0
}

// checkEnd compares the result with the final position.
func checkEnd(t *testing.T, g *played) {
	t.Helper()
	last := g.at[len(g.at)-1]
	if g.tags["Result"] != g.end {
		t.Errorf("%s: tag %s, movetext %s", g.tags["Date"], g.tags["Result"], g.end)
	}
	if g.wrong != "" {
		return
	}
	switch {
	case last.Status() == chess.Checkmate && g.end != winner(last.Turn().Other()),
		last.Status() == chess.Stalemate && g.end != "1/2-1/2":
		t.Errorf("%s: %s doesn't fit the final position %s", g.tags["Date"], g.end, last)
	}
}

func TestSlowGames(t *testing.T) {
	games := replayAll(t, "opponent-otb.pgn")
	count := map[string]int{}
	for i, g := range games {
		if i > 0 && byDate(games[i-1].tags["Date"], g.tags["Date"]) > 0 {
			t.Errorf("game %d: %s after %s", i+1, g.tags["Date"], games[i-1].tags["Date"])
		}
		checkEnd(t, g)
		them, elo := "White", "WhiteElo"
		if !g.white {
			them, elo = "Black", "BlackElo"
		}
		count["as "+g.tags[them]]++
		if r := g.tags[elo]; r < "1740" || r > "1955" {
			t.Errorf("game %d: their rating %s", i+1, r)
		}
		if g.tags["TimeControl"] != "" {
			count["with a time control"]++
		}
		if g.tags["ECO"] != "" {
			count["with a code"]++
		}
		if strings.Contains(g.tags["Date"], "?") {
			count["with part of a date"]++
		}
		if len(g.sans) == 0 {
			count["without moves"]++
		}
		if g.wrong != "" {
			count["with an illegal move"]++
			if n := len(g.at) - 1; n < 30 {
				t.Errorf("the illegal move %s comes after %d half-moves, want more than 30", g.wrong, n)
			}
		}
		if g.end == "*" {
			count["cut"]++
			if whole := games[i-1]; !slices.Equal(whole.sans[:len(g.sans)], g.sans) || whole.tags["Round"] != g.tags["Round"] {
				t.Errorf("game %d is no copy of the one before", i+1)
			}
		}
	}
	checkCounts(t, count, map[string]int{"without moves": 1, "with an illegal move": 1, "cut": 1})
	if n := len(games); n != 63 || count["as "+themName]+count["as "+themShort] != n || count["as "+themShort] < 20 {
		t.Errorf("%d games, %v", n, count)
	}
	t.Log(count)
}

func checkCounts(t *testing.T, got, want map[string]int) {
	t.Helper()
	for k, n := range want {
		if got[k] != n {
			t.Errorf("%s: %d games, want %d", k, got[k], n)
		}
	}
}

func TestMeetings(t *testing.T) {
	var got []string
	for _, g := range replayAll(t, "opponent-otb.pgn") {
		if g.tags["White"] == youName || g.tags["Black"] == youName {
			got = append(got, g.tags["Date"]+" "+g.tags["White"]+" "+g.end)
		}
	}
	want := []string{"2024.12.27 Pellworth, Ines 1/2-1/2", "2026.02.20 Hallvoss, Imke 1-0"}
	if !slices.Equal(got, want) {
		t.Errorf("got %q, want %q", got, want)
	}
}

func TestFastGames(t *testing.T) {
	games := replayAll(t, "opponent-online.pgn")
	count := map[string]int{}
	for i, g := range games {
		now := g.tags["UTCDate"] + g.tags["UTCTime"]
		if i > 0 && games[i-1].tags["UTCDate"]+games[i-1].tags["UTCTime"] < now {
			t.Errorf("game %d is newer than the one before", i+1)
		}
		checkEnd(t, g)
		if g.wrong != "" {
			t.Errorf("game %d: illegal %s", i+1, g.wrong)
		}
		evals := 0
		for _, s := range g.line {
			note := strings.Join(s.notes, " ")
			if !strings.Contains(note, "[%clk ") {
				t.Errorf("game %d: no clock at %s", i+1, s.san)
			}
			if strings.Contains(note, "[%eval ") {
				evals++
			}
		}
		// A position of mate has no evaluation, nor has the last move before a flag fell.
		if evals > 0 {
			count["with evaluations"]++
			if evals < len(g.line)-1 {
				t.Errorf("game %d: %d evaluations for %d moves", i+1, evals, len(g.line))
			}
		}
		if g.tags["FEN"] != "" {
			count["from a set-up position"]++
		}
		if g.tags["Variant"] != "" {
			count["of a variant"]++
		}
		count[g.tags["Termination"]]++
		count[g.tags["Event"]]++
	}
	checkCounts(t, count, map[string]int{"from a set-up position": 2, "of a variant": 1, "abandoned": 1})
	if n := count["with evaluations"]; n < 30 || n > 50 {
		t.Errorf("%d games with evaluations, want some 40", n)
	}
	if len(games) != onlineGames || games[0].tags["Date"] != "2026.11.20" {
		t.Errorf("%d games, newest %s", len(games), games[0].tags["Date"])
	}
	t.Log(count)
}

// TestTrap: lost twice from 4...Nxe4 in the Sicilian with 2.c3, repaired since.
func TestTrap(t *testing.T) {
	trap := strings.Fields("e4 c5 c3 d6 d4 Nf6 dxc5")
	var got []string
	games := replayAll(t, "opponent-online.pgn")
	slices.Reverse(games)
	for _, g := range append(games, replayAll(t, "opponent-otb.pgn")...) {
		if n := len(trap); !g.white && len(g.sans) > n && slices.Equal(g.sans[:n], trap) {
			got = append(got, g.sans[n]+" "+g.end)
		}
	}
	t.Logf("%q", got)
	lost := 0
	for _, s := range got {
		if strings.HasPrefix(s, "Nxe4") {
			lost++
			if s != "Nxe4 1-0" {
				t.Errorf("%s from the trap", s)
			}
		}
	}
	if lost != 2 {
		t.Errorf("%d games with the trap, want 2", lost)
	}
}

// TestHabitsShow compares what the files show with what the table intends.
func TestHabitsShow(t *testing.T) {
	share := map[string][2]int{} // what: how often, of how many
	add := func(key string, hit bool) {
		v := share[key]
		v[1]++
		if hit {
			v[0]++
		}
		share[key] = v
	}
	for _, g := range append(replayAll(t, "opponent-otb.pgn"), replayAll(t, "opponent-online.pgn")...) {
		if len(g.sans) < 4 || g.tags["FEN"] != "" {
			continue
		}
		switch {
		case g.white && g.tags["Date"] < "2025.11":
			add("before: 1.e4", g.sans[0] == "e4")
		case g.white:
			add("since: 1.d4", g.sans[0] == "d4")
			if g.sans[0] == "d4" && g.sans[1] == "d5" {
				add("since: 1.d4 d5 2.Nc3", g.sans[2] == "Nc3")
			}
		case g.sans[0] == "e4":
			add("1.e4 e5", g.sans[1] == "e5")
			add("1.e4 c5", g.sans[1] == "c5")
			add("1.e4 d5", g.sans[1] == "d5")
			if g.sans[1] == "d5" {
				add("1.e4 d5 2.exd5 Nf6", g.sans[3] == "Nf6")
			}
		}
	}
	for _, want := range []struct {
		key      string
		from, to float64
	}{
		{"before: 1.e4", 0.80, 0.92}, {"since: 1.d4", 0.68, 0.80}, {"since: 1.d4 d5 2.Nc3", 0.2, 0.4},
		{"1.e4 e5", 0.55, 0.65}, {"1.e4 c5", 0.20, 0.30}, {"1.e4 d5", 0.10, 0.18}, {"1.e4 d5 2.exd5 Nf6", 0.65, 0.9},
	} {
		v := share[want.key]
		got := float64(v[0]) / float64(v[1])
		t.Logf("%s: %d of %d", want.key, v[0], v[1])
		if got < want.from || got > want.to {
			t.Errorf("%s: %.2f, want %.2f to %.2f", want.key, got, want.from, want.to)
		}
	}
}

func TestHabitTable(t *testing.T) {
	if _, err := readHabits(habitText); err != nil {
		t.Error(err)
	}
	for _, bad := range []string{"| e4 1", "== them\n| e5 1", "== them\n| e4", "== them\n| e4 1\n| d4 1", "== us"} {
		if _, err := readHabits(bad); err == nil {
			t.Errorf("no error for %q", bad)
		}
	}
}

func TestParseInfo(t *testing.T) {
	rank, c, ok := parseInfo("info depth 7 seldepth 9 multipv 2 score cp -31 nodes 4000 nps 1 time 9 pv e7e5 g1f3")
	if !ok || rank != 2 || c != (choice{"e7e5", -31}) {
		t.Errorf("got %d %v %v", rank, c, ok)
	}
	if _, c, _ := parseInfo("info depth 7 score mate -3 pv e7e5"); c.score != 3-mateScore {
		t.Errorf("mated in 3 is %d", c.score)
	}
	if _, _, ok := parseInfo("info string NNUE evaluation using nn.nnue enabled"); ok {
		t.Error("took a remark for a move")
	}
}

// TestUnanswered: moves the opponent plays often and the repertoires don't answer.
func TestUnanswered(t *testing.T) {
	games := append(replayAll(t, "opponent-otb.pgn"), replayAll(t, "opponent-online.pgn")...)
	for _, u := range []struct {
		file  string
		white bool // the opponent has White
		moves string
		least int
	}{
		{"black.pgn", true, "d4 d5 Nc3", 5},
		{"white.pgn", false, "e4 d5 exd5 Nf6", 5},
		{"white.pgn", false, "e4 e5 Nf3 Nc6 Bc4 Bc5 c3 Nf6 d3 O-O O-O Re8", 2},
	} {
		moves := strings.Fields(u.moves)
		pos, err := follow(moves)
		if err != nil {
			t.Fatal(err)
		}
		for _, c := range mustRead(t, u.file) {
			err := walk(c, func(v visit) error {
				if keyOf(v.before) == keyOf(pos) {
					t.Errorf("%s answers %s with %s", u.file, u.moves, v.step.san)
				}
				return nil
			})
			if err != nil {
				t.Fatal(err)
			}
		}
		n := 0
		for _, g := range games {
			if g.white == u.white && len(g.sans) >= len(moves) && slices.Equal(g.sans[:len(moves)], moves) {
				n++
			}
		}
		t.Logf("%s: %d games", u.moves, n)
		if n < u.least {
			t.Errorf("%s in %d games, want at least %d", u.moves, n, u.least)
		}
	}
}
