package elements

import "bytes"

// isKVN tells by the first line with a known keyword: KEYWORD = value. Before it
// may stand comments and lines of keywords that are not known.
func isKVN(head []byte) bool {
	like := false
	for line := range bytes.Lines(head) {
		line = bytes.TrimSpace(line)
		if _, ok := commentOf(line); ok || len(line) == 0 {
			like = like || ok
			continue
		}
		name, _, ok := bytes.Cut(line, []byte("="))
		name = bytes.TrimSpace(name)
		if !ok || !isKeyword(name) {
			return false
		}
		if _, known := keyOf(name); known || isUser(name) || isVersion(name) {
			return true
		}
		like = true
	}
	return like
}

// isVersion tells the keyword that begins a message, of whatever kind.
func isVersion(name []byte) bool {
	return bytes.HasPrefix(name, []byte("CCSDS_")) && bytes.HasSuffix(name, []byte("_VERS")) && isKeyword(name)
}

// commentOf returns the text of a comment line.
func commentOf(line []byte) ([]byte, bool) {
	text, ok := bytes.CutPrefix(line, []byte("COMMENT"))
	return text, ok && (len(text) == 0 || isBlank(text[0]))
}

// readKVN reads OMM in keyword = value notation: a keyword a line, in any
// order; CCSDS_OMM_VERS begins a further message. Unknown keywords are read
// over.
func readKVN(src *source) {
	k := kvnReader{src: src}
	k.msg.start(src)
	for {
		line, column := src.place()
		text, long, ok := src.row()
		if !ok {
			break
		}
		if long {
			k.msg.fault(Error{Line: line, Column: 1, What: "line too long", Want: "254 characters, as the standard has it"})
			continue
		}
		trimmed := bytes.TrimLeft(text, " \t")
		k.take(bytes.TrimRight(trimmed, " \t\r"), line, column+len(text)-len(trimmed))
	}
	k.msg.unendedFault(k.latest)
	k.finish()
}

type kvnReader struct {
	src    *source
	msg    message
	latest key  // keyword of the last line; keyCount: none that is known
	any    bool // the message has a keyword
	other  bool // the message is of another kind, and told
}

func (k *kvnReader) take(text []byte, line, column int) {
	k.latest = keyCount
	if len(text) == 0 {
		return
	}
	if words, ok := commentOf(text); ok {
		if !k.other {
			if _, v := k.msg.slot([]byte(comment.String()), line, column); v != nil {
				k.msg.put(v, words, line, column)
			}
		}
		return
	}
	before, after, ok := bytes.Cut(text, []byte("="))
	name := bytes.TrimRight(before, " \t")
	if isVersion(name) && (string(name) != version.String() || k.msg.values[version].line > 0 || k.other) {
		k.finish()
		k.msg.startAt(k.src, line, column)
		k.any, k.other = false, string(name) != version.String()
		if k.other {
			k.msg.fault(Error{Line: line, Column: column, What: "a message of another kind", Found: string(name), Want: version.String()})
			return
		}
	}
	if k.other {
		return
	}
	k.any = true
	if !ok || !isKeyword(name) {
		k.msg.fault(Error{Line: line, Column: column, What: "not a line of KVN", Found: string(clipBytes(text)), Want: "KEYWORD = value"})
		return
	}
	var v *value
	if k.latest, v = k.msg.slot(name, line, column); v != nil {
		k.field(v, after, line, column+len(before)+1)
	}
}

// field takes the text after the equals sign, which begins at a column.
func (k *kvnReader) field(v *value, text []byte, line, column int) {
	trimmed := bytes.TrimLeft(text, " \t")
	column += len(text) - len(trimmed)
	if k.latest < keyCount && keywords[k.latest].numeric && bytes.HasSuffix(trimmed, []byte("]")) {
		if i := bytes.LastIndexByte(trimmed, '['); i >= 0 {
			k.msg.unit(k.latest, bytes.TrimSpace(trimmed[i+1:len(trimmed)-1]), line, column+i)
			trimmed = trimmed[:i]
		}
	}
	k.msg.put(v, trimmed, line, column)
}

// finish ends the message that was read so far.
func (k *kvnReader) finish() {
	if k.any && !k.other {
		k.msg.finish(KVN)
	}
}
