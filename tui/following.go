package tui

import (
	"time"

	"foreaim/track"
	"foreaim/track/aim"
)

// An arm with an antenna starts to follow a word after handReaction and turns by
// handDegPerS at most (assumed, no source).
const (
	handReaction = 2 * time.Second
	handDegPerS  = 10.0
)

// apartDeg is the angle between two directions.
func apartDeg(a, b aim.Direction) float64 {
	return track.SeparationDeg(a.AzimuthDeg, a.ElevationDeg, b.AzimuthDeg, b.ElevationDeg)
}

// follows tells whether a hand that is told at a time to go from one direction to
// another keeps still there by the time given.
func follows(from, to aim.Direction, told, still time.Time) bool {
	turning := time.Duration(apartDeg(from, to) / handDegPerS * float64(time.Second))
	return !told.Add(handReaction + turning).After(still)
}

// sendable returns the aim for a hold to come: the new one, but only where the arm
// that was sent elsewhere can still follow; else the nearest to that arm of the aim
// it was sent to and the predicted one. An arm that keeps still isn't sent elsewhere.
func (l *learning) sendable(h aim.Hold, to aim.Direction, now time.Time) aim.Direction {
	old, advised := l.aims[h.Number]
	advised = advised && old.of(h)
	var from aim.Direction
	told := now
	switch {
	case advised && l.last.Number == h.Number: // on its way there
		from = old.Direction
	case l.last.Burst && l.last.Number == h.Number-1: // it is told when that hold is over
		from, told = l.last.Direction, later(now, l.last.Until)
	default:
		return to
	}
	if now.Before(h.Ready) && (!h.Burst || apartDeg(from, to) <= nearDeg || follows(from, to, told, h.Ready)) {
		return to
	}
	if advised && apartDeg(from, old.Direction) <= apartDeg(from, h.Direction) {
		return old.Direction
	}
	return h.Direction
}
