package hindsight

import (
	"fmt"
	"reflect"
	"slices"
	"strings"
	"testing"

	"foreply/fetch/pgn"
	"foreply/profile"
	"foreply/profile/board"
)

// careerOf makes games of Kestrel's, as 'w date timecontrol: moves' or with b for Black.
func careerOf(rows ...string) *profile.Profile {
	var games []*pgn.Game
	for i, row := range rows {
		head, moves, _ := strings.Cut(row, ":")
		f := strings.Fields(head)
		white, black := "Kestrel, Ada", "Plover, Ivo"
		if f[0] == "b" {
			white, black = black, white
		}
		g := &pgn.Game{File: "hand.pgn", Index: i + 1}
		g.SetTags(pgn.Tags{{Name: "White", Value: white}, {Name: "Black", Value: black}, {Name: "Date", Value: f[1]}, {Name: "TimeControl", Value: f[2]}})
		for san := range strings.FieldsSeq(moves) {
			g.Moves = append(g.Moves, pgn.Move{SAN: []byte(san)})
		}
		games = append(games, g)
	}
	return build(games)
}

// mixedCareer is of both colours and of two speeds, with several games of a day.
func mixedCareer(games int) *profile.Profile {
	lines := []string{"e4 e5 Nf3 Nc6 Bb5 a6", "e4 c5 Nf3 d6 d4 cxd4", "d4 d5 c4 e6 Nc3 Nf6", "e4 e5 Bc4 Nf6 d3 Bc5", "b3 e5 Bb2 Nc6 e3 d5"}
	var rows []string
	for i := range games {
		rows = append(rows, fmt.Sprintf("%s 2020.02.%02d %s: %s", []string{"w", "w", "b"}[i%3], 1+i/4, []string{"5400", "60"}[i/2%2], lines[i*i%5]))
	}
	return careerOf(rows...)
}

// Each prediction is what a forecast made for the day and the class of its game says, with the
// peers and the model of the options.
func TestPredictionsAreForecasts(t *testing.T) {
	p := mixedCareer(48)
	peers := profile.NewPeers(func(yield func(*pgn.Game) bool) {
		for _, g := range read(t, career)[:40] {
			if !yield(g) {
				return
			}
		}
	}, p, nil)
	for _, opt := range []Options{{Known: 3}, {Known: 3, Peers: peers, Shares: true}, {Known: 3, Model: handModel(), Last: 5, Every: 4}} {
		n, differ := 0, 0
		whole := map[board.Color]*profile.Forecast{}
		for _, c := range []board.Color{board.White, board.Black} {
			whole[c] = profile.NewForecast(p, c, profile.ForecastOptions{Peers: opt.Peers, Model: opt.Model})
		}
		opt.Each = func(got *Prediction) {
			n++
			forecast := whole[got.Game.Theirs]
			if opt.Last > 0 {
				var kept []int
				for i := range p.Games {
					if g := &p.Games[i]; g.Theirs == got.Game.Theirs && g.Span.Before(got.Game.Span) {
						kept = append(kept, g.Index)
					}
				}
				kept = kept[max(0, len(kept)-opt.Last):]
				of := p.Only(func(g *profile.Game) bool { return slices.Contains(kept, g.Index) })
				forecast = profile.NewForecast(of, got.Game.Theirs, profile.ForecastOptions{Model: opt.Model})
			}
			look := forecast.For(got.Game.Span, got.Game.Class)
			if want := look.Chances(&got.Position); !reflect.DeepEqual(text(&got.Expected), text(&want)) {
				t.Errorf("%+v: game %d, ply %d: %v, want %v", opt, got.Game.Index, got.Ply, text(&got.Expected), text(&want))
			}
			if shares := look.At(&got.Position); opt.Shares && !reflect.DeepEqual(text(&got.Shares), text(&shares)) || !opt.Shares && got.Shares.Moves != nil {
				t.Errorf("game %d, ply %d: shares %v", got.Game.Index, got.Ply, text(&got.Shares))
			}
			if other := forecast.On(got.Game.Span).Chances(&got.Position); other.Unseen != got.Expected.Unseen {
				differ++ // another class would say something else
			}
		}
		run(t, p, opt)
		if n < 10 || differ < 5 && opt.Last == 0 {
			t.Errorf("only %d predictions, %d of them of a class", n, differ)
		}
	}
}

// text is a forecast by what it says, whichever profile its games are of.
func text(e *profile.Expected) []string {
	out := []string{fmt.Sprintf("new %.12f %.9f of %d, %.9f", e.Unseen.P, e.Unseen.Lo, e.Visits, e.Strength)}
	for _, l := range e.Moves {
		last := 0
		if l.Last != nil {
			last = l.Last.Index
		}
		out = append(out, fmt.Sprintf("%s %.12f %.9f %d %d", l.Move.UCI(), l.P, l.Hi, l.N, last))
	}
	return out
}

