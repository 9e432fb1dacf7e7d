package main

import (
	"fmt"
	"math"
	"strings"
	"testing"
	"time"

	"foreaim/track"
	"foreaim/track/north"
)

// northJSON is the part of the answer that these tests look at.
type northJSON struct {
	Note               string
	Sun, Moon          *bodyJSON
	Star               *bodyJSON `json:"pole_star"`
	GridConvergenceDeg *float64  `json:"grid_convergence_deg"`
	GridZone           string    `json:"grid_zone"`
	Landmarks, Sights  []struct {
		Name, Refusal  string
		TrueDeg        *float64 `json:"true_deg"`
		MagneticDeg    *float64 `json:"magnetic_deg"`
		UncertaintyDeg *float64 `json:"uncertainty_deg"`
		DistanceKm     *float64 `json:"distance_km"`
		ElevationDeg   *float64 `json:"elevation_deg"`
	}
}

type bodyJSON struct {
	AzimuthDeg       float64  `json:"azimuth_deg"`
	ElevationDeg     float64  `json:"elevation_deg"`
	ShadowAzimuthDeg *float64 `json:"shadow_azimuth_deg"`
}

// Sources: the headers of testdata/sun (astropy; the pole star's by ERFA), of
// testdata/geodesy/geodesic_inverse.csv (GeographicLib) and of
// utm_convergence.csv (GeographicLib, checked with PROJ). Every fifth row.
func TestNorthAgainstReferences(t *testing.T) {
	fifth := func(file string, check func(row record, got func(args ...string) northJSON)) {
		for i, row := range readRows(t, "../../testdata/"+file) {
			if i%5 != 0 {
				continue
			}
			check(row, func(args ...string) (answer northJSON) {
				runJSON(t, &answer, append([]string{"north"}, args...)...)
				return answer
			})
		}
	}
	body := func(row record, b *bodyJSON, tolerance float64) {
		altitude := row.number(t, "alt_deg")
		across := math.Remainder(b.AzimuthDeg-row.number(t, "az_deg"), 360) * math.Cos(altitude*math.Pi/180)
		within(t, row["id"]+" azimuth, degrees on the sky", across, 0, tolerance)
		within(t, row["id"]+" elevation", b.ElevationDeg, altitude, tolerance)
	}
	fifth("sun/sun_azalt.csv", func(row record, got func(args ...string) northJSON) {
		sun := got("--site", siteOf(row), "--at", row["utc"]).Sun
		body(row, sun, 0.02)
		if altitude := row.number(t, "alt_deg"); (sun.ShadowAzimuthDeg != nil) != (altitude > 0) && math.Abs(altitude) > 1 {
			t.Errorf("%s: shadow %v of a sun at %v°", row["id"], sun.ShadowAzimuthDeg, altitude)
		}
		if s := sun.ShadowAzimuthDeg; s != nil {
			within(t, row["id"]+" shadow", math.Mod(*s+180, 360), sun.AzimuthDeg, 1e-3)
		}
	})
	fifth("sun/moon_azalt.csv", func(row record, got func(args ...string) northJSON) {
		body(row, got("--site", siteOf(row), "--at", row["utc"]).Moon, 0.1)
	})
	fifth("sun/polestar_azalt.csv", func(row record, got func(args ...string) northJSON) {
		if row["utc"] < "1957" {
			return // the command line takes later times only
		}
		body(row, got("--site", siteOf(row), "--at", row["utc"]).Star, 0.01)
	})
	fifth("geodesy/geodesic_inverse.csv", func(row record, got func(args ...string) northJSON) {
		distance := row.number(t, "distance_m")
		if row["azi_defined"] != "yes" || distance > 300e3 {
			return
		}
		l := got("--site", row["lat1_deg"]+","+row["lon1_deg"], "--landmark", "mark="+row["lat2_deg"]+","+row["lon2_deg"]).Landmarks[0]
		within(t, row["id"]+" distance, km", *l.DistanceKm, distance/1000, 0.001)
		within(t, row["id"]+" bearing", math.Remainder(*l.TrueDeg-row.number(t, "azi1_deg"), 360), 0, 0.001)
		if useless := distance < 60 || distance > 150e3; (l.Refusal != "") != useless || (l.UncertaintyDeg == nil) != useless || l.ElevationDeg != nil {
			t.Errorf("%s at %v m: %+v", row["id"], distance, l)
		}
	})
	fifth("geodesy/utm_convergence.csv", func(row record, got func(args ...string) northJSON) {
		a := got("--site", row["latitude_deg"]+","+row["longitude_deg"], "--at", "2026-11-25T10:00:00Z")
		within(t, "convergence", *a.GridConvergenceDeg, row.number(t, "convergence_deg"), 1e-4)
		if side := map[string]string{"n": "north", "s": "south"}[row["hemisphere"]]; a.GridZone != fmt.Sprintf("zone %s %s", row["zone"], side) {
			t.Errorf("%v: %s", row, a.GridZone)
		}
	})
}

