package north

import (
	"errors"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"foreaim/track"
	"pgregory.net/rapid"
)

// Worked by hand.
func TestMiddleOf(t *testing.T) {
	for name, c := range map[string]struct {
		turns                 []Turn
		deg, width, low, high float64
	}{
		"one turn":        {[]Turn{{20, 60}}, 40, 40, 4, 5},
		"across north":    {[]Turn{{340, 20}}, 0, 40, 4, 5},
		"left and right":  {[]Turn{{-30, 10}}, 350, 40, 4, 5},
		"several circles": {[]Turn{{700, 1100}}, 0, 40, 4, 5},
		"two alike":       {[]Turn{{340, 20}, {338, 22}}, 0, 42, 2, 4},
		"ahead and back":  {[]Turn{{350, 30}, {330, 10}}, 0, 40, 4, 9},
		"nearly half":     {[]Turn{{0, 179}}, 89.5, 179, 15, 25},
	} {
		m, err := MiddleOf(c.turns...)
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		if math.Abs(track.TurnDeg(m.Deg, c.deg)) > 1e-9 || math.Abs(m.WidthDeg-c.width) > 1e-9 || m.SigmaDeg < c.low || m.SigmaDeg > c.high {
			t.Errorf("%s: %+v, want %+v", name, m, c)
		}
	}
}

func TestMiddleRefuses(t *testing.T) {
	for want, turns := range map[string][]Turn{
		"none marked yet":                          nil,
		"turn 1: the right one is 320° clockwise":  {{60, 20}},
		"turn 2: the right one is 180° clockwise":  {{20, 60}, {0, 180}},
		"wrong way round?":                         {{100, 90}},
		"turn 1: both are at 40°":                  {{40, 40}},
		"mark where the signal falls off":          {{40, 400}},
		"turn 1: NaN and 3 are not both numbers":   {{math.NaN(), 3}},
		"turn 1: 3 and +Inf are not both numbers":  {{3, math.Inf(1)}},
		"these shoulders make no sense: turn 1: 0": {{0, math.NaN()}},
	} {
		if _, err := MiddleOf(turns...); !errors.Is(err, ErrShoulders) || !strings.Contains(err.Error(), want) {
			t.Errorf("%v: %v, want %q", turns, err, want)
		}
	}
}

// A turn of the whole scale turns the middle with it; the order of the turns
// does not matter; more turns that agree make it surer.
func TestMiddleProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var turns, turned, back []Turn
		by := rapid.Float64Range(-720, 720).Draw(t, "by")
		centre := rapid.Float64Range(0, 360).Draw(t, "centre")
		for range rapid.IntRange(1, 6).Draw(t, "turns") {
			l := centre - rapid.Float64Range(2, 60).Draw(t, "left")
			r := centre + rapid.Float64Range(2, 60).Draw(t, "right")
			turns, turned = append(turns, Turn{l, r}), append(turned, Turn{l + by, r + by})
			back = append([]Turn{{l, r}}, back...)
		}
		a, err := MiddleOf(turns...)
		if err != nil {
			t.Fatal(err)
		}
		b, _ := MiddleOf(turned...)
		c, _ := MiddleOf(back...)
		if math.Abs(track.TurnDeg(a.Deg+by, b.Deg)) > 1e-9 || math.Abs(a.SigmaDeg-b.SigmaDeg) > 1e-9 || math.Abs(track.TurnDeg(a.Deg, c.Deg)) > 1e-9 {
			t.Fatalf("%+v turned by %v is %+v, in reverse %+v", a, by, b, c)
		}
		if more, _ := MiddleOf(append(turns, Turn{a.Deg - a.WidthDeg/2, a.Deg + a.WidthDeg/2})...); more.SigmaDeg > a.SigmaDeg+1e-9 {
			t.Fatalf("%+v became less sure with a turn that agrees: %+v", a, more)
		}
	})
}

// Simulated turns whose middles scatter by a tenth of the width, about a
// pattern that leans by a twentieth: the stated interval holds two thirds.
func TestMiddleCoverage(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 9))
	for _, n := range []int{1, 2, 4} {
		held := 0.0
		for range 2000 {
			truth, lean := 360*r.Float64(), 50*0.05*r.NormFloat64()
			var turns []Turn
			for range n {
				m := truth + lean + 50*0.10*r.NormFloat64()
				turns = append(turns, Turn{track.Wrap360(m - 25), track.Wrap360(m + 25)})
			}
			m, err := MiddleOf(turns...)
			if err != nil {
				t.Fatal(err)
			}
			if math.Abs(track.TurnDeg(m.Deg, truth)) <= m.SigmaDeg {
				held += 1.0 / 2000
			}
		}
		if held < 0.64 || held > 0.76 {
			t.Errorf("%d turns: held %.1f %%", n, 100*held)
		}
	}
}

func TestScattered(t *testing.T) {
	apart, err := MiddleOf(Turn{0, 40}, Turn{30, 70})
	if err != nil || !apart.Scattered() {
		t.Errorf("%+v, %v: want scattered", apart, err)
	}
	near, err := MiddleOf(Turn{0, 40}, Turn{5, 45})
	if err != nil || near.Scattered() {
		t.Errorf("%+v, %v: want not scattered", near, err)
	}
}
