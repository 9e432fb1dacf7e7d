package gps

import (
	"math"
	"time"

	"github.com/adrianmo/go-nmea"
)

// headingAge is how long one part of a heading is joined with a newer one of
// another kind: sensors that send several do so in one go.
const headingAge = 2 * time.Second

// headingOf reads a sentence of a sensor. Nothing is known when the sensor gives no
// heading, or one that it only simulates.
func headingOf(parsed nmea.Sentence) Heading {
	var h Heading
	switch m := parsed.(type) {
	case nmea.HDT:
		h.TrueDeg, h.TrueKnown = turn(m.Heading), m.Fields[0] != ""
	case nmea.THS:
		usable := m.Status == nmea.AutonomousTHS || m.Status == nmea.EstimatedTHS || m.Status == nmea.ManualTHS
		h.TrueDeg, h.TrueKnown = turn(m.Heading), usable && m.Fields[0] != ""
	case nmea.HDM:
		h.MagneticDeg, h.MagneticKnown = turn(m.Heading), m.Fields[0] != ""
	case nmea.HDG:
		if m.Fields[0] == "" {
			break
		}
		// An empty deviation means a sensor that has none or has put it right.
		magnetic := m.Heading + east(m.Deviation, m.DeviationDirection)
		h.MagneticDeg, h.MagneticKnown = turn(magnetic), true
		if m.Fields[3] != "" {
			h.TrueDeg, h.TrueKnown = turn(magnetic+east(m.Variation, m.VariationDirection)), true
		}
	case nmea.XDR:
		for _, part := range m.Measurements { // those that tilt has left
			if isPitch(part.TransducerName) {
				h.PitchDeg, h.PitchKnown = part.Value, true
			} else {
				h.RollDeg, h.RollKnown = part.Value, true
			}
		}
	}
	return h
}

// east gives an angle as east positive.
func east(deg float64, direction string) float64 {
	if direction == nmea.West {
		return -deg
	}
	return deg
}

// turn brings an angle into 0 to 360 degrees, 360 excluded.
func turn(deg float64) float64 {
	if deg = math.Mod(deg, 360); deg < 0 {
		deg += 360
	}
	if deg >= 360 { // a tiny negative angle rounds up to a whole turn
		return 0
	}
	return deg
}

// compass joins what the sentences of one sensor say.
type compass struct {
	now      Heading
	trueFrom string // the kind that TrueDeg is from

	trueAt, magneticAt, pitchAt, rollAt time.Time
}

// add takes a sentence of the sensor. A true heading measured as such (HDT, THS)
// is kept against one that HDG computes with the variation in its settings.
func (c *compass) add(kind string, h Heading, arrived time.Time) {
	c.forget(kind, arrived)
	if h.TrueKnown && (kind != nmea.TypeHDG || !c.now.TrueKnown) {
		c.now.TrueDeg, c.now.TrueKnown, c.trueFrom, c.trueAt = h.TrueDeg, true, kind, arrived
	}
	if h.MagneticKnown {
		c.now.MagneticDeg, c.now.MagneticKnown, c.magneticAt = h.MagneticDeg, true, arrived
	}
	if h.PitchKnown {
		c.now.PitchDeg, c.now.PitchKnown, c.pitchAt = h.PitchDeg, true, arrived
	}
	if h.RollKnown {
		c.now.RollDeg, c.now.RollKnown, c.rollAt = h.RollDeg, true, arrived
	}
	if h.known() {
		c.now.Received = arrived
	}
}

// forget drops what is too old, and what a sentence of this kind says anew or
// no longer. XDR is the exception: pitch and roll may come in one each.
func (c *compass) forget(kind string, arrived time.Time) {
	stale := func(at time.Time) bool { return arrived.Sub(at).Abs() > headingAge }
	if stale(c.trueAt) || c.trueFrom == kind {
		c.now.TrueDeg, c.now.TrueKnown, c.trueFrom = 0, false, ""
	}
	if stale(c.magneticAt) || kind == nmea.TypeHDG || kind == nmea.TypeHDM {
		c.now.MagneticDeg, c.now.MagneticKnown = 0, false
	}
	if stale(c.pitchAt) {
		c.now.PitchDeg, c.now.PitchKnown = 0, false
	}
	if stale(c.rollAt) {
		c.now.RollDeg, c.now.RollKnown = 0, false
	}
}

// heading gives the newest heading, nil without one.
func (c *compass) heading() *Heading {
	if !c.now.known() {
		return nil
	}
	h := c.now
	return &h
}
