package main

import (
	"bufio"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"text/tabwriter"

	"foreply/compare/fact"
	"foreply/compare/find"
	"foreply/compare/walk"
	"foreply/compare/words"
	"foreply/fetch/pgn"
	"foreply/profile"
	"foreply/profile/board"
)

// Limits of the text of profile.
const (
	fewGames    = 12   // up to so many games of a colour, shares mean nothing and counts stand alone
	leastShown  = 0.04 // moves less likely are summed up
	firstShown  = 4    // first moves of White that the opponent's answers are shown to
	branchGames = 20   // a branch of the tree has at least one game in so many
	goOn        = 0.75 // a line goes on in one row while so much of its games does
)

// tellProfile prints what they play: first moves with shares, then the tree of
// the main lines, and which games were not counted.
func (a *app) tellProfile(t *task, found *findings, colors []board.Color, plies int) error {
	p := found.profile
	peers, when, err := a.readPeers(t, p)
	if err != nil {
		return err
	}
	w := bufio.NewWriter(a.stdout)
	for i, c := range colors {
		if i > 0 {
			fmt.Fprintln(w)
		}
		s := &side{w: w, p: p, tree: p.Tree(c), plies: plies}
		s.changes = p.Changes(c, when)
		s.look = profile.NewForecast(p, c, profile.ForecastOptions{Class: t.class, Peers: peers}).On(when)
		s.print(clean(t.opponent.Name))
	}
	if peers != nil {
		used := find.PeersUsed(peers, when)
		fmt.Fprintf(w, "\n%s\n", words.Peers(used))
		if leftOut := words.PeersLeftOut(used); leftOut != "" {
			fmt.Fprintln(w, leftOut)
		}
	}
	if list := found.leftOut(); len(list) > 0 {
		fmt.Fprintf(w, "\nnot counted: %s\n", leftOutText(list))
	}
	if err := peers.Err(); err != nil {
		return badBook(inputNames(t.peers), err)
	}
	return w.Flush()
}

// side prints one colour of the opponent.
type side struct {
	w       *bufio.Writer
	p       *profile.Profile
	tree    *profile.Tree
	look    *profile.Outlook
	plies   int
	changes []profile.Change
}

func (s *side) print(name string) {
	start := board.Start()
	root := s.tree.At(start.Key())
	if root == nil {
		fmt.Fprintf(s.w, "%s with %s: no games found\n", name, s.tree.Theirs)
		return
	}
	fmt.Fprintf(s.w, "%s with %s: %s, %s%s\n", name, s.tree.Theirs, words.Plural(int(root.Games), "game"), scored(&root.Count), s.newest())
	if root.Games <= fewGames {
		fmt.Fprintf(s.w, "too few games for shares: the counts alone\n")
	}
	if s.tree.Theirs == board.White {
		fmt.Fprintf(s.w, "\ntheir first move\n")
		s.table(start)
	} else {
		s.answers(start, root)
	}
	if len(s.changes) > 0 {
		fmt.Fprintf(s.w, "\nwhat changed\n")
	}
	for i := range s.changes {
		change := find.ChangeOf(&s.changes[i])
		change.Share = find.Forecast(s.look, &s.changes[i])
		wrap(s.w, "  ", "    ", strings.Fields(words.Change(&change).String()))
	}
	if root.Games <= fewGames {
		s.games()
	} else {
		fmt.Fprintf(s.w, "\nmain lines, with games\n")
		s.branch(start, root, 0, max(2, int(root.Games)/branchGames))
	}
	tellRecords(s.w, s.p, s.tree.Theirs)
}

// scored is 'scored 4½ of 12'.
func scored(c *profile.Count) string {
	if c.Unknown == c.Games {
		return noResults
	}
	return "scored " + words.Points(find.ScoreOf(c))
}

const noResults = "no result given"

// games lists their games, newest first: date, their score, the other player's
// rating, opening and class; the moves.
func (s *side) games() {
	fmt.Fprintf(s.w, "\ntheir games\n")
	for _, g := range slices.Backward(slices.Collect(s.p.With(s.tree.Theirs))) {
		r := find.Row(g)
		rating := "-"
		if r.Elo > 0 {
			rating = strconv.Itoa(r.Elo)
		}
		about := strings.Fields(clean(r.ECO + " " + r.Opening))
		if g.Speed != profile.UnknownClass {
			about = append(about, "("+r.Class+")")
		}
		wrap(s.w, fmt.Sprintf("  %-12s  %1s  %4s  ", words.Date(r.Date), r.Score, rating), "      ", about)
		line := walk.SAN(g.Moves[:min(len(g.Moves), s.plies)])
		wrap(s.w, "      ", "      ", strings.Fields(words.Movetext(line, 0)))
	}
}

