// Package north finds true north. It holds the Earth's magnetic field
// (WMM2025), from which magnetic declination comes.
//
// Declination is positive to the east: true azimuth = magnetic azimuth +
// declination. North, east and down are those of the WGS-84 ellipsoid at the
// point; heights are above it.
package north

import "math"

// Model is the name of the magnetic model that At uses.
const Model = "WMM2025"

// The error of a hand-held compass itself, in degrees: what iron nearby, tilt
// and reading add to the model's error. Common practice, no source.
const (
	CompassErrorLowDeg  = 5.0
	CompassErrorHighDeg = 10.0
)

// Field is the Earth's magnetic field at a point and time, with its change per
// year. The model holds the core's field only: rocks, buildings, cables and
// magnetic storms are in none of these numbers.
type Field struct {
	NorthNT, EastNT, DownNT float64 // X, Y, Z
	HorizontalNT, TotalNT   float64 // H, F
	DeclinationDeg          float64 // of horizontal north from true north, east positive, (-180, 180]
	InclinationDeg          float64 // of the field below the horizontal, -90 to 90

	NorthNTPerYear, EastNTPerYear, DownNTPerYear float64
	HorizontalNTPerYear, TotalNTPerYear          float64
	DeclinationDegPerYear, InclinationDegPerYear float64

	// DeclinationUncertaintyDeg is one standard deviation of the model's error
	// in declination, at most 180. It is the model's error only: a hand-held
	// compass adds CompassErrorLowDeg to CompassErrorHighDeg.
	DeclinationUncertaintyDeg float64

	Zone Zone
}

// newField works out every element from the vector (north, east, down, nT) and
// its change (nT/year). Where there is no horizontal field, at a magnetic pole,
// declination means nothing: it and the changes of the angles and of H are
// given as 0, its uncertainty as 180.
func newField(v, dot [3]float64) Field {
	x, y, z := v[0], v[1], v[2]
	h := math.Hypot(x, y)
	f := math.Hypot(h, z)
	field := Field{
		NorthNT: x, EastNT: y, DownNT: z, HorizontalNT: h, TotalNT: f,
		DeclinationDeg: math.Atan2(y, x) / rad,
		InclinationDeg: math.Atan2(z, h) / rad,
		NorthNTPerYear: dot[0], EastNTPerYear: dot[1], DownNTPerYear: dot[2],
		DeclinationUncertaintyDeg: declinationUncertaintyDeg(h),
		Zone:                      zoneOf(h),
	}
	if f > 0 {
		field.TotalNTPerYear = (x*dot[0] + y*dot[1] + z*dot[2]) / f
	}
	if h > 0 {
		field.HorizontalNTPerYear = (x*dot[0] + y*dot[1]) / h
		field.DeclinationDegPerYear = (x*dot[1] - y*dot[0]) / (h * h) / rad
		field.InclinationDegPerYear = (h*dot[2] - z*field.HorizontalNTPerYear) / (f * f) / rad
	}
	return field
}

const rad = math.Pi / 180
