package fetch

import (
	"archive/tar"
	"archive/zip"
	"bytes"
	"compress/gzip"
	"context"
	"encoding/base64"
	"errors"
	"fmt"
	"io"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/klauspost/compress/zstd"
	"golang.org/x/text/encoding/unicode"

	"foreply/fetch/pgn"
)

const oneGame = "[White \"Alder, Mina\"]\n[Black \"Brook, Tomas\"]\n[Result \"1-0\"]\n\n1. e4 e5 2. Nf3 Nc6 1-0\n"

// oneGameBzip2 is oneGame by Python's bz2.compress, since no Go package at hand
// writes the format.
const oneGameBzip2 = "QlpoOTFBWSZTWdKqlLsAABjfgAAQUAd/ADADFIovb54AIABUYMjBNDJpiMQ2o9QhqRoNA02oAZA0YgFPHaDWsusUG1mzWManEgQqERUHE9bws1ATHIfoe0YThFle8a+Bp8ACQbhnAzb2mp+LuSKcKEhpVUpdgA=="

func packGzip(text string) string {
	var out bytes.Buffer
	w := gzip.NewWriter(&out)
	io.WriteString(w, text)
	w.Close()
	return out.String()
}

func packZstd(text string) string {
	w, _ := zstd.NewWriter(nil)
	return string(w.EncodeAll([]byte(text), nil))
}

// packZip takes names and contents in turn.
func packZip(members ...string) string {
	var out bytes.Buffer
	w := zip.NewWriter(&out)
	for i := 0; i < len(members); i += 2 {
		m, _ := w.Create(members[i])
		io.WriteString(m, members[i+1])
	}
	w.Close()
	return out.String()
}

// packTar takes names and contents in turn.
func packTar(members ...string) string {
	var out bytes.Buffer
	w := tar.NewWriter(&out)
	for i := 0; i < len(members); i += 2 {
		w.WriteHeader(&tar.Header{Name: members[i], Size: int64(len(members[i+1])), Mode: 0o644})
		io.WriteString(w, members[i+1])
	}
	w.Close()
	return out.String()
}

func packUTF16(text string, order unicode.Endianness) string {
	out, _ := unicode.UTF16(order, unicode.UseBOM).NewEncoder().String(text)
	return out
}

