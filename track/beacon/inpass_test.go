package beacon

import (
	"errors"
	"math"
	"strings"
	"testing"
	"time"

	"foreaim/track"
)

var _ Looker = (*track.Orbit)(nil)

// straight is an object that approaches for a minute from its rise and then
// goes away; it can't be told after its end.
type straight struct{ rise, end time.Time }

var errDecayed = errors.New("decayed")

func (o straight) Look(site track.Site, t time.Time) (track.Look, error) {
	if t.After(o.end) {
		return track.Look{}, errDecayed
	}
	s := t.Sub(o.rise).Seconds()
	rate := -7.0
	if s >= 60 {
		rate = 5
	}
	return track.Look{Time: t, AzimuthDeg: s + site.LatitudeDeg, ElevationDeg: s / 10, RangeKm: 2000 - s, RangeRateKmS: rate}, nil
}

func passFor(rise time.Time, d time.Duration) track.Pass {
	return track.Pass{Rise: track.Look{Time: rise}, Set: track.Look{Time: rise.Add(d)}}
}

// Receive frequencies by hand from the speed of light in vacuum (SI),
// 437 MHz × (1 − v/299792.458 km/s): 10203.726 Hz more at −7 km/s, 7288.375 Hz
// less at 5 km/s.
func TestInPass(t *testing.T) {
	rise := at("12:00:10")
	object := straight{rise, rise.Add(time.Hour)}
	site := track.Site{LatitudeDeg: 20}
	s := Schedule{Period: 30 * time.Second, First: at("12:00:00"), Length: time.Second, Tolerance: 100 * time.Millisecond}
	got, err := InPass(object, site, passFor(rise, 80*time.Second), s, 437e6)
	if err != nil {
		t.Fatal(err)
	}
	want := []struct {
		number             int
		time               time.Time
		azimuth, receiveHz float64
	}{
		{1, at("12:00:30"), 40, 437010203.726},
		{2, at("12:01:00"), 70, 437010203.726},
		// The next starts at the set and is not in the pass.
	}
	if len(got) != len(want) {
		t.Fatalf("%d bursts, want %d: %v", len(got), len(want), got)
	}
	for i, w := range want {
		g := got[i]
		if g.Number != w.number || !g.Time.Equal(w.time) || !g.Look.Time.Equal(w.time) || g.UncertaintyS != 0.1 ||
			g.Look.AzimuthDeg != w.azimuth || math.Abs(g.ReceiveHz-w.receiveHz) > 0.001 {
			t.Errorf("burst %d: %+v, want %+v", i, g, w)
		}
	}

	got, err = InPass(object, site, passFor(rise, 81*time.Second), s, 437e6)
	if err != nil || len(got) != 3 || math.Abs(got[2].ReceiveHz-436992711.625) > 0.001 {
		t.Errorf("a second later: %v, %v, want a third burst at 436992711.625 Hz", got, err)
	}
	got, err = InPass(object, site, passFor(rise, 80*time.Second), s, 0)
	if err != nil || len(got) != 2 || got[0].ReceiveHz != 0 {
		t.Errorf("unknown frequency: %v, %v, want two bursts at 0 Hz", got, err)
	}
	if got, err = InPass(object, site, passFor(rise, 10*time.Second), s, 0); err != nil || len(got) != 0 {
		t.Errorf("a pass between two bursts: %v, %v, want none", got, err)
	}
}

func TestInPassFails(t *testing.T) {
	rise := at("12:00:10")
	object := straight{rise, rise.Add(time.Minute)}
	good := Schedule{Period: 30 * time.Second, First: rise}
	minute := passFor(rise, time.Minute)
	for _, c := range []struct {
		name string
		pass track.Pass
		s    Schedule
		hz   float64
		is   error
		want string
	}{
		{"no phase", minute, Schedule{Period: 30 * time.Second}, 0, ErrPhaseUnknown, "longest wait for one is 30s"},
		{"no period", minute, Schedule{First: rise}, 0, nil, "burst period 0s"},
		{"always up", passFor(rise, 10*24*time.Hour), Schedule{Period: MinPeriod, First: rise}, 0, ErrTooManyBursts, "8640000 from 2026-03-01T12:00:10Z"},
		{"decays", passFor(rise, 2*time.Minute), good, 0, errDecayed, "burst 3 at 2026-03-01T12:01:40Z: decayed"},
		{"negative frequency", minute, good, -1, nil, "frequency -1 Hz"},
		{"no frequency", minute, good, math.NaN(), nil, "frequency NaN Hz"},
		{"endless frequency", minute, good, math.Inf(1), nil, "frequency +Inf Hz"},
	} {
		t.Run(c.name, func(t *testing.T) {
			got, err := InPass(object, track.Site{}, c.pass, c.s, c.hz)
			if err == nil || got != nil || !strings.Contains(err.Error(), c.want) || c.is != nil && !errors.Is(err, c.is) {
				t.Fatalf("got %v, %v, want error %q", got, err, c.want)
			}
		})
	}
}
