package hindsight

import (
	"encoding/csv"
	"fmt"
	"io"
	"strconv"
	"strings"
)

// CSV writes predictions, one a row, for who wants to recompute the figures.
//
// The columns: file and game (number in the file), date, colour of the opponent,
// ply, epd of the position, played (UCI), given (the forecast's probability of
// it, all new moves being one outcome), full (of the very move), raw (the plain
// counts'), new (the forecast's probability of something new), was_new, and
// moves: every legal move as uci=n=p, n being how often it was played here
// before, likeliest first, separated by spaces; visits (games' passes known), strength (of
// the intervals, in games) and shares: of the moves played here before, and of something
// new, the share of the coming games that a sheet tells with its 80 % interval, as
// uci=p=lo=hi and new=p=lo=hi. These three are empty unless Options.Shares asked for them.
// What was given, full, raw, new and was_new follows from played and moves. Probabilities have all their digits, so that a
// second program gets the same sums.
type CSV struct {
	w   *csv.Writer
	err error
}

// CSVHead is the line that the file begins with.
const CSVHead = "file,game,date,colour,ply,epd,played,given,full,raw,new,was_new,moves,visits,strength,shares"

// NewCSV writes the heading.
func NewCSV(w io.Writer) *CSV {
	c := &CSV{w: csv.NewWriter(w)}
	c.err = c.w.Write(strings.Split(CSVHead, ","))
	return c
}

// Write adds a row; it serves as Options.Each.
func (c *CSV) Write(p *Prediction) {
	if c.err != nil {
		return
	}
	c.err = c.w.Write([]string{
		p.Game.File, strconv.Itoa(p.Game.Index), p.Game.Date.String(), p.Game.Theirs.String(), strconv.Itoa(p.Ply), p.Position.EPD(),
		p.Played.UCI(), digits(p.Given), digits(p.Full), digits(p.Raw), digits(p.Expected.Unseen.P), strconv.FormatBool(p.New), p.moves(),
		strconv.Itoa(p.Expected.Visits), digits(p.Expected.Strength), p.shares(),
	})
}

// Close writes what is left and returns the first error.
func (c *CSV) Close() error {
	c.w.Flush()
	if c.err == nil {
		c.err = c.w.Error()
	}
	if c.err != nil {
		return fmt.Errorf("writing predictions: %w", c.err)
	}
	return nil
}

func (p *Prediction) moves() string {
	var b strings.Builder
	for _, l := range p.Expected.Moves {
		if b.Len() > 0 {
			b.WriteByte(' ')
		}
		fmt.Fprintf(&b, "%s=%d=%s", l.Move.UCI(), l.N, digits(l.P))
	}
	return b.String()
}

func (p *Prediction) shares() string {
	var b strings.Builder
	for _, l := range p.Shares.Moves {
		if l.N > 0 {
			fmt.Fprintf(&b, "%s=%s=%s=%s ", l.Move.UCI(), digits(l.P), digits(l.Lo), digits(l.Hi))
		}
	}
	if u := p.Shares.Unseen; len(p.Shares.Moves) > 0 {
		fmt.Fprintf(&b, "new=%s=%s=%s", digits(u.P), digits(u.Lo), digits(u.Hi))
	}
	return b.String()
}

func digits(p float64) string { return strconv.FormatFloat(p, 'g', -1, 64) }