// folder writes files, names and contents in turn, and returns where.
func folder(t *testing.T, files ...string) string {
	t.Helper()
	dir := t.TempDir()
	for i := 0; i < len(files); i += 2 {
		path := filepath.Join(dir, files[i])
		if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path, []byte(files[i+1]), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	return dir
}

// result is all that came of a run.
type result struct {
	games []*pgn.Game
	Summary
	err error
}

func run(t *testing.T, opt Options, patterns ...string) result {
	t.Helper()
	g, err := Open(context.Background(), Inputs(patterns...), opt)
	if err != nil {
		t.Fatal(err)
	}
	var out result
	for game := range g.All() {
		out.games = append(out.games, game.Clone())
	}
	out.Summary, out.err = g.Summary(), g.Err()
	return out
}

// problems prints kind and file of each, the folder taken off.
func (r *result) problems(dir string) string {
	var out []string
	for _, p := range r.Problems {
		out = append(out, fmt.Sprintf("%s: %s", strings.TrimPrefix(p.File, dir+"/"), p.Kind))
	}
	return strings.Join(out, "; ")
}

func TestPackedFiles(t *testing.T) {
	bz, _ := base64.StdEncoding.DecodeString(oneGameBzip2)
	for _, c := range []struct {
		quirk, name, content string
		names                string // of the texts found
	}{
		{"plain", "a.pgn", oneGame, "a.pgn"},
		{"gzip", "a.pgn.gz", packGzip(oneGame), "a.pgn.gz"},
		{"gzip by another name", "a.pgn", packGzip(oneGame), "a.pgn"},
		{"text by the name of gzip", "a.pgn.gz", oneGame, "a.pgn.gz"},
		{"gzip of two parts, cut within a game", "a.pgn.gz", packGzip(oneGame[:40]) + packGzip(oneGame[40:]), "a.pgn.gz"},
		{"bzip2", "a.pgn.bz2", string(bz), "a.pgn.bz2"},
		{"zstd", "a.pgn.zst", packZstd(oneGame), "a.pgn.zst"},
		{"zstd with a skippable frame first", "a.pgn.zst", "\x50\x2a\x4d\x18\x02\x00\x00\x00ab" + packZstd(oneGame), "a.pgn.zst"},
		{"gzip in gzip", "a.pgn.gz", packGzip(packGzip(oneGame)), "a.pgn.gz"},
		{"zip", "a.zip", packZip("b.pgn", oneGame), "a.zip:b.pgn"},
		{"zip with folders, other files and system files", "a.zip",
			packZip("x/", "", "x/B.PGN", oneGame, "read.me", "text", "__MACOSX/x/b.pgn", "junk", "x/._b.pgn", "junk"), "a.zip:x/B.PGN"},
		{"zip of packed members", "a.zip", packZip("b.pgn.zst", packZstd(oneGame)), "a.zip:b.pgn.zst"},
		{"zip in zip", "a.zip", packZip("b.zip", packZip("c.pgn", oneGame)), "a.zip:b.zip:c.pgn"},
		{"zip in gzip", "a.gz", packGzip(packZip("c.pgn", oneGame)), "a.gz:c.pgn"},
		{"zip whose names lead out of the folder", "a.zip", packZip("../../../etc/b.pgn", oneGame), "a.zip:../../../etc/b.pgn"},
		{"tar", "a.tar", packTar("b.pgn", oneGame), "a.tar:b.pgn"},
		{"tar in gzip, with other files", "a.tgz", packGzip(packTar("read.me", "text", "x/b.pgn", oneGame, "x/._b.pgn", "junk")), "a.tgz:x/b.pgn"},
		{"tar of packed members whose names lead out of the folder", "a.tar", packTar("../b.pgn.gz", packGzip(oneGame)), "a.tar:../b.pgn.gz"},
		{"byte order mark", "a.pgn", "\ufeff" + oneGame, "a.pgn"},
	} {
		t.Run(c.quirk, func(t *testing.T) {
			dir := folder(t, c.name, c.content)
			r := run(t, Options{Who: Who{Names: []string{"Alder, Mina"}}}, filepath.Join(dir, c.name))
			if len(r.games) != 1 || r.err != nil || len(r.Problems) != 0 {
				t.Fatalf("%d games, error %v, problems %s", len(r.games), r.err, r.problems(dir))
			}
			if got := r.games[0]; len(got.Moves) != 4 || got.File != dir+"/"+c.names {
				t.Errorf("%d moves in %s", len(got.Moves), got.File)
			}
			if f := r.Files; len(f) != 1 || f[0].Name != dir+"/"+c.names || f[0].Games != 1 || f[0].Theirs != 1 || f[0].Bytes < int64(len(oneGame)) {
				t.Errorf("files %+v", f)
			}
			if entries, _ := os.ReadDir(dir); len(entries) != 1 {
				t.Errorf("%d files in the folder afterwards", len(entries))
			}
		})
	}
}

// A bomb of each kind: what is read must stay far below what it unpacks to.
func TestBombs(t *testing.T) {
	comment := strings.Repeat("{ "+strings.Repeat("x", 60)+" }\n", 1<<19) // 33 MB
	bomb := oneGame[:len(oneGame)-4] + comment + "1-0\n"
	var many []string
	for i := range 20 {
		many = append(many, fmt.Sprintf("%d.pgn", i), oneGame)
	}
	for _, c := range []struct {
		quirk, content, message string
		limits                  Limits
	}{
		{"gzip, by its ratio", packGzip(bomb), "more than 200 times", Limits{}},
		{"zstd, by its ratio", packZstd(bomb), "more than 200 times", Limits{}},
		{"zip, by its ratio", packZip("a.pgn", bomb), "more than 200 times", Limits{}},
		{"gzip, by its size", packGzip(bomb), "more than 1000000 bytes", Limits{Unpacked: 1e6}},
		{"gzip in gzip, by its size", packGzip(packGzip(bomb)), "more than 1000000 bytes", Limits{Unpacked: 1e6}},
		{"zip, by its members", packZip(many...), "20 members", Limits{Entries: 10}},
		{"tar, by its members", packTar(many...), "10 members", Limits{Entries: 10}},
		{"tar in gzip, by its ratio", packGzip(packTar("a.pgn", bomb)), "more than 200 times", Limits{}},
		{"tar in tar without end", packTar("a.tar", packTar("a.tar", packTar("a.tar", packTar("a.pgn", oneGame)))), "more than 3 times over", Limits{}},
		{"gzip without end", packGzip(packGzip(packGzip(packGzip(oneGame)))), "more than 3 times over", Limits{}},
	} {
		t.Run(c.quirk, func(t *testing.T) {
			dir := folder(t, "a.gz", c.content, "b.pgn", oneGame)
			r := run(t, Options{Limits: c.limits}, filepath.Join(dir, "a.gz"), filepath.Join(dir, "b.pgn"))
			if len(r.games) == 0 || r.games[len(r.games)-1].File != filepath.Join(dir, "b.pgn") || r.err != nil {
				t.Fatalf("%d games, error %v: the other file was not read", len(r.games), r.err)
			}
			if len(r.Problems) == 0 {
				t.Fatal("no problem")
			}
			p := r.Problems[len(r.Problems)-1]
			if p.Kind != OverLimit || p.Severity != pgn.Error || !strings.Contains(p.Message, c.message) || p.Hint == "" {
				t.Errorf("%+v", p)
			}
			for _, f := range r.Files {
				if f.Bytes > max(ratioFrom, defaultRatio*int64(len(c.content)))+1<<20 {
					t.Errorf("read %d bytes of %s", f.Bytes, f.Name)
				}
			}
		})
	}
}

// What unpacks to just as much as is allowed is read, a byte more is not; what is counted
// is what comes out, at each layer.
func TestJustAsMuchAsAllowed(t *testing.T) {
	bz, _ := base64.StdEncoding.DecodeString(oneGameBzip2)
	once, inner, tarred := int64(len(oneGame)), packGzip(oneGame), packTar("b.pgn", oneGame)
	for _, c := range []struct {
		quirk, content string
		limits, less   Limits // that it keeps to, and that it doesn't
	}{
		{"gzip", packGzip(oneGame), Limits{Unpacked: once}, Limits{Unpacked: once - 1}},
		{"bzip2", string(bz), Limits{Unpacked: once}, Limits{Unpacked: once - 1}},
		{"zstd", packZstd(oneGame), Limits{Unpacked: once}, Limits{Unpacked: once - 1}},
		{"zip of two", packZip("a.pgn", oneGame, "b.pgn", oneGame), Limits{Unpacked: 2 * once}, Limits{Unpacked: 2*once - 1}},
		{"gzip in gzip", packGzip(inner), Limits{Unpacked: once + int64(len(inner))}, Limits{Unpacked: once + int64(len(inner)) - 1}},
		{"tar in gzip", packGzip(tarred), Limits{Unpacked: int64(len(tarred))}, Limits{Unpacked: int64(len(tarred)) / 2}},
		{"members of a zip", packZip("a.pgn", oneGame, "b.pgn", oneGame), Limits{Entries: 2}, Limits{Entries: 1}},
		{"members of a tar", packTar("a.pgn", oneGame, "b.txt", "x"), Limits{Entries: 2}, Limits{Entries: 1}},
	} {
		read := func(limits Limits) (n int, err error) {
			err = Unpack(t.Context(), strings.NewReader(c.content), limits, func(text io.Reader) error {
				b, err := io.ReadAll(text)
				n += len(b)
				return err
			})
			return n, err
		}
		if n, err := read(c.limits); err != nil || n == 0 || n%len(oneGame) != 0 {
			t.Errorf("%s: %d bytes, %v", c.quirk, n, err)
		}
		if _, err := read(c.less); !errors.Is(err, ErrOverLimit) {
			t.Errorf("%s, over the limit: %v", c.quirk, err)
		}
	}
}

func TestUnreadableFilesAmongOthers(t *testing.T) {
	noise := make([]byte, 60000)
	rand.NewChaCha8([32]byte{}).Read(noise)
	broken := packGzip(oneGame + "\n[White \"Alder, Mina\"]\n\n1. e4 {" + base64.StdEncoding.EncodeToString(noise) + "} e5 *\n")
	damaged := []byte(packZip("b.pgn", strings.Repeat(oneGame, 100), "c.pgn", oneGame))
	copy(damaged[60:], "junkjunkjunk")
	for _, c := range []struct {
		quirk, content string
		kind           pgn.Kind
		severity       pgn.Severity
		message, hint  string
		games          int // read from it all the same
	}{
		{"gzip broken off", broken[:len(broken)/2], Unreadable, pgn.Error, "breaks off", "games before the break", 1},
		{"gzip broken off at once", broken[:8], Unreadable, pgn.Error, "breaks off", "get the file again", 0},
		{"gzip with a wrong checksum", packGzip(oneGame)[:len(packGzip(oneGame))-8] + "xxxxyyyy", Unreadable, pgn.Error, "checksum", "again", 1},
		{"zip damaged in one member", string(damaged), Unreadable, pgn.Error, "", "again", 1},
		{"zip broken off", packZip("b.pgn", oneGame)[:80], Unreadable, pgn.Error, "zip", "again", 0},
		{"zip without games", packZip("read.me", "hello"), Unreadable, pgn.Error, "no games in the archive", ".pgn", 0},
		{"zip without members", packZip(), Unreadable, pgn.Error, "no games in the archive", ".pgn", 0},
		{"web page", "\ufeff\n<!DOCTYPE html><html><body>Log in</body></html>", NotPGN, pgn.Error, `(HTML) and starts with "<!DOCTYPE`, "login", 0},
		{"JSON object", `{ "error" : "not found" }`, NotPGN, pgn.Error, "JSON", "as PGN", 0},
		{"JSON array", `[{"id":1}]`, NotPGN, pgn.Error, "JSON", "as PGN", 0},
		{"database", "SQLite format 3\x00\x10\x00", NotPGN, pgn.Error, "a database file", "export", 0},
		{"binary", "\x7fELF\x02\x01\x01\x00\x00", NotPGN, pgn.Error, "binary data", "export", 0},
		{"picture", "\x89PNG\r\n\x1a\n\x00\x00\x00\x0d", NotPGN, pgn.Error, "binary data", "export", 0},
		{"PDF", "%PDF-1.7\n1 0 obj", NotPGN, pgn.Error, "a PDF", "PGN", 0},
		{"xz", "\xfd7zXZ\x00\x00\x04", NotPGN, pgn.Error, "an xz file", "unpack", 0},
		{"7z", "7z\xbc\xaf\x27\x1c\x00", NotPGN, pgn.Error, "a 7z archive", "unpack", 0},
		{"rar", "Rar!\x1a\x07\x01\x00", NotPGN, pgn.Error, "a rar archive", "unpack", 0},
		{"tar broken off", packTar("b.pgn", oneGame+oneGame)[:660], Unreadable, pgn.Error, "breaks off", "again", 1},
		{"tar without games", packGzip(packTar("read.me", "hello")), Unreadable, pgn.Error, "no games in the archive", ".pgn", 0},
		{"UTF-32", "\xff\xfe\x00\x00[\x00\x00\x00", NotPGN, pgn.Error, "UTF-32", "UTF-8", 0},
		{"empty", "", Empty, pgn.Note, "no text", "", 0},
		{"white space", "\ufeff \r\n\t\r\n", Empty, pgn.Note, "no text", "", 0},
		{"empty in gzip", packGzip(""), Empty, pgn.Note, "no text", "", 0},
	} {
		t.Run(c.quirk, func(t *testing.T) {
			dir := folder(t, "a.pgn", c.content, "z.pgn", strings.Replace(oneGame, "2. Nf3", "2. d4", 1))
			r := run(t, Options{Who: Who{Names: []string{"Alder, Mina"}}}, dir)
			if r.err != nil || len(r.games) != c.games+1 || filepath.Base(r.games[len(r.games)-1].File) != "z.pgn" {
				t.Fatalf("%d games, error %v, %s", len(r.games), r.err, r.problems(dir))
			}
			if len(r.Problems) != 1 {
				t.Fatalf("problems: %s", r.problems(dir))
			}
			p := r.Problems[0]
			if p.Kind != c.kind || p.Severity != c.severity || !strings.Contains(p.Message, c.message) || !strings.Contains(p.Hint, c.hint) {
				t.Errorf("%+v", p)
			}
			if strings.Contains(p.Message, dir) {
				t.Errorf("the message repeats the file: %s", p.Message)
			}
		})
	}
}

// Text with zeros in it: of two bytes a letter, with its mark and without, and
// filled up.
func TestTextWithZeros(t *testing.T) {
	little, big := packUTF16(oneGame, unicode.LittleEndian), packUTF16(oneGame, unicode.BigEndian)
	for _, c := range []struct {
		quirk, content string
		problems       string
	}{
		{"UTF-16, little end first", little, "a.pgn: not UTF-8"},
		{"UTF-16, big end first", big, "a.pgn: not UTF-8"},
		{"UTF-16 without its mark, little end first", little[2:], "a.pgn: not UTF-8"},
		{"UTF-16 without its mark, big end first", big[2:], "a.pgn: not UTF-8"},
		{"zeros before, behind and between", "\x00" + strings.ReplaceAll(oneGame, " e5", "\x00e5\x00") + "\x00\x00\x00", ""},
	} {
		t.Run(c.quirk, func(t *testing.T) {
			dir := folder(t, "a.pgn", c.content)
			r := run(t, alder, dir)
			if len(r.games) != 1 || len(r.games[0].Moves) != 4 || r.problems(dir) != c.problems {
				t.Errorf("%d games, problems %s", len(r.games), r.problems(dir))
			}
		})
	}
}

func TestTextThatOnlyResemblesOtherFormats(t *testing.T) {
	for _, c := range []struct{ quirk, text string }{
		{"comment before the first tag", "{ \"so called\" } " + oneGame},
		{"escape line that names a format", "% PDF of these games exists\n" + oneGame},
		{"bare movetext", "1. e4 e5 *\n"},
		{"tag with a space before its name", "[ White \"Alder, Mina\"]\n\n1. e4 *\n"},
		{"comment in angle brackets", "{<html> is no game}\n" + oneGame},
	} {
		t.Run(c.quirk, func(t *testing.T) {
			if form, what := sniff([]byte(c.text)); form != textForm {
				t.Errorf("taken for %s", what)
			}
		})
	}
}

func TestNothingReadable(t *testing.T) {
	dir := folder(t, "a.pgn", "<html>", "b.pgn", "Rar!\x1a\x07\x01\x00")
	r := run(t, Options{}, dir)
	if r.err == nil || len(r.Problems) != 2 {
		t.Fatalf("error %v, problems %s", r.err, r.problems(dir))
	}
	var said *Error
	if !strings.Contains(r.err.Error(), "a.pgn") || !asError(r.err, &said) || said.Hint == "" {
		t.Errorf("%v has no hint or names no file", r.err)
	}
}

// A file of which only a piece without a game came is one that can't be read.
func TestFileThatBreaksOffBeforeAnyGame(t *testing.T) {
	packed := packGzip(strings.Repeat("% a line that is passed over\n", 10_000))
	r := run(t, Options{}, folder(t, "a.pgn.gz", packed[:len(packed)-9]))
	var said *Error
	if !asError(r.err, &said) || said.Hint == "" || len(r.Problems) != 1 || r.Problems[0].Kind != Unreadable {
		t.Errorf("error %v, problems %v", r.err, r.Problems)
	}
}

func TestNothingReadableInAnArchive(t *testing.T) {
	dir := folder(t, "a.zip", packZip("b.pgn", "<html>", "c.pgn", "{\"a\":1}"))
	if r := run(t, Options{}, dir); r.err == nil || len(r.Problems) != 2 {
		t.Errorf("error %v, problems %s", r.err, r.problems(dir))
	}
}

func TestAnEmptyFileIsNoError(t *testing.T) {
	dir := folder(t, "a.pgn", "", "b.pgn", "<html>")
	if r := run(t, Options{}, dir); r.err != nil || len(r.Problems) != 2 {
		t.Errorf("error %v, problems %s", r.err, r.problems(dir))
	}
}

func TestFolderByTheNameOfAFile(t *testing.T) {
	dir := folder(t, "a.pgn/read.me", "", "b.pgn", oneGame)
	for _, link := range []string{"c.pgn", "d.pgn"} { // to a folder, and to nothing
		if err := os.Symlink(map[string]string{"c.pgn": dir + "/a.pgn", "d.pgn": dir + "/gone"}[link], filepath.Join(dir, link)); err != nil {
			t.Skip("no symbolic links here")
		}
	}
	r := run(t, Options{}, dir)
	if len(r.games) != 1 || r.problems(dir) != "c.pgn: file not readable; d.pgn: file not readable" {
		t.Errorf("%d games, problems %s", len(r.games), r.problems(dir))
	}
}

func TestStandardInput(t *testing.T) {
	for _, c := range []struct{ quirk, content, name string }{
		{"text", oneGame, "-"},
		{"gzip", packGzip(oneGame), "-"},
		{"zip", packZip("b.pgn", oneGame), "-:b.pgn"},
	} {
		t.Run(c.quirk, func(t *testing.T) {
			r := run(t, Options{Stdin: strings.NewReader(c.content)}, "-")
			if len(r.games) != 1 || r.games[0].File != c.name || len(r.Problems) != 0 || r.err != nil {
				t.Errorf("%d games, error %v, problems %s", len(r.games), r.err, r.problems(""))
			}
		})
	}
	t.Run("missing", func(t *testing.T) {
		if _, err := Open(context.Background(), []Input{{Pattern: "-"}}, Options{}); err == nil {
			t.Error("no error")
		}
	})
}

// encryptedZip sets the flag of encryption in the local and central headers.
func encryptedZip() string {
	text := []byte(packZip("b.pgn", oneGame))
	text[6] |= encrypted
	central := bytes.Index(text, []byte("PK\x01\x02"))
	text[central+8] |= encrypted
	return string(text)
}

func TestEncryptedMember(t *testing.T) {
	dir := folder(t, "a.zip", encryptedZip(), "b.pgn", oneGame)
	r := run(t, Options{}, dir)
	if len(r.games) != 1 || len(r.Problems) != 1 || !strings.Contains(r.Problems[0].Hint, "password") {
		t.Errorf("%d games, problems %+v", len(r.games), r.Problems)
	}
}

// Whatever a file holds, the one behind it is read.
func FuzzFile(f *testing.F) {
	bz, _ := base64.StdEncoding.DecodeString(oneGameBzip2)
	for _, seed := range []string{"", oneGame, packGzip(oneGame), packZstd(oneGame), packZip("b.pgn", oneGame), string(bz), encryptedZip(),
		packZip("b.zip", packZip("c.pgn", oneGame)), packUTF16(oneGame, unicode.BigEndian), "<html>", "[{}]", "PK\x05\x06"} {
		f.Add([]byte(seed))
	}
	b := filepath.Join(f.TempDir(), "b.pgn")
	if err := os.WriteFile(b, []byte(oneGame), 0o644); err != nil {
		f.Fatal(err)
	}
	f.Fuzz(func(t *testing.T, content []byte) {
		path := filepath.Join(t.TempDir(), "a.pgn")
		if err := os.WriteFile(path, content, 0o644); err != nil {
			t.Fatal(err)
		}
		r := run(t, Options{With: Kinds, Limits: Limits{Unpacked: 1 << 20, Entries: 20}}, path, b)
		if r.err != nil || len(r.games) == 0 || r.games[len(r.games)-1].File != b {
			t.Errorf("%d games, error %v", len(r.games), r.err)
		}
	})
}
