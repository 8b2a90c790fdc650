package web

import (
	"crypto/tls"
	"crypto/x509"
	"errors"
	"fmt"
	"io"
	"net"
	"net/http"
	"os"
	"strings"
	"syscall"
	"testing"
	"time"

	"foreply/fetch"
)

// Each way to fail has its own advice: what to look at, and what became of the games.
func TestAdvice(t *testing.T) {
	const address = "'foreply fetch --dry-run' prints the address: compare it with the server's documentation"
	refused := func(status int) error { return fmt.Errorf("page 3: %w", &statusError{status: status}) }
	for _, c := range []struct {
		quirk  string
		err    error
		secret bool // the source has a token
		games  int  // that came
		want   string
	}{
		{"401", refused(401), false, 0, "it may want a token: put it into an environment variable and name that with token_from in the source"},
		{"403 with a token", refused(403), true, 0, "is the token in CLUB_TOKEN right, and still valid?"},
		{"404", refused(404), true, 0, "is the handle tide right? It stands under handles of alder"},
		{"410", refused(410), false, 0, "is the handle tide right? It stands under handles of alder"},
		{"429", refused(429), false, 0, "it wants fewer requests: raise pace of the source, and run foreply fetch again later"},
		{"429 behind games", refused(429), false, 1, "it wants fewer requests: raise pace of the source, and run foreply fetch again later; what came is kept"},
		{"500", refused(500), false, 2, "the server has trouble; run foreply fetch again later; what came is kept"},
		{"499", refused(499), false, 2, address}, {"400", refused(400), false, 2, address},
		{"399", refused(399), false, 0, "this is no answer that foreply knows what to do with"},
		{"asked to wait", &giveUp{refused(503), "why", 150 * time.Second}, false, 0, "run foreply fetch again in 3 minutes"},
		{"asked to wait, behind games", &giveUp{refused(429), "why", 30 * time.Second}, false, 4, "run foreply fetch again in 30 seconds; what came is kept"},
		{"tried in vain", &giveUp{errors.New("x"), "tried 5 times", 0}, false, 0, "are you connected, and is the host in the source's url right? If so, the server may be down: try again later"},
		{"disk", &diskError{errors.New("full")}, false, 0, "make room, or name a folder on another disk with --cache; what was kept is unharmed"},
		{"no such host", &net.DNSError{Name: "example.org"}, false, 0, "is the host in the source's url spelled right, and are you connected?"},
		{"astray", fmt.Errorf("%w: x", errAstray), false, 0, address},
		{"redirect", fmt.Errorf("%w: x", errRedirect), false, 0, "write the address that it leads to into the source's url, if you trust it"},
		{"packing", errPacking, false, 0, "only gzip and zstd can be unpacked: does the server's documentation have an address, or a part of the query, for plain PGN?"},
		{"no https", tls.RecordHeaderError{}, false, 0, "is the address in the source's url right, with its port?"}, {"no http", errNoHTTP, false, 0, "is the address in the source's url right, with its port?"},
		{"damaged", errDamaged, false, 1, "run foreply fetch again; what came is kept; if it stays so, the server packs wrongly: does its documentation have an address for plain PGN?"},
		{"certificate", &tls.CertificateVerificationError{Err: errors.New("x")}, false, 0, "the connection can't be trusted: is it the right host, and is your clock right?"},
		{"long list", errLongList, false, 0, "does list of the source lead to the list of one player only? " + address},
		{"over a limit", fetch.ErrOverLimit, false, 0, "such an answer is not taken; if so much is to be expected, raise max_mb of the source"},
		{"no PGN", fetch.ErrNotPGN, false, 0, "'foreply fetch --dry-run' prints the address: does the server's documentation ask for a header, such as Accept?"},
		{"broken off", errBroken, false, 0, "run foreply fetch again"},
		{"with advice of its own", &fetch.Error{Err: errors.New("x"), Hint: "do so"}, false, 0, "do so"}, {"anything", errors.New("x"), false, 0, ""},
	} {
		source := &Source{}
		if c.secret {
			source.TokenFrom = "CLUB_TOKEN"
		}
		r := &run{server: &Server{source: source, token: "s3cret"}, player: Player{Opponent: "alder", Handle: "tide"}, account: Account{Games: c.games}}
		var said *fetch.Error
		if err := r.explain(t.Context(), c.err); !errors.As(err, &said) || said.Hint != c.want || said.Error() != c.err.Error() {
			t.Errorf("%s: %v; %+v, want %s", c.quirk, err, said, c.want)
		}
	}
}

