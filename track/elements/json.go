package elements

import "fmt"

func isJSON(head []byte) bool { return len(head) > 0 && (head[0] == '{' || head[0] == '[') }

// readJSON reads OMM in JSON: one object, or an array of them. It walks the
// text once and keeps one message at a time; a fault of one message does not
// end the reading, a fault of the JSON itself does.
func readJSON(src *source) {
	w := walker{src: src}
	w.file()
}

type walker struct {
	src *source
	msg message // the message being read
	key []byte
}

// maxDepth bounds the nesting of values that are read over.
const maxDepth = 100

func (w *walker) file() {
	if c, _ := w.src.peek(); c == '{' {
		if !w.message() {
			return
		}
	} else if !w.list(w.element) {
		return
	}
	if c, more := w.src.skipBlanks(); more {
		w.broken("text after the end of the JSON", string(c), "one object or one array of objects")
	}
}

// element reads one element of the outer array.
func (w *walker) element() bool {
	c, ok := w.src.peek()
	if ok && c == '{' {
		return w.message()
	}
	w.msg.start(w.src)
	w.msg.fault(Error{Line: w.msg.line, Column: w.msg.column, What: "an element of the array is not an object", Want: "an OMM: an object with OBJECT_NAME, EPOCH and so on"})
	return w.value(nil, 0)
}

// message reads one OMM and keeps its set if it is good.
func (w *walker) message() bool {
	w.msg.start(w.src)
	if !w.object(w.field) {
		return false
	}
	w.msg.finish(JSON)
	return true
}

// field reads the value of the key just read, keeping it if it is of use.
func (w *walker) field(line, column int) bool {
	if c, ok := w.src.peek(); ok && c == '[' && string(w.key) == comment.String() {
		return w.list(func() bool {
			_, v := w.msg.slot([]byte(comment.String()), line, column)
			return w.value(v, 1)
		})
	}
	_, v := w.msg.slot(w.key, line, column)
	return w.value(v, 0)
}

// object reads an object; it calls each with the position of a key, held in
// w.key, to read its value.
func (w *walker) object(each func(line, column int) bool) bool {
	return w.members('}', func() bool {
		line, column := w.src.place()
		if c, ok := w.src.peek(); !ok || c != '"' {
			return w.unexpected(`a key in double quotes`)
		}
		var ok bool
		if w.key, _, ok = w.text(w.key[:0]); !ok {
			return false
		}
		if c, ok := w.src.skipBlanks(); !ok || c != ':' {
			return w.unexpected("a colon after the key")
		}
		w.src.next()
		w.src.skipBlanks()
		return each(line, column)
	})
}

func (w *walker) list(each func() bool) bool { return w.members(']', each) }

// members reads what is between brackets and separated by commas.
func (w *walker) members(end byte, each func() bool) bool {
	w.src.next() // the opening bracket
	if c, ok := w.src.skipBlanks(); ok && c == end {
		w.src.next()
		return true
	}
	for {
		if _, ok := w.src.skipBlanks(); !ok {
			return w.unexpected("")
		}
		if !each() {
			return false
		}
		c, ok := w.src.skipBlanks()
		if !ok || c != ',' && c != end {
			return w.unexpected(fmt.Sprintf("a comma or %c", end))
		}
		w.src.next()
		if c == end {
			return true
		}
	}
}

// value reads any value into v; nil reads over it.
func (w *walker) value(v *value, depth int) bool {
	line, column := w.src.place()
	c, ok := w.src.peek()
	if !ok {
		return w.unexpected("")
	}
	if depth > maxDepth {
		return w.broken("JSON nested too deeply", "", fmt.Sprintf("at most %d levels", maxDepth))
	}
	scratch := &value{}
	if v == nil {
		v = scratch
	}
	*v = value{line: line, column: column, from: len(w.msg.text)}
	switch c {
	case '"':
		v.kind = quoted
		w.msg.text, v.cut, ok = w.text(w.msg.text)
	case '{':
		v.kind = composite
		ok = w.object(func(int, int) bool { return w.value(nil, depth+1) })
	case '[':
		v.kind = composite
		ok = w.list(func() bool { return w.value(nil, depth+1) })
	default:
		v.kind = bare
		w.msg.text, v.cut = w.word(w.msg.text)
		ok = w.checkWord(v)
	}
	v.to = len(w.msg.text)
	if v == scratch {
		w.msg.text = w.msg.text[:v.from]
	}
	return ok
}

// checkWord refuses a value without quotes that JSON does not know. Words such
// as NaN spoil their message only; no word at all ends the reading.
func (w *walker) checkWord(v *value) bool {
	word := w.msg.text[v.from:]
	if len(word) == 0 {
		return w.unexpected("a value")
	}
	if _, more := w.src.peek(); !more {
		return true // the word may be cut, and that is told next
	}
	switch {
	case string(word) == "null":
		v.kind = absent
	case string(word) != "true" && string(word) != "false" && !isJSONNumber(word):
		v.told = true
		w.msg.fault(Error{Line: v.line, Column: v.column, What: "not a JSON value", Found: string(word), Want: "a number, or text in double quotes"})
	}
	return true
}

// unexpected tells what stands where want should be, or that the text ends.
func (w *walker) unexpected(want string) bool {
	c, ok := w.src.peek()
	if !ok {
		return w.broken("the JSON ends too early", "", "")
	}
	return w.broken("the JSON is damaged", string(rune(c)), want)
}

// broken tells a fault of the JSON itself, after which nothing can be read.
func (w *walker) broken(what, found, want string) bool {
	line, column := w.src.place()
	w.src.fault(Error{Line: line, Column: column, What: what, Found: found, Want: want, Advice: adviceAgain})
	return false
}
