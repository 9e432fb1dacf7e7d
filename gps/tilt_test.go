package gps

import (
	"testing"
	"time"
)

// Pitch and roll of the rows of testdata/nmea that have them. N073 is a sensor
// whose numbers, by the note of its source, can't be degrees: its pitch is 171.
// The names of N074, HEEL and TRIM, are a boat's.
func TestTiltOfTheTable(t *testing.T) {
	want := map[string]Heading{
		"N071": {PitchDeg: 0.135, PitchKnown: true},
		"N072": {RollDeg: 3.861, RollKnown: true},
		"N073": {},
		"N074": {},
		"N081": {PitchDeg: -12.5, PitchKnown: true, RollDeg: 178.9, RollKnown: true},
	}
	rows := 0
	for _, r := range table(t) {
		if r.kind != "XDR" {
			continue
		}
		rows++
		s, err := readRow(r)
		if expected, listed := want[r.id]; err != nil || s.kind != "XDR" || s.heading != expected || !listed {
			t.Errorf("%s: %q %+v, %v, want %+v", r.id, s.kind, s.heading, err, expected)
		}
	}
	if rows != len(want) {
		t.Errorf("%d rows, want %d", rows, len(want))
	}
}

func TestTiltForms(t *testing.T) {
	for body, want := range map[string]struct {
		heading  Heading
		rejected bool
	}{
		"YXXDR,A,-90.0,D,Pitch":                     {Heading{PitchDeg: -90, PitchKnown: true}, false},
		"YXXDR,A,5.5,D,ptch,A,-180,D,Roll":          {Heading{PitchDeg: 5.5, PitchKnown: true, RollDeg: -180, RollKnown: true}, false},
		"YXXDR,Q,1,Z,ODD,A,7,D,PITCH":               {Heading{PitchDeg: 7, PitchKnown: true}, false},
		"YXXDR,A,7,D,PITCH,A,9":                     {Heading{PitchDeg: 7, PitchKnown: true}, false}, // cut short
		"YXXDR,A,,D,PITCH":                          {},
		"YXXDR,A,7,R,PITCH,G,8,D,ROLL,A,9,D,RUDDER": {}, // not degrees, no angle, neither
		"YXXDR,A,7,D,PITCH,A,180.1,D,ROLL":          {},
		"YXXDR":                                     {},
		"YXXDR,A,NaN,D,PITCH":                       {Heading{}, true},
		"YXXDR,A,1e1,D,ROLL":                        {Heading{}, true},
	} {
		got := tell(newDecoder(Options{}), noon, body)
		if (got.Rejected > 0) != want.rejected {
			t.Errorf("%s: %d rejected", body, got.Rejected)
		}
		switch h := got.Heading; {
		case !want.heading.known() && h != nil:
			t.Errorf("%s: %+v, want nothing", body, *h)
		case want.heading.known() && h == nil:
			t.Errorf("%s: nothing, want %+v", body, want.heading)
		case h != nil:
			if want.heading.Received = noon; *h != want.heading {
				t.Errorf("%s: %+v, want %+v", body, *h, want.heading)
			}
		}
	}
}

// Parts that come in sentences of their own make one heading, until one of them
// stays away.
func TestTiltJoinsTheHeading(t *testing.T) {
	d := newDecoder(Options{})
	got := tell(d, noon, "HCHDG,001.0,,,12.5,W", "HCXDR,A,10.5,D,PITCH", "HCXDR,A,-3.0,D,ROLL").Heading
	want := Heading{
		Received: noon, TrueDeg: 348.5, TrueKnown: true, MagneticDeg: 1, MagneticKnown: true,
		PitchDeg: 10.5, PitchKnown: true, RollDeg: -3, RollKnown: true,
	}
	if got == nil || *got != want {
		t.Fatalf("%+v, want %+v", got, want)
	}
	// The compass falls silent, the tilt goes on.
	later := noon.Add(headingAge + time.Second)
	got = tell(d, later, "HCXDR,A,11.0,D,PITCH").Heading
	if want := (Heading{Received: later, PitchDeg: 11, PitchKnown: true}); got == nil || *got != want {
		t.Errorf("%+v, want %+v: an old heading would look new", got, want)
	}
	// What says nothing doesn't make it younger.
	last := later.Add(time.Second)
	if got = tell(d, last, "IIXDR,C,4.5,C,AIR").Heading; got == nil || !got.Received.Equal(later) {
		t.Errorf("%+v, want the heading of %v", got, later)
	}
	if !got.Fresh(later.Add(silence)) || got.Fresh(later.Add(silence+1)) || (*Heading)(nil).Fresh(later) {
		t.Error("a heading counts as the present one for 2.5 s")
	}
}
