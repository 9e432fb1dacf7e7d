package elements

import (
	"bytes"
	"cmp"
	"encoding/json"
	"strconv"
	"strings"
	"testing"
	"time"
	"unicode"
	"unicode/utf8"

	"foreaim/track/internal/csvfile"
)

// checkRead checks what holds for any input: faults have places, and no text
// carries control characters onwards.
func checkRead(t *testing.T, sets []Set, err error) {
	t.Helper()
	if len(sets) == 0 && err == nil {
		t.Fatal("neither a set nor an error")
	}
	for _, f := range faults(t, err) {
		if f.Line < 1 || f.Column < 1 || f.What == "" {
			t.Errorf("fault without a place or a reason: %+v", *f)
		}
		if text := f.Error(); strings.ContainsFunc(text, unicode.IsControl) || !utf8.ValidString(text) {
			t.Errorf("control characters in %q", text)
		}
	}
	for _, s := range sets {
		if err := cmp.Or(s.Check(), s.Rest.check()); err != nil {
			t.Errorf("a set out of range was read: %v", err)
		}
		if text := s.Name + s.Designator; strings.ContainsFunc(text, func(r rune) bool { return !unicode.IsPrint(r) }) || !utf8.ValidString(text) {
			t.Errorf("control characters in %q", text)
		}
	}
}

// checkRoundTrip checks that every set comes back from each encoding as it is,
// and that the losses told for a TLE are all that is lost there.
func checkRoundTrip(t *testing.T, sets []Set) {
	t.Helper()
	if len(sets) == 0 {
		return
	}
	for format := range writers {
		text := written(t, format, sets)
		back, err := Read(strings.NewReader(text), "f")
		if err != nil || len(back) != len(sets) {
			t.Fatalf("%s: %d sets of %d read back, %v from\n%s", format, len(back), len(sets), err, text)
		}
		for i := range back {
			if got, want := back[i].bare(), sets[i].bare(); got != want {
				t.Fatalf("%s: read back\n%+v, want\n%+v from\n%s", format, got, want, text)
			}
		}
	}
	for _, s := range sets {
		var b bytes.Buffer
		losses, err := s.TLELosses()
		if err != nil {
			continue
		}
		if err := WriteTLE(&b, []Set{s}); err != nil {
			t.Fatal(err)
		}
		if back := mustRead(t, b.String())[0].bare(); len(losses) == 0 && !near(back, s.bare()) {
			t.Fatalf("no losses told, read back\n%+v, want\n%+v", back, s.bare())
		}
	}
}

// near tells whether a and b are the same but for the last bits of numbers.
func near(a, b Set) bool {
	for _, p := range [][2]*float64{
		{&a.MeanMotionRevPerDay, &b.MeanMotionRevPerDay}, {&a.Eccentricity, &b.Eccentricity}, {&a.InclinationDeg, &b.InclinationDeg},
		{&a.NodeDeg, &b.NodeDeg}, {&a.PerigeeDeg, &b.PerigeeDeg}, {&a.AnomalyDeg, &b.AnomalyDeg}, {&a.BStar, &b.BStar},
		{&a.MeanMotionDot, &b.MeanMotionDot}, {&a.MeanMotionDDot, &b.MeanMotionDDot},
	} {
		if abs(*p[0]-*p[1]) <= 1e-12*abs(*p[1]) {
			*p[0] = *p[1]
		}
	}
	return a == b
}

// Every set that was read from a TLE is written and read back equal.
func FuzzTLE(f *testing.F) {
	f.Add(readFile(f, "SGP4-VER.TLE"))
	f.Add(readFile(f, "omm/invented_all.tle"))
	f.Add("0 KELPIE\r\n" + line1 + "\r\n" + line2)
	f.Add(strings.Repeat("1 ", 3000) + "\n" + line1)
	f.Fuzz(func(t *testing.T, text string) {
		sets, err := Read(strings.NewReader(text), "f")
		checkRead(t, sets, err)
		checkRoundTrip(t, sets)
		for _, s := range sets {
			if s.Format != TLE {
				continue
			}
			line1, line2, err := s.TLE()
			if err != nil {
				t.Fatalf("%+v: %v", s, err)
			}
			back, err := Read(strings.NewReader(line1+"\n"+line2), "f")
			if err != nil {
				t.Fatalf("%s\n%s\n%v", line1, line2, err)
			}
			s.Name = ""
			if back[0].bare() != s.bare() {
				t.Fatalf("read back\n%+v, want\n%+v", back[0], s)
			}
		}
	})
}

