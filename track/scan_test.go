package track

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"testing"
	"time"

	"foreaim/track/elements"
)

// scan looks at every whole second after the epoch within from..to, with its
// own rotation and elevation, and returns the stretches at or above the
// minimum, as first and last second.
func scan(t *testing.T, o *Orbit, site Site, from, to int64, minimum float64) [][2]int64 {
	t.Helper()
	const rad = math.Pi / 180
	lat, lon := site.LatitudeDeg*rad, site.LongitudeDeg*rad
	f := 1 / 298.257223563
	c := 1 / math.Sqrt(math.Pow(math.Cos(lat), 2)+math.Pow((1-f)*math.Sin(lat), 2))
	flat := (6378.137*c + site.HeightM/1000) * math.Cos(lat)
	high := (6378.137*c*(1-f)*(1-f) + site.HeightM/1000) * math.Sin(lat)
	// One sidereal angle and the published mean rate (rad/s): the angle itself
	// is tested elsewhere.
	atEpoch := siderealAngle(o.epoch)
	sinMin := math.Sin(minimum * rad)
	sinLat, cosLat := math.Sin(lat), math.Cos(lat)
	var found [][2]int64
	for k := from; k <= to; k++ {
		s, err := o.at(k)
		if err != nil {
			t.Fatal(err)
		}
		local := math.Mod(atEpoch+7.2921158553e-5*float64(k), 2*math.Pi) + lon
		x, y := math.Cos(local), math.Sin(local)
		dx, dy, dz := s.PositionKm[0]-flat*x, s.PositionKm[1]-flat*y, s.PositionKm[2]-high
		sinEl := (cosLat*(x*dx+y*dy) + sinLat*dz) / math.Sqrt(dx*dx+dy*dy+dz*dz)
		if sinEl < sinMin {
			continue
		}
		if n := len(found); n > 0 && found[n-1][1] == k-1 {
			found[n-1][1] = k
		} else {
			found = append(found, [2]int64{k, k})
		}
	}
	return found
}

// randomSet makes an invented set of one of several kinds.
func randomSet(r *rand.Rand, kind string) elements.Set {
	between := func(low, high float64) float64 { return low + r.Float64()*(high-low) }
	var perigee, apogee float64 // heights, km
	inclination := math.Acos(between(-1, 1)) * 180 / math.Pi
	argument := between(0, 360)
	switch kind {
	case "low":
		perigee = between(250, 1500)
		apogee = perigee + between(0, 60)
	case "eccentric":
		perigee = between(200, 900)
		apogee = between(1500, 8000)
	case "transfer":
		perigee, apogee, inclination = between(200, 900), between(30000, 36500), between(0, 60)
	case "twelve hours":
		perigee, apogee, inclination, argument = between(500, 1500), 39500, between(60, 66), between(260, 280)
	case "middle":
		perigee = between(8000, 20200)
		apogee = perigee + between(0, 500)
	case "synchronous":
		perigee, apogee, inclination = 35700, between(35800, 36500), between(0, 30)
	}
	a := (perigee+apogee)/2 + 6378.135
	set := elements.Set{
		Name: kind, CatalogueNumber: 1 + r.IntN(999999999),
		Epoch:               time.Date(2026, 1, 1, 0, 0, 0, r.IntN(1e9), time.UTC).Add(time.Duration(r.IntN(4*365*86400)) * time.Second),
		MeanMotionRevPerDay: 86400 / (2 * math.Pi) * math.Sqrt(398600.8/(a*a*a)),
		Eccentricity:        (apogee - perigee) / 2 / a,
		InclinationDeg:      inclination, NodeDeg: between(0, 360), PerigeeDeg: argument, AnomalyDeg: between(0, 360),
		BStar: between(0, 3e-4),
	}
	return set
}

func randomSite(r *rand.Rand) Site {
	site := Site{LatitudeDeg: math.Asin(2*r.Float64()-1) * 180 / math.Pi, LongitudeDeg: r.Float64()*360 - 180, HeightM: r.Float64() * 3000}
	if r.IntN(12) == 0 {
		site.LatitudeDeg = math.Copysign(90, site.LatitudeDeg)
	}
	return site
}

