package pgn

import (
	"strings"
	"testing"
)

// tagsOf reads 'Name value' lines.
func tagsOf(lines ...string) (tags Tags) {
	for _, line := range lines {
		name, value, _ := strings.Cut(line, " ")
		tags = append(tags, Tag{name, value})
	}
	return tags
}

// Tags that all tell something, each its own; and the same with what they say for
// 'unknown'.
func TestHeader(t *testing.T) {
	got := ReadHeader(tagsOf("Event Spring Blitz", "Site https://Games.example.org/g/12?side=w#5", "Date 2026.11.02", "Round 4.2",
		"White Alder, Mina", "Black Rowan, T", "Result 1:0", "WhiteElo 2101", "BlackElo 1999", "WhiteTitle WFM", "BlackTitle BOT",
		"WhiteFideId 0012345", "BlackFideId 67", "BlackNationalId 0c12-3", "BlackTeamId 9", "TimeControl 300+3", "UTCDate 2026.11.01", "UTCTime 23:59:58", "StartTime 00:59",
		"Time 01:02:03", "ECO C42", "GameId g77"))
	want := Header{
		White: Player{"Alder, Mina", 2101, "WFM", "12345", "", "", false}, Black: Player{"Rowan, T", 1999, "BOT", "67", "C12-3", "NationalId", true},
		Event: "Spring Blitz", Site: "https://Games.example.org/g/12?side=w#5", Round: "4.2",
		Date: Date{2026, 11, 2}, UTCDate: Date{2026, 11, 1},
		UTCTime: 23*3600 + 59*60 + 58 + 1, StartTime: 59*60 + 1, Time: 3600 + 2*60 + 3 + 1,
		Control: Control{"300+3", 300, 3, 480, 0}, Speed: Blitz,
		Venue: Venue{"games.example.org", "", true}, Page: Address{"games.example.org", "/g/12?side=w"}, Number: "g77",
		Result: "1-0", ECO: "C42",
	}
	if got != want {
		t.Errorf("got  %+v\nwant %+v", got, want)
	}
	got = ReadHeader(tagsOf("Event ?", "Site -", "Date ????.??.??", "Round ?", "White ?", "Black -", "Result *", "WhiteElo 0",
		"BlackElo -", "WhiteTitle -", "WhiteFideId 0", "BlackFideId ?", "TimeControl -", "UTCDate ?", "UTCTime ?", "Time ?",
		"StartTime ", "ECO ?", "GameId ?", "FEN ?", "SetUp 0", "Variant ?", "Mode ?", "EventType -", "Termination ?", "Link ?"))
	if got != (Header{}) {
		t.Errorf("tags that say nothing: %+v", got)
	}
}

func TestLastValueCounts(t *testing.T) {
	h := ReadHeader(tagsOf("WhiteElo 2000", "Date 2024.01.01", "WhiteElo 2100", "Date 2025.01.01"))
	if h.White.Elo != 2100 || h.Date.Year != 2025 {
		t.Errorf("%+v", h)
	}
}

func TestControl(t *testing.T) {
	for tag, want := range map[string]Control{
		"300":             {"300", 300, 0, 300, 0},
		"0+5":             {"0+5", 0, 5, 300, 0},
		"180+2":           {"180+2", 180, 2, 300, 0},
		"40/5400+30:1800": {"40/5400+30:1800", 5400, 30, 5400 + 40*30 + 1800, 0},
		"40/7200:3600":    {"40/7200:3600", 7200, 0, 10800, 0},
		"60/7200:3600":    {"60/7200:3600", 7200, 0, 7200, 0},
		"1/86400":         {"1/86400", 86400, 0, 86400, 1},
		"1/259200":        {"1/259200", 259200, 0, 259200, 3},
		"10/3024000":      {"10/3024000", 3024000, 0, 3024000, 3},
		"3 Days a move":   {"3 Days a move", 0, 0, 0, 1},
		"0/300":           {"0/300", 300, 0, 0, 0},
		// At most 60 moves count, and increments for those of their period.
		"80/7200+10":            {"80/7200+10", 7200, 10, 7800, 0},
		"40/5400+30:30/1800+10": {"40/5400+30:30/1800+10", 5400, 30, 5400 + 40*30 + 1800 + 20*10, 0},
		"40/5400:an hour":       {"40/5400:an hour", 5400, 0, 0, 0},
		// Six hours a move are too many for a sitting.
		"1/21599":            {"1/21599", 21599, 0, 21599, 0},
		"1/21600":            {"1/21600", 21600, 0, 21600, 1},
		"1/86400+3600":       {"1/86400+3600", 86400, 3600, 90000, 1},
		"10/3024000:1/86400": {"10/3024000:1/86400", 3024000, 0, 3024000 + 86400, 3},
		" 300 ":              {" 300 ", 300, 0, 300, 0},
		"999999999":          {"999999999", 999999999, 0, 999999999, 0},
		"1000000000":         {Text: "1000000000"}, // no clock shows as much
		"300+":               {Text: "300+"},
		"-300":               {Text: "-300"},
		"an hour":            {Text: "an hour"},
		"?":                  {},
		"":                   {},
	} {
		if got := ParseControl(tag); got != want {
			t.Errorf("ParseControl(%q) = %+v, want %+v", tag, got, want)
		}
	}
}

