package profile

import (
	"fmt"
	"iter"
	"maps"
	"math/rand/v2"
	"slices"
	"strings"
	"sync"
	"testing"

	"foreply/fetch/pgn"
	"foreply/profile/board"
	"foreply/profile/peerbook"
)

// peerText is all that can be asked of peers: their account, and how often each
// move is known on each of many days at each position of some lines.
func peerText(p *Peers, days []pgn.Day, lines []string) string {
	var b strings.Builder
	fmt.Fprintln(&b, p.Games, p.Own, p.Undated, p.Twice, p.Unfit, p.Span)
	for _, day := range days {
		fmt.Fprintln(&b, day, p.Before(pgn.OneDay(day)))
		for _, line := range lines {
			pos := board.Start()
			for san := range strings.FieldsSeq(line) {
				known := map[board.Move]float64{}
				p.count(pos.Key(), day, func(m board.Move, n float64) { known[m] += n })
				for _, m := range slices.Sorted(maps.Keys(known)) {
					fmt.Fprint(&b, " ", m.UCI(), known[m])
				}
				m, err := pos.Resolve([]byte(san))
				if err != nil {
					panic(err)
				}
				pos.Play(m)
			}
		}
	}
	return b.String()
}

// A game that stands several times, under other names and dates, counts once and
// from the earliest of its days; who counts what, and in which order, changes
// nothing.
func TestPeersByManyWorkers(t *testing.T) {
	lines := []string{
		"e4 e5 Nf3 Nc6 Bb5 a6 Ba4 Nf6 O-O Be7 Re1 b5 Bb3 d6 c3 O-O h3 Na5 Bc2 c5 d4 Qc7",
		"d4 Nf6 c4 e6 Nc3 Bb4 e3 O-O Bd3 d5 Nf3 c5 O-O Nc6 a3 Bxc3 bxc3 dxc4 Bxc4 Qc7 Bd3 e5",
		"e4 c5 Nf3 d6 d4 cxd4 Nxd4 Nf6 Nc3 a6",
		"e4 c5 Nf3 d6 Bb5 Bd7",
	}
	rnd := rand.New(rand.NewPCG(5, 8))
	var rows []string
	for range 400 {
		line := strings.Fields(lines[rnd.IntN(len(lines))])
		line = line[:min(len(line), 4+rnd.IntN(30))]
		rows = append(rows, fmt.Sprintf("20%02d.%02d.01 1-0 -: %s", 10+rnd.IntN(5), 1+rnd.IntN(12), strings.Join(line, " ")))
	}
	rows = append(rows, "???? 1-0 -: e4 e5 Nf3 Nc6 Bb5 a6", "2012.01.01 1-0 -: e4 e5 -- Nc6 Bb5 a6 O-O")
	p := builtFrom("2011.11.11 1-0 -: d4 Nf6 c4 e6 Nc3 Bb4 e3 O-O Bd3 d5 Nf3 c5")
	var days []pgn.Day
	for year := 2009; year < 2016; year++ {
		for month := 1; month < 13; month += 2 {
			days = append(days, pgn.Date{Year: year, Month: month, Day: 1}.Span().First, pgn.Date{Year: year, Month: month, Day: 2}.Span().First)
		}
	}
	own := func(g *pgn.Game) (white, black bool) { return g.Index%50 == 7, false }
	want := peerText(NewPeers(gamesOf(rows...), p, own), days, lines)
	for _, workers := range []int{1, 2, 8} {
		var all sync.WaitGroup
		c := TakePeers(PeerOptions{Options: peerbook.Options{Memory: 1}}, workers)
		defer c.Close()
		games := slices.Collect(gamesOf(rows...))
		rnd.Shuffle(len(games), func(i, j int) { games[i], games[j] = games[j], games[i] })
		for part := range workers {
			add := c.Worker(own)
			all.Go(func() {
				for i := part; i < len(games); i += workers {
					add(games[i])
				}
			})
		}
		all.Wait()
		if got := peerText(c.inMemory(p), days, lines); got != want {
			t.Errorf("%d workers:\n%s\nwant\n%s", workers, got, want)
		}
	}
}

// paired are games of White, rated 2050, and Black, rated 1550, with these moves.
func paired(n int, moves string) iter.Seq[*pgn.Game] {
	return func(yield func(*pgn.Game) bool) {
		for g := range gamesOf(slices.Repeat([]string{"2020.01.01 1/2-1/2 5400: " + moves}, n)...) {
			g.SetTags(append(g.Tags(), pgn.Tag{Name: "WhiteElo", Value: "2050"}, pgn.Tag{Name: "BlackElo", Value: "1550"}))
			if !yield(g) {
				return
			}
		}
	}
}

