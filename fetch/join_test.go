package fetch

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"foreply/fetch/pgn"
)

// aCopy is the game of a text as a file of a source has it, from the side of Alder.
func aCopy(t *testing.T, source, file string, line int, text string) *gameCopy {
	t.Helper()
	for g := range read(text) {
		g = g.Clone()
		g.Source, g.File, g.Line, g.Index = source, file, line, line/10
		white, _ := g.Players()
		return newCopy(g, strings.HasPrefix(white.Name, "Alder"))
	}
	t.Fatal("no game")
	return nil
}

// What a fuller copy lacks, or has only in part, comes from the other; what it has stays.
func TestJoinTags(t *testing.T) {
	for _, c := range []struct{ quirk, name, base, other, want string }{
		{"not there", "Event", "", "Open", "Open"}, {"says nothing", "Event", "?", "Open", "Open"}, {"says something", "Event", "Cup", "Open", "Cup"},
		{"a year and a day", "Date", "2019.??.??", "2019.03.02", "2019.03.02"}, {"a month and a day", "Date", "2019.03.??", "2019.03.02", "2019.03.02"},
		{"a year and a month", "Date", "2019.??.??", "2019.03.??", "2019.03.??"}, {"a day and a year", "Date", "2019.03.02", "2019.??.??", "2019.03.02"},
		{"two days", "Date", "2019.03.02", "2019.04.05", "2019.03.02"}, {"a year and a day of another", "Date", "2019.??.??", "2018.03.02", "2019.??.??"},
		{"a day without its month", "Date", "2019.??.02", "2019.03.02", "2019.03.02"}, {"any date", "EventDate", "2019.??.??", "2019.03.01", "2019.03.01"},
		{"an initial", "White", "Alder,M", "Alder, Mina", "Alder, Mina"}, {"the surname", "Black", "Brook", "Brook, Tomas", "Brook, Tomas"},
		{"the whole name", "Black", "Brook, Tomas", "Brook,T", "Brook, Tomas"}, {"another name", "Black", "Brook, T", "Brooke, Tomas", "Brook, T"},
		{"of other tags the words stay", "Annotator", "Brook,T", "Brook, Tomas", "Brook,T"},
	} {
		base := tags("Round", "1")
		if c.base != "" {
			base = tags("Round", "1", c.name, c.base)
		}
		before := fmt.Sprint(base)
		got := joinTags(base, tags("Round", "2", c.name, c.other))
		if want := tags("Round", "1", c.name, c.want); fmt.Sprint(got) != fmt.Sprint(want) || fmt.Sprint(base) != before {
			t.Errorf("%s: %v, want %v", c.quirk, got, want)
		}
	}
}

// Which copy is the fuller: more moves, else a result, else more notes, else more that the
// tags say; of two that are as full the first stays.
func TestFullerCopy(t *testing.T) {
	of := func(moves, result string, tags ...string) *gameCopy {
		return aCopy(t, "", "a.pgn", 10, game("Alder, Mina", "Brook, T", moves, result, tags...))
	}
	list := []*gameCopy{
		of("a3 a4 a5 a6", "*"), of("a3 a4 a5 {[%clk 0:05:00]}", "1-0", "Event", "Open"), of("a3 {[%clk 0:05:00]} a4 {[%clk 0:05:00]} a5", "*", "Event", "Open", "Round", "3"),
	}
	list = []*gameCopy{list[0], of("a3 a4 {1} a5 {2}", "1-0"), list[1], of("a3 a4 a5 {[%clk 0:05:00]}", "1/2-1/2"), of("a3 a4 a5", "1-0", "Event", "Open", "Round", "3"), of("a3 a4 a5", "1-0", "Event", "Open", "Round", "?"), list[2], of("a3", "1-0", "Event", "Open")}
	for i, a := range list {
		for j, b := range list {
			if got := fuller(a, b); got != (i < j) {
				t.Errorf("copy %d is fuller than copy %d: %v", i, j, got)
			}
		}
	}
}

