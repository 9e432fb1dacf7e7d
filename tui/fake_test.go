package tui

import (
	"context"
	"errors"
	"math"
	"time"

	"foreaim/gps"
	"foreaim/track"
	"foreaim/track/beacon"
	"foreaim/track/elements"
	"foreaim/track/outing"
	"foreaim/track/terrain"
)

// start is the moment at which the tests' stories begin: the peak of a pass.
var start = time.Date(2026, 6, 10, 10, 0, 0, 0, time.UTC)

// zone is where the stories play.
var zone = time.FixedZone("SAST", 2*3600)

// meadow is the site.
var meadow = track.Site{LatitudeDeg: -31.4, LongitudeDeg: 19.2, HeightM: 900}

// arc is an invented object that flies past on a straight line over a round
// Earth, again and again. Its angles follow from its peak alone, so a test can
// put a pass wherever it wants one.
type arc struct {
	peakAzimuthDeg   float64
	peakElevationDeg float64
	every            time.Duration // from peak to peak; 0: it stands still at the peak
	leftward         bool
	broken           error // returned instead of any answer
	never            bool  // no pass is ever found
	epoch            time.Time
	number           int // catalogue number
}

const (
	arcSpeedKmS = 7.4
	arcHeightKm = 520.0
	earthKm     = 6371.0
)

func (a arc) Elements() elements.Set {
	return elements.Set{Epoch: a.epoch, CatalogueNumber: a.number}
}

// at returns where the object is against the site: east, north, up in km.
func (a arc) at(t time.Time) [3]float64 {
	const rad = math.Pi / 180
	since := t.Sub(start).Seconds()
	if a.every > 0 {
		since = math.Remainder(since, a.every.Seconds())
	} else {
		since = 0
	}
	if a.leftward {
		since = -since
	}
	distance := arcHeightKm / math.Sin(a.peakElevationDeg*rad)
	along := arcSpeedKmS * since
	out := distance * math.Cos(a.peakElevationDeg*rad)
	sin, cos := math.Sincos(a.peakAzimuthDeg * rad)
	return [3]float64{out*sin + along*cos, out*cos - along*sin, arcHeightKm - along*along/2/earthKm}
}

func (a arc) Look(_ track.Site, t time.Time) (track.Look, error) {
	if a.broken != nil {
		return track.Look{}, a.broken
	}
	p, q := a.at(t), a.at(t.Add(time.Second))
	length := func(v [3]float64) float64 { return math.Sqrt(v[0]*v[0] + v[1]*v[1] + v[2]*v[2]) }
	const deg = 180 / math.Pi
	return track.Look{
		Time:         t,
		AzimuthDeg:   track.Wrap360(math.Atan2(p[0], p[1]) * deg),
		ElevationDeg: math.Asin(p[2]/length(p)) * deg,
		RangeKm:      length(p),
		RangeRateKmS: length(q) - length(p),
	}, nil
}

// LookLate is the object some seconds later, over an Earth that stands still.
func (a arc) LookLate(site track.Site, t time.Time, lateS float64) (track.Look, error) {
	look, err := a.Look(site, t.Add(-time.Duration(lateS*float64(time.Second))))
	look.Time = t
	return look, err
}

// OffDeg is the angle between the line of sight now and lateS seconds earlier,
// by the scalar product.
func (a arc) OffDeg(_ track.Site, t time.Time, lateS float64) (float64, error) {
	p, q := a.at(t), a.at(t.Add(-time.Duration(lateS*float64(time.Second))))
	dot := func(v, w [3]float64) float64 { return v[0]*w[0] + v[1]*w[1] + v[2]*w[2] }
	return math.Acos(dot(p, q)/math.Sqrt(dot(p, p)*dot(q, q))) * 180 / math.Pi, a.broken
}

// PassesOver looks at the skyline once a second.
func (a arc) PassesOver(ctx context.Context, site track.Site, from, to time.Time, horizon track.Horizon) ([]track.Pass, error) {
	passes, err := a.passes(ctx, site, from, to, horizon.MinElevationDeg)
	if horizon.SkylineDeg == nil {
		return passes, err
	}
	var all []track.Pass
	for _, p := range passes {
		var seen *track.Pass
		for t := p.Rise.Time; !t.After(p.Set.Time); t = t.Add(time.Second) {
			look, _ := a.Look(site, t)
			switch {
			case look.ElevationDeg < horizon.SkylineDeg(look.AzimuthDeg):
				continue
			case seen == nil:
				seen = &track.Pass{Rise: look, Peak: look}
			case t.Sub(seen.Set.Time) > time.Second:
				seen.Hidden = append(seen.Hidden, track.Interval{From: seen.Set.Time, To: t})
			}
			seen.Set = look
			if look.ElevationDeg > seen.Peak.ElevationDeg {
				seen.Peak = look
			}
		}
		if seen != nil {
			all = append(all, *seen)
		}
	}
	return all, err
}