// What may be gone the next time, and how each error of the connection is told.
func TestErrorsOfTheConnection(t *testing.T) {
	op := func(op string, err error) error {
		return &net.OpError{Op: op, Net: "tcp", Addr: &net.TCPAddr{IP: net.IPv4(192, 0, 2, 1), Port: 443}, Err: err}
	}
	for _, c := range []struct {
		err    error
		passes bool
		says   string
	}{
		{&net.DNSError{Err: "no such host", Name: "example.org", Server: "192.0.2.53:53", IsNotFound: true}, false, "looking up example.org: no such host"},
		{&net.DNSError{Err: "i/o timeout", Name: "example.org", Server: "192.0.2.53:53"}, true, "looking up example.org: i/o timeout"},
		{op("dial", &tls.CertificateVerificationError{Err: errors.New("x")}), false, "dial tcp 192.0.2.1:443: tls: failed to verify certificate: x"},
		{op("dial", x509.HostnameError{Certificate: &x509.Certificate{}, Host: "example.org"}), false, "dial tcp 192.0.2.1:443: x509: certificate is not valid for any names, but wanted to match example.org"},
		{op("dial", tls.RecordHeaderError{Msg: "x"}), false, "the server does not speak https there"},
		{op("dial", os.NewSyscallError("connect", syscall.ECONNREFUSED)), true, "connecting to 192.0.2.1:443: connection refused"},
		{op("read", os.NewSyscallError("read", syscall.ECONNRESET)), true, "connection reset by peer"},
		{syscall.ECONNRESET, true, "connection reset by peer"},
		{fmt.Errorf("x: %w", io.EOF), true, "the server hung up without an answer"},
		{io.ErrUnexpectedEOF, true, "unexpected EOF"},
		{errors.New("http2: server sent GOAWAY"), true, "http2: server sent GOAWAY"},
		{errors.New(noHTTP + "malformed HTTP version"), false, "what answers there does not speak HTTP: malformed HTTP version"},
		{errors.New(noLocation + " x"), false, "redirect refused: it leads to what is no address"},
		{fmt.Errorf("%w: x", errRedirect), false, "redirect refused: x"},
		{errors.New("x"), false, "x"},
	} {
		if got := passes(c.err); got != c.passes {
			t.Errorf("%v passes: %v", c.err, got)
		}
		if got := plainly(c.err); got.Error() != c.says {
			t.Errorf("%v is told as %v, want %s", c.err, got, c.says)
		}
	}
}

// Which failures concern a page alone, so that the others are asked for.
func TestOwnFaults(t *testing.T) {
	for _, c := range []struct {
		err  error
		want bool
	}{
		{&statusError{status: 404}, true}, {&statusError{status: 500}, true}, {&statusError{status: 401}, false}, {&statusError{status: 403}, false}, {&statusError{status: 429}, false},
		{&giveUp{&statusError{status: 500}, "x", time.Second}, false}, {&giveUp{&statusError{status: 500}, "x", 0}, true}, {&diskError{errBroken}, false}, {errBroken, true}, {fetch.ErrNotPGN, true},
		{fetch.ErrOverLimit, true}, {errPacking, true}, {errRedirect, true}, {errNoHTTP, false}, {io.EOF, false},
	} {
		if got := ownFault(fmt.Errorf("page: %w", c.err)); got != c.want {
			t.Errorf("%v: %v", c.err, got)
		}
	}
}

