//go:build unix

package fetch

import (
	"errors"
	"os"

	"golang.org/x/sys/unix"
)

// lock takes the lock of a file by flock, without waiting. The system frees it
// when the process ends, however it ends, so no lock is ever stale; the file
// itself stays.
func lock(path string) (unlock func(), err error) {
	f, err := os.OpenFile(path, os.O_CREATE|os.O_RDWR, 0o644)
	if err != nil {
		return nil, err
	}
	if err := unix.Flock(int(f.Fd()), unix.LOCK_EX|unix.LOCK_NB); err != nil {
		f.Close()
		if errors.Is(err, unix.EWOULDBLOCK) {
			return nil, ErrLocked
		}
		return nil, err
	}
	return func() { f.Close() }, nil
}
