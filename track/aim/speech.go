package aim

import (
	"fmt"
	"math"
	"strings"
	"time"

	"foreaim/track"
)

// Facing is the true azimuth that the operator takes as straight ahead, in
// degrees clockwise from north.
type Facing struct {
	Known      bool
	AzimuthDeg float64
}

// Speech says the step to an ear: "right twenty, half a fist up". It rounds as
// Words does and puts the side first, so that the hand can begin before the
// number is out.
func (s Step) Speech(fistDeg float64) string {
	var parts []string
	switch turn := RoundTurn(s.TurnDeg); {
	case turn > 0:
		parts = append(parts, "right "+Spell(int(turn)))
	case turn < 0:
		parts = append(parts, "left "+Spell(int(-turn)))
	}
	if Fists(s.UpDeg, fistDeg) != "" {
		parts = append(parts, HeightStepWords(s.UpDeg, fistDeg))
	}
	if len(parts) == 0 {
		return "stay"
	}
	return strings.Join(parts, ", ")
}

// StepSpeech says the way from one hold to the next. Near the zenith left and
// right mean nothing: there it says up or down, and where the boom leans.
func StepSpeech(from, to Direction, fistDeg float64) string {
	up := HeightStepWords(to.ElevationDeg-from.ElevationDeg, fistDeg)
	switch {
	case to.Overhead():
		return up + " to " + to.OverheadWords()
	case from.Overhead():
		return up + " towards " + CompassWord(to.AzimuthDeg)
	default:
		return from.StepTo(to).Speech(fistDeg)
	}
}

// PlaceSpeech says a direction to somebody who has no hold to start from:
// "azimuth one four three true, two fists left of ahead, one fist up".
func (d Direction) PlaceSpeech(facing Facing, fistDeg float64) string {
	if d.Overhead() {
		return d.OverheadWords()
	}
	azimuth := "azimuth " + spellAzimuth(d.AzimuthDeg) + " true, "
	if !facing.Known {
		return azimuth + CompassWord(d.AzimuthDeg) + ", " + HeightWords(d.ElevationDeg, fistDeg)
	}
	turn := track.TurnDeg(facing.AzimuthDeg, d.AzimuthDeg)
	return azimuth + AheadWords(turn, fistDeg) + ", " + HeightWords(d.ElevationDeg, fistDeg)
}

// AheadWords says a turn in degrees from straight ahead (positive: right) in
// fists: "three fists left of ahead".
func AheadWords(turnDeg, fistDeg float64) string {
	along := Fists(turnDeg, fistDeg)
	switch {
	case along == "":
		return "straight ahead"
	case math.Abs(turnDeg) > 180-fistDeg/2:
		return "straight behind you"
	case turnDeg < 0:
		return along + " left of ahead"
	default:
		return along + " right of ahead"
	}
}

// HeightWords says an elevation in degrees in fists: "two fists up".
func HeightWords(elevationDeg, fistDeg float64) string {
	switch up := Fists(elevationDeg, fistDeg); {
	case up == "":
		return "on the horizon"
	case elevationDeg < 0:
		return up + " below the horizon"
	default:
		return up + " up"
	}
}

// HeightStepWords says a step in elevation in degrees (negative: down) in
// fists, however small: "half a fist down", "a little up".
func HeightStepWords(deg, fistDeg float64) string {
	way := " up"
	if deg < 0 {
		way = " down"
	}
	if f := Fists(deg, fistDeg); f != "" {
		return f + way
	}
	return "a little" + way
}

// waitSpeech says a time to go: "eight", "two minutes ten", "twelve minutes".
// As on the screen, whole seconds are cut upwards; from 100 s on tens of
// seconds, and from ten minutes on minutes, are cut downwards.
func waitSpeech(d time.Duration) string {
	seconds := max(0, int(math.Ceil(d.Seconds())))
	plural := func(n int, unit string) string {
		if n == 1 {
			return "one " + unit
		}
		return Spell(n) + " " + unit + "s"
	}
	switch tens := seconds % 60 / 10 * 10; {
	case seconds <= 99:
		return Spell(seconds)
	case seconds < 600 && tens > 0:
		return plural(seconds/60, "minute") + " " + Spell(tens)
	case seconds < 6000:
		return plural(seconds/60, "minute")
	default:
		return plural(seconds/3600, "hour")
	}
}

// spellAzimuth says an azimuth in whole degrees digit by digit, as bearings are
// spoken (common practice, no source): "zero four five".
func spellAzimuth(deg float64) string {
	whole := int(math.Round(track.Wrap360(deg))) % 360
	digits := make([]string, 0, 3)
	for _, r := range fmt.Sprintf("%03d", whole) {
		digits = append(digits, Spell(int(r-'0')))
	}
	return strings.Join(digits, " ")
}
