package rehearse

import (
	"context"
	"math"
	"os"
	"reflect"
	"strconv"
	"testing"
)

// passes returns how many passes a test plays: few, or as many as PASSES says.
// The figures in the comments are those of 400 passes and more.
func passes(few int) int {
	if n, err := strconv.Atoi(os.Getenv("PASSES")); err == nil && n > 0 {
		return n
	}
	if underRace { // some eight times slower, and not after the figures
		return max(4, few/4)
	}
	return few
}

// ideal returns settings with a perfect hand and no fading.
func ideal(timeS, headingDeg, marginDB, beamwidthDeg float64) Settings {
	s := Default()
	s.TimeErrorS, s.HeadingErrorDeg, s.MarginDB, s.BeamwidthDeg = timeS, headingDeg, marginDB, beamwidthDeg
	s.AimErrorDeg, s.FadingDB = 0, 0
	return s
}

func run(t *testing.T, s Settings) Result {
	t.Helper()
	if seed, err := strconv.ParseUint(os.Getenv("SEED"), 10, 64); err == nil && s.Seed == 0 {
		s.Seed = seed
	}
	r, err := Run(context.Background(), s, nil)
	if err != nil {
		t.Fatal(err)
	}
	t.Logf("%v s, %v°, %v dB, %v°: lead %.3f, %.2f; learn %.3f, %.3f; known %.3f; gap closed %.2f", s.TimeErrorS, s.HeadingErrorDeg,
		s.MarginDB, s.BeamwidthDeg, r[Lead].HeardShare, r[Lead].AnyShare, r[Learn].HeardShare, r[Learn].AnyShare, r[Known].HeardShare, closed(r))
	return r
}

// closed returns which part of what knowing is better than leading is reached
// by learning.
func closed(r Result) float64 {
	return (r[Learn].HeardShare - r[Lead].HeardShare) / (r[Known].HeardShare - r[Lead].HeardShare)
}

// Lead and known of an independent prototype (a plain simulation in another
// program, 400 passes; the standard error of a share is up to 0.02). In the
// fourth row it gives 0.39 to lead, where this gives 0.43: here the antenna is
// held at the horizon when the prediction is below it.
func TestSimulatorAgreesWithAnother(t *testing.T) {
	for _, row := range []struct {
		s           Settings
		lead, known float64
	}{
		{ideal(10, 10, 6, 50), 0.83, 0.88},
		{ideal(60, 15, 6, 50), 0.68, 0.88},
		{ideal(120, 20, 6, 50), 0.48, 0.89},
		{ideal(180, 15, 6, 50), 0.39, 0.89},
		{ideal(60, 30, 4, 40), 0.30, 0.70},
	} {
		lead, known, n := 0.0, 0.0, 1000
		for i := range n {
			w, err := draw(row.s, i)
			if err != nil {
				t.Fatal(err)
			}
			for _, c := range []struct {
				way Way
				sum *float64
			}{{Lead, &lead}, {Known, &known}} {
				p, err := w.play(c.way, nil)
				if err != nil {
					t.Fatal(err)
				}
				*c.sum += float64(p.heard) / float64(p.bursts) / float64(n)
			}
		}
		if math.Abs(lead-row.lead) > 0.05 || math.Abs(known-row.known) > 0.02 {
			t.Errorf("%v s, %v°: lead %.3f, known %.3f, want %v ± 0.05, %v ± 0.02", row.s.TimeErrorS, row.s.HeadingErrorDeg, lead, known, row.lead, row.known)
		}
	}
}

