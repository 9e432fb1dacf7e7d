package tui

import (
	"strings"
	"unicode"

	"github.com/mattn/go-runewidth"
)

// narrow measures runes as a terminal outside East Asia does, whatever the
// locale of the process, so that a screen has the same cells everywhere.
var narrow = &runewidth.Condition{EastAsianWidth: false}

// clean makes text from outside fit for the screen: every rune is one cell wide
// and none is a control character, so that no name moves the cursor or shifts
// the rest of a line.
func clean(s string) string {
	return strings.Map(func(r rune) rune {
		switch {
		case r == '\t' || r == '\n':
			return ' '
		case !unicode.IsPrint(r), unicode.Is(unicode.M, r), narrow.RuneWidth(r) == 0:
			return -1
		case narrow.RuneWidth(r) != 1:
			return '?'
		}
		return r
	}, s)
}

// cells counts the cells of a text that has been cleaned.
func cells(s string) int {
	n := 0
	for range s {
		n++
	}
	return n
}

// fit returns the first candidate that is not wider than the given columns; the
// last one, cut, when none is. Candidates go from the fullest to the shortest.
func fit(columns int, candidates ...string) string {
	for _, s := range candidates {
		if cells(s) <= columns {
			return s
		}
	}
	if len(candidates) == 0 || columns <= 0 {
		return ""
	}
	last := []rune(candidates[len(candidates)-1])
	return strings.TrimRight(string(last[:columns]), " ")
}

// wrap breaks words into lines of at most the given columns.
func wrap(s string, columns int) []string {
	if columns < 1 {
		return nil
	}
	var lines []string
	line := ""
	for _, word := range strings.Fields(s) {
		for cells(word) > columns {
			if line != "" {
				lines = append(lines, line)
				line = ""
			}
			r := []rune(word)
			lines = append(lines, string(r[:columns]))
			word = string(r[columns:])
		}
		switch {
		case line == "":
			line = word
		case cells(line)+1+cells(word) <= columns:
			line += " " + word
		default:
			lines = append(lines, line)
			line = word
		}
	}
	if line != "" {
		lines = append(lines, line)
	}
	return lines
}

// capital returns the text with its first letter in upper case.
func capital(s string) string {
	for i, r := range s {
		if i == 0 {
			return string(unicode.ToUpper(r)) + s[len(string(r)):]
		}
	}
	return s
}
