package pgn

import (
	"os"
	"strings"
	"testing"
)

// The table's classes follow the FIDE Laws A.1 and B.1; its header names the
// sources. Blitz of under three minutes is our bullet (common practice).
func TestControlTable(t *testing.T) {
	data, err := os.ReadFile("../../testdata/profile/timecontrol_cases.tsv")
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
		want := map[string]Speed{"blitz": Blitz, "rapid": Rapid, "standard": Classical}[class]
		control := ParseControl(fields[0])
		got := control.Speed()
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

func TestParseSpeed(t *testing.T) {
	for c := UnknownSpeed; c <= Classical; c++ {
		if got, ok := ParseSpeed(c.String()); !ok || got != c {
			t.Errorf("%v reads back as %v", c, got)
		}
	}
	if got, ok := ParseSpeed("bLITZ"); !ok || got != Blitz {
		t.Errorf("in other capitals: %v", got)
	}
	if _, ok := ParseSpeed("lightning"); ok {
		t.Error("a speed that is none was read")
	}
}

// Of an unknown speed neither slow nor fast is said, but where games are held apart it
// goes with the slow ones.
func TestSlowAndFast(t *testing.T) {
	for speed, want := range map[Speed]struct {
		fast        bool
		pace, group string
	}{
		UnknownSpeed: {false, "unknown", "slow"}, Bullet: {true, "bullet", "bullet"}, Blitz: {true, "blitz", "blitz"},
		Rapid: {true, "rapid", "rapid"}, Classical: {false, "slow", "slow"},
	} {
		if speed.Fast() != want.fast || speed.Pace() != want.pace || speed.Group() != want.group {
			t.Errorf("%v: fast %v, pace %q, group %q", speed, speed.Fast(), speed.Pace(), speed.Group())
		}
	}
}
