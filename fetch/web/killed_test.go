package web

import (
	"bufio"
	"net/http"
	"os"
	"os/exec"
	"strings"
	"testing"
)

// A process that is killed between the end of the download and the renaming of
// the games' file leaves the games as they were and no lock; the next run gets
// what it had got.
func TestKilledBeforeRename(t *testing.T) {
	v, well := real(t, func(w http.ResponseWriter, r *http.Request) { say(w, tales(1, 2, 3, 4)) })
	cmd := exec.CommandContext(t.Context(), os.Args[0], "-test.run=^TestFetchAndWait$")
	cmd.Env = append(os.Environ(), "FETCH_AND_WAIT="+v.source.URL+" "+v.store.Folder)
	out, err := cmd.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	if line, err := bufio.NewReader(out).ReadString('\n'); line != "downloaded\n" {
		t.Fatalf("the other process says %q, %v", line, err)
	}
	v.badly("another foreply is writing there", "")
	cmd.Process.Kill()
	cmd.Wait()
	path := v.store.Path("site", "opponent")
	if part, err := os.ReadFile(partPath(path)); err != nil || !strings.HasPrefix(string(part), tales(1, 2, 3, 4)) {
		t.Errorf("the download was not complete: %v", err)
	}
	os.Rename(partPath(path), path+".aside") // keeps looks that no part is left
	v.keeps(1, 2)
	os.Rename(path+".aside", partPath(path))
	well(1, 2, 3, 4)
}

// TestFetchAndWait is the other process: it stops for ever when the whole answer
// is on disk.
func TestFetchAndWait(t *testing.T) {
	where := os.Getenv("FETCH_AND_WAIT")
	if where == "" {
		t.Skip("only for TestKilledBeforeRename")
	}
	url, folder, _ := strings.Cut(where, " ")
	v := newVisit(t, Description{URL: url})
	v.store.Folder = folder
	v.opt.Progress = func(p Progress) {
		if p.Games == 4 {
			os.Stdout.WriteString("downloaded\n")
			select {}
		}
	}
	v.fetch()
}

// Killed between the renaming of the games and that of the state: the state is
// that of the run before. Pages that were not reached must not be passed over
// because the first one has nothing new.
func TestKilledBeforeState(t *testing.T) {
	games, fail := []int{2, 1}, ""
	site := numbered(t, &games, &fail)
	v := newVisit(t, Description{URL: site.URL + "/{player}?page={page}", Pages: "numbers"})
	v.well()
	path := statePath(v.store.Path("site", "opponent"))
	before, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	games, fail = []int{6, 5, 4, 3, 2, 1}, "2"
	v.badly("418", "")
	v.keeps(6, 5, 2, 1)
	if err := os.WriteFile(path, before, 0o644); err != nil {
		t.Fatal(err)
	}
	fail = ""
	v.well()
	v.keeps(upTo(6)...)
}
