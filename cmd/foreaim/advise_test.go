package main

import (
	"bufio"
	"context"
	"encoding/json"
	"errors"
	"io"
	"strings"
	"testing"
	"time"

	"foreaim/track/aim"
)

func TestReadObservation(t *testing.T) {
	at := mustTime("2026-11-25T20:12:10.6Z")
	for line, want := range map[string]aim.Observation{
		`{"time":"2026-11-25T20:12:10.600Z","kind":"heard"}`:                          {Time: at, Kind: aim.Heard},
		` {"kind" : "silent", "time":"2026-11-25T21:12:10.6+01:00","strength":null} `: {Time: at, Kind: aim.Silent},
		`{"time":"2026-11-25T20:12:10.6Z","kind":"heard","strength":"weak","frequency_hz":436.2e6}`: {
			Time: at, Kind: aim.Heard, Strength: aim.Weak, FrequencyHz: 436.2e6},
		`{"time":"2026-11-25T20:12:10.6Z","kind":"noise_up","azimuth_deg":0,"elevation_deg":90}`: {
			Time: at, Kind: aim.NoiseUp, Held: &aim.Direction{ElevationDeg: 90}},
	} {
		got, err := readObservation([]byte(line))
		held := got.Held
		if err != nil || (held == nil) != (want.Held == nil) || held != nil && *held != *want.Held {
			t.Errorf("%s: %+v, %v", line, got, err)
			continue
		}
		got.Held, want.Held = nil, nil
		if got != want {
			t.Errorf("%s: %+v, want %+v", line, got, want)
		}
	}
}

func TestReadObservationFaults(t *testing.T) {
	const begin = `{"time":"2026-11-25T20:12:10Z","kind":"heard"`
	for line, want := range map[string]string{
		`heard`:                      `1: not JSON: `,
		`["heard"]`:                  `1: "[\"heard\"]" is not a JSON object`,
		`7`:                          `1: "7" is not a JSON object`,
		`{"kind":"heard"}`:           `1: time is missing: give a time such as 2026-11-25T20:12:10.600Z`,
		`{"time":20,"kind":"heard"}`: `9: time is "20", want a time such as 2026-11-25T20:12:10.600Z`,
		`{"time":"2026-11-25T20:12:10","kind":"heard"}`:             `9: time is "2026-11-25T20:12:10", want a time such as 2026-11-25T20:12:10.600Z`,
		`{"time":"2026-11-25T20:12:10Z","kind":"herd"}`:             `39: kind is "herd", want one of heard, silent, not_listening, noise_up, noise_normal`,
		begin + `,"azimuth":3}`:                                     `47: unknown field "azimuth"`,
		begin + `,"a\u001b[31mz":3}`:                                `47: unknown field "a[31mz"`,
		begin + `,"kind":"heard"}`:                                  `47: kind is given twice`,
		begin + `,"azimuth_deg":3}`:                                 `1: elevation_deg is missing: give a number from -90 to 90`,
		begin + `,"azimuth_deg":361,"elevation_deg":3}`:             `61: azimuth_deg is "361", want a number from 0 to 360`,
		begin + `,"frequency_hz":"436 MHz"}`:                        `62: frequency_hz is "436 MHz", want a number from 1 to 1e+12`,
		begin + `,"strength":"loud"}`:                               `58: strength is "loud", want one of weak, good, strong`,
		begin + `,`:                                                 `47: the line ends in the middle of a JSON object`,
		begin:                                                       `46: the line ends in the middle of a JSON object`,
		begin + `} {}`:                                              `48: something follows the JSON object`,
		begin + `,"strength":"` + strings.Repeat("long", 30) + `"}`: `58: strength is "` + strings.Repeat("long", 15) + `"…, want one of weak, good, strong`,
	} {
		o, err := readObservation([]byte(line))
		var fault *lineFault
		if !errors.As(err, &fault) || !strings.HasPrefix(err.Error(), want) || o != (aim.Observation{}) {
			t.Errorf("%s\n is %v\nwant %s", line, err, want)
		}
	}
}