// Twenty moves each: White castles long, Black short, and the queens stay.
const longAndShort = "d4 d5 Nc3 Nf6 Bf4 e6 Qd2 Be7 O-O-O O-O f3 a6 e3 b6 g3 c6 Bd3 g6 h3 h6 a3 Kg7 b3 Kg8 Kb2 Kg7 Kb1 Kg8 Kb2 Kg7 Kb1 Kg8 " +
	"Kb2 Kg7 Kb1 Kg8 Kb2 Kg7 Kb1 Kg8"

// The habits of peers are those of the players who are like the opponent, whichever colour
// they had; the opponent's own games are none of them.
func TestHabitsOfPeers(t *testing.T) {
	none := builtFrom()
	for _, c := range []struct {
		quirk string
		like  Like
		k, n  int // castled long
	}{
		{"both players", Like{}, 1, 2}, {"White's rating", Like{Lo: 2000, Hi: 2099}, 1, 1}, {"Black's rating", Like{Lo: 1500, Hi: 1599}, 0, 1}, {"nobody's", Like{Lo: 1700, Hi: 1799}, 0, 0},
	} {
		games := func(yield func(*pgn.Game) bool) { // two of a kind
			paired(1, longAndShort)(yield)
			paired(1, strings.Replace(longAndShort, "f3 a6", "f3 a5", 1))(yield)
		}
		if h := NewPeers(games, none, nil).Of(c.like).Habits[LongCastling]; h.K != 2*c.k || h.N != 2*c.n {
			t.Errorf("%s: %d of %d, want %d of %d", c.quirk, h.K, h.N, c.k, c.n)
		}
	}
	own := NewPeers(paired(1, longAndShort), none, func(*pgn.Game) (white, black bool) { return true, false })
	if h := own.Habits[LongCastling]; own.Games != 0 || own.Own != 1 || h.K != 0 || h.N != 0 {
		t.Errorf("%d games, %d own, castled long in %d of %d", own.Games, own.Own, h.K, h.N)
	}
}

// Peers are chosen as near in rating as ten thousand games allow, by whole bands, and with
// the results of their games.
func TestNearestPeers(t *testing.T) {
	peers := NewPeers(paired(EnoughPeers, "e4 e5 Nf3 Nc6 Bb5 a6"), builtFrom(), nil)
	for _, c := range []struct {
		quirk  string
		rating int
		day    string
		want   Like
	}{
		{"their own band", 2010, "2020.01.02", Like{Lo: 1900, Hi: 2199, Speed: "slow"}},
		{"the band at the edge", 1940, "2020.01.02", Like{Lo: 1800, Hi: 2099, Speed: "slow"}},
		{"just out of reach: twice as far", 1890, "2020.01.02", Like{Lo: 1600, Hi: 2099, Speed: "slow"}},
		{"no rating", 0, "2020.01.02", Like{Speed: "slow"}},
		{"no rating, too early", 0, "2020.01.01", Like{}},
		{"too early: all there are", 2010, "2020.01.01", Like{}},
	} {
		if got := peers.Near(c.rating, Classical, on(c.day)).Like; got != c.want {
			t.Errorf("%s: %+v, want %+v", c.quirk, got, c.want)
		}
	}
	for class, want := range map[Class]Like{UnknownClass: {Lo: 1900, Hi: 2199}, Blitz: {Lo: 1900, Hi: 2199}} {
		if got := peers.Near(2010, class, on("2020.01.02")).Like; got != want {
			t.Errorf("for a game of class %v: %+v, want of any speed", class, got)
		}
	}
	start := board.Start()
	if got := peers.Record(start.Key(), board.White, on("2020.01.02")); len(got) != 1 || got[0].Count != (Count{Games: EnoughPeers, Draws: EnoughPeers}) {
		t.Errorf("%+v", got)
	}
}

