//go:build unix

package main

import (
	"fmt"
	"math"
	"testing"
	"time"

	"foreaim/cmd/foreaim/internal/world"
	"foreaim/track"
	"foreaim/track/north"
)

// The demonstration's operator is told a north that is 31° wrong, and the screen
// isn't told the truth: the chapel and a compass, of what the operator sees and
// reads, find it.
func TestDemoFindsNorth(t *testing.T) {
	t.Parallel()
	now := time.Now()
	w, err := world.New(t.Context(), now)
	if err != nil {
		t.Fatal(err)
	}
	bearing, _, err := w.Site.Bearing(track.Site{LatitudeDeg: w.Chapel.LatitudeDeg, LongitudeDeg: w.Chapel.LongitudeDeg})
	if left := track.TurnDeg(bearing, w.FacingDeg); err != nil || math.Abs(left-10) > 0.5 {
		t.Fatalf("the chapel stands %.1f° left of ahead, want a fist: %v", left, err)
	}
	field, err := north.At(w.Site.LatitudeDeg, w.Site.LongitudeDeg, w.Site.HeightM, now)
	if err != nil {
		t.Fatal(err)
	}
	l := &lost{inTerminal(t, 80, 24, "demo"), t, ""}
	l.await("Now ", "fix 11")
	l.press("w")
	l.await("straight ahead is 136°")
	l.choose("chapel")
	l.press("Left", "Left", "Enter")
	l.await("given and chapel differ by 31°")
	l.choose("compass")
	l.press("Enter")
	l.await("Compass: _")
	l.press(fmt.Sprintf("%.0f", north.MagneticDeg(w.FacingDeg+3, field.DeclinationDeg)), "Enter") // as a compass does
	l.await("left out: given")
	l.claims(w.FacingDeg, 3)
	l.press("Escape")
	l.await("Now ")
	l.press("q")
	if status := l.ended(); status != "0" {
		t.Errorf("exit status %s", status)
	}
}