func (a arc) passes(ctx context.Context, site track.Site, from, to time.Time, minElevationDeg float64) ([]track.Pass, error) {
	if a.broken != nil {
		return nil, a.broken
	}
	if a.never || ctx.Err() != nil {
		return nil, ctx.Err()
	}
	look := func(t time.Time) track.Look { l, _ := a.Look(site, t); return l }
	if a.every == 0 {
		return []track.Pass{{Rise: look(from), Peak: look(from), Set: look(to), AlwaysUp: true}}, nil
	}
	// One pass is like the other, on both sides of its peak.
	low, high := a.every/2, time.Duration(0)
	for low-high > time.Millisecond {
		middle := (low + high) / 2
		if look(start.Add(middle)).ElevationDeg > minElevationDeg {
			high = middle
		} else {
			low = middle
		}
	}
	var passes []track.Pass
	first := start.Add(from.Sub(start).Truncate(a.every) - a.every)
	for peak := first; peak.Before(to.Add(a.every)); peak = peak.Add(a.every) {
		p := track.Pass{
			Rise: look(peak.Add(-low)),
			Peak: look(peak),
			Set:  look(peak.Add(low)),
		}
		if p.Set.Time.After(from) && p.Rise.Time.Before(to) {
			passes = append(passes, p)
		}
	}
	return passes, nil
}

// story is a situation to be shown.
type story struct {
	object    arc
	schedule  beacon.Schedule
	at        time.Duration // after start
	noSite    bool
	noFacing  bool
	facingDeg float64
	reports   []gps.Report
	title     string
	change    func(*Config)                   // of the configuration; may be nil
	second    *arc                            // another satellite, LARKSPUR-3; nil: none
	likely    func(at time.Time) track.Likely // of the first; may be nil
	twist     bool                            // may matter
	earlier   Earlier                         // how late the first was
}

// everyHalfMinute is a beacon with known bursts.
var everyHalfMinute = beacon.Schedule{Period: 30 * time.Second, First: start.Add(7 * time.Second), Length: 2 * time.Second, Tolerance: 300 * time.Millisecond}

// earlier has its last burst well before the usual pass ends.
var earlier = beacon.Schedule{Period: 30 * time.Second, First: start, Length: 2 * time.Second, Tolerance: 300 * time.Millisecond}

const orbitEvery = 95 * time.Minute

// usual flies past in the south-east, from right to left.
var usual = arc{peakAzimuthDeg: 140, peakElevationDeg: 48, every: orbitEvery, leftward: true, epoch: start.Add(-30 * time.Hour)}

// trees hide the sky up to 28° in the south-west, and a house up to 45° a part
// of the south-east; the rest is free.
func trees() terrain.Skyline {
	s, err := terrain.NewSkyline(
		terrain.Point{AzimuthDeg: 60, ElevationDeg: 0}, terrain.Point{AzimuthDeg: 100, ElevationDeg: 0},
		terrain.Point{AzimuthDeg: 101, ElevationDeg: 45}, terrain.Point{AzimuthDeg: 125, ElevationDeg: 45},
		terrain.Point{AzimuthDeg: 126, ElevationDeg: 0}, terrain.Point{AzimuthDeg: 184, ElevationDeg: 0},
		terrain.Point{AzimuthDeg: 185, ElevationDeg: 28}, terrain.Point{AzimuthDeg: 260, ElevationDeg: 28},
		terrain.Point{AzimuthDeg: 300, ElevationDeg: 0},
	)
	if err != nil {
		panic(err)
	}
	return s
}

// goodReport is a receiver's report at a moment of a computer that is slow by
// some seconds.
func goodReport(computer time.Time, slowS float64) gps.Report {
	return gps.Report{
		State: gps.Fixed,
		Fix: gps.Fix{
			Time: computer.Add(time.Duration(slowS * float64(time.Second))), Received: computer,
			LatitudeDeg: meadow.LatitudeDeg, LongitudeDeg: meadow.LongitudeDeg, AltitudeM: meadow.HeightM,
			AltitudeKnown: true, Quality: "gps", SatellitesUsed: 9, HDOP: 1.1,
		},
		Clock:    gps.Clock{Known: true, OffsetS: slowS, UncertaintyS: 0.2, At: computer},
		Source:   "serial:///dev/ttyUSB0?baud=9600",
		LastByte: computer,
	}
}