// What can't be used is said in a sentence and has no number that could be
// taken for good; what can be is ordered by how good it is.
func TestGuides(t *testing.T) {
	day, night := mustTime("2026-11-25T10:00:00Z"), mustTime("2026-11-25T22:00:00Z")
	meadow := track.Site{LatitudeDeg: 58.3127, LongitudeDeg: 14.0864, HeightM: 131}
	marks := []north.Landmark{
		{Name: "church", LatitudeDeg: 58.3306, LongitudeDeg: 14.1217, HeightM: 167, HeightKnown: true},
		{Name: "here", LatitudeDeg: 58.3127, LongitudeDeg: 14.0864},
		{Name: "post", LatitudeDeg: 58.3129, LongitudeDeg: 14.0864},
	}
	for name, c := range map[string]struct {
		site track.Site
		at   time.Time
		says []string
	}{
		"day": {meadow, day, []string{
			"\nBest now: sun's shadow, good to ±1.0°.", "\nNot now: pole star. It is too light", "\nNot now: moon. The moon is below the horizon.",
			"\nNot now: here. You stand on it.", "\nNot now: post. It is only 22 m away: take one further off.",
			"\nNever look at the sun", "\ntrue azimuth = magnetic azimuth + 6.1°", "\ntrue azimuth = map grid azimuth - 0.8° (UTM zone 33 north)", "some metres from steel",
		}},
		"night": {meadow, night, []string{"\nBest now: church, good to ±1.5°. Aim the level boom at it.", "\npole star             0.0°    353.8°    ±1.9°", "\nNot now: sun's shadow."}},
		// The sun in the zenith, near the equator and the date line.
		"zenith":    {track.Site{LatitudeDeg: -0.5, LongitudeDeg: 179.99}, mustTime("2027-03-20T00:07:00Z"), []string{"Not now: sun's shadow. The sun is too high: 9", "\ncompass needle", "UTM zone 60 south"}},
		"south":     {track.Site{LatitudeDeg: -34, LongitudeDeg: 18}, mustTime("2026-11-25T22:00:00Z"), []string{"Southern Cross"}},
		"pole":      {track.Site{LatitudeDeg: 90}, mustTime("2026-06-21T12:00:00Z"), []string{"\nsun's shadow 359.5°", "Not now: church. It is 3534 km away, too far to be seen.", "No map grid: latitude 90 is outside the UTM grid", "too high here to tell a direction"}},
		"blackout":  {track.Site{LatitudeDeg: 86, LongitudeDeg: 139}, mustTime("2026-01-10T12:00:00Z"), []string{"Not now: compass needle. The compass is useless this near the magnetic pole.", "Beware: blackout zone"}},
		"old model": {meadow, mustTime("2031-06-01T10:00:00Z"), []string{"Not now: compass needle. The magnetic model WMM2025 covers", "\nNo declination: ", "\nBest now: church", "\nsun's shadow"}},
	} {
		here := newNorthHere(c.site, c.at, marks)
		text := "\n" + here.String()
		for _, says := range c.says {
			if !strings.Contains(strings.Join(strings.Fields(text), " "), strings.Join(strings.Fields(says), " ")) {
				t.Errorf("%s: %q isn't in\n%s", name, says, text)
			}
		}
		if magnetic := strings.Contains(text, "magnetic  good"); magnetic != (here.fieldErr == nil && here.field.Zone != north.Blackout) {
			t.Errorf("%s: magnetic azimuths: %v\n%s", name, magnetic, text)
		}
		if strings.Contains(text, "NaN") || strings.Contains(text, "Inf") {
			t.Errorf("%s: no number in\n%s", name, text)
		}
		best := 0.0
		for _, g := range here.guides() {
			switch {
			case g.refusal != "":
				best = math.Inf(1)
			case g.sigmaDeg < best || !(g.sigmaDeg > 0 && g.sigmaDeg < 20):
				t.Errorf("%s: %s with %v° after %v°", name, g.name, g.sigmaDeg, best)
			default:
				best = g.sigmaDeg
			}
		}
		for _, line := range strings.Split(text, "\n") {
			if len([]rune(line)) > screenWidth {
				t.Errorf("%s: %d characters: %s", name, len([]rune(line)), line)
			}
		}
	}
}

// What is read of a landmark is the same when it is written and read again.
func FuzzParseLandmark(f *testing.F) {
	for _, text := range []string{"church=54.31,-9.87", "a b=1,2,3", "=1,2", "x=1,2,nan", "x=IO54bh", "\x1b[31m=1,2,", "x==1,2", "x=91,0"} {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		l, err := parseLandmark(text)
		if err != nil {
			return
		}
		if l.Name == "" || l.Name != plain(l.Name) || !(math.Abs(l.LatitudeDeg) <= 90) || l.HeightM != 0 && !l.HeightKnown {
			t.Fatalf("%q: %+v", text, l)
		}
		again := fmt.Sprintf("%s=%v,%v", l.Name, l.LatitudeDeg, l.LongitudeDeg)
		if l.HeightKnown {
			again += fmt.Sprintf(",%v", l.HeightM)
		}
		if got, err := parseLandmark(again); got != l || err != nil {
			t.Errorf("%q: %+v, read again %+v, %v", text, l, got, err)
		}
	})
}
