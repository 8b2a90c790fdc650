package web

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"net/http"
	"os"
	"slices"
	"strings"
	"time"

	"foreply/fetch"
	"foreply/fetch/pgn"
)

// Options are how the servers of one run are asked. Now and Sleep must be given:
// this package reads no clock.
type Options struct {
	Now      func() time.Time
	Sleep    func(context.Context, time.Duration) error
	Today    time.Time     // the moment up to which games are asked for; zero = Now()
	Token    string        // of Source.TokenFrom
	Full     bool          // ask for everything again
	Idle     time.Duration // without any data; default 60 s
	Patience Patience
	// Asked is when each host was asked last: given to the servers of one run, those
	// at one host keep their distance together. Nil is for this server alone.
	Asked map[string]time.Time
	// Transport is what sends; nil takes one that verifies certificates.
	Transport http.RoundTripper
	Progress  func(Progress) // called now and then; may be nil
	Again     func(Again)    // called before a request is tried again; may be nil
}

// Progress is how far the asking for one player has come.
type Progress struct {
	Source, Opponent string
	Page             string // a month, a number, an address; empty if there is but one
	Requests         int
	Bytes            int64
	Games            int // roughly, while an answer is coming
}

// Player is who is asked for: an opponent under one handle.
type Player struct {
	Opponent string // id, for the store
	Handle   string // at the source
	Who      fetch.Who
}

// Account is what a server gave for one player.
type Account struct {
	Requests int   // redirects and further tries included
	Bytes    int64 // as they came, packed or not
	Games    int   // read
	Theirs   int   // of them under a name of the player
	New      int   // not kept before
	// Corrected games came in a newer text, which took the place of the older one.
	Corrected int
	Kept      int    // now
	Reached   string // where it ended early, in words; empty if it did not
	Warnings  []string
	Problems  []pgn.Problem
}

// Server asks one source. It is not for use by several goroutines: servers are
// asked one thing at a time.
type Server struct {
	source *Source
	opt    Options
	token  Secret
	client *client
	retry  *retrier
	create func(path string) (file, error)
}

// NewServer prepares to ask a source.
func NewServer(source *Source, opt Options) *Server {
	opt.Idle = cmp.Or(opt.Idle, 60*time.Second)
	if opt.Today.IsZero() {
		opt.Today = opt.Now()
	}
	if opt.Asked == nil {
		opt.Asked = map[string]time.Time{}
	}
	pace := &pacer{every: source.pace, now: opt.Now, sleep: opt.Sleep, last: opt.Asked}
	s := &Server{
		source: source, opt: opt, token: Secret(strings.TrimSpace(opt.Token)),
		client: newClient(pace, opt.Transport, opt.Idle), create: createFile,
	}
	s.retry = s.retrier()
	return s
}

// secret reports whether there is a token to lose.
func (s *Source) secret() bool { return s.TokenFrom != "" }

func (s *Server) hide(text string) string { return s.token.hide(text) }

// shown is a text as messages print it.
func (s *Server) shown(text string) string { return shown(s.hide(text)) }

// ready fails when the token is missing: no request could succeed.
func (s *Server) ready() error {
	if s.source.secret() && s.token == "" {
		return &fetch.Error{
			Err:  fmt.Errorf("%s is not set", shownVariable(s.source.TokenFrom)),
			Hint: s.source.howToSet(),
		}
	}
	return nil
}

func (s *Source) howToSet() string {
	if s.TokenFrom != strings.ToUpper(s.TokenFrom) {
		return "token_from is the name of a variable, which holds the token: export NAME=..., with token_from: NAME"
	}
	return fmt.Sprintf("put the server's token there: export %s=...", s.TokenFrom)
}

// run is the asking for one player.
type run struct {
	server   *Server
	player   Player
	shelf    *fetch.Shelf
	part     string // the file of the answer that is being read
	memory   *memory
	newest   time.Time
	page     string // which is being asked for
	before   int    // requests of earlier runs
	account  Account
	saved    int             // of the new games, those that are on disk
	refusal  *statusError    // of the last answer that was missing
	previous string          // what the last numbered page was
	seen     map[uint64]bool // games of this run, where pages may repeat
	stale    int             // pages in a row with none that was not seen
	failed   failures
}

// Fetch asks for the games of a player that are not kept yet, and keeps them. An
// error leaves what came before it; the Account is right in any case. Interrupted,
// it returns the cause of the context's end.
func (s *Server) Fetch(ctx context.Context, store fetch.Store, player Player) (Account, error) {
	if err := s.ready(); err != nil {
		return Account{}, err
	}
	shelf, err := store.Open(s.source.ID, player.Opponent)
	if err != nil {
		return Account{}, storeError(err)
	}
	defer shelf.Close()
	r := &run{server: s, player: player, shelf: shelf, part: partPath(shelf.Path()), before: s.client.requests}
	defer os.Remove(r.part)
	err = r.all(ctx)
	return r.account, err
}

