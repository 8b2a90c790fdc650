package main

import (
	"fmt"
	"os"
	"path/filepath"
	"time"

	"golang.org/x/sys/unix"
)

// forget asks the system to drop what it keeps of the file in memory.
func forget(path string) error {
	f, err := os.Open(path)
	if err != nil {
		return err
	}
	defer f.Close()
	return unix.Fadvise(int(f.Fd()), 0, 0, unix.FADV_DONTNEED)
}

// processorTime is what this process has used of all cores.
func processorTime() time.Duration {
	var u unix.Rusage
	if unix.Getrusage(unix.RUSAGE_SELF, &u) != nil {
		return 0
	}
	return time.Duration(u.Utime.Nano() + u.Stime.Nano())
}

// waited is how long the threads of this process were ready to run and had to wait
// for a core, as far as the system tells (proc_pid_schedstat).
func waited() time.Duration {
	files, _ := filepath.Glob("/proc/self/task/*/schedstat")
	var sum time.Duration
	for _, file := range files {
		text, err := os.ReadFile(file)
		if err != nil {
			continue // the thread is gone
		}
		var ran, ready int64
		if _, err := fmt.Sscan(string(text), &ran, &ready); err == nil {
			sum += time.Duration(ready)
		}
	}
	return sum
}
