package terrain

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"testing"
	"time"

	"foreaim/track"
	"foreaim/track/elements"
)

// madeOrbit makes an invented orbit.
func madeOrbit(t testing.TB, revs, eccentricity, inclination, node, anomaly float64) *track.Orbit {
	t.Helper()
	o, err := track.NewOrbit(elements.Set{
		Name: "INVENTED", CatalogueNumber: 99001, Epoch: time.Date(2027, 3, 4, 5, 6, 7, 890e6, time.UTC),
		MeanMotionRevPerDay: revs, Eccentricity: eccentricity, InclinationDeg: inclination,
		NodeDeg: node, PerigeeDeg: 270, AnomalyDeg: anomaly, BStar: 1e-4,
	})
	if err != nil {
		t.Fatal(err)
	}
	return o
}

// roughSkyline makes a skyline of trees and houses with gaps between.
func roughSkyline(t testing.TB, r *rand.Rand) Skyline {
	t.Helper()
	var s Skyline
	highest := []float64{12, 30, 60}[r.IntN(3)]
	for azimuth := r.Float64() * 10; azimuth < 360; azimuth += 2 + r.Float64()*25 {
		var err error
		if s, err = s.Add(azimuth, -3+r.Float64()*(highest+3)); err != nil {
			t.Fatal(err)
		}
	}
	return s
}

// hides says whether a direction is hidden, with its own way through the points:
// every pair of neighbours is tried.
func hides(points []Point, minElevation, azimuth, elevation float64) bool {
	top := minElevation
	for i, a := range points {
		b := points[(i+1)%len(points)]
		x, end := azimuth, b.AzimuthDeg
		if end <= a.AzimuthDeg {
			end += 360
			if x < a.AzimuthDeg {
				x += 360
			}
		}
		if x >= a.AzimuthDeg && x < end {
			top = math.Max(top, a.ElevationDeg+(x-a.AzimuthDeg)*(b.ElevationDeg-a.ElevationDeg)/(end-a.AzimuthDeg))
		}
	}
	return elevation < top
}

// Every tenth of a second of the days around, seen from outside: passes over a
// rough skyline say within 0.2 s when the object is in sight.
func TestPassesOverSkylineAgainstScan(t *testing.T) {
	const step = 100 * time.Millisecond
	r := rand.New(rand.NewPCG(2027, 3))
	passes, hidden, hiddenPeaks, worst := 0, 0, 0, 0
	for i := range 30 {
		o := madeOrbit(t, 14.2+r.Float64()*1.6, 0.001+0.004*r.Float64(), 40+r.Float64()*60, r.Float64()*360, r.Float64()*360)
		site := track.Site{LatitudeDeg: r.Float64()*90 - 45, LongitudeDeg: r.Float64()*360 - 180, HeightM: 100}
		skyline := roughSkyline(t, r)
		minimum := []float64{0, -2, 5}[r.IntN(3)]
		from := o.Elements().Epoch.Add(time.Duration(r.Float64() * 48 * float64(time.Hour)))
		to := from.Add(12 * time.Hour)
		found, err := o.PassesOver(context.Background(), site, from, to, skyline.Horizon(minimum))
		if err != nil {
			t.Fatal(err)
		}
		var sight []track.Interval
		for _, p := range found {
			passes++
			hidden += len(p.Hidden)
			sight = append(sight, p.InSight()...)
		}
		highest := make([]float64, len(found))
		for j := range highest {
			highest[j] = -90
		}
		off := 0 // samples in a row that differ
		for at := from; at.Before(to); at = at.Add(step) {
			look, err := o.Look(site, at)
			if err != nil {
				t.Fatal(err)
			}
			if look.ElevationDeg < -6 { // under any skyline; it climbs by less than 0.2° a second there
				at = at.Add(9 * step)
				continue
			}
			want := !hides(skyline.Points(), minimum, look.AzimuthDeg, look.ElevationDeg)
			got := false
			for _, s := range sight {
				got = got || !at.Before(s.From) && !at.After(s.To)
			}
			if got == want {
				off = 0
			} else if off++; off > 2 {
				t.Fatalf("%d: at %s (%.3f°, %.3f°) in sight: %v, want %v", i, at, look.AzimuthDeg, look.ElevationDeg, got, want)
			}
			worst = max(worst, off)
			for j, p := range found {
				if want && !at.Before(p.Rise.Time) && !at.After(p.Set.Time) {
					highest[j] = math.Max(highest[j], look.ElevationDeg)
				}
			}
		}
		for j, p := range found {
			whole := p.Rise.Time.After(from) && p.Set.Time.Before(to)
			if whole && math.Abs(p.Peak.ElevationDeg-highest[j]) > 0.1 {
				t.Errorf("%d: peak %.3f° at %s, want %.3f°", i, p.Peak.ElevationDeg, p.Peak.Time, highest[j])
			}
			if hides(skyline.Points(), minimum, p.Peak.AzimuthDeg, p.Peak.ElevationDeg+1e-6) {
				t.Errorf("%d: the peak %+v is hidden", i, p.Peak)
			}
			level, err := o.PassesOver(context.Background(), site, p.Peak.Time, p.Peak.Time, track.Horizon{MinElevationDeg: -5})
			if err != nil || len(level) != 1 {
				t.Fatal(level, err)
			}
			if level[0].Peak.ElevationDeg > p.Peak.ElevationDeg+0.01 {
				hiddenPeaks++
			}
		}
	}
	t.Logf("%d passes, %d times hidden between rise and set, %d with the highest point hidden, at most %d samples off", passes, hidden, hiddenPeaks, worst)
	if passes < 50 || hidden < 15 || hiddenPeaks < 5 {
		t.Errorf("%d passes, %d hidden stretches, %d hidden peaks: too few to prove anything", passes, hidden, hiddenPeaks)
	}
}

