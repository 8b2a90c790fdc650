package main

import (
	"cmp"
	"fmt"
	"os"
	"time"

	"foreply/compare/words"
	"foreply/fetch/web"
)

// servers prepares to ask the configured servers. This is where the clock is read
// for them, and their tokens are taken from the environment.
func (a *app) servers(cfg *settings, f *flags) (map[string]*web.Server, error) {
	today := time.Now()
	if f.date != "" {
		day, err := time.Parse(time.DateOnly, f.date)
		if err != nil {
			return nil, misuse(fmt.Sprintf("--date: %q is no day", f.date), "write it as YYYY-MM-DD")
		}
		today = day.AddDate(0, 0, 1).Add(-time.Second) // all of the day
	}
	out, asked := map[string]*web.Server{}, map[string]time.Time{}
	for id, source := range cfg.web {
		out[id] = web.NewServer(source, web.Options{
			Now: time.Now, Sleep: web.Sleep, Today: today, Token: os.Getenv(source.TokenFrom), Full: f.full, Asked: asked,
			Progress: a.say.download,
			Again: func(again web.Again) {
				a.say.note("%s: %v; trying again in %v (%d of %d)", id, again.Err, again.Wait.Round(100*time.Millisecond), again.Try, again.Tries)
			},
		})
	}
	return out, nil
}

// longAsking is announced before it begins.
const longAsking = time.Minute

// ask gets an opponent's games from a server and prints what came.
func (r *fetchRun) ask(source *sourceConfig, o *opponentConfig, handle string) error {
	server, player := r.servers[source.ID], asPlayer(o, source.ID, handle)
	about := source.ID + ", " + called(o, handle)
	if n, takes := server.Expect(r.store, player); takes >= longAsking {
		r.say.note("%s: up to %s, %s at its pace", about, words.Plural(n, "request"), words.Plural(int(takes.Round(time.Minute)/time.Minute), "minute"))
	}
	account, err := server.Fetch(r.ctx, r.store, player)
	for _, w := range account.Warnings {
		r.say.warn("%s: %s", about, w)
	}
	r.say.problems(account.Problems, account.Games)
	if n := account.Corrected; n > 0 {
		r.say.note("%s: newer texts of %s took the place of the older ones", about, words.Plural(n, "game"))
	}
	r.row(source.ID, called(o, handle), account.Requests, size(account.Bytes), account.Games, account.Theirs,
		account.New, account.Kept, len(account.Warnings)+len(worth(account.Problems)))
	if r.ctx.Err() != nil {
		r.say.note("%s: interrupted %s, after %s and %s; what came is kept, and the next fetch gets the rest",
			about, cmp.Or(account.Reached, "while asking"), words.Plural(account.Requests, "request"), words.Plural(account.Games, "game"))
	}
	return err
}

// plan prints what all would ask for.
func (r *fetchRun) plan(opponents []opponentConfig) error {
	for _, o := range opponents {
		for _, source := range r.cfg.Sources {
			for _, handle := range o.at(source.ID) {
				r.planned(&source, &o, handle)
			}
			for _, pattern := range source.Files {
				r.row(source.ID, o.ID, pattern)
			}
		}
	}
	if r.rows == 0 {
		return nothingToFetch(opponents)
	}
	return r.table.Flush()
}

func (r *fetchRun) planned(source *sourceConfig, o *opponentConfig, handle string) {
	if source.URL == "" {
		return
	}
	plan := r.servers[source.ID].Plan(r.store, asPlayer(o, source.ID, handle))
	for _, p := range plan {
		r.row(source.ID, called(o, handle), p.URL)
		if p.Note != "" {
			r.row(source.ID, called(o, handle), "("+p.Note+")")
		}
	}
	if r.cfg.tokensHeld[source.ID] != "" {
		r.row(source.ID, called(o, handle), "(only with --config "+configName+": a token would be sent)")
	}
	if len(plan) == 0 {
		r.row(source.ID, called(o, handle), "(nothing: all is closed and kept)")
	}
}

func asPlayer(o *opponentConfig, source, handle string) web.Player {
	who := o.who()
	who.Names = append(append([]string{}, who.Names...), o.at(source)...)
	return web.Player{Opponent: o.ID, Handle: handle, Who: who}
}

// at returns the opponent's handles at a source.
func (o *opponentConfig) at(source string) []string {
	var out []string
	for _, h := range o.Handles {
		if h.Source == source {
			out = append(out, h.Handle)
		}
	}
	return out
}

// called names an opponent with the handle that is asked for.
func called(o *opponentConfig, handle string) string { return o.ID + " as " + handle }

// size prints a number of bytes for people.
func size(n int64) string {
	switch {
	case n < 1000:
		return fmt.Sprintf("%d B", n)
	case n < 1_000_000:
		return fmt.Sprintf("%.1f kB", float64(n)/1e3)
	}
	return fmt.Sprintf("%.1f MB", float64(n)/1e6)
}
