package main

import (
	"errors"
	"fmt"
	"io"
	"os"
	"runtime"
	"slices"

	"foreply/fetch"
	"foreply/fetch/pgn"
	"foreply/profile"
	"foreply/profile/peerbook"
)

// peersIn are the books and the other files that --peers names.
type peersIn struct {
	books []string
	games []fetch.Input
}

// sortPeers tells books of peers from games, by what the files begin with.
func sortPeers(inputs []fetch.Input) (*peersIn, error) {
	in := &peersIn{}
	for _, input := range inputs {
		files := []string{input.Pattern}
		if input.Pattern != "-" {
			var err error
			if files, err = fetch.Files([]fetch.Input{input}); err != nil {
				return nil, hinted(err)
			}
		}
		for _, file := range files {
			if isPeerBook(file) {
				in.books = append(in.books, file)
			} else {
				in.games = append(in.games, fetch.Input{Pattern: file})
			}
		}
	}
	return in, nil
}

func isPeerBook(file string) bool {
	f, err := os.Open(file)
	if err != nil {
		return false
	}
	defer f.Close()
	return peerbook.Is(f)
}

// open opens the books.
func (in *peersIn) open() (books []*peerbook.Book, err error) {
	for _, path := range in.books {
		book, err := openPeerBook(path)
		if err != nil {
			return nil, err
		}
		books = append(books, book)
	}
	return books, nil
}

// add has the opened books taken in.
func (in *peersIn) add(take *profile.PeerIntake, books []*peerbook.Book) error {
	for i, book := range books {
		if err := take.AddBook(book); err != nil {
			return mixed(in.books[i], in.books[0])
		}
	}
	return nil
}

// openPeerBook opens a book that stays open until the run ends.
func openPeerBook(path string) (*peerbook.Book, error) {
	f, err := os.Open(path)
	if err != nil {
		return nil, fmt.Errorf("reading %s: %w", path, fetch.Cause(err))
	}
	info, err := f.Stat()
	if err != nil {
		return nil, fmt.Errorf("reading %s: %w", path, fetch.Cause(err))
	}
	book, err := peerbook.Open(f, info.Size())
	if err != nil {
		return nil, badBook(path, err)
	}
	return book, nil
}

// badBook says what is wrong with a book, and what to do.
func badBook(path string, err error) error {
	err = fmt.Errorf("reading %s: %w", path, err)
	switch {
	case errors.Is(err, peerbook.ErrDamaged), errors.Is(err, peerbook.ErrCut):
		return advise(err, "copy it again, or make it anew: 'foreply peers GAMES -o "+path+"'")
	case errors.Is(err, peerbook.ErrVersion):
		return advise(err, "make it anew with this foreply: 'foreply peers GAMES -o "+path+"'")
	case errors.Is(err, peerbook.ErrForeign):
		return advise(err, "'foreply peers GAMES -o club.peers' makes one")
	}
	return err
}

// readPeers opens the games of players like the opponent that --peers names, chosen
// by their rating and the speed of the game to come, whose day it tells too. There
// are none when none were named.
func (a *app) readPeers(t *task, p *profile.Profile) (*profile.Peers, profile.Span, error) {
	all, err := a.openPeers(t, p)
	if err != nil {
		return nil, profile.Span{}, err
	}
	when := a.gameDay(t, p, all)
	if all == nil {
		return nil, when, nil
	}
	return all.Near(t.ratingOf(p), t.class, when), when, nil
}

// ratingOf is the opponent's rating: as given, else that of their newest game of
// the speed of the one to come, else of their newest game; 0 where none is known.
func (t *task) ratingOf(p *profile.Profile) int {
	if t.rating > 0 {
		return t.rating
	}
	newest := 0
	for i := range slices.Backward(p.Games) {
		g := &p.Games[i]
		switch {
		case g.Elo == 0:
		case g.Speed.Group() == t.class.Group():
			return g.Elo
		case newest == 0:
			newest = g.Elo
		}
	}
	return newest
}

// firstRating is the rating with which a player came into the games, so that a
// test over all of them knows nothing of later ones.
func firstRating(p *profile.Profile) int {
	for i := range p.Games {
		if p.Games[i].Elo > 0 {
			return p.Games[i].Elo
		}
	}
	return 0
}

