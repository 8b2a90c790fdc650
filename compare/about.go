package compare

import (
	"fmt"
	"slices"
	"strings"

	"foreply/compare/fact"
	"foreply/compare/find"
	"foreply/compare/words"
	"foreply/profile"
	"foreply/profile/referee"
)

// basis says what the report rests on.
func basis(in *Input, opt Options) fact.Basis {
	b := in.Basis
	b.Sources, b.LeftOut = listed(b.Sources), listed(b.LeftOut)
	b.AsOf = opt.When.First.String()
	for i := range in.Profile.Games {
		g := &in.Profile.Games[i]
		b.Games++
		if g.Class.Slow() {
			b.Slow++
		} else {
			b.Fast++
		}
		if !g.Dated {
			continue
		}
		if b.First == "" {
			b.First = g.Date
		}
		b.Last = g.Date
	}
	b.Meetings = meetings(in, opt)
	b.Peers = peersUsed(in.Peers, opt.When)
	b.Text = basisText(&b, in.Profile, opt)
	return b
}

func basisText(b *fact.Basis, p *profile.Profile, opt Options) string {
	switch {
	case b.Games == 0 && b.Peers != nil && b.Peers.Before > 0:
		return words.PeersAlone(b.Peers)
	case b.Games == 0:
		return "no games of theirs found"
	}
	text := "based on " + words.Plural(b.Games, "game")
	if b.Slow > 0 && b.Fast > 0 {
		text = "based on " + words.Plural(b.Slow, "slow game") + lastOf(p, true) + "; " + words.Plural(b.Fast, "fast one")
		if opt.Class != profile.UnknownClass {
			text += " count less"
			if opt.Class != profile.Classical {
				text += " unless " + opt.Class.String()
			}
		}
		text += lastOf(p, false)
	} else {
		text += last(b.Last)
	}
	if b.Peers != nil {
		text += "; " + words.Peers(b.Peers)
	}
	if n := len(b.Meetings); n > 0 {
		points := make([]string, n)
		for i, m := range b.Meetings {
			points[i] = words.YourPoints(m.Score)
		}
		text += fmt.Sprintf("; you met %s, your score %s", words.Times(n), strings.Join(points, ", "))
	}
	return text
}

func lastOf(p *profile.Profile, slow bool) string {
	date := ""
	for i := range p.Games {
		if g := &p.Games[i]; g.Dated && g.Class.Slow() == slow {
			date = g.Date
		}
	}
	return last(date)
}

// last tells the date of the newest game, if it has one.
func last(date string) string {
	if date == "" {
		return ""
	}
	return ", last " + words.Date(date)
}

// footnotes are the warnings that must be read with the page.
func footnotes(r *fact.Report) []string {
	notes := []string{"the forecast assumes that they did not prepare for you"}
	if len(r.Opponent.Unsure) > 0 {
		notes = append(notes, "not certain to be theirs: "+strings.Join(r.Opponent.Unsure, ", "))
	}
	if r.Basis.Warnings > 0 {
		notes = append(notes, words.Plural(r.Basis.Warnings, "problem")+" met while reading the games")
	}
	if p := r.Basis.Peers; p != nil && words.PeersLeftOut(p) != "" {
		notes = append(notes, words.PeersLeftOut(p))
	}
	for i := range r.Sides {
		if s := &r.Sides[i]; s.PeersOnly {
			notes = append(notes, fmt.Sprintf("no game of theirs for your game with %s found: its shares are those of players like them", s.MyColor))
		}
	}
	return append(notes, disagreements(r)...)
}

// disagreements replays every line of the report through the rules library.
func disagreements(r *fact.Report) []string {
	var notes []string
	for i := range r.Sides {
		for _, err := range referee.Lines(printed(&r.Sides[i])) {
			notes = append(notes, fmt.Sprintf("please report this: our rules and the library's differ: %v", err))
		}
	}
	return notes
}

// printed lists every line of a side, from the first move.
func printed(s *fact.Side) [][]string {
	var lines [][]string
	add := func(line []string, more ...string) { lines = append(lines, slices.Concat(line, more)) }
	for _, x := range s.Exits {
		if add(x.Line); x.Best != nil {
			add(x.Line, x.Best.Moves...)
		}
	}
	for _, u := range s.Unanswered {
		add(u.Line)
		for _, san := range u.Return {
			add(u.Line, san)
		}
		for _, m := range u.Others {
			add(u.Line, m.Move)
		}
		for _, b := range u.Best {
			add(u.Line, b.Moves...)
		}
	}
	for _, o := range s.Options {
		add(o.Line, o.Move)
	}
	for _, m := range s.Mistakes {
		add(m.Line)
	}
	for _, t := range s.Tonight {
		add(t.Moves)
	}
	for _, g := range s.List {
		add(g.Moves)
	}
	for _, t := range s.Traps {
		if add(t.Line); t.Best != nil {
			add(t.Line, t.Best.Moves...)
		}
	}
	for _, a := range s.Again {
		add(a.Line, a.Played.Moves...)
		add(a.Line, a.Best.Moves...)
	}
	for _, f := range s.Forks {
		add(f.Stem)
		for _, b := range f.Branches {
			if add(f.Stem, b.Move); b.Answer != "" {
				add(f.Stem, slices.Concat([]string{b.Move, b.Answer}, b.Then)...)
			}
		}
	}
	return lines
}

// meetings are the games between the two.
func meetings(in *Input, opt Options) []fact.GameRow {
	theirs, own := find.Between{Games: in.Profile.Games, Rival: opt.Me}, find.Between{}
	if in.Own != nil {
		own = find.Between{Games: in.Own.Games, Rival: opt.Them}
	}
	return find.Meetings(theirs, own, in.Books)
}