// Which games are judged: each so many-th of a colour, up to one of it, told before each of
// both colours; a game counts if something of it was forecast.
func TestGamesThatAreJudged(t *testing.T) {
	const line = "e4 e5 Nf3 Nc6 Bb5 a6"
	var rows []string
	for i := range 12 {
		rows = append(rows, fmt.Sprintf("%s 2020.02.%02d -: %s", []string{"b", "b", "w"}[i%3], 1+i, line)) // Black 1 2 4 5 7 8 10 11
	}
	for _, c := range []struct {
		quirk string
		opt   Options
		want  string
		told  int
	}{
		{"all", Options{Known: 1}, "[6 9 12 2 4 5 7 8 10 11]", 12},
		{"each second", Options{Known: 1, Every: 2}, "[6 12 2 5 8 11]", 12},
		{"each third", Options{Known: 1, Every: 3}, "[9 4 8]", 12},
		{"three of each colour", Options{Known: 1, UpTo: 3}, "[6 9 2 4]", 6},
	} {
		var got []int
		var told []int
		c.opt.Each = func(p *Prediction) {
			if len(got) == 0 || got[len(got)-1] != p.Game.Index {
				got = append(got, p.Game.Index)
			}
		}
		c.opt.Progress = func(done, of int) {
			if told = append(told, done); of != 12 {
				t.Errorf("%s: of %d games", c.quirk, of)
			}
		}
		r := run(t, careerOf(rows...), c.opt)
		if fmt.Sprint(got) != c.want || len(told) != c.told || told[len(told)-1] != c.told-1 || r.Pooled.Games != len(got) {
			t.Errorf("%s: %v, told %v; want %s", c.quirk, got, told, c.want)
		}
	}
	// A game with Black in which nothing known came is none.
	r := run(t, careerOf("b 2020.02.01 -: "+line, "b 2020.02.02 -: d4 d5 c4 e6 Nc3 Nf6", "b 2020.02.03 -: "+line), Options{Known: 1})
	if f := r.Black; f.Games != 1 || f.Predictions != 3 || f.fit != 3 || r.White.fit != 0 {
		t.Errorf("%+v", f)
	}
}

// The last games known at one are of its colour and certainly earlier.
func TestLastBefore(t *testing.T) {
	p := careerOf("w 2020.02.01 -: e4 e5", "w 2020.02.02 -: e4 e5", "b 2020.02.03 -: e4 e5", "w 2020.02.04 -: e4 e5", "b 2020.02.05 -: e4 e5", "w 2020.02.06 -: e4 e5", "w 2020.02.06 -: e4 e5")
	for last, want := range map[int]string{1: "[4]", 2: "[2 4]", 3: "[1 2 4]", 9: "[1 2 4]"} {
		var got []int
		x := &test{profile: p, theirs: board.White, opt: Options{Last: last}}
		for _, g := range x.lastBefore(6).Games {
			got = append(got, g.Index)
		}
		if fmt.Sprint(got) != want {
			t.Errorf("the last %d: %v, want %s", last, got, want)
		}
	}
}

// Intervals are those of forecasts made for the day and class of the first of the next games,
// one by one, and their random numbers differ.
func TestIntervalsAreForecasts(t *testing.T) {
	p := mixedCareer(96)
	r := run(t, p, Options{Known: 3})
	for _, c := range []board.Color{board.White, board.Black} {
		x := &test{ctx: t.Context(), profile: p, theirs: c}
		forecast := x.newForecast(p)
		var want []Interval
		for _, one := range x.trials() {
			g := x.gameOf(&one)
			if look := forecast.For(g.Span, g.Class); look.Known() >= 3 {
				one.judge(look)
			}
			want = append(want, one.intervals...)
		}
		got := r.tallies[c].intervals
		if len(got) != len(want) || len(got) < 4 {
			t.Fatalf("%v: %d intervals, want %d", c, len(got), len(want))
		}
		for i := range got {
			if i > 0 && got[i].U == got[i-1].U || got[i].U < 0 || got[i].U >= 1 {
				t.Errorf("interval %d: u = %v", i, got[i].U)
			}
			if want[i].U = got[i].U; got[i] != want[i] {
				t.Errorf("%v, interval %d: %+v, want %+v", c, i, got[i], want[i])
			}
		}
	}
}

// Something new is what was never played before the forecast, even if its share was too small
// for an interval of its own: of the ten games after the 90th one has 1.d4, as the first had.
func TestRareMovesAreNotNew(t *testing.T) {
	var lines []string
	for i := range 100 {
		lines = append(lines, map[bool]string{false: "e4 e5 Nf3 Nc6 Bb5 a6", true: "d4 d5 c4 e6 Nc3 Nf6"}[i == 0 || i == 93])
	}
	start := board.Start()
	games := played(lines...)
	for i, g := range games {
		g.SetTags(append(slices.Clone(g.Tags()), pgn.Tag{Name: "Date", Value: (pgn.Date{Year: 2020, Month: 1, Day: 1}.Span().First + pgn.Day(i)).Date().Tag()}))
	}
	p := build(games)
	x := &test{ctx: t.Context(), profile: p, theirs: board.White}
	forecast := x.newForecast(p)
	for _, one := range x.trials() {
		g := x.gameOf(&one)
		if one.pos.Key() != start.Key() || g.Index != 91 {
			continue
		}
		one.judge(forecast.For(g.Span, g.Class))
		if n := len(one.intervals); n == 0 || n > 2 || one.intervals[0].Hits != 9 || n == 2 && (one.intervals[1].Hits != 0 || !one.intervals[1].New) {
			t.Errorf("%+v", one.intervals)
		}
		return
	}
	t.Error("the 90th visit isn't judged")
}

// How the test was made is told with its own numbers.
func TestMethodIsTold(t *testing.T) {
	r := run(t, mixedCareer(96), Options{Known: 7})
	want := "Tested are their first 12 moves at most, up to the first that was new at its position, in games of which 7 of the same colour were certainly earlier. " +
		"Each forecast knows these earlier games alone. Games without a date or under 6 half-moves are left out."
	if got := r.Method(); got != want {
		t.Errorf("%s, want\n%s", got, want)
	}
	if got := run(t, mixedCareer(96), Options{UpTo: 1}); got.known != 30 {
		t.Errorf("%d games must be known where nothing else is asked", got.known)
	}
}
