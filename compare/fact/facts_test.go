package fact

import (
	"encoding/json"
	"reflect"
	"slices"
	"strings"
	"testing"

	"foreply/fetch/pgn"
)

// A share holds its probability between the ends of its interval, and each in tenths; it is
// hardly known from two games, or where the interval spans more than half of the scale.
func TestNewShare(t *testing.T) {
	for _, c := range []struct {
		chance   Chance
		seen, of int
		want     Share
	}{
		{Chance{0.44, 0.26, 0.68}, 9, 20, Share{P: 0.44, Lo: 0.26, Hi: 0.68, Seen: 9, Of: 20, Ten: 4, TenLo: 3, TenHi: 7}},
		{Chance{0.95, 0.5, 0.9}, 3, 3, Share{P: 0.95, Lo: 0.5, Hi: 0.95, Seen: 3, Of: 3, Ten: 10, TenLo: 5, TenHi: 10}},
		{Chance{0.05, 0.1, 0.3}, 1, 2, Share{P: 0.05, Lo: 0.05, Hi: 0.3, Seen: 1, Of: 2, Ten: 1, TenLo: 1, TenHi: 3, Hardly: true}},
		{Chance{0.5, 0.25, 0.75}, 5, 9, Share{P: 0.5, Lo: 0.25, Hi: 0.75, Seen: 5, Of: 9, Ten: 5, TenLo: 3, TenHi: 8}},
		{Chance{0.5, 0.24, 0.75}, 5, 9, Share{P: 0.5, Lo: 0.24, Hi: 0.75, Seen: 5, Of: 9, Ten: 5, TenLo: 2, TenHi: 8, Hardly: true}},
	} {
		if got := NewShare(c.chance, c.seen, c.of); got != c.want {
			t.Errorf("got %+v, want %+v", got, c.want)
		}
	}
	for _, c := range []struct {
		share Share
		want  bool
	}{{Share{Of: 9, Ten: 1}, false}, {Share{Of: 9, Hardly: true}, true}, {Share{Of: 2}, true}, {Share{Of: 3}, false}, {Share{Hardly: true, Ten: 4}, false}} {
		if got := c.share.Counted(); got != c.want {
			t.Errorf("%+v: told by its count %v", c.share, got)
		}
	}
	for _, c := range []struct {
		p        float64
		seen, of int
		want     int
	}{{0.9, 1, 2, 0}, {0.9, 1, 3, 1}, {0.38, 1, 4, 1}, {0.375, 1, 4, 0}, {0.59375, 1, 2, 0}, {0.75, 3, 6, 1}, {0.74, 3, 6, 0}, {0.1, 3, 8, -1}} {
		if got := NewOften(Chance{P: c.p}, c.seen, c.of).Far(); got != c.want {
			t.Errorf("%v beside %d of %d: %d, want %d", c.p, c.seen, c.of, got, c.want)
		}
	}
}

// How often a line, a gap and a board come: their reach with its interval, and the games that
// came there of those at the first choice.
func TestOften(t *testing.T) {
	want := Often{Chance: Chance{0.44, 0.26, 0.68}, Games: 7, Of: 20, TenLo: 3, TenHi: 7}
	for _, anyOrder := range []bool{false, true} {
		want.AnyOrder = anyOrder
		x := Exit{Reach: 0.44, Lo: 0.26, Hi: 0.68, Came: 7, Games: 6, Of: 20, AnyOrder: anyOrder, YourMove: !anyOrder}
		u := Unanswered{Reach: 0.44, Lo: 0.26, Hi: 0.68, Games: 7, Of: 20, AnyOrder: anyOrder, Apart: !anyOrder}
		d := Diagram{Reach: 0.44, Lo: 0.26, Hi: 0.68, Came: 7, Games: 6, Of: 20, AnyOrder: anyOrder, Counted: !anyOrder}
		for _, got := range []Often{x.Often(), u.Often(), d.Often()} {
			if got != want {
				t.Errorf("got %+v, want %+v", got, want)
			}
		}
	}
	if got := NewOften(Chance{0.5, 0.1, 0.9}, 3, 4); got != (Often{Chance: Chance{0.5, 0.1, 0.9}, Games: 3, Of: 4, TenLo: 1, TenHi: 9, Hardly: true}) {
		t.Errorf("%+v", got)
	}
}

