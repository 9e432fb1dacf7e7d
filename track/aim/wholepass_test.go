package aim

import (
	"math"
	"testing"
	"time"

	"foreaim/track"
)

// truth is how late the object of a whole pass is, how wrong the operator's north,
// and how far off the boom a burst is still heard.
type truth struct{ lateS, headingDeg, reachDeg float64 }

// whole gives a belief a whole pass of prior, from two minutes before the rise on,
// burst after burst: each is held for as advised, and marked as change makes it of
// what was heard. It returns what is advised after each mark.
func whole(t *testing.T, p Prior, w truth, change func(n int, o Observation) []Observation) []Advice {
	t.Helper()
	b := belief(t, p)
	var all []Advice
	for n := range 27 {
		at := peakTime.Add(time.Duration(30*n-390) * time.Second)
		d := b.Advise(at.Add(-10 * time.Second)).Aim
		look, err := arc{peakTime, 0.062}.LookLate(track.Site{}, at, w.lateS)
		if err != nil {
			t.Fatal(err)
		}
		o := Observation{Time: at.Add(time.Second), Kind: Silent}
		if look.ElevationDeg > 5 && track.SeparationDeg(look.AzimuthDeg, look.ElevationDeg, d.AzimuthDeg+w.headingDeg, d.ElevationDeg) < w.reachDeg {
			o.Kind = Heard
			o.FrequencyHz = track.ReceiveHz(p.FrequencyHz, look.RangeRateKmS)
		}
		for _, o := range change(n, o) {
			b.Observe(o)
		}
		a := b.Advise(at.Add(5 * time.Second))
		check(t, a)
		all = append(all, a)
	}
	return all
}

// A receiver that is off by 2.5 kHz, and a first frequency that was read from
// something else, or from the wrong end of the band: those after it count.
func TestOneWrongFrequencyIsForgiven(t *testing.T) {
	for _, wrongHz := range []float64{0, 8000, 20000, -20000} {
		p := prior()
		p.FrequencyHz = 437e6
		first := true
		all := whole(t, p, truth{-60, 15, 28}, func(n int, o Observation) []Observation {
			if o.Kind == Heard {
				o.FrequencyHz += 2500
				if first {
					o.FrequencyHz += wrongHz
				}
				first = false
			}
			return []Observation{o}
		})
		for n, a := range all {
			e := a.TimeErrorS
			if off := math.Abs(e.Mean + 60); off > 3*e.Sigma+1 {
				t.Errorf("%v Hz off, mark %d: time error %.0f ± %.0f s, is -60", wrongHz, n+1, e.Mean, e.Sigma)
			}
		}
		if last := all[len(all)-1]; last.TimeErrorS.Sigma > 5 || !last.Explains {
			t.Errorf("%v Hz off: at the end %s", wrongHz, last.Words())
		}
	}
}
