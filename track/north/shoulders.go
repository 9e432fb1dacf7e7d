package north

import (
	"errors"
	"fmt"
	"math"

	"foreaim/track"
)

// Turn is one turn of the antenna through a steady signal: the two shoulders
// where it falls off by the same amount. Both are read on one scale, degrees
// clockwise: from straight ahead, or of a compass or a turntable.
type Turn struct {
	LeftDeg, RightDeg float64
}

// Middle is what turns through a signal say of where it comes from.
type Middle struct {
	Deg      float64 // on the scale of the turns, [0, 360)
	SigmaDeg float64 // standard uncertainty
	WidthDeg float64 // between the shoulders, mean
	Turns    int
	// ApartDeg is how far the middles of two turns are apart at most. More than
	// half the width hints at a reflection; see Scattered.
	ApartDeg float64
}

// What is known of shoulders before any turn is repeated, as shares of the
// distance between them. Common practice, no source.
const (
	shoulderShare   = 0.10 // how well one middle is found
	lopsidedShare   = 0.05 // of the pattern and the ground: repeating doesn't help
	shoulderLeast   = 2.0  // degrees: a hand can't mark better
	shoulderTurns   = 2.0  // how many turns that knowledge is worth
	narrowestWidth  = 2.0  // degrees
	scatteredShare  = 0.5
	widestShoulders = 180.0
)

// ErrShoulders: no main lobe has these shoulders; errors.Is.
var ErrShoulders = errors.New("these shoulders make no sense")

// MiddleOf returns the direction of the signal: the middle between the
// shoulders, of all turns together. Its uncertainty comes from how well middles
// repeat and from how far apart the shoulders are. Shoulders as wide as half a
// circle or wider, or nearly in one place, are refused.
func MiddleOf(turns ...Turn) (Middle, error) {
	if len(turns) == 0 {
		return Middle{}, fmt.Errorf("%w: none marked yet", ErrShoulders)
	}
	var m Middle
	m.Turns = len(turns)
	middles := make([]float64, len(turns))
	for i, t := range turns {
		if !finite(t.LeftDeg) || !finite(t.RightDeg) {
			return Middle{}, fmt.Errorf("%w: turn %d: %v and %v are not both numbers", ErrShoulders, i+1, t.LeftDeg, t.RightDeg)
		}
		width := track.Wrap360(t.RightDeg - t.LeftDeg)
		switch {
		case width < narrowestWidth || width > 360-narrowestWidth:
			return Middle{}, fmt.Errorf("%w: turn %d: both are at %.0f°; mark where the signal falls off on each side", ErrShoulders, i+1, t.LeftDeg)
		case width >= widestShoulders:
			return Middle{}, fmt.Errorf("%w: turn %d: the right one is %.0f° clockwise of the left one; are they the wrong way round?", ErrShoulders, i+1, width)
		}
		middles[i] = track.Wrap360(t.LeftDeg + width/2)
		m.WidthDeg += width / float64(len(turns))
	}
	mean, scatter := 0.0, 0.0
	for _, d := range middles {
		mean += track.TurnDeg(middles[0], d) / float64(len(middles))
		for _, e := range middles {
			m.ApartDeg = math.Max(m.ApartDeg, math.Abs(track.TurnDeg(d, e)))
		}
	}
	m.Deg = track.Wrap360(middles[0] + mean)
	for _, d := range middles {
		off := track.TurnDeg(m.Deg, d)
		scatter += off * off
	}
	n := float64(len(turns))
	one := math.Max(shoulderLeast, shoulderShare*m.WidthDeg)
	random := (shoulderTurns*one*one + scatter) / (shoulderTurns + n - 1) / n
	m.SigmaDeg = math.Min(unknownDeg, math.Hypot(math.Sqrt(random), lopsidedShare*m.WidthDeg))
	return m, nil
}

// Scattered says that the turns disagree so much that one of them may have
// followed a reflection.
func (m Middle) Scattered() bool { return m.ApartDeg > scatteredShare*m.WidthDeg }

func finite(v float64) bool { return !math.IsNaN(v) && !math.IsInf(v, 0) }
