package uci

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os/exec"
	"slices"
	"strconv"
	"strings"
	"time"
)

// Options of Start; the zero value of a field means its default.
type Options struct {
	Threads int       // of the process; default 1, with which answers repeat
	Hash    int       // table of the engine in MB; default 32
	Set     []Setting // further options of the engine, by the user

	Handshake time.Duration // the longest wait for 'uciok' and 'readyok'; default 20 s
	Search    time.Duration // the longest search; default 1 min
	Stop      time.Duration // the longest wait for an answer to 'stop' and 'quit'; default 3 s
}

// Setting is an option of an engine as the user wants it.
type Setting struct{ Name, Value string }

// WithDefaults fills in what is zero.
func (o Options) WithDefaults() Options {
	if o.Threads == 0 {
		o.Threads = 1
	}
	if o.Hash == 0 {
		o.Hash = 32
	}
	if o.Handshake == 0 {
		o.Handshake = 20 * time.Second
	}
	if o.Search == 0 {
		o.Search = time.Minute
	}
	if o.Stop == 0 {
		o.Stop = 3 * time.Second
	}
	return o
}

// What an engine may do wrong; the errors of this package wrap one of them or
// that of the context.
var (
	ErrEnded    = errors.New("the engine ended")             // it died, or went away by itself
	ErrSilent   = errors.New("no answer")                    // nothing of use within the time
	ErrNonsense = errors.New("the engine's answer is wrong") // an illegal move, no evaluation
	ErrSlow     = errors.New("the search takes too long")    // stopped before it had seen its nodes
)

// Engine is a running engine. It is for one goroutine.
type Engine struct {
	name    string
	author  string
	offered []string // names of its options
	opt     Options
	lines   int // MultiPV as last set
	in      io.WriteCloser
	out     *lineWriter
	errs    *troubles
	kill    context.CancelFunc
	done    chan struct{} // closed when the process is gone
	ended   error         // what Wait said; read after done
}

// Start runs the program of a command with its arguments and agrees with it on
// options. The engine ends with the context. An error names what was waited
// for; the process is gone then.
func Start(ctx context.Context, command []string, opt Options) (*Engine, error) {
	e := &Engine{opt: opt.WithDefaults(), lines: 1, errs: &troubles{}, done: make(chan struct{})}
	ctx, e.kill = context.WithCancel(ctx)
	e.out = &lineWriter{lines: make(chan string, 64), gone: ctx.Done()}
	cmd := exec.CommandContext(ctx, command[0], command[1:]...)
	cmd.Stdout, cmd.Stderr = e.out, e.errs
	cmd.WaitDelay = e.opt.Stop
	apart(cmd)
	var err error
	if e.in, err = cmd.StdinPipe(); err == nil {
		err = cmd.Start()
	}
	if err != nil {
		e.kill()
		return nil, fmt.Errorf("starting the engine: %w", err)
	}
	go func() {
		e.ended = cmd.Wait()
		close(e.done)
	}()
	if err := e.greet(ctx); err != nil {
		e.end()
		return nil, err
	}
	return e, nil
}

// Name is what the engine calls itself, its version included.
func (e *Engine) Name() string { return e.name }

// Author is who it says made it.
func (e *Engine) Author() string { return e.author }

// Close asks the engine to quit, and ends it if it doesn't.
func (e *Engine) Close() {
	e.send("quit")
	select {
	case <-e.done:
	case <-time.After(e.opt.Stop):
	}
	e.end()
}

// end kills the process and waits until it is gone.
func (e *Engine) end() {
	e.in.Close()
	e.kill()
	<-e.done
}

// greet shakes hands and sets the options.
func (e *Engine) greet(ctx context.Context) error {
	err := e.ask(ctx, "uci", "uciok", e.opt.Handshake, e.introduction)
	if err != nil {
		return fmt.Errorf("is it a UCI engine? %w", err)
	}
	if e.name == "" {
		e.name = "the engine"
	}
	for _, s := range e.opt.Set {
		if !e.offers(s.Name) {
			return fmt.Errorf("%w: it has no option %q", ErrNonsense, s.Name)
		}
		e.set(s.Name, s.Value)
	}
	e.setIfOffered("Threads", e.opt.Threads)
	e.setIfOffered("Hash", e.opt.Hash)
	return e.ready(ctx)
}

// introduction reads what an engine tells of itself.
func (e *Engine) introduction(line string) {
	if name, ok := strings.CutPrefix(line, "id name "); ok {
		e.name = strings.Join(strings.Fields(name), " ")
	}
	if author, ok := strings.CutPrefix(line, "id author "); ok {
		e.author = strings.Join(strings.Fields(author), " ")
	}
	if option, ok := strings.CutPrefix(line, "option name "); ok && len(e.offered) < mostOffered {
		name, _, _ := strings.Cut(option, " type ")
		e.offered = append(e.offered, strings.TrimSpace(name))
	}
}

// mostOffered bounds the options that are remembered.
const mostOffered = 1000

// offers tells whether the engine has an option; the protocol wants names
// compared without regard to case.
func (e *Engine) offers(name string) bool {
	return slices.ContainsFunc(e.offered, func(o string) bool { return strings.EqualFold(o, name) })
}

func (e *Engine) set(name, value string) { e.send("setoption name " + name + " value " + value) }

func (e *Engine) setIfOffered(name string, value int) {
	if e.offers(name) {
		e.set(name, strconv.Itoa(value))
	}
}

// ready waits until the engine has done what it was told.
func (e *Engine) ready(ctx context.Context) error {
	return e.ask(ctx, "isready", "readyok", e.opt.Handshake, func(string) {})
}

// send writes a line. That it can't be written shows when the answer is waited
// for.
func (e *Engine) send(line string) { io.WriteString(e.in, line+"\n") }

// ask sends a line and hands on all that comes until a line begins with the
// word that ends it.
func (e *Engine) ask(ctx context.Context, line, last string, limit time.Duration, each func(string)) error {
	e.send(line)
	return e.await(ctx, line, last, limit, each)
}

// await hands on lines, the last one too.
func (e *Engine) await(ctx context.Context, asked, last string, limit time.Duration, each func(string)) error {
	timer := time.NewTimer(limit)
	defer timer.Stop()
	for {
		select {
		case line := <-e.out.lines:
			each(line)
			if word, _, _ := strings.Cut(line, " "); word == last {
				return nil
			}
		case <-ctx.Done():
			return context.Cause(ctx)
		case <-timer.C:
			return fmt.Errorf("%w to %q within %v", ErrSilent, asked, limit)
		case <-e.done:
			if ctx.Err() != nil {
				return context.Cause(ctx)
			}
			return e.rest(asked, last, each)
		}
	}
}

// rest reads what a process that is gone has left, in which the answer may be.
func (e *Engine) rest(asked, last string, each func(string)) error {
	for {
		select {
		case line := <-e.out.lines:
			each(line)
			if word, _, _ := strings.Cut(line, " "); word == last {
				return nil
			}
		default:
			why := ""
			if e.ended != nil {
				why = ": " + e.ended.Error()
			}
			if text := e.errs.text(); text != "" {
				why += ": " + text
			}
			return fmt.Errorf("%w when asked %q%s", ErrEnded, asked, why)
		}
	}
}
