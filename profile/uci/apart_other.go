//go:build !unix

package uci

import "os/exec"

// apart does nothing where there are no process groups.
func apart(*exec.Cmd) {}
