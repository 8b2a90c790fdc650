package web

import (
	"io"
	"net/http"
	"runtime"
	"testing"
	"time"
)

// How much memory a body takes while it streams by doesn't depend on how much of
// it came: the server looks after 4 MB and after 32 MB. Seven times the body may
// cost a megabyte for the swaying of buffers; what a gigabyte takes is then what
// these 4 MB take, far below 64 MB.
func TestMemoryWhileStreaming(t *testing.T) {
	var used [2]int64
	site := serve(t, func(w http.ResponseWriter, r *http.Request) {
		streamGames(w, 4<<20)
		used[0] = live()
		streamGames(w, 28<<20)
		used[1] = live()
		say(w, tale(1))
	})
	v := newVisit(t, Description{URL: site.URL + "/{player}"})
	v.opt.Now, v.opt.Sleep = time.Now, Sleep
	if a := v.well(); a.Bytes < 32<<20 || a.New < 2 {
		t.Errorf("%d bytes, %d games", a.Bytes, a.New)
	}
	t.Logf("in use after 4 MB: %d kB, after 32 MB: %d kB", used[0]>>10, used[1]>>10)
	if used[1]-used[0] > 1<<20 || used[1] > 48<<20 {
		t.Errorf("in use after 4 MB: %d bytes, after 32 MB: %d", used[0], used[1])
	}
}

// streamGames writes a few games, and white space between them so that reading
// takes less time than streaming.
func streamGames(w io.Writer, size int) {
	gap := make([]byte, 64<<10)
	for i := range gap {
		gap[i] = '\n'
	}
	for n := 0; size > 0; n++ {
		io.WriteString(w, tale(n%300+2))
		w.Write(gap)
		size -= len(gap)
	}
}

func live() int64 {
	runtime.GC()
	var m runtime.MemStats
	runtime.ReadMemStats(&m)
	return int64(m.HeapAlloc)
}

// BenchmarkFetch streams and keeps a body of games; in-use is what is in memory
// when all has come but nothing was read yet.
func BenchmarkFetch(b *testing.B) {
	const games = 20_000
	size, used := 0, int64(0)
	site := serve(b, func(w http.ResponseWriter, r *http.Request) {
		size = 0
		for n := range games {
			text := tale(n + 1)
			size += len(text)
			io.WriteString(w, text)
		}
		used = live()
	})
	for b.Loop() {
		v := newVisit(b, Description{URL: site.URL + "/{player}"})
		v.opt.Now, v.opt.Sleep = time.Now, Sleep
		if a, err := v.fetch(); err != nil || a.New != games {
			b.Fatal(a.New, err)
		}
	}
	b.SetBytes(int64(size))
	b.ReportMetric(float64(used), "in-use-bytes")
}