// What was passed by is told by its causes, five names at most; what was the last is wrapped.
func TestSumOfFailures(t *testing.T) {
	var f failures
	if f.sum() != nil {
		t.Error("nothing failed")
	}
	last := &statusError{status: 404}
	for _, one := range []struct {
		name string
		err  error
	}{{"2020-01", errBroken}, {"2020-02", errPacking}, {"2020-03", errBroken}, {"2020-03", errBroken}, {"2020-04", errPacking}, {"2020-05", errBroken}, {"2020-06", last}} {
		f.add(one.name, one.err)
	}
	want := "2020-01, 2020-03: the answer breaks off; 2020-02, 2020-04: the answer is packed in a way that was not asked for; and 2 more failed"
	var refused *statusError
	if err := f.sum(); err.Error() != want || !errors.As(err, &refused) {
		t.Errorf("%v, want %s", err, want)
	}
}

// A length of time as people say it, up to its edge in the smaller unit.
func TestRoughly(t *testing.T) {
	for d, want := range map[time.Duration]string{
		1400 * time.Millisecond: "1 seconds", 1500 * time.Millisecond: "2 seconds", 2 * time.Minute: "120 seconds", 2*time.Minute + time.Second: "2 minutes", 150 * time.Second: "3 minutes", 2 * time.Hour: "120 minutes",
		2*time.Hour + time.Second: "2 hours", 150 * time.Minute: "3 hours", 48 * time.Hour: "48 hours", 48*time.Hour + time.Second: "2 days", 84 * time.Hour: "4 days",
	} {
		if got := roughly(d); got != want {
			t.Errorf("%v: %s, want %s", d, got, want)
		}
	}
}

// A refusal quotes what the server says of it, if that is text.
func TestRefusals(t *testing.T) {
	for _, c := range []struct {
		quirk  string
		status int
		head   [2]string
		body   string
		want   string
	}{
		{"plain text", 404, [2]string{"Content-Type", "text/plain; charset=utf-8"}, "\n no such player \nx", `the server says 404 Not Found: "no such player"`},
		{"JSON", 403, [2]string{"Content-Type", "application/json"}, `{"e":1}`, "the server says 403 Forbidden: `{\"e\":1}`"},
		{"JSON of a kind of its own", 400, [2]string{"Content-Type", "application/problem+json; charset=utf-8"}, "[1]", `the server says 400 Bad Request: "[1]"`},
		{"no kind", 500, [2]string{"X-Other", "x"}, "sorry", `the server says 500 Internal Server Error: "sorry"`},
		{"a page", 500, [2]string{"Content-Type", "text/html"}, "<html>", "the server says 500 Internal Server Error"},
		{"packed", 500, [2]string{"Content-Encoding", "gzip"}, "\x1f\x8b", "the server says 500 Internal Server Error"},
		{"nothing", 418, [2]string{"X-Other", "x"}, " \n", "the server says 418 I'm a teapot"}, {"a number that nobody knows", 599, [2]string{"X-Other", "x"}, "", "the server says 599"},
	} {
		answer := &http.Response{StatusCode: c.status, Header: http.Header{}, Body: io.NopCloser(strings.NewReader(c.body))}
		answer.Header.Set(c.head[0], c.head[1])
		if got := (&Server{}).status(answer).Error(); got != c.want {
			t.Errorf("%s: %s, want %s", c.quirk, got, c.want)
		}
	}
}

// A month is over two days after its last, by UTC.
func TestMonthsEnd(t *testing.T) {
	m, _ := ParseMonth("2023-12")
	end := time.Date(2024, 1, 3, 0, 0, 0, 0, time.UTC)
	if m.next().String() != "2024-01" || m.next().previous() != m || m.previous().String() != "2023-11" || !m.before(m.next()) || m.before(m) || m.next().before(m) {
		t.Errorf("%v, then %v", m, m.next())
	}
	if !m.closed(end) || m.closed(end.Add(-time.Second)) {
		t.Error("closed at another time")
	}
	east := time.FixedZone("east", 5*3600)
	if got := monthOf(time.Date(2024, 1, 1, 4, 0, 0, 0, east)); got != m {
		t.Errorf("%v in UTC", got)
	}
}
