package words

import (
	"fmt"
	"path"
	"slices"
	"strings"

	"foreply/compare/fact"
	"foreply/fetch/pgn"
)

// Rating says a rating with its list and day.
func Rating(r fact.Rating) string {
	s := UndatedRating(r)
	if r.Date.Known() {
		s += ", " + Date(r.Date)
	}
	return s
}

// UndatedRating says a rating with its list.
func UndatedRating(r fact.Rating) string {
	s := fmt.Sprintf("%d %s", r.Value, r.List)
	switch r.List {
	case pgn.OverTheBoard, pgn.Online:
		s = fmt.Sprintf("%d %s", r.Value, List(r.List))
	}
	if speed := Class(r.Speed); speed != "" {
		s += " " + speed
	}
	return s
}

// Sources names the files with their games, the names taken, what was left out, the book
// and the day.
func Sources(r *fact.Report) string {
	var parts []string
	add := func(lead string, list []string) {
		if len(list) > 0 {
			parts = append(parts, lead+strings.Join(list, ", "))
		}
	}
	var list []string
	for _, s := range r.Basis.Sources {
		list = append(list, fmt.Sprintf("%s %s of %s", path.Base(s.Name), Thousands(s.Games), Thousands(s.Read)))
	}
	add("sources: ", list)
	add("your book: ", bookFiles(r.Sides))
	if r.Basis.AsOf.Known() {
		parts = append(parts, "made for "+Date(r.Basis.AsOf))
	}
	add("names: ", r.Opponent.Names)
	list = nil
	for _, o := range r.Basis.LeftOut {
		list = append(list, fmt.Sprintf("%s %s", Thousands(o.Games), leftOut(o.Reason)))
	}
	add("not counted: ", list)
	return AsSentence(strings.Join(parts, "; "))
}

// bookFiles are the repertoire files of all sides, each once.
func bookFiles(sides []fact.Side) []string {
	var files []string
	for i := range sides {
		for _, f := range sides[i].Book.Files {
			if f = path.Base(f); !slices.Contains(files, f) {
				files = append(files, f)
			}
		}
	}
	return files
}

// GameToCome tells what is known of the game to come.
func GameToCome(h *fact.Heading) string {
	var parts []string
	for _, p := range []string{h.Event, led("round ", h.Round), led("board ", h.Board), Dated(h.Date), led("clock ", Clock(h.Clock)), YouNeed(h.Need)} {
		if p != "" {
			parts = append(parts, p)
		}
	}
	return strings.Join(parts, "; ")
}

// Clock tells the time control of a game as players say it, where it is a time and what a
// move adds: '90 min + 30 s' for the 5400+30 of PGN. Others stand as they are. PGN counts
// seconds, so 90+30 is '90 s + 30 s': whoever meant minutes sees it.
func Clock(text string) string {
	c := pgn.ParseControl(text)
	base := fmt.Sprintf("%d s", c.Base)
	if c.Base%60 == 0 {
		base = fmt.Sprintf("%d min", c.Base/60)
	}
	switch {
	case c.Base == 0:
		return text
	case text == fmt.Sprintf("%d+%d", c.Base, c.Inc) && c.Inc > 0:
		return fmt.Sprintf("%s + %d s", base, c.Inc)
	case text == fmt.Sprint(c.Base), text == fmt.Sprintf("%d+0", c.Base):
		return base
	}
	return text
}

func led(lead, text string) string {
	if text == "" {
		return ""
	}
	return lead + text
}
