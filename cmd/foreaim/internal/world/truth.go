package world

import (
	"math"
	"time"

	"foreaim/track"
	"foreaim/track/beacon"
	"foreaim/track/terrain"
)

// How the invented beacons come in, in dB above what an ear needs. The numbers
// are made so that a pass has loud, weak and lost bursts.
const (
	marginAt1000Km = 14.0
	noiseDB        = 10.0 // by which the floor is up for a part of the first pass
	weakBelowDB    = 4.0
	strongAboveDB  = 9.0
	// lingers is how long the ear's message stands after a burst, to be read.
	lingers = 2500 * time.Millisecond
	// answerEvery is how long each of the noise's properties is told.
	answerEvery = 4 * time.Second
)

// fades is what the tumbling of a satellite takes from its bursts, in turn, in
// dB.
var fades = [...]float64{0, 2, 7, 1, 4}

// MarginDB is what a link budget has of them, at 1000 km: the mean, as nobody knows
// how they tumble.
const MarginDB = 11.0

// noisy is when the floor is up, after the start.
var noisy = [2]time.Duration{4*time.Minute + 20*time.Second, 5*time.Minute + 50*time.Second}

// skyline is what hides the sky around the meadow: a farm in the south-west, a
// wood in the north-west, and one tall ash where the first pass goes down.
func skyline() (terrain.Skyline, error) {
	return terrain.NewSkyline([]terrain.Point{
		{AzimuthDeg: 0, ElevationDeg: 3}, {AzimuthDeg: 40, ElevationDeg: 4}, {AzimuthDeg: 70, ElevationDeg: 2},
		{AzimuthDeg: 100, ElevationDeg: 1}, {AzimuthDeg: 125, ElevationDeg: 0.5}, {AzimuthDeg: 140}, {AzimuthDeg: 175},
		{AzimuthDeg: 200, ElevationDeg: 1}, {AzimuthDeg: 206, ElevationDeg: 11}, {AzimuthDeg: 232, ElevationDeg: 11},
		{AzimuthDeg: 236, ElevationDeg: 2}, {AzimuthDeg: 280, ElevationDeg: 3}, {AzimuthDeg: 302, ElevationDeg: 6},
		{AzimuthDeg: 318, ElevationDeg: 6}, {AzimuthDeg: 325, ElevationDeg: 2}, {AzimuthDeg: 345, ElevationDeg: 1},
		{AzimuthDeg: 351.8, ElevationDeg: 2}, {AzimuthDeg: 352.3, ElevationDeg: 22}, {AzimuthDeg: 356, ElevationDeg: 22},
		{AzimuthDeg: 357.2, ElevationDeg: 4},
	}...)
}

// Burst is what really happens at one burst.
type Burst struct {
	beacon.Burst
	Look     track.Look // at its start, where the satellite really is
	Hidden   bool       // behind the skyline, or below the horizon, for all of it
	MarginDB float64    // above what an ear needs, with the antenna on it
}

// Audible tells whether somebody hears it who holds the antenna right.
func (b Burst) Audible() bool { return !b.Hidden && b.MarginDB > 0 }

// strength says how it sounds.
func (b Burst) strength() string {
	switch {
	case b.MarginDB < weakBelowDB:
		return "weak"
	case b.MarginDB > strongAboveDB:
		return "strong"
	}
	return "good"
}

// NextBurst returns the first burst of a satellite that starts at a true time or
// after it.
func (w *World) NextBurst(satellite int, at time.Time) (Burst, error) {
	s := w.Satellites[satellite]
	b := Burst{Burst: s.Schedule.Next(at)}
	end := b.Time.Add(s.Schedule.Length)
	last, err := s.Orbit.LookLate(w.Site, end, s.LateS)
	if err != nil {
		return b, err
	}
	if b.Look, err = s.Orbit.LookLate(w.Site, b.Time, s.LateS); err != nil {
		return b, err
	}
	b.Hidden = !w.sees(b.Look) && !w.sees(last)
	b.MarginDB = marginAt1000Km - w.weakerDB - 20*math.Log10(b.Look.RangeKm/1000) - fades[(b.Number+w.tumble)%len(fades)]
	switch {
	case satellite == Drowned:
		b.MarginDB -= drownedDB
	case w.NoiseUp(b.Time):
		b.MarginDB -= noiseDB
	}
	return b, nil
}

// sees tells whether nothing hides a direction.
func (w *World) sees(l track.Look) bool {
	return l.ElevationDeg > math.Max(0, w.Skyline.ElevationDeg(l.AzimuthDeg))
}

// NoiseUp tells whether the receiver's noise floor is up.
func (w *World) NoiseUp(at time.Time) bool {
	since := at.Sub(w.Start)
	return since >= noisy[0] && since < noisy[1] || w.drowns(at)
}

// noise says what the receiver's noise does; empty while it is as usual.
func (w *World) noise(at time.Time) string {
	if !w.NoiseUp(at) {
		return ""
	}
	answers := [...]string{"noise is up", "turned away it drops", "weakened it drops alike"}
	if w.drowns(at) {
		answers = [...]string{"noise is up", "turned away it stays", "weakened it drops far more"}
	}
	return answers[int(at.Sub(w.Start)/answerEvery)%len(answers)]
}
