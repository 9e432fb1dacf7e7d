package runner

import (
	"strings"
	"unicode"
)

// cleanOutput makes a program's output fit to be kept and shown: lines of
// printable characters, without blank ends or empty lines.
func cleanOutput(raw []byte) string {
	s := strings.ReplaceAll(strings.ToValidUTF8(string(raw), "\uFFFD"), "\r", "\n")
	var lines []string
	for line := range strings.SplitSeq(s, "\n") {
		if line = strings.TrimRight(printable(line), " "); line != "" {
			lines = append(lines, line)
		}
	}
	return strings.Join(lines, "\n")
}

// oneLine makes a text one line of printable characters with single blanks.
func oneLine(s string) string {
	return strings.Join(strings.Fields(printable(strings.ToValidUTF8(s, "\uFFFD"))), " ")
}

// printable drops what can't be printed; blanks of any kind become a space.
func printable(s string) string {
	return strings.Map(func(r rune) rune {
		switch {
		case unicode.IsSpace(r):
			return ' '
		case !unicode.IsPrint(r):
			return -1
		}
		return r
	}, s)
}
