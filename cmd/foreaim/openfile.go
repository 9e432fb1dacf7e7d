package main

import "os"

// openFile opens a file to read, which a folder isn't. The hint says what should
// be there; it may be empty.
func openFile(name, hint string) (*os.File, error) {
	f, err := os.Open(name)
	if err != nil {
		return nil, wrong(hint, "%w", err)
	}
	if info, err := f.Stat(); err == nil && info.IsDir() {
		f.Close()
		return nil, wrong(hint, "%s is a folder, want a file", name)
	}
	return f, nil
}