func TestClock(t *testing.T) {
	for tag, want := range map[string]int{
		"00:00:00": 0, "18:30:05": 18*3600 + 30*60 + 5, "18:30": 18*3600 + 30*60, " 7:05 ": 7*3600 + 5*60, "18:30:05.250": 18*3600 + 30*60 + 5,
		"": -1, "?": -1, "??:??:??": -1, "18": -1, "24:00:00": -1, "18:60": -1, "18:30:60": -1, "18:30:05:01": -1, "018:30": -1, "18:030": -1, "23:59:59": 24*3600 - 1, "18:30:05.": 18*3600 + 30*60 + 5, "evening": -1, "18:": -1,
	} {
		if got := ParseClock(tag).Seconds(); got != want {
			t.Errorf("ParseClock(%q) = %d, want %d", tag, got, want)
		}
	}
}

// The speed by the control, and without one by whole words of the event, in the
// languages of European players.
func TestSpeed(t *testing.T) {
	for event, want := range map[string]Speed{
		"City Rapid 2025": Rapid, "Blitz": Blitz, "3. Schnellschachopen": Rapid, "Schnellschach-Cup": Rapid, "Blitzturnier der Stadt": Blitz,
		"Vereinsblitz": UnknownSpeed, "Blitzmannschaftsmeisterschaft": Blitz, "Open rapide de Pâques": Rapid, "NK Snelschaak": Blitz,
		"Torneo relámpago": Blitz, "TORNEO RELÁMPAGO": Blitz, "Torneo relampago": Blitz, "Semi-rápidas": UnknownSpeed, "Torneio semirrápidas": Rapid,
		"Semilampo di Natale": Rapid, "Torneo lampo": Blitz, "Hurtigskak": Rapid, "Lynskak": Blitz, "Lynsjakk-NM": Blitz, "Snabbschack-SM": Rapid,
		"Hraðskák": Blitz, "Szachy szybkie": Rapid, "Mistrzostwa błyskawiczne": Blitz, "Bleskový turnaj": Blitz, "Villámverseny": Blitz,
		"Рапид": Rapid, "БЛИЦ": Blitz, "rated bullet game": Bullet, "Classical": Classical,
		"Rapid & Blitz Festival": UnknownSpeed, "Rapidshire Open": UnknownSpeed, "Blitzen Memorial": UnknownSpeed, "Classic Cup": UnknownSpeed,
		"Blitz–Cup": Blitz, "Rapid Rapidplay": Rapid, "Rapid & Blitz, Blitz Cup": UnknownSpeed,
		"Quick Club Open": UnknownSpeed, "": UnknownSpeed, "Ten": UnknownSpeed, strings.Repeat("x", 100) + "blitz": UnknownSpeed,
	} {
		if got := ReadHeader(tagsOf("Event " + event)).Speed; got != want {
			t.Errorf("event %q: %v, want %v", event, got, want)
		}
		h := ReadHeader(tagsOf("Event "+event, "TimeControl 5400+30"))
		if h.Speed != Classical {
			t.Errorf("event %q with a classical control: %v", event, h.Speed)
		}
		h = ReadHeader(tagsOf("Event "+event, "TimeControl ?"))
		if h.Control.Speed() != UnknownSpeed {
			t.Errorf("event %q tells the control: %v", event, h.Control)
		}
	}
	if h := ReadHeader(tagsOf("Event Town Cup", "EventType rapid swiss")); h.Speed != Rapid {
		t.Errorf("by EventType: %v", h.Speed)
	}
}

