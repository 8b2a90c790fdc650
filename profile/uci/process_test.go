//go:build unix

package uci

import (
	"context"
	"errors"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"syscall"
	"testing"
	"time"
)

// shell starts a shell script as an engine; '%s' in it is a file of a folder of its own.
func shell(t *testing.T, script string, opt Options) (e *Engine, file string, err error) {
	t.Helper()
	file = filepath.Join(t.TempDir(), "file")
	e, err = Start(t.Context(), []string{"/bin/sh", "-c", strings.ReplaceAll(script, "%s", file)}, opt)
	return e, file, err
}

// gone waits a little until the process is no more whose number stands in the file.
func gone(t *testing.T, file string) {
	t.Helper()
	text, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	pid, err := strconv.Atoi(strings.TrimSpace(string(text)))
	if err != nil {
		t.Fatal(err)
	}
	for range 500 {
		state, err := os.ReadFile("/proc/" + strconv.Itoa(pid) + "/stat") // who was adopted may stay as a zombie
		if errors.Is(syscall.Kill(pid, 0), syscall.ESRCH) || err == nil && strings.Contains(string(state), ") Z ") {
			return
		}
		time.Sleep(10 * time.Millisecond)
	}
	syscall.Kill(pid, syscall.SIGKILL)
	t.Errorf("process %d is still there", pid)
}

// end ends the process whose number stands in the file.
func end(t *testing.T, file string) {
	t.Helper()
	text, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if pid, err := strconv.Atoi(strings.TrimSpace(string(text))); err == nil {
		syscall.Kill(pid, syscall.SIGKILL)
	}
}

const handshake = `while read line; do case $line in uci) echo uciok;; isready) echo readyok;; quit) echo asked >'%s'; exit;; esac; done`

// An engine is started with its arguments, asked to quit, and waited for no longer than it takes.
func TestAskedToQuit(t *testing.T) {
	e, file, err := shell(t, handshake, Options{Stop: 20 * time.Second})
	if err != nil {
		t.Fatal(err)
	}
	begun := time.Now()
	e.Close()
	if text, err := os.ReadFile(file); err != nil || string(text) != "asked\n" || time.Since(begun) > 15*time.Second {
		t.Errorf("%q, %v after %v", text, err, time.Since(begun))
	}
	select {
	case <-e.done:
	default:
		t.Error("its process was not waited for")
	}
}

// What can't be started, or dies, is told with all that is known of why.
func TestWhyItDied(t *testing.T) {
	_, err := Start(t.Context(), []string{filepath.Join(t.TempDir(), "none")}, Options{})
	if err == nil || !strings.HasPrefix(err.Error(), "starting the engine: ") {
		t.Errorf("%v", err)
	}
	_, _, err = shell(t, "echo no  net >&2; echo at all >&2; exit 4", Options{})
	if want := `is it a UCI engine? the engine ended when asked "uci": exit status 4: no net at all`; err == nil || err.Error() != want {
		t.Errorf("%v, want %s", err, want)
	}
	_, _, err = shell(t, "read line; echo uciok; read line", Options{})
	if want := `the engine ended when asked "isready"`; err == nil || err.Error() != want {
		t.Errorf("%v, want %s", err, want)
	}
	e, _, err := shell(t, "read line; echo id name Last; echo uciok; echo readyok; exit 3", Options{Stop: 20 * time.Second})
	if err != nil || e.Name() != "Last" { // it said all that it was to say
		t.Fatalf("%v, %v", e, err)
	}
	begun := time.Now()
	if e.Close(); time.Since(begun) > 15*time.Second {
		t.Errorf("closing one that is gone took %v", time.Since(begun))
	}
}

// No process is left behind: neither one that never greets, nor what it started, nor one that was
// told to go; and one that keeps the streams open from outside isn't waited for.
func TestNoProcessIsLeft(t *testing.T) {
	patient := Options{Handshake: 20 * time.Second, Stop: 100 * time.Millisecond}
	for _, script := range []string{"echo $$ >'%s'; exec sleep 60", "sleep 60 & echo $! >'%s'; wait"} {
		file := filepath.Join(t.TempDir(), "file")
		ctx, cancel := context.WithCancel(t.Context())
		go func() { // breaks off when the process stands in the file
			for text := ""; !strings.HasSuffix(text, "\n") && ctx.Err() == nil; time.Sleep(time.Millisecond) {
				b, _ := os.ReadFile(file)
				text = string(b)
			}
			cancel()
		}()
		_, err := Start(ctx, []string{"/bin/sh", "-c", strings.ReplaceAll(script, "%s", file)}, patient)
		if cancel(); !errors.Is(err, context.Canceled) {
			t.Errorf("%s: %v", script, err)
		}
		gone(t, file)
	}
	if setsid, err := exec.LookPath("setsid"); err == nil {
		begun := time.Now()
		_, file, err := shell(t, setsid+" sleep 30 & echo $! >'%s'; read line; exit 0", patient)
		if !errors.Is(err, ErrEnded) || time.Since(begun) > 20*time.Second {
			t.Errorf("%v after %v", err, time.Since(begun))
		}
		end(t, file)
	}
	e, file, err := shell(t, "echo $$ >'%s'; echo uciok; echo readyok; exec sleep 60", patient)
	if err != nil {
		t.Fatal(err)
	}
	e.Close()
	select {
	case <-e.done:
	default:
		t.Error("its process was not waited for")
	}
	gone(t, file)
}

// Who breaks off is told why, though the engine ends with it.
func TestBrokenOff(t *testing.T) {
	why := errors.New("the user went home")
	ctx, cancel := context.WithCancelCause(t.Context())
	time.AfterFunc(100*time.Millisecond, func() { cancel(why) })
	if _, err := Start(ctx, []string{"/bin/sh", "-c", "exec sleep 60"}, Options{}); !errors.Is(err, why) {
		t.Errorf("in the greeting: %v", err)
	}
	ctx, cancel = context.WithCancelCause(t.Context())
	e, err := Start(ctx, []string{"/bin/sh", "-c", "echo uciok; echo readyok; exec sleep 60"}, Options{Stop: time.Second})
	if err != nil {
		t.Fatal(err)
	}
	cancel(why)
	<-e.done
	if err := e.ready(ctx); !errors.Is(err, why) {
		t.Errorf("afterwards: %v", err)
	}
}
