package world

import (
	"context"
	"math"
	"math/rand/v2"
	"strings"
	"testing"
	"time"

	"foreaim/track"
)

// Whenever the demonstration is started, its first pass has just begun, is
// high, and the others follow; the propagator itself is the judge.
func TestAPassIsUnderWayWhenTheOutingBegins(t *testing.T) {
	random := rand.New(rand.NewPCG(7, 7))
	for range 20 {
		start := time.Date(2026, 11, 25, 0, 0, 0, 0, time.UTC).Add(time.Duration(random.Int64N(int64(3 * 365 * 24 * time.Hour))))
		w, err := New(context.Background(), start)
		if err != nil {
			t.Fatalf("%v: %v", start, err)
		}
		for i, want := range []struct {
			riseAfter          time.Duration
			lowest, highestDeg float64
		}{
			{-14 * time.Second, 48, 68}, {19 * time.Minute, 26, 42}, {41 * time.Minute, 65, 90},
		} {
			orbit, err := track.NewOrbit(w.Satellites[i].Set)
			if err != nil {
				t.Fatal(err)
			}
			at := start.Add(want.riseAfter)
			passes, err := orbit.Passes(context.Background(), w.Site, at.Add(-time.Minute), at.Add(5*time.Minute), 0)
			if err != nil || len(passes) != 1 {
				t.Fatalf("%v, satellite %d: passes %v, %v", start, i, passes, err)
			}
			p := passes[0]
			if off := p.Rise.Time.Sub(at); off.Abs() > time.Second {
				t.Errorf("%v, satellite %d rises %v late", start, i, off)
			}
			if p.Peak.ElevationDeg < want.lowest || p.Peak.ElevationDeg > want.highestDeg {
				t.Errorf("%v, satellite %d peaks at %.1f°", start, i, p.Peak.ElevationDeg)
			}
			if !w.Satellites[i].Schedule.Known() {
				t.Errorf("satellite %d has no schedule", i)
			}
		}
	}
}

// The sentences say where the operator is and what time it was.
func TestSentencesTellTheTruth(t *testing.T) {
	w, err := New(context.Background(), time.Date(2026, 11, 25, 18, 0, 0, 0, time.UTC))
	if err != nil {
		t.Fatal(err)
	}
	r := Receiver{World: w}
	second := time.Date(2026, 12, 31, 23, 59, 59, 0, time.UTC)
	lines := strings.Split(r.Sentences(second, rand.New(rand.NewPCG(1, 1))), "\r\n")
	if len(lines) != 4 || lines[3] != "" {
		t.Fatalf("lines %q", lines)
	}
	fields := strings.Split(lines[0], ",")
	if fields[0] != "$GNRMC" || fields[1] != "235959.00" || fields[9] != "311226" {
		t.Errorf("RMC %q", lines[0])
	}
	// 58.3127° is 58° 18.762'; the noise is some metres, 0.01' is 18 m.
	if !strings.HasPrefix(fields[3], "5818.7") || fields[4] != "N" || !strings.HasPrefix(fields[5], "01405.1") || fields[6] != "E" {
		t.Errorf("place %q", fields[3:7])
	}
}

func TestMinutesCarry(t *testing.T) {
	for deg, want := range map[float64]string{
		10.9999999999: "01100.00000", 0.5: "00030.00000", -33.25: "03315.00000", 179.999: "17959.94000",
	} {
		if got := minutes(deg, 3); got != want {
			t.Errorf("%g°: %s, want %s", deg, got, want)
		}
	}
}

// The checksum of a published sentence (NMEA Revealed, the gpsd project).
func TestSentenceChecksum(t *testing.T) {
	if got := sentence("GPGLL,4916.45,N,12311.12,W,225444,A"); got != "$GPGLL,4916.45,N,12311.12,W,225444,A*31\r\n" {
		t.Error(got)
	}
}

func TestTheLaptopIsSlow(t *testing.T) {
	w := &World{ClockSlow: 37 * time.Second}
	if got := w.Laptop(time.Unix(100, 0)); !got.Equal(time.Unix(63, 0)) {
		t.Error(got)
	}
	if math.Abs(delay.Seconds()) >= 1 {
		t.Error("a sentence must be out before the next second")
	}
}
