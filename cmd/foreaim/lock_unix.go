//go:build unix

package main

import (
	"os"
	"syscall"
)

// lock takes a file for this process until it is closed, and tells false when
// another has it.
func lock(file *os.File) bool {
	return syscall.Flock(int(file.Fd()), syscall.LOCK_EX|syscall.LOCK_NB) == nil
}

// diskFree returns the bytes that are free where a file is.
func diskFree(file *os.File) (int64, bool) {
	var s syscall.Statfs_t
	if err := syscall.Fstatfs(int(file.Fd()), &s); err != nil {
		return 0, false
	}
	return int64(uint64(s.Bavail) * uint64(s.Bsize)), true
}