// What is read and written again is read as the same; what is refused is refused
// in one printable line with a column of the line.
func FuzzReadObservation(f *testing.F) {
	f.Add(`{"time":"2026-11-25T20:12:10.600Z","kind":"heard","frequency_hz":4e8,"strength":"good","azimuth_deg":3,"elevation_deg":4}`)
	f.Add(`{"time":"2026-11-25T20:12:10Z","kind":"silent","strength":null} x`)
	f.Add("{\"t\x1bime\":[{}],\u202e")
	f.Add(`{"kind":"` + "\xff" + `"`)
	f.Fuzz(func(t *testing.T, line string) {
		o, err := readObservation([]byte(line))
		if err != nil {
			var fault *lineFault
			if !errors.As(err, &fault) || fault.column < 1 || fault.column > len(line)+1 {
				t.Fatalf("%q: %v: no such place", line, err)
			}
			if text := err.Error(); plain(text) != text {
				t.Errorf("%q", text)
			}
			return
		}
		again := map[string]any{"time": o.Time.Format(time.RFC3339Nano), "kind": o.Kind}
		if o.Strength != "" {
			again["strength"] = o.Strength
		}
		if o.FrequencyHz != 0 {
			again["frequency_hz"] = o.FrequencyHz
		}
		if o.Held != nil {
			again["azimuth_deg"], again["elevation_deg"] = o.Held.AzimuthDeg, o.Held.ElevationDeg
		}
		text, err := json.Marshal(again)
		if err != nil {
			t.Fatal(err)
		}
		p, err := readObservation(text)
		if err != nil {
			t.Fatalf("%s: %v", text, err)
		}
		if (o.Held == nil) != (p.Held == nil) || o.Held != nil && *o.Held != *p.Held {
			t.Errorf("%s: held %v, then %v", text, o.Held, p.Held)
		}
		o.Held, p.Held = nil, nil
		if o != p {
			t.Errorf("%s: %+v, then %+v", text, o, p)
		}
	})
}

// Each answer comes before the next observation is made, no observation is
// answered with a burst that is over, and Ctrl-C ends the wait for one.
func TestAdviseAnswersAtOnce(t *testing.T) {
	in, toProgram := io.Pipe()
	fromProgram, out := io.Pipe()
	ctx, cancel := context.WithCancel(t.Context())
	defer cancel()
	folder := t.TempDir()
	var errs strings.Builder
	sys := testSystem(system{
		stdin: in, stdout: out, stderr: &errs, configFile: folder + "/config.toml", dataFolder: folder,
		env:           func(string) string { return "" },
		interruptible: func() (context.Context, context.CancelFunc) { return ctx, cancel },
	})
	status := make(chan int)
	go func() {
		status <- run(with(emberling, "advise", "--from", "2026-11-25T20:00:00Z", "--period", "30s", "--time-error", "60s"), sys)
	}()
	answers := bufio.NewScanner(fromProgram)
	var last time.Time
	for n := range 12 {
		if !answers.Scan() {
			t.Fatalf("no answer %d: %v, %s", n, answers.Err(), errs.String())
		}
		var a struct {
			Next struct {
				Time       time.Time
				PhaseKnown bool `json:"phase_known"`
			}
			Hear *float64 `json:"hear_probability"`
		}
		if err := json.Unmarshal(answers.Bytes(), &a); err != nil {
			t.Fatal(err)
		}
		if !a.Next.Time.After(last) || a.Hear == nil || a.Next.PhaseKnown != (n > 8) {
			t.Fatalf("answer %d after %v: %s", n, last, answers.Text())
		}
		last = a.Next.Time
		kind := "silent" // just as the burst begins, or has begun by the latest
		if n == 8 {
			kind = "heard"
		}
		if _, err := io.WriteString(toProgram, `{"kind":"`+kind+`","time":"`+last.Format(time.RFC3339Nano)+"\"}\n"); err != nil {
			t.Fatal(err)
		}
	}
	if !answers.Scan() {
		t.Fatal(answers.Err())
	}
	cancel()
	if got := <-status; got != statusInterrupted || errs.Len() > 0 {
		t.Errorf("exit status %d, %s", got, errs.String())
	}
	toProgram.Close()
}
