package compare

import (
	"foreply/compare/fact"
	"foreply/compare/find"
	"foreply/profile/referee"
)

// basis says what the report rests on.
func basis(in *Input, opt Options) fact.Basis {
	b := find.Basis(in.Basis, in.Profile, in.Peers, opt.Class, opt.When)
	b.Sources, b.LeftOut, b.Meetings = listed(b.Sources), listed(b.LeftOut), meetings(in, opt)
	return b
}

// faults replays every line of the report through the rules library.
func faults(r *fact.Report) []string {
	var out []string
	for _, err := range referee.Lines(fact.Lines(r)) {
		out = append(out, err.Error())
	}
	return out
}

// meetings are the games between the two.
func meetings(in *Input, opt Options) []fact.GameRow {
	theirs, own := find.Between{Games: in.Profile.Games, Rival: opt.Me}, find.Between{}
	if in.Own != nil {
		own = find.Between{Games: in.Own.Games, Rival: opt.Them}
	}
	return find.Meetings(theirs, own, in.Books)
}
