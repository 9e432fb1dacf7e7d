package elements

import (
	"bufio"
	"io"
	"strconv"
)

// WriteJSON writes the sets as OMM in JSON: an array with an object a line, as
// the public catalogue is served, so without the centre, frame, time system
// and theory, which for SGP4 are always the same. Read gives the same sets
// back, but for Format, File and Line. An error of a set that can't be written
// says why; what comes before it may have been written.
func WriteJSON(w io.Writer, sets []Set) error {
	b := bufio.NewWriter(w)
	b.WriteByte('[')
	err := writeAll(b, sets, func(b *bufio.Writer, i int, fields []field) {
		if i > 0 {
			b.WriteString(",\n")
		}
		b.WriteByte('{')
		first := true
		for at := 0; at < len(fields); at++ {
			f := fields[at]
			if f.value == "" || !served(f.key) {
				continue
			}
			if !first {
				b.WriteByte(',')
			}
			first = false
			b.WriteString(`"` + f.name + `":`)
			if f.key == comment {
				at = writeComments(b, fields, at)
				continue
			}
			b.WriteString(jsonValue(f))
		}
		b.WriteByte('}')
	})
	if err != nil {
		return err
	}
	b.WriteString("]\n")
	return b.Flush()
}

// writeComments writes the comments that begin at a field, and returns the
// last one's.
func writeComments(b *bufio.Writer, fields []field, at int) int {
	b.WriteByte('[')
	for {
		b.WriteString(jsonText(fields[at].value))
		if at+1 == len(fields) || fields[at+1].key != comment {
			break
		}
		b.WriteByte(',')
		at++
	}
	b.WriteByte(']')
	return at
}

func jsonValue(f field) string {
	if f.numeric() && isJSONNumber([]byte(f.value)) {
		return f.value
	}
	return jsonText(f.value)
}

// jsonText quotes text that is printable: only quotes and backslashes change.
func jsonText(text string) string { return strconv.Quote(text) }
