package north

import (
	"errors"
	"math"
	"math/rand/v2"
	"strings"
	"testing"
	"time"

	"foreaim/track"
	"pgregory.net/rapid"
)

func noon() time.Time { return time.Date(2027, 3, 1, 12, 0, 0, 0, time.UTC) }

func says(kind Kind, facing, sigma float64) Reference {
	return Reference{Kind: kind, FacingDeg: track.Wrap360(facing), SigmaDeg: sigma, At: noon()}
}

func mustCombine(t testing.TB, refs ...Reference) Facing {
	t.Helper()
	f, err := Combine(refs, noon())
	if err != nil {
		t.Fatal(err)
	}
	return f
}

// In 1,000 draws of two to five independent references with uncertainties from
// 1.5° to 8° the combined heading is nearer the truth than the best of them
// (the one with the smallest uncertainty, whose error is smallest on average),
// and within its uncertainty in 64 to 76 %.
func TestCombineDraws(t *testing.T) {
	kinds := []Kind{ByCompass, BySun, ByLandmark, ByWalk, ByTransmitter}
	for n := 2; n <= 5; n++ {
		r := rand.New(rand.NewPCG(uint64(n), 21))
		const draws = 1000
		held, together, single, named := 0, 0.0, 0.0, 0
		for range draws {
			truth := 360 * r.Float64()
			refs := make([]Reference, n)
			best := 0
			for i := range refs {
				sigma := 1.5 + 6.5*r.Float64()
				refs[i] = says(kinds[i], truth+sigma*r.NormFloat64(), sigma)
				if sigma < refs[best].SigmaDeg {
					best = i
				}
			}
			f := mustCombine(t, refs...)
			off := math.Abs(track.TurnDeg(truth, f.Deg))
			together += off / draws
			single += math.Abs(track.TurnDeg(truth, refs[best].FacingDeg)) / draws
			if off <= f.SigmaDeg {
				held++
			}
			if len(f.LeftOut) > 0 {
				named++
			}
		}
		t.Logf("%d references: %.1f %% held; mean error %.2f°, best single one %.2f°; wrongly left out in %d", n, float64(held)*100/draws, together, single, named)
		if held < 640 || held > 760 {
			t.Errorf("%d references: %d of 1000 held, want 640 to 760", n, held)
		}
		if together >= single {
			t.Errorf("%d references: mean error %.2f°, best single one %.2f°", n, together, single)
		}
		if named > 50 {
			t.Errorf("%d references: a good one left out in %d of 1000", n, named)
		}
	}
}

// Three compass readings beside one car and a landmark: what the readings share
// counts once.
func TestCombineShared(t *testing.T) {
	r := rand.New(rand.NewPCG(4, 22))
	held := 0
	for range 1000 {
		truth, iron := 360*r.Float64(), 6*r.NormFloat64()
		refs := []Reference{says(ByLandmark, truth+5*r.NormFloat64(), 5)}
		for range 3 {
			c := says(ByCompass, truth+iron+2*r.NormFloat64(), math.Hypot(6, 2))
			c.SharedDeg = 6
			refs = append(refs, c)
		}
		f := mustCombine(t, refs...)
		if math.Abs(track.TurnDeg(truth, f.Deg)) <= f.SigmaDeg {
			held++
		}
	}
	if held < 640 || held > 760 {
		t.Errorf("%d of 1000 held, want 640 to 760", held)
	}
}