// Each contradiction is told at the second copy, with where the first stands and what
// each has.
func TestWhatCopiesContradict(t *testing.T) {
	of := func(file string, line int, rival, moves, result, date string) *gameCopy {
		return aCopy(t, "club", file, line, game("Alder, Mina", rival, moves, result, "Date", date))
	}
	const same = "it is counted once, as in the fuller of the two"
	first := of("a.pgn", 10, "Brook, Tomas", line(12, "a"), "1-0", "2019.03.02")
	at := func(kind pgn.Kind, message, token string) pgn.Problem {
		return pgn.Problem{Kind: kind, Severity: pgn.Warning, Source: "club", File: "b.pgn", Line: 30, Game: 3, Token: token,
			Message: "the same game stands at a.pgn:10 with " + message, Hint: same}
	}
	for _, c := range []struct {
		quirk  string
		second *gameCopy
		want   []pgn.Problem
	}{
		{"nothing", of("b.pgn", 30, "Brook,T", line(12, "a"), "1-0", "2019.03.02"), nil},
		{"less", of("b.pgn", 30, "Brook,T", line(10, "a"), "*", "2019.??.??"), nil},
		{"a day near it", of("b.pgn", 30, "Brook,T", line(12, "a"), "1-0", "2019.03.05"), []pgn.Problem{at(DateClash, "date 2019.03.02", "2019.03.05")}},
		{"a year", of("b.pgn", 30, "Brook,T", line(12, "a"), "1-0", "2018.??.??"), []pgn.Problem{at(DateClash, "date 2019.03.02", "2018.??.??")}},
		{"all", of("b.pgn", 30, "Crane, U", line(8, "a")+" "+line(4, "c"), "0-1", "2018.??.??"), []pgn.Problem{
			at(DateClash, "date 2019.03.02", "2018.??.??"), at(pgn.ResultClash, "result 1-0", "0-1"),
			at(NameClash, "the other player Brook, Tomas", "Crane, U"), at(MovesClash, "the same first 8 half-moves only", "")}},
	} {
		if got := first.clashes(c.second); !slices.Equal(got, c.want) {
			t.Errorf("%s:\n%#v, want\n%#v", c.quirk, got, c.want)
		}
	}
	want := pgn.Problem{Kind: PerhapsTwice, Severity: pgn.Note, Source: "club", File: "b.pgn", Line: 30, Game: 3,
		Message: "the same moves stand at a.pgn:10; too short to say that it is one game", Hint: "both are counted; the day or the round in both games would decide it"}
	if got := first.perhaps(of("b.pgn", 30, "Brook,T", line(4, "a"), "1-0", "")); got != want {
		t.Errorf("%+v, want %+v", got, want)
	}
}

// Two copies joined are one of both files, and known by what either told.
func TestJoinedCopyIsOfBothFiles(t *testing.T) {
	short := aCopy(t, "", "a.pgn", 10, game("Alder, Mina", "Brook", line(20, "a"), "*", "Date", "2019.03.02", "Round", "3"))
	whole := aCopy(t, "", "b.pgn", 20, game("Alder, Mina", "Brook, Tomas", line(24, "a"), "1-0", "Date", "2019.??.??", "BlackFideId", "77"))
	for _, pair := range [][2]*gameCopy{{short, whole}, {whole, short}} {
		e, o := *pair[0], *pair[1]
		if clash := e.join(&o); len(clash) > 0 {
			t.Errorf("%v", clash)
		}
		want := pair[0].files[0] + " " + pair[1].files[0]
		if got := strings.Join(e.files, " "); got != want || e.game.Index != 2 || len(e.kinds) != 24 || e.moves != whole.moves || e.score != "1-0" ||
			e.id != "77" || e.season != "season 2019 bro" || e.when.date.Tag() != "2019.03.02" || strings.Join(e.when.rounds, ".") != "3" {
			t.Errorf("files %s, want %s: %+v", got, want, e)
		}
	}
}

// What contradicts is what each had before they were joined.
func TestJoinedCopiesContradict(t *testing.T) {
	first := aCopy(t, "", "a.pgn", 10, game("Alder, Mina", "Brook, T", line(20, "a")+" b1", "1-0", "Date", "2019.03.02"))
	fuller := aCopy(t, "", "b.pgn", 20, game("Alder, Mina", "Brook, T", line(20, "a")+" c1 c2", "0-1", "Date", "2019.03.03"))
	var kinds []string
	for _, p := range first.join(fuller) {
		kinds = append(kinds, string(p.Kind)+" "+p.Token)
	}
	if got := strings.Join(kinds, "; "); got != "dates differ 2019.03.03; results differ 0-1; moves differ " {
		t.Errorf("%q", got)
	}
}

