package durable

import (
	"errors"
	"os"
	"time"

	"golang.org/x/sys/windows"
)

// tryLock takes an open file until it is closed; false when another has it.
func tryLock(file *os.File) (bool, error) {
	const flags = windows.LOCKFILE_EXCLUSIVE_LOCK | windows.LOCKFILE_FAIL_IMMEDIATELY
	err := windows.LockFileEx(windows.Handle(file.Fd()), flags, 0, 1, 0, &windows.Overlapped{})
	if errors.Is(err, windows.ERROR_LOCK_VIOLATION) || errors.Is(err, windows.ERROR_IO_PENDING) {
		return false, nil
	}
	return err == nil, err
}

// replaceWithin is how long replace waits for readers of the old file: this
// system renames onto no file that is open.
const replaceWithin = 2 * time.Second

func replace(from, to string) error {
	for begun := time.Now(); ; time.Sleep(10 * time.Millisecond) {
		err := os.Rename(from, to)
		busy := errors.Is(err, windows.ERROR_SHARING_VIOLATION) || errors.Is(err, windows.ERROR_ACCESS_DENIED)
		if !busy || time.Since(begun) > replaceWithin {
			return err
		}
	}
}

// syncFolder has nothing to do: this system writes names with the files.
func syncFolder(string) error { return nil }
