package radio

import (
	"math"
	"testing"
)

func TestRangeIsWritten(t *testing.T) {
	for want, r := range map[string]Range{
		"7.2": Exactly(7.24), "0.0": Exactly(-0.01), "3.1 to 5.9": {3.14, 5.86}, "-15 to 12": {-15.4, 11.6}, "0 to 9": {-0.4, 9},
		"nothing": Exactly(math.Inf(-1)), "up to -90.0": {math.Inf(-1), -90},
	} {
		if got := r.String(); got != want {
			t.Errorf("%v to %v: %q, want %q", r.Low, r.High, got, want)
		}
	}
	spans(t, "sum", Range{1, 2}.Plus(Range{-3, 5}), -2, 7, 0)
	spans(t, "difference", Range{1, 2}.Minus(Range{-3, 5}), -4, 5, 0)
}
