package web

import (
	"bufio"
	"bytes"
	"cmp"
	"context"
	"errors"
	"fmt"
	"io"
	"net/http"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"foreply/fetch"
)

// answer is what came of one address.
type answer struct {
	haul
	cut      bool // it broke off
	etag     string
	modified string
}

var errPacking = errors.New("the answer is packed in a way that was not asked for")

// ask gets an address and keeps its games, trying again what may pass. Whole games
// of an answer that broke off are kept before the next try, whatever that brings.
// Only an answer that has as many games ends well then: one that is empty, or that
// says that nothing changed, does not make up for the one that broke off.
func (r *run) ask(ctx context.Context, address string, known page) (*answer, error) {
	var last, cut *answer // cut: of those that broke off, the one with most games
	fresh, novel := 0, 0
	err := r.server.retry.do(ctx, func() (err error) {
		if last, err = r.once(ctx, address, known); last != nil {
			fresh, novel = fresh+last.fresh, novel+last.novel
			last.fresh, last.novel = fresh, novel
			if last.cut && (cut == nil || last.games >= cut.games) {
				cut = last
			}
		}
		return err
	})
	switch {
	case cut == nil || cut.games == 0:
		return last, err
	case err == nil && last.games >= cut.games && !last.unchanged:
		return last, nil
	case err == nil:
		err = fmt.Errorf("%w after %s, and the next one has %s", errBroken, gamesText(cut.games), last.brought())
	case ctx.Err() == nil && !errors.Is(err, errBroken):
		err = fmt.Errorf("the answer broke off after %s, and then: %w", gamesText(cut.games), err)
	}
	return cut, err
}

// brought says how many games an answer had.
func (a *answer) brought() string {
	if a.unchanged {
		return "nothing new"
	}
	return gamesText(a.games)
}

func gamesText(n int) string {
	if n == 1 {
		return "1 game"
	}
	return fmt.Sprintf("%d games", n)
}

// once asks one time.
func (r *run) once(ctx context.Context, address string, known page) (*answer, error) {
	headers := r.headers(address)
	headers.Set("Accept-Encoding", "gzip, zstd")
	if known.URL == r.server.hide(address) {
		setIf(headers, "If-None-Match", known.ETag)
		setIf(headers, "If-Modified-Since", known.Modified)
	}
	response, err := r.send(ctx, address, headers)
	if err != nil {
		return nil, err
	}
	defer response.Body.Close()
	got := &answer{etag: r.server.hide(response.Header.Get("ETag")), modified: lastModified(response.Header)}
	switch response.StatusCode {
	case http.StatusNotModified:
		got.unchanged = true
		return got, nil
	case http.StatusNotFound, http.StatusGone:
		got.missing = true
		r.refusal = r.server.status(response)
		return got, nil
	}
	encoding := strings.ToLower(response.Header.Get("Content-Encoding"))
	if !slices.Contains([]string{"", "gzip", "x-gzip", "zstd", "identity"}, encoding) {
		return nil, fmt.Errorf("%w: %s", errPacking, encoding)
	}
	return got, r.receive(ctx, response.Body, r.server.shown(address), got)
}

// receive writes a body to the part file and keeps its games. Those of one that
// broke off are on disk before anybody waits to try again.
func (r *run) receive(ctx context.Context, body io.Reader, label string, got *answer) error {
	err := r.stream(ctx, body)
	damaged := errors.Is(err, errDamaged)
	if got.cut = damaged || errors.Is(err, errBroken); err != nil && !got.cut {
		return err
	}
	var lost error
	if got.haul, lost = r.take(ctx, label, got.cut); lost != nil || !got.cut {
		return lost
	}
	if failed := r.save(); failed != nil {
		return failed
	}
	if damaged {
		return err // the next try would bring the same
	}
	return &transient{err: err}
}

// settled is how long ago something must have changed for its date to mean
// anything: dates have whole seconds, and what changes twice in one keeps its date
// (RFC 9110, 8.8.2.2, which leaves the length open).
const settled = time.Minute

// lastModified is the date of an answer, empty if it changed only just before.
func lastModified(h http.Header) string {
	modified, err := http.ParseTime(h.Get("Last-Modified"))
	sent, other := http.ParseTime(h.Get("Date"))
	if err != nil || other != nil || sent.Sub(modified) < settled {
		return ""
	}
	return h.Get("Last-Modified")
}

func setIf(h http.Header, name, value string) {
	if value != "" {
		h.Set(name, value)
	}
}

// headers are those of the user, as far as the address may see them.
func (r *run) headers(address string) http.Header {
	out := http.Header{}
	for _, h := range r.server.source.headers {
		// A header is no address: nothing in it is escaped.
		out.Add(h.name, h.value.plain(values{player: r.player.Handle, token: r.server.token}))
	}
	if !sameHost(address, r.home()) {
		strip(out)
	}
	return out
}

