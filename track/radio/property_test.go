package radio

import (
	"math"
	"testing"

	"foreaim/track"

	"pgregory.net/rapid"
)

// someStage is a stage with some of its figures known.
func someStage(t *rapid.T, kind Kind) Stage {
	maybe := func(name string, low, high float64) Figure {
		if rapid.Bool().Draw(t, name+" known") {
			return Given(rapid.Float64Range(low, high).Draw(t, name))
		}
		return Figure{}
	}
	s := Stage{Kind: kind, GainDB: rapid.Float64Range(-6, 0).Draw(t, "loss")}
	if s.passive() {
		if kind == Filter {
			low := rapid.Float64Range(0, 60).Draw(t, "stop")
			s.Response = stop{437, Range{0.5, 3}, Range{low, low + 20}}
		}
		return s
	}
	s.GainDB = rapid.Float64Range(0, 30).Draw(t, "gain")
	s.NoiseFigureDB, s.InputIP3DBm = maybe("noise figure", 0.3, 10), maybe("intercept", -40, 30)
	s.InputP1dBDBm, s.InputIP2DBm = maybe("compression", -50, 20), maybe("second intercept", -20, 80)
	if kind == Receiver {
		s.FullScaleDBm, s.PhaseNoiseDBcHz = maybe("full scale", -60, 10), maybe("phase noise", -150, -80)
	}
	return s
}

// Whatever is known and whatever stands around: every range has its low end
// first, nothing is NaN, strong signals never help, and stronger ones harm more.
func TestRangesHold(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := beacon()
		l.FrequencyHz = 437e6
		l.Environment = rapid.SampledFrom([]Environment{"", City, Residential, Rural, QuietRural}).Draw(t, "environment")
		l.Chain.Stages = nil
		for _, kind := range rapid.SliceOfN(rapid.SampledFrom([]Kind{Cable, Filter, Preamplifier, Receiver}), 1, 5).Draw(t, "kinds") {
			l.Chain.Stages = append(l.Chain.Stages, someStage(t, kind))
		}
		if err := l.Check(); err != nil {
			t.Fatal(err)
		}
		var in, louder []Incoming
		for range rapid.IntRange(0, 5).Draw(t, "transmitters") {
			low := rapid.Float64Range(80, 900).Draw(t, "low")
			x := wide("T", low, low+rapid.SampledFrom([]float64{0, 0.0125, 0.2, 8}).Draw(t, "width"), rapid.Float64Range(-120, 10).Draw(t, "level"))
			x.IsotropicDBm.High += rapid.Float64Range(0, 40).Draw(t, "unknown")
			in = append(in, x)
			x.IsotropicDBm = x.IsotropicDBm.Plus(Exactly(3))
			louder = append(louder, x)
		}
		look := track.Look{ElevationDeg: rapid.Float64Range(-5, 90).Draw(t, "elevation"), RangeKm: 1000}
		o, more := NewSurroundings(l, in).At(look, 0), NewSurroundings(l, louder).At(look, 0)
		ranges := map[string]Range{
			"rise": o.NoiseRiseDB, "gain": o.GainLossDB, "products": o.ProductsDBm, "direct": o.DirectDBm, "mixing": o.MixingDBm,
			"margin": o.Level.HearingMarginDB, "margin before": o.Before.HearingMarginDB, "noise": o.Level.NoiseDBm,
		}
		for _, s := range o.Stages {
			ranges[s.Name+" total"], ranges[s.Name+" room"] = s.TotalDBm, s.HeadroomDB
		}
		for _, p := range o.Products {
			ranges[p.Words] = p.LevelDBm
		}
		for name, r := range ranges {
			if math.IsNaN(r.Low) || math.IsNaN(r.High) || r.Low > r.High+1e-9 {
				t.Errorf("%s: %v to %v", name, r.Low, r.High)
			}
		}
		for name, r := range map[string][2]float64{
			"with and without, at worst": {o.Before.HearingMarginDB.Low, o.Level.HearingMarginDB.Low},
			"with and without, at best":  {o.Before.HearingMarginDB.High, o.Level.HearingMarginDB.High},
			"louder, at worst":           {o.Level.HearingMarginDB.Low, more.Level.HearingMarginDB.Low},
			"louder, at best":            {o.Level.HearingMarginDB.High, more.Level.HearingMarginDB.High},
		} {
			if r[1] > r[0]+1e-6 {
				t.Errorf("%s: %v dB becomes %v dB", name, r[0], r[1])
			}
		}
		a := NewSurroundings(l, in).Advise(look, 0)
		if a.Words == "" || (len(a.Remedies) == 0) != (o.NoiseRiseDB.High < harmlessDB) {
			t.Errorf("%q with %d remedies for a rise of %v", a.Words, len(a.Remedies), o.NoiseRiseDB)
		}
	})
}