// A reference 30° off is named, whichever it is and wherever straight ahead is.
func TestCombineOddOneOut(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 23))
	wrong := 0
	for i := range 1000 {
		truth := 360 * r.Float64()
		refs := []Reference{says(ByCompass, truth, 5), says(BySun, truth, 2), says(ByLandmark, truth, 1.5)}
		odd := i % 3
		for k := range refs {
			off := refs[k].SigmaDeg * r.NormFloat64()
			if k == odd {
				off += 30 - 60*float64(i%2)
			}
			refs[k].FacingDeg = track.Wrap360(truth + off)
		}
		f := mustCombine(t, refs...)
		if len(f.LeftOut) != 1 || f.LeftOut[0] != refs[odd] || len(f.Used) != 2 || len(f.Differences) == 0 {
			wrong++
		}
	}
	if wrong > 20 {
		t.Errorf("not named in %d of 1000", wrong)
	}
	// With no error but the 30°, always.
	for odd := range 3 {
		refs := []Reference{says(ByCompass, 350, 5), says(BySun, 350, 5), says(ByWalk, 350, 5)}
		refs[odd].FacingDeg = 20
		f := mustCombine(t, refs...)
		if len(f.LeftOut) != 1 || f.LeftOut[0] != refs[odd] || math.Abs(track.TurnDeg(f.Deg, 350)) > 0.1 || f.SigmaDeg > 5 {
			t.Errorf("%v off: %+v", refs[odd].Kind, f)
		}
	}
}

// The compass is bent alike in all its readings: they are the odd ones together.
func TestCombineOddKind(t *testing.T) {
	bent := func(facing float64) Reference {
		r := says(ByCompass, facing, 5)
		r.SharedDeg = 4
		return r
	}
	f := mustCombine(t, bent(130), bent(132), bent(129), says(BySun, 100, 2), says(ByLandmark, 101, 1.5))
	if len(f.LeftOut) != 3 || f.LeftOut[0].Kind != ByCompass || math.Abs(f.Deg-100.6) > 0.3 {
		t.Errorf("%+v", f)
	}
	// One misread among three is the odd one of the compass's own.
	f = mustCombine(t, bent(100), bent(140), bent(101))
	if len(f.LeftOut) != 1 || f.LeftOut[0].FacingDeg != 140 || f.SigmaDeg < 4 {
		t.Errorf("%+v", f)
	}
}

// Two that disagree: nobody can tell which is right, so the uncertainty reaches
// from one to the other.
func TestCombineTwoDisagree(t *testing.T) {
	near := mustCombine(t, says(ByCompass, 100, 5), says(BySun, 98, 2))
	if len(near.Differences) != 0 || near.SigmaDeg > 2.1 {
		t.Errorf("2° apart: %+v", near)
	}
	far := mustCombine(t, says(ByCompass, 124, 5), says(BySun, 100, 2))
	if len(far.Differences) != 1 || far.Differences[0].Deg != 24 || len(far.LeftOut) != 0 || far.SigmaDeg < 11 ||
		far.Deg+far.SigmaDeg < 122 || far.Deg-far.SigmaDeg > 101 {
		t.Errorf("24° apart: %+v", far)
	}
	if opposite := mustCombine(t, says(BySun, 10, 2), says(ByWalk, 190, 2)); opposite.SigmaDeg < 80 || opposite.SigmaDeg > 104 {
		t.Errorf("opposite: %+v", opposite)
	}
	if all := mustCombine(t, says(BySun, 0, 2), says(ByWalk, 120, 2), says(ByLandmark, 240, 2)); all.SigmaDeg < 60 || len(all.LeftOut) != 0 {
		t.Errorf("three that all disagree: %+v", all)
	}
}

func TestCombineAgeAndMoves(t *testing.T) {
	old := says(BySun, 100, 2)
	old.At = noon().Add(-5 * time.Hour)
	if f := mustCombine(t, old); f.SigmaDeg != 2 || f.Deg != 100 {
		t.Errorf("age alone cost something: %+v", f)
	}
	moved := old
	moved.MovedM, moved.AheadM = 35, 1000 // atan(0.035) = 2.004°
	if f := mustCombine(t, moved); math.Abs(f.SigmaDeg-math.Hypot(2, 2.0045)) > 0.001 {
		t.Errorf("moved 35 m: %+v", f)
	}
}

