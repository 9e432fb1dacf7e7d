package elements

import (
	"bytes"
	"strconv"
	"unicode/utf8"
)

// startTag reads a start tag from its name on, with the attributes that are of
// use; empty tells that it is its own end.
func (x *xmlReader) startTag() (empty, ok bool) {
	if !x.name() {
		return false, false
	}
	x.unit, x.user = x.unit[:0], x.user[:0]
	for {
		c, _ := x.src.skipBlanks()
		switch c {
		case '>':
			x.src.next()
			return false, true
		case '/':
			x.src.next()
			if c, _ := x.src.peek(); c != '>' {
				return false, x.unexpected("> after the slash")
			}
			x.src.next()
			return true, true
		}
		if !x.attribute() {
			return false, false
		}
	}
}

// name reads a name into x.tag.
func (x *xmlReader) name() bool {
	var cut bool
	x.tag, cut = x.src.until(nameEnds, x.tag[:0], maxTag)
	if len(x.tag) == 0 || cut {
		return x.unexpected("a name")
	}
	return true
}

var (
	nameEnds    = stopsAt(" \t\r\n=<>/\"'&")
	singleQuote = stopsAt("'<")
	doubleQuote = stopsAt("\"<")
)

// maxTag is the longest name of a tag or attribute, in bytes.
const maxTag = 200

func (x *xmlReader) attribute() bool {
	var held [maxTag]byte
	name, cut := x.src.until(nameEnds, held[:0], maxTag)
	if len(name) == 0 || cut {
		return x.unexpected("an attribute or >")
	}
	if c, _ := x.src.skipBlanks(); c != '=' {
		return x.unexpected("= after an attribute")
	}
	x.src.next()
	quote, _ := x.src.skipBlanks()
	ends := doubleQuote
	if quote == '\'' {
		ends = singleQuote
	} else if quote != '"' {
		return x.unexpected("a quote")
	}
	x.src.next()
	into := &x.spare
	switch string(name) {
	case "units":
		into = &x.unit
	case "parameter":
		into = &x.user
	}
	*into, _ = x.src.until(ends, (*into)[:0], maxTag)
	if c, _ := x.src.peek(); c != quote {
		return x.unexpected("the closing quote")
	}
	x.src.next()
	return true
}

// declaration reads what begins with <!: a comment or a part without markup.
func (x *xmlReader) declaration() bool {
	head := x.src.head(len("![CDATA["))
	switch {
	case bytes.HasPrefix(head, []byte("!--")):
		return x.pass("!--") && x.pass("-->")
	case string(head) == "![CDATA[":
		x.pass("![CDATA[")
		return x.pass("]]>")
	case bytes.HasPrefix(bytes.ToUpper(head), []byte("!DOCTYPE")):
		return x.broken("a document type declaration, which an OMM has not", "", "elements only; entities are not taken in")
	}
	return x.unexpected("a comment")
}

// pass reads up to and over mark. Within a value it keeps what stands before
// it, unless that is a comment or an instruction.
func (x *xmlReader) pass(mark string) bool {
	keep := x.depth > 0 && mark == "]]>"
	matched := 0
	for {
		c, ok := x.src.next()
		if !ok {
			return x.broken("the XML ends too early", "", mark)
		}
		if keep && len(x.msg.text) < x.value().from+maxText {
			x.msg.text = append(x.msg.text, c)
		} else if keep {
			x.cut = true
		}
		for matched > 0 && c != mark[matched] {
			// The marks begin with at most two equal bytes: one more of them
			// leaves the match as it is.
			if matched == 2 && mark[0] == mark[1] && c == mark[0] {
				break
			}
			matched = 0
		}
		if c == mark[matched] {
			matched++
		}
		if matched == len(mark) {
			break
		}
	}
	if keep {
		x.msg.text = bytes.TrimSuffix(x.msg.text, []byte(mark))
	}
	return true
}

// entity reads what follows &: one of the five that XML has, or a character by
// its number.
func (x *xmlReader) entity() bool {
	var held [10]byte
	name, cut := x.src.until(entityEnds, held[:0], len(held))
	if c, ok := x.src.peek(); !ok || c != ';' || cut {
		return x.unexpected("an entity such as &amp;")
	}
	x.src.next()
	r, ok := entityOf(string(name))
	if !ok {
		return x.broken("an entity that XML does not have", string(name), "amp, lt, gt, quot, apos or a character's number")
	}
	if len(x.msg.text) < x.value().from+maxText {
		x.msg.text = utf8.AppendRune(x.msg.text, r)
	}
	return true
}

var entityEnds = stopsAt("; \t\r\n<&")

func entityOf(name string) (rune, bool) {
	switch name {
	case "amp":
		return '&', true
	case "lt":
		return '<', true
	case "gt":
		return '>', true
	case "quot":
		return '"', true
	case "apos":
		return '\'', true
	}
	base := 10
	if len(name) < 2 || name[0] != '#' {
		return 0, false
	}
	if name = name[1:]; name[0] == 'x' {
		base, name = 16, name[1:]
	}
	n, err := strconv.ParseUint(name, base, 21)
	return rune(n), err == nil && utf8.ValidRune(rune(n))
}

// unexpected tells what stands where want should be, or that the text ends.
func (x *xmlReader) unexpected(want string) bool {
	c, ok := x.src.peek()
	if !ok {
		return x.broken("the XML ends too early", "", "")
	}
	return x.broken("the XML is damaged", string(rune(c)), want)
}

// broken tells a fault of the XML itself, after which nothing can be read.
func (x *xmlReader) broken(what, found, want string) bool {
	line, column := x.src.place()
	x.src.fault(Error{Line: line, Column: column, What: what, Found: found, Want: want, Advice: adviceAgain})
	return false
}
