package elements

import "bytes"

// isForeign tells content that is certainly no element text, so that it is
// refused with one sentence instead of a fault for each of its lines.
func isForeign(head []byte) bool { return foreign(head).What != "" }

// refuse reads nothing and says what the file is instead.
func refuse(src *source) []Set {
	head, _ := src.r.Peek(512)
	e := foreign(head)
	e.Line, e.Column = src.line, src.column
	src.fault(e)
	return nil
}

func foreign(head []byte) Error {
	const formats = "two-line elements or OMM in JSON"
	lower := bytes.ToLower(head)
	switch {
	case bytes.HasPrefix(lower, []byte("<!doctype html")), bytes.HasPrefix(lower, []byte("<html")):
		return Error{What: "a web page, not elements", Want: formats,
			Advice: "the source may have answered with a message: open the file in a browser, then fetch the elements again"}
	case bytes.HasPrefix(head, []byte("<")):
		return Error{What: "XML, which is not read", Want: formats,
			Advice: "fetch the elements as TLE or JSON"}
	case bytes.HasPrefix(head, []byte("\x1f\x8b")), bytes.HasPrefix(head, []byte("PK\x03\x04")):
		return Error{What: "a compressed file", Want: formats, Advice: "unpack it first"}
	case bytes.HasPrefix(head, []byte("\xff\xfe")), bytes.HasPrefix(head, []byte("\xfe\xff")):
		return Error{What: "text in UTF-16", Want: formats, Advice: "save it as UTF-8"}
	case bytes.IndexByte(head, 0) >= 0:
		return Error{What: "binary data, not elements", Want: formats}
	}
	return Error{}
}
