package world

import (
	"fmt"
	"math"
	"time"

	"foreaim/track"
)

// Boom is where the antenna points, as a hand has it: against straight ahead and
// the horizon, in degrees. What anybody takes for north has no part in it.
type Boom struct{ RightDeg, UpDeg float64 }

// What the antenna loses off its axis: 3 dB at half its width, to its side lobes
// (common practice, no source).
const (
	beamwidthDeg = 50.0
	sideLobesDB  = 20.0
)

// lossDB is what a burst loses with the boom held somewhere.
func (w *World) lossDB(b Burst, boom Boom) float64 {
	off := track.SeparationDeg(b.Look.AzimuthDeg, b.Look.ElevationDeg, w.FacingDeg+boom.RightDeg, boom.UpDeg) / (beamwidthDeg / 2)
	return math.Min(sideLobesDB, 3*off*off)
}

// HeardWith returns a burst as it comes in with the boom held somewhere.
func (w *World) HeardWith(b Burst, boom Boom) Burst {
	b.MarginDB -= w.lossDB(b, boom)
	return b
}

// Ear is what an operator of the world hears, moment by moment.
type Ear struct {
	World *World
	Score Score
	asked time.Time
	held  *Boom    // at the moment before
	last  []*heard // by satellite
}

// Score is what an operator made of the bursts up to now.
type Score struct {
	Marked int // heard, and marked
	Led    int // that one hears who holds where the elements and the believed north have them
	Known  int // that one hears who knows where the satellite is
}

// heard is a burst with the boom held as it was when it came.
type heard struct {
	Burst
	held   bool // anywhere at all
	marked bool
}

// Listen returns what can be heard at a true time, with the boom held somewhere,
// or nowhere in particular. Times must not go back. A burst comes in as the boom
// was held at the last moment before it began.
func (e *Ear) Listen(at time.Time, boom *Boom) string {
	if e.last == nil {
		e.last, e.held = make([]*heard, len(e.World.Satellites)), boom
		e.asked = at.Add(-lingers)
	}
	said := ""
	for i, s := range e.World.Satellites {
		e.catch(i, at)
		h := e.last[i]
		if said == "" && h != nil && at.Sub(h.Time) < s.Schedule.Length+lingers && h.held && h.Audible() {
			said = fmt.Sprintf("a %s beep", h.strength())
		}
	}
	e.asked, e.held = at, boom
	if said != "" {
		return said
	}
	return e.World.noise(at)
}

// catch takes the bursts of a satellite that began since the moment before.
func (e *Ear) catch(satellite int, at time.Time) {
	w := e.World
	for t := e.asked.Add(1); ; {
		b, err := w.NextBurst(satellite, t)
		if err != nil || b.Time.After(at) {
			return
		}
		t = b.Time.Add(1)
		h := &heard{Burst: b}
		if e.held != nil {
			h.Burst, h.held = w.HeardWith(b, *e.held), true
		}
		e.last[satellite] = h
		if b.Audible() {
			e.Score.Known++
		}
		if lead, err := w.Satellites[satellite].Orbit.Look(w.Site, b.Time); err == nil &&
			w.HeardWith(b, Boom{lead.AzimuthDeg - w.BelievedDeg, lead.ElevationDeg}).Audible() {
			e.Score.Led++
		}
	}
}

// toMark is how long after its end a burst can be marked.
const toMark = 5 * time.Second

// Sounded tells whether something sounded a moment before a true time. Who asks
// marks it.
func (e *Ear) Sounded(at time.Time) bool {
	for i, h := range e.last {
		if h == nil || !h.held || !h.Audible() || at.Sub(h.Time) > e.World.Satellites[i].Schedule.Length+toMark {
			continue
		}
		if !h.marked {
			h.marked = true
			e.Score.Marked++
		}
		return true
	}
	return false
}
