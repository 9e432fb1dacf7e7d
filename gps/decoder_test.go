package gps

import (
	"fmt"
	"math"
	"strings"
	"testing"
	"time"
)

// tell gives a decoder sentences (without start and checksum) that arrived
// together.
func tell(d *decoder, at time.Time, bodies ...string) Report {
	for _, body := range bodies {
		d.line([]byte(summed(body)), at, 9600)
	}
	return d.report()
}

// gga and rmc make sentences of an invented place, moved north by metres.
func gga(at time.Time, northM float64) string {
	return fmt.Sprintf("GPGGA,%s,%s,N,00530.0000,W,1,09,0.9,31.2,M,14.5,M,,", at.Format("150405.00"), minutes(northM))
}

func rmc(at time.Time, northM float64) string {
	return fmt.Sprintf("GPRMC,%s,A,%s,N,00530.0000,W,0.0,,%s,,,A", at.Format("150405.00"), minutes(northM), at.Format("020106"))
}

func minutes(northM float64) string {
	deg := 57.25 + northM/111195
	return fmt.Sprintf("%02d%08.5f", int(deg), (deg-math.Floor(deg))*60)
}

// Every row of the published table alone: what may be believed comes out, and
// nothing else.
func TestDecoderOnTheTable(t *testing.T) {
	for _, r := range table(t) {
		d := newDecoder(Options{})
		for _, line := range split([]byte(r.sentence+"\n"), nil) {
			d.line([]byte(line), noon, 0)
		}
		got := d.report()
		position := map[string]bool{"GGA": true, "RMC": true, "GLL": true, "GNS": true}[r.kind]
		used := position && r.valid == "yes" && (r.expect == "ok" || r.expect == "resync")
		if got.Fix.Valid() != used || (got.State == Fixed) != used {
			t.Errorf("%s: state %v, fix %+v; used should be %v", r.id, got.State, got.Fix, used)
		}
		if used {
			same(t, r.id+" latitude", got.Fix.LatitudeDeg, r.latitude, 1e-8)
			same(t, r.id+" longitude", got.Fix.LongitudeDeg, r.longitude, 1e-8)
		}
		wantSentences, wantRejected := 1, 0
		switch r.expect {
		case "ok":
		case "resync":
			wantRejected = 1
		default:
			wantSentences, wantRejected = 0, 1
		}
		if got.Sentences != wantSentences || got.Rejected != wantRejected {
			t.Errorf("%s: %d accepted, %d rejected, want %d, %d", r.id, got.Sentences, got.Rejected, wantSentences, wantRejected)
		}
		late := used && r.date >= "2026-11-01"
		if got.Fix.Time.IsZero() == late {
			t.Errorf("%s: time %v of %s", r.id, got.Fix.Time, r.date)
		}
	}
}

func TestOneFixFromSeveralSentences(t *testing.T) {
	d := newDecoder(Options{})
	got := tell(d, noon, "GPGGA,120000.00,5715.0000,N,00530.0000,W,2,09,0.9,31.2,M,14.5,M,,",
		"GPGSA,A,3,01,02,03,,,,,,,,,,1.6,0.9,1.3",
		"GPRMC,120000.00,A,5715.0000,N,00530.0000,W,0.0,,221126,,,A",
		"GPGLL,5715.0000,N,00530.0000,W,120000.00,A,A")
	want := Fix{
		Time: noon, Received: noon, LatitudeDeg: 57.25, LongitudeDeg: -5.5,
		AltitudeM: 31.2 + 14.5, AltitudeKnown: true, Quality: "differential", SatellitesUsed: 9, HDOP: 0.9,
	}
	if got.Fix != want || got.State != Fixed || got.Problem != "" {
		t.Errorf("%+v\nwant %+v", got, want)
	}
	// RMC begins the next second: height and quality are kept.
	got = tell(d, noon.Add(time.Second), rmc(noon.Add(time.Second), 0))
	want.Time, want.Received = noon.Add(time.Second), noon.Add(time.Second)
	if got.Fix != want {
		t.Errorf("%+v\nwant %+v", got.Fix, want)
	}
}

