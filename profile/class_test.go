package profile

import (
	"os"
	"strings"
	"testing"
)

// The table's classes follow the FIDE Laws A.1 and B.1; its header names the
// sources. Blitz of under three minutes is our bullet (common practice).
func TestClassOfTimeControlTable(t *testing.T) {
	data, err := os.ReadFile("../testdata/profile/timecontrol_cases.tsv")
	if err != nil {
		t.Fatal(err)
	}
	rows := 0
	for line := range strings.Lines(string(data)) {
		fields := strings.Split(strings.TrimRight(line, "\n"), "\t")
		if strings.HasPrefix(line, "#") || fields[0] == "tag_value" {
			continue
		}
		rows++
		seconds, class := fields[2], fields[3]
		want := map[string]Class{"blitz": Blitz, "rapid": Rapid, "standard": Classical}[class]
		got := ClassOf(fields[0])
		if got == Bullet && want == Blitz && (seconds == "60" || seconds == "120") {
			continue
		}
		if got != want {
			t.Errorf("TimeControl %q is %v, want %v", fields[0], got, want)
		}
	}
	if rows < 30 {
		t.Fatalf("read %d rows of the table", rows)
	}
}

func TestParseClass(t *testing.T) {
	for c := UnknownClass; c <= Classical; c++ {
		if got, ok := ParseClass(c.String()); !ok || got != c {
			t.Errorf("%v reads back as %v", c, got)
		}
	}
	if _, ok := ParseClass("lightning"); ok {
		t.Error("a class that is none was read")
	}
}
