package main

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"foreply/compare/book"
	"foreply/compare/fact"
	"foreply/fetch"
	"foreply/fetch/pgn"
	"foreply/profile"
	"foreply/profile/board"
)

// flags are those of the commands that read an opponent's games. Names and
// patterns are repeated, never split: 'Last, First' has a comma.
type flags struct {
	games, opponent, me      []string
	myGames, peers           []string
	pgn, epd                 string
	both, white, black       []string // repertoire files
	first                    []string // chapters that come first
	strict                   bool     // a move of the repertoire that cannot be played is an error
	color, date, config, out string
	paper, event, round      string
	half, large, onePage     bool
	board, clock, cache      string
	theirs                   string
	plies, minutes, rating   int
	need                     string
	engine, engineTime       string
	doubleRound              bool
	json                     bool
	dryRun, full             bool
}

func (f *flags) addGames(fs *pflag.FlagSet) {
	fs.StringArrayVar(&f.games, "games", nil, "`FILES` with the opponent's games: file, glob, folder or - (repeatable)")
	fs.StringArrayVar(&f.opponent, "opponent", nil, "a `NAME`, handle or FIDE number of the opponent (repeatable)")
	fs.StringVar(&f.config, "config", "", "configuration `FILE` (default: ./"+configName+", then your configuration folder)")
	fs.StringVar(&f.cache, "cache", "", "`FOLDER` of the games that 'foreply fetch' imported")
}

// newestOfTheirs is the game whose rating counts where a sheet is made for tonight.
const newestOfTheirs = "their newest game"

// addPeers adds the peers of one opponent, whose rating is else that of one of their games.
func (f *flags) addPeers(fs *pflag.FlagSet, game string) {
	f.addPeerFiles(fs)
	fs.IntVar(&f.rating, "rating", 0, "the opponent's `RATING`, to choose peers by (default: that of "+game+")")
}

func (f *flags) addPeerFiles(fs *pflag.FlagSet) {
	fs.StringArrayVar(&f.peers, "peers", nil, "`FILES` with games of players like the opponent, dated, to lean on; or a book that 'foreply peers' made (repeatable)")
}

// addRepertoire adds the user's repertoire by colour.
func (f *flags) addRepertoire(fs *pflag.FlagSet) {
	fs.StringVar(&f.color, "my-color", "", "your `COLOUR` in the game: white, black or both; the opponent has the other (default: every colour you have a repertoire for)")
	fs.StringArrayVar(&f.both, "repertoire", nil, "`FILES` of your repertoire for the colour of --my-color (repeatable)")
	fs.StringArrayVar(&f.white, "white-repertoire", nil, "`FILES` of your repertoire with white (repeatable)")
	fs.StringArrayVar(&f.black, "black-repertoire", nil, "`FILES` of your repertoire with black (repeatable)")
}

func (f *flags) addBook(fs *pflag.FlagSet) {
	f.addRepertoire(fs)
	fs.StringArrayVar(&f.first, "main", nil, "`CHAPTER` to play tonight, a part of its name, or its file; it comes first (repeatable)")
	fs.BoolVar(&f.strict, "strict", false, "stop at a move of your repertoire that can't be played, instead of going on without its line")
	fs.StringArrayVar(&f.me, "me", nil, "a `NAME` or handle of yours, to find games between you (repeatable)")
	fs.StringArrayVar(&f.myGames, "my-games", nil, "`FILES` with your own games, to tell what can be known of you (repeatable)")
	fs.StringVar(&f.date, "date", "", "`DAY` of the game, YYYY-MM-DD (default: the day after the newest game)")
	fs.StringVar(&f.need, "need", "", "what you need, a `RESULT`: win, draw or any (default: any)")
	fs.BoolVar(&f.doubleRound, "double-round", false, "there is another round on the same day")
	fs.IntVar(&f.minutes, "minutes", 0, "`MINUTES` you have tonight for what wants work (default: 30)")
	fs.StringVar(&f.clock, "clock", "", "`TIME` control of the game, as 5400+30, or a class (default: classical)")
}

// addEngine adds the engine that looks at what the sheet leaves open.
func (f *flags) addEngine(fs *pflag.FlagSet) {
	fs.StringVar(&f.engine, "engine", "", "`COMMAND` of a UCI engine on your machine, to look at gaps and lines before the round; 'none' for none")
	fs.StringVar(&f.engineTime, "engine-time", "", "`TIME` for the engine, as 90s or 5m (default: 3m)")
}