func TestHeightWithoutGeoid(t *testing.T) {
	for _, c := range []struct {
		bodies []string
		want   Fix
	}{
		{[]string{"GPGGA,120000,5715.0,N,00530.0,W,1,09,0.9,31.2,M,-14.5,M,,"}, Fix{AltitudeKnown: true, AltitudeM: 16.7}},
		{[]string{"GPGGA,120000,5715.0,N,00530.0,W,1,09,0.9,31.2,M,,,,"}, Fix{AltitudeKnown: true, AltitudeM: 31.2, AltitudeUncertaintyM: 30}},
		{[]string{"GPGGA,120000,5715.0,N,00530.0,W,1,09,0.9,,M,,M,,"}, Fix{}},
		{[]string{"GPGSA,A,2,01,02,03,,,,,,,,,,1.6,0.9,1.3", "GPGGA,120000,5715.0,N,00530.0,W,1,03,0.9,31.2,M,14.5,M,,"}, Fix{}},
	} {
		got := tell(newDecoder(Options{}), noon, c.bodies...).Fix
		if got.AltitudeKnown != c.want.AltitudeKnown || math.Abs(got.AltitudeM-c.want.AltitudeM) > 1e-9 ||
			got.AltitudeUncertaintyM != c.want.AltitudeUncertaintyM {
			t.Errorf("%v: %+v, want %+v", c.bodies, got, c.want)
		}
	}
}

func TestLossKeepsTheLastFix(t *testing.T) {
	d := newDecoder(Options{})
	first := tell(d, noon, rmc(noon, 0), gga(noon, 0))
	later := noon.Add(time.Second)
	// One sentence that says no outweighs another that came before it.
	got := tell(d, later, rmc(later, 5), "GPGGA,120001.00,,,,,0,00,99.99,,,,,,")
	if got.State != Searching || got.Fix != first.Fix {
		t.Errorf("%v %+v, want searching and %+v", got.State, got.Fix, first.Fix)
	}
	if got = tell(d, later, rmc(later, 5)); got.State != Searching {
		t.Error("the same second was used after it had been refused")
	}
	// Sentences without positions don't keep a fix present for ever.
	d = newDecoder(Options{})
	tell(d, noon, rmc(noon, 0))
	if got = tell(d, noon.Add(20*time.Second), "GPGSV,1,1,00"); got.State != Searching || !got.Fix.Valid() {
		t.Errorf("%v %+v after 20 s without a position", got.State, got.Fix)
	}
}

func TestNotBelieved(t *testing.T) {
	for name, c := range map[string]struct {
		bodies []string
		fix    bool
		dated  bool
		says   string
	}{
		"0/0":        {[]string{"GPGGA,120000,0000.0000,N,00000.0000,E,1,05,0.9,31.2,M,14.5,M,,"}, false, false, "position 0, 0"},
		"simulator":  {[]string{"GPGGA,120000,5715.0,N,00530.0,W,8,09,0.9,31.2,M,14.5,M,,"}, false, false, "simulates"},
		"roll-over":  {[]string{"GPRMC,120000,A,5715.0,N,00530.0,W,,,080407,,,A"}, true, false, "date 2007-04-08 looks like the 1024-week roll-over of an old receiver: position used, time not"},
		"second":     {[]string{"GPRMC,120000,A,5715.0,N,00530.0,W,,,230887,,,A"}, true, false, "1024-week"},
		"too old":    {[]string{"GPRMC,120000,A,5715.0,N,00530.0,W,,,311026,,,A"}, true, false, "before this program was made"},
		"too far":    {[]string{"GPRMC,120000,A,5715.0,N,00530.0,W,,,221170,,,A"}, true, false, "too far ahead"},
		"no fix":     {[]string{"GPRMC,120000,V,,,,,,,221126,,,N", "GPZDA,120000,22,11,2026,,"}, false, false, ""},
		"no fix yet": {[]string{"GPZDA,115959,22,11,2026,,", "GPGLL,5715.0000,N,00530.0000,W,120000,A,A"}, true, false, ""},
		"no date":    {[]string{gga(noon, 0)}, true, false, ""},
		"typed in":   {[]string{"GPGGA,120000,5715.0,N,00530.0,W,7,0,0.9,31.2,M,14.5,M,,", "GPZDA,120000,22,11,2026,,"}, true, false, ""},
		"ZDA first":  {[]string{"GPZDA,115959,22,11,2026,,", rmc(noon, 0)}, true, true, ""},
		"ZDA's date": {[]string{gga(noon, 0), "GPZDA,120000.00,22,11,2026,,"}, true, true, ""},
		"all well":   {[]string{gga(noon, 0), rmc(noon, 0)}, true, true, ""},
	} {
		got := tell(newDecoder(Options{}), noon, c.bodies...)
		if got.Fix.Valid() != c.fix || got.Fix.Time.IsZero() == c.dated {
			t.Errorf("%s: %+v", name, got.Fix)
		}
		if !strings.Contains(got.Problem, c.says) || (c.says == "") != (got.Problem == "") {
			t.Errorf("%s: problem %q, want %q", name, got.Problem, c.says)
		}
	}
}