// What a filter lets in: both ratings within its ends, a rating at all where it has an upper
// one, a speed of those named, and only games that are certainly not older.
func TestPeerFilter(t *testing.T) {
	year, day := pgn.Date{Year: 2025}.Span(), pgn.Date{Year: 2025, Month: 6, Day: 1}.Span()
	blitz := func(white, black int) *peerbook.Game {
		return &peerbook.Game{Ratings: [2]int{white, black}, Class: uint8(Blitz)}
	}
	for _, c := range []struct {
		name   string
		filter PeerFilter
		game   *peerbook.Game
		span   Span
		want   bool
	}{
		{"anything", PeerFilter{}, blitz(0, 0), Span{}, true},
		{"at the ends", PeerFilter{MinRating: 1600, MaxRating: 1800}, blitz(1600, 1800), day, true},
		{"one too strong", PeerFilter{MaxRating: 1800}, blitz(1700, 1801), day, false},
		{"one too weak", PeerFilter{MinRating: 1600}, blitz(1599, 1700), day, false},
		{"one not rated, an upper end", PeerFilter{MaxRating: 1800}, blitz(1700, 0), day, false},
		{"one not rated, a lower end", PeerFilter{MinRating: 1600}, blitz(0, 1700), day, false},
		{"the speed", PeerFilter{Classes: []Class{Rapid, Blitz}}, blitz(0, 0), day, true},
		{"another speed", PeerFilter{Classes: []Class{Rapid}}, blitz(0, 0), day, false},
		{"of the day", PeerFilter{Since: day.First}, blitz(0, 0), day, true},
		{"of the day before", PeerFilter{Since: day.First + 1}, blitz(0, 0), day, false},
		{"of the year, perhaps before", PeerFilter{Since: day.First}, blitz(0, 0), year, false},
	} {
		if got := c.filter.wants(c.game, c.span); got != c.want {
			t.Errorf("%s: %v", c.name, got)
		}
	}
}

// What peers made of a move is counted for who made it; games without a result are unknown.
func TestPeersCountForWhoMoves(t *testing.T) {
	cell := &peerbook.Cell{Passes: 10, White: 5, Drawn: 2, Black: 1}
	for mover, want := range map[board.Color]Count{board.White: {Games: 10, Wins: 5, Draws: 2, Losses: 1, Unknown: 2}, board.Black: {Games: 10, Wins: 1, Draws: 2, Losses: 5, Unknown: 2}} {
		var c Count
		c.addCell(cell, mover)
		if c != want {
			t.Errorf("%v: %+v, want %+v", mover, c, want)
		}
	}
}

// A band of ratings counts if any rating of it is asked for; who has no rating counts where no
// rating is asked for.
func TestBandsThatAreLike(t *testing.T) {
	like := Like{Lo: 1800, Hi: 2000}
	for rating, want := range map[int]bool{0: false, 1799: false, 1800: true, 1999: true, 2000: true, 2099: true, 2100: false} {
		if got := like.band(peerbook.BandOf(rating)); got != want {
			t.Errorf("%d: %v", rating, got)
		}
	}
	if upTo := (Like{Hi: 1500}); upTo.band(0) || !upTo.band(1) || upTo.band(peerbook.BandOf(1600)) {
		t.Error("up to 1500 are who has a rating, and none above it")
	}
	for _, all := range []Like{{}, {Speed: "blitz"}} {
		if !all.band(0) || !all.band(9) {
			t.Errorf("%+v leaves ratings out", all)
		}
	}
}

// The opponent's games are taken off the row they stand in, and off no other; the book's own
// rows stay as they are.
func TestRowsWithoutOwn(t *testing.T) {
	bands := [2]uint8{peerbook.BandOf(2050), peerbook.BandOf(1550)}
	rows := []peerbook.Row{
		{Class: 2, Bands: bands, Days: []peerbook.DayGames{{Day: 10, Games: 4}, {Day: 20, Games: 5}, {Day: 30, Games: 6}}},
		{Class: 3, Bands: bands, Days: []peerbook.DayGames{{Day: 20, Games: 7}}},
		{Class: 2, Bands: [2]uint8{bands[1], bands[0]}, Days: []peerbook.DayGames{{Day: 20, Games: 8}}},
	}
	for i := range rows {
		rows[i].Marks[3], rows[i].Marks[5] = 9, 9
	}
	own := []peerbook.Game{{Class: 2, Ratings: [2]int{2050, 1550}, Last: 20, Marks: 3}, {Class: 2, Ratings: [2]int{2050, 1550}, Last: 20, Marks: 5},
		{Class: 2, Ratings: [2]int{2050, 1550}, Last: 30, Marks: 3}, {Class: 2, Ratings: [2]int{2050, 1550}, Last: 25, Marks: 3}}
	text := func(rows []peerbook.Row) (out string) {
		for _, r := range rows {
			out += fmt.Sprint(r.Days, r.Marks[3], r.Marks[5], "; ")
		}
		return out
	}
	before := text(rows)
	if got, want := text(withoutOwn(rows, own)), "[{10 4} {20 3} {30 5}] 7 8; [{20 7}] 9 9; [{20 8}] 9 9; "; got != want {
		t.Errorf("%s, want %s", got, want)
	}
	if text(rows) != before {
		t.Errorf("the book's rows: %s", text(rows))
	}
}
