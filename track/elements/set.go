// Package elements reads and writes mean orbital elements: two- and three-line
// element sets and CCSDS orbit mean-elements messages (OMM, CCSDS 502.0-B-3) in
// JSON, XML, CSV and KVN.
//
// It parses and checks text, chooses one object of many, and says how old a
// set is. It propagates nothing: package track does.
package elements

import "time"

// Set is one mean-element set of one object, for SGP4: Kozai mean elements in
// TEME of epoch, as a two-line set or an OMM gives them. Angles are degrees,
// mean motion is revolutions per day (Kozai), drag is SGP4's B* in 1/Earth
// radii. The zero Set is not valid. Sets can be compared with ==.
type Set struct {
	Name            string // at most 64 characters, none of them control characters; may be empty
	CatalogueNumber int    // 1 to 999999999; 0 when the message carries none
	Designator      string // international designator as "2026-014B", at most 20 characters; may be empty
	Classification  byte   // 'U', 'C', 'S'; 0 when not given

	Epoch time.Time // UTC

	MeanMotionRevPerDay float64
	Eccentricity        float64
	InclinationDeg      float64
	NodeDeg             float64 // right ascension of the ascending node
	PerigeeDeg          float64 // argument of perigee
	AnomalyDeg          float64 // mean anomaly
	BStar               float64 // 1/Earth radii

	// The rest is carried along; SGP4 does not use it.
	MeanMotionDot    float64 // rev/day², the printed field: half the derivative
	MeanMotionDDot   float64 // rev/day³, the printed field: a sixth of it
	ElementNumber    int
	RevolutionNumber int
	Rest             Rest // what an OMM says beyond these; empty from a TLE

	Format Format
	File   string // where it was read, for messages; may be empty
	Line   int    // first line of the set in File, counted from 1
}

// Format names the encoding a set was read from.
type Format string

// The encodings. Kinds are found from the content, never from a file's name.
const (
	TLE  Format = "tle"
	JSON Format = "omm-json"
	XML  Format = "omm-xml"
	CSV  Format = "omm-csv"
	KVN  Format = "omm-kvn"
)

// Age returns how old the set is at t; negative before its epoch.
func (s Set) Age(t time.Time) time.Duration { return t.Sub(s.Epoch) }
