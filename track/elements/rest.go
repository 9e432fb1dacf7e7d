package elements

import (
	"bytes"
	"fmt"
	"iter"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"foreaim/track/internal/csvfile"
)

// Rest is what an OMM says beyond the fields of Set: comments, origin,
// spacecraft, covariance and user-defined parameters. It is text, a line
// KEYWORD=VALUE for each, so that sets stay comparable: comments first, then
// the standard's keywords in its order, then user-defined ones by name.
// Numbers are as they were printed, without units, which are the standard's.
// Empty for a set that has nothing more.
//
// Not kept are: the blocks where comments stood, which of its two names the
// theory had, SEMI_MAJOR_AXIS beside a mean motion, keywords that the standard
// does not have, and what goes beyond 4096 bytes of one text.
type Rest string

// All returns the keywords with their values; COMMENT may come several times.
func (r Rest) All() iter.Seq2[string, string] {
	return func(yield func(string, string) bool) {
		for line := range strings.Lines(string(r)) {
			name, text, _ := strings.Cut(strings.TrimSuffix(line, "\n"), "=")
			if !yield(name, text) {
				return
			}
		}
	}
}

// check refuses what no reading gives, for a Rest that was made.
func (r Rest) check() error {
	if r != "" && !strings.HasSuffix(string(r), "\n") {
		return fmt.Errorf("Rest does not end with a line end")
	}
	last := comment
	user := ""
	for name, text := range r.All() {
		k, known := keyNames[name]
		switch {
		case text == "" || csvfile.Clean(text, maxText) != text:
			return fmt.Errorf("%s is %q in Rest, want text without control characters and blanks around it", name, clip(text, 40))
		case known && keywords[k].rest:
			if user != "" || k < last || k == last && k != comment {
				return fmt.Errorf("%s is out of order in Rest", name)
			}
			if keywords[k].numeric && !isNumber(text) {
				return fmt.Errorf("%s is %q in Rest, want a number", name, clip(text, 40))
			}
			last = k
		case isUser(name):
			if name <= user {
				return fmt.Errorf("%s is out of order in Rest", name)
			}
			user = name
		default:
			return fmt.Errorf("%q is not a keyword for Rest", clip(name, 40))
		}
	}
	return nil
}

// rest gathers what goes into Set.Rest.
func (m *message) rest() Rest {
	slices.SortStableFunc(m.more, func(a, b named) int { return bytes.Compare(m.name(a), m.name(b)) })
	b := m.scratch[:0]
	i := 0
	for ; i < len(m.more) && len(m.name(m.more[i])) == 0; i++ {
		for line := range bytes.SplitSeq(m.text[m.more[i].from:m.more[i].to], []byte("\n")) { // CSV has one cell for all comments
			b = appendRest(b, comment.String(), m.restText(comment.String(), m.more[i].value, line))
		}
	}
	for k := marking; k < keyCount; k++ {
		if v := m.values[k]; keywords[k].rest && v.given() {
			if keywords[k].numeric && (v.kind == composite || v.cut || !isNumber(string(m.raw(k)))) {
				m.wrong(k, k.String()+" is not a number", "a number", "")
				continue
			}
			b = appendRest(b, k.String(), m.restText(k.String(), v, m.raw(k)))
		}
	}
	for ; i < len(m.more); i++ {
		v := m.more[i]
		name := string(m.name(v))
		if i > 0 && string(m.name(m.more[i-1])) == name {
			m.fault(Error{Line: v.line, Column: v.column, What: "the key " + name + " is there twice"})
		}
		b = appendRest(b, name, m.restText(name, v.value, m.text[v.from:v.to]))
	}
	m.scratch = b
	if string(m.last) != string(b) {
		m.last = Rest(b)
	}
	return m.last
}

func (m *message) name(n named) []byte { return m.text[n.nameFrom:n.nameTo] }

// restText returns text as it is kept.
func (m *message) restText(name string, v value, text []byte) string {
	switch {
	case v.kind == composite:
		m.wrongValue(v, name+" is not a text or a number", "text in double quotes, or a number", "")
	case !v.cut && !utf8.Valid(text):
		m.notUTF8(name, v)
	}
	return csvfile.Clean(string(text), maxText)
}

func (m *message) notUTF8(name string, v value) {
	m.wrongValue(v, name+" is not text in UTF-8", "UTF-8", "save the file as UTF-8")
}

func appendRest(b []byte, name, text string) []byte {
	if text == "" {
		return b
	}
	b = append(append(b, name...), '=')
	return append(append(b, text...), '\n')
}

// isNumber tells whether text is a finite decimal number.
func isNumber(text string) bool {
	_, err := strconv.ParseFloat(text, 64)
	return err == nil && isNumeric(text)
}