// Against every second of 200 random orbits and sites: no pass missed, none
// invented, rise and set in the right second.
func TestPassesAgainstScan(t *testing.T) {
	kinds := []string{"low", "low", "low", "low", "grazing", "grazing", "grazing", "eccentric", "eccentric", "transfer", "twelve hours", "middle", "synchronous"}
	r := rand.New(rand.NewPCG(2026, 11))
	total := 0
	for i := range 200 {
		kind := kinds[i%len(kinds)]
		hours := 12
		made := kind
		if kind == "grazing" {
			made = "low"
		}
		set, site := randomSet(r, made), randomSite(r)
		o, err := NewOrbit(set)
		if err != nil {
			t.Fatal(err)
		}
		from := o.epoch.Add(time.Duration((r.Float64()*6 - 2) * 86400 * 1e9))
		to := from.Add(time.Duration(hours) * time.Hour)
		minimum := []float64{0, 0, 0, 5, 10, 30, 60, -5}[r.IntN(8)]
		if kind == "grazing" {
			minimum = graze(t, r, o, site, from, to)
		}
		name := fmt.Sprintf("%d %s: from %s, %+v above %.4f°", i, kind, from.Format(time.RFC3339Nano), site, minimum)
		passes, err := o.Passes(context.Background(), site, from, to, minimum)
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		first, last := int64(math.Ceil(from.Sub(o.epoch).Seconds())), int64(math.Floor(to.Sub(o.epoch).Seconds()))
		want := scan(t, o, site, first, last, minimum)
		total += len(want)
		compare(t, name, o, passes, want, first, last)
		for _, p := range passes {
			checkPass(t, name, o, site, from, to, minimum, p)
		}
	}
	if total < 350 {
		t.Errorf("only %d passes in the scan: too few to prove anything", total)
	}
}

// graze returns a minimum elevation just under, at times just over, the peak of
// one of the passes.
func graze(t *testing.T, r *rand.Rand, o *Orbit, site Site, from, to time.Time) float64 {
	passes, err := o.Passes(context.Background(), site, from, to, -2)
	if err != nil {
		t.Fatal(err)
	}
	if len(passes) == 0 {
		return 0
	}
	below := []float64{0.03, 0.003, 0.0003, 0.00003, -0.0003}[r.IntN(5)]
	return passes[r.IntN(len(passes))].Peak.ElevationDeg - below
}

func compare(t *testing.T, name string, o *Orbit, passes []Pass, want [][2]int64, first, last int64) {
	t.Helper()
	for _, p := range passes {
		rise, set := p.Rise.Time.Sub(o.epoch).Seconds(), p.Set.Time.Sub(o.epoch).Seconds()
		a, b := max(int64(math.Ceil(rise-1e-6)), first), min(int64(math.Floor(set+1e-6)), last)
		if a > b { // within one second, or touching the window's end only
			continue
		}
		if len(want) == 0 || want[0] != [2]int64{a, b} {
			t.Errorf("%s: search has %d to %d, scan has %v", name, a, b, want)
			return
		}
		want = want[1:]
	}
	if len(want) > 0 {
		t.Errorf("%s: missed %v", name, want)
	}
}

// checkPass looks at a pass from outside: at the minimum at both ends, below it
// just outside, nowhere higher than its peak.
func checkPass(t *testing.T, name string, o *Orbit, site Site, from, to time.Time, minimum float64, p Pass) {
	t.Helper()
	elevation := func(at time.Time) float64 {
		look, err := o.Look(site, at)
		if err != nil {
			t.Fatal(err)
		}
		return look.ElevationDeg
	}
	if p.Peak.Time.Before(p.Rise.Time) || p.Peak.Time.After(p.Set.Time) || p.Peak.ElevationDeg < minimum-1e-6 {
		t.Errorf("%s: peak %+v out of the pass %s to %s", name, p.Peak, p.Rise.Time, p.Set.Time)
	}
	for i := range 100 {
		at := p.Rise.Time.Add(p.Duration() * time.Duration(i) / 99)
		if e := elevation(at); e > p.Peak.ElevationDeg+0.001 {
			t.Errorf("%s: %.4f° at %s is above the peak %.4f° at %s", name, e, at, p.Peak.ElevationDeg, p.Peak.Time)
			return
		}
	}
	if p.AlwaysUp {
		return
	}
	// A drifting object may stay up for longer than the search follows it.
	atReach := func(at, end time.Time) bool { return math.Abs(at.Sub(end).Hours()) > 239.99 }
	for _, end := range []struct {
		look    Look
		outside time.Time
		reached bool
	}{
		{p.Rise, p.Rise.Time.Add(-time.Second), atReach(p.Rise.Time, from)},
		{p.Set, p.Set.Time.Add(time.Second), atReach(p.Set.Time, to)},
	} {
		if end.reached {
			continue
		}
		if math.Abs(end.look.ElevationDeg-minimum) > 1e-4 || elevation(end.outside) >= minimum {
			t.Errorf("%s: %+v is not an end of the pass", name, end.look)
		}
	}
}
