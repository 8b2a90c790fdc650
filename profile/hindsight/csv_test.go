package hindsight

import (
	"encoding/csv"
	"errors"
	"strings"
	"testing"

	"foreply/fetch/pgn"
	"foreply/profile"
	"foreply/profile/board"
)

// A date stands in one form, whatever the game's tag looks like; what is not known of it is
// left out.
func TestDatesOfPredictions(t *testing.T) {
	for tag, want := range map[string]string{
		"2025.03.02": "2025-03-02", "2 Mar 2025": "2025-03-02", "2.3.2025": "2025-03-02", "20250302": "2025-03-02", "2025-03-02": "2025-03-02",
		"2025.03.??": "2025-03", "2/3/2025": "2025", "????.??.??": "", "the other day": "",
	} {
		var out strings.Builder
		c := NewCSV(&out)
		c.Write(&Prediction{Game: &profile.Game{Header: pgn.Header{Date: pgn.ParseDate(tag)}}, Position: board.Start(), Ply: 1})
		if err := c.Close(); err != nil {
			t.Fatal(err)
		}
		rows, err := csv.NewReader(strings.NewReader(out.String())).ReadAll()
		if err != nil || len(rows) != 2 || rows[0][2] != "date" || rows[1][2] != want {
			t.Errorf("%q: %v, %v, want %q", tag, rows, err, want)
		}
	}
}

// failing takes so many bytes and no more.
type failing struct{ left int }

func (f *failing) Write(b []byte) (int, error) {
	if f.left -= len(b); f.left < 0 {
		return 0, errors.New("full")
	}
	return len(b), nil
}

// A row has every figure in the column of its name, and the error of a full disk is told.
func TestAllOfARow(t *testing.T) {
	start := board.Start()
	var moves []board.Move
	for _, san := range []string{"e4", "d4", "a3"} {
		m, err := start.Resolve([]byte(san))
		if err != nil {
			t.Fatal(err)
		}
		moves = append(moves, m)
	}
	p := &Prediction{
		Game: &profile.Game{File: "a.pgn", Index: 7, Theirs: board.Black, Header: pgn.Header{Date: pgn.Date{Year: 2025, Month: 3}}}, Ply: 5, Position: start, Played: moves[1], Given: 0.25, Full: 0.125, Raw: 0.375, New: true,
		Expected: profile.Expected{Moves: []profile.Likely{{Move: moves[0], Range: profile.Range{P: 0.5}, N: 3}, {Move: moves[1], Range: profile.Range{P: 0.1}}}, Unseen: profile.Range{P: 0.0625}, Visits: 11, Strength: 2.5},
		Shares: profile.Expected{Moves: []profile.Likely{{Move: moves[0], Range: profile.Range{P: 0.4, Lo: 0.3, Hi: 0.6}, N: 3}, {Move: moves[2], Range: profile.Range{P: 0.2, Lo: 0.1, Hi: 0.7}}},
			Unseen: profile.Range{P: 0.05, Lo: 0.01, Hi: 0.15}},
	}
	var out strings.Builder
	c := NewCSV(&out)
	c.Write(p)
	if err := c.Close(); err != nil {
		t.Fatal(err)
	}
	want := "file,game,date,colour,ply,epd,played,given,full,raw,new,was_new,moves,visits,strength,shares\n" +
		"a.pgn,7,2025-03,black,5,rnbqkbnr/pppppppp/8/8/8/8/PPPPPPPP/RNBQKBNR w KQkq -,d2d4,0.25,0.125,0.375,0.0625,true,e2e4=3=0.5 d2d4=0=0.1,11,2.5,e2e4=0.4=0.3=0.6 new=0.05=0.01=0.15\n"
	if out.String() != want {
		t.Errorf("%s, want\n%s", out.String(), want)
	}
	full := NewCSV(&failing{left: 20})
	full.Write(p)
	if err := full.Close(); err == nil || err.Error() != "writing predictions: full" {
		t.Errorf("a full disk: %v", err)
	}
}
