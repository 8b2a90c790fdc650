package pgn

import (
	"bytes"
	"os"
	"testing"
)

// The standard's own sample game (section 2.3) stands in its export format.
func TestWriteStandardSample(t *testing.T) {
	want, err := os.ReadFile("../../testdata/pgn/pgn_standard_sample_game.pgn")
	if err != nil {
		t.Fatal(err)
	}
	games, _ := readAll(t, string(want), Options{})
	var got bytes.Buffer
	if err := Write(&got, games[0]); err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(got.Bytes(), want) {
		t.Errorf("got\n%s\nwant\n%s", got.Bytes(), want)
	}
}
