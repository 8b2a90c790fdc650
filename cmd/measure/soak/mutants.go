package main

import (
	"bytes"
	"compress/gzip"
	"context"
	"errors"
	"fmt"
	"io"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"time"
)

// mostMemory of one run over a damaged file, in bytes.
const mostMemory = 200 << 20

// damage makes sheets of files that were damaged. Each run must end in a sheet or in a
// clear error.
func (b *bench) damage(ctx context.Context, n int, seed uint64, out io.Writer) error {
	if whole, err := b.judged(ctx, b.sound()); err != nil || !whole.sheet {
		return fmt.Errorf("there is no sheet of undamaged files: %w%s", err, whole.said)
	}
	chance := rand.New(rand.NewPCG(seed, 2))
	sheets, refused := 0, map[string]int{}
	longest, largest := time.Duration(0), int64(0)
	for i := range n {
		files := b.sound()
		victim := []string{"games.pgn", "book.pgn", "foreply.yaml"}[i%3]
		files[victim] = damaged(files[victim], chance)
		ended, err := b.judged(ctx, files)
		if err != nil {
			return fmt.Errorf("run %d, with a damaged %s: %w", i+1, victim, err)
		}
		longest, largest = max(longest, ended.took), max(largest, ended.memory)
		if ended.sheet {
			sheets++
		} else {
			refused[victim]++
		}
	}
	fmt.Fprintf(out, "prep over %d damaged files: %d sheets; clear errors: %d for games, %d for repertoires, %d for configurations; at most %v and %d MB\n",
		n, sheets, refused["games.pgn"], refused["book.pgn"], refused["foreply.yaml"], longest.Round(time.Millisecond), largest>>20)
	return nil
}

// sound are the files before they are damaged.
func (b *bench) sound() map[string][]byte {
	return map[string][]byte{"games.pgn": b.games, "book.pgn": b.black, "foreply.yaml": []byte(damagedConfig)}
}

const damagedConfig = `# a comment
me:
  names: ["Pellworth, Ines"]
  repertoire:
    black: [book.pgn]
sheet:
  paper: a4
  event: "Weirside Open"
  date: "2026-11-02"
  clock: 5400+30
opponents:
  - id: kestrel
    names: ["Kestrel, Ada"]
    rating: 2100
sources:
  - {id: files, files: [games.pgn]}
`

type ending struct {
	sheet  bool
	took   time.Duration
	memory int64
	said   string
}

// judged makes a sheet of files and judges how that ended.
func (b *bench) judged(ctx context.Context, files map[string][]byte) (ending, error) {
	folder, err := b.lay("damaged", files)
	if err != nil {
		return ending{}, err
	}
	ctx, cancel := context.WithTimeout(ctx, mostTime)
	defer cancel()
	cmd := exec.CommandContext(ctx, b.program, "prep", "kestrel", "--my-color", "black", "-o", "sheet.pdf")
	cmd.Dir, cmd.Env = folder, b.environment()
	var errs bytes.Buffer
	cmd.Stderr = &errs
	begun := time.Now()
	err = cmd.Run()
	end := ending{took: time.Since(begun), memory: mostUsed(cmd.ProcessState)}
	said := errs.String()
	sheet, unread := os.ReadFile(filepath.Join(folder, "sheet.pdf"))
	switch {
	case ctx.Err() != nil:
		return end, fmt.Errorf("not done in %v", mostTime)
	case end.memory > mostMemory:
		return end, fmt.Errorf("it took %d MB", end.memory>>20)
	case strings.Contains(said, "goroutine ") || strings.Contains(said, "panic"):
		return end, fmt.Errorf("it broke:\n%s", said)
	case err == nil:
		if end.sheet = bytes.HasPrefix(sheet, []byte("%PDF-")); !end.sheet {
			return end, errors.Join(errors.New("it ended well, without a sheet"), unread)
		}
		return end, nil
	}
	var exit *exec.ExitError
	if !errors.As(err, &exit) || exit.ExitCode() != 1 && exit.ExitCode() != 2 || !strings.Contains("\n"+said, "\nerror: ") {
		return end, fmt.Errorf("%w, without a clear error:\n%s", err, said)
	}
	if unread == nil {
		return end, fmt.Errorf("there is a sheet in spite of the error:\n%s", said)
	}
	end.said = said
	return end, nil
}

// damaged is a text with one to four wounds, packed now and then before the last of
// them.
func damaged(text []byte, chance *rand.Rand) []byte {
	text = bytes.Clone(text)
	wounds := 1 + chance.IntN(4)
	for i := range wounds {
		if i == wounds-1 && chance.IntN(8) == 0 {
			text = packed(text)
		}
		text = wound(text, chance)
	}
	return text
}

// signs are what makes most trouble where it doesn't belong.
var signs = []string{"{", "}", "(", ")", ";", "%", "[", "]", "\"", "\\", "\x00", "\xff\xfe", "\xef\xbb\xbf", "\x1f\x8b\x08", "PK\x03\x04", "\r", "\t", "\n\n",
	"*", "1-0", "$9999999999", "999999999.", "--", "Z0", "e4e5e6", "O-O-O-O", "[FEN \"8/8/8/8/8/8/8/8 w - - 0 1\"]\n", "&a [*a]", "!!binary ", "- - - ", ": {", "\u202e"}

// wound changes a text at a place chosen by chance.
func wound(text []byte, chance *rand.Rand) []byte {
	if len(text) == 0 {
		return []byte(signs[chance.IntN(len(signs))])
	}
	at := chance.IntN(len(text))
	to := min(len(text), at+1+chance.IntN(1+len(text)/4))
	switch sign := signs[chance.IntN(len(signs))]; chance.IntN(8) {
	case 0: // a sign changed
		text[at] ^= 1 << chance.IntN(8)
		return text
	case 1: // cut off
		return text[:at]
	case 2: // a part lost
		return append(text[:at:at], text[to:]...)
	case 3: // a part twice
		return bytes.Join([][]byte{text[:to], text[at:]}, nil)
	case 4: // a sign put in
		return bytes.Join([][]byte{text[:at], text[at:]}, []byte(sign))
	case 5: // many of them
		return bytes.Join([][]byte{text[:at], text[at:]}, bytes.Repeat([]byte(sign), 1+chance.IntN(20_000)))
	case 6: // every line's end is another
		return bytes.ReplaceAll(text, []byte("\n"), []byte(sign))
	default: // noise
		for i := at; i < to; i++ {
			if chance.IntN(20) == 0 {
				text[i] = byte(chance.IntN(256))
			}
		}
		return text
	}
}

func packed(text []byte) []byte {
	var out bytes.Buffer
	z := gzip.NewWriter(&out)
	z.Write(text) // a Buffer has no errors
	z.Close()
	return out.Bytes()
}
