package hindsight

import (
	"encoding/csv"
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
