package elements

import (
	"bytes"
	"cmp"
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"foreaim/track/internal/csvfile"
)

// set makes the message a set. Unless the message says otherwise, it is of
// SGP4, in TEME, in UTC and about the Earth: the public catalogue leaves these
// out. All its faults are told, but of elements for another theory, frame, time
// or centre only that.
func (m *message) set(format Format) (Set, bool) {
	m.oneOf(theory, adviceSGP4, "SGP4", "SGP/SGP4")
	m.sgp4Type()
	m.oneOf(frame, "", "TEME")
	m.oneOf(timeSystem, "", "UTC")
	m.oneOf(center, "", "EARTH")
	if m.faulty {
		return Set{}, false
	}
	m.require(requiredKeys...)
	s := Set{
		Name:                m.label(objectName, maxName),
		Designator:          m.label(objectID, maxDesignator),
		CatalogueNumber:     m.integer(catalogID),
		Classification:      m.class(),
		MeanMotionRevPerDay: m.number(keyMotion, meanMotion),
		Eccentricity:        m.number(keyEccentricity, eccentricity),
		InclinationDeg:      m.number(keyInclination, inclination),
		NodeDeg:             turn(m.number(keyNode, node)),
		PerigeeDeg:          turn(m.number(keyPericenter, perigee)),
		AnomalyDeg:          turn(m.number(keyAnomaly, anomaly)),
		BStar:               m.number(keyDrag, drag),
		MeanMotionDot:       m.number(keyMotionDot, motionDot),
		MeanMotionDDot:      m.number(keyMotionDDot, motionDDot),
		ElementNumber:       m.integer(elementSet),
		RevolutionNumber:    m.integer(revolution),
		Rest:                m.rest(),
		Format:              format,
		File:                m.src.file,
		Line:                m.line,
	}
	if m.given(epoch) {
		var ok bool
		if s.Epoch, ok = parseOMMEpoch(m.raw(epoch)); !ok || m.values[epoch].cut {
			m.wrong(epoch, "EPOCH is not a time", "YYYY-MM-DDThh:mm:ss or YYYY-DDDThh:mm:ss with digits after the point and Z as needed", "")
		}
	}
	return s, !m.faulty
}

// finish hands on the set of a message that has been read.
func (m *message) finish(format Format) {
	if s, ok := m.set(format); ok {
		m.src.give(s)
	}
}

// requiredKeys are what SGP4 needs.
var requiredKeys = []key{epoch, keyMotion, keyEccentricity, keyInclination, keyNode, keyPericenter, keyAnomaly, keyDrag}

// unendedFault tells that a file may have lost the end of its last value. Where
// the encoding has no closing mark, a number cut in two is still a number, so a
// line end must follow the ones that SGP4 needs.
func (m *message) unendedFault(k key) {
	if m.src.unended && slices.Contains(requiredKeys, k) {
		v := m.values[k]
		m.fault(Error{
			Line: v.line, Column: v.column, What: "the file ends within this line, whose " + k.String() + " may be cut",
			Found: string(m.raw(k)), Want: "a line end", Advice: "fetch the elements again, or end the last line if the file is whole",
		})
	}
}

// require tells all keywords that are missing as one fault.
func (m *message) require(keys ...key) {
	var missing []string
	for _, k := range keys {
		if !m.given(k) {
			missing = append(missing, k.String())
		}
	}
	if len(missing) == 0 {
		return
	}
	name := cmp.Or(m.label(objectName, maxName), "the message")
	what := name + " has no " + strings.Join(missing, ", ")
	advice := "fetch the whole message: SGP4 needs every one of them"
	for _, pair := range [][2]key{{keyAxis, keyMotion}, {keyBTerm, keyDrag}} {
		if m.given(pair[0]) && !m.given(pair[1]) {
			what += "; " + pair[0].String() + " does not stand in for it"
			advice = adviceSGP4
		}
	}
	m.fault(Error{Line: m.line, Column: m.column, What: what, Advice: advice})
}

