package tui

import (
	"testing"
	"time"

	"foreaim/track"
	"foreaim/track/beacon"
	"foreaim/track/outing"
)

// Where bursts come every ten seconds, no mark and nothing taken back sends an arm
// to where it can't be when the burst comes: ten degrees a second, two seconds after
// it was told, and that isn't told twice for a burst by tens of degrees.
func TestAimsCanBeFollowed(t *testing.T) {
	d, voice := newDisk(), new(listener)
	e := erring{lateS: 60, sigmaS: 50}
	s := e.story(d)
	s.schedule = beacon.Schedule{Period: 10 * time.Second, First: start.Add(7 * time.Second), Length: 1200 * time.Millisecond}
	s.at = -80 * time.Second
	play(t, spoken(s, voice), 80, few, func(p *player) {
		for i, at := 0, -73*time.Second; at < 100*time.Second; i, at = i+1, at+10*time.Second {
			p.until(at + 2*time.Second)
			if i%4 == 0 || i%4 == 2 {
				p.press(" ")
			}
			if i%4 == 2 { // taken back when the way to the next was told
				p.until(at + 4500*time.Millisecond)
				p.press("u")
			}
		}
	})
	type sent struct {
		at    time.Time
		entry outing.AdviceEntry
	}
	var was *sent
	moved := 0
	for _, r := range d.log(t).Records {
		a, ok := r.Entry.(outing.AdviceEntry)
		if !ok {
			continue
		}
		now := sent{r.At, a}
		if was != nil && !a.Time.Time.Before(r.At) {
			off := track.SeparationDeg(a.AzimuthDeg.Value, a.ElevationDeg.Value, was.entry.AzimuthDeg.Value, was.entry.ElevationDeg.Value)
			left := a.Time.Time.Sub(r.At).Seconds()
			if off > 15 {
				moved++
			}
			if off > nearDeg && off > 10*(left-2)+1 {
				t.Errorf("%.1f s before burst %d the arm is sent %.0f° away", left, a.Number, off)
			}
		}
		was = &now
	}
	if moved < 3 {
		t.Errorf("sent by more than 15° %d times: too few to prove anything", moved)
	}
}