func (a *app) addForce(fs *pflag.FlagSet) {
	fs.BoolVar(&a.force, "force", false, "replace a file that foreply did not make")
}

// addSheet adds how the sheet is printed.
func (f *flags) addSheet(fs *pflag.FlagSet) {
	fs.StringVar(&f.paper, "paper", "", "`SIZE`: a4 or letter (default: a4)")
	fs.BoolVar(&f.half, "half", false, "half of the paper, for double rounds: two to a sheet")
	fs.BoolVar(&f.large, "large", false, "larger type: fewer lines on the page")
	fs.BoolVar(&f.onePage, "one-page", false, "both colours on one page instead of a page each")
}

// task is what a command was asked to do, flags and configuration joined.
type task struct {
	opponent  fact.Opponent
	who       fetch.Who
	inputs    []fetch.Input
	me        fetch.Who
	myGames   []fetch.Input // the user's own games
	peers     []fetch.Input // games of players like the opponent
	mine      []board.Color // the user's colours
	colorOpen bool          // the colour is not known yet: mine are those with a book
	books     [2][]string   // repertoire files by colour
	first     []string      // chapters that come first, by a part of the name or by file
	mainPlace string        // where the configuration has them, if it does
	strict    bool          // a move of the repertoire that cannot be played is an error
	opened    []*book.Book  // the same, if they were read already
	when      profile.Span  // day of the game, if it is given
	class     profile.Class
	rating    int // the opponent's as given, 0 if it wasn't
	need      fact.Need
	cfg       *settings
}

// task joins flags and configuration for an opponent given by id or by name.
func (a *app) task(cmd *cobra.Command, f *flags, args []string) (*task, error) {
	cfg, err := loadConfig(f.config, cmd.Flags())
	if err != nil {
		return nil, err
	}
	if cmd.Flags().Lookup("engine") != nil { // others ask none
		a.tellHeld(cfg)
	}
	a.tellClock(cfg)
	t := &task{cfg: cfg, class: profile.Classical}
	if err := t.setOpponent(f, args); err != nil {
		return nil, err
	}
	if err := t.setInputs(f); err != nil {
		return nil, err
	}
	if len(f.games) == 0 {
		a.tellMissing(cfg, t.opponent.ID)
		a.tellGone(cfg.gone(t.opponent.ID))
	}
	return t, nil
}

// misrated says that --rating can be nobody's.
func (f *flags) misrated() error {
	return misuse(fmt.Sprintf("--rating: a rating is wanted, not %d", f.rating))
}

func (t *task) setOpponent(f *flags, args []string) error {
	switch {
	case len(args) == 1 && len(f.opponent) > 0:
		return misuse("the opponent is given twice", "give either the id of the configuration or --opponent")
	case noRating(f.rating):
		return f.misrated()
	case len(f.opponent) > 0:
		t.opponent, t.who = calledOpponent(f.opponent)
		t.rating = f.rating
		return nil
	case len(args) == 0:
		return misuse("who is the opponent?", t.cfg.hinted(t.cfg.opponentHint())...)
	}
	o, ok := t.cfg.opponentByID(args[0])
	switch {
	case !ok && !idForm.MatchString(args[0]):
		return misuse(fmt.Sprintf("%q is no id of the configuration", args[0]), fmt.Sprintf("a name goes behind --opponent: --opponent %q", args[0]))
	case !ok:
		return misuse(fmt.Sprintf("no opponent %s in the configuration", args[0]), t.cfg.hinted(append(t.cfg.notFound(), t.cfg.opponentHint())...)...)
	}
	t.opponent = o.asOpponent()
	t.who, t.rating = o.who(), cmp.Or(f.rating, o.Rating)
	return nil
}

// opponentHint says how to name one.
func (s *settings) opponentHint() string {
	if len(s.Opponents) == 0 {
		return "--opponent 'Last, First' names one; repeat it for further spellings and handles"
	}
	ids := make([]string, len(s.Opponents))
	for i, o := range s.Opponents {
		ids[i] = o.ID
	}
	return fmt.Sprintf("%s has %s; --opponent 'Last, First' names somebody else", s.file, strings.Join(ids, ", "))
}

func (s *settings) opponentByID(id string) (opponentConfig, bool) {
	for _, o := range s.Opponents {
		if o.ID == id {
			return o, true
		}
	}
	return opponentConfig{}, false
}

