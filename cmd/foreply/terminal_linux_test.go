package main

import (
	"fmt"
	"io"
	"os"
	"testing"

	"golang.org/x/sys/unix"

	"foreply/pdf"
)

// terminal opens a pseudo-terminal so many columns wide.
func terminal(t *testing.T, columns uint16) *os.File {
	t.Helper()
	master, err := os.OpenFile("/dev/ptmx", os.O_RDWR, 0)
	if err != nil {
		t.Skip("no pseudo-terminals here:", err)
	}
	t.Cleanup(func() { master.Close() })
	if err := unix.IoctlSetPointerInt(int(master.Fd()), unix.TIOCSPTLCK, 0); err != nil {
		t.Fatal(err)
	}
	n, err := unix.IoctlGetInt(int(master.Fd()), unix.TIOCGPTN)
	if err != nil {
		t.Fatal(err)
	}
	tty, err := os.OpenFile(fmt.Sprintf("/dev/pts/%d", n), os.O_RDWR|unix.O_NOCTTY, 0)
	if err != nil {
		t.Skip("no pseudo-terminals here:", err)
	}
	t.Cleanup(func() { tty.Close() })
	if err := unix.IoctlSetWinsize(int(tty.Fd()), unix.TIOCSWINSZ, &unix.Winsize{Row: 40, Col: columns}); err != nil {
		t.Fatal(err)
	}
	return tty
}

// Text is styled and fitted on a terminal, plain on one with NO_COLOR or a dumb
// one, plain and 80 columns wide everywhere else.
func TestTextOptions(t *testing.T) {
	file, err := os.Create(t.TempDir() + "/out.txt")
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	for _, c := range []struct {
		name, noColor, term string
		out                 io.Writer
		want                pdf.TextOptions
	}{
		{"a terminal", "", "xterm", terminal(t, 90), pdf.TextOptions{Style: true, Columns: 90}},
		{"a wide terminal", "", "xterm", terminal(t, 250), pdf.TextOptions{Style: true, Columns: widest}},
		{"NO_COLOR", "1", "xterm", terminal(t, 90), pdf.TextOptions{Columns: 90}},
		{"a dumb terminal", "", "dumb", terminal(t, 90), pdf.TextOptions{Columns: 90}},
		{"a file", "", "xterm", file, pdf.TextOptions{}},
		{"a pipe", "", "xterm", io.Discard, pdf.TextOptions{}},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Setenv("NO_COLOR", c.noColor)
			t.Setenv("TERM", c.term)
			if got := textOptions(c.out); got != c.want {
				t.Errorf("got %+v, want %+v", got, c.want)
			}
		})
	}
}
