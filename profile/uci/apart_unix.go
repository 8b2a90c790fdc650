//go:build unix

package uci

import (
	"os/exec"
	"syscall"
)

// apart gives a process a group of its own: an interrupt of the terminal is
// ours to judge, and what a wrapper script started ends with it.
func apart(cmd *exec.Cmd) {
	cmd.SysProcAttr = &syscall.SysProcAttr{Setpgid: true}
	cmd.Cancel = func() error { return syscall.Kill(-cmd.Process.Pid, syscall.SIGKILL) }
}