// The JSON of a share has its tenths unless it is hardly known.
func TestSharesInJSON(t *testing.T) {
	wide := Share{P: 0.5, Lo: 0.1, Hi: 0.9, Seen: 1, Of: 2, Ten: 5, TenLo: 1, TenHi: 9, Hardly: true}
	for want, v := range map[string]any{
		`{"p":0.44,"lo":0.26,"hi":0.68,"seen":9,"of":20,"ten":4,"ten_lo":3,"ten_hi":7}`: NewShare(Chance{0.44, 0.26, 0.68}, 9, 20),
		`{"p":0.44,"lo":0.26,"hi":0.68,"games":9,"of":20,"ten_lo":3,"ten_hi":7}`:        NewOften(Chance{0.44, 0.26, 0.68}, 9, 20),
		`{"p":0.5,"lo":0.1,"hi":0.9,"seen":1,"of":2,"hardly_known":true}`:               wide,
		`{"p":0.5,"lo":0.1,"hi":0.9,"games":1,"of":2,"hardly_known":true}`:              NewOften(Chance{0.5, 0.1, 0.9}, 1, 2),
	} {
		text, err := json.Marshal(v)
		if err != nil {
			t.Fatal(err)
		}
		var got, wanted map[string]any
		if json.Unmarshal(text, &got) != nil || json.Unmarshal([]byte(want), &wanted) != nil || !reflect.DeepEqual(got, wanted) {
			t.Errorf("%s, want %s", text, want)
		}
	}
}

// A score is theirs; yours is turned round.
func TestScore(t *testing.T) {
	s := Score{Wins: 7, Draws: 3, Losses: 2, Unknown: 1}
	if got := s.Yours(); got != (Score{Wins: 2, Draws: 3, Losses: 7, Unknown: 1}) {
		t.Errorf("%+v", got)
	}
	if got := s.Games(); got != 13 {
		t.Errorf("%d games", got)
	}
	rep := &Report{Basis: Basis{Games: 9, Slow: 5, Last: pgn.Date{Year: 2026}, First: pgn.Date{Year: 2020}}}
	var row FieldRow
	if row.Fill(rep); row.Games != 9 || row.Last.Year != 2026 || row.Report != rep {
		t.Errorf("%+v", row)
	}
	ch := Change{Move: "c5", Now: "e5"}
	if ch.Told() != "c5" {
		t.Errorf("one move: %s", ch.Told())
	}
	if ch.Habit = true; ch.Told() != "e5" {
		t.Errorf("a habit: %s", ch.Told())
	}
}

func TestNeed(t *testing.T) {
	for text, want := range map[string]Need{"": AnyResult, "any": AnyResult, "win": NeedWin, "draw": NeedDraw} {
		need, ok := ParseNeed(text)
		if need != want || !ok && text != "" || text != "" && need.String() != text {
			t.Errorf("%q: %v, %v", text, need, ok)
		}
	}
	if _, ok := ParseNeed("loss"); ok {
		t.Error("a loss is needed")
	}
}

// Shares are those of players like them where no game of theirs is known, wherever they
// stand; games are counted where they are few, and not none.
func TestTellPeers(t *testing.T) {
	for _, only := range []bool{true, false} {
		partings := func() []Parting { return []Parting{{Branches: make([]Branch, 1)}, {Branches: make([]Branch, 2)}} }
		share := &Share{OfPeers: !only}
		s := Side{PeersOnly: only, NewestAlong: !only, Few: true, Partings: partings(), Further: partings(), Unanswered: make([]Unanswered, 2), Options: make([]Option, 2),
			Tonight: []Task{{}, {Choices: []Choice{{}, {Share: share}}}}}
		s.TellPeers()
		for name, got := range map[string]bool{
			"partings": s.Partings[1].Branches[1].Share.OfPeers, "further": s.Further[1].Branches[1].Share.OfPeers, "gaps": s.Unanswered[1].Share.OfPeers,
			"options": s.Options[1].Known.OfPeers, "tonight": share.OfPeers, "counted": !s.Counted(),
		} {
			if got != only {
				t.Errorf("%s: %v, want %v", name, got, only)
			}
		}
	}
	if (&Side{}).Counted() {
		t.Error("many games are counted")
	}
}

