package main

import (
	"bufio"
	"fmt"
	"strings"
	"text/tabwriter"

	"foreply/compare/find"
	"foreply/compare/words"
	"foreply/profile"
	"foreply/profile/board"
)

// recordGroups are the ways in which results are told, for each rating list.
var recordGroups = []struct {
	name  string
	by    func(*profile.Game) (string, int)
	whole bool // one line for all games
}{
	{"colour", profile.ByColor, true}, {"class", profile.ByClass, false}, {"rating", profile.ByBand, false},
}

// tellRecords prints what they scored with a colour: all games of a rating list,
// then by time class and by the other player's rating, where there are several and
// enough games.
func tellRecords(w *bufio.Writer, p *profile.Profile, theirs board.Color) {
	byGroup := make([]map[string][]profile.Record, len(recordGroups))
	var lists []string
	for i, group := range recordGroups {
		byGroup[i] = map[string][]profile.Record{}
		for _, r := range p.Records(group.by, with(theirs)) {
			if group.whole {
				lists = append(lists, r.List)
			}
			byGroup[i][r.List] = append(byGroup[i][r.List], r)
		}
	}
	fmt.Fprintf(w, "\nresults with %s\n", theirs)
	t := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
	for _, list := range lists {
		for i, group := range recordGroups {
			records := byGroup[i][list]
			if !group.whole && (len(records) == 1 || known(&byGroup[0][list][0]) <= fewGames) {
				continue
			}
			for _, r := range records {
				name := "  " + groupName(r.Group)
				if group.whole {
					name = clean(r.List)
				}
				fmt.Fprintf(t, "  %s\n", strings.TrimRight(name+"\t"+recordText(&r), "\t"))
			}
		}
	}
	t.Flush()
}

func groupName(group string) string {
	if group == profile.UnknownClass.String() {
		return "speed unknown"
	}
	return group
}

func with(theirs board.Color) func(*profile.Game) bool {
	return func(g *profile.Game) bool { return g.Theirs == theirs }
}

// recordText is a record in cells: '14 games', '+8 =3 -3', '9½ of 14', '8.6
// expected', 'performed like 1985'. What was expected, and the performance, are
// of the games in which both ratings are known; if these are not all, it is said.
func recordText(r *profile.Record) string {
	if known(r) == 0 {
		return words.Plural(int(r.Games), "game") + "\t" + noResults
	}
	cells := []string{
		words.Plural(int(r.Games), "game"), fmt.Sprintf("+%d =%d -%d", r.Wins, r.Draws, r.Losses), words.Points(find.ScoreOf(&r.Count)),
	}
	_, enough := r.Showing()
	if !enough {
		return strings.Join(cells, "\t")
	}
	expected := fmt.Sprintf("%.1f expected", r.Expected)
	if r.Rated < known(r) {
		expected = fmt.Sprintf("rated %s of %d, %s", words.Halves(r.Points), r.Rated, expected)
	}
	cells = append(cells, expected)
	if !r.Performance.Notional {
		cells = append(cells, fmt.Sprintf("performed like %d", r.Performance.Rating))
	}
	return strings.Join(cells, "\t")
}

// known counts the games with a result.
func known(r *profile.Record) int { return int(r.Games - r.Unknown) }

// recordJSON is a record of the JSON of profile: w, d and l from the opponent's
// side. Expected and points are over the rated games, those with a result and
// both ratings; performance is FIDE's, 0 where none is rated, and notional where
// all or none of the points were scored.
type recordJSON struct {
	List  string `json:"list"` // rating list: a source, a host, 'online' or 'over the board'
	By    string `json:"by"`   // what the games have in common: 'colour', 'class' or 'rating' of the other player
	Group string `json:"group"`
	countJSON
	Rated       int     `json:"rated"`
	Points      float64 `json:"points"`
	Expected    float64 `json:"expected"`
	Average     int     `json:"rivals_average"`
	Performance int     `json:"performance"`
	Notional    bool    `json:"notional"`
}

func recordsToJSON(p *profile.Profile, theirs board.Color) []recordJSON {
	out := []recordJSON{}
	for _, group := range recordGroups {
		for _, r := range p.Records(group.by, with(theirs)) {
			out = append(out, recordJSON{
				List: r.List, By: group.name, Group: r.Group, countJSON: countToJSON(r.Count),
				Rated: r.Rated, Points: r.Points, Expected: r.Expected,
				Average: r.Performance.Average, Performance: r.Performance.Rating, Notional: r.Performance.Notional,
			})
		}
	}
	return out
}
