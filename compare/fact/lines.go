package fact

import (
	"reflect"
	"slices"
)

// replayed is a fact that names moves: each line that they make, from the first
// move of the game.
type replayed interface{ lines() [][]string }

// Lines are all lines of moves in a value, each as SAN from the first move of the
// game: what must be played through the rules before it is printed. They are found
// in the types: whatever names moves implements replayed, wherever it stands.
func Lines(v any) [][]string {
	var out [][]string
	collect(reflect.ValueOf(v), &out)
	return out
}

func collect(v reflect.Value, out *[][]string) {
	switch v.Kind() {
	case reflect.Pointer, reflect.Interface:
		if !v.IsNil() {
			collect(v.Elem(), out)
		}
	case reflect.Slice:
		for i := range v.Len() {
			collect(v.Index(i), out)
		}
	case reflect.Struct:
		if f, ok := v.Interface().(replayed); ok {
			*out = append(*out, f.lines()...)
		}
		for i := range v.NumField() {
			collect(v.Field(i), out)
		}
	}
}

// after are the lines that go on from one with each of some moves.
func after(line []string, moves ...string) [][]string {
	var out [][]string
	for _, san := range moves {
		if san != "" {
			out = append(out, slices.Concat(line, []string{san}))
		}
	}
	return out
}

// with is one line that goes on with several moves.
func with(line []string, moves ...string) []string { return slices.Concat(line, moves) }

func (x Exit) lines() [][]string {
	out := [][]string{x.Line}
	if x.Best != nil {
		out = append(out, with(x.Line, x.Best.Moves...))
	}
	return out
}

func (f Parting) lines() [][]string {
	out := [][]string{f.Stem}
	for _, b := range f.Branches {
		line := with(f.Stem, b.Move)
		if b.Back != nil {
			out = append(out, with(with(line, b.Back.Into...), b.Back.Answer))
		}
		if b.Answer != "" {
			line = with(line, append([]string{b.Answer}, b.Then...)...)
		}
		if out = append(out, line); b.Best != nil {
			out = append(out, with(line, b.Best.Moves...))
		}
	}
	return out
}

func (u Unanswered) lines() [][]string {
	out := [][]string{u.Line}
	for _, m := range slices.Concat(u.Others, u.Peers) {
		line := with(u.Line, m.Move)
		for _, next := range m.Then {
			line = with(line, next.Move)
		}
		out = append(out, line)
	}
	for _, b := range u.Best {
		out = append(out, with(u.Line, b.Moves...))
	}
	return out
}

func (b WayBack) lines() [][]string { return [][]string{with(with(b.Line, b.Into...), b.Answer)} }

func (s Surprise) lines() [][]string { return [][]string{s.NoteLine} }

func (o Option) lines() [][]string {
	line := with(o.Line, o.Move)
	return append([][]string{line}, after(line, o.Likeliest)...)
}

func (s Situation) lines() [][]string { return s.First }

func (m Mistake) lines() [][]string { return append([][]string{m.Line}, after(m.Line, m.Answer)...) }

func (t Task) lines() [][]string {
	out := append([][]string{t.Moves}, after(t.Moves, t.Answer)...)
	for _, c := range t.Choices {
		out = append(out, with(t.Moves, c.Move))
	}
	out = append(out, t.Unmet, t.Gap)
	if t.Best != nil {
		out = append(out, with(t.Moves, t.Best.Moves...))
	}
	return out
}

func (u Unpractised) lines() [][]string { return [][]string{u.Line} }

func (d Diagram) lines() [][]string { return [][]string{d.Line} }

func (g GameRow) lines() [][]string {
	return append([][]string{g.Moves}, after(g.Moves[:min(g.LeftPly, len(g.Moves))], g.Answer)...)
}

func (w WayOut) lines() [][]string { return [][]string{w.Line} }

func (c Change) lines() [][]string { return after(c.Line, c.Move, c.Now, c.Former) }

func (h Habit) lines() [][]string { return after(h.Line, h.Move, h.Book) }

func (s Shown) lines() [][]string { return s.Hidden }

func (h Hint) lines() [][]string {
	out := [][]string{h.Line}
	for _, p := range h.Moves {
		out = append(out, with(h.Line, p.Move))
	}
	return out
}

func (t Trap) lines() [][]string {
	out := [][]string{t.Line}
	if t.Best != nil {
		out = append(out, with(t.Line, t.Best.Moves...))
	}
	return append(out, after(t.Line[:t.ThenPly], t.Then)...)
}

func (o Order) lines() [][]string {
	out := after(o.Line, o.Waits)
	if o.Kind == TheirOrder {
		return append(out, with(o.Line, o.Move, o.Pet, o.Other))
	}
	return append(out, with(o.Line, o.Move, o.Pet), with(o.Line, o.Other))
}

func (a Again) lines() [][]string {
	return [][]string{with(a.Line, a.Played.Moves...), with(a.Line, a.Best.Moves...)}
}