// What is asked of two copies beside the moves: for a rival spelled in another way, and for
// a beginning.
func TestMorePliesOfDoubtfulCopies(t *testing.T) {
	part, most, whole := overlap{shorter: 30, longer: 60, beginning: true}, overlap{shorter: 57, longer: 60, beginning: true}, overlap{shorter: 60, longer: 60, identical: true}
	proven, near, day := occasion{when: coincides, close: true}, occasion{when: agrees, close: true}, occasion{when: agrees}
	for _, c := range []struct {
		quirk    string
		moves    overlap
		tags     occasion
		like     likeness
		one, two int
	}{
		{"the same", whole, day, sameName, 0, 0}, {"words in another order", whole, day, otherOrder, 0, 0}, {"initials", whole, day, initials, 0, 0},
		{"nearly the name", whole, day, nearName, 5, 2}, {"the surname", whole, day, sameSurname, 5, 2}, {"a part of it", whole, day, partSurname, 5, 2},
		{"nearly the name, a close occasion", whole, near, nearName, 0, 0}, {"another name", whole, day, unlike, 40, 40}, {"another name, a close occasion", whole, near, unlike, 40, 40},
		{"a beginning", part, day, sameName, 20, 20}, {"nearly all", most, day, sameName, 20, 4}, {"a beginning, proven", part, proven, sameName, 0, 0},
		{"nearly all, nearly the name", most, day, nearName, 25, 6}, {"a beginning, another name", part, day, unlike, 60, 60},
	} {
		if one, two := inOneFile.extra(c.moves, c.tags, c.like), inTwoFiles.extra(c.moves, c.tags, c.like); one != c.one || two != c.two {
			t.Errorf("%s: %d in one file and %d in two, want %d and %d", c.quirk, one, two, c.one, c.two)
		}
	}
	for _, c := range []struct {
		quirk              string
		id, otherID, other string
		want               likeness
	}{
		{"one number", "7", "7", "Crane, U", sameName}, {"two numbers", "7", "8", "Brook, Tomas", unlike}, {"one of them has one", "7", "", "Brook, T", initials},
		{"the other has one", "", "8", "Brook, T", initials}, {"not named", "7", "", "?", nearName}, {"another", "", "", "Crane, U", unlike},
	} {
		a := &gameCopy{rival: spell("Brook, Tomas"), id: c.id}
		b := &gameCopy{rival: spell(c.other), id: c.otherID}
		if got, back := a.rivalLike(b), b.rivalLike(a); got != c.want || back != c.want {
			t.Errorf("%s: %d, %d, want %d", c.quirk, got, back, c.want)
		}
	}
}

// Of several games that may be the same and are too short to be joined the earliest is named.
func TestPerhapsTheEarliest(t *testing.T) {
	f := newFinder()
	of := func(file, rival string) *gameCopy {
		return aCopy(t, "", file, 10, game("Alder, Mina", rival, line(13, "a"), "1/2-1/2", "Date", "2019.03.02"))
	}
	f.add(of("0.pgn", "Crane, U"))
	f.add(of("1.pgn", "Brook, T"))
	f.add(of("2.pgn", "Brook, Tomas"))
	if found, perhaps := f.find(of("3.pgn", "Brook, Tomas")); found != nil || perhaps != f.copies[1] {
		t.Errorf("found %v, perhaps %v", found, perhaps)
	}
}

