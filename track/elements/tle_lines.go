package elements

import (
	"bytes"
	"fmt"
)

// parseLine1 reads line 1. Columns: T. S. Kelso, "NORAD Two-Line Element Set
// Format". Classification, designator, both derivatives, ephemeris type and
// element number may be blank, as in set 11801 of AIAA 2006-6753.
func (s *Set) parseLine1(c *columns) {
	c.blanks(2)
	s.CatalogueNumber = c.number(3, 7)
	s.Classification = c.classification(8)
	c.blanks(9)
	s.Designator = c.designator(10, 17)
	c.blanks(18)
	s.Epoch = c.epoch(19, 32)
	c.blanks(33)
	s.MeanMotionDot = c.decimal(motionDot, 34, 35, 43, true)
	c.blanks(44)
	s.MeanMotionDDot = c.power(motionDDot, 45, 52, true)
	c.blanks(53)
	s.BStar = c.power(drag, 54, 61, false)
	c.blanks(62)
	c.ephemerisType(63)
	c.blanks(64)
	s.ElementNumber = c.integer("element number", 65, 68)
}

// parseLine2 reads line 2 into a set that has its line 1; number is that
// line's text for the object, empty when it is damaged. The revolution number
// may be blank.
func (s *Set) parseLine2(c *columns, number string) {
	c.blanks(2)
	c.number(3, 7)
	if f := c.field(3, 7); f != nil && number != "" && string(f) != number {
		c.wrong(3, "line 2 is of another object than line 1", string(f), number)
	}
	c.blanks(8)
	s.InclinationDeg = c.decimal(inclination, 9, 12, 16, false)
	c.blanks(17)
	s.NodeDeg = turn(c.decimal(node, 18, 21, 25, false))
	c.blanks(26)
	s.Eccentricity = c.assumed(eccentricity, 27, 33)
	c.blanks(34)
	s.PerigeeDeg = turn(c.decimal(perigee, 35, 38, 42, false))
	c.blanks(43)
	s.AnomalyDeg = turn(c.decimal(anomaly, 44, 47, 51, false))
	c.blanks(52)
	s.MeanMotionRevPerDay = c.decimal(meanMotion, 53, 55, 63, false)
	s.RevolutionNumber = c.integer("revolution number", 64, 68)
}

func (c *columns) classification(column int) byte {
	f := c.field(column, column)
	if f == nil || f[0] == ' ' {
		return 0
	}
	if !oneOf(f[0], "UCS") {
		c.wrong(column, "not a classification", string(f), "U, C, S or a blank")
	}
	return f[0]
}

// designator turns YYNNNPPP into YYYY-NNNPPP.
func (c *columns) designator(first, last int) string {
	f := bytes.TrimRight(c.field(first, last), " ")
	if len(f) == 0 {
		return ""
	}
	if len(f) >= 5 && allDigits(f[:5]) && allCapitals(f[5:]) {
		two, _ := digits(f[:2])
		return fmt.Sprintf("%d-%s", fullYear(two), f[2:])
	}
	c.wrong(first, "not an international designator", string(f), "year, launch number and piece, such as 26014B")
	return ""
}

// ephemerisType accepts what SGP4 sets carry.
func (c *columns) ephemerisType(column int) {
	f := c.field(column, column)
	if f == nil || oneOf(f[0], " 02") {
		return
	}
	what := "ephemeris type is not one of SGP4"
	if f[0] == '4' {
		what = "ephemeris type 4, SGP4-XP: its elements do not fit SGP4"
	}
	c.wrong(column, what, string(f), "0, 2 or a blank")
	c.fault.Advice = adviceSGP4
}

const adviceSGP4 = "fetch this object's SGP4 elements"

func allCapitals(f []byte) bool {
	for _, b := range f {
		if b < 'A' || b > 'Z' {
			return false
		}
	}
	return true
}
