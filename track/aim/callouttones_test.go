package aim

import (
	"slices"
	"testing"
	"time"
)

// Two tones differ in the number of bells or, one by one, in a gap that is at
// least twice as long.
func TestBellsCanBeToldApart(t *testing.T) {
	for i, a := range AllTones() {
		for _, b := range AllTones()[:i] {
			x, y := a.bells(), b.bells()
			differ := len(x) != len(y)
			for k := range min(len(x), len(y)) {
				differ = differ || x[k] >= 2*y[k] || y[k] >= 2*x[k]
			}
			if !differ {
				t.Errorf("%s and %s sound alike: %v, %v", a, b, x, y)
			}
		}
	}
}

func TestBellsOfSeveralTonesKeepApart(t *testing.T) {
	got := Bells(ToneRight, ToneDown)
	var want []time.Duration
	for _, ms := range []int{0, 200, 400, 1400, 2000, 2200} {
		want = append(want, time.Duration(ms)*time.Millisecond)
	}
	if !slices.Equal(got, want) {
		t.Errorf("%v, want %v", got, want)
	}
	if Bells() != nil {
		t.Error("bells for no tone")
	}
}

func TestStepTones(t *testing.T) {
	for _, c := range []struct {
		from, to Direction
		want     []Tone
	}{
		{Direction{100, 20}, Direction{120, 26}, []Tone{ToneRight, ToneUp}},
		{Direction{10, 32}, Direction{330, 20}, []Tone{ToneLeft, ToneDown}},
		{Direction{10, 32}, Direction{11, 33}, []Tone{ToneHold}},
		{Direction{10, 32}, Direction{11, 52}, []Tone{ToneUp}},
		{Direction{10, 60}, Direction{100, 85}, []Tone{ToneUp}},
		{Direction{10, 85}, Direction{100, 60}, []Tone{ToneDown}},
	} {
		if got := StepTones(c.from, c.to, FistDeg); !slices.Equal(got, c.want) {
			t.Errorf("from %v to %v: %v, want %v", c.from, c.to, got, c.want)
		}
	}
}