// Each sign of two people under one name is told whole.
func TestSignsAreToldWhole(t *testing.T) {
	of := func(line int, rival string, more ...string) *gameCopy {
		return aCopy(t, "", "a.pgn", line, game("Alder, Mina", rival, "a3", "1-0", more...))
	}
	at := func(line int, message, hint string) pgn.Problem {
		return pgn.Problem{Kind: TwoPeople, Severity: pgn.Warning, File: "a.pgn", Line: line, Game: line / 10, Message: message, Hint: hint}
	}
	const shared, number = "if the name is shared, give the FIDE number or fewer files",
		"add --opponent %s to take the games with that number, and those without any; or put it under fide_ids in the configuration"
	for _, c := range []struct {
		quirk string
		games []*gameCopy
		want  []pgn.Problem
	}{
		{"ratings over the board, the greatest of two jumps", []*gameCopy{
			of(10, "x", "Date", "2019.03.02", "WhiteElo", "1500"), of(20, "x", "Date", "2019.04.02", "WhiteElo", "2000"), of(30, "x", "Date", "2019.05.02", "WhiteElo", "1400")},
			[]pgn.Problem{at(30, "rating 1400 (2019.05.02) after 2000 (2019.04.02, a.pgn:20) in games over the board; 2 jumps of 400 points or more", shared)}},
		{"exactly so far, a year and a week apart", []*gameCopy{
			of(10, "x", "Date", "2019.03.02", "WhiteElo", "1500"), of(20, "x", "Date", "2020.03.08", "WhiteElo", "1900")},
			[]pgn.Problem{at(20, "rating 1900 (2020.03.08) after 1500 (2019.03.02, a.pgn:10) in games over the board; 1 jump of 400 points or more", shared)}},
		{"a day later", []*gameCopy{of(10, "x", "Date", "2019.03.02", "WhiteElo", "1500"), of(20, "x", "Date", "2020.03.09", "WhiteElo", "1900")}, nil},
		{"at a host, there and back", []*gameCopy{
			of(10, "x", "Site", "https://example.org/1", "Date", "2019.03.02", "WhiteElo", "1500"), of(20, "x", "Site", "https://example.org/2", "Date", "2019.03.03", "WhiteElo", "1900"),
			of(30, "x", "Site", "https://example.org/3", "Date", "2019.03.04", "WhiteElo", "1500")},
			[]pgn.Problem{at(20, "rating 1900 (2019.03.03) after 1500 (2019.03.02, a.pgn:10) in games at example.org; 2 jumps of 400 points or more", shared)}},
		{"online, with a clock", []*gameCopy{
			of(10, "x", "UTCTime", "10:00:00", "TimeControl", "300", "Date", "2019.03.02", "WhiteElo", "1500"), of(20, "x", "UTCTime", "11:00:00", "TimeControl", "300", "Date", "2019.03.02", "WhiteElo", "1900"),
			of(30, "x", "UTCTime", "12:00:00", "TimeControl", "300", "Date", "2019.03.02", "WhiteElo", "1450")},
			[]pgn.Problem{at(30, "rating 1450 (2019.03.02) after 1900 (2019.03.02, a.pgn:20) in games online, time control 300; 2 jumps of 400 points or more", shared)}},
		{"numbers, the one of most games first, and their years", []*gameCopy{
			of(10, "x", "WhiteFideId", "111", "Date", "2001.??.??"), of(20, "x", "WhiteFideId", "222", "Date", "2019.03.02"), of(30, "x", "WhiteFideId", "222", "Date", "2017.03.02"),
			of(40, "x", "WhiteFideId", "333"), of(50, "x", "WhiteFideId", "222")},
			[]pgn.Problem{at(10, "3 FIDE numbers under these names: 222 (3 games, 2017-2019), 111 (1 game, 2001), 333 (1 game)", fmt.Sprintf(number, "222"))}},
		{"numbers of a federation, more than are named", []*gameCopy{
			of(10, "x", "WhiteClubId", "a1"), of(20, "x", "WhiteClubId", "a2"), of(30, "x", "WhiteClubId", "a3"), of(40, "x", "WhiteClubId", "a4"), of(50, "x", "WhiteClubId", "a5"), of(60, "x", "WhiteClubId", "a6")},
			[]pgn.Problem{at(20, "6 numbers (ClubId) under these names: A1 (1 game), A2 (1 game), A3 (1 game), A4 (1 game), and 2 more", fmt.Sprintf(number, "'ClubId A1'"))}},
		{"places", []*gameCopy{of(10, "x", "Date", "2019.03.02", "Site", "Aldbury"), of(20, "x", "Date", "2019.03.02", "Site", "Norwick")},
			[]pgn.Problem{at(20, "on 2019.03.02 in Norwick, and in Aldbury (a.pgn:10)", shared)}},
		{"places of two days, the first is told", []*gameCopy{
			of(10, "x", "Date", "2019.03.02", "Site", "Aldbury"), of(20, "x", "Date", "2019.03.02", "Site", "Norwick"), of(30, "x", "Date", "2019.03.02", "Site", "Elmley"),
			of(40, "x", "Date", "2019.03.05", "Site", "Norwick"), of(50, "x", "Date", "2019.03.05", "Site", "Aldbury")},
			[]pgn.Problem{at(20, "on 2019.03.02 in Norwick, and in Aldbury (a.pgn:10); 2 such days", shared)}},
		{"one place, told less closely before", []*gameCopy{of(10, "x", "Date", "2019.03.02", "Site", "Aldbury"), of(20, "x", "Date", "2019.03.02", "Site", "Aldbury, Town Hall")}, nil},
	} {
		if got := doubts(c.games); !slices.Equal(got, c.want) {
			t.Errorf("%s:\n%#v, want\n%#v", c.quirk, got, c.want)
		}
	}
	fetched := aCopy(t, "club", "b.pgn", 20, game("Alder, Mina", "x", "a3", "1-0"))
	if p := doubt(fetched.game, "so"); p.Source != "club" || ratingList(fetched.game) != "games from club" || !online(fetched.game) {
		t.Errorf("%+v in %s", p, ratingList(fetched.game))
	}
}

