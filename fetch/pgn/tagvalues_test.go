package pgn

import "testing"

// The position comes without blanks around it, with other rules too.
func TestStartHasItsPosition(t *testing.T) {
	const fen = "8/8/8/4k3/8/4K3/4P3/8 w - - 0 1"
	for _, c := range []struct {
		want Header
		tags []string
	}{
		{Header{Start: SetUp, FEN: fen}, []string{"FEN  " + fen + " "}},
		{Header{Start: OtherVariant, Variant: "Kriegspiel", FEN: fen}, []string{"FEN " + fen + " ", "Variant  Kriegspiel "}},
		{Header{Start: SetUp}, []string{"SetUp  1 "}},
	} {
		if got := ReadHeader(tagsOf(c.tags...)); got != c.want {
			t.Errorf("%q: %+v", c.tags, got)
		}
	}
}

// Tags of a player, each at its bounds.
func TestPlayerTags(t *testing.T) {
	for _, c := range []struct {
		want Player
		tags []string
	}{
		{Player{Elo: 2101}, []string{"WhiteElo  2101 "}}, {Player{Elo: 3999}, []string{"WhiteElo 3999"}}, {Player{}, []string{"WhiteElo 4000"}},
		{Player{Title: "GM", Machine: true}, []string{"WhiteType program", "WhiteTitle GM"}},
		{Player{Title: "BOT", Machine: true}, []string{"WhiteTitle BOT", "WhiteType human"}},
		{Player{Local: "Z90", Body: "NationalId"}, []string{"WhiteNationalId 0z90"}}, {Player{Local: "9", Body: "Id"}, []string{"WhiteId 9"}},
		{Player{Local: "12345678901234567890", Body: "Id"}, []string{"WhiteId 12345678901234567890"}},
		{Player{ID: "12345678901234567890"}, []string{"WhiteFideId 12345678901234567890"}}, {Player{}, []string{"WhiteFideId 123456789012345678901"}}, {Player{}, []string{"WhiteFideId 12/3"}}, {Player{}, []string{"WhiteFideId 12.5"}},
	} {
		if got := ReadHeader(tagsOf(c.tags...)).White; got != c.want {
			t.Errorf("%q: %+v, want %+v", c.tags, got, c.want)
		}
	}
}

// What says nothing, and what does; the words for chapters come in small letters.
func TestTold(t *testing.T) {
	for value, told := range map[string]bool{"": false, "?": false, "-": false, "*": false, "????.??.??": false, " ? -": false, "a?": true, " x ": true, "0": true} {
		if got := Told(value); (got != "") != told || told && got != value {
			t.Errorf("%q tells %q", value, got)
		}
	}
	got := ReadHeader(tagsOf("Opening -", "Event *", "Site .", "Round -", "ECO ?", "GameId *", "Role  Trap ", "Character  SHARP "))
	if want := (Header{Role: "trap", Character: "sharp"}); got != want {
		t.Errorf("%+v", got)
	}
}

// An address taken apart: whom it asks, and for what.
func TestPartsOfAddresses(t *testing.T) {
	for value, want := range map[string]Address{
		"https://user:pw@Example.org:8080/Ab?x=1#f": {"example.org", "/Ab?x=1"}, "https://example.org?id=5": {"example.org", "?id=5"}, " https://example.org/a ": {"example.org", "/a"},
		"https://example.org": {}, "https://example.org/": {}, "https://example.org//#x": {}, "example.org/a": {}, "https:///a": {}, "": {},
	} {
		if got := gameAddress(value); got != want {
			t.Errorf("%q: %+v, want %+v", value, got, want)
		}
	}
	for site, want := range map[string]Venue{
		" Example.ORG ": {Place: " Example.ORG "}, " My-Club.Example.org ": {Host: "my-club.example.org", Online: true}, "https://Example.org": {Host: "example.org", Online: true},
		"Aldbury (internet)": {Online: true}, "Playing ONLINE": {Online: true}, "Aldbury, int": {Online: true}, "Aldbury, Printworks": {Place: "Aldbury, Printworks"},
	} {
		if got := ReadHeader(Tags{{"Site", site}}).Venue; got != want {
			t.Errorf("%q: %+v, want %+v", site, got, want)
		}
	}
	for mode, online := range map[string]bool{" ics ": true, "OTB": false} {
		if got := ReadHeader(Tags{{"Site", "Aldbury"}, {"Mode", mode}}).Venue; got != (Venue{Place: "Aldbury", Online: online}) {
			t.Errorf("mode %q: %+v", mode, got)
		}
	}
	got := ReadHeader(tagsOf("Site https://example.org/e", "Link https://host.example.org/12"))
	if got.Venue.Host != "example.org" || got.Link.Host != "host.example.org" {
		t.Errorf("%+v", got)
	}
}
