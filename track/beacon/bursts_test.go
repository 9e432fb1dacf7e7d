package beacon

import (
	"errors"
	"math/big"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"
)

// Worked out by hand.
func TestNext(t *testing.T) {
	s := Schedule{Period: 30 * time.Second, First: at("12:00:10"), Length: 2 * time.Second}
	midnight := Schedule{Period: 40 * time.Second, First: at("23:59:50")}
	for _, c := range []struct {
		name  string
		s     Schedule
		t     time.Time
		next  int
		start time.Time
	}{
		{"at the first", s, at("12:00:10"), 0, at("12:00:10")},
		{"sounding", s, at("12:00:11.999999999"), 1, at("12:00:40")},
		{"just over", s, at("12:00:12"), 1, at("12:00:40")},
		{"just before", s, at("12:00:39.999999999"), 1, at("12:00:40")},
		{"an hour on", s, at("13:00:11"), 121, at("13:00:40")},
		{"before the first", s, at("12:00:00"), 0, at("12:00:10")},
		{"long before", s, at("11:59:41"), 0, at("12:00:10")},
		{"an hour before", s, at("11:00:10"), -120, at("11:00:10")},
		{"over midnight", midnight, at("23:59:51"), 1, at("23:59:50").Add(40 * time.Second)},
		{"after midnight", midnight, at("23:59:59").Add(2 * time.Second), 1, at("23:59:50").Add(40 * time.Second)},
	} {
		t.Run(c.name, func(t *testing.T) {
			if got := c.s.Next(c.t); got != (Burst{c.next, c.start}) {
				t.Errorf("Next = %v, want %d at %s", got, c.next, c.start)
			}
		})
	}
}

// From 2026-01-01 to 2036-01-01 the calendar has 3652 days (two leap years),
// 2880 bursts each: no drift in ten years.
func TestNoDrift(t *testing.T) {
	s := Schedule{Period: 30 * time.Second, First: time.Date(2026, 1, 1, 0, 0, 0, 0, time.UTC)}
	end := time.Date(2036, 1, 1, 0, 0, 0, 0, time.UTC)
	if got := s.Next(end); got != (Burst{3652 * 2880, end}) {
		t.Errorf("got %v, want %d at %s", got, 3652*2880, end)
	}
}

func TestOutOfReach(t *testing.T) {
	fast := Schedule{Period: MinPeriod, First: time.Date(2020, 1, 1, 0, 0, 0, 0, time.UTC)}
	slow := Schedule{Period: MaxPeriod, First: time.Date(2200, 1, 1, 0, 0, 0, 0, time.UTC)}
	far := []time.Time{{}, time.Date(2451, 1, 1, 0, 0, 0, 0, time.UTC), time.Date(9999, 1, 1, 0, 0, 0, 0, time.UTC), time.Unix(1<<60, 0)}
	for _, s := range []Schedule{fast, slow} {
		for _, when := range far {
			if b := s.Next(when); b != (Burst{}) {
				t.Errorf("Next(%s) = %v, want none", when, b)
			}
		}
		if _, err := s.Bursts(s.First, far[2]); err == nil || !strings.Contains(err.Error(), "9999-01-01T00:00:00Z is too far from the first burst") {
			t.Errorf("error %v, want too far", err)
		}
		if _, _, err := s.Count(far[0], s.First); err == nil || !strings.Contains(err.Error(), "0001-01-01T00:00:00Z is too far") {
			t.Errorf("error %v, want too far", err)
		}
	}
	if b := fast.Next(fast.First.AddDate(4, 0, 0)); b != (Burst{}) {
		t.Errorf("burst %v has a number that may not fit", b)
	}
	if b := slow.Next(slow.First.AddDate(-249, 0, 0)); b.Time.Year() != 1951 {
		t.Errorf("got %v, want a burst 249 years before the first", b)
	}
	fast.First = time.Time{}
	if _, _, err := fast.Count(far[0], far[2]); err == nil || !strings.Contains(err.Error(), "too long to count") {
		t.Errorf("error %v, want too long", err)
	}
}

func TestTooManyBursts(t *testing.T) {
	s := Schedule{Period: MinPeriod, First: at("00:00:00")}
	end := s.First.Add(MaxBursts * MinPeriod)
	if bursts, err := s.Bursts(s.First, end); err != nil || len(bursts) != MaxBursts {
		t.Errorf("%d bursts, %v, want %d", len(bursts), err, MaxBursts)
	}
	bursts, err := s.Bursts(s.First, end.Add(1))
	if bursts != nil || !errors.Is(err, ErrTooManyBursts) || !strings.Contains(err.Error(), "100001 from") {
		t.Errorf("%d bursts, %v, want ErrTooManyBursts", len(bursts), err)
	}
}

