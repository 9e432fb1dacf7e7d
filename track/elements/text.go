package elements

import (
	"strings"
	"unicode"
	"unicode/utf8"
)

// maxName is the longest name kept, in characters. Line 0 of a three-line set
// has 24; an OMM sets no limit.
const maxName = 64

// maxDesignator is the longest designator kept, in characters.
const maxDesignator = 20

// clean makes text from outside safe to print on one line: it drops control
// and format characters (escape sequences' ESC, the C1 range, turned writing
// direction, invisible marks) and bytes that are not UTF-8, makes every kind
// of blank a space, and keeps at most limit characters.
func clean(text string, limit int) string {
	if plain(text) && len(text) <= limit {
		return strings.Trim(text, " ")
	}
	var b strings.Builder
	n := 0
	for _, r := range strings.TrimSpace(text) {
		switch {
		case unicode.IsSpace(r):
			r = ' '
		case r == utf8.RuneError || !unicode.IsPrint(r):
			continue
		}
		if n == limit {
			break
		}
		b.WriteRune(r)
		n++
	}
	return strings.Trim(b.String(), " ")
}

// plain tells whether text is printable ASCII, as nearly every name is.
func plain(text string) bool {
	for i := range len(text) {
		if text[i] < ' ' || text[i] > '~' {
			return false
		}
	}
	return true
}

// clip shortens text to limit characters and says so with three dots.
func clip(text string, limit int) string {
	if len(text) <= limit {
		return text
	}
	n := 0
	for i := range text {
		if n == limit {
			return text[:i] + "..."
		}
		n++
	}
	return text
}