// newest is the date of the newest game with the colour.
func (s *side) newest() string {
	var date pgn.Date
	for i := range s.p.Games {
		if g := &s.p.Games[i]; g.Theirs == s.tree.Theirs && g.Date.Known() {
			date = g.Date
		}
	}
	if !date.Known() {
		return ""
	}
	return ", last " + words.Date(date)
}

// answers prints what they play against the first moves they met most.
func (s *side) answers(start board.Position, root *profile.TreeNode) {
	for _, e := range root.Edges[:min(firstShown, len(root.Edges))] {
		pos := start
		pos.Play(e.Move)
		if s.tree.At(pos.Key()) == nil {
			continue
		}
		fmt.Fprintf(s.w, "\nagainst 1.%s, met in %s\n", start.SAN(e.Move), words.Plural(int(e.Games), "game"))
		s.table(pos)
	}
}

// table prints their moves at a position: how likely, how often, when last.
func (s *side) table(pos board.Position) {
	e := s.look.At(&pos)
	shares, rest := sharesOf(&e)
	few := s.tree.At(pos.Key()).Games <= fewGames
	t := tabwriter.NewWriter(s.w, 0, 0, 2, ' ', 0)
	number := strings.TrimSuffix(profile.MoveNumber(&pos), " ")
	for i, share := range shares {
		l := &e.Moves[i]
		row := []string{number + pos.SAN(l.Move), words.Odds(share), words.Counted(share), ""}
		if share.Hardly && !few {
			row[2] = "" // it stands in place of the share
		}
		if few {
			row[1] = ""
		}
		if l.Last != nil && l.Last.Date.Known() {
			row[3] = "last " + words.Date(l.Last.Date)
		}
		s.row(t, row, few)
	}
	if !few && rest.P > 0 {
		counted := fmt.Sprintf("%d of %s", rest.Seen, words.Plural(rest.Of, "game"))
		if rest.Hardly {
			s.row(t, []string{"any other", counted}, few)
		} else {
			s.row(t, []string{"any other", words.Odds(rest), counted, ""}, few)
		}
	}
	t.Flush()
}

func (s *side) row(t *tabwriter.Writer, cells []string, few bool) {
	if few {
		cells = append(cells[:1:1], cells[2:]...)
	}
	for len(cells) > 1 && cells[len(cells)-1] == "" {
		cells = cells[:len(cells)-1]
	}
	fmt.Fprintf(t, "  %s\n", strings.Join(cells, "\t"))
}

// sharesOf turns a forecast into printed shares: of each move seen and likely
// enough, in order of the forecast, and of all the rest.
func sharesOf(e *profile.Expected) (shown []fact.Share, rest fact.Share) {
	left, seen := 1.0, e.Visits
	for _, l := range e.Moves {
		if l.N == 0 || l.P < leastShown {
			break
		}
		shown = append(shown, fact.NewShare(fact.Chance(l.Range), l.N, e.Visits))
		left -= l.P
		seen -= l.N
	}
	rest = fact.NewShare(fact.Chance(profile.Between(max(left, 0), e.Strength)), seen, e.Visits)
	return shown, rest
}

// branch prints the moves from a position that were played in at least so many
// games. What nearly always follows stands in the same row, whose number counts
// the games of its first move.
func (s *side) branch(pos board.Position, n *profile.TreeNode, depth, least int) {
	for _, e := range n.Edges {
		if int(e.Games) < least {
			continue
		}
		next := pos
		line := []string{next.SAN(e.Move)}
		next.Play(e.Move)
		node := s.tree.At(next.Key())
		for depth+len(line) < s.plies {
			only := onlyEdge(node, least)
			if only == nil || float64(only.Games) < goOn*float64(e.Games) {
				break
			}
			line = append(line, next.SAN(only.Move))
			next.Play(only.Move)
			node = s.tree.At(next.Key())
		}
		s.run(line, depth, int(e.Games))
		if node != nil && depth+len(line) < s.plies {
			s.branch(next, node, depth+len(line), least)
		}
	}
}

// onlyEdge returns the one edge with enough games, nil if there is none or the
// lines part here.
func onlyEdge(n *profile.TreeNode, least int) *profile.Edge {
	if n == nil {
		return nil
	}
	var only *profile.Edge
	for i := range n.Edges {
		if int(n.Edges[i].Games) < least {
			continue
		}
		if only != nil {
			return nil
		}
		only = &n.Edges[i]
	}
	return only
}

// run prints a stretch of moves after the number of its games, indented by how
// deep it begins.
func (s *side) run(line []string, depth, games int) {
	indent := strings.Repeat(" ", 8+2*min(depth, 16))
	head := fmt.Sprintf("%5d", games)
	moves := make([]string, len(line))
	for i, san := range line {
		moves[i] = san
		if i == 0 || (depth+i)%2 == 0 {
			moves[i] = words.Movetext([]string{san}, depth+i)
		}
	}
	wrap(s.w, head+indent[len(head):], indent, moves)
}
