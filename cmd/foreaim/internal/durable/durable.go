// Package durable writes files that survive a crash, and keeps two processes
// from writing the same ones at once.
package durable

import (
	"errors"
	"os"
	"path/filepath"
)

// WriteFile makes data the whole content of the file at path. The content is
// written beside it, synced and renamed into place, so that a reader finds the
// old content or the new one, also after a crash. Two must not write the same
// file at once: see Lock. The name is on the disk after SyncFolder only.
func WriteFile(path string, data []byte) error {
	fresh := path + ".new" // one name, so that crashes leave no litter
	file, err := os.OpenFile(fresh, os.O_WRONLY|os.O_CREATE|os.O_TRUNC, 0o644)
	if err != nil {
		return err
	}
	_, err = file.Write(data)
	if err == nil {
		err = file.Sync()
	}
	if err = errors.Join(err, file.Close()); err == nil {
		err = replace(fresh, path)
	}
	if err != nil {
		os.Remove(fresh)
	}
	return err
}

// Append writes data behind the first size bytes of the file at path, which
// must be there, and syncs it. What was behind them, the rest of an Append that
// a crash cut off, is gone. When writing fails the file is cut to size. A crash
// can leave a part of data.
func Append(path string, size int64, data []byte) error {
	file, err := os.OpenFile(path, os.O_WRONLY, 0)
	if err != nil {
		return err
	}
	if err = file.Truncate(size); err == nil {
		_, err = file.WriteAt(data, size)
	}
	if err == nil {
		err = file.Sync()
	}
	if err != nil {
		err = errors.Join(err, file.Truncate(size))
	}
	return errors.Join(err, file.Close())
}

// SyncFolder brings the names that were changed in a folder to the disk.
func SyncFolder(folder string) error { return syncFolder(filepath.Clean(folder)) }
