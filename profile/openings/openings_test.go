package openings

import (
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"foreply/profile/board"
	"foreply/profile/tabletest"
)

// The reference tables come from a later edition of the data set (July 2026)
// than the one inside the library. Where they disagree the tests know both, so
// that anything else stands out.

// renamed lists positions that the editions call differently, reference → ours.
// The codes agree in all of them.
var renamed = map[string]string{
	"A51 Indian Defense: Budapest Gambit":                                "A51 Indian Defense: Budapest Defense",
	"B00 King's Pawn Game":                                               "B00 King's Pawn",
	"C42 Petrov's Defense":                                               "C42 Russian Game",
	"C42 Petrov's Defense: Three Knights Game":                           "C42 Russian Game: Three Knights Game",
	"C50 Italian Game: Giuoco Piano":                                     "C50 Giuoco Piano",
	"C99 Ruy Lopez: Closed, Chigorin Defense, Panov System":              "C99 Ruy Lopez: Morphy Defense, Chigorin Defense, Panov System",
	"D00 Blackmar-Diemer Gambit":                                         "D00 Blackmar Gambit",
	"D00 Queen's Pawn Game: Accelerated London System":                   "D00 Queen's Pawn Game: Mason Variation",
	"E01 Catalan Opening: Open Defense":                                  "E01 Catalan Opening: Closed",
	"E15 Queen's Indian Defense: Fianchetto Variation, Traditional Line": "E15 Queen's Indian Defense: Fianchetto Traditional",
	"E40 Nimzo-Indian Defense: Rubinstein System":                        "E40 Nimzo-Indian Defense: Normal Line",
}

// inOneEdition lists positions that only one edition names, by the moves to
// them: theirs is unnamed in ours, or the other way round.
var inOneEdition = map[string]struct{ theirs, ours string }{
	"e4 c6 d4 d5 Nc3 dxe4":  {theirs: "B15 Caro-Kann Defense"},
	"e4 c6 d4 d5 exd5 cxd5": {theirs: "B13 Caro-Kann Defense: Exchange Variation"},
	"Nf3 d5 g3 Nf6 Bg2 e6":  {theirs: "A07 King's Indian Attack, with e6"},
	"d4 Nf6 Nf3 e6 Bf4 d5":  {theirs: "D02 Queen's Pawn Game: London System, with e6"},
	"e4 d6 d4 Nf6 Nc3":      {ours: "B07 Pirc Defense"},
	"d4 d6 e4 Nf6 Nc3":      {ours: "B07 Pirc Defense"},
}

// named is an opening and the ply at which a line last had a name.
type named struct {
	text string
	ply  int
}

// deeper lists lines that the later edition names at a later ply than ours.
var deeper = map[string]struct{ theirs, ours named }{
	"e4 c5 Nf3 d6 d4 cxd4 Nxd4 Nf6 Nc3 a6 Be3 e5 Nb3 Be6 f3 h5 Nd5": {
		named{"B90 Sicilian Defense: Najdorf Variation, English Attack", 15},
		named{"B90 Sicilian Defense: Najdorf Variation, English Attack", 11},
	},
	"c4 e5 Nc3 Nf6 Nf3 Nc6 g3 d5 cxd5 Nxd5 Bg2 Nb6 O-O Be7 a3": {
		named{"A29 English Opening: King's English Variation, Four Knights Variation, Fianchetto Line, with Nb6", 12},
		named{"A29 English Opening: King's English Variation, Four Knights Variation, Fianchetto Line", 7},
	},
	"e4 e6 d4 d5 Nc3 Bb4 e5 c5 a3 Bxc3+ bxc3 Ne7 Qg4 Qc7 Qxg7 Rg8": {
		named{"C18 French Defense: Winawer Variation, Poisoned Pawn Variation", 14},
		named{"C19 French Defense: Winawer Variation, Poisoned Pawn Variation", 13},
	},
	"e4 e5 Nf3 Nc6 Bc4 Bc5 c3 Nf6 d3 d6 O-O O-O Re1 a6": {
		named{"C54 Italian Game: Classical Variation, Giuoco Pianissimo", 12},
		named{"C53 Italian Game: Classical Variation, Giuoco Pianissimo", 9},
	},
	"d4 Nf6 Nf3 e6 Bf4 d5 e3": {
		named{"D02 Queen's Pawn Game: London System, with e6", 6},
		named{"A46 Indian Defense: London System", 5},
	},
}

// ours returns what the library's edition calls an opening of the reference.
func ours(reference string) string {
	if name, ok := renamed[reference]; ok {
		return name
	}
	return reference
}

func (o Opening) text() string { return o.ECO + " " + o.Name }

// references reads a table of testdata/openings.
func references(t *testing.T, name string) []map[string]string {
	t.Helper()
	return tabletest.Table(t, filepath.Join("../../testdata/openings", name))
}

// keysOf replays moves in SAN; keys[i] is the position after i plies.
func keysOf(t *testing.T, san string) []uint64 {
	t.Helper()
	p := board.Start()
	keys := []uint64{p.Key()}
	for _, s := range strings.Fields(san) {
		m, err := p.Resolve([]byte(s))
		if err != nil {
			t.Fatalf("%s in %s: %v", s, san, err)
		}
		p.Play(m)
		keys = append(keys, p.Key())
	}
	return keys
}

func parseKey(t *testing.T, s string) uint64 {
	t.Helper()
	key, err := strconv.ParseUint(s, 16, 64)
	if err != nil {
		t.Fatal(err)
	}
	return key
}

func number(t *testing.T, s string) int {
	t.Helper()
	n, err := strconv.Atoi(s)
	if err != nil {
		t.Fatal(err)
	}
	return n
}

