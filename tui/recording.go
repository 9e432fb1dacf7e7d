package tui

import (
	"errors"
	"math"
	"slices"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"foreaim/gps"
	"foreaim/track"
	"foreaim/track/aim"
	"foreaim/track/outing"
	"foreaim/track/terrain"
)

const (
	// fixEvery and clockEvery are how often a fix and the clock's error are
	// recorded while they don't change.
	fixEvery   = time.Minute
	clockEvery = 5 * time.Minute
	// sensorEvery is the least time between two headings in the record.
	sensorEvery = time.Second
	// clockMovedS and aimMovedDeg are changes worth a record.
	clockMovedS = 0.2
	aimMovedDeg = 0.5
)

// recording writes into the record what is worth keeping, when it changes.
type recording struct {
	to    Recorder // nil: nothing is recorded
	start outing.StartEntry
	begun bool

	target   int // number of the one whose elements are in the record
	pass     *track.Pass
	facing   facing
	advised  aim.Hold
	believed *aim.Advice // then
	reached  time.Time   // the start of the burst of the last hold reached
	site     track.Site
	fixAt    time.Time
	clock    gps.Clock
	clockAt  time.Time
	warned   []string        // that hold
	outline  []terrain.Point // of the skyline, that are in the record
	sensor   outing.SensorEntry
	sensed   time.Time
}

func newRecording(c Config) recording {
	r := recording{to: c.Record, start: c.Start}
	if c.Resume != nil {
		r.start.Continued = true
		r.warned = slices.Clone(c.Resume.Warnings)
		if len(c.Resume.Skyline) > 0 {
			r.outline = startLayers(c).skyline().Points()
		}
	}
	return r
}

// tidy rounds a value to what a record keeps: six decimals.
func tidy(value float64) float64 { return math.Round(value*1e6) / 1e6 }

// number is a value for the record.
func number(value float64) outing.Number { return outing.NumberOf(tidy(value)) }

// put records an entry at a true time, and before the first one the start.
func (r *recording) put(at time.Time, e outing.Entry) {
	if r.to == nil {
		return
	}
	if !r.begun {
		r.begun = true
		if r.start.Outing == "" {
			r.start.Outing = outing.Text(at.UTC().Format("20060102T150405Z"))
		}
		r.to.Record(at, r.start)
	}
	r.to.Record(at, e)
}

// marks records marks of a satellite that are new or changed.
func (r *recording) marks(at time.Time, catalogueNumber int, changed []outing.Mark) {
	for _, k := range changed {
		k.CatalogueNumber = catalogueNumber
		k.Origin.UncertaintyS = tidy(k.Origin.UncertaintyS)
		r.put(at, outing.MarkEntryOf(k))
	}
}

// end closes the record.
func (r *recording) end(at time.Time, err error) {
	if !r.begun {
		return
	}
	reason := "left"
	switch {
	case errors.Is(err, tea.ErrInterrupted):
		reason = "interrupted"
	case err != nil:
		reason = "failed: " + err.Error()
	}
	r.put(at, outing.EndEntry{Reason: outing.Text(reason)})
}

// watch records what has changed since it was called last.
func (r *recording) watch(s *scene) {
	if r.to == nil {
		return
	}
	r.watchSkyline(s.now, s.outline)
	r.watchReceiver(s)
	r.watchSensor(s)
	r.watchTarget(s)
	r.watchHolds(s)
	r.watchWarnings(s)
}

