package elements

import "slices"

// message is one orbit mean-elements message: keywords and values as text,
// with their places, whatever the encoding. Encodings fill it; set judges it.
type message struct {
	src          *source
	line, column int
	text         []byte // of all values
	values       [keyCount]value
	faulty       bool
}

// value is a keyword's value: where it stands in the file and in message.text.
type value struct {
	kind         valueKind
	line, column int
	from, to     int
	cut          bool // longer than what was kept
	told         bool // its fault is told already
}

type valueKind byte

const (
	absent    valueKind = iota // or null
	bare                       // without quotes
	quoted                     // in quotes
	composite                  // an object or an array
)

// key is a keyword of CCSDS 502.0-B-3, section 4.2, that is of use here.
type key int

const (
	objectName key = iota
	objectID
	catalogID
	epoch
	keyMotion
	keyEccentricity
	keyInclination
	keyNode
	keyPericenter
	keyAnomaly
	keyDrag
	keyMotionDot
	keyMotionDDot
	elementSet
	revolution
	classification
	ephemerisType
	theory
	frame
	timeSystem
	center
	keyAxis
	keyCount
)

func (k key) String() string { return keyNames[k] }

var keyNames = [keyCount]string{
	objectName:      "OBJECT_NAME",
	objectID:        "OBJECT_ID",
	catalogID:       "NORAD_CAT_ID",
	epoch:           "EPOCH",
	keyMotion:       "MEAN_MOTION",
	keyEccentricity: "ECCENTRICITY",
	keyInclination:  "INCLINATION",
	keyNode:         "RA_OF_ASC_NODE",
	keyPericenter:   "ARG_OF_PERICENTER",
	keyAnomaly:      "MEAN_ANOMALY",
	keyDrag:         "BSTAR",
	keyMotionDot:    "MEAN_MOTION_DOT",
	keyMotionDDot:   "MEAN_MOTION_DDOT",
	elementSet:      "ELEMENT_SET_NO",
	revolution:      "REV_AT_EPOCH",
	classification:  "CLASSIFICATION_TYPE",
	ephemerisType:   "EPHEMERIS_TYPE",
	theory:          "MEAN_ELEMENT_THEORY",
	frame:           "REF_FRAME",
	timeSystem:      "TIME_SYSTEM",
	center:          "CENTER_NAME",
	keyAxis:         "SEMI_MAJOR_AXIS",
}

// keyOf finds a keyword, written as the standard writes it.
func keyOf(name []byte) (key, bool) {
	i := slices.Index(keyNames[:], string(name))
	return key(i), i >= 0
}

// start empties the message for the one that begins here.
func (m *message) start(src *source) {
	*m = message{src: src, line: src.line, column: src.column, text: m.text[:0]}
}

// fault tells a fault of this message, which then gives no set.
func (m *message) fault(e Error) {
	m.faulty = true
	m.src.fault(e)
}

// wrong tells that a value is not what it should be.
func (m *message) wrong(k key, what, want, advice string) {
	v := m.values[k]
	if v.told {
		return
	}
	m.fault(Error{Line: v.line, Column: v.column, What: what, Found: string(m.raw(k)), Want: want, Advice: advice})
}

// raw returns a value's text; empty where there is none.
func (m *message) raw(k key) []byte {
	v := m.values[k]
	return m.text[v.from:v.to]
}

// given tells whether a value is there: null and "" count as left out.
func (m *message) given(k key) bool {
	v := m.values[k]
	return v.kind == composite || v.kind != absent && v.to > v.from
}
