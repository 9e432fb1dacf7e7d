package north

import (
	"fmt"
	"math"

	"foreaim/track"
)

// Zone tells how far a compass can be trusted, by the horizontal field.
type Zone int

// The zones of the model's publishers: below 6000 nT a compass may be degraded
// (caution), below 2000 nT it is not to be used (blackout).
const (
	Normal Zone = iota
	Caution
	Blackout
)

// String returns the zone as one lower-case word.
func (z Zone) String() string {
	switch z {
	case Normal:
		return "normal"
	case Caution:
		return "caution"
	case Blackout:
		return "blackout"
	}
	return fmt.Sprintf("Zone(%d)", int(z))
}

func zoneOf(horizontalNT float64) Zone {
	switch {
	case horizontalNT < 2000:
		return Blackout
	case horizontalNT < 6000:
		return Caution
	}
	return Normal
}

// declinationUncertaintyDeg is the published error model of WMM2025 (technical
// report, section 3.4): one standard deviation, a global average at the
// surface. An azimuth can't be worse than opposite, so it stops at 180.
func declinationUncertaintyDeg(horizontalNT float64) float64 {
	return math.Min(180, math.Hypot(0.26, 5417/horizontalNT))
}

// compassErrorDeg is a compass's own usual error in a zone.
func compassErrorDeg(z Zone) float64 {
	if z == Caution {
		return CompassErrorHighDeg
	}
	return CompassErrorLowDeg
}

// MagneticDeg turns a true azimuth into a magnetic one, in [0, 360).
func MagneticDeg(trueDeg, declinationDeg float64) float64 {
	return track.Wrap360(trueDeg - declinationDeg)
}

// TrueDeg turns a magnetic azimuth into a true one, in [0, 360).
func TrueDeg(magneticDeg, declinationDeg float64) float64 {
	return track.Wrap360(magneticDeg + declinationDeg)
}