// stories are the situations that the screens are checked in.
var stories = map[string]story{
	"move":     {object: usual, schedule: everyHalfMinute, at: -138 * time.Second, facingDeg: 150},
	"still":    {object: usual, schedule: everyHalfMinute, at: -113*time.Second - 500*time.Millisecond, facingDeg: 150},
	"burst":    {object: usual, schedule: everyHalfMinute, at: -112 * time.Second, facingDeg: 150},
	"woods":    {object: usual, schedule: everyHalfMinute, at: -80 * time.Second, facingDeg: 150, change: func(c *Config) { c.Skyline = trees() }},
	"nofacing": {object: usual, schedule: everyHalfMinute, at: -80 * time.Second, noFacing: true},
	"before":   {object: usual, schedule: everyHalfMinute, at: -20 * time.Minute, facingDeg: 150},
	"last":     {object: usual, schedule: earlier, at: 275 * time.Second, facingDeg: 150},
	"over":     {object: usual, schedule: earlier, at: 282 * time.Second, facingDeg: 150},
	"sweep":    {object: usual, schedule: beacon.Schedule{Period: 45 * time.Second}, at: 20 * time.Second, facingDeg: 150},
	"north": {object: arc{peakAzimuthDeg: 355, peakElevationDeg: 30, every: orbitEvery, epoch: start.Add(-90 * time.Hour)},
		schedule: everyHalfMinute, at: -10 * time.Second, facingDeg: 350},
	"overhead": {object: arc{peakAzimuthDeg: 60, peakElevationDeg: 86, every: orbitEvery, epoch: start.Add(-2 * time.Hour)},
		schedule: everyHalfMinute, at: -8 * time.Second, facingDeg: 60},
	"nosite":  {object: usual, schedule: everyHalfMinute, noSite: true, reports: []gps.Report{{State: gps.Searching, Source: "serial:///dev/ttyUSB0?baud=9600"}}},
	"nopass":  {object: arc{never: true, peakElevationDeg: 10, epoch: start}, schedule: everyHalfMinute},
	"trouble": {object: arc{broken: errors.New("decayed: 12 km\x1b[31m above the ground on 2026-06-09"), epoch: start.Add(-400 * time.Hour)}, schedule: everyHalfMinute},
	"always":  {object: arc{peakAzimuthDeg: 200, peakElevationDeg: 61, epoch: start.Add(-10 * time.Hour)}, schedule: everyHalfMinute, facingDeg: 180},
	"slow": {object: usual, schedule: everyHalfMinute, at: -138 * time.Second, facingDeg: 150,
		reports: []gps.Report{goodReport(start.Add(-139*time.Second-90*time.Second), 90)}},
}

// config returns the configuration of a story; its clock is the given one.
func (s story) config(now func() time.Time) (Config, []target) {
	c := Config{
		Now: now, Zone: zone, Site: meadow, SiteKnown: !s.noSite,
		FacingDeg: s.facingDeg, FacingKnown: !s.noFacing, MinElevationDeg: 5, Title: s.title,
		Checks: []outing.Item{}, // none; see TestChecklist
	}
	if s.reports != nil {
		reports := make(chan gps.Report, 1)
		reports <- s.reports[0]
		c.Reports = reports
	}
	if s.change != nil {
		s.change(&c)
	}
	targets := []target{{Target: Target{Name: "LARKSPUR-2", FrequencyHz: 437.45e6, Schedule: s.schedule, File: "larks.tle", Likely: s.likely, TwistUnknown: s.twist, EarlierLate: s.earlier}, orbit: s.object}}
	if s.second != nil {
		targets = append(targets, target{Target: Target{Name: "LARKSPUR-3", FrequencyHz: 437.35e6, Schedule: s.schedule}, orbit: *s.second})
	}
	return c, targets
}

// clock returns the computer's clock at the story's moment.
func (s story) clock() time.Time {
	t := start.Add(s.at)
	if s.reports != nil && s.reports[0].Clock.Known {
		t = t.Add(-time.Duration(s.reports[0].Clock.OffsetS * float64(time.Second)))
	}
	return t
}
