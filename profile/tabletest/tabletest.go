// Package tabletest reads the tables of testdata. Only tests import it; a leaf.
package tabletest

import (
	"os"
	"strings"
	"testing"
)

// Table reads a file of tab-separated rows by the names of the columns, which stand in
// its first line that is neither empty nor a comment behind '#'.
func Table(t testing.TB, file string) []map[string]string {
	t.Helper()
	text, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	var columns []string
	var rows []map[string]string
	for line := range strings.Lines(string(text)) {
		line = strings.TrimRight(line, "\r\n")
		if line == "" || strings.HasPrefix(line, "#") {
			continue
		}
		cells := strings.Split(line, "\t")
		if columns == nil {
			columns = cells
			continue
		}
		if len(cells) != len(columns) {
			t.Fatalf("%s: %d cells in %q", file, len(cells), line)
		}
		row := map[string]string{}
		for i, cell := range cells {
			row[columns[i]] = cell
		}
		rows = append(rows, row)
	}
	if len(rows) == 0 {
		t.Fatalf("%s: no rows", file)
	}
	return rows
}
