package main

import (
	"io"
	"strings"
	"unicode"
	"unicode/utf8"

	"github.com/charmbracelet/x/ansi"
)

// asciiWriter writes for people whose terminal may show nothing else, see
// drawsUnicode. It wants whole words at once.
type asciiWriter struct {
	io.Writer
	width int // of the terminal, in columns
}

func (w asciiWriter) Write(p []byte) (int, error) {
	var b strings.Builder
	for line := range strings.Lines(string(p)) {
		said := ascii(line)
		if said != line && len(strings.TrimSuffix(said, "\n")) > w.width && ansi.StringWidth(line) <= w.width {
			said = fold(said, w.width)
		}
		b.WriteString(said)
	}
	if _, err := io.WriteString(w.Writer, b.String()); err != nil {
		return 0, err
	}
	return len(p), nil
}

// fold takes the words of a line that don't fit to a line of their own.
func fold(line string, width int) string {
	cut := strings.LastIndex(line[:width+1], " ")
	indent := len(line) - len(strings.TrimLeft(line, " "))
	if cut <= indent {
		return line
	}
	return line[:cut] + "\n" + line[:indent] + line[cut+1:]
}

// verbatim is a writer for what programs read: nothing is changed on its way.
func verbatim(w io.Writer) io.Writer {
	if a, ok := w.(asciiWriter); ok {
		return a.Writer
	}
	return w
}

// asciiWords are how other signs of ours are said.
var asciiWords = map[rune]string{
	'±': "+-", '×': "x", '−': "-", '·': ".", '…': "...", '²': "2", '³': "3", '½': "1/2",
}

// ascii says a line in what every terminal and printer knows. What has no words
// becomes question marks. Where that makes it longer or shorter the next gap
// between columns makes up for it, so that tables stay in line.
func ascii(text string) string {
	var b strings.Builder
	short := 0 // by how many columns the line is short of what it was
	for len(text) > 0 {
		r, size := utf8.DecodeRuneInString(text)
		rest := text[size:]
		switch {
		case r == ' ' && strings.HasPrefix(rest, " "):
			rest = strings.TrimLeft(rest, " ")
			gap := len(text) - len(rest)
			filled := max(1, gap+short)
			short -= filled - gap
			b.WriteString(strings.Repeat(" ", filled))
		case r <= unicode.MaxASCII:
			b.WriteRune(r)
		default:
			width := ansi.StringWidth(string(r))
			word, known := asciiWords[r]
			switch {
			case r == '°':
				word = degreesWord(rest)
			case !known:
				word = strings.Repeat("?", width)
			}
			short += width - len(word)
			b.WriteString(word)
		}
		text = rest
	}
	return b.String()
}

// degreesWord says the sign of degrees before what follows: in a sentence with a
// word, in a table and before a side of the world not at all.
func degreesWord(rest string) string {
	if next := strings.TrimPrefix(rest, " "); next == "" || strings.ContainsAny(next[:1], "\n(.,;:)") || unicode.IsLower(rune(next[0])) {
		return " deg"
	}
	return ""
}
