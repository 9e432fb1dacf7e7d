package radio

import (
	"strings"
	"unicode/utf8"
)

// lineColumns is the longest line for people.
const lineColumns = 76

// fold breaks a text between words into lines that are no longer than lineColumns
// unless a word is. The first begins with start, the others with indent.
func fold(start, text, indent string) []string {
	var lines []string
	line := start
	for i, word := range strings.Fields(text) {
		switch {
		case i == 0:
			line += word
		case utf8.RuneCountInString(line)+1+utf8.RuneCountInString(word) > lineColumns:
			lines = append(lines, line)
			line = indent + word
		default:
			line += " " + word
		}
	}
	return append(lines, line)
}

// cut shortens what no folding can, such as a long name without blanks.
func cut(line string) string {
	if runes := []rune(line); len(runes) > lineColumns {
		return string(runes[:lineColumns-3]) + "..."
	}
	return line
}