// Each fact's lines from the first move, as they hang together.
func TestLinesOfEachFact(t *testing.T) {
	f := strings.Fields
	best := &Evaluated{Moves: f("Nc3 d5")}
	line := f("e4 c5")
	for _, c := range []struct {
		fact any
		want string
	}{
		{Exit{Line: line, Best: best}, "e4 c5; e4 c5 Nc3 d5"}, {Exit{Line: line}, "e4 c5"},
		{Parting{Stem: f("e4"), Branches: []Branch{{Move: "c5"}, {Move: "e6", Answer: "d4", Then: f("d5"), Back: &Back{Into: f("c4 d5"), Answer: "Nc3"}}, {Move: "e5", Answer: "Nf3", Best: &Evaluated{Moves: f("Nc6")}}}},
			"e4; e4 c5; e4 e6 c4 d5 Nc3; e4 e6 d4 d5; e4 e5 Nf3; e4 e5 Nf3 Nc6"},
		{Unanswered{Line: line, Others: []Met{{Move: "Nf3", Then: []GoesOn{{Move: "d6"}, {Move: "d4"}}}}, Peers: []Met{{Move: "c3"}}, Best: []Evaluated{*best, {Moves: f("d4")}}}, "e4 c5; e4 c5 Nf3 d6 d4; e4 c5 c3; e4 c5 Nc3 d5; e4 c5 d4"},
		{WayBack{Line: f("d4 e6"), Back: Back{Into: f("c4 d5"), Answer: "Nc3"}}, "d4 e6 c4 d5 Nc3"},
		{Surprise{NoteLine: line}, "e4 c5"}, {Option{Line: line, Move: "Nf3", Likeliest: "d6"}, "e4 c5 Nf3; e4 c5 Nf3 d6"}, {Option{Line: line, Move: "Nf3"}, "e4 c5 Nf3"},
		{Situation{First: [][]string{line, f("d4")}}, "e4 c5; d4"}, {Mistake{Line: line, Answer: "Nf3"}, "e4 c5; e4 c5 Nf3"}, {Mistake{Line: line}, "e4 c5"},
		{Task{Moves: line, Answer: "Nf3", Choices: []Choice{{Move: "c3"}}, Unmet: f("d4"), Gap: f("c4"), Best: best}, "e4 c5; e4 c5 Nf3; e4 c5 c3; d4; c4; e4 c5 Nc3 d5"}, {Task{Moves: line}, "e4 c5; ; "},
		{Unpractised{Line: line}, "e4 c5"}, {Diagram{Line: line}, "e4 c5"}, {WayOut{Line: line}, "e4 c5"}, {ModelGames{Line: line}, "e4 c5"},
		{GameRow{Moves: f("e4 c5 d4"), LeftPly: 2, Answer: "Nf3", Game: 1}, "e4 c5 d4; e4 c5 Nf3"}, {GameRow{Moves: line, LeftPly: 5, Answer: "Nf3"}, "e4 c5; e4 c5 Nf3"},
		{Change{Line: line, Move: "Nf3", Now: "c3", Former: "d4"}, "e4 c5 Nf3; e4 c5 c3; e4 c5 d4"}, {Habit{Line: line, Move: "Nf3", Book: "c3"}, "e4 c5 Nf3; e4 c5 c3"},
		{Shown{Hidden: [][]string{line}}, "e4 c5"}, {Hint{Line: line, Moves: []Played{{Move: "Nf3"}, {Move: "c3"}}}, "e4 c5; e4 c5 Nf3; e4 c5 c3"},
		{Trap{Line: f("e4 c5 d4"), Then: "Nf3", ThenPly: 2, Best: &Evaluated{Moves: f("cxd4")}}, "e4 c5 d4; e4 c5 d4 cxd4; e4 c5 Nf3"}, {Trap{Line: line}, "e4 c5"},
		{Order{Kind: YourOrder, Line: line, Move: "Nf3", Pet: "d6", Other: "c3"}, "e4 c5 Nf3 d6; e4 c5 c3"},
		{Order{Kind: TheirOrder, Line: f("e4"), Move: "g6", Pet: "d4", Other: "Bg7", Waits: "e5"}, "e4 e5; e4 g6 d4 Bg7"},
		{Again{Line: line, Played: Evaluated{Moves: f("d4")}, Best: *best}, "e4 c5 d4; e4 c5 Nc3 d5"},
	} {
		var got []string
		for _, l := range Lines(c.fact) {
			got = append(got, strings.Join(l, " "))
		}
		if want := strings.Split(c.want, "; "); !slices.Equal(got, want) {
			t.Errorf("%T: %q, want %q", c.fact, got, want)
		}
	}
	if got := Lines((*Exit)(nil)); got != nil {
		t.Errorf("%q", got)
	}
}