// oneOf refuses a text other than the ones allowed; letter case is free.
func (m *message) oneOf(k key, advice string, allowed ...string) {
	if !m.given(k) {
		return
	}
	is := func(text string) bool { return strings.EqualFold(text, string(m.raw(k))) }
	if m.values[k].kind != quoted || !slices.ContainsFunc(allowed, is) {
		m.wrong(k, k.String()+" does not fit SGP4", strings.Join(allowed, " or "), advice)
	}
}

// sgp4Type refuses the ephemeris types that are not SGP4's. Served SGP4 sets
// carry 0, the standard's list says 2.
func (m *message) sgp4Type() {
	switch n := m.integer(ephemerisType); n {
	case 0, 2:
	case 4:
		m.wrong(ephemerisType, "EPHEMERIS_TYPE 4 is SGP4-XP: its elements do not fit SGP4", "0 or 2", adviceSGP4)
	default:
		m.wrong(ephemerisType, "EPHEMERIS_TYPE is not one of SGP4", "0 or 2", adviceSGP4)
	}
}

// unknown is what the standard writes for a name or designator that there is
// none of (CCSDS 502.0-B-3, table 4-2; from memory); a TLE's name line may say
// so too.
const unknown = "UNKNOWN"

func (m *message) label(k key, limit int) string {
	if !m.given(k) {
		return ""
	}
	v, text := m.values[k], m.raw(k)
	switch {
	case v.kind != quoted:
		m.wrong(k, k.String()+" is not a text", "text in double quotes", "")
	case !v.cut && !utf8.Valid(text):
		m.notUTF8(k.String(), v)
	case strings.EqualFold(string(text), unknown):
		return ""
	}
	return csvfile.Clean(string(text), limit)
}

func (m *message) class() byte {
	if !m.given(classification) {
		return 0
	}
	text := m.raw(classification)
	if len(text) != 1 || !oneOf(text[0], "UCS") {
		m.wrong(classification, "not a classification", "U, C or S", "")
		return 0
	}
	return text[0]
}

// number reads a number, in quotes or not; 0 where it is left out.
func (m *message) number(k key, q quantity) float64 {
	if !m.given(k) {
		return 0
	}
	text := m.raw(k)
	if m.values[k].kind == composite || m.values[k].cut || !isNumeric(text) {
		m.wrong(k, k.String()+" is not a number", q.want(), "")
		return 0
	}
	v, err := strconv.ParseFloat(string(text), 64)
	if err != nil || !q.holds(v) {
		what := " is out of range"
		if errors.Is(err, strconv.ErrSyntax) {
			what = " is not a number"
		}
		m.wrong(k, k.String()+what, q.want(), "")
		return 0
	}
	return v + 0 // no negative zero
}

// maxInteger is the largest whole number, of nine digits, as a catalogue number
// may have (CCSDS 502.0-B-3, table 4-3).
const maxInteger = 999_999_999

// integer reads up to nine digits, in quotes or not, led by a plus sign or
// zeros or followed by a point and zeros; 0 where it is left out.
func (m *message) integer(k key) int {
	if !m.given(k) {
		return 0
	}
	text := bytes.TrimPrefix(m.raw(k), []byte("+"))
	whole, fraction, _ := bytes.Cut(text, []byte("."))
	if rest := bytes.TrimLeft(whole, "0"); len(rest) > 0 || len(whole) == 0 {
		whole = rest
	} else {
		whole = whole[:1]
	}
	n, ok := digits(whole)
	if !ok || m.values[k].kind == composite || m.values[k].cut || len(bytes.Trim(fraction, "0")) > 0 {
		m.wrong(k, k.String()+" is not a whole number", fmt.Sprintf("0 to %d", maxInteger), "")
		return 0
	}
	return n
}

// isNumeric tells whether text has only what decimal numbers are made of, so
// that NaN, Inf and hexadecimal never reach the conversion.
func isNumeric[T string | []byte](text T) bool {
	for i := range len(text) {
		c := text[i]
		if (c < '0' || c > '9') && c != '.' && c != '-' && c != '+' && c|0x20 != 'e' {
			return false
		}
	}
	return true
}
