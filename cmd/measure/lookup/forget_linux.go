package main

import (
	"os"

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