func TestInvalidSchedule(t *testing.T) {
	s := Schedule{Period: time.Nanosecond, First: at("00:00:00")}
	if _, err := s.Bursts(at("00:00:00"), at("23:00:00")); err == nil || !strings.Contains(err.Error(), "burst period 1ns") {
		t.Errorf("Bursts: %v, want the period refused", err)
	}
	if _, _, err := s.Count(at("00:00:00"), at("23:00:00")); err == nil || !strings.Contains(err.Error(), "burst period 1ns") {
		t.Errorf("Count: %v, want the period refused", err)
	}
	if b := s.Next(at("00:00:00")); b != (Burst{}) {
		t.Errorf("Next = %v, want none", b)
	}
}

// A time with a monotonic clock's reading gives the same as one without.
func TestMonotonicReadings(t *testing.T) {
	now := time.Now()
	s := Schedule{Period: time.Minute, First: now, Length: time.Second}
	plain := Schedule{Period: time.Minute, First: now.Round(0).UTC(), Length: time.Second}
	later := now.Add(time.Hour)
	got, want := s.Next(later), plain.Next(later.Round(0))
	if got != want || got.Number != 60 || strings.Contains(got.Time.String(), "m=") {
		t.Errorf("got %v, want %v without a monotonic reading", got, want)
	}
}

// schedules draws a valid schedule with a phase; instants draws times less than
// 30 years from it.
func schedules(t *rapid.T) Schedule {
	period := rapid.Int64Range(int64(time.Second), int64(MaxPeriod)).Draw(t, "period")
	first := time.Unix(rapid.Int64Range(0, 7e9).Draw(t, "first"), rapid.Int64Range(0, 999999999).Draw(t, "nanosecond"))
	return Schedule{
		Period: time.Duration(period),
		First:  first.In(time.FixedZone("", rapid.IntRange(-50000, 50000).Draw(t, "zone"))),
		Length: time.Duration(rapid.Int64Range(0, period-1).Draw(t, "length")),
	}
}

func instants(t *rapid.T, s Schedule, label string) time.Time {
	return s.First.Add(time.Duration(rapid.Int64Range(-946e15, 946e15).Draw(t, label)))
}

// Next is the smallest: checked with numbers of any size.
func TestNextIsTheFirst(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := schedules(t)
		when := instants(t, s, "t")
		nanos := func(t time.Time) *big.Int {
			n := new(big.Int).Mul(big.NewInt(t.Unix()), big.NewInt(1e9))
			return n.Add(n, big.NewInt(int64(t.Nanosecond())))
		}
		start := func(number int) *big.Int {
			n := new(big.Int).Mul(big.NewInt(int64(number)), big.NewInt(int64(s.Period)))
			return n.Add(n, nanos(s.First))
		}
		b := s.Next(when)
		if start(b.Number).Cmp(nanos(when)) < 0 || start(b.Number-1).Cmp(nanos(when)) >= 0 {
			t.Fatalf("Next(%s) = %v is not the first", when, b)
		}
		if nanos(b.Time).Cmp(start(b.Number)) != 0 || b.Time.Location() != time.UTC {
			t.Fatalf("burst %v does not start at its number's time, UTC", b)
		}
		if wait := b.Time.Sub(when); wait >= s.LongestWait() {
			t.Fatalf("wait %s is not under %s", wait, s.LongestWait())
		}
	})
}

// The list begins with the next burst, counts on without a gap, ends before the
// end, and is as long as was counted.
func TestBurstsAreWhole(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := schedules(t)
		from := instants(t, s, "from")
		to := from.Add(time.Duration(rapid.Float64Range(-1, 300).Draw(t, "periods") * float64(s.Period)))
		bursts, err := s.Bursts(from, to)
		if err != nil {
			t.Fatal(err)
		}
		next := s.Next(from)
		for _, b := range bursts {
			if b != next || !b.Time.Before(to) {
				t.Fatalf("%v in the list, want %v, before %s", b, next, to)
			}
			next = s.Next(next.Time.Add(1))
		}
		if next.Time.Before(to) && from.Before(to) {
			t.Fatalf("%v is missing", next)
		}
		least, most, err := s.Count(from, to)
		if err != nil || least != len(bursts) || most != len(bursts) {
			t.Fatalf("counted %d to %d, %v, want %d", least, most, err, len(bursts))
		}
		s.First = time.Time{}
		least, most, err = s.Count(from, to)
		if err != nil || least > len(bursts) || most < len(bursts) || most-least > 1 {
			t.Fatalf("without a phase counted %d to %d, %v, want %d within", least, most, err, len(bursts))
		}
	})
}

func BenchmarkNext(b *testing.B) {
	s := Schedule{Period: 30 * time.Second, First: at("12:00:00"), Length: time.Second}
	when := s.First.AddDate(1, 0, 0)
	for b.Loop() {
		s.Next(when)
	}
}
