package rehearse

import (
	"fmt"
	"math"
	"time"

	"foreaim/track"
	"foreaim/track/aim"
)

// Settings are what is played. Errors are standard deviations of normal
// distributions around 0.
type Settings struct {
	Passes int
	Seed   uint64

	TimeErrorS      float64
	HeadingErrorDeg float64
	MarginDB        float64 // at boresight and 1000 km, against hearing, as believed
	BeamwidthDeg    float64 // between the half-power points, as believed
	AimErrorDeg     float64 // of the hand, an axis and hold
	FadingDB        float64 // of the burst
	Period          time.Duration

	// MarginErrorDB is the standard deviation of the true margin; who aims
	// knows it, as they do those of the other errors.
	MarginErrorDB float64
	// TrueMarginDB, where it isn't 0, stands for the margin's random error; it is
	// added to the margin, and the beamwidth multiplied by
	// TrueBeamwidth, without the one who aims knowing; 0 for none.
	TrueMarginDB  float64
	TrueBeamwidth float64

	PhaseUnknown     bool    // when the bursts come is found out by ear
	FrequencyHz      float64 // of the beacon; 0: not measured
	FrequencyErrorHz float64 // of a measurement
	Strengths        bool    // heard bursts are called weak, good or strong

	// The passes Over of an orbit over a site are played in turn; without an
	// orbit each pass is an invented one, with a peak even between 20° and 85°,
	// over a circle at 525 km.
	Orbit           aim.LateLooker
	Site            track.Site
	Over            []track.Pass
	MinElevationDeg float64 // 5 with an invented orbit
}

// Default returns the settings of a hand-held antenna and a fresh launch.
func Default() Settings {
	return Settings{
		Passes: 400, TimeErrorS: 120, HeadingErrorDeg: 20, MarginDB: 6, BeamwidthDeg: 50,
		AimErrorDeg: 8, FadingDB: 5, Period: 30 * time.Second,
	}
}

// maxPasses bounds what one run may be asked for.
const maxPasses = 1_000_000

// Check names the first setting that is out of range.
func (s Settings) Check() error {
	for _, v := range []struct {
		name            string
		value, low, top float64
	}{
		{"number of passes", float64(s.Passes), 1, maxPasses},
		{"time error", s.TimeErrorS, 0, 1800},
		{"heading error", s.HeadingErrorDeg, 0, 180},
		{"margin", s.MarginDB, -60, 100},
		{"beamwidth", s.BeamwidthDeg, 1, 180},
		{"aim error", s.AimErrorDeg, 0, 90},
		{"fading", s.FadingDB, 0, 40},
		{"margin's error", s.MarginErrorDB, 0, 40},
		{"period in seconds", s.Period.Seconds(), 5, 600},
		{"minimum elevation", s.MinElevationDeg, 0, 60},
		{"frequency", s.FrequencyHz, 0, 1e11},
		{"frequency error", s.FrequencyErrorHz, 0, 1e6},
	} {
		if math.IsNaN(v.value) || v.value < v.low || v.value > v.top {
			return fmt.Errorf("%s %v is outside %v to %v", v.name, v.value, v.low, v.top)
		}
	}
	if s.Orbit != nil && len(s.Over) == 0 {
		return fmt.Errorf("there is an orbit, but no pass to play")
	}
	return nil
}
