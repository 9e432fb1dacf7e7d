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
	held  *Boom          // at the moment before
	heard map[int]*heard // by satellite, its last burst
}

// heard is a burst with the boom held as it was when it came.
type heard struct {
	Burst
	held bool // anywhere at all
}

// Listen returns what can be heard at a true time, with the boom held somewhere,
// or nowhere in particular. Times must not go back. A burst comes in as the boom was held when it began,
// or at the last moment before that.
func (e *Ear) Listen(at time.Time, boom *Boom) string {
	if e.heard == nil {
		e.heard, e.held = map[int]*heard{}, boom
	}
	before := e.held
	e.held = boom
	said := ""
	for i, s := range e.World.Satellites {
		b, err := e.World.NextBurst(i, at.Add(-s.Schedule.Length-lingers))
		if err != nil || b.Time.After(at) {
			continue
		}
		h := e.heard[i]
		if h == nil || h.Number != b.Number {
			h = &heard{Burst: b}
			if before != nil {
				h.Burst, h.held = e.World.HeardWith(b, *before), true
			}
			e.heard[i] = h
		}
		if said == "" && h.held && h.Audible() {
			said = fmt.Sprintf("a %s beep", h.strength())
		}
	}
	if said != "" {
		return said
	}
	return e.World.noise(at)
}