func TestCombineRefuses(t *testing.T) {
	change := func(f func(*Reference)) []Reference {
		r := says(BySun, 100, 2)
		f(&r)
		return []Reference{says(ByCompass, 99, 5), r}
	}
	for want, refs := range map[string][]Reference{
		"no reference yet":            nil,
		"11 references, want at most": make([]Reference, 11),
		"Kind(0) is no way":           {{FacingDeg: 1, SigmaDeg: 1}},
		"sun: facing NaN°":            change(func(r *Reference) { r.FacingDeg = math.NaN() }),
		"sun: uncertainty NaN°":       change(func(r *Reference) { r.SigmaDeg = math.NaN() }),
		"sun: uncertainty 0°":         change(func(r *Reference) { r.SigmaDeg = 0 }),
		"shared uncertainty 3°":       change(func(r *Reference) { r.SharedDeg = 3 }),
		"is the clock right?":         change(func(r *Reference) { r.At = noon().Add(time.Hour) }),
		"you have moved 900 m":        change(func(r *Reference) { r.MovedM = 900 }),
		"moved NaN m":                 change(func(r *Reference) { r.MovedM = math.NaN() }),
	} {
		if f, err := Combine(refs, noon()); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%+v and error %v, want %q", f, err, want)
		}
	}
	if _, err := Combine(nil, noon()); !errors.Is(err, ErrNoReference) {
		t.Error(err)
	}
}

// Turning everything turns the answer; the order doesn't matter; every
// reference is used or left out; the answer is never surer than all of them
// being right would make it.
func TestCombineProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var refs, turned, back []Reference
		by := rapid.Float64Range(0, 360).Draw(t, "by")
		information := 0.0
		// All in one half of the circle: between witnesses that stand opposite
		// each other the way to the mean hangs on the last bit.
		for range rapid.IntRange(1, 7).Draw(t, "references") {
			r := says(Kind(rapid.IntRange(1, 9).Draw(t, "kind")), rapid.Float64Range(0, 170).Draw(t, "facing"), rapid.Float64Range(0.5, 30).Draw(t, "sigma"))
			if r.Kind == ByCompass {
				r.SharedDeg = r.SigmaDeg * rapid.Float64Range(0, 1).Draw(t, "shared")
			}
			own := math.Max(leastOwnDeg, math.Sqrt(square(r.SigmaDeg)-square(r.SharedDeg)))
			information += 1 / square(own)
			refs, back = append(refs, r), append([]Reference{r}, back...)
			r.FacingDeg = track.Wrap360(r.FacingDeg + by)
			turned = append(turned, r)
		}
		a, err := Combine(refs, noon())
		if err != nil {
			t.Fatal(err)
		}
		if len(a.Used)+len(a.LeftOut) != len(refs) || len(a.Used) == 0 || !(a.Deg >= 0 && a.Deg < 360) ||
			a.SigmaDeg < 1/math.Sqrt(information)-1e-9 || a.SigmaDeg > unknownDeg {
			t.Fatalf("%+v", a)
		}
		b, _ := Combine(turned, noon())
		c, _ := Combine(back, noon())
		for name, other := range map[string]Facing{"turned": b, "in reverse": c} {
			if math.Abs(other.SigmaDeg-a.SigmaDeg) > 1e-6*a.SigmaDeg || len(other.LeftOut) != len(a.LeftOut) || len(other.Differences) != len(a.Differences) {
				t.Fatalf("%+v\n%s %+v", a, name, other)
			}
		}
		if a.SigmaDeg < 20 && (math.Abs(track.TurnDeg(a.Deg+by, b.Deg)) > 1e-6 || math.Abs(track.TurnDeg(a.Deg, c.Deg)) > 1e-6) {
			t.Fatalf("%v, turned by %v %v, in reverse %v", a.Deg, by, b.Deg, c.Deg)
		}
	})
}

func BenchmarkCombine5(b *testing.B) {
	refs := []Reference{says(ByCompass, 98, 5), says(BySun, 101, 2), says(ByLandmark, 100, 1.5), says(ByWalk, 103, 3), says(ByTransmitter, 95, 6)}
	for b.Loop() {
		if _, err := Combine(refs, noon()); err != nil {
			b.Fatal(err)
		}
	}
}
