// Package track tells where things are and when: it wraps the SGP4 library and
// gives look angles, ground points, light and shadow, Doppler and passes.
//
// Frames: SGP4 (WGS-72 constants) gives TEME; it is turned to the Earth by the
// 1982 Greenwich mean sidereal time, polar motion ignored and UT1 taken as UTC.
// That costs a low orbit under 0.01° while |UT1−UTC| < 0.15 s and 0.06° at the
// permitted 0.9 s. Sites are on the WGS-84 ellipsoid. Elevation is geometric,
// above the plane tangent to the ellipsoid, without refraction.
package track
