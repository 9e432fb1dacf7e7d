package radio

import (
	"math"
	"testing"
)

// The sum of evenly spread numbers: for three alike a share of x beside the
// middle is (3/4)·x/b − x³/(3·b³) near it (the Irwin-Hall distribution), for two
// a triangle; what is narrow beside the rest doesn't matter.
func TestSpread(t *testing.T) {
	three := newSpread(100, 6, 6, 6)
	near(t, "middle", three.below(100), 0.5, 1e-12)
	for _, x := range []float64{0.5, 1, 3} {
		near(t, "three alike", three.below(100+x)-0.5, 0.75*x/6-math.Pow(x/6, 3)/3, 1e-12)
	}
	two := newSpread(0, 2, 2)
	near(t, "a triangle's quarter", two.below(-1), 0.125, 1e-12)
	trapezium := newSpread(0, 8, 0.0125, 0.0125)
	near(t, "mostly flat", trapezium.below(2), 0.75, 1e-9)
	dot := newSpread(10, 0, 0, 0)
	if dot.below(9.999) != 0 || dot.below(10) != 1 {
		t.Error("a tone is at one place")
	}
	flat := newSpread(10, 8, 1e-6, 0)
	near(t, "one wide one", flat.below(12), 0.75, 1e-12)
	for _, s := range []spread{three, two, trapezium, flat} {
		low, high := s.reach()
		if s.below(low) != 0 || s.below(high) != 1 {
			t.Errorf("%+v: %v to %v at its edges", s, s.below(low), s.below(high))
		}
		last := 0.0
		for f := low; f < high; f += (high - low) / 100 {
			if b := s.below(f); b < last-1e-9 {
				t.Errorf("%+v falls at %v", s, f)
			} else {
				last = b
			}
		}
	}
}

// A product wider than the channel gives its density; a tone that Doppler brings
// in counts whole.
func TestChannelShare(t *testing.T) {
	c := Link{FrequencyHz: 437e6, Mode: Mode{BandwidthHz: 10000}}.channel()
	near(t, "flat 8 MHz", c.share(newSpread(438, 8)), 0.01/8, 1e-9)
	near(t, "tone", c.share(newSpread(437.010, 0)), 1, 0)
	near(t, "tone beside", c.share(newSpread(437.020, 0)), 0, 0)
}
