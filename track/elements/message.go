package elements

import (
	"bytes"
	"fmt"
	"strings"
)

// message is one orbit mean-elements message: keywords and values as text,
// with their places, whatever the encoding. Encodings fill it; set judges it.
type message struct {
	src          *source
	line, column int
	text         []byte // of all values
	values       [keyCount]value
	more         []named // comments and user-defined parameters, as they come
	last         Rest    // of the message before: many have the same
	scratch      []byte
	faulty       bool
	full         bool // more than any message has, and told
}

// value is a keyword's value: where it stands in the file and in message.text.
type value struct {
	line, column int
	from, to     int
	kind         valueKind
	cut          bool // longer than what was kept
	told         bool // its fault is told already
}

// named is a value with its name in message.text; none for a comment.
type named struct {
	value
	nameFrom, nameTo int
}

type valueKind byte

const (
	absent    valueKind = iota // or null
	bare                       // without quotes
	quoted                     // text: in quotes, or in an encoding that has only texts
	composite                  // an object or an array
)

// maxText is how many bytes of a key or value are kept; the rest is read over.
const maxText = 4096

// What is kept of one message: far more than a real one has. Without a limit a
// small packed file could fill the memory.
const (
	maxMessage = 1 << 20 // bytes of text
	maxMore    = 10_000  // comments and user-defined parameters
)

// start empties the message for the one that begins here.
func (m *message) start(src *source) {
	line, column := src.place()
	m.startAt(src, line, column)
}

func (m *message) startAt(src *source, line, column int) {
	*m = message{src: src, line: line, column: column, text: m.text[:0], more: m.more[:0], last: m.last, scratch: m.scratch}
}

// slot returns where the value of a keyword goes, nil if the keyword is of no
// use here or the message has too many, and its key, keyCount for a
// user-defined or unknown one. The place is the keyword's own, for a message
// about it.
func (m *message) slot(name []byte, line, column int) (key, *value) {
	k, known := keyOf(name)
	switch {
	case m.full:
		return keyCount, nil
	case len(m.text) > maxMessage || len(m.more) == maxMore:
		m.full = true
		m.fault(Error{Line: line, Column: column, What: "one message goes on beyond any length that it can have", Want: fmt.Sprintf("at most %d comments and %d KiB of text", maxMore, maxMessage>>10), Advice: adviceAgain})
		return keyCount, nil
	case known && k == comment:
		m.more = append(m.more, named{})
		return k, &m.more[len(m.more)-1].value
	case known:
		v := &m.values[k]
		if v.line > 0 {
			m.fault(Error{Line: line, Column: column, What: "the key " + k.String() + " is there twice"})
		}
		return k, v
	case isUser(name):
		from := len(m.text)
		m.text = append(m.text, name...)
		m.more = append(m.more, named{nameFrom: from, nameTo: len(m.text)})
		return keyCount, &m.more[len(m.more)-1].value
	}
	return keyCount, nil
}

// put fills a slot with a text that is all that its encoding has.
func (m *message) put(v *value, text []byte, line, column int) {
	text = bytes.Trim(text, " \t\r\n")
	*v = value{kind: quoted, line: line, column: column, from: len(m.text), to: len(m.text) + len(text)}
	m.text = append(m.text, text...)
}

// unit refuses a unit other than the standard's.
func (m *message) unit(k key, unit []byte, line, column int) {
	want := keywords[k].unit
	if strings.EqualFold(string(unit), want) {
		return
	}
	e := Error{Line: line, Column: column, What: fmt.Sprintf("%s has the unit of something else", k), Found: string(unit), Want: want}
	if want == "" {
		e.What, e.Want = k.String()+" has no unit", "the number alone"
	}
	m.fault(e)
}

// fault tells a fault of this message, which then gives no set.
func (m *message) fault(e Error) {
	m.faulty = true
	m.src.fault(e)
}

// wrong tells that a value is not what it should be.
func (m *message) wrong(k key, what, want, advice string) {
	m.wrongValue(m.values[k], what, want, advice)
}

func (m *message) wrongValue(v value, what, want, advice string) {
	if v.told {
		return
	}
	m.fault(Error{Line: v.line, Column: v.column, What: what, Found: string(m.text[v.from:v.to]), Want: want, Advice: advice})
}

// raw returns a value's text; empty where there is none.
func (m *message) raw(k key) []byte {
	v := m.values[k]
	return m.text[v.from:v.to]
}

// given tells whether a value is there: null and "" count as left out.
func (m *message) given(k key) bool { return m.values[k].given() }

func (v value) given() bool {
	return v.kind == composite || v.kind != absent && v.to > v.from
}
