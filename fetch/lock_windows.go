package fetch

import (
	"errors"
	"os"

	"golang.org/x/sys/windows"
)

// TryLock locks an open file by LockFileEx, without waiting; ErrLocked if another has
// it. The system frees the lock when the file is closed or the process ends, however
// it ends, so no lock is ever stale.
func TryLock(f *os.File) error {
	const how = windows.LOCKFILE_EXCLUSIVE_LOCK | windows.LOCKFILE_FAIL_IMMEDIATELY
	err := windows.LockFileEx(windows.Handle(f.Fd()), how, 0, 1, 0, &windows.Overlapped{})
	if errors.Is(err, windows.ERROR_LOCK_VIOLATION) {
		return ErrLocked
	}
	return err
}