func TestManner(t *testing.T) {
	for _, c := range []struct {
		want Manner
		tags string
	}{
		{UsualManner, "Event Spring Open"}, {UsualManner, "Event Corrib Cup"}, {UsualManner, "Event Blind Players' Championship"},
		{Correspondence, "Event corr Cup"}, {Correspondence, "Event Correspondence Cup"}, {Correspondence, "Event 3. Fernschachpokal"},
		{Correspondence, "Event Eurofernschach"}, {Correspondence, "Event 2. Fernturnier"}, {Correspondence, "Event Radiopostal Cup"},
		{Correspondence, "EventType postal"}, {Correspondence, "Mode EM"}, {Correspondence, "Mode pm"}, {Correspondence, "Mode  em "}, {UsualManner, "Mode OTB"},
		{Correspondence, "TimeControl 1/86400"}, {UsualManner, "TimeControl 40/7200"},
		{Simultaneous, "Event Simul, 20 boards"}, {Simultaneous, "Event Uhrensimultan"}, {Simultaneous, "EventType simultanée"},
		{Blindfold, "Event Blindfold Rapid"}, {Blindfold, "Event Torneo a ciegas"}, {Simultaneous, "Event Blindfold simul"},
	} {
		if got := ReadHeader(tagsOf(c.tags)).Manner; got != c.want {
			t.Errorf("%s: %v, want %v", c.tags, got, c.want)
		}
	}
	if h := ReadHeader(tagsOf("Event Correspondence blitz cup")); h.Speed != UnknownSpeed {
		t.Errorf("sent moves have the speed %v", h.Speed)
	}
	if h := ReadHeader(tagsOf("Event Blindfold Rapid")); h.Speed != Rapid {
		t.Errorf("blindfold rapid has the speed %v", h.Speed)
	}
}

func TestVenue(t *testing.T) {
	place := func(name string) Venue { return Venue{Place: name} }
	for _, c := range []struct {
		want Venue
		tags []string
	}{
		{place("Weirside"), []string{"Site Weirside"}}, {place("St.Olmar"), []string{"Site St.Olmar"}}, {place("Weirside, Hall 3.2"), []string{"Site Weirside, Hall 3.2"}},
		{Venue{}, nil}, {Venue{}, []string{"Site ?"}}, {place("Intford"), []string{"Site Intford"}}, {Venue{}, []string{"TimeControl 300+3"}},
		{Venue{"example.org", "", true}, []string{"Site Example.org"}},
		{Venue{"example.org", "", true}, []string{"Site https://user@example.org:8080/x"}},
		{Venue{"example.org", "", true}, []string{"Link https://example.org/x"}},
		{place("Weirside"), []string{"Site Weirside", "Link https://example.org/x"}},
		{Venue{"", "", true}, []string{"Site Internet"}}, {Venue{"", "", true}, []string{"Site INT"}}, {Venue{"", "", true}, []string{"Site Chess Online"}},
		{Venue{"", "", true}, []string{"Mode ICS"}}, {Venue{"", "", true}, []string{"UTCTime 10:00:00"}}, {Venue{"", "", true}, []string{"EndTime 10:00:00"}},
		{Venue{"", "", true}, []string{"UTCTime 10:00:00", "EndTime ?"}},
		{Venue{}, []string{"UTCTime ?", "UTCDate ????.??.??"}}, {Venue{"", "Weirside", true}, []string{"Site Weirside", "UTCTime 10:00:00"}},
	} {
		if got := ReadHeader(tagsOf(c.tags...)).Venue; got != c.want {
			t.Errorf("%v: %+v, want %+v", c.tags, got, c.want)
		}
	}
}

// What leads to the game itself: Site apart, since it may lead to a page of all of
// an event's games.
func TestAddresses(t *testing.T) {
	for _, c := range []struct {
		link, page string
		tags       []string
	}{
		{"/12", "", []string{"Link https://example.org/12", "GameURL https://example.org/13"}}, {"/13", "", []string{"GameURL https://example.org/13"}},
		{"/13", "/e?round=2", []string{"Site http://EXAMPLE.org/e?round=2", "GameURL https://example.org:443/13"}},
		{"", "", []string{"Link https://example.org/", "Site https://example.org", "GameURL example.org/12"}},
	} {
		h := ReadHeader(tagsOf(c.tags...))
		if h.Link.Path != c.link || h.Page.Path != c.page || c.page != "" && h.Page.Host != "example.org" {
			t.Errorf("%v: link %+v, page %+v", c.tags, h.Link, h.Page)
		}
	}
}

