package csvfile

import (
	"strings"
	"unicode"
	"unicode/utf8"
)

// maxFound is how many characters of what was there an error shows.
const maxFound = 40

// Clean makes one printable line of text from outside: control and format
// characters (escape sequences' ESC, the C1 range, turned writing direction) and
// bytes that are not UTF-8 are dropped, every kind of blank and line end becomes
// a space, blanks at the ends go, and at most limit characters are kept.
func Clean(text string, limit int) string {
	if len(text) <= limit && plain(text) {
		return strings.Trim(text, " ")
	}
	var b strings.Builder
	n := 0
	for _, r := range text {
		switch {
		case unicode.IsSpace(r):
			r = ' '
		case r == utf8.RuneError || !unicode.IsPrint(r):
			continue
		}
		if n == 0 && r == ' ' {
			continue
		}
		if n++; n > limit {
			break
		}
		b.WriteRune(r)
	}
	return strings.TrimRight(b.String(), " ")
}

// plain tells whether text is printable ASCII, as nearly all of it is.
func plain(text string) bool {
	for i := range len(text) {
		if text[i] < ' ' || text[i] > '~' {
			return false
		}
	}
	return true
}

// Found makes what was there fit for an error: clean, and short.
func Found(text string) string {
	text = Clean(text, maxFound+1)
	if runes := []rune(text); len(runes) > maxFound {
		return string(runes[:maxFound]) + "..."
	}
	return text
}
