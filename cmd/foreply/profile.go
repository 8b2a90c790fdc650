package main

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"foreply/compare/fact"
	"foreply/fetch/pgn"
	"foreply/profile"
	"foreply/profile/board"
)

const defaultPlies = 16

func (a *app) profileCommand() *cobra.Command {
	f := &flags{}
	cmd := &cobra.Command{
		Use:   "profile [OPPONENT-ID]",
		Short: "print what an opponent plays",
		Long: "profile prints the opponent's opening moves with counts, and how likely each is in the next " +
			"game. It needs no repertoire. With --json it prints the tree of one colour: every position " +
			"that a move was played from, with raw counts from the opponent's side; where they are to " +
			"move, beside them how likely each move is in their coming games, with its 80 % interval.",
		Example: "  foreply profile --games games --opponent 'Last, First' --their-color white",
		Args:    atMostOne,
		RunE:    func(cmd *cobra.Command, args []string) error { return a.profile(cmd, f, args) },
	}
	fs := cmd.Flags()
	f.addGames(fs)
	f.addPeers(fs, newestOfTheirs)
	fs.StringVar(&f.theirs, "their-color", "", "show the games in which the opponent had this `COLOUR`, white or black; yours is the other (default: both; --json needs one)")
	fs.IntVar(&f.plies, "plies", defaultPlies, "how deep, a `NUMBER` of half-moves")
	fs.StringVar(&f.clock, "clock", "", "`TIME` control of the game to come, as 5400+30, or a class (default: classical)")
	fs.StringVar(&f.date, "date", "", "`DAY` of the game, YYYY-MM-DD (default: the day after the newest game)")
	fs.BoolVar(&f.json, "json", false, "print the tree as JSON")
	return cmd
}

func (a *app) profile(cmd *cobra.Command, f *flags, args []string) error {
	colors, err := theirColors(f)
	if err != nil {
		return err
	}
	if f.plies < 1 || f.plies > 200 {
		return misuse(fmt.Sprintf("--plies: %d lies outside 1 to 200", f.plies))
	}
	t, err := a.task(cmd, f, args)
	if err != nil {
		return err
	}
	t.setDay()
	if len(t.inputs) == 0 {
		return noSources(t.cfg)
	}
	// As deep as for a sheet: the forecast learns from all moves, however few are shown.
	found, err := a.readGames(t, max(f.plies, profile.DefaultMaxPly))
	switch {
	case err != nil:
		return err
	case len(found.profile.Games) == 0:
		return noGames(t, found)
	}
	if f.json {
		return a.profileJSON(t, found, colors[0], f.plies)
	}
	return a.tellProfile(t, found, colors, f.plies)
}

// profileJSON prints the tree of one colour with its forecast.
func (a *app) profileJSON(t *task, found *findings, theirs board.Color, plies int) error {
	p := found.profile
	peers, when, err := a.readPeers(t, p)
	if err != nil {
		return err
	}
	look := profile.NewForecast(p, theirs, profile.ForecastOptions{Class: t.class, Peers: peers}).On(when)
	out := treeToJSON(t.opponent, p.TreeTo(theirs, plies), plies, look)
	out.Results, out.LeftOut = recordsToJSON(p, theirs), append([]fact.LeftOut{}, found.leftOut()...)
	if err := peers.Err(); err != nil {
		return badBook(inputNames(t.peers), err)
	}
	return writeJSON(a.stdout, out)
}

// theirColors are the opponent's colours asked for.
func theirColors(f *flags) ([]board.Color, error) {
	switch strings.ToLower(f.theirs) {
	case "white":
		return []board.Color{board.White}, nil
	case "black":
		return []board.Color{board.Black}, nil
	case "":
		if f.json {
			return nil, misuse("which colour of theirs?", "add --their-color white or black")
		}
		return []board.Color{board.White, board.Black}, nil
	}
	return nil, misuse(fmt.Sprintf("--their-color: %q is no colour", f.theirs), "white or black")
}