// With 400 passes (PASSES=400) and SEED=1, 2, 3 and 4 learning closes of the gap,
// each ± 0.02: first row 0.73, 0.75, 0.75, 0.75; second 0.81, 0.82, 0.81, 0.81;
// third 0.53, 0.56, 0.55, 0.56, and 0.56 ± 0.01 with 1600 and SEED=1000. Few passes
// leave an error of 0.1 on that. Weighing each aim by playing the rest of the pass
// many times over closes no more.
func TestLearningIsBetterThanLeading(t *testing.T) {
	for _, row := range []struct {
		s     Settings
		least float64
	}{{ideal(120, 20, 6, 50), 0.70}, {ideal(180, 15, 6, 50), 0.70}, {ideal(60, 30, 4, 40), 0.55}} {
		row.s.Passes = passes(16)
		slack := 2.0 / math.Sqrt(float64(row.s.Passes)) * 0.5
		r := run(t, row.s)
		if got := closed(r); got < row.least-slack {
			t.Errorf("closes %.2f of the gap, want %v (± %.2f)", got, row.least, slack)
		}
		if r[Learn].AnyShare < 0.97-slack/2 {
			t.Errorf("hears something in %.3f of passes, want 0.97", r[Learn].AnyShare)
		}
	}
}

// A pass that is well known is led, whatever could be learned.
func TestLearningKeepsOutOfTheWay(t *testing.T) {
	s := ideal(10, 10, 6, 50)
	s.Passes = passes(24)
	if r := run(t, s); r[Learn].HeardShare < r[Lead].HeardShare-0.01 {
		t.Errorf("learning hears %.3f, leading %.3f", r[Learn].HeardShare, r[Lead].HeardShare)
	}
}

// With a hand of 8° and fading of 5 dB, as above: first row 0.60, 0.60, 0.57, 0.58,
// and 0.62 ± 0.01 with 1600; second 0.75, 0.73, 0.75, 0.74.
func TestLearningStandsAHumanHand(t *testing.T) {
	s := Default()
	s.Passes = passes(20)
	slack := 1 / math.Sqrt(float64(s.Passes))
	for _, e := range [][2]float64{{120, 20}, {180, 15}} {
		s.TimeErrorS, s.HeadingErrorDeg = e[0], e[1]
		if got := closed(run(t, s)); got < 0.60-slack {
			t.Errorf("closes %.2f of the gap, want 0.60 (± %.2f)", got, slack)
		}
	}
}

func TestSameSeedSameResult(t *testing.T) {
	s := Default()
	s.Passes = 4
	a, b := run(t, s), run(t, s)
	if !reflect.DeepEqual(a, b) {
		t.Errorf("%v, then %v", a, b)
	}
	s.Seed++
	if c := run(t, s); reflect.DeepEqual(a, c) {
		t.Errorf("another seed gives the same: %v", c)
	}
}

func TestRunEnds(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	s := Default()
	s.Passes = maxPasses
	_, err := Run(ctx, s, func(done int) {
		if done == 2 {
			cancel()
		}
	})
	if err != context.Canceled {
		t.Errorf("error %v, want %v", err, context.Canceled)
	}
	s.Period = 0
	if _, err := Run(context.Background(), s, nil); err == nil {
		t.Error("plays without a period")
	}
}

// Other circumstances, only played with PASSES set. With 240 passes, heard by
// leading, learning and knowing, and the gap closed: beamwidth 30° 0.258, 0.448,
// 0.646, 0.49; unknown phase 0.431, 0.605, 0.705, 0.64; frequency 0.431, 0.623,
// 0.705, 0.70; strengths 0.431, 0.609, 0.705, 0.65; 4 dB less and 20 % narrower
// 0.189, 0.254, 0.451, 0.25.
func TestOtherCircumstances(t *testing.T) {
	if os.Getenv("PASSES") == "" {
		t.Skip("PASSES is not set")
	}
	for name, change := range map[string]func(*Settings){
		"beamwidth 30°":            func(s *Settings) { s.BeamwidthDeg = 30 },
		"unknown phase":            func(s *Settings) { s.PhaseUnknown = true },
		"frequency ± 300 Hz":       func(s *Settings) { s.FrequencyHz, s.FrequencyErrorHz = 437e6, 300 },
		"strengths":                func(s *Settings) { s.Strengths = true },
		"4 dB less, 20 % narrower": func(s *Settings) { s.TrueMarginDB, s.TrueBeamwidth = -4, 0.8 },
	} {
		t.Run(name, func(t *testing.T) {
			s := Default()
			s.Passes = passes(1)
			change(&s)
			if r := run(t, s); r[Learn].HeardShare < r[Lead].HeardShare {
				t.Errorf("learning is worse than leading: %v", r)
			}
		})
	}
}