// A skyline that is the same all round is a minimum elevation.
func TestLevelSkylineIsMinimum(t *testing.T) {
	site := track.Site{LatitudeDeg: 57.27, LongitudeDeg: -5.71, HeightM: 40}
	for _, o := range []*track.Orbit{
		madeOrbit(t, 15.1, 0.001, 65, 20, 0),
		madeOrbit(t, 2.0057, 0.72, 63.4, 120, 10),
	} {
		epoch := o.Elements().Epoch
		for _, elevation := range []float64{-2, 0, 7.5, 40} {
			name := fmt.Sprintf("%.1f revolutions, %v°", o.Elements().MeanMotionRevPerDay, elevation)
			want, err := o.Passes(context.Background(), site, epoch, epoch.Add(72*time.Hour), elevation)
			if err != nil || len(want) == 0 {
				t.Fatal(name, len(want), err)
			}
			got, err := o.PassesOver(context.Background(), site, epoch, epoch.Add(72*time.Hour), mustSkyline(t, Point{33, elevation}).Horizon(-10))
			if err != nil || len(got) != len(want) {
				t.Errorf("%s: %d passes, %v, want %d", name, len(got), err, len(want))
				continue
			}
			for i, p := range got {
				for _, c := range [][2]track.Look{{p.Rise, want[i].Rise}, {p.Peak, want[i].Peak}, {p.Set, want[i].Set}} {
					if d := c[0].Time.Sub(c[1].Time).Abs(); d > 2*time.Millisecond {
						t.Errorf("%s: %s off by %v", name, c[1].Time, d)
					}
				}
				if p.Hidden != nil || p.AlwaysUp != want[i].AlwaysUp {
					t.Errorf("%s: %+v, want %+v", name, p, want[i])
				}
			}
		}
	}
}

func BenchmarkPassesOverSkylineLow10Days(b *testing.B) {
	o := madeOrbit(b, 15.1, 0.001, 65, 20, 0)
	site := track.Site{LatitudeDeg: 57.27, LongitudeDeg: -5.71, HeightM: 40}
	horizon := roughSkyline(b, rand.New(rand.NewPCG(1, 2))).Horizon(0)
	epoch := o.Elements().Epoch
	b.ReportAllocs()
	for b.Loop() {
		passes, err := o.PassesOver(context.Background(), site, epoch, epoch.Add(240*time.Hour), horizon)
		if err != nil || len(passes) < 10 {
			b.Fatal(len(passes), err)
		}
	}
}
