package gps

import (
	"math"
	"time"

	"github.com/adrianmo/go-nmea"
)

// headingAge is how long a direction is joined with a newer one of the other
// kind: sensors that send both do so in one go.
const headingAge = 2 * time.Second

// headingOf reads a heading sentence. Nothing is known when the sensor gives no
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

// compass joins the headings of one sensor.
type compass struct {
	now                Heading
	trueFrom           string // the kind that TrueDeg is from
	trueAt, magneticAt time.Time
}

// add takes a heading sentence. A true heading measured as such (HDT, THS) is
// kept against one that HDG computes with the variation in its settings.
func (c *compass) add(kind string, h Heading, arrived time.Time) {
	stale := func(at time.Time) bool { return arrived.Sub(at).Abs() > headingAge }
	if stale(c.trueAt) || c.trueFrom == kind {
		c.now.TrueDeg, c.now.TrueKnown, c.trueFrom = 0, false, ""
	}
	if stale(c.magneticAt) || kind == nmea.TypeHDG || kind == nmea.TypeHDM {
		c.now.MagneticDeg, c.now.MagneticKnown = 0, false
	}
	if h.TrueKnown && (kind != nmea.TypeHDG || !c.now.TrueKnown) {
		c.now.TrueDeg, c.now.TrueKnown, c.trueFrom, c.trueAt = h.TrueDeg, true, kind, arrived
	}
	if h.MagneticKnown {
		c.now.MagneticDeg, c.now.MagneticKnown, c.magneticAt = h.MagneticDeg, true, arrived
	}
	c.now.Received = arrived
}

// heading gives the newest heading, nil without one.
func (c *compass) heading() *Heading {
	if !c.now.TrueKnown && !c.now.MagneticKnown {
		return nil
	}
	h := c.now
	return &h
}