func TestNamesAgainstReference(t *testing.T) {
	for _, r := range references(t, "openings.tsv") {
		key, keys := parseKey(t, r["key"]), keysOf(t, r["san"])
		if last := keys[len(keys)-1]; last != key {
			t.Errorf("%s: our key is %016x, the reference's %016x", r["san"], last, key)
		}
		want := ours(r["eco"] + " " + r["name"])
		if got, ok := Name(key); !ok || got.text() != want {
			t.Errorf("%s: got %q, %v, want %q", r["san"], got.text(), ok, want)
		}
	}
}

func TestAlongAgainstReference(t *testing.T) {
	for _, r := range references(t, "openings_walkback.tsv") {
		theirs := named{r["eco"] + " " + r["name"], number(t, r["named_ply"])}
		checkAlong(t, r["san"], theirs)
	}
}

func checkAlong(t *testing.T, san string, theirs named) {
	t.Helper()
	want := named{ours(theirs.text), theirs.ply}
	if d, ok := deeper[san]; ok {
		if d.theirs != theirs {
			t.Errorf("%s: the reference says %v, the list of differences %v", san, theirs, d.theirs)
		}
		want = d.ours
	}
	o, ply, ok := along(keysOf(t, san), Name)
	if got := (named{o.text(), ply}); !ok || got != want {
		t.Errorf("%s: got %v, %v, want %v", san, got, ok, want)
	}
}

func TestTranspositionsAgainstReference(t *testing.T) {
	ends := map[string]string{} // last key by group, for groups that must meet
	for _, r := range references(t, "opening_transpositions.tsv") {
		keys := keysOf(t, r["san"])
		if last := keys[len(keys)-1]; last != parseKey(t, r["key"]) {
			t.Errorf("%s: our key is %016x, the reference's %s", r["san"], last, r["key"])
		}
		if before, ok := ends[r["group"]]; ok && r["same"] == "yes" && before != r["key"] {
			t.Errorf("%s: the orders of moves end apart", r["group"])
		}
		ends[r["group"]] = r["key"]
		theirs := named{r["eco_at_end"] + " " + r["name_at_end"], number(t, r["named_ply"])}
		checkAlong(t, r["san"], theirs)
		if r["intermediate_names"] != "" {
			checkNamesOnTheWay(t, r, keys)
		}
	}
}

// checkNamesOnTheWay compares the names of all positions of a line with the
// reference's 'ply:ECO name | ply:ECO name'.
func checkNamesOnTheWay(t *testing.T, r map[string]string, keys []uint64) {
	t.Helper()
	theirs := map[int]string{}
	for _, item := range strings.Split(r["intermediate_names"], " | ") {
		ply, name, _ := strings.Cut(item, ":")
		theirs[number(t, ply)] = name
	}
	moves := strings.Fields(r["san"])
	for ply, key := range keys {
		way := strings.Join(moves[:ply], " ")
		want := ours(theirs[ply])
		if d, ok := inOneEdition[way]; ok {
			if d.theirs != theirs[ply] {
				t.Errorf("%s: the reference says %q, the list of differences %q", way, theirs[ply], d.theirs)
			}
			want = d.ours
		}
		if o, ok := Name(key); ok != (want != "") || ok && o.text() != want {
			t.Errorf("%s: got %q, want %q", way, o.text(), want)
		}
	}
}

func TestUnnamedPositions(t *testing.T) {
	start := board.Start()
	for name, key := range map[string]uint64{"start": start.Key(), "zero": 0, "last": ^uint64(0)} {
		if o, ok := Name(key); ok {
			t.Errorf("%s is called %q", name, o.text())
		}
	}
	for _, keys := range [][]uint64{nil, {start.Key()}} {
		if o, ply, ok := along(keys, Name); ok || ply != 0 || o != (Opening{}) {
			t.Errorf("%d keys: got %q at ply %d", len(keys), o.text(), ply)
		}
	}
}

func TestEveryRowIsFound(t *testing.T) {
	code := regexp.MustCompile(`^[A-E][0-9][0-9]$`)
	var last uint64
	count := 0
	for line := range strings.Lines(rows) {
		fields := strings.Split(strings.TrimSuffix(line, "\n"), "\t")
		if len(fields) != 3 {
			t.Fatalf("row %q has %d fields", line, len(fields))
		}
		key := parseKey(t, fields[0])
		if count > 0 && key <= last {
			t.Fatalf("row %q is out of order", line)
		}
		last = key
		count++
		o, ok := Name(key)
		if !ok || !slices.Equal([]string{o.ECO, o.Name}, fields[1:]) {
			t.Fatalf("row %q: got %q, %v", line, o.text(), ok)
		}
		if !code.MatchString(o.ECO) || strings.TrimSpace(o.Name) != o.Name || o.Name == "" {
			t.Errorf("row %q is not a code and a name", line)
		}
		for _, beside := range []uint64{key - 1, key + 1} {
			if o, ok := Name(beside); ok {
				t.Errorf("%016x, beside a row, is called %q", beside, o.text())
			}
		}
	}
	if count != 3397 {
		t.Errorf("%d rows, the data has 3397 lines", count)
	}
}

func BenchmarkName(b *testing.B) {
	keys := make([]uint64, 0, 4096)
	for line := range strings.Lines(rows) {
		key, err := strconv.ParseUint(line[:16], 16, 64)
		if err != nil {
			b.Fatal(err)
		}
		keys = append(keys, key)
	}
	b.ReportAllocs()
	i := 0
	for b.Loop() {
		Name(keys[i%len(keys)])
		i += 1237 // hop about, so that the cache doesn't help
	}
}

// There is nothing to decode, so a first look-up costs no more than any other.
func BenchmarkNameUnnamed(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		Name(0x8000000000000000)
	}
}
