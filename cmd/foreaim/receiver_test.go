package main

import (
	"context"
	"errors"
	"math"
	"os"
	"path/filepath"
	"testing"
	"time"

	"foreaim/gps"
	"foreaim/track"
	"foreaim/tui"
)

// boomLines are a sensor without a receiver: rows N062 and N081 of the table in
// testdata/nmea.
const boomLines = "$HCHDG,98.3,0.1,E,12.6,W*56\r\n$HCXDR,A,-12.5,D,PITCH,A,178.9,D,ROLL*02\r\n"

// A sensor on a port of its own, with and without a receiver.
func TestOpenReceivers(t *testing.T) {
	boom := filepath.Join(t.TempDir(), "boom.nmea")
	if err := os.WriteFile(boom, []byte(boomLines), 0o644); err != nil {
		t.Fatal(err)
	}
	meadow := track.Site{Name: "Ostvar meadow", LatitudeDeg: 58.3127, LongitudeDeg: 0.00001, HeightM: 131}
	sys := testSystem(system{})
	for name, c := range map[string]struct {
		config config
		site   track.Site
		fixed  bool
	}{
		"site as given": {config{sensor: "file://" + boom}, meadow, true},
		"receiver":      {config{sensor: "file://" + boom, gpsSource: "fixed:58.3127,0.00001,131"}, track.Site{}, false},
	} {
		screen := tui.Config{Site: c.site, SiteKnown: c.fixed}
		receiver, err := sys.openReceivers(t.Context(), c.config, &screen)
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		late := time.After(5 * time.Second)
		var got gps.Report
		for !got.Fix.Valid() || got.Heading == nil || !got.Heading.RollKnown {
			select {
			case got = <-receiver.Reports():
			case <-late:
				t.Fatalf("%s: fix and heading don't come: %+v", name, got)
			}
		}
		if f := got.Fix; f.LatitudeDeg != meadow.LatitudeDeg || f.LongitudeDeg != meadow.LongitudeDeg || f.AltitudeM != meadow.HeightM || screen.SiteFixed != c.fixed {
			t.Errorf("%s: at %+v, fixed %v", name, f, screen.SiteFixed)
		}
		if h := got.Heading; math.Abs(h.MagneticDeg-98.4) > 1e-9 || h.PitchDeg != -12.5 || got.Sensor.Source == "" {
			t.Errorf("%s: %+v of %+v", name, h, got.Sensor)
		}
		receiver.Close()
	}
	if r, err := sys.openReceivers(t.Context(), config{}, &tui.Config{}); r != nil || err != nil {
		t.Errorf("without either: %v, %v", r, err)
	}
	_, err := sys.openReceivers(context.Background(), config{gpsSource: "fixed:1,2", sensor: "compass"}, &tui.Config{})
	var p *problem
	if !errors.As(err, &p) || p.status != statusWrong || p.hint == "" {
		t.Errorf("a sensor that is no URL: %v", err)
	}
}
