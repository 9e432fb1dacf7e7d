package tui

import (
	"testing"
	"time"

	"foreaim/track/aim"
)

// A hold in the direction of the last one asks for no move, and doesn't say so.
func TestStayIsNoMove(t *testing.T) {
	last := aim.Hold{Direction: aim.Direction{AzimuthDeg: 150, ElevationDeg: 5}, Until: time.Unix(0, 0)}
	next := last
	next.AzimuthDeg += 1
	s := scene{stage: move, fistDeg: aim.FistDeg, moment: aim.Moment{Last: &last, Next: &next}}
	if word, rest, _ := s.headline(); word != "STAY" || rest[0] != "where you are, for the next burst" {
		t.Errorf("%s %q", word, rest)
	}
	next.AzimuthDeg += 30
	if word, rest, _ := s.headline(); word != "MOVE" || rest[0] != "30° right, from the last hold" {
		t.Errorf("%s %q", word, rest)
	}
}
