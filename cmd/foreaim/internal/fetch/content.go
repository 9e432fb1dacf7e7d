package fetch

import (
	"bufio"
	"bytes"
	"compress/gzip"
	"context"
	"errors"
	"fmt"
	"io"
	"net/http"
	"strings"
)

var errLarge = errors.New("too large")

const (
	adviceEmpty = "the server has no elements for this; check the number and the address"
	advicePage  = "open the address in a browser: it may be a page to sign in, a notice, or this network's own; " +
		"then correct the address in the configuration"
)

// content reads all of an answer, unpacked, into memory: half a file is of no
// use to anybody.
func (q *query) content(ctx context.Context, w *watch, answer *http.Response) ([]byte, error) {
	switch encoding := strings.ToLower(answer.Header.Get("Content-Encoding")); encoding {
	case "", "identity", "gzip", "x-gzip":
	default:
		what := fmt.Sprintf("the answer is packed as %q, which was not asked for", hidden(encoding))
		return nil, q.refusal(refusedPause, what, "use an address that gives it plain or as gzip", nil)
	}
	limit := q.client.Limits.MaxBytes
	wire := &wireReader{in: answer.Body, watch: w, limit: limit, total: answer.ContentLength, progress: q.client.Progress}
	var content []byte
	var err error
	if wire.total > limit {
		err = errLarge
	} else {
		content, err = unpacked(wire, limit)
	}
	switch {
	case errors.Is(err, errLarge):
		what := fmt.Sprintf("the answer is larger than %s", size(limit))
		return nil, q.refusal(refusedPause, what, "an address for one group of objects gives less", nil)
	case errors.Is(err, gzip.ErrHeader), errors.Is(err, gzip.ErrChecksum):
		return nil, q.fault("the packed answer is damaged", "try again", err)
	case err != nil:
		return nil, q.brokenOff(ctx, wire, err)
	}
	switch start := bytes.TrimLeft(content, "\xef\xbb\xbf \t\r\n"); {
	case len(start) == 0:
		return nil, q.refusal(refusedPause, "the answer is empty", adviceEmpty, nil)
	case isHTML(start, answer.Header.Get("Content-Type")):
		return nil, q.refusal(otherPause, "the answer is a web page instead of elements"+title(start), advicePage, nil)
	}
	return content, nil
}

// unpacked reads to the end; what is packed, by the server or by the publisher
// or by both, is known by its first two bytes.
func unpacked(in io.Reader, limit int64) ([]byte, error) {
	plain := bufio.NewReader(in)
	for range 2 {
		head, err := plain.Peek(2)
		if !bytes.Equal(head, []byte("\x1f\x8b")) {
			if err != nil && err != io.EOF {
				return nil, err
			}
			break
		}
		unzip, err := gzip.NewReader(plain)
		if err != nil {
			return nil, err
		}
		plain = bufio.NewReader(unzip)
	}
	content, err := io.ReadAll(io.LimitReader(plain, limit+1))
	if err == nil && int64(len(content)) > limit {
		err = errLarge
	}
	return content, err
}

// wireReader is the answer as it comes: counted, watched and bounded.
type wireReader struct {
	in                 io.Reader
	watch              *watch
	done, limit, total int64
	progress           func(done, total int64)
}

func (r *wireReader) Read(b []byte) (int, error) {
	n, err := r.in.Read(b)
	if n > 0 {
		r.done += int64(n)
		r.watch.heard()
		if r.progress != nil {
			r.progress(r.done, r.total)
		}
	}
	if r.done > r.limit {
		return n, errLarge
	}
	return n, err
}
