package elements

import (
	"unicode/utf16"
	"unicode/utf8"
)

// word reads bytes up to a blank or a mark of JSON and appends them to b.
func (w *walker) word(b []byte) (text []byte, cut bool) {
	return w.src.until(wordEnds, b, len(b)+maxText)
}

var (
	wordEnds = stopsAt(" \t\r\n,:{}[]\"")
	textEnds = stopsAt(`"\` + controls)
)

// controls are the bytes that may not stand in a text.
const controls = "\x00\x01\x02\x03\x04\x05\x06\x07\b\t\n\x0b\f\r\x0e\x0f\x10\x11\x12\x13\x14\x15\x16\x17\x18\x19\x1a\x1b\x1c\x1d\x1e\x1f"

// text reads a text in double quotes and appends it to b without them.
func (w *walker) text(b []byte) (text []byte, cut, ok bool) {
	w.src.next() // the opening quote
	limit := len(b) + maxText
	for {
		var longer bool
		b, longer = w.src.until(textEnds, b, limit)
		cut = cut || longer
		c, ok := w.src.next()
		switch {
		case !ok:
			return b, cut, w.unexpected("")
		case c == '"':
			return b, cut, true
		case c != '\\':
			return b, cut, w.broken("a text in quotes is not ended on its line", "", "a closing quote")
		}
		r, ok := w.escape()
		if !ok {
			return b, cut, false
		}
		if n := utf8.RuneLen(r); len(b)+n > limit {
			cut, limit = true, len(b)
			continue
		}
		b = utf8.AppendRune(b, r)
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
		if head := w.src.head(2); string(head) != `\u` {
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