func TestNotBeforeCanBeTold(t *testing.T) {
	d := newDecoder(Options{NotBefore: time.Date(2002, 1, 1, 0, 0, 0, 0, time.UTC)})
	got := tell(d, noon, "GPRMC,083559.00,A,4717.11437,N,00833.91522,E,0.004,77.52,091202,,,A")
	if want := time.Date(2002, 12, 9, 8, 35, 59, 0, time.UTC); !got.Fix.Time.Equal(want) {
		t.Errorf("%v, want %v", got.Fix.Time, want)
	}
}

func TestJumpsHaveToBeRepeated(t *testing.T) {
	d := newDecoder(Options{})
	at := noon
	next := func(northM float64) Report {
		at = at.Add(time.Second)
		return tell(d, at, rmc(at, northM), gga(at, northM))
	}
	next(0)
	if got := next(550); got.Problem != "" { // 400 m/s and 200 m of slack
		t.Errorf("550 m: %q", got.Problem)
	}
	home := next(0).Fix.LatitudeDeg
	if got := next(650); got.Fix.LatitudeDeg != home || got.Problem == "" {
		t.Errorf("650 m: %v %q", got.Fix.LatitudeDeg, got.Problem)
	}
	next(0)
	if got := next(100e3); got.Fix.LatitudeDeg != home || got.Problem != "position jumped 100.0 km: not used until it is repeated" {
		t.Errorf("jump: %v %q", got.Fix.LatitudeDeg, got.Problem)
	}
	if got := next(0); got.Fix.LatitudeDeg != home || got.Problem != "" {
		t.Errorf("back: %v %q", got.Fix.LatitudeDeg, got.Problem)
	}
	for _, northM := range []float64{200e3, 400e3, 600e3, 200e3} { // no two agree
		if got := next(northM); got.Fix.LatitudeDeg != home {
			t.Errorf("places that don't agree: %v", got.Fix.LatitudeDeg)
		}
	}
	next(0)
	for i, want := range []bool{false, false, true} {
		got := next(100e3)
		if moved := math.Abs(got.Fix.LatitudeDeg-home) > 0.5; moved != want {
			t.Errorf("second %d after a jump: moved %v", i+1, moved)
		}
	}
	// Two hours later 100 km are an ordinary way.
	at = at.Add(2 * time.Hour)
	if got := next(0); got.Fix.LatitudeDeg != home {
		t.Errorf("two hours later: %+v", got.Fix)
	}
}

// A file replayed a hundred times too fast is judged by its own times.
func TestFastReplayIsNoJump(t *testing.T) {
	d := newDecoder(Options{})
	for i := range 10 {
		at := noon.Add(time.Duration(i) * time.Minute)
		got := tell(d, noon.Add(time.Duration(i)*time.Second/100), rmc(at, float64(i)*9000))
		if got.Problem != "" || !got.Fix.Time.Equal(at) {
			t.Errorf("minute %d: %q %v", i, got.Problem, got.Fix.Time)
		}
	}
}

func TestCalendar(t *testing.T) {
	day := time.Date(2026, 12, 31, 0, 0, 0, 0, time.UTC)
	const late, early = 24*time.Hour - time.Second, 500 * time.Millisecond
	for _, c := range []struct {
		known, elapsed, timeOfDay time.Duration
		want                      time.Time
	}{
		{late, 800 * time.Millisecond, early, day.Add(24*time.Hour + early)}, // the computer is a little behind
		{late, 1600 * time.Millisecond, late, day.Add(late)},                 // or before
		{late, 90 * time.Second, early, day.Add(24*time.Hour + early)},       // its clock was set
		{late, -90 * time.Second, early, day.Add(24*time.Hour + early)},
		{late, 0, late + time.Second, day.Add(24 * time.Hour)}, // a leap second
		{0, 30 * time.Minute, 31 * time.Minute, day.Add(31 * time.Minute)},
		{0, 61 * time.Minute, 61 * time.Minute, time.Time{}}, // too long ago
	} {
		var calendar calendar
		calendar.set(day, c.known, noon)
		if got := calendar.join(c.timeOfDay, noon.Add(c.elapsed)); !got.Equal(c.want) {
			t.Errorf("%v after %v: %v, want %v", c.timeOfDay, c.known, got, c.want)
		}
	}
	if got := new(calendar).join(late, noon); !got.IsZero() {
		t.Errorf("without a date: %v", got)
	}
}

