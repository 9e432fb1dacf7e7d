package main

import (
	"context"
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"testing"
	"time"

	"foreaim/track"
	"foreaim/track/elements"
)

// garden is a skyline as a person enters it: a house, a wood, a tower. It goes
// on through north, where no point is.
var garden = []struct{ azimuth, elevation float64 }{{20, 2}, {40, 30}, {75, 30}, {76, 4}, {100, 15}, {150, 15}, {200, 3}, {255, 4}, {256, 40}, {268, 40}, {269, 4}, {300, 12}}

// behindGarden tells whether a direction is hidden, by the edges of the polygon
// as they are drawn on paper: it is below the line of one of them.
func behindGarden(azimuth, elevation float64) bool {
	for i, a := range garden {
		b := garden[(i+1)%len(garden)]
		if b.azimuth < a.azimuth { // across north, on the sheet's right and left edge
			b.azimuth += 360
		}
		for _, x := range []float64{azimuth, azimuth + 360} {
			// The cross product tells the side of the line from a to b.
			if a.azimuth <= x && x <= b.azimuth && (b.azimuth-a.azimuth)*(elevation-a.elevation) < (b.elevation-a.elevation)*(x-a.azimuth) {
				return true
			}
		}
	}
	return elevation < 0
}

// writeGarden writes the skyline with its columns in degrees or in fists.
func writeGarden(t *testing.T, column string, unitDeg float64) string {
	t.Helper()
	text := "azimuth_deg," + column + "\n"
	for _, p := range garden {
		line, err := json.Marshal([]float64{p.azimuth, p.elevation / unitDeg})
		if err != nil {
			t.Fatal(err)
		}
		text += string(line[1:len(line)-1]) + "\n"
	}
	file := filepath.Join(t.TempDir(), "garden.csv")
	if err := os.WriteFile(file, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
	return file
}

// printed runs a command and reads the JSON that it prints.
func printed[T any](t *testing.T, args ...string) (answer T) {
	t.Helper()
	status, stdout, stderr := runHere(t, context.Background(), append(args, "--json")...)
	if status != statusDone {
		t.Fatalf("%q: status %d: %s", args, status, stderr)
	}
	if err := json.Unmarshal([]byte(stdout), &answer); err != nil {
		t.Fatal(err)
	}
	return answer
}

// seenPass is a pass, and seenBurst a burst, as the commands print them.
type seenPass struct {
	Rise   struct{ Time time.Time }
	Set    struct{ Time time.Time }
	Hidden []struct{ From, To time.Time }
	Bursts int `json:"bursts_expected"`
}

type seenBurst struct {
	Time   time.Time
	Hidden bool
}

// inSight tells whether the pass is in sight at a time, by what was printed.
func (p seenPass) inSight(at time.Time) bool {
	if at.Before(p.Rise.Time) || at.After(p.Set.Time) {
		return false
	}
	for _, h := range p.Hidden {
		if at.After(h.From) && at.Before(h.To) {
			return false
		}
	}
	return true
}

// With a skyline entered by hand, the passes that are printed rise, go behind
// the trees and set within 0.3 s of when the test's own look along the skyline
// says, every tenth of a second for a day; and the bursts are in sight, or not,
// as it says.
func TestSkylineOfPassesAndBursts(t *testing.T) {
	data, err := os.Open("../../testdata/outing/emberling.tle")
	if err != nil {
		t.Fatal(err)
	}
	defer data.Close()
	sets, err := elements.Read(data, data.Name())
	if err != nil || len(sets) != 1 {
		t.Fatal(sets, err)
	}
	orbit := orbitOf(t, sets[0])
	site := track.Site{LatitudeDeg: 58.3127, LongitudeDeg: 14.0864, HeightM: 131}
	from := mustTime(testNow)
	first := from.Add(10 * time.Second)
	const period, step = 30 * time.Second, 100 * time.Millisecond
	beacon := []string{"--period", period.String(), "--first", first.Format(time.RFC3339)}
	file := writeGarden(t, "elevation_deg", 1)
	passes := printed[[]seenPass](t, with(with(emberling, beacon...), "passes", "--skyline", file)...)
	inFists := printed[[]seenPass](t, with(with(emberling, beacon...), "passes", "--skyline", writeGarden(t, "fists", 10))...)

	changes, hidden, off := 0, 0, 0
	was := false
	for at := from; at.Before(from.Add(24 * time.Hour)); at = at.Add(step) {
		look, err := orbit.Look(site, at)
		if err != nil {
			t.Fatal(err)
		}
		if look.ElevationDeg < -5 { // it climbs by less than 0.2° a second there
			at = at.Add(9 * step)
			continue
		}
		want := !behindGarden(look.AzimuthDeg, look.ElevationDeg)
		if want != was {
			was = want
			changes++
		}
		got := false
		for _, p := range passes {
			got = got || p.inSight(at)
		}
		if got == want {
			off = 0
		} else if off++; off > 3 {
			t.Fatalf("%s at %.2f° %.2f°: in sight %v, want %v", at.Format(time.RFC3339Nano), look.AzimuthDeg, look.ElevationDeg, got, want)
		}
	}
	for i, p := range passes {
		hidden += len(p.Hidden)
		count := 0
		for burst := first; burst.Before(p.Set.Time); burst = burst.Add(period) {
			if look, err := orbit.Look(site, burst); err == nil && !burst.Before(p.Rise.Time) && !behindGarden(look.AzimuthDeg, look.ElevationDeg) {
				count++
			}
		}
		if p.Bursts != count {
			t.Errorf("the pass of %s has %d bursts in sight, want %d", p.Rise.Time, p.Bursts, count)
		}
		if i >= len(inFists) || inFists[i].Rise.Time.Sub(p.Rise.Time).Abs() > time.Millisecond || inFists[i].Set.Time.Sub(p.Set.Time).Abs() > time.Millisecond {
			t.Errorf("the pass of %s isn't the same with a skyline in fists", p.Rise.Time)
		}
	}
	if len(passes) < 4 || hidden < 2 || changes < 2*(len(passes)+hidden)-1 {
		t.Errorf("%d passes, %d times hidden, %d changes: too few to prove anything", len(passes), hidden, changes)
	}

	listed := 0
	for _, p := range passes {
		answer := printed[struct{ Bursts []seenBurst }](t, with(with(emberling, beacon...),
			"bursts", "--skyline", file, "--from", p.Rise.Time.Add(time.Second).Format(time.RFC3339))...)
		for _, b := range answer.Bursts {
			listed++
			look, err := orbit.Look(site, b.Time)
			if err != nil {
				t.Fatal(err)
			}
			if want := behindGarden(look.AzimuthDeg, look.ElevationDeg); b.Hidden != want {
				t.Errorf("the burst of %s at %.2f° %.2f°: hidden %v, want %v", b.Time, look.AzimuthDeg, look.ElevationDeg, b.Hidden, want)
			}
			if b.Time.Before(p.Rise.Time.Add(-time.Second)) || b.Time.After(p.Set.Time) {
				t.Errorf("a burst at %s, outside the pass from %s to %s", b.Time, p.Rise.Time, p.Set.Time)
			}
			if phase := math.Mod(b.Time.Sub(first).Seconds(), period.Seconds()); math.Abs(phase) > 0.01 && math.Abs(phase-period.Seconds()) > 0.01 {
				t.Errorf("a burst at %s, which is no multiple of %v after %s", b.Time, period, first)
			}
		}
	}
	if listed < 20 {
		t.Errorf("only %d bursts", listed)
	}
}
