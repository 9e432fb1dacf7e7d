package main

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"testing"
	"time"
)

var testZone = time.FixedZone("CET", 3600)

func TestParseTime(t *testing.T) {
	now := mustTime(testNow)
	for text, want := range map[string]string{
		"2026-11-25T18:40:00Z":      "2026-11-25T18:40:00Z",
		"2026-11-25T18:40:00.25Z":   "2026-11-25T18:40:00.25Z",
		"2026-11-25T18:40:00+02:00": "2026-11-25T16:40:00Z",
		"2026-11-25T18:40Z":         "2026-11-25T18:40:00Z",
		"2026-11-25T18:40+02:00":    "2026-11-25T16:40:00Z",
		"2026-11-25 18:40":          "2026-11-25T17:40:00Z",
		"2026-11-25 18:40:05":       "2026-11-25T17:40:05Z",
		"2026-11-25T18:40":          "2026-11-25T17:40:00Z",
		"2026-11-25T18:40:00":       "2026-11-25T17:40:00Z",
		"2026-11-26":                "2026-11-25T23:00:00Z",
		"18:40":                     "2026-11-25T17:40:00Z",
		" now ":                     testNow,
	} {
		got, err := parseTime(text, now, testZone)
		if err != nil || got.UTC().Format(time.RFC3339Nano) != want {
			t.Errorf("parseTime(%q) = %v, %v, want %s", text, got, err, want)
		}
	}
	for _, text := range []string{"", "tomorrow", "2026-13-01T00:00:00Z", "2026-02-29 10:00", "25:00", "1899-01-01T00:00:00Z", "3026-01-01T00:00:00Z", "2026-02-29", "2026-11-25T", "T18:40"} {
		if got, err := parseTime(text, now, testZone); err == nil {
			t.Errorf("parseTime(%q) = %v, want an error", text, got)
		}
	}
}

func TestParseDuration(t *testing.T) {
	for text, want := range map[string]time.Duration{
		"30s": 30 * time.Second, "1.5s": 1500 * time.Millisecond, "90m": 90 * time.Minute, "1h30m": 90 * time.Minute,
		"10d": 240 * time.Hour, "1d12h": 36 * time.Hour, "0.5d": 12 * time.Hour, "366d": 366 * day,
	} {
		if got, err := parseDuration(text); err != nil || got != want {
			t.Errorf("parseDuration(%q) = %v, %v, want %v", text, got, err, want)
		}
	}
	for _, text := range []string{"", "30", "-1h", "0s", "-1d", "d", "NaNd", "Infd", "1d-1h", "367d", "9999999h", "1d 2h", "1e9d", "1d2d"} {
		if got, err := parseDuration(text); err == nil {
			t.Errorf("parseDuration(%q) = %v, want an error", text, got)
		}
	}
}

func TestDurationsAreSaidAsTheyAreRead(t *testing.T) {
	for text, d := range map[string]time.Duration{
		"90d": 90 * day, "1d12h": 36 * time.Hour, "1d30m": day + 30*time.Minute, "2m": 2 * time.Minute, "10h": 10 * time.Hour,
		"1h0m5s": time.Hour + 5*time.Second, "1m30s": 90 * time.Second, "1.5s": 1500 * time.Millisecond, "20s": 20 * time.Second,
	} {
		if got := sayDuration(d); got != text {
			t.Errorf("%v is said as %q, want %q", d, got, text)
		}
		if got, err := parseDuration(text); err != nil || got != d {
			t.Errorf("%q is read as %v, %v", text, got, err)
		}
	}
	for _, text := range []string{"10000d", "1000.5d", "367d", "9000h"} {
		if _, err := parseDuration(text); err == nil || err.Error() != `"`+text+`" is more than a year` {
			t.Errorf("%q: %v", text, err)
		}
	}
}

func TestParseFrequency(t *testing.T) {
	for text, want := range map[string]float64{
		"437500000": 437.5e6, "437.5M": 437.5e6, "437.5 MHz": 437.5e6, "437.5mhz": 0, "437500k": 437.5e6,
		"437500000 Hz": 437.5e6, "2.4G": 2.4e9, "437.1234567M": 437123456.7, "4.375e8": 437.5e6,
	} {
		got, err := parseFrequency(text)
		if want == 0 {
			if err == nil {
				t.Errorf("parseFrequency(%q) = %v, want an error", text, got)
			}
		} else if err != nil || got != want {
			t.Errorf("parseFrequency(%q) = %v, %v, want %v", text, got, err, want)
		}
	}
	for _, text := range []string{"", "M", "437.5", "NaN", "Inf", "+InfM", "-437.5M", "437.5m", "437.5T", "1e400", "MHz", "0x1p30k"} {
		if got, err := parseFrequency(text); err == nil {
			t.Errorf("parseFrequency(%q) = %v, want an error", text, got)
		}
	}
}

// Whatever is accepted means the same when it is printed and read again, in any
// zone.
func FuzzParseTime(f *testing.F) {
	for _, seed := range []string{"2026-11-25T18:40:00Z", "2026-11-25 18:40", "18:40:01", "now", "2026-11-25T18:40:00.123456789+02:00"} {
		f.Add(seed)
	}
	now := mustTime(testNow)
	f.Fuzz(func(t *testing.T, text string) {
		got, err := parseTime(text, now, testZone)
		if err != nil {
			return
		}
		again, err := parseTime(got.Format(time.RFC3339Nano), now, time.UTC)
		if err != nil || !again.Equal(got) {
			t.Errorf("parseTime(%q) = %v, read again %v, %v", text, got, again, err)
		}
	})
}

// Go's own form means what Go says; days are 24 hours.
func FuzzParseDuration(f *testing.F) {
	for _, seed := range []string{"30s", "1d12h", "0.25d", "-1h", "1h-2m", "100ms"} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, text string) {
		got, err := parseDuration(text)
		if err != nil {
			return
		}
		if got <= 0 || got > longestSpan {
			t.Errorf("parseDuration(%q) = %v, out of range", text, got)
		}
		if again, err := parseDuration(got.String()); err != nil || again != got {
			t.Errorf("parseDuration(%q) = %v, read again %v, %v", text, got, again, err)
		}
		if own, err := time.ParseDuration(strings.TrimSpace(text)); err == nil && own != got {
			t.Errorf("parseDuration(%q) = %v, Go says %v", text, got, own)
		}
	})
}

// What is accepted is finite, in range, and the same in every unit.
func FuzzParseFrequency(f *testing.F) {
	for _, seed := range []string{"437.5M", "437.5 MHz", "437500000", "2.4G", "437500 kHz", "NaN", "1e9"} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, text string) {
		hz, err := parseFrequency(text)
		if err != nil {
			return
		}
		if !(hz >= lowestHz && hz <= highestHz) {
			t.Fatalf("parseFrequency(%q) = %v, out of range", text, hz)
		}
		for _, same := range []string{
			strconv.FormatFloat(hz, 'f', -1, 64), fmt.Sprintf("%.9f MHz", hz/1e6), fmt.Sprintf("%.12fG", hz/1e9),
		} {
			if again, err := parseFrequency(same); err != nil || math.Abs(again-hz) > 0.0011 {
				t.Errorf("parseFrequency(%q) = %v, but %q = %v, %v", text, hz, same, again, err)
			}
		}
	})
}
