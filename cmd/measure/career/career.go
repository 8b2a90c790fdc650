// Package career reads what the measuring programs judge: the games of one player out
// of a file, and a repertoire. In come file names; out go a Profile and a Book. It is
// used by programs below cmd/measure only.
package career

import (
	"context"
	"flag"
	"fmt"
	"slices"
	"strings"

	"foreply/compare/book"
	"foreply/fetch"
	"foreply/fetch/pgn"
	"foreply/profile"
	"foreply/profile/board"
)

// Name is that of a file without its folder and ending.
func Name(file string) string {
	return strings.TrimSuffix(file[strings.LastIndexByte(file, '/')+1:], ".pgn")
}

// Game is one of the player's, with the colour they had.
type Game struct {
	*pgn.Game
	Theirs board.Color
}

// Games reads the games of a player who goes by some names.
func Games(file string, names []string) ([]Game, error) {
	games, err := fetch.Open(context.Background(), fetch.Inputs(file), fetch.Options{Who: fetch.Who{Names: names}})
	if err != nil {
		return nil, err
	}
	var out []Game
	for g := range games.All() {
		if white, black := games.Match(g); white && !black {
			out = append(out, Game{g.Clone(), board.White})
		} else if black && !white {
			out = append(out, Game{g.Clone(), board.Black})
		}
	}
	return out, games.Err()
}

// Profile is what is told by games.
func Profile(games []Game) *profile.Profile {
	all, theirs := make([]*pgn.Game, len(games)), map[*pgn.Game]board.Color{}
	for i, g := range games {
		all[i], theirs[g.Game] = g.Game, g.Theirs
	}
	return profile.Build(slices.Values(all), profile.Options{Them: func(g *pgn.Game) (board.Color, bool) { return theirs[g], true }})
}

// Read is the Profile of a player's games.
func Read(file string, names []string) (*profile.Profile, error) {
	games, err := Games(file, names)
	if err != nil {
		return nil, err
	}
	return Profile(games), nil
}

// BookFlags adds the flags -white and -black, which name the files of a repertoire
// each, joined by commas, and may be repeated. The books are there once they are read.
func BookFlags(fs *flag.FlagSet) *[]*book.Book {
	var books []*book.Book
	for _, mine := range [...]board.Color{board.White, board.Black} {
		fs.Func(mine.String(), "`FILES` of a repertoire with "+mine.String(), func(files string) error {
			b, err := Book(mine, strings.Split(files, ",")...)
			books = append(books, b)
			return err
		})
	}
	return &books
}

// Book reads a repertoire for a colour; what can't be played in it is left out.
func Book(mine board.Color, files ...string) (*book.Book, error) {
	games, err := fetch.Open(context.Background(), fetch.Inputs(files...), fetch.Options{Variations: true})
	if err != nil {
		return nil, err
	}
	var chapters []*pgn.Game
	for g := range games.All() {
		chapters = append(chapters, g.Clone())
	}
	if err := games.Err(); err != nil {
		return nil, err
	}
	profile.Translate(chapters)
	b := book.New(mine)
	for _, g := range chapters {
		b.Add(g)
	}
	if b.Positions() == 0 {
		return nil, fmt.Errorf("no answer for %s in %s", mine, strings.Join(files, ", "))
	}
	return b, nil
}