// Values in range make a TLE that reads back to within the last digit printed.
func FuzzTLEFromValues(f *testing.F) {
	f.Add(99001, int64(1795155154567488000), 15.2, 0.001, 97.4, 24.1, 87.6, 272.6, 2e-4, 4e-5, 0.0)
	f.Add(339999, int64(2745532799999999999), 0.001, 0.9999999, 180.0, 360.0, -360.0, 359.99999, -1e-11, -0.999999994, 1e5)
	f.Fuzz(func(t *testing.T, number int, epochNs int64, motion, ecc, incl, node, peri, anom, bstar, dot, ddot float64) {
		s := Set{
			CatalogueNumber: number, Epoch: time.Unix(0, epochNs).UTC(), MeanMotionRevPerDay: motion, Eccentricity: ecc, InclinationDeg: incl,
			NodeDeg: node, PerigeeDeg: peri, AnomalyDeg: anom, BStar: bstar, MeanMotionDot: dot, MeanMotionDDot: ddot,
		}
		line1, line2, err := s.TLE()
		if err != nil {
			if s.Check() == nil && number >= 0 && number <= maxAlpha5 && dot > -0.99 && dot < 0.99 && s.Epoch.Year() > 1957 && s.Epoch.Year() < 2056 {
				t.Fatalf("refused: %v", err)
			}
			return
		}
		back := mustRead(t, line1+"\n"+line2)[0]
		if gap := back.Epoch.Sub(s.Epoch).Abs(); gap > 432*time.Microsecond {
			t.Errorf("epoch off by %v", gap)
		}
		for name, c := range map[string]struct{ got, want, within float64 }{
			"mean motion":  {back.MeanMotionRevPerDay, motion, 0.51e-8},
			"eccentricity": {back.Eccentricity, ecc, 0.51e-7},
			"inclination":  {back.InclinationDeg, incl, 0.51e-4},
			"drag":         {back.BStar, bstar, max(0.51e-4*abs(bstar), 0.51e-14)},
			"derivative":   {back.MeanMotionDot, dot, 0.51e-8},
			"second":       {back.MeanMotionDDot, ddot, max(0.51e-4*abs(ddot), 0.51e-14)},
			"node":         {apart(back.NodeDeg, node), 0, 0.51e-4},
			"perigee":      {apart(back.PerigeeDeg, peri), 0, 0.51e-4},
			"anomaly":      {apart(back.AnomalyDeg, anom), 0, 0.51e-4},
		} {
			if abs(c.got-c.want) > c.within {
				t.Errorf("%s read back as %v, want %v within %v", name, c.got, c.want, c.within)
			}
		}
		if back.CatalogueNumber != number {
			t.Errorf("number read back as %d, want %d", back.CatalogueNumber, number)
		}
	})
}

func abs(v float64) float64 { return max(v, -v) }

// apart is the angle between two directions, in degrees.
func apart(a, b float64) float64 {
	d := abs(a - b)
	for d > 180 {
		d = abs(d - 360)
	}
	return d
}

