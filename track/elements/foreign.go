package elements

import "bytes"

// isForeign tells content that is certainly no element text, so that it is
// refused with one sentence instead of a fault for each of its lines.
func isForeign(head []byte) bool { return foreign(head).What != "" }

// refuse reads nothing and says what the file is instead.
func refuse(src *source) {
	e := foreign(src.head(maxLine))
	e.Line, e.Column = src.place()
	src.fault(e)
}

const formats = "two-line elements, or OMM in JSON, XML, CSV or KVN"

func foreign(head []byte) Error {
	lower := bytes.ToLower(head[:min(len(head), 20)])
	switch {
	case bytes.HasPrefix(lower, []byte("<!doctype html")), bytes.HasPrefix(lower, []byte("<html")):
		return Error{What: "a web page, not elements", Want: formats,
			Advice: "the source may have answered with a message: open the file in a browser, then fetch the elements again"}
	case bytes.HasPrefix(head, []byte("\x1f\x8b")):
		return Error{What: "a file packed twice", Want: formats, Advice: "unpack it first"}
	case bytes.HasPrefix(head, []byte("PK\x03\x04")):
		return Error{What: "a compressed file other than gzip", Want: formats, Advice: "unpack it first"}
	case bytes.HasPrefix(head, []byte("\xff\xfe")), bytes.HasPrefix(head, []byte("\xfe\xff")), isWide(head):
		return Error{What: "text in UTF-16", Want: formats, Advice: "save it as UTF-8"}
	case bytes.IndexByte(head, 0) >= 0:
		return Error{What: "binary data, not elements", Want: formats}
	}
	return Error{}
}

// isWide tells text in UTF-16 that does not say so: every other byte is zero.
func isWide(head []byte) bool {
	n := min(len(head), 32) &^ 1
	for i := 0; i < n; i += 2 {
		if (head[i] == 0) == (head[i+1] == 0) || (head[i] == 0) != (head[0] == 0) {
			return false
		}
	}
	return n >= 4
}