// send asks and sorts out what is no answer: the error is transient if it may
// pass.
func (r *run) send(ctx context.Context, address string, headers http.Header) (*http.Response, error) {
	response, err := r.server.client.get(ctx, address, headers)
	if err != nil {
		return nil, lost(err)
	}
	if r.server.client.moved && r.server.source.secret() {
		r.warnOnce("it sends on to another host, which does not get the token")
	}
	switch status := response.StatusCode; {
	case status == 200, status == 203, status == 204, status == 404, status == 410,
		status == 304 && (headers.Get("If-None-Match") != "" || headers.Get("If-Modified-Since") != ""):
		return response, nil
	case status == 429, status >= 500:
		err = &transient{r.server.status(response), retryAfter(response.Header.Get("Retry-After"), r.server.opt.Now())}
	default:
		err = r.server.status(response)
	}
	response.Body.Close()
	return nil, err
}

// lost sorts an error of the connection.
func lost(err error) error {
	if passes(err) {
		return &transient{err: plainly(err)}
	}
	return plainly(err)
}

var errBroken = errors.New("the answer breaks off")

// errDamaged is about an answer that came whole and can't be unpacked.
var errDamaged = errors.New("the packed answer is damaged")

// broken is an error that ended a body too early.
func broken(err error) error {
	if errors.Is(err, io.ErrUnexpectedEOF) || errors.Is(err, io.EOF) {
		return errBroken
	}
	return fmt.Errorf("%w: %w", errBroken, plainly(err))
}

// stream writes a body to the part file, unpacked. Errors of the disk and what is
// no PGN end it for good; errBroken says that it ended too early.
func (r *run) stream(ctx context.Context, from io.Reader) error {
	body := &body{r: from, run: r}
	out, err := r.server.create(r.part)
	if err != nil {
		return &diskError{err}
	}
	disk := &diskWriter{w: out}
	buffered := bufio.NewWriterSize(disk, 64<<10)
	hidden := &hider{w: buffered, token: r.server.token}
	both := io.MultiWriter(hidden, &body.games)
	err = fetch.Unpack(ctx, body, fetch.Limits{Unpacked: r.server.source.most}, func(text io.Reader) error {
		_, err := io.Copy(both, io.MultiReader(text, strings.NewReader("\n")))
		return err
	})
	flushed := cmp.Or(hidden.Close(), buffered.Flush(), out.Sync())
	closed := out.Close()
	lost := body.broke()
	switch wrote := cmp.Or(disk.err, flushed, closed); {
	case wrote != nil:
		return &diskError{wrote}
	case err == nil:
		return nil
	case ctx.Err() != nil, lost != nil:
		return broken(cmp.Or(context.Cause(ctx), lost))
	case errors.Is(err, io.ErrUnexpectedEOF):
		return errBroken // packed, and not to its end
	case errors.Is(err, fetch.ErrNotPGN), errors.Is(err, fetch.ErrOverLimit):
		return err
	}
	return fmt.Errorf("%w: %w", errDamaged, err)
}

// diskError is an error of writing, not of the server.
type diskError struct{ err error }

func (d *diskError) Error() string { return "writing the answer: " + d.err.Error() }
func (d *diskError) Unwrap() error { return d.err }

type diskWriter struct {
	w   io.Writer
	err error
}

func (d *diskWriter) Write(p []byte) (int, error) {
	n, err := d.w.Write(p)
	d.err = cmp.Or(d.err, err)
	return n, err
}

// file is what an answer is written to.
type file interface {
	io.WriteCloser
	Sync() error
}

func createFile(path string) (file, error) {
	return os.OpenFile(path, os.O_CREATE|os.O_TRUNC|os.O_RDWR, 0o600)
}

// partPath is where an answer waits to be read.
func partPath(games string) string { return filepath.Join(filepath.Dir(games), ".answer.part") }

// body reads an answer, with a limit of its length.
type body struct {
	r     io.Reader
	run   *run
	games gameCounter
	n     int64
	told  time.Time // when progress was told last
	err   error     // of the connection
}

// tellEvery is the time between two calls of Options.Progress.
const tellEvery = 200 * time.Millisecond

func (b *body) Read(p []byte) (int, error) {
	n, err := b.r.Read(p)
	b.n += int64(n)
	b.run.account.Bytes += int64(n)
	if now := b.run.server.opt.Now(); now.Sub(b.told) >= tellEvery {
		b.told = now
		b.run.progress(b.games.n)
	}
	switch most := b.run.server.source.most; {
	case b.n > most:
		return 0, tooLarge(most)
	case err != nil && err != io.EOF:
		b.err = err
	}
	return n, err
}

// broke is the error of the connection, and the last to be told of the body.
func (b *body) broke() error {
	b.run.progress(b.games.n)
	return b.err
}

func tooLarge(most int64) error {
	return fmt.Errorf("the answer has more than %d MB: %w", most>>20, fetch.ErrOverLimit)
}

// gameCounter counts the games in a text as it passes: roughly, for the eye.
type gameCounter struct {
	n    int
	tail []byte
}

var gameMark = []byte("[White \"")

func (c *gameCounter) Write(p []byte) (int, error) {
	seam := append(c.tail, p[:min(len(p), len(gameMark)-1)]...)
	found := bytes.Count(p, gameMark)
	if len(c.tail) > 0 && bytes.Contains(seam, gameMark) { // shorter than two marks: it is the one across
		found++
	}
	c.n += found
	if keep := len(gameMark) - 1; len(p) >= keep {
		c.tail = append(c.tail[:0], p[len(p)-keep:]...)
	} else {
		c.tail = append(c.tail[:0], seam[max(0, len(seam)-keep):]...)
	}
	return len(p), nil
}
