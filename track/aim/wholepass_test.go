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

// Where burst times are unknown and only what was heard is marked, the bursts in
// between were missed. That each row of hits and misses alone is unlikely is no
// surprise, nor is one false mark.
func TestBurstsMissedBetweenMarksAreNoSurprise(t *testing.T) {
	for _, falseMark := range []bool{false, true} {
		p := prior()
		p.Schedule.First = time.Time{}
		p.Objects[0].TimeSigmaS, p.HeadingSigmaDeg, p.MarginDB, p.FadingDB = 10, 5, 2, 8
		all := whole(t, p, truth{5, 5, 40}, func(n int, o Observation) []Observation {
			switch {
			case falseMark && n == 6:
				return []Observation{{Time: o.Time.Add(13 * time.Second), Kind: Heard}}
			case o.Kind == Heard && n%2 == 0:
				return []Observation{o}
			}
			return nil
		})
		for n, a := range all {
			if !a.Explains {
				t.Errorf("false mark %v, burst %d: %s", falseMark, n+1, a.Words())
			}
		}
		if a := all[len(all)-1]; !a.PhaseKnown && !a.Next.IsZero() {
			t.Errorf("false mark %v: doesn't know when bursts come", falseMark)
		}
	}
}

// In whatever order they are told, the same marks say the same.
func TestOrderOfTellingDoesNotMatter(t *testing.T) {
	for _, known := range []bool{true, false} {
		p := prior()
		p.Objects[0].TimeSigmaS = 20
		if !known {
			p.Schedule.First = time.Time{}
		}
		at := func(s float64) time.Time { return peakTime.Add(seconds(s)) }
		d := &Direction{90, 40}
		marks := []Observation{
			{Time: at(-119), Kind: Silent, Held: d}, {Time: at(-100), Kind: NoiseUp}, {Time: at(-89), Kind: Silent, Held: d},
			{Time: at(-70), Kind: NoiseNormal}, {Time: at(-29), Kind: Heard, Held: d, Strength: Weak}, {Time: at(31), Kind: Silent, Held: d},
		}
		inOrder, other := belief(t, p), belief(t, p)
		for _, o := range marks {
			inOrder.Observe(o)
		}
		for _, i := range []int{4, 2, 0, 5, 1, 3} {
			other.Observe(marks[i])
		}
		x, y := inOrder.estimates(), other.estimates()
		if math.Abs(x.TimeErrorS.Mean-y.TimeErrorS.Mean) > 0.5 || math.Abs(x.HeadingErrorDeg.Mean-y.HeadingErrorDeg.Mean) > 0.5 || x.Explains != y.Explains {
			t.Errorf("phase known %v: in order %s, else %s", known, x.Words(), y.Words())
		}
	}
}

// What was advised about the twist stays, however much a heard burst tells about
// those before it.
func TestHeardBurstAsksForNoTwist(t *testing.T) {
	p := prior()
	p.TwistUnknown = true
	turns := 0
	b := belief(t, p)
	for n := range 18 {
		at := peakTime.Add(time.Duration(30*n-270) * time.Second)
		turns = b.Advise(at.Add(-time.Second)).QuarterTurns
		kind := Silent
		if turns > 0 {
			kind = Heard
		}
		b.Observe(Observation{Time: at.Add(time.Second), Kind: kind})
		if kind == Heard {
			break
		}
	}
	if after := b.Advise(peakTime).QuarterTurns; turns == 0 || after != turns {
		t.Errorf("%d quarter turns when it was heard, %d after it", turns, after)
	}
}

// What was drawn from two false marks is given up when what follows contradicts it.
func TestTwoFalseMarksAreRecoveredFrom(t *testing.T) {
	all := whole(t, prior(), truth{100, -20, 28}, func(n int, o Observation) []Observation {
		if n == 4 || n == 5 {
			o.Kind = Heard
		}
		return []Observation{o}
	})
	if e := all[len(all)-1].TimeErrorS; math.Abs(e.Mean-100) > 3*e.Sigma || e.Sigma > 40 {
		t.Errorf("time error %.0f ± %.0f s, is 100", e.Mean, e.Sigma)
	}
}

// Three bursts that were missed in noise of unknown height say much less than three
// that were missed in none.
func TestNoiseExcusesMissedBursts(t *testing.T) {
	moved := func(kind Kind) (before, after Advice) {
		b := belief(t, prior())
		for n := range 9 {
			at := peakTime.Add(time.Duration(30*n-120) * time.Second)
			look, _ := arc{peakTime, 0.062}.LookLate(track.Site{}, at, 30)
			o := Observation{Time: at.Add(time.Second), Kind: Heard, Held: &Direction{look.AzimuthDeg, look.ElevationDeg}}
			if n > 5 {
				o.Kind = Silent
			}
			if n == 6 {
				before = b.Advise(at.Add(-11 * time.Second))
				b.Observe(Observation{Time: at.Add(-10 * time.Second), Kind: kind})
			}
			b.Observe(o)
		}
		b.Observe(Observation{Time: peakTime.Add(130 * time.Second), Kind: NoiseNormal})
		return before, b.Advise(peakTime.Add(131 * time.Second))
	}
	before, noisy := moved(NoiseUp)
	_, quiet := moved(NoiseNormal)
	if noisy.HearProbability < quiet.HearProbability+0.15 || noisy.TimeErrorS.Sigma > 1.5*before.TimeErrorS.Sigma {
		t.Errorf("before %s; after three missed in noise %s, in none %s", before.Words(), noisy.Words(), quiet.Words())
	}
}

// An operator who missed two plain bursts of a strong signal isn't told that the
// marks fit nothing.
func TestMissedPlainBurstsAreNotStrange(t *testing.T) {
	for _, marginDB := range []float64{6, 15, 25} {
		p := prior()
		p.MarginDB = marginDB
		p.Objects[0].TimeSigmaS, p.HeadingSigmaDeg = 10, 5
		all := whole(t, p, truth{3, 3, 40}, func(n int, o Observation) []Observation {
			if n == 7 || n == 13 {
				o.Kind = Silent
			}
			return []Observation{o}
		})
		for n, a := range all {
			if !a.Explains {
				t.Errorf("margin %v dB, burst %d: %s", marginDB, n+1, a.Words())
			}
		}
	}
}
