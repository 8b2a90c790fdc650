package scripted

import (
	"errors"
	"fmt"
	"strings"
	"testing"
	"time"
)

// A knight can take a queen; else the queen stays, and nothing is taken in the next move.
const toTake = "position fen 4k3/8/8/3q4/8/2N5/8/4K3 w - - 0 1\n"

const greeting = "id name Scripted 1.0\nid author the tests\noption name Threads type spin default 1 min 1 max 8\noption name hash type spin default 16 min 1 max 64\n"

// found is what a search of 500 nodes says, with two lines or one.
func found(lines int, scores ...string) string {
	var b strings.Builder
	for depth := 1; depth <= 2; depth++ {
		for i, move := range []string{"c3d5", "e1f1"}[:lines] {
			fmt.Fprintf(&b, "info depth %d seldepth 3 multipv %d score %s nodes 500 nps 1 pv %s\n", depth, i+1, scores[i], move)
		}
	}
	return b.String() + "info depth 3 multipv 1 score cp -900 upperbound nodes 500 pv c3d5\n"
}

// Each script by what it says to what it is told, and how it ends.
func TestEachScript(t *testing.T) {
	const two, best, search = "setoption name MultiPV value 2\n", "bestmove c3d5 ponder e7e5\n", toTake + "go nodes 500\n"
	for name, c := range map[string]struct {
		script, told, says, errs string
		code                     int
	}{
		"a greeting":        {Well, "uci\nisready\nnonsense\n", greeting + "option name MultiPV type spin default 1 min 1 max 218\nuciok\nreadyok\n", "", 0},
		"one line":          {Well, search, found(1, "cp 300") + best, "", 0},
		"two lines":         {Well, two + search, found(2, "cp 300", "cp -600") + best, "", 0},
		"it quits":          {Well, "quit\nisready\n", "", "", 0},
		"from Black's side": {Well, strings.Replace(search, " w ", " b ", 1), "", "", 0},
		"mute":              {Mute, "uci\nisready\nquit\n", "", "", 0},
		"dead":              {Dead, "uci\n", "", "a library is missing\n", 3},
		"dies":              {Dies, search + search + "go nodes 500\nisready\n", found(1, "cp 300") + best + found(1, "cp 300") + best + "info depth 1 score cp 0 nodes 1 pv e2e4\n", "", 5},
		"slow":              {Slow, search + "isready\nstop\n", found(1, "cp 300") + "readyok\nbestmove c3d5\n", "", 0},
		"lost":              {Lost, search + "stop\nisready\n", found(1, "cp 300") + "readyok\n", "", 0},
		"wrong":             {Wrong, search, found(1, "cp 300") + "bestmove e2e5\n", "", 0},
		"silent":            {Silent, search, best, "", 0},
		"mates":             {Mates, two + search, found(2, "mate 2", "mate 3") + best, "", 0},
		"single":            {Single, "uci\n", greeting + "uciok\n", "", 0},
		"stubborn":          {Stubborn, "quit\nisready\n", "readyok\n", "", 0},
	} {
		var out, errs strings.Builder
		code := Main(c.script, strings.NewReader(c.told), &out, &errs)
		if name == "from Black's side" { // the queen takes nothing, and its side is 600 ahead
			if want := "multipv 1 score cp 600 nodes 500"; !strings.Contains(out.String(), want) {
				t.Errorf("%s: %q", name, out.String())
			}
			continue
		}
		if out.String() != c.says || errs.String() != c.errs || code != c.code {
			t.Errorf("%s: code %d, errors %q, said\n%s, want\n%s", name, code, errs.String(), out.String(), c.says)
		}
	}
}

// little is a stream that takes so many bytes.
type little struct {
	strings.Builder
	room int
}

func (l *little) Write(b []byte) (int, error) {
	if l.Len()+len(b) > l.room {
		return 0, errors.New("nobody listens any more")
	}
	return l.Builder.Write(b)
}

func TestWithoutEnd(t *testing.T) {
	for script, want := range map[string]string{Babbles: "info string so much to say\n", Drones: "info string so much to say"} {
		out := &little{room: 100 * len(want)}
		if code := Main(script, strings.NewReader("uci\nuci\n"), out, nil); code != 0 || out.String() != strings.Repeat(want, 100) {
			t.Errorf("%s: code %d, %.80q", script, code, out.String())
		}
	}
	var out strings.Builder
	Main(Floods, strings.NewReader("uci\n"), &out, nil)
	if n := strings.Count(out.String(), "\n"); n != 25006 || !strings.HasPrefix(out.String(), "info string bestmove uciok readyok 0\n") {
		t.Errorf("a flood of %d lines, %.80q", n, out.String())
	}
	out.Reset()
	Main(Floods, strings.NewReader(toTake+"go nodes 500\n"), &out, nil)
	if n := strings.Count(out.String(), "\n"); n != 25004 {
		t.Errorf("a search in a flood of %d lines", n)
	}
	out.Reset()
	begun := time.Now()
	if Main(Late, strings.NewReader("isready\n"), &out, nil); time.Since(begun) < 50*time.Millisecond || out.String() != "readyok\n" {
		t.Errorf("late: %q", out.String())
	}
}
