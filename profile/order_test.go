package profile

import (
	"fmt"
	"strings"
	"testing"

	"foreply/fetch/pgn"
	"foreply/profile/board"
)

// A game without a date is as old as the oldest one that has one, and comes before it.
func TestUndatedGamesAreTheOldest(t *testing.T) {
	start := board.Start()
	chance := func(rows ...string) float64 {
		f := NewForecast(builtFrom(rows...), board.White, ForecastOptions{Model: handModel(), Untuned: true})
		e := f.At(&start, on("2026.05.21"))
		return probability(t, e, start, "e4").P
	}
	undated := chance("2020.01.01 1-0 5400: d4 d5", "2026.01.01 1-0 5400: c4 c5", "????.??.?? 1-0 5400: e4 e5")
	oldest := chance("2020.01.01 1-0 5400: e4 e5", "2020.01.01 1-0 5400: d4 d5", "2026.01.01 1-0 5400: c4 c5")
	if undated != oldest {
		t.Errorf("P(e4) = %v, want %v as of a game of the oldest day", undated, oldest)
	}
}

// The day after the newest game is one on which that game is certainly over.
func TestNextDay(t *testing.T) {
	for _, c := range []struct{ date, want string }{
		{"2026.05.20", "2026-05-21"}, {"2026.05.??", "2026-06-01"}, {"2026.??.??", "2027-01-01"}, {"????.??.??", ""},
	} {
		next := builtFrom(c.date + " 1-0 -: e4 e5").NextDay()
		if got := next.First.String(); got != c.want || next.First != next.Last {
			t.Errorf("%s: %s to %s, want %s", c.date, got, next.Last, c.want)
		}
	}
}

// Games of one day come by their time, then as they stand in their files.
func TestGamesOfADayInOrder(t *testing.T) {
	game := func(tags, first string) string {
		return fmt.Sprintf("[White \"Other\"]\n[Black \"Them\"]\n[Date \"2026.01.05\"]\n%s[Result \"1-0\"]\n\n1. %s e5 1-0\n\n", tags, first)
	}
	for name, c := range map[string]struct{ text, want string }{
		"as in the file": {game("", "e4") + game("", "d4") + game("", "c4"), "e2e4 d2d4 c2c4"},
		"by the time":    {game("[UTCTime \"19:30:00\"]\n", "e4") + game("[UTCTime \"08:15:00\"]\n", "d4") + game("[UTCTime \"19:05:00\"]\n", "c4"), "d2d4 c2c4 e2e4"},
	} {
		var got []string
		for g := range annotated(t, c.text).With(board.Black) {
			got = append(got, g.Moves[0].UCI())
		}
		if strings.Join(got, " ") != c.want {
			t.Errorf("%s: %s, want %s", name, got, c.want)
		}
	}
}

// What peers played on the day of the game itself, or may have, is not known yet.
func TestPeersOfTheDayAreNotKnown(t *testing.T) {
	peers := NewPeers(gamesOf(
		"2026.05.01 1-0 -: e4 e5 Nf3 Nc6 Bb5 a6", "2026.05.02 0-1 -: d4 d5 c4 e6 Nc3 Nf6", "2026.05.?? 1-0 -: c4 e5 Nc3 Nf6 g3 d5", "2026.06.01 1-0 -: e4 c5 Nf3 d6 d4 cxd4",
	), builtFrom("2026.01.01 1-0 -: b3 e5"), nil)
	start := board.Start()
	for day, want := range map[string]string{
		"2026.05.01": "0", "2026.05.02": "1 e2e4:1", "2026.05.03": "2 d2d4:1 e2e4:1", "2026.05.31": "2 d2d4:1 e2e4:1", "2026.06.01": "3 c2c4:1 d2d4:1 e2e4:1", "2026.06.02": "4 e2e4:2 c2c4:1 d2d4:1",
	} {
		got := fmt.Sprint(peers.Before(on(day)))
		for _, p := range peers.Record(start.Key(), board.White, on(day)) {
			got += fmt.Sprintf(" %s:%d", p.Move.UCI(), p.Games)
		}
		if got != want {
			t.Errorf("on %s: %s, want %s", day, got, want)
		}
		known := 0.0
		peers.count(start.Key(), on(day).First, func(_ board.Move, n float64) { known += n })
		if (known > 0) != (peers.Before(on(day)) > 0) {
			t.Errorf("on %s: %v of them count", day, known)
		}
	}
}

// A line pasted from the middle of a game is numbered on from where it begins, whoever is
// to move there, whatever the position's own counter says; its variations find their moves.
func TestPastedLine(t *testing.T) {
	for name, c := range map[string]struct{ fen, moves, want string }{
		"Black to move":            {"rnbqkbnr/pppp1ppp/8/4p3/4P3/5N2/PPPP1PPP/RNBQKB1R b KQkq - 1 2", "12... Nc6 13. Bb5 (13. Bc4 Nf6) 13... a6 14. Ba4", "Nc6 Bb5|Bc4 a6 Ba4"},
		"White to move":            {"rnbqkbnr/pppp1ppp/8/4p3/4P3/8/PPPP1PPP/RNBQKBNR w KQkq - 0 1", "12. Nf3 Nc6 (12... Nf6) 13. Bb5", "Nf3 Nc6|Nf6 Bb5"},
		"by the counter, as usual": {"rnbqkbnr/pppp1ppp/8/4p3/4P3/5N2/PPPP1PPP/RNBQKB1R b KQkq - 1 2", "2... Nc6 3. Bb5 (3. Bc4) 3... a6", "Nc6 Bb5|Bc4 a6"},
	} {
		text := fmt.Sprintf("[FEN %q]\n\n%s *\n", c.fen, c.moves)
		for g := range pgn.NewReader(strings.NewReader(text), pgn.Options{Variations: true}).All() {
			start, err := board.ParseFEN(c.fen)
			if err != nil {
				t.Fatal(err)
			}
			line, problems := Replay(g, start)
			var got []string
			for i := range line.Moves {
				n := &line.Moves[i]
				said := n.SAN
				for _, v := range n.Variations {
					said += "|" + v.Moves[0].SAN
				}
				got = append(got, said)
			}
			if strings.Join(got, " ") != c.want || len(problems) > 0 {
				t.Errorf("%s: %q, want %q; %v", name, got, c.want, problems)
			}
		}
	}
}
