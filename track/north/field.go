// Package north finds true north: magnetic declination (WMM2025) and, later,
// sun, moon, landmarks and the facing.
package north
