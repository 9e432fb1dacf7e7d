package terrain

import (
	"bytes"
	"fmt"
	"io"
	"io/fs"
)

// file is opened only while something is read of it, so that ten thousand tiles
// need no open files.
type file struct {
	fsys fs.FS
	name string
}

// maxUnseekable is how large a file may be, in bytes, that can't be read from the
// middle.
const maxUnseekable = 64 << 20

// read hands the open file to a function. What goes wrong there is told as it is.
func (f file) read(use func(r io.ReaderAt, size int64) error) error {
	open, err := f.fsys.Open(f.name)
	if err != nil {
		return f.fault(err, "can't be opened")
	}
	defer open.Close()
	info, err := open.Stat()
	if err != nil {
		return f.fault(err, "can't be read")
	}
	if !info.Mode().IsRegular() {
		return f.fault(nil, "is not a file")
	}
	if r, ok := open.(io.ReaderAt); ok {
		return use(r, info.Size())
	}
	if info.Size() > maxUnseekable {
		return f.fault(nil, "is %d bytes and can't be read from the middle; unpack it", info.Size())
	}
	all, err := io.ReadAll(io.LimitReader(open, maxUnseekable))
	if err != nil {
		return f.fault(err, "can't be read")
	}
	return use(bytes.NewReader(all), int64(len(all)))
}

// fault makes an error of the file's.
func (f file) fault(err error, format string, values ...any) *TileError {
	return &TileError{File: f.name, What: fmt.Sprintf(format, values...), Err: err}
}

// readFull fills buf from an offset.
func (f file) readFull(r io.ReaderAt, buf []byte, offset int64) error {
	if n, err := r.ReadAt(buf, offset); n < len(buf) {
		if err == io.EOF {
			return f.fault(nil, "ends after %d bytes, want %d: it is cut short; fetch it again", offset+int64(n), offset+int64(len(buf)))
		}
		return f.fault(err, "can't be read")
	}
	return nil
}