// The number of a federation, as it writes them.
func TestNumbers(t *testing.T) {
	for tag, want := range map[string][3]string{ // ID, Local, Body
		"WhiteFideId 0012345": {"12345"}, "WhiteFIDEID 12345": {"12345"}, "WhiteFIDEid 12345": {"12345"}, "WhiteFideId 12a": {}, "WhiteFideId 0": {},
		"WhiteNationalId 0012345": {"", "12345", "NationalId"}, "WhitePlayerID c 12": {"", "", "PlayerID"}, "WhiteId d12/3-x": {"", "D12/3-X", "Id"},
		"WhiteNationalId ?": {"", "", "NationalId"}, "WhiteNationalId alder": {"", "", "NationalId"}, "WhiteTeamId 12": {}, "WhiteClub 12": {}, "WhiteAid 12": {},
		"WhiteNationalId 123456789012345678901": {"", "", "NationalId"},
	} {
		p := ReadHeader(tagsOf(tag)).White
		if got := [3]string{p.ID, p.Local, p.Body}; got != want {
			t.Errorf("%s: %q, want %q", tag, got, want)
		}
	}
}

// The players alone, then the rest; and the other way round.
func TestPlayersFirst(t *testing.T) {
	tags := tagsOf("White Alder, Mina", "Date 2026.11.02", "BlackElo 1999", "BlackFideId 7", "Result 1-0")
	g := &Game{tags: tags}
	if white, black := g.Players(); white.Name != "Alder, Mina" || black.Elo != 1999 || black.ID != "7" || g.header.Result != "" {
		t.Errorf("players %+v, %+v, header %+v", white, black, g.header)
	}
	if h := *g.Header(); h != ReadHeader(tags) {
		t.Errorf("%+v", h)
	}
	if white, _ := g.Players(); white != &g.header.White || g.header.Result != "1-0" {
		t.Error("asking for the players loses the rest")
	}
	before := g.Header()
	g.SetTags(tags[1:])
	if white, _ := g.Players(); white.Name != "" {
		t.Errorf("the players of the tags before: %+v", white)
	}
	if before.White.Name != "Alder, Mina" {
		t.Errorf("a header handed out before has changed: %+v", before)
	}
}

func TestStart(t *testing.T) {
	const usual = "rnbqkbnr/pppppppp/8/8/8/8/PPPPPPPP/RNBQKBNR"
	for _, c := range []struct {
		want Start
		tags []string
	}{
		{UsualStart, nil}, {UsualStart, []string{"SetUp 0"}}, {UsualStart, []string{"FEN " + usual + " w KQkq - 0 1", "SetUp 1"}},
		{UsualStart, []string{"FEN  " + usual + "  w KQkq -"}}, {UsualStart, []string{"FEN " + usual + "\tw KQkq\t- 0 1"}}, {UsualStart, []string{"FEN ?"}}, {UsualStart, []string{"Variant Standard"}},
		{SetUp, []string{"SetUp 1"}}, {SetUp, []string{"FEN " + usual}}, {SetUp, []string{"FEN " + usual + " b KQkq - 0 1"}},
		{SetUp, []string{"FEN " + usual + " w KQk - 0 1"}}, {SetUp, []string{"FEN " + usual + " w KQkq -x"}}, {SetUp, []string{"FEN 8/8/8/4k3/8/4K3/4P3/8 w - - 0 1"}},
		{SetUp, []string{"Variant From Position", "FEN 8/8/8/4k3/8/4K3/4P3/8 w - - 0 1"}},
		{OtherVariant, []string{"Variant Kriegspiel"}}, {OtherVariant, []string{"Variant Chess960", "FEN " + usual + " w KQkq - 0 1"}},
	} {
		if got := ReadHeader(tagsOf(c.tags...)).Start; got != c.want {
			t.Errorf("%v: %v, want %v", c.tags, got, c.want)
		}
	}
}

func TestNotPlayed(t *testing.T) {
	for tag, want := range map[string][2]bool{ // Unplayed, ByDefault
		"Termination Forfeit": {true, false}, "Termination time forfeit": {false, false}, "Termination bye": {true, false}, "Termination  unplayed ": {true, false}, "Result  0-0 ": {false, true}, "Result 0:0": {false, true},
		"Result 1/2-1/2f": {false, true}, "Result off": {false, false},
		"Result +:-": {false, true}, "Result 1-0F": {false, true}, "Result 0-0": {false, true}, "Result 1-0": {false, false},
		"Result F": {false, false}, "Result +/-": {false, true}, "Result ": {false, false},
	} {
		h := ReadHeader(tagsOf(tag))
		if got := [2]bool{h.Unplayed, h.ByDefault}; got != want {
			t.Errorf("%s: %v, want %v", tag, got, want)
		}
	}
}

