package main

import (
	"fmt"
	"io"
	"math/rand/v2"
	"slices"
	"strings"

	"foreply/fetch"
	"foreply/fetch/pgn"
)

// mostNames is how many names of a file are tried; each is held against all others.
const mostNames = 300

// namesOf are the names of a file with a surname and one given name, each once.
func namesOf(games []*pgn.Game) []string {
	seen := map[string]bool{}
	for _, g := range games {
		h := g.Header()
		for _, name := range [...]string{h.White.Name, h.Black.Name} {
			last, given, _ := strings.Cut(name, ", ")
			if len(last) >= 4 && len(given) >= 3 && !strings.ContainsAny(given, " .") {
				seen[name] = true
			}
		}
	}
	var names []string
	for name := range seen {
		names = append(names, name)
	}
	slices.Sort(names)
	return names[:min(len(names), mostNames)]
}

// way is one way to write names; other says that they are those of other people.
type way struct {
	name  string
	spell func(name string, r *rand.Rand) string
	other bool
}

func ways() []way {
	var all []way
	for i, s := range spellings {
		if s.name == "two initials glued" {
			continue // it needs a name of two given names, as below
		}
		all = append(all, way{name: s.name, spell: func(name string, r *rand.Rand) string { return spelled(name, i, r) }})
	}
	return append(all,
		way{name: "another initial", spell: func(name string, _ *rand.Rand) string { return otherLetter(otherName(name)) }, other: true},
		way{name: "another initial, no comma", spell: func(name string, _ *rand.Rand) string {
			return strings.ReplaceAll(otherLetter(otherName(name)), ",", " ") + "."
		}, other: true})
}

// otherLetter ends a name with the next letter.
func otherLetter(name string) string {
	k := len(name) - 1
	return name[:k] + string('A'+(name[k]-'A'+1)%26)
}

// nameTable tries each way on all names of a file: whether the spelling is taken for the
// name, suggested, or neither, and whether it is taken for another name of the file. Where
// the spelling is that of somebody else, both are wrong.
func nameTable(games []*pgn.Game, out io.Writer) {
	names := namesOf(games)
	fmt.Fprintf(out, "| the name is written | names | taken | suggested | neither | wrong |\n|---|---|---|---|---|---|\n")
	for _, w := range ways() {
		row(w.name, names, func(name string, r *rand.Rand) (string, string) { return name, w.spell(name, r) }, w.other, out)
	}
	row("with two initials glued, for two given names", names, func(name string, r *rand.Rand) (string, string) {
		return name + " Karla", spelled(name, len(spellings)-1, r)
	}, false, out)
	row("with two initials glued, the second another", names, func(name string, r *rand.Rand) (string, string) {
		return name + " Lisa", otherName(name) + "K"
	}, true, out)
}

func row(what string, names []string, spell func(string, *rand.Rand) (name, spelling string), other bool, out io.Writer) {
	r := rand.New(rand.NewPCG(1, 4))
	var taken, suggested, neither, wrong int
	for _, n := range names {
		name, spelling := spell(n, r)
		why, same := fetch.Alike(name, spelling)
		switch {
		case same:
			taken++
		case why != "":
			suggested++
		default:
			neither++
		}
		if other && (same || why != "") {
			wrong++
		}
		for _, somebody := range names {
			if _, same := fetch.Alike(somebody, spelling); same && somebody != n {
				wrong++
			}
		}
	}
	fmt.Fprintf(out, "| %s | %d | %d | %d | %d | %d |\n", what, len(names), taken, suggested, neither, wrong)
}
