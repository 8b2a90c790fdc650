package main

import (
	"math"
	"time"
)

// The people of the demo. None of them exists.
const (
	youName      = "Pellworth, Ines"
	themName     = "Hallvoss, Imke"
	themShort    = "Hallvoss, I."
	themHandle   = "tallowmoth"
	seriesStart  = "2022-09-15"
	seriesEnd    = "2026-11-20"
	dayFormat    = "2006.01.02"
	secondFormat = "15:04:05"
)

// rival is somebody the opponent meets.
type rival struct {
	name   string
	rating int
}

var clubPlayers = []rival{
	{"Aldwick, Perrin", 1712}, {"Bramholt, Suse", 1845}, {"Corvane, Teodor", 1968}, {"Drosselby, Anik", 1790},
	{"Eddlestan, Roy", 1655}, {"Fennimor, Kaia", 1903}, {"Garrowby, Len", 1734}, {"Hexlund, Pia", 2041},
	{"Istrane, Marko", 1820}, {"Jessamyde, Colm", 1688}, {"Karstow, Elin", 1876}, {"Lindqvarn, Ott", 1760},
	{"Mürzbergen, Falk", 1931}, {"Nettleforth, Dilys", 1797}, {"Orsolan, Béla", 1842}, {"Pasternoy, Vit", 1701},
	{"Quernmoor, Hal", 1779}, {"Rosvinge, Åse", 1889}, {"Štěpkovan, Jiří", 2015}, {"Tarnbeck, Ruth", 1745},
	{"Uldricks, Sven", 1672}, {"Vantongerel, Bas", 1858}, {"Wexcombe, Ida", 1806}, {"Yarrowlee, Tam", 1919},
	{"Zubrinek, Łukasz", 1767}, {"Ostermoor, Jan", 1640},
}

var handles = []rival{
	{"rookery_nook", 1985}, {"zugzwangler", 2064}, {"quietknight42", 1911}, {"lemonfork", 1876}, {"b4andafter", 1948},
	{"castle_late", 1822}, {"mossy_bishop", 2003}, {"endgame_enid", 2110}, {"kettle_on", 1854}, {"fianchetto_fred", 1937},
	{"tempo_lost", 1890}, {"driftwood9", 1969}, {"copperpot", 1793}, {"night_ferry", 2042}, {"windmill_will", 1915},
	{"plumline", 2081}, {"oddsandevens", 1867}, {"seventhrank", 1993}, {"passed_pawn_pat", 1930}, {"snowgoose3", 1842},
	{"harbour_light", 1958}, {"skewerton", 2027}, {"backrank_betty", 1811}, {"thimblerig", 1902}, {"luftikus_l", 1974},
	{"desperado_di", 1888}, {"marzipan64", 2055}, {"gravelpit", 1925}, {"tin_whistle", 1836}, {"hedgehogmum", 1999},
}

// event is a competition over the board.
type event struct {
	name, site  string
	first       string // day of the first game
	every       int    // days between rounds; 0 for a weekend of two rounds a day
	games       int
	control     string
	team        bool   // a league match, with teams in the tags
	short       bool   // the first name is only an initial in this event's files
	dates       string // how much of the date is known: empty, "month", "year"
	youAt       int    // the round played against you, 0 if none
	youAreWhite bool
}

var events = []event{
	{name: "Weirside Club Championship", site: "Weirside", first: "2022-09-15", every: 21, games: 7, control: "5400+30", dates: "month"},
	{name: "Saltmarsh Weekend Open", site: "Saltmarsh", first: "2023-05-06", games: 5, control: "5400+30", short: true},
	{name: "Fenlight League, Division 3", site: "Orrelby", first: "2023-10-06", every: 28, games: 7, control: "40/5400+30:1800+30", team: true, short: true},
	{name: "Marrow Hill Spring Open", site: "Marrow Hill", first: "2024-03-29", games: 6, control: "5400+30", short: true},
	{name: "Weirside Club Championship", site: "Weirside", first: "2024-05-02", every: 14, games: 5, control: "5400+30", dates: "year"},
	{name: "Fenlight League, Division 2", site: "Orrelby", first: "2024-10-04", every: 28, games: 7, control: "40/5400+30:1800+30", team: true, youAt: 4, youAreWhite: true},
	{name: "Saltmarsh Weekend Open", site: "Saltmarsh", first: "2025-05-03", games: 5, control: "5400+30", short: true},
	{name: "Fenlight League, Division 2", site: "Orrelby", first: "2025-10-03", every: 28, games: 7, control: "40/5400+30:1800+30", team: true, youAt: 6},
	{name: "Marrow Hill Spring Open", site: "Marrow Hill", first: "2026-04-03", games: 5, control: "5400+30"},
	{name: "Tern Island Summer Festival", site: "Tern Island", first: "2026-08-03", every: 1, games: 4, control: ""},
	{name: "Fenlight League, Division 2", site: "Orrelby", first: "2026-10-02", every: 21, games: 3, control: "40/5400+30:1800+30", team: true},
}

// control is a time control of the fast games, in seconds.
type control struct {
	start, increment int
	kind             string // blitz or rapid
	weight           int
}

var controls = []control{
	{180, 2, "Blitz", 38}, {300, 0, "Blitz", 22}, {300, 3, "Blitz", 16}, {600, 5, "Rapid", 16}, {900, 10, "Rapid", 8},
}

// ratingOn is the opponent's rating of a list on a day: a rise with ups and downs.
func ratingOn(day time.Time, from, to, wave float64) int {
	first, last := date(seriesStart), date(seriesEnd)
	share := float64(day.Sub(first)) / float64(last.Sub(first))
	return int(math.Round(from + (to-from)*share + wave*math.Sin(share*23)))
}

// date reads a day written by ourselves in this package.
func date(s string) time.Time {
	t, err := time.Parse(time.DateOnly, s)
	if err != nil {
		panic(err)
	}
	return t
}
