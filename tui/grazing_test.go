package tui

import (
	"testing"
	"time"

	"foreaim/track"
)

func TestAPassThatGrazesTheHorizonIsNotTakenByItself(t *testing.T) {
	now := time.Date(2026, 11, 25, 12, 0, 0, 0, time.UTC)
	pass := func(in, lasts time.Duration, peakDeg float64) track.Pass {
		rise := now.Add(in)
		return track.Pass{
			Rise: track.Look{Time: rise}, Set: track.Look{Time: rise.Add(lasts)},
			Peak: track.Look{Time: rise.Add(lasts / 2), ElevationDeg: peakDeg},
		}
	}
	low, later := pass(time.Hour, 16*time.Second, 0), pass(3*time.Hour, 9*time.Minute, 30)
	k := &tracker{targets: make([]target, 1), searchedOK: true, searched: passesMsg{from: now, passes: []track.Pass{low, later}}}
	for _, at := range []time.Duration{0, time.Hour + 5*time.Second} {
		if p := k.current(now.Add(at)); p == nil || !p.Equal(later) {
			t.Errorf("after %v the pass is %v", at, p)
		}
	}
	k.pin(low)
	if p := k.current(now); p == nil || !p.Equal(low) {
		t.Errorf("chosen by hand, the pass is %v", p)
	}
	k.pinned, k.wish = nil, nil
	k.searched.passes = []track.Pass{low}
	if p := k.current(now); p == nil || !p.Equal(low) {
		t.Errorf("where there is no other, the pass is %v", p)
	}
	k.searched = passesMsg{from: low.Rise.Time.Add(time.Second), passes: []track.Pass{low, later}}
	if p := k.current(k.searched.from); p == nil || !p.Equal(low) {
		t.Errorf("under way, the pass is %v", p)
	}
}
