package aim

import (
	"fmt"
	"math"
	"strings"

	"foreaim/track"
)

// FistDeg is a fist at arm's length in degrees of arc, unless the user has
// calibrated their own (common practice, no source).
const FistDeg = 10

var numbers = [...]string{"", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine",
	"ten", "eleven", "twelve", "thirteen", "fourteen", "fifteen", "sixteen", "seventeen", "eighteen"}

// Fists says an angle in fists of fistDeg degrees, to the nearest half: "half a
// fist", "two and a half fists"; "" for less than a quarter fist. The sign of
// the angle is ignored.
func Fists(deg, fistDeg float64) string {
	halves := int(math.Round(math.Abs(deg) / fistDeg * 2))
	whole, half := halves/2, halves%2 == 1
	count := fmt.Sprint(whole)
	if whole < len(numbers) {
		count = numbers[whole]
	}
	switch {
	case halves == 0:
		return ""
	case halves == 1:
		return "half a fist"
	case half && whole == 1:
		return "one and a half fists"
	case half:
		return count + " and a half fists"
	case whole == 1:
		return "one fist"
	default:
		return count + " fists"
	}
}

// Words says the step to a person: "20° right, half a fist up". A part that is
// too small for a hand to follow is left out; "stay" when both are.
func (s Step) Words(fistDeg float64) string {
	var parts []string
	if turn := RoundTurn(s.TurnDeg); turn != 0 {
		side := "right"
		if turn < 0 {
			side = "left"
		}
		parts = append(parts, fmt.Sprintf("%.0f° %s", math.Abs(turn), side))
	}
	if up := Fists(s.UpDeg, fistDeg); up != "" {
		way := "up"
		if s.UpDeg < 0 {
			way = "down"
		}
		parts = append(parts, up+" "+way)
	}
	if len(parts) == 0 {
		return "stay"
	}
	return strings.Join(parts, ", ")
}

// RoundTurn rounds a turn to the 5° that a hand can follow; under 2.5° is 0.
func RoundTurn(deg float64) float64 { return math.Round(deg/5) * 5 }

var points = [...]string{"north", "north-east", "east", "south-east", "south", "south-west", "west", "north-west"}

// CompassWord says a true azimuth as one of eight points: "north-east".
func CompassWord(azimuthDeg float64) string {
	return points[int(math.Round(track.Wrap360(azimuthDeg)/45))%len(points)]
}

// OverheadWords describes a direction near the zenith, where turning means
// little: "straight up, top of the boom towards north-east".
func (d Direction) OverheadWords() string {
	if d.ElevationDeg > 89 {
		return "straight up"
	}
	return "straight up, top of the boom towards " + CompassWord(d.AzimuthDeg)
}
