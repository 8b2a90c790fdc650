package main

import (
	"cmp"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"time"
)

// plan is a game that is going to be played.
type plan struct {
	when      time.Time
	white     bool // the opponent has White
	rival     rival
	their     int    // the opponent's rating that day
	event     *event // over the board
	round     int
	control   control // online
	fast      bool
	evals     bool
	seed      uint64
	script    string // moves that both players are made to play
	want      string // the result it must have, from White's view; empty for any
	agreed    int    // draw agreed after this half-move, 0 for none
	abandoned int    // the side to move leaves after this half-move, 0 for none
	fen       string // start position, empty for the usual one
	variant   string
}

// schedule lays out all games, oldest first.
func schedule() []*plan {
	r := rand.New(rand.NewPCG(2026, 1125))
	all := append(overTheBoard(r), online(r)...)
	special(all)
	for i, p := range all {
		p.seed = uint64(i + 1)
	}
	return sortPlans(all)
}

func overTheBoard(r *rand.Rand) []*plan {
	var all []*plan
	white := true
	for i := range events {
		e := &events[i]
		met := map[string]bool{}
		for n := range e.games {
			day := date(e.first).AddDate(0, 0, n*e.every)
			if e.every == 0 {
				day = date(e.first).AddDate(0, 0, (n+1)/2)
			}
			p := &plan{when: day.Add(19 * time.Hour), event: e, round: n + 1, white: white, their: ratingOn(day, 1752, 1938, 12)}
			p.rival = newRival(r, clubPlayers, met)
			if e.youAt == n+1 {
				p.rival, p.white = rival{youName, 1824 + r.IntN(12)}, !e.youAreWhite
			}
			white = !p.white
			all = append(all, p)
		}
	}
	return all
}

// newRival picks somebody not yet met in this event, with a rating of the day.
func newRival(r *rand.Rand, pool []rival, met map[string]bool) rival {
	for {
		v := pool[r.IntN(len(pool))]
		if met[v.name] {
			continue
		}
		met[v.name] = true
		v.rating += r.IntN(51) - 25
		return v
	}
}

// onlineGames is the number of fast games, those with oddities included.
const onlineGames = 202

// online lays out evenings of two to five games, denser towards the end.
func online(r *rand.Rand) []*plan {
	var all []*plan
	first, last := date("2023-06-02"), date(seriesEnd)
	days := last.Sub(first).Hours() / 24
	const evenings = 62
	white := false
	for i := range evenings {
		share := math.Pow(float64(i)/(evenings-1), 0.5)
		at := first.AddDate(0, 0, int(math.Round(share*days)))
		at = at.Add(17*time.Hour + time.Duration(r.IntN(4*3600))*time.Second)
		n := 2 + r.IntN(4)
		if left := evenings - 1 - i; left == 0 || len(all)+n+2*left > onlineGames {
			n = onlineGames - len(all) - 2*left
		}
		met := map[string]bool{}
		for range min(n, 6) {
			p := &plan{when: at, fast: true, white: white, control: drawControl(r)}
			p.rival = newRival(r, handles, met)
			p.evals = r.IntN(5) == 0
			from, to := 1905., 2012.
			if p.control.kind == "Rapid" {
				from, to = 1988, 2077
			}
			p.their = ratingOn(at, from, to, 24)
			all = append(all, p)
			white = !white
			if r.IntN(6) == 0 {
				white = !white
			}
			at = at.Add(time.Duration(3*p.control.start+60+r.IntN(240)) * time.Second)
		}
	}
	return all
}

func drawControl(r *rand.Rand) control {
	total := 0
	for _, c := range controls {
		total += c.weight
	}
	n := r.IntN(total)
	for _, c := range controls {
		if n -= c.weight; n < 0 {
			return c
		}
	}
	return controls[0]
}

// special gives some games a set course: the two meetings with you, the trap
// walked into twice, short games and the oddities of the online file.
func special(all []*plan) {
	fast := 0
	for _, p := range all {
		if !p.fast {
			specialSlow(p)
			continue
		}
		fast++
		specialFast(p, fast)
	}
}

func specialSlow(p *plan) {
	where := fmt.Sprintf("%s %s/%d", p.event.name, p.event.first[:4], p.round)
	switch {
	case p.rival.name == youName && !p.white:
		p.script = "e4 e5 Nf3 Nc6 Bc4 Bc5 c3 Nf6 d3 d6 O-O O-O Re1 a6 a4 Ba7 h3 h6 Nbd2 Re8 b4 Be6 Bxe6 Rxe6"
		p.want = "1/2-1/2"
	case p.rival.name == youName:
		p.script = "d4 d5 Bf4 Nf6 e3 c5 c3 Nc6 Nd2 e6 Ngf3 Bd6 Bg3 O-O Bd3 b6 Ne5 Bb7 f4 Ne7"
		p.want = "1-0"
	case where == "Saltmarsh Weekend Open 2025/5":
		p.agreed = 25
	case where == "Weirside Club Championship 2022/7":
		p.agreed = 31
	}
}

const (
	trapScript = "e4 c5 c3 d6 d4 Nf6 dxc5 Nxe4 Qa4+"
	mateScript = "e4 e5 Nf3 Nc6 Bc4 Nd4 Nxe5 Qg5 Nxf7 Qxg2 Rf1 Qxe4+ Be2 Nf3#"
)

func specialFast(p *plan, n int) {
	switch n {
	case 41:
		p.white, p.script = false, mateScript
	case 67:
		p.abandoned = 4
	case 88:
		p.fen = "rnbqkbnr/ppppp1pp/8/8/8/8/PPPPPPPP/RNBQKBNR w KQkq - 0 1"
		p.white, p.evals = true, false
	case 96:
		p.white, p.script, p.want, p.control = false, trapScript, "1-0", controls[0]
	case 131:
		p.white, p.script, p.want, p.control = false, trapScript, "1-0", controls[3]
	case 150:
		p.fen, p.variant = "bqnrnkrb/pppppppp/8/8/8/8/PPPPPPPP/BQNRNKRB w - - 0 1", "Chess960"
		p.evals = false
	}
}

// sortPlans orders the games by time; those of one moment keep their order.
func sortPlans(all []*plan) []*plan {
	slices.SortStableFunc(all, func(a, b *plan) int { return cmp.Compare(a.when.Unix(), b.when.Unix()) })
	return all
}