// watchReceiver records the fix and the clock's error.
func (r *recording) watchReceiver(s *scene) {
	if fix := s.report.Fix; fix.Valid() && (r.fixAt.IsZero() || s.site != r.site || s.now.Sub(r.fixAt).Abs() >= fixEvery) {
		r.fixAt, r.site = s.now, s.site
		e := outing.FixEntry{
			LatitudeDeg: number(fix.LatitudeDeg), LongitudeDeg: number(fix.LongitudeDeg),
			Quality: outing.Text(fix.Quality), Satellites: fix.SatellitesUsed,
		}
		if fix.AltitudeKnown {
			e.AltitudeM = number(fix.AltitudeM)
		}
		if fix.HDOP > 0 {
			e.HDOP = number(fix.HDOP)
		}
		r.put(s.now, e)
	}
	c := s.clock
	if !c.Known {
		return
	}
	if moved := math.Abs(c.OffsetS - r.clock.OffsetS); r.clockAt.IsZero() || moved > clockMovedS || s.now.Sub(r.clockAt).Abs() >= clockEvery {
		r.clock, r.clockAt = c, s.now
		r.put(s.now, outing.ClockEntry{
			OffsetS:      number(c.OffsetS),
			UncertaintyS: number(c.UncertaintyAt(s.computer)),
		})
	}
}

// watchSensor records where a sensor on the boom points, when that has changed.
func (r *recording) watchSensor(s *scene) {
	h := s.report.Heading
	if h == nil || !r.sensed.IsZero() && s.now.Sub(r.sensed).Abs() < sensorEvery {
		return
	}
	var e outing.SensorEntry
	switch {
	case h.TrueKnown:
		e.TrueDeg = number(h.TrueDeg)
	case s.sensed.known: // by the declination: a review knows none
		e.TrueDeg = number(s.sensed.rawDeg)
	}
	if h.MagneticKnown {
		e.MagneticDeg = number(h.MagneticDeg)
	}
	if h.PitchKnown {
		e.PitchDeg = number(h.PitchDeg)
	}
	if e == r.sensor {
		return
	}
	r.sensor, r.sensed = e, s.now
	r.put(s.now, e)
}

// watchTarget records elements, pass and facing.
func (r *recording) watchTarget(s *scene) {
	if s.stage != noTarget && r.target != s.number {
		r.target, r.pass = s.number, nil
		set := s.target.orbit.Elements()
		e := outing.ElementsEntry{
			Satellite:       outing.Text(s.target.Name),
			CatalogueNumber: set.CatalogueNumber,
			Epoch:           outing.TimeOf(set.Epoch),
			File:            outing.Text(s.target.File),
		}
		if line1, line2, err := set.TLE(); err == nil {
			e.Line1, e.Line2 = outing.Text(line1), outing.Text(line2)
		}
		r.put(s.now, e)
	}
	if s.facing != r.facing {
		r.facing = s.facing
		r.put(s.now, facingEntry(s))
	}
	if s.pass != nil && (r.pass == nil || !r.pass.Equal(*s.pass)) {
		if r.fixAt.IsZero() && r.site != s.site { // no receiver has told where one stands
			r.site = s.site
			r.put(s.now, outing.FixEntry{
				LatitudeDeg: number(s.site.LatitudeDeg), LongitudeDeg: number(s.site.LongitudeDeg),
				AltitudeM: number(s.site.HeightM), Quality: "given",
			})
		}
		p := *s.pass
		r.pass, r.advised, r.reached = &p, aim.Hold{}, time.Time{}
		r.put(s.now, passEntry(s.target, p))
	}
}

// facingEntry is the facing and what it is made of; without an azimuth when it
// was taken back.
func facingEntry(s *scene) outing.FacingEntry {
	f := s.facing
	e := outing.FacingEntry{How: outing.Text(f.how), Ahead: outing.Text(f.ahead), References: s.made}
	if f.known {
		e.AzimuthDeg = number(f.deg)
	}
	if f.sigmaDeg > 0 {
		e.SigmaDeg = number(f.sigmaDeg)
	}
	if f.magnetic {
		e.DeclinationDeg = number(f.declinationDeg)
	}
	if f.sensor.Set {
		e.SensorOffsetDeg = number(f.sensor.OffsetDeg)
	}
	if f.sensor.PitchOffsetDeg != 0 {
		e.SensorPitchOffsetDeg = number(f.sensor.PitchOffsetDeg)
	}
	return e
}

