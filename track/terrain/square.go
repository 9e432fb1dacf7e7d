package terrain

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"
)

// square is one degree of latitude by one of longitude: a tile. Its name is that
// of its south-west corner.
type square struct{ south, west int } // -90 to 89, -180 to 179

// squareAt returns the square that a place is in; the north pole is in the
// northernmost.
func squareAt(latitudeDeg, longitudeDeg float64) square {
	s := square{int(math.Floor(latitudeDeg)), int(math.Floor(wrap180(longitudeDeg)))}
	s.south = min(s.south, 89)
	return s
}

// wrap180 returns an angle in [-180, 180).
func wrap180(deg float64) float64 {
	if deg >= -180 && deg < 180 {
		return deg
	}
	if deg = math.Mod(deg+180, 360); deg < 0 {
		deg += 360
	}
	return math.Mod(deg, 360) - 180 // a hair under 0 has become 360
}

// index numbers all squares of the Earth.
func (s square) index() int { return (s.south+90)*360 + s.west + 180 }

const squares = 180 * 360

// beside returns the square that many degrees north and east.
func (s square) beside(north, east int) (square, bool) {
	s.south += north
	s.west = (s.west+east+180+360)%360 - 180
	return s, s.south >= -90 && s.south <= 89
}

// String returns the name as in N58E014.
func (s square) String() string {
	ns, ew := "N", "E"
	if s.south < 0 {
		ns = "S"
	}
	if s.west < 0 {
		ew = "W"
	}
	return fmt.Sprintf("%s%02d%s%03d", ns, abs(s.south), ew, abs(s.west))
}

func abs(i int) int { return max(i, -i) }

// squareName finds a square in the name of a file: N58E014, n58_e014,
// N58_00_E014_00.
var squareName = regexp.MustCompile(`(?i)(?:^|[^a-z0-9])([ns])(\d{2})(?:_00)?_?([ew])(\d{3})(?:_00)?(?:[^0-9]|$)`)

// endings are those of the files that are read.
var endings = []string{".hgt", ".hgt.zip", ".tif", ".tiff", ".zip"}

// squareOf returns the square that a file's name tells, and whether it is that of
// a tile at all.
func squareOf(name string) (square, bool) {
	lower := strings.ToLower(name)
	known := false
	for _, e := range endings {
		known = known || strings.HasSuffix(lower, e)
	}
	m := squareName.FindStringSubmatch(name)
	if !known || m == nil {
		return square{}, false
	}
	south, _ := strconv.Atoi(m[2]) // digits only
	west, _ := strconv.Atoi(m[4])
	if strings.EqualFold(m[1], "s") {
		south = -south
	}
	if strings.EqualFold(m[3], "w") {
		west = -west
	}
	s := square{south, west}
	return s, south >= -90 && south <= 89 && west >= -180 && west <= 179
}
