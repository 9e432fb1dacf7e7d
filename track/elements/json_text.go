package elements

import (
	"unicode/utf16"
	"unicode/utf8"
)

// maxText is how many bytes of a key or value are kept; the rest is read over.
const maxText = 256

// word reads bytes up to a blank or a mark of JSON and appends them to b.
func (w *walker) word(b []byte) (text []byte, cut bool) {
	start := len(b)
	for {
		c, ok := w.src.peek()
		if !ok || isBlank(c) || isMark(c) {
			return b, cut
		}
		w.src.next()
		if len(b)-start < maxText {
			b = append(b, c)
		} else {
			cut = true
		}
	}
}

// isMark tells the bytes that end a word: one comparison after the other, as
// this runs for every digit of a catalogue.
func isMark(c byte) bool {
	return c == ',' || c == ':' || c == '{' || c == '}' || c == '[' || c == ']' || c == '"'
}

// text reads a text in double quotes and appends it to b without them.
func (w *walker) text(b []byte) (text []byte, cut, ok bool) {
	w.src.next() // the opening quote
	start := len(b)
	for {
		c, ok := w.src.next()
		switch {
		case !ok:
			return b, cut, w.unexpected("")
		case c == '"':
			return b, cut, true
		case c < ' ':
			return b, cut, w.broken("a text in quotes is not ended on its line", "", "a closing quote")
		case c == '\\':
			r, ok := w.escape()
			if !ok {
				return b, cut, false
			}
			b = utf8.AppendRune(b, r)
		default:
			b = append(b, c)
		}
		if len(b)-start > maxText {
			b, cut = b[:start+maxText], true
		}
	}
}

// escape reads what follows a backslash.
func (w *walker) escape() (rune, bool) {
	c, _ := w.src.next()
	switch c {
	case '"', '\\', '/':
		return rune(c), true
	case 'b', 'f', 'n', 'r', 't':
		return ' ', true // a control character is never of use here
	case 'u':
		r, ok := w.hex4()
		if !ok || !utf16.IsSurrogate(r) {
			return r, ok
		}
		// The other half must follow; if it doesn't, what does is read on its own.
		if head, _ := w.src.r.Peek(2); string(head) != `\u` {
			return utf8.RuneError, true
		}
		w.src.next()
		w.src.next()
		low, ok := w.hex4()
		return utf16.DecodeRune(r, low), ok
	}
	return 0, w.broken("a text in quotes has a wrong escape", "", `one of \" \\ \/ \b \f \n \r \t \u0000`)
}

func (w *walker) hex4() (rune, bool) {
	var r rune
	for range 4 {
		c, _ := w.src.next()
		switch {
		case c >= '0' && c <= '9':
			r = r<<4 | rune(c-'0')
		case c|0x20 >= 'a' && c|0x20 <= 'f':
			r = r<<4 | rune(c|0x20-'a'+10)
		default:
			return 0, w.broken(`\u without four hexadecimal digits`, "", "")
		}
	}
	return r, true
}

// isJSONNumber follows RFC 8259, section 6.
func isJSONNumber(b []byte) bool {
	run := func() int {
		n := 0
		for n < len(b) && b[n] >= '0' && b[n] <= '9' {
			n++
		}
		b = b[n:]
		return n
	}
	if len(b) > 0 && b[0] == '-' {
		b = b[1:]
	}
	zero := len(b) > 0 && b[0] == '0'
	if n := run(); n == 0 || zero && n > 1 {
		return false
	}
	if len(b) > 0 && b[0] == '.' {
		b = b[1:]
		if run() == 0 {
			return false
		}
	}
	if len(b) > 0 && b[0]|0x20 == 'e' {
		b = b[1:]
		if len(b) > 0 && oneOf(b[0], "+-") {
			b = b[1:]
		}
		if run() == 0 {
			return false
		}
	}
	return len(b) == 0
}
