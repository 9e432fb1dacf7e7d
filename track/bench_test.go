package track

import (
	"context"
	"testing"
	"time"
)

var benchSite = Site{LatitudeDeg: 57.27, LongitudeDeg: -5.71, HeightM: 40}

func BenchmarkLook(b *testing.B) {
	o := orbit(b, invented(b)["INVENTED-1"])
	at := o.epoch
	for b.Loop() {
		at = at.Add(777 * time.Millisecond)
		if _, err := o.Look(benchSite, at); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkPassesLow10Days(b *testing.B) {
	benchmarkPasses(b, orbit(b, invented(b)["INVENTED-1"]))
}

func BenchmarkPassesMolniya10Days(b *testing.B) {
	set := invented(b)["INVENTED-3"]
	set.Eccentricity, set.InclinationDeg, set.PerigeeDeg, set.MeanMotionRevPerDay = 0.72, 63.4, 270, 2.00572351
	benchmarkPasses(b, orbit(b, set))
}

func benchmarkPasses(b *testing.B, o *Orbit) {
	b.ReportAllocs()
	for b.Loop() {
		passes, err := o.Passes(context.Background(), benchSite, o.epoch, o.epoch.Add(240*time.Hour), 0)
		if err != nil || len(passes) < 10 {
			b.Fatal(len(passes), err)
		}
	}
}

// A deep-space orbit a month after its epoch: the library starts its resonance
// integration from the epoch at every call.
func BenchmarkLookDeep30Days(b *testing.B) {
	set := invented(b)["INVENTED-3"]
	set.Eccentricity, set.InclinationDeg, set.PerigeeDeg = 0.72, 63.4, 270
	o := orbit(b, set)
	at := o.epoch.Add(30 * 24 * time.Hour)
	for b.Loop() {
		at = at.Add(777 * time.Millisecond)
		if _, err := o.Look(benchSite, at); err != nil {
			b.Fatal(err)
		}
	}
}
