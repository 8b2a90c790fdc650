package main

import (
	"bufio"
	"fmt"
	"io"
	"path/filepath"
	"slices"
	"strings"
	"text/tabwriter"

	"foreply/compare/fact"
	"foreply/compare/past"
	"foreply/compare/words"
	"foreply/fetch/pgn"
	"foreply/pdf"
	"foreply/profile/hindsight"
)

// player is the test of one player.
type player struct {
	File     string        `json:"file"`
	Opponent fact.Opponent `json:"opponent"`
	Peers    *peersTold    `json:"peers,omitempty"`
	hindsight.Result
	Sheet   past.Result `json:"sheet"` // what sheets would have said
	Verdict string      `json:"verdict"`
	newest  pgn.Day     // day of the newest game
}

// peersTold counts the peers' games; each was used for later games only.
type peersTold struct {
	Games   int `json:"games"`
	Own     int `json:"own"`     // not used: the player's own
	Undated int `json:"undated"` // not used: without a date none is certainly earlier
	Twice   int `json:"twice"`   // not used: found before
	Unfit   int `json:"unfit"`   // not used: set up, or under 6 plies
}

// tested is the test of all players.
type tested struct {
	players []player
	hindsight.Result
	sheet   past.Result
	who     string // the player, or how many they are
	last    int    // how many earlier games were known at most, 0 for all
	verdict string
}

// pool adds up what the players gave.
func (t *tested) pool() {
	first := &t.players[0]
	t.who, t.verdict, t.Result, t.sheet = first.Opponent.Name, first.Verdict, first.Result, first.Sheet
	if len(t.players) == 1 {
		return
	}
	results, sheets, some := make([]hindsight.Result, len(t.players)), make([]past.Result, len(t.players)), 0
	for i := range t.players {
		results[i], sheets[i] = t.players[i].Result, t.players[i].Sheet
		some += min(1, results[i].Pooled.Predictions)
	}
	t.who, t.Result, t.sheet = words.Plural(some, "player"), hindsight.Pool(results...), past.Pool(sheets...)
	t.verdict = t.Result.Verdict("these players")
}

// json is what --json prints: the figures of the one player, or those of all
// pooled and of each file.
func (t *tested) json(byFile bool) any {
	if !byFile {
		return t.players[0]
	}
	return struct {
		hindsight.Result
		Sheet   past.Result `json:"sheet"`
		Verdict string      `json:"verdict"`
		Files   []player    `json:"files"`
	}{t.Result, t.sheet, t.verdict, t.players}
}

// print tells the test at a screen's length. Its last line is the verdict.
func (t *tested) print(out io.Writer, f *hindsightFlags) error {
	w := bufio.NewWriter(out)
	wrap(w, "", "  ", strings.Fields(clean(t.who+": "+t.heading())))
	sections := t.Words()
	if len(t.players) > 1 {
		fmt.Fprintln(w)
		t.table(w)
		sections = sections[max(0, len(sections)-1):] // both colours: the rest is in --json
		for i := range sections {
			sections[i].Name = "" // the heading says it
		}
	}
	for i, s := range sections {
		if i == 0 {
			fmt.Fprintln(w)
		}
		tellSection(w, s)
	}
	if len(t.Pooled.Reliability) > 0 {
		for line := range strings.Lines(t.Pooled.Scale()) {
			fmt.Fprint(w, "  ", line)
		}
		tellSection(w, words.Past(&t.sheet))
	}
	if wrote := strings.Join(slices.DeleteFunc([]string{f.out, f.predictions}, func(s string) bool { return s == "" }), " and "); wrote != "" {
		fmt.Fprintf(w, "\nwrote %s\n", wrote)
	}
	fmt.Fprintln(w)
	wrap(w, "", "", strings.Fields(t.verdict))
	return w.Flush()
}

func tellSection(w *bufio.Writer, s hindsight.Section) {
	if s.Name != "" {
		wrap(w, "", "  ", strings.Fields(s.Name+": "+s.Of))
	}
	for _, line := range s.Lines {
		wrap(w, "  ", "    ", strings.Fields(line))
	}
}

// heading says what was tested and what the forecasts leant on.
func (t *tested) heading() string {
	peers := 0
	for i := range t.players {
		if p := t.players[i].Peers; p != nil {
			peers = max(peers, p.Games)
		}
	}
	text := t.Heading()
	switch {
	case peers > 0 && len(t.players) > 1:
		text += fmt.Sprintf(", theirs and up to %d of peers", peers)
	case peers > 0:
		text += fmt.Sprintf(", theirs and %d of peers", peers)
	}
	switch {
	case t.last == 1:
		text += ", as if of theirs only the last one of the colour was known"
	case t.last > 1:
		text += fmt.Sprintf(", as if of theirs only the last %d of the colour were known", t.last)
	}
	return text
}

// Limits of the table of players.
const (
	tableRows = 4
	fileWidth = 22
	nameWidth = 20
)

func (t *tested) table(w io.Writer) {
	tab := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
	fmt.Fprintln(tab, "file\tplayer\tgames\tmoves\ttop guess right\tsurprise")
	for i := range t.players[:min(len(t.players), tableRows)] {
		p := &t.players[i]
		right, surprise := "-", "too few to test"
		if f := &p.Pooled; f.Predictions > 0 {
			right, surprise = fmt.Sprintf("%.0f in 100", 100*f.Top1), f.Against("")
		}
		fmt.Fprintf(tab, "%s\t%s\t%d\t%d\t%s\t%s\n", short(filepath.Base(p.File), fileWidth), short(p.Opponent.Name, nameWidth),
			p.Pooled.Games, p.Pooled.Predictions, right, surprise)
	}
	tab.Flush()
	if more := len(t.players) - tableRows; more > 0 {
		fmt.Fprintf(w, "and %s more; --json has them all\n", words.Plural(more, "file"))
	}
}

// short cuts a name to a column.
func short(name string, width int) string {
	if r := []rune(clean(name)); len(r) > width {
		return string(r[:width-1]) + "…"
	}
	return clean(name)
}

// page is what the PDF prints.
func (t *tested) page() *pdf.Tested {
	newest := pgn.Day(0)
	for i := range t.players {
		newest = max(newest, t.players[i].newest)
	}
	return &pdf.Tested{
		Who: t.who, Heading: t.heading(), Verdict: t.verdict, Bins: t.Pooled.Reliability, Sections: t.sections(), AsOf: newest.Date(),
		Foot: t.Method(),
	}
}

// sections are all that is said in words.
func (t *tested) sections() []hindsight.Section {
	list := t.Words()
	if len(list) == 0 {
		return nil
	}
	return append(list, words.Past(&t.sheet))
}
