//go:build unix

package fetch

import (
	"errors"
	"os"

	"golang.org/x/sys/unix"
)

// TryLock locks an open file by flock, without waiting; ErrLocked if another has it.
// The system frees the lock when the file is closed or the process ends, however it
// ends, so no lock is ever stale.
func TryLock(f *os.File) error {
	err := unix.Flock(int(f.Fd()), unix.LOCK_EX|unix.LOCK_NB)
	if errors.Is(err, unix.EWOULDBLOCK) {
		return ErrLocked
	}
	return err
}
