package outing

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"
	"time"
)

// at is a time of day in UTC on an invented day, 1 March 2026.
func at(clock string) time.Time {
	t, err := time.Parse(time.RFC3339Nano, "2026-03-01T"+clock+"Z")
	if err != nil {
		panic(err)
	}
	return t
}

// By hand: 12:00:00 + 1 s + 0.8 s + (0.5 + 2)/2 s = 12:00:03.05; the standard
// deviation is that of the reaction, 0.3 s, and of 1.5 s of equal chance,
// 1.5/√12 = 0.43301 s, and of the start, 0.4 s: √(0.09 + 0.1875 + 0.16) =
// 0.66144 s. The latest is three of them later.
func TestEarByHand(t *testing.T) {
	e := DefaultEye()
	b := Burst{Start: at("12:00:00"), Length: time.Second, Tolerance: 400 * time.Millisecond}
	if got := e.Latest(b); got.Sub(at("12:00:05.034")).Abs() > time.Millisecond {
		t.Errorf("latest %s, want 12:00:05.034", got)
	}
	// 12:00:00 + 0.2 s + 0.5 s − 3 × 0.4 s.
	if got := e.Earliest(b); !got.Equal(at("11:59:59.5")) {
		t.Errorf("earliest %s, want 11:59:59.5", got)
	}
	start, sigma := e.Start(at("12:00:03.05"), b, true)
	if !start.Equal(b.Start) || math.Abs(sigma-math.Sqrt(0.09+0.1875)) > 1e-9 {
		t.Errorf("start %s ± %g s, want 12:00:00 ± 0.5268 s", start, sigma)
	}
}

// Simulated people: marks drawn from the model's own definition, whose truth is
// known. The likely start is right on the average, and scatters as stated.
func TestStartAgainstSimulatedMarks(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	for name, e := range map[string]Ear{"ear": DefaultEar(), "waterfall": DefaultEye()} {
		b := Burst{Start: at("12:00:00"), Length: 1500 * time.Millisecond}
		const n = 20000
		believed, sum, squares, sigma := 0, 0.0, 0.0, 0.0
		for range n {
			delay := e.Reaction.Seconds() + e.Scatter.Seconds()*rng.NormFloat64() +
				e.WaterfallLeast.Seconds() + rng.Float64()*(e.WaterfallMost-e.WaterfallLeast).Seconds()
			mark := b.Start.Add(b.Length + seconds(delay))
			if !mark.Before(e.Earliest(b)) && !mark.After(e.Latest(b)) {
				believed++
			}
			var start time.Time
			start, sigma = e.Start(mark, b, false)
			wrong := start.Sub(b.Start).Seconds()
			sum += wrong
			squares += wrong * wrong
		}
		mean := sum / n
		std := math.Sqrt(squares/n - mean*mean)
		if math.Abs(mean) > 5*sigma/math.Sqrt(n) || math.Abs(std/sigma-1) > 0.03 {
			t.Errorf("%s: error %.4f ± %.4f s, want 0 ± %.4f s", name, mean, std, sigma)
		}
		// Three standard deviations leave out at most 1 in 370 of a normal
		// distribution, on both sides together.
		if believed < n-n/370-50 {
			t.Errorf("%s: %d of %d marks believed", name, believed, n)
		}
	}
}

// A key pressed while a long burst sounds is taken as pressed anywhere in it.
func TestStartOfLongBurst(t *testing.T) {
	b := Burst{Start: at("12:00:00"), Length: 12 * time.Second}
	start, sigma := DefaultEar().Start(at("12:00:05"), b, true)
	// 5 − 0.8 − 12/2 s = −1.8 s; √(0.3² + 12²/12) s = 3.477 s.
	if !start.Equal(at("11:59:58.2")) || math.Abs(sigma-3.477) > 0.001 {
		t.Errorf("start %s ± %.3f s, want 11:59:58.2 ± 3.477", start, sigma)
	}
	b.Length = 0
	if _, sigma = DefaultEar().Start(at("12:00:01.8"), b, true); math.Abs(sigma-math.Hypot(0.3, 2/math.Sqrt(12))) > 1e-9 {
		t.Errorf("unknown length: ± %g s, want that of 0 to 2 s of equal chance with it", sigma)
	}
}

func TestEarValidate(t *testing.T) {
	for _, c := range []struct {
		e    Ear
		want string
	}{
		{DefaultEar(), ""},
		{DefaultEye(), ""},
		{Ear{}, ""},
		{Ear{Reaction: -1}, "reaction -1ns is not within 0s to 1m0s"},
		{Ear{Scatter: time.Hour}, "scatter of the reaction 1h0m0s"},
		{Ear{WaterfallLeast: 2 * time.Minute}, "least waterfall delay 2m0s"},
		{Ear{WaterfallMost: -1}, "most waterfall delay -1ns"},
		{Ear{WaterfallLeast: 2, WaterfallMost: 1}, "most waterfall delay 1ns is less than the least, 2ns"},
	} {
		err := c.e.Validate()
		if (err == nil) != (c.want == "") || err != nil && !strings.Contains(err.Error(), c.want) {
			t.Errorf("%+v: %v, want %q", c.e, err, c.want)
		}
	}
}
