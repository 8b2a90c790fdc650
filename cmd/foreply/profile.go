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
			"that a move was played from, with raw counts from the opponent's side.",
		Example: "  foreply profile --games games --opponent 'Last, First' --their-color white",
		Args:    atMostOne,
		RunE:    func(cmd *cobra.Command, args []string) error { return a.profile(cmd, f, args) },
	}
	fs := cmd.Flags()
	f.addGames(fs)
	f.addPeers(fs)
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
	found, err := a.readGames(t, f.plies)
	switch {
	case err != nil:
		return err
	case len(found.profile.Games) == 0:
		return noGames(t, found)
	}
	if f.json {
		out := treeToJSON(t.opponent, found.profile.Tree(colors[0]), f.plies)
		out.Results = recordsToJSON(found.profile, colors[0])
		return writeJSON(a.stdout, out)
	}
	return a.tellProfile(t, found, colors, f.plies)
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
// position and each move.
type (
	treeJSON struct {
		Opponent   fact.Opponent       `json:"opponent"`
		TheirColor string              `json:"their_color"`
		Plies      int                 `json:"plies"`
		Results    []recordJSON        `json:"results"`
		Nodes      map[string]nodeJSON `json:"nodes"` // by EPD
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
		Moves map[string]edgeJSON `json:"moves"` // by UCI move
	}
	edgeJSON struct {
		SAN string `json:"san"`
		countJSON
		LastDate pgn.Date `json:"last_date,omitzero"`
		ChildEPD string   `json:"child_epd"`
	}
)

func treeToJSON(opponent fact.Opponent, tree *profile.Tree, plies int) treeJSON {
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
		out.Nodes[pos.EPD()] = node
	}
	return out
}

func countToJSON(c profile.Count) countJSON {
	return countJSON{c.Games, c.Wins, c.Draws, c.Losses, c.Unknown}
}
