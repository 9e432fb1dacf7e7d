package gps

import (
	"testing"
	"time"
)

// hear lets a search judge chunks, four a second, from a receiver of some speed,
// and tells how long it took until the speed was found again.
func hear(s *speedSearch, from time.Time, speed int, limit time.Duration) (time.Duration, bool) {
	for at := from; at.Sub(from) < limit; at = at.Add(250 * time.Millisecond) {
		good := s.speed() == speed
		s.judge(good, at)
		if good {
			return at.Sub(from), true
		}
	}
	return limit, false
}

func TestSpeedIsFound(t *testing.T) {
	from := time.Date(2027, 3, 5, 0, 0, 0, 0, time.UTC)
	for i, speed := range speeds {
		s := newSpeedSearch(0)
		took, ok := hear(&s, from, speed, time.Minute)
		if want := time.Duration(i) * speedTrial; !ok || took > want+time.Second {
			t.Errorf("%d baud found %v after %v, want about %v", speed, ok, took, want)
		}
		// Plugged in again after a minute: at once.
		s.reopened()
		if took, ok := hear(&s, from.Add(time.Hour), speed, time.Minute); !ok || took != 0 {
			t.Errorf("%d baud found again %v after %v, want at once", speed, ok, took)
		}
		// Another receiver: found too.
		other := speeds[(i+3)%len(speeds)]
		if _, ok := hear(&s, from.Add(2*time.Hour), other, time.Minute); !ok {
			t.Errorf("after %d baud, %d is never found", speed, other)
		}
	}
}

func TestNoiseKeepsTheSpeed(t *testing.T) {
	from := time.Date(2027, 3, 5, 0, 0, 0, 0, time.UTC)
	s := newSpeedSearch(0)
	hear(&s, from, 9600, time.Minute)
	found := from.Add(time.Minute)
	for noise := time.Duration(0); noise < 8*time.Second; noise += 100 * time.Millisecond {
		if v := s.judge(false, found.Add(noise)); v != speedKept {
			t.Fatalf("the speed was given up after %v of noise", noise)
		}
	}
	if s.speed() != 9600 {
		t.Errorf("speed %d, want 9600", s.speed())
	}
}

func TestGivenSpeedStays(t *testing.T) {
	from := time.Date(2027, 3, 5, 0, 0, 0, 0, time.UTC)
	s := newSpeedSearch(19200)
	if _, ok := hear(&s, from, 4800, time.Minute); ok || s.speed() != 19200 {
		t.Errorf("speed %d, want the given 19200 whatever comes", s.speed())
	}
}

// A real line hands bytes over as they come; a pseudo-terminal in one piece.
func TestWireKnowsARealLine(t *testing.T) {
	for _, c := range []struct {
		name        string
		chunk, baud int
		want        int
	}{
		{"small pieces at 4800", 16, 4800, 4800},
		{"a USB packet at 9600", 62, 9600, 9600},
		{"a second at once at 4800", 400, 4800, 0},
		{"a sentence at once at 4800", 75, 4800, 0},
		{"a sentence at 115200", 75, 115200, 115200},
	} {
		var w wire
		got := -1
		for range 100 {
			got = w.speed(c.chunk, c.baud)
		}
		if got != c.want {
			t.Errorf("%s: %d, want %d", c.name, got, c.want)
		}
	}
	var w wire
	for range 30 {
		w.speed(60, 9600)
	}
	if got := w.speed(200, 9600); got != 9600 {
		t.Errorf("one long chunk after many short ones: %d, want 9600: the computer was busy", got)
	}
}