// The time of day of GGA, before the new date has come, is the new day's.
func TestMidnight(t *testing.T) {
	d := newDecoder(Options{})
	start := time.Date(2026, 12, 31, 23, 59, 57, 0, time.UTC)
	for i := range 6 {
		at := start.Add(time.Duration(i) * time.Second)
		bodies := []string{gga(at, 0), rmc(at, 0)}
		for k := range bodies {
			got := tell(d, at, bodies[k]).Fix
			if i > 0 && !got.Time.Equal(at) {
				t.Errorf("after %s: %v, want %v", bodies[k], got.Time, at)
			}
		}
	}
	if c := d.report().Clock; !c.Known || math.Abs(c.OffsetS) > c.UncertaintyS {
		t.Errorf("clock over midnight: %+v", c)
	}
}

func both(trueDeg, magneticDeg float64) Heading {
	return Heading{TrueDeg: trueDeg, TrueKnown: true, MagneticDeg: magneticDeg, MagneticKnown: true}
}

func TestHeadingsAreJoined(t *testing.T) {
	d := newDecoder(Options{})
	check := func(name string, got *Heading, want Heading) {
		if got == nil || math.Abs(got.TrueDeg-want.TrueDeg) > 1e-9 || math.Abs(got.MagneticDeg-want.MagneticDeg) > 1e-9 ||
			got.TrueKnown != want.TrueKnown || got.MagneticKnown != want.MagneticKnown {
			t.Errorf("%s: %+v, want %+v", name, got, want)
		}
	}
	if got := tell(d, noon, gga(noon, 0)).Heading; got != nil {
		t.Errorf("a heading without a sensor: %+v", got)
	}
	check("HDM", tell(d, noon, "HCHDM,10.0,M").Heading, Heading{MagneticDeg: 10, MagneticKnown: true})
	check("HDT", tell(d, noon, "HEHDT,14.0,T").Heading, both(14, 10))
	// A true heading that was measured wins over one worked out.
	check("HDG", tell(d, noon, "HCHDG,11.0,1.0,W,5.0,E").Heading, both(14, 10))
	later := noon.Add(10 * time.Second)
	check("HDG alone", tell(d, later, "HCHDG,359.0,2.0,E,5.0,W").Heading, both(356, 1))
	if got := tell(d, later.Add(10*time.Second), "HEHDT,,T").Heading; got != nil {
		t.Errorf("a sensor that gives no heading: %+v", got)
	}
}

func TestNoiseIsNamed(t *testing.T) {
	d := newDecoder(Options{})
	for range noiseLines {
		d.line([]byte("\x80\x1b[2Jgarbage"), noon, 9600)
	}
	got := d.report()
	if got.Problem != "nothing readable arrives: wrong baud rate, or not a receiver" || got.Rejected != noiseLines {
		t.Errorf("%+v", got)
	}
	if got = tell(d, noon, gga(noon, 0)); got.Problem != "" {
		t.Errorf("a sentence came: %q", got.Problem)
	}
}

func TestFixFromADaemon(t *testing.T) {
	good := Fix{Time: noon, Received: noon, LatitudeDeg: 57.25, LongitudeDeg: -5.5, AltitudeM: 46, AltitudeKnown: true, Quality: "gps", SatellitesUsed: 7}
	d := newDecoder(Options{})
	d.fix(good, true)
	if got := d.report(); got.Fix != good || got.State != Fixed {
		t.Errorf("%+v", got)
	}
	for name, spoil := range map[string]func(*Fix){
		"latitude":  func(f *Fix) { f.LatitudeDeg = 90.1 },
		"longitude": func(f *Fix) { f.LongitudeDeg = math.NaN() },
		"height":    func(f *Fix) { f.AltitudeM = math.Inf(1) },
		"no fix":    func(f *Fix) { f.Quality = "none" },
		"0/0":       func(f *Fix) { f.LatitudeDeg, f.LongitudeDeg = 0, 0 },
	} {
		d, bad := newDecoder(Options{}), good
		spoil(&bad)
		d.fix(bad, true)
		if got := d.report(); got.Fix.Valid() || got.State != Searching {
			t.Errorf("%s: %+v", name, got)
		}
	}
}
