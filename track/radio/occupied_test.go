package radio

import (
	"math"
	"math/rand/v2"
	"testing"

	"foreaim/track/radio/internal/invent"
)

// sweepOf takes a made-up spectrum.
func sweepOf(s invent.Spectrum) Sweep {
	var sweep Sweep
	for i, level := range s.LevelsDB {
		sweep.Points = append(sweep.Points, Point{s.FirstMHz + s.StepMHz*float64(i), level})
	}
	return sweep
}

// In 1,000 made-up spectra (package invent, which knows nothing of how they are
// judged) every band is found, nothing else is, and both edges are right to one
// point, in 99 of 100 at least; spurs are no bands, and are listed as lines.
func TestOccupiedBands(t *testing.T) {
	r := rand.New(rand.NewPCG(41, 7))
	good, bands, spurs, listed := 0, 0, 0, 0
	for n := range 1000 {
		s := invent.NewSpectrum(r)
		got := sweepOf(s).Occupied()
		right := len(got.Bands) == len(s.Bands)
		for i := range s.Bands {
			if !right {
				break
			}
			low, high := got.Bands[i].LowMHz-s.Bands[i].LowMHz, got.Bands[i].HighMHz-s.Bands[i].HighMHz
			right = math.Abs(low) <= s.StepMHz && math.Abs(high) <= s.StepMHz
		}
		if right {
			good++
		} else {
			t.Logf("draw %d: steps of %.3f MHz\n want %.3f\n got  %+v", n, s.StepMHz, s.Bands, got.Bands)
		}
		bands += len(s.Bands)
		for _, mhz := range s.SpursMHz {
			spurs++
			for _, l := range got.Lines {
				if math.Abs(l.MHz-mhz) < 1.1*s.StepMHz {
					listed++
					break
				}
			}
		}
	}
	t.Logf("%d of 1000 right, %d bands; %d of %d spurs listed", good, bands, listed, spurs)
	if good < 990 || bands < 1000 {
		t.Errorf("%d of 1000 right, with %d bands", good, bands)
	}
	if float64(listed) < 0.95*float64(spurs) || spurs < 1000 {
		t.Errorf("%d of %d spurs listed", listed, spurs)
	}
}
