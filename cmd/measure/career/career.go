// Package career reads what the measuring programs judge: the games of one player out
// of a file, and a repertoire. In come file names; out go a Profile and a Book. It is
// used by programs below cmd/measure only.
package career

import (
	"context"
	"fmt"
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

// Read reads the games of a player who goes by some names.
func Read(file string, names []string) (*profile.Profile, error) {
	games, err := fetch.Open(context.Background(), []fetch.Input{{Pattern: file}}, fetch.Options{Who: fetch.Who{Names: names}})
	if err != nil {
		return nil, err
	}
	p := profile.Build(games.All(), profile.Options{Them: func(g *pgn.Game) (board.Color, bool) {
		white, black := games.Match(g)
		if black {
			return board.Black, !white
		}
		return board.White, white
	}})
	return p, games.Err()
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
