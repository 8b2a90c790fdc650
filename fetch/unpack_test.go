package fetch

import (
	"archive/tar"
	"bytes"
	"context"
	"errors"
	"io"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"sync/atomic"
	"testing"

	"foreply/fetch/pgn"
)

// texts unpacks a stream and returns its texts.
func texts(content string, limits Limits) (out []string, err error) {
	err = Unpack(context.Background(), strings.NewReader(content), limits, func(text io.Reader) error {
		b, err := io.ReadAll(text)
		out = append(out, string(b))
		return err
	})
	return out, err
}

// tarWith is a tar archive of members of other types than a file, and of one game.
func tarWith(types ...byte) string {
	var out bytes.Buffer
	w := tar.NewWriter(&out)
	for _, kind := range types {
		w.WriteHeader(&tar.Header{Name: "a.pgn", Typeflag: kind, Linkname: "b.pgn"})
	}
	w.WriteHeader(&tar.Header{Name: "b.pgn", Size: int64(len(oneGame)), Mode: 0o644})
	io.WriteString(w, oneGame)
	w.Close()
	return out.String()
}

// What is in a stream, however deep, and what is passed over there.
func TestUnpack(t *testing.T) {
	// A frame of RFC 8878 that wants a window of 256 MiB, with one raw block.
	size := len(oneGame)
	window := "\x28\xb5\x2f\xfd\x00\x90" + string([]byte{byte(size<<3 | 1), byte(size >> 5), 0}) + oneGame
	for _, c := range []struct {
		quirk, content string
		n              int // texts of oneGame
		want           string
	}{
		{"packed three times", packGzip(packGzip(packGzip(oneGame))), 1, ""},
		{"packed four times", packGzip(packGzip(packGzip(packGzip(oneGame)))), 0, "it is packed more than 3 times over: over a limit"},
		{"an archive three deep", packTar("a.tar", packTar("b.tar", packTar("c.pgn", oneGame))), 1, ""},
		{"an archive four deep", packTar("a.tar", packTar("b.tar", packTar("c.tar", packTar("d.pgn", oneGame)))), 0, "it is packed more than 3 times over: over a limit"},
		{"an archive two deep", packZip("a.tar", packTar("c.pgn", oneGame), "b.pgn", oneGame), 2, ""},
		{"folders and files by the names of games", packZip("x.pgn/", "", "b.pgn", oneGame), 1, ""},
		{"links by the names of games", tarWith(tar.TypeSymlink, tar.TypeLink, tar.TypeDir), 1, ""},
		{"two members that are none, the first told", packZip("a.pgn", "<html>", "b.pgn", oneGame, "c.pgn", "%PDF-"), 1, `a.pgn: it does not look like PGN: it is a web page (HTML) and starts with "<html>"`},
		{"the same in a tar", packTar("a.pgn", "%PDF-", "b.pgn", oneGame), 1, "a.pgn: it does not look like PGN: it is a PDF"},
		{"no member", packTar("read.me", "x"), 0, "no games in the archive"},
		{"no member of a zip", packZip("read.me", "x"), 0, "no games in the archive"},
		{"broken off in the second head", packTar("a.pgn", oneGame, "b.pgn", oneGame)[:1024+100], 1, "unexpected EOF"},
		{"too large a window", window, 0, "unpacking it takes more than 134217728 bytes of memory: over a limit"},
		{"encrypted", encryptedZip(), 0, "b.pgn: the member is encrypted"},
		{"nothing", "", 1, ""},
	} {
		got, err := texts(c.content, Limits{})
		said := ""
		if err != nil {
			said = err.Error()
		}
		if len(got) != c.n || strings.ReplaceAll(strings.Join(got, ""), oneGame, "") != "" || said != c.want {
			t.Errorf("%s: %q, %v, want %s", c.quirk, got, err, c.want)
		}
	}
}

// A member over a limit ends its archive: the rest is not read, and nothing is said of it.
func TestMemberOverALimit(t *testing.T) {
	dir := folder(t, "a.zip", packZip("a.pgn", strings.Repeat(oneGame, 20), "b.pgn", oneGame), "b.tar", packTar("a.pgn.gz", packGzip(strings.Repeat(oneGame, 20)), "b.pgn", oneGame))
	r := run(t, Options{Limits: Limits{Unpacked: 1000}}, dir)
	if got := r.problems(dir); got != "a.zip: over a limit; b.tar: over a limit" {
		t.Errorf("problems %s", got)
	}
	for _, f := range r.Files {
		if strings.HasSuffix(f.Name, ":b.pgn") {
			t.Errorf("read %+v", f)
		}
	}
}

// Interrupted, an archive is read no further.
func TestInterruptedInAnArchive(t *testing.T) {
	dir := folder(t, "a.zip", packZip("a.pgn", oneGame, "b.pgn", oneGame), "b.tar", packTar("a.pgn", oneGame, "b.pgn", oneGame))
	for _, name := range []string{"a.zip", "b.tar"} {
		ctx, cancel := context.WithCancelCause(t.Context())
		cause := errors.New("enough")
		g, err := Open(ctx, Inputs(filepath.Join(dir, name)), Options{Workers: 1, Progress: func(Progress) { cancel(cause) }})
		if err != nil {
			t.Fatal(err)
		}
		n := 0
		for range g.All() {
			n++
		}
		if g.Err() != cause || n > 1 || len(g.Summary().Files) > 1 {
			t.Errorf("%s: %d games of %d files, %v", name, n, len(g.Summary().Files), g.Err())
		}
	}
	over, cancel := context.WithCancelCause(t.Context())
	cause := errors.New("over")
	cancel(cause)
	count := &packedReader{ctx: over, r: strings.NewReader("x"), read: func(int) {}}
	if n, err := count.Read(make([]byte, 1)); n != 0 || err != cause {
		t.Errorf("read %d bytes, %v", n, err)
	}
	if n, err := (&packedReaderAt{count, strings.NewReader("x")}).ReadAt(make([]byte, 1), 0); n != 0 || err != cause {
		t.Errorf("read %d bytes, %v", n, err)
	}
}

