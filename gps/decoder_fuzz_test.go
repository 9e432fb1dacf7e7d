package gps

import (
	"math"
	"strings"
	"testing"
	"time"
	"unicode"
)

// decode feeds a stream in chunks, the clock going on by a time per line.
func decode(stream, lengths []byte, perLine time.Duration, baud int) Report {
	d, at := newDecoder(Options{}), noon
	for _, line := range split(stream, lengths) {
		d.line([]byte(line), at, baud)
		at = at.Add(perLine)
	}
	return d.report()
}

// sane fails when a report holds what can't be.
func sane(t *testing.T, r Report) {
	t.Helper()
	f := r.Fix
	if !(math.Abs(f.LatitudeDeg) <= 90 && math.Abs(f.LongitudeDeg) <= 180 && math.Abs(f.AltitudeM) <= 2e5) ||
		f.SatellitesUsed < 0 || !(f.HDOP >= 0 && f.HDOP < 99) || f.Valid() && f.LatitudeDeg == 0 && f.LongitudeDeg == 0 {
		t.Errorf("fix %+v", f)
	}
	if !f.Time.IsZero() && (judgeDate(f.Time, buildDate()) != "" || !f.Valid()) {
		t.Errorf("time %v of %q", f.Time, f.Quality)
	}
	if r.State == Fixed && !f.Valid() || r.State != Fixed && r.State != Searching {
		t.Errorf("state %v with %+v", r.State, f)
	}
	if c := r.Clock; c.Known && !(math.Abs(c.OffsetS) < 1e11 && c.UncertaintyS > 0 && c.UncertaintyS < 15) || !c.Known && c != (Clock{}) {
		t.Errorf("clock %+v", c)
	}
	if h := r.Heading; h != nil && !(h.TrueDeg >= 0 && h.TrueDeg < 360 && h.MagneticDeg >= 0 && h.MagneticDeg < 360 &&
		math.Abs(h.PitchDeg) <= 90 && math.Abs(h.RollDeg) <= 180 && h.known()) {
		t.Errorf("heading %+v", h)
	}
	if strings.ContainsFunc(r.Problem, unicode.IsControl) {
		t.Errorf("problem %q", r.Problem)
	}
}

// Whatever comes, cut however, only what can be true comes out, and the same
// as uncut.
func FuzzDecoder(f *testing.F) {
	var all strings.Builder
	for _, r := range table(f) {
		f.Add([]byte(r.sentence+"\r\n"), []byte{7}, int64(100), 4800)
		all.WriteString(r.sentence + "\r\n")
	}
	f.Add([]byte(all.String()), []byte{1, 60, 0}, int64(1000), 0)
	f.Fuzz(func(t *testing.T, stream, lengths []byte, perLineMs int64, baud int) {
		perLine := time.Duration(perLineMs%1e7) * time.Millisecond
		whole, cut := decode(stream, nil, perLine, baud), decode(stream, lengths, perLine, baud)
		sane(t, whole)
		a, b := whole.Heading, cut.Heading
		whole.Heading, cut.Heading = nil, nil
		if whole != cut || (a == nil) != (b == nil) || a != nil && *a != *b {
			t.Errorf("cut by %v: %+v\nuncut: %+v", lengths, cut, whole)
		}
	})
}

// A sentence built of any fields, with the right checksum: the checksum is no
// proof of sense.
func FuzzFields(f *testing.F) {
	for _, r := range table(f) {
		body, _, _ := strings.Cut(strings.TrimLeft(r.sentence, "$"), "*")
		f.Add(body)
	}
	f.Fuzz(func(t *testing.T, body string) {
		d := newDecoder(Options{})
		for i := range 4 {
			d.line([]byte(summed(body)), noon.Add(time.Duration(i)*time.Second), 9600)
		}
		r := d.report()
		sane(t, r)
		if r.Sentences+r.Rejected != 4 || r.Sentences%4 != 0 {
			t.Errorf("%q: %d accepted, %d rejected of 4 equal ones", body, r.Sentences, r.Rejected)
		}
	})
}

// Numbers from a source that decodes itself are believed no more than others.
func FuzzDaemon(f *testing.F) {
	f.Add(57.25, -5.5, 46.0, int64(0), 90.0, 0.001)
	f.Add(-4.625, -5.5, 46.0, int64(0), 90.0, 9.000125) // was believed to 18 s
	f.Add(0.0, 0.0, math.Inf(1), int64(math.MaxInt64), math.NaN(), -1.0)
	f.Fuzz(func(t *testing.T, latitude, longitude, altitude float64, unix int64, offsetS, uncertaintyS float64) {
		d := newDecoder(Options{})
		for i := range 4 {
			at := noon.Add(time.Duration(i) * time.Second)
			utc := time.Unix(unix, 0).UTC().Add(at.Sub(noon))
			d.fix(Fix{Time: utc, Received: at, LatitudeDeg: latitude, LongitudeDeg: longitude, AltitudeM: altitude, AltitudeKnown: true, HDOP: offsetS, Quality: "gps"}, false)
			d.arrival(utc, at)
			d.pulse(offsetS, uncertaintyS, at)
		}
		sane(t, d.report())
	})
}

func BenchmarkDecoderLine(b *testing.B) {
	d := newDecoder(Options{})
	lines := [][]byte{[]byte(summed(rmc(noon, 0))), []byte(summed(gga(noon, 0)))}
	b.ReportAllocs()
	for i := 0; b.Loop(); i++ {
		d.line(lines[i%2], noon.Add(time.Duration(i/2)*time.Second), 9600)
	}
}

func BenchmarkDecoderReport(b *testing.B) {
	w := newWorld(90, 1)
	for range 100 {
		w.second()
	}
	b.ReportAllocs()
	for b.Loop() {
		w.decoder.report()
	}
}
