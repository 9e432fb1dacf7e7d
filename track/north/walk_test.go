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

// stroll is a simulated walk at about 1.2 m/s, a fix a second: a way in metres
// on a flat Earth, the noise laid on each axis. It shares nothing with the
// estimator.
type stroll struct {
	from           track.Site
	bearing        float64 // degrees
	sigma, tau     float64 // of the first-order Gauss–Markov noise: m, s
	white          float64 // m
	lengthM, paceM float64
	unsteady, sway float64 // pace's deviation, m/s; sideways sway, m
	standing       int     // seconds before the start
}

func (s stroll) walk(r *rand.Rand) []WalkFix {
	sin, cos := math.Sincos(s.bearing * math.Pi / 180)
	keep := math.Exp(-1 / s.tau)
	spread := s.sigma * math.Sqrt(1-keep*keep)
	e, n := s.sigma*r.NormFloat64(), s.sigma*r.NormFloat64()
	start := time.Date(2027, 3, 1, 9, 0, 0, 0, time.UTC)
	var fixes []WalkFix
	for gone, second := 0.0, 0; gone <= s.lengthM; second++ {
		side := s.sway * math.Sin(float64(second)*2)
		east := gone*sin + side*cos + e + s.white*r.NormFloat64()
		north := gone*cos - side*sin + n + s.white*r.NormFloat64()
		// Degrees on WGS-84 by its radii of curvature at the start.
		lat := s.from.LatitudeDeg * math.Pi / 180
		flat := math.Sqrt(1 - 0.00669437999014*math.Sin(lat)*math.Sin(lat))
		prime, meridian := 6378137/flat, 6378137*(1-0.00669437999014)/(flat*flat*flat)
		fixes = append(fixes, WalkFix{
			At:           start.Add(time.Duration(second) * time.Second),
			LatitudeDeg:  s.from.LatitudeDeg + north/meridian*180/math.Pi,
			LongitudeDeg: track.TurnDeg(0, s.from.LongitudeDeg+east/(prime*math.Cos(lat))*180/math.Pi),
		})
		e, n = keep*e+spread*r.NormFloat64(), keep*n+spread*r.NormFloat64()
		if second >= s.standing {
			gone += math.Max(0, s.paceM+s.unsteady*r.NormFloat64())
		}
	}
	return fixes
}

func meadow() track.Site { return track.Site{LatitudeDeg: 58.3127, LongitudeDeg: 14.0864} }

// share returns the share of simulated walks whose stated interval holds the
// truth, and the root mean square error.
func share(t *testing.T, runs int, s stroll, seed uint64) (held, rms float64) {
	t.Helper()
	r := rand.New(rand.NewPCG(seed, uint64(s.tau)))
	for range runs {
		s.bearing = 360 * r.Float64()
		w, err := WalkBearing(s.walk(r), 3)
		if err != nil {
			t.Fatalf("tau %v: %v", s.tau, err)
		}
		off := track.TurnDeg(s.bearing, w.BearingDeg)
		if math.Abs(off) <= w.SigmaDeg {
			held++
		}
		rms += off * off
	}
	return held / float64(runs), math.Sqrt(rms / float64(runs))
}

// The estimator is told neither the noise nor how slow it is.
func TestWalkCoverage(t *testing.T) {
	for _, tau := range []float64{10, 60, 300} {
		held, rms := share(t, 1000, stroll{from: meadow(), sigma: 3, tau: tau, lengthM: 120, paceM: 1.2, unsteady: 0.2}, 3)
		t.Logf("correlation time %v s: %.1f %% held, error %.2f°", tau, 100*held, rms)
		if held < 0.64 || held > 0.76 {
			t.Errorf("correlation time %v s: the stated interval held %.1f %% of the walks, want 64 to 76", tau, 100*held)
		}
	}
}

