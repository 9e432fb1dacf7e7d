package elements

import (
	"bufio"
	"compress/gzip"
	"fmt"
	"io"
)

// maxUnpacked bounds what a packed file may hold: some times the whole public
// catalogue in its longest encoding, XML.
const maxUnpacked = 512 << 20

// unpacked returns the content of r, which may be packed by gzip. A file that
// only looks packed gives its fault when it is read.
func (s *source) unpacked(r io.Reader) io.Reader {
	packed := bufio.NewReader(r)
	if head, _ := packed.Peek(2); string(head) != "\x1f\x8b" {
		return packed
	}
	z, err := gzip.NewReader(packed)
	if err != nil {
		return failing{fmt.Errorf("the packed file is damaged: %w", whole(err))}
	}
	return &bounded{from: z, left: maxUnpacked}
}

// bounded reads no more than left bytes.
type bounded struct {
	from io.Reader
	left int
}

func (b *bounded) Read(p []byte) (int, error) {
	if b.left == 0 {
		return 0, fmt.Errorf("the packed file holds more than %d MiB", maxUnpacked>>20)
	}
	n, err := b.from.Read(p[:min(len(p), b.left)])
	b.left -= n
	if err != nil && err != io.EOF {
		err = fmt.Errorf("the packed file is damaged: %w", err)
	}
	return n, err
}

// failing is a reader that only has an error.
type failing struct{ err error }

func (f failing) Read([]byte) (int, error) { return 0, f.err }

// whole makes the end inside a head the fault that it is.
func whole(err error) error {
	if err == io.EOF {
		return io.ErrUnexpectedEOF
	}
	return err
}
