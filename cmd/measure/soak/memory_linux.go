package main

import (
	"os"
	"syscall"
)

// mostUsed is the most memory that a process had, in bytes.
func mostUsed(p *os.ProcessState) int64 {
	if u, ok := p.SysUsage().(*syscall.Rusage); ok {
		return int64(u.Maxrss) << 10
	}
	return 0
}