// How far the reading has come is told in bytes of the disk, packed, in whichever order they
// are read; and nothing waits in a file when it is done.
func TestProgressOfArchives(t *testing.T) {
	text := strings.Repeat(oneGame, 50)
	t.Setenv("TMPDIR", t.TempDir())
	for name, content := range map[string]string{"a.pgn": text, "b.zip": packZip("b.pgn", text), "c.pgn.gz": packGzip(text), "d.gz": packGzip(packZip("b.pgn", text))} {
		path := filepath.Join(folder(t, name, content), name)
		var last Progress
		r := run(t, Options{Progress: func(p Progress) { last = p }}, path)
		if last.Bytes < int64(len(content)) || last.Total != int64(len(content)) || last.Games != 50 || last.Kept != 50 || !strings.HasPrefix(last.File, path) || r.Kept != 50 || r.Files[0].Bytes != int64(len(text)) {
			t.Errorf("%s: %+v of %d bytes", name, last, len(content))
		}
	}
	if left, _ := os.ReadDir(os.Getenv("TMPDIR")); len(left) > 0 {
		t.Errorf("left behind: %v", left)
	}
}

// Limits that are given are kept to, the others are those of the documentation.
func TestLimits(t *testing.T) {
	if got, want := (Limits{}).orDefault(), (Limits{10_000, 64 << 30, 200}); got != want {
		t.Errorf("%+v, want %+v", got, want)
	}
	if got, want := (Limits{1, 2, 3}).orDefault(), (Limits{1, 2, 3}); got != want {
		t.Errorf("%+v, want %+v", got, want)
	}
	for _, c := range []struct {
		unpacked, packed int64
		want             string
	}{
		{64 << 30, 1 << 40, "<nil>"}, {64<<30 + 1, 1 << 40, "it unpacks to more than 68719476736 bytes: over a limit"},
		{16 << 20, 1, "<nil>"}, {16<<20 + 1, 80_000, "it unpacks to more than 200 times its size: over a limit"}, {20_000_199, 100_000, "<nil>"}, {20_000_200, 100_000, "it unpacks to more than 200 times its size: over a limit"},
	} {
		g := guard{limits: Limits{}.orDefault(), packed: func() int64 { return c.packed }, unpacked: c.unpacked}
		if err := g.check(); err == nil && c.want != "<nil>" || err != nil && err.Error() != c.want {
			t.Errorf("%d of %d: %v, want %s", c.unpacked, c.packed, err, c.want)
		}
	}
}

// One file that breaks off behind some games is no error, as long as they came.
func TestBrokenFileWithGames(t *testing.T) {
	var text strings.Builder
	for i := range 3000 {
		text.WriteString(game("Alder, Mina", strconv.Itoa(i*i), line(i%40, "a"), "1-0"))
	}
	packed := packGzip(text.String())
	r := run(t, Options{}, filepath.Join(folder(t, "a.pgn.gz", packed[:len(packed)-100]), "a.pgn.gz"))
	if r.err != nil || len(r.games) == 0 || len(r.Problems) == 0 || r.Problems[len(r.Problems)-1].Hint != "the games before the break are used; get the file again for the rest" {
		t.Errorf("%d games, %v, %v", len(r.games), r.err, r.Problems)
	}
}

// Handles alone name a player, each at its source; a game of no source is judged by the names
// that hold everywhere, and the loop may end at any game.
func TestHandlesAlone(t *testing.T) {
	dir := folder(t, "a.pgn", game("tide", "x", line(20, "a"), "1-0")+game("x", "ebb", line(20, "b"), "1-0"), "b.pgn", game("y", "tide", line(20, "c"), "1-0")+game("ebb", "y", line(20, "d"), "1-0"))
	open := func(who Who) *Games {
		g, err := Open(t.Context(), []Input{{Source: "one", Pattern: dir + "/a.pgn", Handles: []string{"nobody"}}, {Source: "one", Pattern: dir + "/a.pgn", Handles: []string{"tide"}}, {Source: "two", Pattern: dir + "/b.pgn", Handles: []string{"ebb"}}}, Options{Who: who})
		if err != nil {
			t.Fatal(err)
		}
		return g
	}
	g := open(Who{})
	var got []string
	for game := range g.All() {
		got = append(got, filepath.Base(game.File))
		other := tagged(tags("White", "tide", "Black", "ebb"))
		if white, black := g.Match(other); white || black {
			t.Error("a handle counts at no source")
		}
	}
	if s := g.Summary(); strings.Join(got, " ") != "a.pgn b.pgn" || s.Games != 4 || s.Theirs != 2 {
		t.Errorf("%q, %+v", got, s)
	}
	n := 0
	for range open(Who{Names: []string{"x"}}).All() {
		n++
		break
	}
	if n != 1 {
		t.Errorf("%d games", n)
	}
}

// Each worker of Spread has a hand of its own.
func TestHandsOfWorkers(t *testing.T) {
	g, err := Open(t.Context(), Inputs(folder(t, "a.pgn", strings.Repeat(oneGame, 3))), Options{Workers: 3})
	if err != nil {
		t.Fatal(err)
	}
	var games atomic.Int32
	hands := 0
	g.Spread(func() func(*pgn.Game) {
		hands++
		return func(*pgn.Game) { games.Add(1) }
	})
	if hands != 3 || games.Load() != 3 || g.Summary().Kept != 3 {
		t.Errorf("%d hands, %d games", hands, games.Load())
	}
}