// Other lengths, some unrelated noise, a swaying gait, a pause before: the same,
// or on the wide side. Fewer runs, so a wider band for chance.
func TestWalkCoverageElsewhere(t *testing.T) {
	for name, s := range map[string]stroll{
		"60 m":          {sigma: 3, lengthM: 60},
		"200 m":         {sigma: 3, lengthM: 200},
		"white noise":   {sigma: 3, lengthM: 100, white: 0.5},
		"sway":          {sigma: 3, lengthM: 100, sway: 0.3},
		"stands before": {sigma: 3, lengthM: 100, standing: 30},
		"quiet":         {sigma: 1.5, lengthM: 100},
	} {
		for _, tau := range []float64{10, 60, 300} {
			s.from, s.tau, s.paceM, s.unsteady = meadow(), tau, 1.2, 0.2
			held, rms := share(t, 250, s, 7)
			t.Logf("%s, correlation time %v s: %.1f %% held, error %.2f°", name, tau, 100*held, rms)
			if held < 0.59 {
				t.Errorf("%s, correlation time %v s: the stated interval held only %.1f %%", name, tau, 100*held)
			}
		}
	}
}

// Walking on as told ends soon and within the interval as often as stated.
func TestWalkUntilEnough(t *testing.T) {
	r := rand.New(rand.NewPCG(11, 13))
	for _, tau := range []float64{10, 60, 300} {
		held, length := 0.0, 0.0
		const runs = 300
		for range runs {
			s := stroll{from: meadow(), bearing: 360 * r.Float64(), sigma: 3, tau: tau, lengthM: 500, paceM: 1.2, unsteady: 0.2}
			fixes := s.walk(r)
			for n := 2; ; {
				w, err := WalkBearing(fixes[:n], 3)
				if err != nil {
					t.Fatal(err)
				}
				if w.Enough {
					if w.FurtherM != 0 || w.SigmaDeg > 3 {
						t.Fatalf("enough, but %+v", w)
					}
					if math.Abs(track.TurnDeg(s.bearing, w.BearingDeg)) <= w.SigmaDeg {
						held++
					}
					length += w.LengthM / runs
					break
				}
				if !(w.FurtherM >= 10) {
					t.Fatalf("not enough, but %+v", w)
				}
				n += int(math.Ceil(w.FurtherM / 1.2))
				if n > len(fixes) {
					t.Fatalf("never enough: %+v", w)
				}
			}
		}
		t.Logf("correlation time %v s: %.1f %% held after %.0f m", tau, 100*held/runs, length)
		if held/runs < 0.6 {
			t.Errorf("correlation time %v s: held %.1f %%", tau, 100*held/runs)
		}
		if length > 150 {
			t.Errorf("correlation time %v s: %v m until enough", tau, length)
		}
	}
}

// Without noise the bearing is that of the geodesic (the library is checked
// against GeographicLib in track), across the date line and next to the poles
// too.
func TestWalkBearingWithoutNoise(t *testing.T) {
	for _, from := range []track.Site{
		meadow(), {LatitudeDeg: -17, LongitudeDeg: 179.9999}, {LatitudeDeg: 52, LongitudeDeg: -180}, {LatitudeDeg: 89.9}, {LatitudeDeg: -89.9, LongitudeDeg: 77}, {},
	} {
		for bearing := 0.0; bearing < 360; bearing += 37 {
			fixes := stroll{from: from, bearing: bearing, tau: 10, lengthM: 150, paceM: 1.2}.walk(rand.New(rand.NewPCG(1, 1)))
			first, last := fixes[0], fixes[len(fixes)-1]
			want, _, err := track.Site{LatitudeDeg: first.LatitudeDeg, LongitudeDeg: first.LongitudeDeg}.Bearing(
				track.Site{LatitudeDeg: last.LatitudeDeg, LongitudeDeg: last.LongitudeDeg})
			if err != nil {
				t.Fatal(err)
			}
			w, err := WalkBearing(fixes, 3)
			if err != nil {
				t.Fatalf("%+v, %v°: %v", from, bearing, err)
			}
			if off := math.Abs(track.TurnDeg(w.BearingDeg, want)); off > 0.05 {
				t.Errorf("%+v: %v°, want %v", from, w.BearingDeg, want)
			}
			if !w.Enough || w.SigmaDeg < 0.05 {
				t.Errorf("%+v: %+v, want enough, and the drift that can't be seen in it", from, w)
			}
		}
	}
}

func TestWalkSaysHowMuchFurther(t *testing.T) {
	fixes := stroll{from: meadow(), sigma: 3, tau: 10, lengthM: 60, paceM: 1.2}.walk(rand.New(rand.NewPCG(1, 2)))
	for n, want := range map[int][2]float64{0: {80, 100}, 1: {80, 100}, 5: {70, 100}, len(fixes): {10, 60}} {
		w, err := WalkBearing(fixes[:n], 3)
		if err != nil || w.Enough || w.FurtherM < want[0] || w.FurtherM > want[1] {
			t.Errorf("%d fixes: %+v, %v; want %v m further", n, w, err, want)
		}
	}
}