// The JSON of profile: the opening tree with raw counts. W, D and L are from the
// opponent's side, U counts games without a result; a game counts once for each
// position and each move. Where the opponent is to move the forecast stands beside the
// counts: shares of the coming games.
type (
	treeJSON struct {
		Opponent   fact.Opponent       `json:"opponent"`
		TheirColor string              `json:"their_color"`
		Plies      int                 `json:"plies"`
		Results    []recordJSON        `json:"results"`
		LeftOut    []fact.LeftOut      `json:"left_out"` // games with either colour that don't enter a tree, by reason
		Nodes      map[string]nodeJSON `json:"nodes"`    // by EPD
	}
	countJSON struct {
		Games   int32 `json:"games"`
		Wins    int32 `json:"w"`
		Draws   int32 `json:"d"`
		Losses  int32 `json:"l"`
		Unknown int32 `json:"u"`
	}
	nodeJSON struct {
		Key    string `json:"key"` // 16 hexadecimal digits
		ToMove string `json:"to_move"`
		countJSON
		Moves    map[string]edgeJSON `json:"moves"` // by UCI move
		Forecast *forecastJSON       `json:"forecast,omitempty"`
	}
	forecastJSON struct {
		Visits   int       `json:"visits"`   // passes of games certainly earlier than the day of the game
		Strength float64   `json:"strength"` // of the intervals: p is held as Beta(p*s, (1-p)*s)
		Unseen   shareJSON `json:"unseen"`   // all moves together that are not among those of the position
	}
	shareJSON struct {
		fact.Chance      // with its 80 % interval
		Hardly      bool `json:"hardly_known,omitempty"` // as on a sheet
	}
	edgeJSON struct {
		SAN string `json:"san"`
		countJSON
		LastDate pgn.Date `json:"last_date,omitzero"`
		ChildEPD string   `json:"child_epd"`

		Share *shareJSON `json:"share,omitempty"`
	}
)

func treeToJSON(opponent fact.Opponent, tree *profile.Tree, plies int, look *profile.Outlook) treeJSON {
	out := treeJSON{Opponent: opponent, TheirColor: tree.Theirs.String(), Plies: plies, Nodes: map[string]nodeJSON{}}
	for pos, n := range tree.All() {
		node := nodeJSON{
			Key: fmt.Sprintf("%016x", pos.Key()), ToMove: n.ToMove.String()[:1],
			countJSON: countToJSON(n.Count), Moves: map[string]edgeJSON{},
		}
		for _, e := range n.Edges {
			child := pos
			child.Play(e.Move)
			node.Moves[e.Move.UCI()] = edgeJSON{
				SAN: pos.SAN(e.Move), countJSON: countToJSON(e.Count),
				LastDate: pgn.NumberedDate(e.LastDate), ChildEPD: child.EPD(),
			}
		}
		if n.ToMove == tree.Theirs {
			node.foresee(look.Shares(&pos))
		}
		out.Nodes[pos.EPD()] = node
	}
	return out
}

// foresee adds the forecast to the moves of a position.
func (n *nodeJSON) foresee(e profile.Expected) {
	share := func(p float64) shareJSON {
		s := fact.NewShare(fact.Chance(profile.Between(p, e.Strength)), 0, e.Visits)
		return shareJSON{fact.Chance{P: s.P, Lo: s.Lo, Hi: s.Hi}, s.Hardly}
	}
	unseen := 0.0
	for _, l := range e.Moves {
		edge, ok := n.Moves[l.Move.UCI()]
		if !ok {
			unseen += l.P
			continue
		}
		s := share(l.P)
		edge.Share = &s
		n.Moves[l.Move.UCI()] = edge
	}
	n.Forecast = &forecastJSON{Visits: e.Visits, Strength: e.Strength, Unseen: share(min(unseen, 1))}
}

func countToJSON(c profile.Count) countJSON {
	return countJSON{c.Games, c.Wins, c.Draws, c.Losses, c.Unknown}
}
