package elements

import (
	"bytes"
	"strings"

	"foreaim/track/internal/csvfile"
)

// readTLE reads two- and three-line sets: any number of them, with or without
// a name line each (a leading "0 " is dropped), blank lines and lines that
// begin with # anywhere, text after column 69 and a blank ignored.
func readTLE(src *source) {
	t := tleReader{src: src}
	for {
		text, line, ok := t.nextLine()
		if !ok {
			break
		}
		t.take(text, line)
	}
	if src.unended && t.lone > 0 && t.nameLine == t.lone+1 && strings.IndexAny(t.name, "12") == 0 {
		t.nameLine = 0 // what is left of an element line, and told already
	}
	t.leave()
	if !t.any && t.first > 0 {
		src.faults = Errors{}
		src.fault(Error{
			Line: t.first, Column: 1, What: "no element lines: neither TLE nor OMM",
			Found:  t.firstText,
			Advice: "fetch the elements as TLE, or as OMM in JSON, XML, CSV or KVN",
		})
	}
}

type tleReader struct {
	src *source
	any bool // an element line was seen

	first     int // first line with text
	firstText string

	name     string // of a name line that waits for its line 1
	nameLine int    // 0: none waits

	one     Set
	oneLine int    // line 1 that waits for its line 2; 0: none
	oneBad  bool   // it had a fault, already told
	lone    int    // line last told to lack those after it
	number  string // the catalogue number's text on it; empty if oneBad

	indent int // blanks before the text of the current line
}

// nextLine returns the next line with text, without blanks around it. The
// bytes are good until the next call.
func (t *tleReader) nextLine() (text []byte, line int, ok bool) {
	for {
		line, column := t.src.place()
		raw, long, ok := t.src.row()
		if !ok {
			return nil, 0, false
		}
		if long {
			t.src.fault(Error{Line: line, Column: 1, What: "line too long", Want: "69 columns"})
			continue
		}
		trimmed := bytes.TrimLeft(raw, " \t")
		t.indent = column - 1 + len(raw) - len(trimmed)
		trimmed = bytes.TrimRight(trimmed, " \t\r\n")
		if len(trimmed) > 0 && trimmed[0] != '#' {
			return trimmed, line, true
		}
	}
}

func (t *tleReader) take(text []byte, line int) {
	if t.first == 0 {
		t.first, t.firstText = line, string(clipBytes(text))
	}
	switch kind(text) {
	case '1':
		t.any = true
		t.leaveOne()
		t.one = Set{Name: t.name, Format: TLE, File: t.src.file, Line: line}
		if t.nameLine > 0 {
			t.one.Line = t.nameLine
		}
		t.name, t.nameLine = "", 0
		t.oneLine, t.oneBad = line, !t.parse(text, line, t.one.parseLine1)
		t.number = ""
		if !t.oneBad {
			t.number = string(text[2:7])
		}
	case '2':
		t.any = true
		if t.oneLine == 0 {
			t.name, t.nameLine = "", 0
			t.src.fault(Error{Line: line, Column: 1, What: "line 2 without a line 1 before it", Found: string(clipBytes(text))})
			return
		}
		good := t.parse(text, line, func(c *columns) { t.one.parseLine2(c, t.number) }) && !t.oneBad
		t.oneLine = 0
		if good {
			t.src.give(t.one)
		}
	default:
		t.leave()
		t.name, t.nameLine = nameOf(text), line
	}
}

// parse reads one element line into the waiting set and tells its fault.
func (t *tleReader) parse(text []byte, line int, into func(*columns)) bool {
	c := columns{text: text}
	c.frame()
	into(&c)
	if c.fault == nil {
		return true
	}
	c.fault.Line = line
	c.fault.Column += t.indent
	t.src.fault(*c.fault)
	return false
}

// leave tells what still waits when something else comes, or the end.
func (t *tleReader) leave() {
	t.leaveOne()
	if t.nameLine > 0 {
		t.src.fault(Error{Line: t.nameLine, Column: 1, What: "a name, or other text, without element lines after it", Found: t.name})
		t.lone = t.nameLine
	}
	t.name, t.nameLine = "", 0
}

func (t *tleReader) leaveOne() {
	if t.oneLine > 0 && !t.oneBad {
		t.src.fault(Error{Line: t.oneLine, Column: 1, What: "line 1 without a line 2 after it", Advice: adviceAgain})
		t.lone = t.oneLine
	}
	t.oneLine = 0
}

// kind returns '1' or '2' for an element line, whole or damaged, and 0 for a
// name. A name may begin with a digit and a blank too; it is short and has no
// catalogue number there.
func kind(text []byte) byte {
	if text[0] != '1' && text[0] != '2' {
		return 0
	}
	if len(text) > 40 {
		return text[0]
	}
	if len(text) < 7 || text[1] != ' ' {
		return 0
	}
	if _, err := ParseAlpha5(string(text[2:7])); err != nil && len(text) <= 24 {
		return 0
	}
	return text[0]
}

func nameOf(text []byte) string {
	if text[0] == '0' && (len(text) == 1 || text[1] == ' ') {
		text = text[1:]
	}
	if name := csvfile.Clean(string(text), maxName); !strings.EqualFold(name, unknown) {
		return name
	}
	return ""
}

func clipBytes(text []byte) []byte { return text[:min(len(text), 200)] }