// The walker agrees with the standard library: what that finds damaged, it
// refuses; what it reads without a fault has the values that that finds.
func FuzzJSON(f *testing.F) {
	f.Add([]byte(readFile(f, "omm/invented_all.json")))
	f.Add([]byte(readFile(f, "omm/invented2_six_digit_strings.json")))
	f.Add([]byte(omm("X", `[{"a": [null, true, -0.5e+7, "\u00e4\"\\"]}, {}]`, "BSTAR", "-0", "OBJECT_NAME", `"\ud83d\ude00"`)))
	f.Add([]byte("[A"))
	f.Add([]byte(`{"a":[-0,1.5e+3,{}],"b":null}`))
	f.Add([]byte(`[{"EPOCH": "", "BSTAR": 01}, 7, "x", []]`))
	f.Fuzz(func(t *testing.T, text []byte) {
		sets, err := Read(bytes.NewReader(text), "f")
		checkRead(t, sets, err)
		checkRoundTrip(t, sets)
		if !isJSON(bytes.TrimLeft(text, " \t\r\n")) {
			return
		}
		if !json.Valid(text) {
			if err == nil {
				t.Fatal("damaged JSON was accepted")
			}
			return
		}
		if err != nil {
			return
		}
		var messages []map[string]any
		d := json.NewDecoder(bytes.NewReader(text))
		d.UseNumber()
		if bytes.TrimLeft(text, " \t\r\n")[0] == '{' {
			messages = make([]map[string]any, 1)
			err = d.Decode(&messages[0])
		} else {
			err = d.Decode(&messages)
		}
		if err != nil || len(messages) != len(sets) {
			t.Fatalf("%d sets, the standard library reads %d messages, error %v", len(sets), len(messages), err)
		}
		for i, s := range sets {
			for key, got := range map[string]float64{
				"MEAN_MOTION": s.MeanMotionRevPerDay, "ECCENTRICITY": s.Eccentricity, "INCLINATION": s.InclinationDeg,
				"BSTAR": s.BStar, "MEAN_MOTION_DOT": s.MeanMotionDot, "MEAN_MOTION_DDOT": s.MeanMotionDDot,
				"NORAD_CAT_ID": float64(s.CatalogueNumber), "REV_AT_EPOCH": float64(s.RevolutionNumber), "ELEMENT_SET_NO": float64(s.ElementNumber),
			} {
				if want := numberOf(messages[i][key]); got != want {
					t.Errorf("message %d: %s is %v, want %v", i, key, got, want)
				}
			}
			if name, _ := messages[i]["OBJECT_NAME"].(string); len(name) < maxName && !strings.EqualFold(name, unknown) && csvfile.Clean(name, maxName) != s.Name {
				t.Errorf("message %d: name %q, want that of %q", i, s.Name, name)
			}
		}
	})
}

func numberOf(v any) float64 {
	var text string
	switch v := v.(type) {
	case json.Number:
		text = v.String()
	case string:
		text = v
	}
	n, _ := strconv.ParseFloat(text, 64)
	return n
}

func FuzzAlpha5(f *testing.F) {
	f.Add("A0000", 100000)
	f.Add("   42", 339999)
	f.Add("Z9999", -1)
	f.Fuzz(func(t *testing.T, text string, number int) {
		if n, err := ParseAlpha5(text); err == nil {
			back, err := FormatAlpha5(n)
			if err != nil || back != strings.ReplaceAll(text, " ", "0") {
				t.Errorf("%q is %d, which is written %q, %v", text, n, back, err)
			}
		}
		if field, err := FormatAlpha5(number); err == nil {
			if back, err := ParseAlpha5(field); err != nil || back != number {
				t.Errorf("%d is written %q, which is read as %d, %v", number, field, back, err)
			}
		} else if number >= 0 && number <= maxAlpha5 {
			t.Error(err)
		}
	})
}

// Calendar epochs agree with the standard library; any epoch survives a TLE.
func FuzzEpoch(f *testing.F) {
	for _, text := range []string{"2026-11-20T06:12:34.567488", "2024-060T23:59:59.9Z", "2016-12-31T23:59:60", "2000-01-10T0:00:00", "26324.25873342", "56366.99999999"} {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		if got, ok := parseTLEEpoch([]byte(text)); ok {
			back, err := formatTLEEpoch(got)
			again, ok := parseTLEEpoch([]byte(back))
			if err != nil || !ok || again != got {
				t.Errorf("%q is %v, written %q, %v", text, got, back, err)
			}
		}
		calendar := strings.Count(text, "-") == 2
		want, err := time.Parse("2006-01-02T15:04:05", strings.TrimSuffix(text, "Z"))
		// The library also takes a comma and an hour of one digit, the standard doesn't.
		written := !strings.Contains(text, ",") && strings.Index(text, ":") == len("2006-01-02T15")
		known := err == nil && written && want.Year() >= firstYear && want.Year() <= lastOMMYear
		got, ok := parseOMMEpoch([]byte(text))
		switch leap := strings.Contains(text, ":60"); {
		case leap || !calendar:
		case ok != known:
			t.Errorf("%q: read %v, the standard library %v (%v)", text, ok, known, err)
		case ok && !got.Equal(want):
			t.Errorf("%q is %v, want %v", text, got, want)
		}
	})
}
