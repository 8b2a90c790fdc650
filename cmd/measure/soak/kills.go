package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"maps"
	"math/rand/v2"
	"net/http/httptest"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"time"
)

// job is a command that is killed on its way and then called again.
type job struct {
	name  string
	files map[string][]byte
	args  []string
	// done is what the second call may say where the first one had come to its end.
	done string
}

func (b *bench) jobs(site string) []job {
	books := []string{"--white-repertoire", "white.pgn", "--black-repertoire", "black.pgn", "--date", "2026-11-02"}
	files := func(name, text string) map[string][]byte {
		return map[string][]byte{"games.pgn": b.games[:len(b.games)/4], "white.pgn": b.white, "black.pgn": b.black, name: []byte(text)}
	}
	return []job{
		{"fetch", map[string][]byte{"foreply.yaml": []byte(strings.ReplaceAll(serversText, "SITE", site))}, []string{"fetch", "--date", "2026-11-02"}, ""},
		{"field", files("entries.txt", "Kestrel, Ada\nXanthos, Lia\n"),
			append([]string{"field", "entries.txt", "--games", "games.pgn", "-o", "tonight"}, books...), ""},
		{"prep", files("notes.txt", ""), []string{"prep", "--games", "games.pgn", "--opponent", "Kestrel, Ada",
			"--repertoire", "white.pgn", "--my-color", "white", "--date", "2026-11-02", "-o", "sheet.pdf"}, ""},
		{"init", nil, []string{"init"}, "the file is there already"},
	}
}

const serversText = `cache: kept
opponents:
  - {id: kestrel, names: ["Kestrel, Ada"], handles: [{source: stream, handle: kestrel}, {source: pages, handle: kestrel}]}
sources:
  - {id: stream, url: "SITE/stream/{player}", pace: 0.001}
  - {id: pages, url: "SITE/pages/{player}?page={page}", pages: numbers, pace: 0.001}
`

// mostTime is the longest that any run may take.
const mostTime = 20 * time.Second

// kill ends each command at moments chosen by chance, calls it again, and compares what
// is there then with what an undisturbed run makes.
func (b *bench) kill(ctx context.Context, n int, seed uint64, out io.Writer) error {
	site := httptest.NewServer(newSite(b.games))
	defer site.Close()
	chance := rand.New(rand.NewPCG(seed, 1))
	jobs := b.jobs(site.URL)
	for i, j := range jobs {
		rounds := (n + len(jobs) - 1 - i) / len(jobs)
		if err := b.killJob(ctx, &j, rounds, chance, out); err != nil {
			return fmt.Errorf("%s: %w", j.name, err)
		}
	}
	return nil
}

func (b *bench) killJob(ctx context.Context, j *job, rounds int, chance *rand.Rand, out io.Writer) error {
	folder, err := b.lay("work", j.files)
	if err != nil {
		return err
	}
	takes, err := b.whole(ctx, j, folder)
	if err != nil {
		return fmt.Errorf("undisturbed: %w", err)
	}
	want, err := contents(folder)
	if err != nil {
		return err
	}
	undisturbed, killed, left, tries := takes, 0, 0, 0
	for ; killed < rounds && tries < mostTries*rounds; tries++ {
		if _, err := b.lay("work", j.files); err != nil {
			return err
		}
		_, err := b.call(ctx, folder, j.args, time.Duration(chance.Int64N(int64(takes)))+time.Millisecond)
		if err != nil && !errors.Is(err, errKilled) {
			return fmt.Errorf("before it was killed: %w", err)
		}
		if err != nil {
			killed++
			if now, err := contents(folder); err == nil && len(now) > len(j.files) {
				left++
			}
		}
		if takes, err = b.whole(ctx, j, folder); err != nil {
			return fmt.Errorf("after it was killed: %w", err)
		}
		if err := sameAs(folder, want); err != nil {
			return err
		}
	}
	fmt.Fprintf(out, "%s: killed %d times on its way of %v, after %d of which something stood in the folder; %d runs ended before; each time the next run's end equals an undisturbed one\n",
		j.name, killed, undisturbed.Round(time.Millisecond), left, tries-killed)
	if killed < rounds {
		return fmt.Errorf("killed %d times only, not %d: the machine is too busy, or too quick", killed, rounds)
	}
	return nil
}

// mostTries is how many runs are begun for one that is killed: some are done before.
const mostTries = 5

// whole lets the program come to its end and returns how long that took.
func (b *bench) whole(ctx context.Context, j *job, folder string) (time.Duration, error) {
	begun := time.Now()
	said, err := b.call(ctx, folder, j.args, 0)
	if err != nil && j.done != "" && strings.Contains(said, j.done) {
		err = nil
	}
	return time.Since(begun), err
}

var errKilled = errors.New("killed")

// call runs the program and kills it after a time, if one is given. An error has what
// it said.
func (b *bench) call(ctx context.Context, folder string, args []string, after time.Duration) (said string, err error) {
	limited, cancel := context.WithTimeout(ctx, mostTime)
	defer cancel()
	cmd := exec.CommandContext(limited, b.program, args...)
	cmd.Dir, cmd.Env = folder, b.environment()
	var text bytes.Buffer
	cmd.Stdout, cmd.Stderr = &text, &text
	if err := cmd.Start(); err != nil {
		return "", err
	}
	killed := make(chan struct{})
	if after > 0 {
		timer := time.AfterFunc(after, func() { close(killed); cmd.Process.Kill() })
		defer timer.Stop()
	}
	err = cmd.Wait()
	select {
	case <-killed:
		if err != nil {
			return "", errKilled
		}
	default:
	}
	switch {
	case limited.Err() != nil && ctx.Err() == nil:
		err = fmt.Errorf("not done in %v", mostTime)
	case ctx.Err() != nil:
		err = ctx.Err()
	}
	if err != nil {
		err = fmt.Errorf("%w\n%s", err, text.Bytes())
	}
	return text.String(), err
}

// environment keeps the user's own files out of it.
func (b *bench) environment() []string {
	return []string{"PATH=" + os.Getenv("PATH"), "HOME=" + filepath.Join(b.folder, "home"), "TMPDIR=" + b.folder}
}

// contents are the files under a folder. Locks stay, empty.
func contents(folder string) (map[string][]byte, error) {
	out := map[string][]byte{}
	err := filepath.WalkDir(folder, func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || d.Name() == ".lock" {
			return err
		}
		out[path], err = os.ReadFile(path)
		return err
	})
	return out, err
}

func sameAs(folder string, want map[string][]byte) error {
	got, err := contents(folder)
	if err != nil {
		return err
	}
	var wrong []string
	for _, path := range slices.Sorted(maps.Keys(want)) {
		if text, found := got[path]; !found || !bytes.Equal(text, want[path]) {
			wrong = append(wrong, path+" is missing or another")
		}
	}
	for _, path := range slices.Sorted(maps.Keys(got)) {
		if _, found := want[path]; !found {
			wrong = append(wrong, path+" was left")
		}
	}
	if len(wrong) > 0 {
		return errors.New(strings.Join(wrong, "; "))
	}
	return nil
}