// When a newer text at an address, or of a round, is the same game as the older one.
func TestWhatIsACorrection(t *testing.T) {
	of := func(rival, moves string, tags ...string) *gameCopy {
		return keptEntry(aCopy(t, "", "a", 10, game("Alder, Mina", rival, moves, "1-0", tags...)).game)
	}
	old := of("Brook, T", line(24, "a"), "Date", "2019.03.02", "Round", "4", "UTCTime", "18:00:00")
	for _, c := range []struct {
		quirk               string
		newer               *gameCopy
		own, event, inRound bool // at its own address, at one that may be the event's, in one round
	}{
		{"the moment, nothing else", of("Crane, U", line(4, "c"), "Date", "2019.03.02", "UTCTime", "18:00:00"), true, true, false},
		{"twenty half-moves, another rival", of("Crane, U", line(20, "a"), "Date", "2019.03.09"), true, true, false},
		{"a slip, another rival and day", of("Crane, U", "a1 a2 a3 a4 h5 a6 a7 a8 "+line(16, "a"), "Date", "2019.03.09"), true, true, false},
		{"nineteen half-moves, another rival", of("Crane, U", line(19, "a"), "Date", "2019.03.02"), false, false, false},
		{"nineteen half-moves, another day", of("Brook, T", line(19, "a"), "Date", "2019.03.09"), true, false, false},
		{"nineteen half-moves, another round", of("Brook, T", line(19, "a"), "Date", "2019.03.02", "Round", "5"), true, false, false},
		{"three quarters of the moves", of("Brook, T", line(9, "a")+" "+line(6, "c")+" "+line(9, "b"), "Date", "2019.03.09"), false, false, false},
		{"other moves, the day and the round", of("Brook, T", line(24, "c"), "Date", "2019.03.02", "Round", "4"), true, false, false},
		{"other moves, another time of the day", of("Brook, T", line(24, "c"), "Date", "2019.03.02", "UTCTime", "19:00:00"), false, false, false},
		{"no moves, the day and the round", of("Brook, T", "", "Date", "2019.03.02", "Round", "4"), true, true, false},
		{"no moves, another day", of("Brook, T", "", "Date", "2019.03.03"), false, false, false},
		{"no moves, another rival", of("Crane, U", "", "Date", "2019.03.02"), false, false, false},
	} {
		if own, event, inRound := atOneAddress(old, c.newer), atOnePlace(old, c.newer), inOneRound(old, c.newer); own != c.own || event != c.event || inRound != c.inRound {
			t.Errorf("%s: %v %v %v, want %v %v %v", c.quirk, own, event, inRound, c.own, c.event, c.inRound)
		}
	}
}