func storeError(err error) error {
	hint := "is the cache a folder that you may write to? --cache names another"
	if errors.Is(err, fetch.ErrLocked) {
		hint = "wait until it is done"
	}
	return &fetch.Error{Err: err, Hint: hint}
}

// all asks for the pages, keeps the games, and then remembers both.
func (r *run) all(ctx context.Context) error {
	known, err := loadState(r.shelf.Path())
	if err != nil {
		r.warnOnce(err.Error())
	}
	r.memory = known.of(r.player.Handle, r.server.source, r.server.opt.Full)
	err = r.pages(ctx)
	r.memory.Whole = err == nil
	// Pages that failed may have older games than those that came.
	sure := err == nil || r.server.source.pages == single
	if newest := r.clamp(r.newest); sure && newest.After(r.memory.Newest) {
		r.memory.Newest = newest
	}
	known.Handles[r.player.Handle] = r.memory
	r.account.Requests = r.server.client.requests - r.before
	if failed := r.save(); failed != nil {
		return r.explain(ctx, failed)
	}
	r.account.Kept = r.shelf.Len()
	if failed := known.save(r.shelf.Path()); failed != nil {
		return r.explain(ctx, &diskError{failed})
	}
	r.judge(err == nil)
	return r.explain(ctx, err)
}

// save writes the games. What could not be written is not new.
func (r *run) save() error {
	if err := r.shelf.Save(); err != nil {
		r.account.New = r.saved
		return &diskError{err}
	}
	r.saved = r.account.New
	return nil
}

// now is the moment that the server is asked for, but not one to come: what is
// open now must not be taken for closed.
func (s *Server) now() time.Time {
	if now := s.opt.Now(); now.Before(s.opt.Today) {
		return now
	}
	return s.opt.Today
}

// clamp keeps a game with a date to come from ending all further fetches.
func (r *run) clamp(newest time.Time) time.Time {
	if now := r.server.now(); newest.After(now) {
		return now
	}
	return newest
}

// judge warns of what came and is of no use, and if nothing ever came.
func (r *run) judge(whole bool) {
	switch a := &r.account; {
	case a.Games > 0 && a.Theirs == 0:
		r.warnOnce(fmt.Sprintf("none of the %d games has %s as White or Black: add the name that they have to names of %s",
			a.Games, r.player.Handle, r.player.Opponent))
	case whole && a.Kept == 0 && len(a.Warnings) == 0:
		r.warnOnce(fmt.Sprintf("the server has no games of %s: is the handle right, and do the parts of the query leave any?", r.player.Handle))
	}
}

func (r *run) warnOnce(text string) {
	if text = r.server.shown(text); !slices.Contains(r.account.Warnings, text) {
		r.account.Warnings = append(r.account.Warnings, text)
	}
}

func (r *run) progress(inThis int) {
	if r.server.opt.Progress == nil {
		return
	}
	r.server.opt.Progress(Progress{
		Source: r.server.source.ID, Opponent: r.player.Opponent, Page: r.server.shown(r.page),
		Requests: r.server.client.requests - r.before, Bytes: r.account.Bytes, Games: r.account.Games + inThis,
	})
}

// Expect is how many requests Fetch will make at most, and how long they take at the
// source's pace; 0 if that can't be known.
func (s *Server) Expect(store fetch.Store, player Player) (int, time.Duration) {
	known, _ := loadState(store.Path(s.source.ID, player.Opponent))
	r := &run{server: s, player: player, memory: known.of(player.Handle, s.source, s.opt.Full)}
	n := 0
	switch _, whole := r.remembered(); {
	case s.source.pages == months, s.source.pages == listed && whole:
		r.plan(func(string, string) { n++ })
	}
	return n, time.Duration(n) * s.source.pace
}

// Planned is an address that would be asked for.
type Planned struct {
	URL  string // the token masked
	Note string // what comes after it; may be empty
}

// Plan tells what Fetch would ask for, as far as that can be known without
// asking. It changes nothing.
func (s *Server) Plan(store fetch.Store, player Player) []Planned {
	known, _ := loadState(store.Path(s.source.ID, player.Opponent)) // unreadable is as good as none
	masked := *s
	masked.token = mask
	r := &run{server: &masked, player: player, memory: known.of(player.Handle, s.source, s.opt.Full)}
	var out []Planned
	r.plan(func(address, note string) { out = append(out, Planned{masked.shown(address), note}) })
	return out
}
