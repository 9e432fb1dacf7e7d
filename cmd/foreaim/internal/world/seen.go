package world

import (
	"math"

	"foreaim/track/radio"
)

// Seen is what the operator read on the receiver while a satellite passed: of the
// drowned one the two carriers and what stands on its channel, each with and
// without an attenuator of 10 dB.
func Seen(satellite int) radio.Seen {
	if satellite != Drowned {
		return radio.Seen{}
	}
	padded := radio.Setting{AttenuatorDB: 10}
	return radio.Seen{Absolute: true, Peaks: []radio.Peak{
		{LowMHz: 435.62, HighMHz: 435.66, Level: -91},
		{LowMHz: 450.85, HighMHz: 450.865, Level: -33},
		{LowMHz: 466.068, HighMHz: 466.082, Level: -34},
		{Setting: padded, LowMHz: 435.62, HighMHz: 435.66, Level: -120.5},
		{Setting: padded, LowMHz: 450.85, HighMHz: 450.865, Level: -43},
		{Setting: padded, LowMHz: 466.068, HighMHz: 466.082, Level: -44},
	}}
}

// GroundM is how high the ground is above mean sea level around the meadow: gentle
// waves, and the hill that the mast stands on.
func GroundM(latitudeDeg, longitudeDeg float64) float64 {
	const (
		meadowM   = 99.5
		hillM     = 50
		hillKm    = 0.5 // where it has fallen to a third
		kmPerDeg  = 111.2
		waveM     = 4
		waveKm    = 0.9
		radianDeg = math.Pi / 180
	)
	mast := Transmitters()[0]
	north := (latitudeDeg - mast.LatitudeDeg) * kmPerDeg
	east := (longitudeDeg - mast.LongitudeDeg) * kmPerDeg * math.Cos(mast.LatitudeDeg*radianDeg)
	away := (north*north + east*east) / (hillKm * hillKm)
	return meadowM + hillM*math.Exp(-away) + waveM*math.Sin(north/waveKm*2*math.Pi)*math.Cos(east/waveKm)
}
