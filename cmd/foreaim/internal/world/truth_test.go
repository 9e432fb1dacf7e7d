package world

import (
	"context"
	"strings"
	"testing"
	"time"
)

// The invented truth gives every part of the screen something to do in the first
// pass: bursts that can be heard, some that the noise or their weakness hides,
// some behind the ash; and what is heard is told when it sounds, not before.
func TestTheFirstPassHasEverything(t *testing.T) {
	w, err := New(context.Background(), time.Date(2026, 11, 25, 18, 0, 0, 0, time.UTC))
	if err != nil {
		t.Fatal(err)
	}
	strengths := map[string]int{}
	hidden, drowned, lost := 0, 0, 0
	ear := Ear{World: w}
	for at := w.Start; at.Before(w.Start.Add(11 * time.Minute)); {
		b, err := w.NextBurst(0, at)
		if err != nil {
			t.Fatal(err)
		}
		if b.Time.Before(at) || b.Time.Sub(at) > 30*time.Second {
			t.Fatalf("the burst after %v comes at %v", at, b.Time)
		}
		at = b.Time.Add(1)
		on := &Boom{b.Look.AzimuthDeg - w.FacingDeg, b.Look.ElevationDeg}
		if said := ear.Listen(b.Time.Add(-time.Millisecond), on); strings.Contains(said, "beep") {
			t.Errorf("%q before the burst at %v", said, b.Time)
		}
		said := ear.Listen(b.Time.Add(time.Second), nil) // moved away: too late to matter
		if strings.Contains(said, "beep") != b.Audible() {
			t.Errorf("%q in %+v", said, b)
		}
		switch {
		case b.Hidden:
			hidden++
		case b.Audible():
			strengths[strings.Fields(said)[1]]++
		case w.NoiseUp(b.Time):
			drowned++
		default:
			lost++
		}
	}
	if strengths["weak"] == 0 || strengths["good"] == 0 || strengths["strong"] == 0 || hidden < 2 || drowned == 0 || lost == 0 {
		t.Errorf("heard %v, hidden %d, drowned in noise %d, lost %d", strengths, hidden, drowned, lost)
	}
}

// While the noise is up, what a noise test asks for is answered in turn.
func TestTheNoiseAnswers(t *testing.T) {
	w, err := New(context.Background(), time.Date(2026, 11, 25, 18, 0, 0, 0, time.UTC))
	if err != nil {
		t.Fatal(err)
	}
	said := map[string]bool{}
	ear := Ear{World: w}
	for since := time.Duration(0); since < 12*time.Minute; since += time.Second {
		at := w.Start.Add(since)
		text := ear.Listen(at, nil)
		if strings.Contains(text, "noise") && !w.NoiseUp(at) {
			t.Errorf("%q while the noise is normal", text)
		}
		said[text] = true
	}
	for _, text := range []string{"", "noise is up", "turned away it drops", "weakened it drops alike"} {
		if !said[text] {
			t.Errorf("%q is never said", text)
		}
	}
}
