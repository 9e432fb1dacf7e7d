package beacon

import (
	"errors"
	"strings"
	"testing"
	"time"
)

// at is a time of day in UTC on an invented day, 1 March 2026.
func at(clock string) time.Time {
	t, err := time.Parse(time.RFC3339Nano, "2026-03-01T"+clock+"Z")
	if err != nil {
		panic(err)
	}
	return t
}

func TestValidate(t *testing.T) {
	good := Schedule{Period: 30 * time.Second, First: at("12:00:00"), Length: 800 * time.Millisecond, Tolerance: 200 * time.Millisecond}
	with := func(change func(*Schedule)) Schedule {
		s := good
		change(&s)
		return s
	}
	for _, c := range []struct {
		name string
		s    Schedule
		want string // "": valid
	}{
		{"good", good, ""},
		{"unknown phase", with(func(s *Schedule) { s.First = time.Time{} }), ""},
		{"only a period", Schedule{Period: MinPeriod}, ""},
		{"slowest", Schedule{Period: MaxPeriod}, ""},
		{"length just fits", with(func(s *Schedule) { s.Length = s.Period - 1 }), ""},
		{"tolerance just fits", with(func(s *Schedule) { s.Tolerance = s.Period / 2 }), ""},
		{"empty", Schedule{}, "burst period 0s is not within 100ms to 24h0m0s"},
		{"negative period", Schedule{Period: -time.Second}, "burst period -1s"},
		{"too fast", Schedule{Period: time.Millisecond}, "burst period 1ms"},
		{"too slow", Schedule{Period: MaxPeriod + 1}, "burst period 24h0m0.000000001s"},
		{"negative length", with(func(s *Schedule) { s.Length = -1 }), "burst length -1ns is negative: give 0 if it is unknown"},
		{"long burst", with(func(s *Schedule) { s.Length = s.Period }), "burst length 30s is not shorter than the period 30s"},
		{"negative tolerance", with(func(s *Schedule) { s.Tolerance = -time.Second }), "burst tolerance -1s is negative"},
		{"vague", with(func(s *Schedule) { s.Tolerance = 16 * time.Second }), "burst tolerance 16s is more than half the period 30s: leave out the first burst"},
		{"before satellites", with(func(s *Schedule) { s.First = s.First.AddDate(-2000, 0, 0) }), "first burst 0026-03-01T12:00:00Z is not within the years 1957 to 2200"},
		{"far away", with(func(s *Schedule) { s.First = s.First.AddDate(200, 0, 0) }), "first burst 2226-03-01"},
	} {
		t.Run(c.name, func(t *testing.T) {
			err := c.s.Validate()
			if (err == nil) != (c.want == "") || err != nil && !strings.Contains(err.Error(), c.want) {
				t.Fatalf("error %v, want %q", err, c.want)
			}
			if known, want := c.s.Known(), err == nil && !c.s.First.IsZero(); known != want {
				t.Errorf("Known() = %v, want %v", known, want)
			}
		})
	}
}

func TestUnknownPhase(t *testing.T) {
	s := Schedule{Period: 30 * time.Second, Length: time.Second}
	if s.LongestWait() != 30*time.Second {
		t.Errorf("longest wait %s, want one period, 30s", s.LongestWait())
	}
	if b := s.Next(at("12:00:00")); b != (Burst{}) {
		t.Errorf("invented burst %v", b)
	}
	bursts, err := s.Bursts(at("12:00:00"), at("12:10:00"))
	if bursts != nil || !errors.Is(err, ErrPhaseUnknown) || !strings.Contains(err.Error(), "longest wait for one is 30s") {
		t.Errorf("got %v, %v, want no bursts and ErrPhaseUnknown", bursts, err)
	}
}

func TestUncertainty(t *testing.T) {
	s := Schedule{Period: 30 * time.Second, First: at("12:00:00"), Tolerance: 250 * time.Millisecond}
	for _, when := range []time.Time{at("12:00:00"), at("12:00:00").AddDate(1, 0, 0)} {
		if got := s.UncertaintyS(when); got != 0.25 {
			t.Errorf("uncertainty %g s, want 0.25", got)
		}
	}
}
