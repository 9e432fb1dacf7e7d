//go:build unix

package durable

import (
	"errors"
	"os"
	"syscall"
)

// tryLock takes an open file until it is closed; false when another has it.
func tryLock(file *os.File) (bool, error) {
	for {
		err := syscall.Flock(int(file.Fd()), syscall.LOCK_EX|syscall.LOCK_NB)
		switch {
		case err == nil:
			return true, nil
		case errors.Is(err, syscall.EWOULDBLOCK):
			return false, nil
		case !errors.Is(err, syscall.EINTR):
			return false, err
		}
	}
}

func replace(from, to string) error { return os.Rename(from, to) }

func syncFolder(folder string) error {
	file, err := os.Open(folder)
	if err != nil {
		return err
	}
	return errors.Join(file.Sync(), file.Close())
}
