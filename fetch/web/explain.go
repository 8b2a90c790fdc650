package web

import (
	"bytes"
	"context"
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
	"time"

	"foreply/fetch"
)

// statusError is an answer that is a refusal.
type statusError struct {
	status int
	line   string // what the body begins with, in quotes; empty if nothing readable
}

func (e *statusError) Error() string {
	text := fmt.Sprintf("the server says %d %s", e.status, http.StatusText(e.status))
	if e.line != "" {
		text += ": " + e.line
	}
	return strings.TrimSpace(text)
}

// status makes an error of a response and reads a little of its body.
func (s *Server) status(response *http.Response) *statusError {
	e := &statusError{status: response.StatusCode}
	head := make([]byte, 512)
	n, _ := io.ReadFull(response.Body, head)
	kind := response.Header.Get("Content-Type")
	readable := strings.HasPrefix(kind, "text/plain") || strings.Contains(kind, "json") || kind == ""
	if text := bytes.TrimSpace(head[:n]); len(text) > 0 && readable && response.Header.Get("Content-Encoding") == "" {
		e.line = fetch.FirstLine(text)
	}
	return e
}

// passes reports whether an error of the connection may be gone the next time.
func passes(err error) bool {
	var (
		dns   *net.DNSError
		cert  *tls.CertificateVerificationError
		host  x509.HostnameError
		plain tls.RecordHeaderError
	)
	switch {
	case errors.As(err, &dns):
		return !dns.IsNotFound
	case errors.Is(err, errRedirect), errors.As(err, &cert), errors.As(err, &host), errors.As(err, &plain):
		return false
	}
	var network net.Error
	return errors.As(err, &network) || errors.Is(err, io.EOF) || errors.Is(err, io.ErrUnexpectedEOF) ||
		errors.Is(err, syscall.ECONNRESET) || strings.HasPrefix(err.Error(), "http2: ")
}

// errNoHTTP is about an answer whose first lines can't be read.
var errNoHTTP = errors.New("what answers there does not speak HTTP")

// What net/http says for them, which has no types for these errors; TestOddAnswers
// notices when that changes.
const (
	noHTTP     = "net/http: HTTP/1.x transport connection broken: "
	noLocation = "failed to parse Location header"
)

// plainly says what an error of the connection is about, without the names of
// system calls and of our own DNS server.
func plainly(err error) error {
	var (
		dns   *net.DNSError
		op    *net.OpError
		call  *os.SyscallError
		plain tls.RecordHeaderError
	)
	switch {
	case errors.As(err, &dns):
		return &said{fmt.Sprintf("looking up %s: %s", dns.Name, dns.Err), err}
	case errors.As(err, &plain):
		return &said{"the server does not speak https there", err}
	case errors.Is(err, io.EOF):
		return &said{"the server hung up without an answer", err}
	case strings.HasPrefix(err.Error(), noLocation):
		return fmt.Errorf("%w: it leads to what is no address", errAstray)
	case strings.HasPrefix(err.Error(), noHTTP):
		return fmt.Errorf("%w: %s", errNoHTTP, strings.TrimPrefix(err.Error(), noHTTP))
	case !errors.As(err, &op) || !errors.As(err, &call):
	case op.Op == "dial" && op.Addr != nil:
		return &said{fmt.Sprintf("connecting to %s: %v", op.Addr, call.Err), err}
	default:
		return &said{call.Err.Error(), err}
	}
	return err
}

// said is an error in other words.
type said struct {
	text string
	err  error
}

func (s *said) Error() string { return s.text }
func (s *said) Unwrap() error { return s.err }

// explain gives an error its advice and takes the token out of it.
func (r *run) explain(ctx context.Context, err error) error {
	if err == nil || ctx.Err() != nil {
		return err
	}
	return &fetch.Error{
		Err:  errors.New(r.server.shown(err.Error())),
		Hint: r.advice(err),
	}
}

const compareAddress = "'foreply fetch --dry-run' prints the address: compare it with the server's documentation"

func (r *run) advice(err error) string {
	var (
		refused *statusError
		later   *giveUp
		full    *diskError
		dns     *net.DNSError
		plain   tls.RecordHeaderError
		other   *fetch.Error
	)
	switch {
	case errors.As(err, &later) && later.after > 0:
		return fmt.Sprintf("run foreply fetch again in %s%s", roughly(later.after), r.keptToo())
	case errors.As(err, &refused):
		return r.adviceFor(refused.status)
	case errors.As(err, &full):
		return "make room, or name a folder on another disk with --cache; what was kept is unharmed"
	case errors.As(err, &dns):
		return "is the host in the source's url spelled right, and are you connected?"
	case errors.Is(err, errAstray):
		return compareAddress
	case errors.Is(err, errRedirect):
		return "write the address that it leads to into the source's url, if you trust it"
	case errors.Is(err, errPacking):
		return "only gzip and zstd can be unpacked: does the server's documentation have an address, or a part of the query, for plain PGN?"
	case errors.As(err, &plain), errors.Is(err, errNoHTTP):
		return "is the address in the source's url right, with its port?"
	case errors.Is(err, errDamaged):
		return "run foreply fetch again" + r.keptToo() + "; if it stays so, the server packs wrongly: does its documentation have an address for plain PGN?"
	case isCertificate(err):
		return "the connection can't be trusted: is it the right host, and is your clock right?"
	case errors.Is(err, errLongList):
		return "does list of the source lead to the list of one player only? " + compareAddress
	case errors.Is(err, fetch.ErrOverLimit):
		return "such an answer is not taken; if so much is to be expected, raise max_mb of the source"
	case errors.Is(err, fetch.ErrNotPGN):
		return "'foreply fetch --dry-run' prints the address: does the server's documentation ask for a header, such as Accept?"
	case errors.Is(err, errBroken):
		return "run foreply fetch again" + r.keptToo()
	case errors.As(err, &later):
		return "are you connected, and is the host in the source's url right? If so, the server may be down: try again later"
	case errors.As(err, &other):
		return other.Hint
	}
	return ""
}

// keptToo says what became of the games that came, if any did.
func (r *run) keptToo() string {
	if r.account.Games == 0 {
		return ""
	}
	return "; what came is kept"
}

func isCertificate(err error) bool {
	var cert *tls.CertificateVerificationError
	return errors.As(err, &cert)
}

func (r *run) adviceFor(status int) string {
	source := r.server.source
	switch {
	case (status == 401 || status == 403) && source.TokenFrom == "":
		return "it may want a token: put it into an environment variable and name that with token_from in the source"
	case status == 401 || status == 403:
		return fmt.Sprintf("is the token in %s right, and still valid?", source.TokenFrom)
	case status == 404 || status == 410:
		return fmt.Sprintf("is the handle %s right? It stands under handles of %s", r.player.Handle, r.player.Opponent)
	case status == 429:
		return "it wants fewer requests: raise pace of the source, and run foreply fetch again later" + r.keptToo()
	case status >= 500:
		return "the server has trouble; run foreply fetch again later" + r.keptToo()
	case status >= 400:
		return compareAddress
	}
	return "this is no answer that foreply knows what to do with"
}

func roughly(d time.Duration) string {
	switch {
	case d <= 2*time.Minute:
		return fmt.Sprintf("%d seconds", int(d.Seconds()+0.5))
	case d <= 2*time.Hour:
		return fmt.Sprintf("%d minutes", int(d.Minutes()+0.5))
	case d <= 48*time.Hour:
		return fmt.Sprintf("%d hours", int(d.Hours()+0.5))
	}
	return fmt.Sprintf("%d days", int(d.Hours()/24+0.5))
}