// openPeers reads the games of peers from PGN or a book; nil when none were named.
// The opponent's own games, p's, are left out. One unreadable file among others is
// a warning; games without a date are counted and not used, which is said where
// none is left.
func (a *app) openPeers(t *task, p *profile.Profile) (*profile.Peers, error) {
	if len(t.peers) == 0 {
		return nil, nil
	}
	book, err := a.peerBook(t)
	if err != nil {
		return nil, err
	}
	own := profile.Own{Names: t.sought(), Fold: fetch.Fold, Players: book.own}
	peers, err := profile.OpenPeers(book.Book, p, own)
	if err != nil {
		return nil, badBook(inputNames(t.peers), err)
	}
	if peers.Games == 0 {
		a.say.note("no game in %s serves as one of peers: %d without a date, %d of the opponent's own, %d unfit",
			inputNames(t.peers), peers.Undated, peers.Own, peers.Unfit)
	}
	return peers, nil
}

// openedPeers is a book with the opponent's names, as its games have them, where
// it was made of PGN.
type openedPeers struct {
	*peerbook.Book
	own []peerbook.Player
}

// peerBook opens the book that --peers names, or makes one of the games.
func (a *app) peerBook(t *task) (*openedPeers, error) {
	in, err := sortPeers(t.peers)
	if err != nil {
		return nil, err
	}
	books, err := in.open()
	if err != nil {
		return nil, err
	}
	if len(books) == 1 && len(in.games) == 0 {
		return &openedPeers{Book: books[0]}, nil
	}
	opt := profile.PeerOptions{Fold: fetch.Fold}
	if len(books) > 0 {
		about := books[0].About()
		opt.Plies, opt.Least = about.Plies, about.Least
	}
	take := profile.TakePeers(opt, runtime.GOMAXPROCS(0))
	defer take.Close()
	if err := in.add(take, books); err != nil {
		return nil, err
	}
	games, err := a.takePeers(take, in.games, func() func(*pgn.Game) (white, black bool) {
		return t.who.Matcher()
	}, "reading games of peers")
	if err != nil {
		return nil, err
	}
	a.reportFiles(games)
	book, err := a.passingBook(take)
	if err != nil {
		return nil, err
	}
	return &openedPeers{Book: book, own: take.Own()}, nil
}

// takePeers takes the games of files in, and returns the problems met.
func (a *app) takePeers(take *profile.PeerIntake, inputs []fetch.Input, own func() func(*pgn.Game) (white, black bool), what string) ([]pgn.Problem, error) {
	if len(inputs) == 0 {
		return nil, nil
	}
	games, err := fetch.Open(a.ctx, inputs, fetch.Options{
		Stdin: a.stdin, Plies: peerbook.Depth, Progress: a.say.reading(what, false),
	})
	if err != nil {
		return nil, hinted(err)
	}
	games.Spread(func() func(*pgn.Game) {
		var mine func(*pgn.Game) (white, black bool)
		if own != nil {
			mine = own()
		}
		return take.Worker(mine)
	})
	if err := games.Err(); err != nil {
		return nil, hinted(err)
	}
	return games.Summary().Problems, take.Err()
}

// passingBook makes a book in a file that has no name any more.
func (a *app) passingBook(take *profile.PeerIntake) (*peerbook.Book, error) {
	f, err := os.CreateTemp("", "foreply-peers-*.tmp")
	if err != nil {
		return nil, fmt.Errorf("making room for the games of peers: %w", err)
	}
	a.atEnd = append(a.atEnd, func() {
		f.Close()
		os.Remove(f.Name()) // for systems that keep open files
	})
	os.Remove(f.Name())
	about, err := take.Write(a.ctx, io.Writer(f))
	if err != nil {
		return nil, err
	}
	return peerbook.Open(f, about.Size)
}

// mixed says that two books can't be joined.
func mixed(path, first string) error {
	return advise(fmt.Errorf("%s and %s can't be joined: they were made with other --plies, --least, --ratings, --class or --since", first, path),
		"'foreply peers FILE' says what is in a book; make both in the same way")
}
