package elements

import (
	"bytes"
	"fmt"

	"foreaim/track/internal/csvfile"
)

func isXML(head []byte) bool { return len(head) > 0 && head[0] == '<' }

// readXML reads OMM in XML: omm elements, alone or in an ndm element. Of a
// message it takes the keywords wherever they stand; unknown elements are read
// over. It is a reader of elements, attributes, texts and comments only: a
// document type declaration, the place where entities are made, is refused.
func readXML(src *source) {
	x := xmlReader{src: src}
	x.msg.start(src)
	for x.step() {
	}
}

type xmlReader struct {
	src   *source
	msg   message
	tag   []byte // name of the tag that was read last
	unit  []byte // its attribute units
	user  []byte // and parameter
	spare []byte // and any other

	names  []byte // of the open elements, one after the other
	begins []int  // where each begins in names

	inside int // open elements when the omm began; 0: outside
	depth  int // open elements when the value began; 0: none is read
	slot   key // whose value is read; keyCount: a user-defined parameter
	cut    bool
	any    bool // a root element was seen
}

// step reads up to a mark and what the mark begins; false at the end or when
// nothing more can be read.
func (x *xmlReader) step() bool {
	if x.depth > 0 {
		limit := x.value().from + maxText
		var longer bool
		x.msg.text, longer = x.src.until(markupOrEntity, x.msg.text, limit)
		x.cut = x.cut || longer
	} else if !x.passText() {
		return false
	}
	c, ok := x.src.next()
	switch {
	case !ok && len(x.begins) > 0:
		return x.broken(fmt.Sprintf("the XML ends too early, within <%s>", csvfile.Clean(string(x.top()), 40)), "", "")
	case !ok && !x.any:
		return x.broken("the XML ends too early", "", "an element omm or ndm")
	case !ok:
		return false
	case c == '&':
		return x.entity()
	}
	switch c, _ := x.src.peek(); c {
	case '?':
		return x.pass("?>")
	case '!':
		return x.declaration()
	case '/':
		x.src.next()
		return x.end()
	}
	return x.begin()
}

// passText reads over text that is no value; outside of the root only blanks
// may stand.
func (x *xmlReader) passText() bool {
	if len(x.begins) > 0 {
		x.src.until(markup, nil, 0)
		return true
	}
	if c, ok := x.src.skipBlanks(); ok && c != '<' {
		return x.broken("text outside of the XML's elements", string(clipBytes(x.src.head(20))), "a tag")
	}
	return true
}

var (
	markup         = stopsAt("<")
	markupOrEntity = stopsAt("<&")
)

// begin takes a start tag.
func (x *xmlReader) begin() bool {
	line, column := x.src.place()
	empty, ok := x.startTag()
	if !ok {
		return false
	}
	if len(x.begins) >= maxDepth {
		return x.broken("XML nested too deeply", "", fmt.Sprintf("at most %d levels", maxDepth))
	}
	root := len(x.begins) == 0
	if root && x.any {
		x.src.fault(Error{Line: line, Column: column, What: "a second root element", Found: string(x.tag), Want: "one omm or ndm"})
		return false
	}
	x.any = true
	x.begins = append(x.begins, len(x.names))
	x.names = append(x.names, x.tag...)
	switch local := local(x.tag); {
	case x.depth > 0:
		x.value().kind = composite
	case x.inside > 0:
		x.open(local, line, column)
	case string(local) == "omm":
		x.msg.startAt(x.src, line, column-1)
		x.inside = len(x.begins)
	case root && string(local) != "ndm", messages[string(local)]:
		x.src.fault(Error{Line: line, Column: column, What: "XML of another kind", Found: string(x.tag), Want: "omm, alone or in ndm", Advice: "fetch mean elements (OMM)"})
		return !root && (!empty || x.close())
	}
	return !empty || x.close()
}

// messages are the other kinds that an ndm can hold (CCSDS 505.0-B).
var messages = map[string]bool{"opm": true, "oem": true, "ocm": true, "aem": true, "apm": true, "acm": true, "cdm": true, "tdm": true, "rdm": true}

// open begins the value of a keyword's element within a message.
func (x *xmlReader) open(name []byte, line, column int) {
	if string(name) == "USER_DEFINED" {
		name = append([]byte(userPrefix), x.user...)
	}
	k, v := x.msg.slot(name, line, column)
	if v == nil {
		return
	}
	x.slot = k
	if len(x.unit) > 0 && k != comment && k != keyCount {
		x.msg.unit(k, x.unit, line, column)
	}
	line, column = x.src.place()
	*v = value{kind: quoted, line: line, column: column, from: len(x.msg.text)}
	x.depth, x.cut = len(x.begins), false
}

// value is the one that is being read.
func (x *xmlReader) value() *value {
	if x.slot == keyCount || x.slot == comment {
		return &x.msg.more[len(x.msg.more)-1].value
	}
	return &x.msg.values[x.slot]
}

// end takes an end tag.
func (x *xmlReader) end() bool {
	line, column := x.src.place()
	if !x.name() {
		return false
	}
	x.src.skipBlanks()
	if c, _ := x.src.peek(); c != '>' {
		return x.unexpected(">")
	}
	x.src.next()
	if len(x.begins) == 0 || !bytes.Equal(x.tag, x.top()) {
		want := "no end tag here"
		if len(x.begins) > 0 {
			want = fmt.Sprintf("</%s>", csvfile.Clean(string(x.top()), 40))
		}
		x.src.fault(Error{Line: line, Column: column, What: "an end tag without its start", Found: string(x.tag), Want: want, Advice: adviceAgain})
		return false
	}
	return x.close()
}

// close ends the innermost open element.
func (x *xmlReader) close() bool {
	if x.depth == len(x.begins) {
		v := x.value()
		kept := bytes.TrimSpace(x.msg.text[v.from:])
		n := copy(x.msg.text[v.from:], kept)
		x.msg.text = x.msg.text[:v.from+n]
		v.to, v.cut = v.from+n, x.cut
		x.depth = 0
	}
	if x.inside == len(x.begins) {
		x.msg.finish(XML)
		x.inside = 0
	}
	last := len(x.begins) - 1
	x.names, x.begins = x.names[:x.begins[last]], x.begins[:last]
	return true
}

// top is the name of the innermost open element; empty outside of the root.
func (x *xmlReader) top() []byte {
	if len(x.begins) == 0 {
		return nil
	}
	return x.names[x.begins[len(x.begins)-1]:]
}

// local is a name without its namespace's prefix.
func local(name []byte) []byte { return name[bytes.IndexByte(name, ':')+1:] }