func TestMachine(t *testing.T) {
	for tag, want := range map[string]bool{
		"White Computer": true, "Black engine level 5": true, "White Engineer, A": false, "Black Kengine": false, "BlackTitle bot": true,
		"WhiteType program": true, "WhiteType human": false, "White Éngine": false,
	} {
		h := ReadHeader(tagsOf(tag))
		if got := h.White.Machine || h.Black.Machine; got != want {
			t.Errorf("%s: %v, want %v", tag, got, want)
		}
	}
}

func TestContradict(t *testing.T) {
	for _, c := range []struct {
		a, b string
		want bool
	}{
		{"2026.11.02", "2026.11.02", false}, {"2026.11.02", "2026.11.03", true}, {"2026.11.02", "2026.11.??", false}, {"2026.11.02", "2026.??.??", false},
		{"2026.11.02", "2026.10.??", true}, {"2026.11.??", "2025.??.??", true}, {"2026.11.02", "????.??.??", false}, {"2026.11.??", "2026.10.??", true},
	} {
		a, b := ParseDate(c.a), ParseDate(c.b)
		if a.Contradicts(b) != c.want || b.Contradicts(a) != c.want {
			t.Errorf("%s and %s: want %v", c.a, c.b, c.want)
		}
	}
}

// When a game began is told by UTC, if it is told; it orders the games of a day.
func TestBegan(t *testing.T) {
	for _, c := range []struct {
		tags []string
		want int // seconds of the day
	}{
		{[]string{"UTCTime 16:30:00", "StartTime 18:30:00", "Time 18:31:00"}, 16*3600 + 30*60},
		{[]string{"StartTime 18:30:00", "Time 18:31:00"}, 18*3600 + 30*60},
		{[]string{"Time 18:31:00"}, 18*3600 + 31*60},
		{nil, -1},
	} {
		h := ReadHeader(tagsOf(c.tags...))
		if got := h.Began().Seconds(); got != c.want {
			t.Errorf("%q: %d, want %d", c.tags, got, c.want)
		}
	}
}

// The room of the header serves one game after another: what it says is always of
// the game at hand, and a clone keeps its own.
func TestHeaderIsOfTheGame(t *testing.T) {
	const text = "[White \"Alder, M\"]\n[WhiteElo \"2000\"]\n[Date \"2026.11.02\"]\n\n1. e4 *\n\n[White \"Rowan, T\"]\n\n1. d4 *\n\n[Date \"2025.??.??\"]\n\n1. c4 *\n"
	for _, passing := range []bool{false, true} {
		var kept []*Game
		var got []string
		for g := range NewReader(strings.NewReader(text), Options{Passing: passing}).All() {
			kept = append(kept, g.Clone())
			h := g.Header()
			got = append(got, h.White.Name+"|"+h.Date.String())
			kept = append(kept, g.Clone())
		}
		if want := "Alder, M|2026-11-02 Rowan, T| |2025"; strings.Join(got, " ") != want {
			t.Errorf("passing %v: %q, want %q", passing, got, want)
		}
		for i, g := range kept {
			if h := g.Header(); h.White.Name+"|"+h.Date.String() != got[i/2] {
				t.Errorf("passing %v: clone %d has the header %+v", passing, i, h)
			}
		}
	}
}

// Reading the header of a usual game takes no memory, so that an archive can be
// judged by it.
func TestHeaderAllocatesNothing(t *testing.T) {
	g := &Game{tags: tagsOf("Event 12th Spring Blitz Open", "Site Weirside, Hall 3", "Date 2026.11.??", "Round 4.2", "White Alder, Mina", "Black Rowan, Tom",
		"Result 1/2-1/2", "WhiteElo 2101", "BlackElo ?", "ECO C42", "TimeControl 40/7200:3600", "UTCDate 2026.11.02", "UTCTime 18:30:00", "Termination normal",
		"WhiteFideId 12345", "WhiteTitle FM", "Link https://games.example.org/12", "PlyCount 40")}
	g.Header()
	if n := testing.AllocsPerRun(100, func() {
		g.headed = nothingRead
		g.Header()
	}); n > 0 {
		t.Errorf("%v allocations", n)
	}
}

func BenchmarkHeader(b *testing.B) {
	tags := tagsOf("Event 12th Spring Open", "Site Weirside", "Date 2026.11.02", "Round 4.2", "White Alder, Mina", "Black Rowan, Tom",
		"Result 1/2-1/2", "WhiteElo 2101", "BlackElo 1999", "ECO C42")
	g := &Game{tags: tags}
	for b.Loop() {
		g.headed = nothingRead
		if h := g.Header(); !h.Date.Full() {
			b.Fatal(h)
		}
	}
}
