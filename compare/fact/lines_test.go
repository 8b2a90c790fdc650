package fact

import (
	"fmt"
	"reflect"
	"slices"
	"strings"
	"testing"
)

// noMoves are the texts of the Report that name no move: all others must be
// replayed. A new field with moves that Lines does not know fails the test.
var noMoves = []string{
	"PlayedGame.Event", "PlayedGame.Result", "PlayedGame.Round", "PlayedGame.Site", "Situation.Aim",
	"Again.File", "Change.SameIn", "Change.Since", "Change.Speed", "Diagram.Arrow", "Diagram.EPD", "Diagram.Origin",
	"Diagram.Why", "Diagram.View", "Engine.Name", "Exit.ECO", "Exit.EPD", "Exit.File", "Exit.Kind", "Exit.Last", "Exit.Name", "Exit.Note",
	"Fact.Text", "Parting.ECO", "Parting.Name", "Branch.EndsWith", "Branch.Last", "Branch.Note", "Branch.State",
	"GameRow.Black", "GameRow.Class", "GameRow.Date", "GameRow.ECO", "GameRow.File", "GameRow.LeftBy", "GameRow.Opening", "GameRow.Result",
	"GameRow.Score", "GameRow.Theirs", "GameRow.White", "Habit.Last", "Hint.Color", "Mistake.File", "Mistake.Last", "Mistake.Note",
	"Option.Character", "Option.Reasons", "Order.Kind", "Ref.Class", "Ref.Date", "Ref.File", "Surprise.Note",
	"Task.File", "Task.Kind", "Task.Lead", "Task.Aim", "Task.Color", "Task.Name", "Task.Note", "Trap.Kind", "Trap.Last", "Trap.Speeds", "Trap.File", "Trap.Where", "Unpractised.File", "Unanswered.File",
	"Back.File", "Unanswered.EPD", "Unanswered.Last", "Unanswered.Name", "Unanswered.Note", "WayOut.By", "WayOut.Last", "Side.Last", "Side.MyColor",
	"Met.EPD", "PlayedGame.Date", "PlayedGame.Rival", "PlayedGame.Yours", "PlayedGame.Speed", "PlayedGame.ECO", "PlayedGame.Opening", "PlayedGame.EPD", "PlayedGame.LeftBy",
	"PlayedGame.File", "Side.Aim", "Situation.Aim", "BookFacts.Files", "BookFacts.File", "Structure.Open",
	"SideFacts.Backward", "SideFacts.Doubled", "SideFacts.HalfOpen", "SideFacts.Isolated", "SideFacts.King", "SideFacts.Passed",
	"Unanswered.SetUp", "Surprise.SetUp", // moves that come when they may
}

// filler gives every text its own value, lists two members, and remembers where
// it put which.
type filler struct {
	n     int
	where map[string]string
}

func (f *filler) fill(v reflect.Value, name string) {
	switch v.Kind() {
	case reflect.String:
		f.n++
		text := fmt.Sprintf("t%d", f.n)
		v.SetString(text)
		f.where[text] = name
	case reflect.Pointer:
		v.Set(reflect.New(v.Type().Elem()))
		f.fill(v.Elem(), name)
	case reflect.Slice:
		v.Set(reflect.MakeSlice(v.Type(), 2, 2))
		for i := range v.Len() {
			f.fill(v.Index(i), name)
		}
	case reflect.Struct:
		for i := range v.NumField() {
			f.fill(v.Field(i), v.Type().Name()+"."+v.Type().Field(i).Name)
		}
	}
}

// Whatever names a move stands in a line that is replayed: orders, ways back,
// meetings and what an engine said as well as the lines to expect.
func TestEveryMoveIsReplayed(t *testing.T) {
	f := filler{where: map[string]string{}}
	r := Report{Basis: Basis{Meetings: make([]GameRow, 1)}, Sides: make([]Side, 2)}
	for i := range r.Sides {
		f.fill(reflect.ValueOf(&r.Sides[i]).Elem(), "Side")
		r.Sides[i].Orders[0].Kind, r.Sides[i].Orders[1].Kind = YourOrder, TheirOrder
	}
	f.fill(reflect.ValueOf(&r.Basis.Meetings[0]).Elem(), "GameRow")
	found := map[string]bool{}
	for _, line := range Lines(&r) {
		for _, san := range line {
			found[san] = true
		}
	}
	var missing []string
	for text, name := range f.where {
		if !found[text] && !slices.Contains(noMoves, name) && !slices.Contains(missing, name) {
			missing = append(missing, name)
		}
	}
	slices.Sort(missing)
	if len(missing) > 0 {
		t.Errorf("not replayed: %s", strings.Join(missing, ", "))
	}
}

// What hangs on a line is replayed behind it, not from the first move.
func TestLinesHangTogether(t *testing.T) {
	s := Side{
		Unanswered: []Unanswered{{Line: []string{"d4", "e6"}, Others: []Met{{Move: "e4"}}}},
		WaysBack:   []WayBack{{Line: []string{"d4", "e6"}, Back: Back{Into: []string{"c4", "d5"}, Answer: "Nc3"}}},
		Orders:     []Order{{Kind: TheirOrder, Line: []string{"d4"}, Move: "g6", Pet: "c4", Other: "Nf6"}},
		Traps:      []Trap{{Kind: TheirSlip, Line: []string{"e4", "g5"}, Then: "e5", ThenPly: 1}},
	}
	var got []string
	for _, line := range Lines(&s) {
		got = append(got, strings.Join(line, " "))
	}
	want := []string{"d4 e6", "d4 e6 c4 d5 Nc3", "d4 e6 e4", "d4 g6 c4 Nf6", "e4 e5", "e4 g5"}
	slices.Sort(got)
	if !slices.Equal(slices.Compact(got), append([]string{""}, want...)) && !slices.Equal(slices.Compact(got), want) {
		t.Errorf("%q, want %q", got, want)
	}
}