func (o *opponentConfig) asOpponent() fact.Opponent {
	out := fact.Opponent{ID: o.ID, Name: o.Name, Names: append([]string{}, o.Names...), Unsure: o.Unsure}
	known := append(append([]string{}, o.Names...), o.Unsure...)
	for _, h := range o.Handles {
		known = append(known, h.Handle)
	}
	if out.Name == "" {
		out.Name = append(known, o.ID)[0]
	}
	return out
}

// who is the opponent for the reading of games.
func (o *opponentConfig) who() fetch.Who {
	return fetch.Who{Names: o.Names, Unsure: o.Unsure, IDs: o.FideIDs}
}

// calledOpponent is one of the command line, where a number may stand as a name does. The
// sheet has the first name.
func calledOpponent(given []string) (fact.Opponent, fetch.Who) {
	who := fetch.Who{Names: given}
	title := given[0]
	for _, text := range slices.Backward(given) {
		if isNumber(text) {
			who.IDs = append(who.IDs, text)
		} else {
			title = text
		}
	}
	return fact.Opponent{Name: title, Names: given}, who
}

// shortestID is how many digits make a name the number of a federation.
const shortestID = 5

// isNumber tells the number of a federation from a name or a handle: 'NationalId 12', as
// tags write that word, from 'Sigrid 2'.
func isNumber(text string) bool {
	if word, _, behind := strings.Cut(text, " "); behind && (strings.HasSuffix(word, "Id") || strings.HasSuffix(word, "ID")) {
		return fetch.ParseNumber(text).Number != ""
	}
	return len(text) >= shortestID && strings.Trim(text, "0123456789") == ""
}

// setInputs takes the games of the flags, else those of the configuration, and
// the peers' games.
func (t *task) setInputs(f *flags) error {
	t.peers = patterns(f.peers, t.cfg.Peers)
	t.inputs = patterns(f.games, nil)
	if len(t.inputs) == 0 {
		t.inputs = sourceInputs(t.cfg, t.opponent.ID)
	}
	if len(t.inputs) > 0 || t.byPeers() {
		return t.cfg.thereAre(slices.Concat(t.inputs, t.peers))
	}
	id := t.opponent.ID
	if unfetched, _ := t.cfg.lacking(id); len(unfetched) > 0 {
		return advise(fmt.Errorf("no games of %s yet", id), fmt.Sprintf("'foreply fetch %s' gets them", id))
	}
	return noSources(t.cfg)
}

// byPeers reports whether a sheet can be made of an opponent without a game.
func (t *task) byPeers() bool { return t.rating > 0 && len(t.peers) > 0 }

// reads are all files that the task reads: nothing is written over them.
func (t *task) reads() []fetch.Input {
	config := []string{}
	if t.cfg.file != "" {
		config = append(config, t.cfg.file)
	}
	return slices.Concat(t.inputs, t.peers, t.myGames, patterns(t.books[board.White], nil), patterns(t.books[board.Black], nil), patterns(config, nil))
}

func noSources(cfg *settings) error {
	return misuse("where are the games?", cfg.hinted("--games 'games/*.pgn' names them, or list them under sources in "+configName)...)
}

// patterns are the inputs of a flag, or if it was not given those configured.
func patterns(flag, configured []string) []fetch.Input {
	if len(flag) == 0 {
		flag = configured
	}
	return fetch.Inputs(flag...)
}

// longestOfMinutes is the most that a base time is in minutes, so that a smaller
// number of seconds may be meant as minutes.
const longestOfMinutes = 120

// tellClock says how a clock was read that looks like minutes: 90+30 is what players
// say, and PGN counts seconds.
func (a *app) tellClock(cfg *settings) {
	text := cfg.Sheet.Clock
	c := pgn.ParseControl(text)
	if c.Base == 0 || c.Base > longestOfMinutes || c.Inc == 0 {
		return
	}
	a.say.note("%s %s was read as %d seconds and %d a move, %s; %d minutes are %d+%d",
		cfg.origin("sheet.clock"), text, c.Base, c.Inc, c.Speed(), c.Base, 60*c.Base, c.Inc)
}

// named tells a person's names; nil when they are not known.
func named(who fetch.Who) func(string) bool {
	if who.IsZero() {
		return nil
	}
	return who.Named
}
