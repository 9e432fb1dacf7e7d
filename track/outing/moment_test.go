package outing

import (
	"strings"
	"testing"
	"time"

	"foreaim/track"
)

func TestParseMoment(t *testing.T) {
	for _, c := range []struct {
		text string
		want Moment
		back string
	}{
		{"rise-30s", Moment{AtRise, -30 * time.Second}, "rise-30s"},
		{"burst-2s", Moment{AtBurst, -2 * time.Second}, "burst-2s"},
		{"set+10s", Moment{AtSet, 10 * time.Second}, "set+10s"},
		{"peak", Moment{Anchor: AtPeak}, "peak"},
		{" set+1m30s ", Moment{AtSet, 90 * time.Second}, "set+1m30s"},
		{"burst-1.5s", Moment{AtBurst, -1500 * time.Millisecond}, "burst-1.5s"},
		{"rise-250ms", Moment{AtRise, -250 * time.Millisecond}, "rise-250ms"},
		{"rise+0s", Moment{Anchor: AtRise}, "rise"},
		{"set+0.0004s", Moment{Anchor: AtSet}, "set"},
		{"rise-24h", Moment{AtRise, -24 * time.Hour}, "rise-24h0m0s"},
	} {
		got, err := ParseMoment(c.text)
		if err != nil || got != c.want || got.String() != c.back {
			t.Errorf("%q: %v, %v, want %v", c.text, got, err, c.want)
		}
	}
	for text, want := range map[string]string{
		"":           "it is empty",
		"Rise-30s":   "must begin with rise, peak, set or burst",
		"dawn-30s":   "must begin with",
		"-30s":       "must begin with",
		"rise -30s":  "must begin with",
		"rise30s":    "must begin with",
		"rise-":      "after rise comes + or - and a duration",
		"rise--30s":  "after rise comes",
		"burst-+2s":  "after burst comes",
		"set+ 10s":   "after set comes",
		"rise-30":    "30 is not a duration",
		"rise-s":     "s is not a duration",
		"rise-30us":  "after rise comes",
		"set+1ns":    "after set comes",
		"set+25h":    "more than 24 h off",
		"set+\x1b[m": "after set comes",
	} {
		m, err := ParseMoment(text)
		if err == nil || !strings.Contains(err.Error(), want) || !strings.Contains(err.Error(), "want something like rise-30s") || strings.Contains(err.Error(), "\x1b") {
			t.Errorf("%q: %v, %v, want error %q", text, m, err, want)
		}
	}
}

// What is read is written so that it is read again as the same.
func FuzzParseMoment(f *testing.F) {
	for _, text := range []string{"rise-30s", "burst-1.5s", "set+1h2m3.004s", "peak", "rise--1s", "set+9999999h", "peak-.5m"} {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		m, err := ParseMoment(text)
		if err != nil {
			if strings.ContainsAny(err.Error(), "\x1b\n\r\x00") || m != (Moment{}) {
				t.Fatalf("%v, %q", m, err)
			}
			return
		}
		back, err := ParseMoment(m.String())
		if err != nil || back != m || m.Offset.Abs() > maxOffset {
			t.Fatalf("%q is %v, written %q, read as %v, %v", text, m, m, back, err)
		}
	})
}

func TestWhen(t *testing.T) {
	look := func(clock string) track.Look { return track.Look{Time: at(clock)} }
	pass := track.Pass{Rise: look("12:00:00"), Peak: look("12:05:00"), Set: look("12:10:00")}
	bursts := []time.Time{at("12:01:00"), at("12:01:30")}
	for text, want := range map[string][]time.Time{
		"rise-30s": {at("11:59:30")},
		"peak":     {at("12:05:00")},
		"set+10s":  {at("12:10:10")},
		"burst-2s": {at("12:00:58"), at("12:01:28")},
	} {
		m, err := ParseMoment(text)
		if err != nil {
			t.Fatal(err)
		}
		got := m.When(pass, bursts)
		if len(got) != len(want) {
			t.Fatalf("%s: %v, want %v", text, got, want)
		}
		for i := range want {
			if !got[i].Equal(want[i]) {
				t.Errorf("%s: %v, want %v", text, got, want)
			}
		}
		always := pass
		always.AlwaysUp = true
		none := m.Anchor == AtRise || m.Anchor == AtSet
		if got := m.When(always, bursts); (len(got) == 0) != none {
			t.Errorf("%s of an object always up: %v", text, got)
		}
	}
	if got := (Moment{Anchor: AtBurst}).When(pass, nil); len(got) != 0 {
		t.Errorf("without bursts: %v", got)
	}
}
