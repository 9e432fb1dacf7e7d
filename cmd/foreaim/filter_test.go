package main

import (
	"fmt"
	"testing"

	"foreaim/track/radio"
)

func TestParseStop(t *testing.T) {
	for text, want := range map[string]radio.StopBand{
		"470-694:30":    {LowMHz: 470, HighMHz: 694, NeededDB: 30},
		" 153.4 - 154 ": {LowMHz: 153.4, HighMHz: 154, NeededDB: 20},
		"466.075:12.5":  {LowMHz: 466.075, HighMHz: 466.075, NeededDB: 12.5},
	} {
		if got, err := parseStop(text); err != nil || got != want {
			t.Errorf("%q: %+v, %v", text, got, err)
		}
	}
	for _, text := range []string{"", "-", "470-", "694-470", "0-5", "nan-nan", "1-inf", "470-694:0", "470-694:", "470-694:nan", "1-2-3"} {
		if got, err := parseStop(text); err == nil {
			t.Errorf("%q gives %+v", text, got)
		}
	}
}

// A band that is accepted is in range, and what it is written as gives it again.
func FuzzParseStop(f *testing.F) {
	for _, text := range []string{"470-694:30", "466.075", " 153.4 - 154 :1", "1e2-1e3", "-5-3", "a-b:c"} {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		b, err := parseStop(text)
		if err != nil {
			return
		}
		if !(b.LowMHz >= 1 && b.LowMHz <= b.HighMHz && b.HighMHz <= 1e4 && b.NeededDB >= 1 && b.NeededDB <= 80) {
			t.Fatalf("%q gives %+v", text, b)
		}
		again, err := parseStop(fmt.Sprintf("%s-%s:%s", decimal(b.LowMHz), decimal(b.HighMHz), decimal(b.NeededDB)))
		if err != nil || again != b {
			t.Errorf("%q gives %+v, written again %+v, %v", text, b, again, err)
		}
	})
}
