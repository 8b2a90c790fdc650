package web

import (
	"cmp"
	"context"
	"crypto/tls"
	"errors"
	"fmt"
	"io"
	"net"
	"net/http"
	"net/url"
	"slices"
	"time"

	"github.com/go-resty/resty/v2"
)

// mostRedirects in a row.
const mostRedirects = 5

// client asks one server. It is the only part that knows the HTTP library, which
// does no more than build and send requests: bodies are streamed, and retries are
// ours.
type client struct {
	resty    *resty.Client
	requests int  // sent so far, redirects included
	moved    bool // to another host: the last request was
}

func newClient(pace *pacer, transport http.RoundTripper, idle time.Duration) *client {
	c := &client{}
	if transport == nil {
		transport = ownTransport(idle)
	}
	send := roundTripper(func(r *http.Request) (*http.Response, error) {
		if err := pace.wait(r.Context(), r.URL.Host); err != nil {
			return nil, err
		}
		c.requests++
		ctx, cancel := context.WithCancelCause(r.Context())
		response, err := transport.RoundTrip(r.WithContext(ctx))
		if err != nil {
			cancel(err)
			return nil, err
		}
		response.Body = &idler{ReadCloser: response.Body, idle: idle, ctx: ctx, cancel: cancel}
		return response, nil
	})
	c.resty = resty.NewWithClient(&http.Client{Transport: send}).
		SetLogger(silent{}).SetDoNotParseResponse(true).SetHeader("User-Agent", "foreply").
		SetRedirectPolicy(resty.RedirectPolicyFunc(c.redirect))
	return c
}

type roundTripper func(*http.Request) (*http.Response, error)

func (f roundTripper) RoundTrip(r *http.Request) (*http.Response, error) { return f(r) }

// A body must bring leastBytes in any leastIn: a drip, which is never idle for
// long, would have no end. It is 68 bytes a second, slower than any line that can be
// worked with.
const (
	leastBytes = 8 << 10
	leastIn    = 2 * time.Minute
)

var (
	errIdle = errors.New("the server stopped sending")
	errSlow = fmt.Errorf("the server sends less than %d bytes in %v", leastBytes, leastIn)
)

// idler is a body with a limit of the time in which nothing comes, and of how slowly
// it may come, but not of the time it takes. It lies below everything that reads
// one: what the library reads of a redirect, and what is quoted of a refusal, can
// hang as well.
type idler struct {
	io.ReadCloser
	idle   time.Duration
	ctx    context.Context // of the request
	cancel context.CancelCauseFunc
	rate   *time.Timer // runs from the first read on
	came   int         // bytes since it was set
}

func (b *idler) Read(p []byte) (int, error) {
	if b.rate == nil {
		b.rate = time.AfterFunc(leastIn, func() { b.cancel(errSlow) })
	}
	timer := time.AfterFunc(b.idle, func() { b.cancel(errIdle) })
	n, err := b.ReadCloser.Read(p)
	timer.Stop()
	if b.came += n; b.came >= leastBytes {
		b.came = 0
		b.rate.Reset(leastIn)
	}
	if cause := context.Cause(b.ctx); err != nil && err != io.EOF && (cause == errIdle || cause == errSlow) {
		err = cause
	}
	return n, err
}

func (b *idler) Close() error {
	b.cancel(nil)
	if b.rate != nil {
		b.rate.Stop()
	}
	return b.ReadCloser.Close()
}

// ownTransport verifies certificates and leaves bodies as they come: what is
// packed is told by its content, and unpacked with limits.
func ownTransport(idle time.Duration) *http.Transport {
	return &http.Transport{
		Proxy:                  http.ProxyFromEnvironment,
		DialContext:            (&net.Dialer{Timeout: 30 * time.Second}).DialContext,
		TLSClientConfig:        &tls.Config{MinVersion: tls.VersionTLS12},
		TLSHandshakeTimeout:    30 * time.Second,
		ResponseHeaderTimeout:  idle,
		MaxResponseHeaderBytes: 1 << 20,
		DisableCompression:     true,
		ForceAttemptHTTP2:      true,
		IdleConnTimeout:        30 * time.Second,
	}
}

// silent keeps the library's messages off the terminal.
type silent struct{}

func (silent) Errorf(string, ...any) {}
func (silent) Warnf(string, ...any)  {}
func (silent) Debugf(string, ...any) {}

// get sends a request. The body is the caller's to close.
func (c *client) get(ctx context.Context, address string, headers http.Header) (*http.Response, error) {
	c.moved = false
	response, err := c.resty.R().SetContext(ctx).SetHeaderMultiValues(headers).Get(address)
	if err != nil {
		return nil, cause(err) // a body, of a redirect that was refused, is closed already
	}
	return response.RawResponse, nil
}

var (
	errRedirect = errors.New("redirect refused")
	errAstray   = fmt.Errorf("%w", errRedirect) // to where nobody would want to go
)

// redirect allows a redirect or says why not. To another host only what every
// browser tells goes along.
func (c *client) redirect(next *http.Request, via []*http.Request) error {
	first := via[0]
	to := next.URL.Scheme + "://" + next.URL.Host
	switch {
	case slices.ContainsFunc(via, func(r *http.Request) bool { return r.URL.String() == next.URL.String() }):
		return fmt.Errorf("%w: it leads in a circle", errAstray)
	case len(via) > mostRedirects:
		return fmt.Errorf("%w: there are more than %d in a row", errAstray, mostRedirects)
	case next.URL.Scheme != "https" && next.URL.Scheme != "http":
		return fmt.Errorf("%w: it leads to %s", errAstray, to)
	case next.URL.Scheme != "https" && slices.ContainsFunc(via, func(r *http.Request) bool { return r.URL.Scheme == "https" }):
		return fmt.Errorf("%w: it leads from https to %s, where anybody can read along", errRedirect, to)
	}
	next.Header.Del("Referer") // may hold a token
	c.moved = c.moved || next.URL.Host != first.URL.Host
	if c.moved {
		strip(next.Header)
	}
	return nil
}

// harmless are headers that another host may see.
var harmless = []string{"Accept", "Accept-Encoding", "Accept-Language", "User-Agent", "If-None-Match", "If-Modified-Since"}

// strip takes out all headers that may hold a token.
func strip(h http.Header) {
	for name := range h {
		if !slices.Contains(harmless, name) {
			h.Del(name)
		}
	}
}

func sameHost(a, b string) bool {
	u, err := url.Parse(a)
	v, other := url.Parse(b)
	return cmp.Or(err, other) == nil && u.Host == v.Host && u.Scheme == v.Scheme
}

// pacer keeps a distance between requests to a host.
type pacer struct {
	every time.Duration
	now   func() time.Time
	sleep func(context.Context, time.Duration) error
	last  map[string]time.Time // by host
}

func (p *pacer) wait(ctx context.Context, host string) error {
	if last, ok := p.last[host]; ok {
		if wait := p.every - p.now().Sub(last); wait > 0 {
			if err := p.sleep(ctx, wait); err != nil {
				return err
			}
		}
	}
	p.last[host] = p.now()
	return nil
}
