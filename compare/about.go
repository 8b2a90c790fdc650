package compare

import (
	"fmt"
	"strings"

	"foreply/compare/fact"
	"foreply/compare/find"
	"foreply/compare/words"
	"foreply/fetch/pgn"
	"foreply/profile"
	"foreply/profile/referee"
)

// basis says what the report rests on.
func basis(in *Input, opt Options) fact.Basis {
	b := in.Basis
	b.Sources, b.LeftOut = listed(b.Sources), listed(b.LeftOut)
	b.AsOf = opt.When.First.Date()
	for i := range in.Profile.Games {
		g := &in.Profile.Games[i]
		b.Games++
		if g.Class.Slow() {
			b.Slow++
		} else {
			b.Fast++
		}
		if !g.Date.Known() {
			continue
		}
		if !b.First.Known() {
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
		text += words.Last(b.Last)
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
	var date pgn.Date
	for i := range p.Games {
		if g := &p.Games[i]; g.Date.Known() && g.Class.Slow() == slow {
			date = g.Date
		}
	}
	return words.Last(date)
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
		if b := &r.Sides[i].Book; b.Unread > 0 {
			notes = append(notes, words.Unread(b))
		}
		if s := &r.Sides[i]; s.PeersOnly {
			notes = append(notes, fmt.Sprintf("no game of theirs for your game with %s found: its shares are those of players like them", s.MyColor))
		}
	}
	return append(notes, disagreements(r)...)
}

// disagreements replays every line of the report through the rules library.
func disagreements(r *fact.Report) []string {
	var notes []string
	for _, err := range referee.Lines(fact.Lines(r)) {
		notes = append(notes, fmt.Sprintf("please report this: our rules and the library's differ: %v", err))
	}
	return notes
}

// meetings are the games between the two.
func meetings(in *Input, opt Options) []fact.GameRow {
	theirs, own := find.Between{Games: in.Profile.Games, Rival: opt.Me}, find.Between{}
	if in.Own != nil {
		own = find.Between{Games: in.Own.Games, Rival: opt.Them}
	}
	return find.Meetings(theirs, own, in.Books)
}
