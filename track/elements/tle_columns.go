package elements

import (
	"bytes"
	"fmt"
	"strconv"
	"strings"
	"time"
)

const (
	lineLength  = 69
	adviceAgain = "the file is damaged or cut: fetch the elements again"
)

// Checksum returns the sum of a line's first 68 columns, modulo 10: digits
// count their value, a minus counts 1, all else 0. Column 69 holds it.
func Checksum(line string) int { return checksum(line) }

func checksum[T string | []byte](line T) int {
	sum := 0
	for i := range min(len(line), lineLength-1) {
		switch c := line[i]; {
		case c >= '0' && c <= '9':
			sum += int(c - '0')
		case c == '-':
			sum++
		}
	}
	return sum % 10
}

// columns reads the fields of one element line. Columns are counted from 1 and
// both ends belong to a field. The first fault is kept; after it every field
// is zero.
type columns struct {
	text  []byte
	fault *Error
}

func (c *columns) wrong(column int, what, found, want string) {
	if c.fault == nil {
		c.fault = &Error{Column: column, What: what, Found: found, Want: want}
	}
}

// frame checks length and checksum: without them no column means anything.
func (c *columns) frame() {
	n := len(c.text)
	if n < lineLength {
		c.wrong(n+1, fmt.Sprintf("line ends after column %d", n), "", "69 columns")
		c.fault.Advice = adviceAgain
		return
	}
	if n > lineLength && c.text[lineLength] != ' ' && c.text[lineLength] != '\t' {
		c.wrong(lineLength+1, "line goes on after column 69", string(clipBytes(c.text[lineLength:])), "69 columns")
		return
	}
	if want := checksum(c.text); c.text[lineLength-1] != byte('0'+want) {
		c.wrong(lineLength, "wrong checksum", string(c.text[lineLength-1:lineLength]), strconv.Itoa(want))
		c.fault.Advice = "a character was changed on the way: fetch the elements again"
	}
}

// field returns the columns from first to last; nil after a fault.
func (c *columns) field(first, last int) []byte {
	if c.fault != nil {
		return nil
	}
	return c.text[first-1 : last]
}

// blanks checks that the columns between the fields are blank.
func (c *columns) blanks(at ...int) {
	for _, column := range at {
		if f := c.field(column, column); f != nil && f[0] != ' ' {
			c.wrong(column, fmt.Sprintf("column %d is not blank", column), string(f), "a blank between the fields")
		}
	}
}

// number reads a catalogue number.
func (c *columns) number(first, last int) int {
	f := c.field(first, last)
	if f == nil {
		return 0
	}
	n, err := ParseAlpha5(string(f))
	if err != nil {
		c.wrong(first, "not a catalogue number", string(f), "five digits, or a letter A to Z without I and O and four digits")
	}
	return n
}

// integer reads digits led by blanks; all blank is 0.
func (c *columns) integer(name string, first, last int) int {
	f := bytes.TrimLeft(c.field(first, last), " ")
	if len(f) == 0 {
		return 0
	}
	n, ok := digits(f)
	if !ok {
		c.wrong(first, name+" is not a number", string(f), "digits")
	}
	return n
}

// decimal reads a number whose point stands in one column, digits after it to
// the end of the field, digits led by blanks before it. A signed field may
// begin with a sign, has no digits before the point, and may be all blank for 0.
func (c *columns) decimal(q quantity, first, point, last int, signed bool) float64 {
	f := c.field(first, last)
	if f == nil || signed && len(bytes.Trim(f, " ")) == 0 {
		return 0
	}
	text := bytes.TrimLeft(f, " ")
	bare := text
	if signed && len(bare) > 0 && oneOf(bare[0], "+-") {
		bare = bare[1:]
	}
	fraction := c.text[point:last]
	whole := bare[:max(0, len(bare)-len(fraction)-1)]
	if c.text[point-1] != '.' || !allDigits(whole) || signed && len(whole) > 0 || !allDigits(fraction) {
		c.wrong(first, q.name+" is not a number", string(f), fmt.Sprintf("digits with the point in column %d", point))
		return 0
	}
	return c.ranged(q, first, last, string(text))
}

// assumed reads digits with a decimal point assumed before them.
func (c *columns) assumed(q quantity, first, last int) float64 {
	f := c.field(first, last)
	if f == nil {
		return 0
	}
	d := bytes.TrimLeft(f, " ")
	if len(d) == 0 || !allDigits(d) {
		c.wrong(first, q.name+" is not a number", string(f), "digits without a point")
		return 0
	}
	var text [16]byte
	b := append(text[:0], "0."...)
	for range len(f) - len(d) {
		b = append(b, '0')
	}
	return c.ranged(q, first, last, string(append(b, d...)))
}

// power reads sign, five digits with a point assumed before them, and a power
// of ten of sign and one digit. All blank is 0 where that is allowed.
func (c *columns) power(q quantity, first, last int, optional bool) float64 {
	f := c.field(first, last)
	if f == nil || optional && len(bytes.Trim(f, " ")) == 0 {
		return 0
	}
	sign, mantissa, powerSign, power := f[0], f[1:6], f[6], f[7]
	if !oneOf(sign, " +-") || !allDigits(mantissa) || !oneOf(powerSign, " +-") || power < '0' || power > '9' {
		c.wrong(first, q.name+" is not a number", string(f), `a form like " 12345-6" for 0.12345e-6`)
		return 0
	}
	var text [16]byte
	b := text[:0]
	if sign == '-' {
		b = append(b, '-')
	}
	b = append(b, "0."...)
	b = append(b, mantissa...)
	b = append(b, 'e')
	if powerSign == '-' {
		b = append(b, '-')
	}
	return c.ranged(q, first, last, string(append(b, power)))
}

// ranged converts text already known to be a number and checks its range.
func (c *columns) ranged(q quantity, first, last int, text string) float64 {
	v, err := strconv.ParseFloat(text, 64)
	if err != nil || !q.holds(v) {
		c.wrong(first, q.name+" out of range", string(c.text[first-1:last]), q.want())
	}
	return v + 0 // no negative zero
}

func (c *columns) epoch(first, last int) time.Time {
	f := c.field(first, last)
	if f == nil {
		return time.Time{}
	}
	t, ok := parseTLEEpoch(f)
	if !ok {
		c.wrong(first, "not an epoch", string(f), "YYDDD.DDDDDDDD: year, day of the year from 001")
	}
	return t
}

func allDigits(f []byte) bool {
	for _, b := range f {
		if b < '0' || b > '9' {
			return false
		}
	}
	return true
}

func oneOf(b byte, set string) bool { return strings.IndexByte(set, b) >= 0 }