func passEntry(t target, p track.Pass) outing.PassEntry {
	look := func(l track.Look) outing.LookEntry {
		return outing.LookEntry{
			Time: outing.TimeOf(l.Time), AzimuthDeg: number(l.AzimuthDeg),
			ElevationDeg: number(l.ElevationDeg), RangeKm: number(l.RangeKm),
		}
	}
	e := outing.PassEntry{
		Satellite: outing.Text(t.Name), CatalogueNumber: t.orbit.Elements().CatalogueNumber,
		Rise: look(p.Rise), Peak: look(p.Peak), Set: look(p.Set),
		First: outing.TimeOf(t.Schedule.First),
	}
	for _, v := range []struct {
		to    *outing.Number
		value float64
	}{
		{&e.FrequencyHz, t.FrequencyHz},
		{&e.PeriodS, t.Schedule.Period.Seconds()},
		{&e.LengthS, t.Schedule.Length.Seconds()},
		{&e.ToleranceS, t.Schedule.Tolerance.Seconds()},
	} {
		if v.value > 0 {
			*v.to = number(v.value)
		}
	}
	return e
}

// watchHolds records what was advised, and the holds as their time comes.
func (r *recording) watchHolds(s *scene) {
	h := s.moment.Next
	if h == nil {
		r.watchEnd(s)
		return
	}
	a := r.advised
	if h.Number != a.Number || !h.At.Equal(a.At) || math.Abs(h.ElevationDeg-a.ElevationDeg) > aimMovedDeg ||
		math.Abs(track.TurnDeg(a.AzimuthDeg, h.AzimuthDeg)) > aimMovedDeg || s.belief != r.believed {
		r.advised, r.believed = *h, s.belief
		e := outing.AdviceEntry{
			Number: h.Number, Time: outing.TimeOf(h.At),
			AzimuthDeg: number(h.AzimuthDeg), ElevationDeg: number(h.ElevationDeg),
		}
		s.tellBeliefTo(&e)
		if words := s.step(); len(words) > 0 {
			e.Words = outing.Text(words[0])
			if s.rhythm != "" {
				e.Words += outing.Text("; " + s.rhythm)
			}
		}
		r.put(s.now, e)
	}
	if s.moment.Now && !h.At.Equal(r.reached) {
		r.reached = h.At
		r.put(s.now, outing.HoldEntry{
			Number: h.Number, Time: outing.TimeOf(h.At), Until: outing.TimeOf(h.Until),
			AzimuthDeg: number(h.AzimuthDeg), ElevationDeg: number(h.ElevationDeg),
		})
	}
}

// watchEnd records what is believed after the last burst.
func (r *recording) watchEnd(s *scene) {
	h := s.moment.Last
	if h == nil || s.belief == nil || s.belief == r.believed {
		return
	}
	r.believed = s.belief
	e := outing.AdviceEntry{
		Number: h.Number, Time: outing.TimeOf(h.At),
		AzimuthDeg: number(h.AzimuthDeg), ElevationDeg: number(h.ElevationDeg),
	}
	s.tellBeliefTo(&e)
	r.put(s.now, e)
}

// watchWarnings records warnings as they come and as they go.
func (r *recording) watchWarnings(s *scene) {
	var hold []string
	for _, m := range s.status() {
		if m.warning && m.kept != "" && !slices.Contains(hold, m.kept) {
			hold = append(hold, m.kept)
		}
	}
	for _, w := range hold {
		if !slices.Contains(r.warned, w) {
			r.put(s.now, outing.WarningEntry{Words: outing.Text(w)})
		}
	}
	for _, w := range r.warned {
		if !slices.Contains(hold, w) {
			r.put(s.now, outing.WarningEntry{Words: outing.Text(w), Over: true})
		}
	}
	r.warned = hold
}
