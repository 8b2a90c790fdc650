package compare

import (
	"reflect"
	"slices"
	"strings"
	"testing"

	"foreply/compare/book"
	"foreply/compare/fact"
	"foreply/compare/words"
	"foreply/profile/board"
)

// scoresIn are all scores of a Report, by the field they stand in.
func scoresIn(v reflect.Value, at string, found map[string][]fact.Score) {
	switch v.Kind() {
	case reflect.Pointer:
		if !v.IsNil() {
			scoresIn(v.Elem(), at, found)
		}
	case reflect.Slice:
		for i := range v.Len() {
			scoresIn(v.Index(i), at, found)
		}
	case reflect.Struct:
		if s, ok := v.Interface().(fact.Score); ok {
			found[at] = append(found[at], s)
			return
		}
		for i := range v.NumField() {
			if f := v.Type().Field(i); f.IsExported() {
				scoresIn(v.Field(i), v.Type().Name()+"."+f.Name, found)
			}
		}
	}
}

// In every game the opponent, rated as all others, has Black and loses. Each score of the
// Report is theirs, nothing but losses, and says all points for the user's side, who was
// expected to make half of them; so does each score that is told.
func TestWhoseScore(t *testing.T) {
	p := gamesOf(board.Black, slices.Concat(
		repeated(12, "1-0 5400 2000 Elm: d4 Nf6 c4 e5 dxe5 Ng4"), repeated(6, "1-0 5400 2000 Elm: d4 Nf6 c4 e6 Nf3 d5"),
		repeated(12, "1-0 5400 2000 Elm: d4 Nf6 Nf3 e6 c4 d5"), repeated(20, "1-0 5400 2000 Elm: d4 d5 c4 c6 Nc3 Nf6"),
		repeated(2, "1-0 5400 2000 Fir: d4 d5 c4 c6 Nc3 Nf6"))...)
	b := bookOf(t, board.White, "1. d4 Nf6 (1... d5 2. c4 e6 3. Nc3) 2. c4 e6 (2... g6 3. Nf3 Bg7 4. Nc3) (2... e5 3. dxe5) 3. Nf3 d5 4. Nc3 *", "1. e4 e5 2. Nf3 *")
	r := Make(Input{Profile: p, Books: []*book.Book{b}}, Options{When: today, Me: func(name string) bool { return name == "Fir" }})
	found := map[string][]fact.Score{}
	scoresIn(reflect.ValueOf(r), "", found)
	told := 0
	for field, list := range found {
		for _, s := range list {
			if n := s.Games(); n > 0 {
				told++
				if s.Losses != n || s.Yours().Wins != n {
					t.Errorf("%s is not the opponent's: %+v", field, s)
				}
			}
		}
	}
	for _, field := range []string{"Unanswered.Score", "Met.Score", "GoesOn.Score", "Order.Score", "About.Score", "Side.Met"} {
		if len(found[field]) == 0 {
			t.Errorf("the report has no %s", field)
		}
	}
	s := &r.Sides[0]
	u := &s.Unanswered[0]
	if strings.Join(u.Line, " ") != "d4 d5 c4 c6" || u.Others[0].Games != 22 || u.Others[0].Expected != 11 {
		t.Fatalf("%+v", u)
	}
	if len(s.Options) != 2 {
		t.Errorf("%+v", s.Options)
	}
	for _, o := range s.Options {
		if o.Score.P <= 0.5 {
			t.Errorf("%s: the user is to expect %.2f", o.Move, o.Score.P)
		}
	}
	var said []words.Sentence
	for i := range s.Unanswered {
		said = append(said, words.Gap(&s.Unanswered[i], false, s.MyColor), words.Onward(&s.Unanswered[i].Others[0], len(s.Unanswered[i].Line)))
	}
	for i := range r.About {
		said = append(said, words.About(&r.About[i]))
	}
	for _, sentence := range said {
		for _, span := range sentence.Spans() {
			if span.Kind == words.Score && strings.HasPrefix(span.Text, "0") {
				t.Errorf("%q is told in %q", span.Text, sentence)
			}
		}
	}
	if told < 8 {
		t.Errorf("%d scores", told)
	}
}