func TestWalkRefuses(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 6))
	there := stroll{from: meadow(), bearing: 40, sigma: 1, tau: 10, lengthM: 100, paceM: 1.2}.walk(r)
	last := there[len(there)-1]
	on := func(bearing float64) []WalkFix {
		next := stroll{from: track.Site{LatitudeDeg: last.LatitudeDeg, LongitudeDeg: last.LongitudeDeg}, bearing: bearing,
			sigma: 1, tau: 10, lengthM: 60, paceM: 1.2}.walk(r)
		for i := range next {
			next[i].At = last.At.Add(time.Duration(i+1) * time.Second)
		}
		return append(append([]WalkFix{}, there...), next...)
	}
	for name, c := range map[string]struct {
		fixes []WalkFix
		want  string
	}{
		"corner": {on(130), "strays"},
		"back":   {on(220), "turns back"},
	} {
		if _, err := WalkBearing(c.fixes, 3); !errors.Is(err, ErrWalk) || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: %v, want %q", name, err, c.want)
		}
	}
	bad := func(change func(*WalkFix)) []WalkFix {
		fixes := append([]WalkFix{}, there...)
		change(&fixes[2])
		return fixes
	}
	for want, fixes := range map[string][]WalkFix{
		"fix 3 of the walk: latitude NaN":                         bad(func(f *WalkFix) { f.LatitudeDeg = math.NaN() }),
		"fix 3 of the walk: longitude 999":                        bad(func(f *WalkFix) { f.LongitudeDeg = 999 }),
		"fix 3 of the walk: HDOP -1":                              bad(func(f *WalkFix) { f.HDOP = -1 }),
		"fix 3 of the walk: its time is not after the one before": bad(func(f *WalkFix) { f.At = f.At.Add(-time.Hour) }),
	} {
		if _, err := WalkBearing(fixes, 3); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("error %v, want %q", err, want)
		}
	}
	if _, err := WalkBearing(there, math.NaN()); err == nil {
		t.Error("an uncertainty of NaN was accepted")
	}
}

// Whatever the fixes, there is an error or an answer within its range; a poor
// HDOP never makes it surer.
func TestWalkProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		number := rapid.OneOf(rapid.Float64Range(-1e-3, 1e-3), rapid.Float64Range(-90, 90))
		at := time.Date(2027, 3, 1, 9, 0, 0, 0, time.UTC)
		var fixes []WalkFix
		for range rapid.IntRange(0, 30).Draw(t, "fixes") {
			at = at.Add(time.Duration(rapid.Int64Range(1, 1e11).Draw(t, "wait")))
			fixes = append(fixes, WalkFix{At: at, LatitudeDeg: number.Draw(t, "lat"), LongitudeDeg: number.Draw(t, "lon")})
		}
		w, err := WalkBearing(fixes, 3)
		if err != nil {
			return
		}
		if !(w.BearingDeg >= 0 && w.BearingDeg < 360) || !(w.SigmaDeg > 0 && w.SigmaDeg < 104) || w.Enough != (w.FurtherM == 0) || math.IsNaN(w.FurtherM) {
			t.Fatalf("%+v", w)
		}
	})
	fixes := stroll{from: meadow(), sigma: 3, tau: 60, lengthM: 100, paceM: 1.2}.walk(rand.New(rand.NewPCG(3, 4)))
	plain, err := WalkBearing(fixes, 3)
	if err != nil {
		t.Fatal(err)
	}
	for i := range fixes {
		fixes[i].HDOP = 3
	}
	if poor, err := WalkBearing(fixes, 3); err != nil || !(poor.SigmaDeg > plain.SigmaDeg) {
		t.Errorf("HDOP 3: ±%v° (%v), without HDOP ±%v°", poor.SigmaDeg, err, plain.SigmaDeg)
	}
}

func BenchmarkWalkBearing(b *testing.B) {
	fixes := stroll{from: meadow(), sigma: 3, tau: 60, lengthM: 100, paceM: 1.2}.walk(rand.New(rand.NewPCG(3, 4)))
	for b.Loop() {
		if _, err := WalkBearing(fixes, 3); err != nil {
			b.Fatal(err)
		}
	}
}
