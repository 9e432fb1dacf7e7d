package aim

import (
	"fmt"
	"math"
	"testing"
	"time"

	"foreaim/track"
	"foreaim/track/beacon"
	"pgregory.net/rapid"
)

// arc is a circular orbit at 525 km over a sphere that stands still, seen from
// a site under the plane that is so far aside as asked for. It peaks at peak,
// going from north to south in the east.
type arc struct {
	peak  time.Time
	aside float64 // rad, of the Earth's centre
}

func (a arc) LookLate(_ track.Site, t time.Time, lateS float64) (track.Look, error) {
	const earth, radius, rate = 6371.0, 6896.0, 0.0011024 // km, km, rad/s
	along := rate * (t.Sub(a.peak).Seconds() - lateS)
	e := radius * math.Cos(along) * math.Sin(a.aside)
	n := -radius * math.Sin(along)
	u := radius*math.Cos(along)*math.Cos(a.aside) - earth
	r := math.Sqrt(e*e + n*n + u*u)
	ve, vn, vu := -e*math.Tan(along)*rate, -radius*math.Cos(along)*rate, -(u+earth)*math.Tan(along)*rate
	return track.Look{
		Time: t, AzimuthDeg: track.Wrap360(math.Atan2(e, n) / rad), ElevationDeg: math.Asin(u/r) / rad,
		RangeKm: r, RangeRateKmS: (e*ve + n*vn + u*vu) / r,
	}, nil
}

var peakTime = time.Date(2026, 3, 1, 12, 0, 0, 0, time.UTC)

// prior is that of a pass that peaks at 50°, from 5° to 5°.
func prior() Prior {
	return Prior{
		Objects: []Object{{Name: "MARA-2", Orbit: arc{peakTime, 0.062}, TimeSigmaS: 120}},
		From:    peakTime.Add(-275 * time.Second), To: peakTime.Add(275 * time.Second),
		MinElevationDeg: 5,
		Schedule:        beacon.Schedule{Period: 30 * time.Second, First: peakTime.Add(-270 * time.Second)},
		HeadingSigmaDeg: 20, MarginDB: 6, BeamwidthDeg: 50, HandDeg: 8, FadingDB: 5,
	}
}

func belief(t testing.TB, p Prior) *Belief {
	t.Helper()
	b, err := NewBelief(p)
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// check fails unless an advice is made of numbers within their ranges.
func check(t interface{ Fatalf(string, ...any) }, a Advice) {
	for name, v := range map[string][3]float64{
		"azimuth":   {a.Aim.AzimuthDeg, 0, 360},
		"elevation": {a.Aim.ElevationDeg, 0, 90},
		"hear":      {a.HearProbability, 0, 1},
		"audible":   {a.AudibleProbability, 0, 1.000001},
		"time":      {a.TimeErrorS.Mean, -2000, 2000},
		"time σ":    {a.TimeErrorS.Sigma, 0, 2000},
		"heading":   {a.HeadingErrorDeg.Mean, -180, 180},
		"heading σ": {a.HeadingErrorDeg.Sigma, 0, 180},
		"interval":  {a.TimeErrorS.High - a.TimeErrorS.Low, 0, 4000},
	} {
		if !(v[0] >= v[1] && v[0] <= v[2]) {
			t.Fatalf("%s is %v, want %v to %v", name, v[0], v[1], v[2])
		}
	}
}

func TestBeliefFindsWhereItWasHeard(t *testing.T) {
	const late, heading = -60.0, 15.0 // early; the operator's north is right of true
	p := prior()
	p.HandDeg, p.FadingDB = 0, 0
	b := belief(t, p)
	o := arc{peakTime, 0.062}
	var a Advice
	for n := -2; n < 19; n++ {
		at := peakTime.Add(time.Duration(30*n-270) * time.Second)
		a = b.Advise(at.Add(-10 * time.Second))
		check(t, a)
		look, _ := o.LookLate(track.Site{}, at, late)
		kind := Silent
		// Heard within 30° of the boom, which is the half-power circle and a bit.
		if look.ElevationDeg > 5 && track.SeparationDeg(look.AzimuthDeg, look.ElevationDeg, a.Aim.AzimuthDeg+heading, a.Aim.ElevationDeg) < 30 {
			kind = Heard
		}
		b.Observe(Observation{Time: at.Add(time.Second), Kind: kind})
	}
	if math.Abs(a.TimeErrorS.Mean-late) > 25 {
		t.Errorf("time error %+v, want about %v", a.TimeErrorS, late)
	}
	if math.Abs(a.HeadingErrorDeg.Mean-heading) > 12 {
		t.Errorf("heading error %+v, want about %v", a.HeadingErrorDeg, heading)
	}
	if !a.Explains {
		t.Errorf("says that it can't explain what it can: %s", a.Words())
	}
}

func TestKnownPassIsLed(t *testing.T) {
	p := prior()
	p.Objects[0].TimeSigmaS, p.HeadingSigmaDeg = 1, 1
	p.HeadingErrorDeg = 7
	b := belief(t, p)
	at := peakTime.Add(-30 * time.Second)
	a := b.Advise(at.Add(-5 * time.Second))
	want, _ := arc{peakTime, 0.062}.LookLate(track.Site{}, at, 0)
	if off := track.SeparationDeg(a.Aim.AzimuthDeg+7, a.Aim.ElevationDeg, want.AzimuthDeg, want.ElevationDeg); off > 0.1 {
		t.Errorf("aims %v° beside the prediction %v, %v", off, want.AzimuthDeg, want.ElevationDeg)
	}
	if !a.Next.Equal(at) || !a.PhaseKnown {
		t.Errorf("next burst %v, want %v", a.Next, at)
	}
}

func TestSilenceMakesDoubtWhetherItSends(t *testing.T) {
	b := belief(t, prior())
	before := b.Advise(peakTime.Add(-300 * time.Second))
	for n := range 19 {
		at := peakTime.Add(time.Duration(30*n-270) * time.Second)
		check(t, b.Advise(at.Add(-10*time.Second)))
		b.Observe(Observation{Time: at.Add(2 * time.Second), Kind: Silent})
	}
	a := b.Advise(peakTime.Add(280 * time.Second))
	check(t, a)
	if a.AudibleProbability > 0.6 {
		t.Errorf("after a silent pass audible with %v, before with %v", a.AudibleProbability, before.AudibleProbability)
	}
	c := belief(t, prior())
	audible := func(k Kind) float64 {
		c.Observe(Observation{Time: peakTime.Add(-310 * time.Second), Kind: k})
		return c.Advise(peakTime.Add(-300 * time.Second)).AudibleProbability
	}
	if got := audible(NotListening); got != before.AudibleProbability {
		t.Errorf("with nobody listening the odds of hearing go from %v to %v", before.AudibleProbability, got)
	}
	if got := audible(NoiseUp); got >= before.AudibleProbability {
		t.Errorf("with noise up the odds of hearing stay at %v", got)
	}
	if got := audible(NoiseNormal); got != before.AudibleProbability {
		t.Errorf("with the noise normal again the odds of hearing are %v, were %v", got, before.AudibleProbability)
	}
	if end := b.Advise(peakTime.Add(time.Hour)); !end.Next.IsZero() {
		t.Errorf("an hour later the next burst is at %v, want none", end.Next)
	}
}

func TestTheLaterMarkOfABurstCounts(t *testing.T) {
	twice, once := belief(t, prior()), belief(t, prior())
	d := Direction{90, 50}
	twice.Observe(Observation{Time: peakTime.Add(2 * time.Second), Kind: Silent, Held: &d})
	twice.Observe(Observation{Time: peakTime.Add(3 * time.Second), Kind: Heard, Held: &d})
	once.Observe(Observation{Time: peakTime.Add(3 * time.Second), Kind: Heard, Held: &d})
	x, y := twice.Advise(peakTime.Add(9*time.Second)), once.Advise(peakTime.Add(9*time.Second))
	if x.TimeErrorS != y.TimeErrorS || x.Aim != y.Aim {
		t.Errorf("a corrected mark leaves %+v, the right one alone %+v", x, y)
	}
}

func TestMarksThatFitNothingAreSaid(t *testing.T) {
	b := belief(t, prior())
	for n := range 12 { // heard in turn at both ends of the sky
		at := peakTime.Add(time.Duration(30*n-180) * time.Second)
		d := Direction{AzimuthDeg: float64(n%2)*180 + 270, ElevationDeg: 5}
		b.Observe(Observation{Time: at.Add(time.Second), Kind: Heard, Held: &d, Strength: Strong})
	}
	a := b.Advise(peakTime)
	check(t, a)
	if a.Explains {
		t.Errorf("says %q of marks that fit nothing", a.Words())
	}
}

// A second satellite sends half a period after ours.
func TestTwoSatellitesAreSaid(t *testing.T) {
	for _, known := range []bool{true, false} {
		p := prior()
		p.Objects[0].TimeSigmaS, p.HeadingSigmaDeg = 10, 5
		if !known {
			p.Schedule.First = time.Time{}
		}
		b := belief(t, p)
		for n := range 8 {
			at := peakTime.Add(time.Duration(30*n-120) * time.Second)
			b.Advise(at.Add(-9 * time.Second))
			b.Observe(Observation{Time: at.Add(time.Second), Kind: Heard})
			b.Observe(Observation{Time: at.Add(16 * time.Second), Kind: Heard})
		}
		if a := b.Advise(peakTime.Add(125 * time.Second)); a.Explains {
			t.Errorf("phase known %v: says %q of two satellites' bursts", known, a.Words())
		}
	}
}

func TestBeliefSurvivesAnyMarks(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		p := prior()
		if rapid.Bool().Draw(r, "unknown phase") {
			p.Schedule.First = time.Time{}
			p.Objects[0].TimeSigmaS = 20
		}
		p.FrequencyHz = 437e6
		b, err := NewBelief(p)
		if err != nil {
			r.Fatalf("%v", err)
		}
		for range rapid.IntRange(1, 4).Draw(r, "marks") {
			s := rapid.Float64Range(-2000, 2000).Draw(r, "s")
			o := Observation{
				Time:     peakTime.Add(seconds(s)),
				Kind:     rapid.SampledFrom([]Kind{Heard, Silent, NotListening, NoiseUp, NoiseNormal}).Draw(r, "kind"),
				Strength: rapid.SampledFrom([]Strength{"", Weak, Good, Strong}).Draw(r, "strength"),
			}
			if rapid.Bool().Draw(r, "held") {
				o.Held = &Direction{rapid.Float64Range(0, 360).Draw(r, "azimuth"), rapid.Float64Range(-10, 90).Draw(r, "elevation")}
				o.Sensed = true
			}
			if rapid.Bool().Draw(r, "tuned") {
				o.FrequencyHz = rapid.Float64Range(1, 1e12).Draw(r, "hz")
			}
			b.Observe(o)
			check(r, b.Advise(peakTime.Add(seconds(s+1))))
		}
	})
}

func TestPhaseIsLearnedFromMarks(t *testing.T) {
	p := prior()
	p.Objects[0].TimeSigmaS, p.HeadingSigmaDeg = 10, 5
	p.Schedule.First = time.Time{}
	b := belief(t, p)
	if a := b.Advise(peakTime.Add(-60 * time.Second)); a.PhaseKnown {
		t.Errorf("knows a phase that nobody told: %v", a.Next)
	}
	heard := peakTime.Add(-47 * time.Second)
	b.Observe(Observation{Time: heard.Add(seconds(reactionS)), Kind: Heard})
	a := b.Advise(heard.Add(5 * time.Second))
	if off := a.Next.Sub(heard.Add(30 * time.Second)); !a.PhaseKnown || off.Abs() > time.Second {
		t.Errorf("next burst at %v (known: %v), want %v", a.Next, a.PhaseKnown, heard.Add(30*time.Second))
	}
}

func TestFrequencyTellsObjectsApart(t *testing.T) {
	p := prior()
	p.Objects = nil
	for k := range 5 {
		p.Objects = append(p.Objects, Object{Name: fmt.Sprint("object ", k+1), Orbit: arc{peakTime.Add(time.Duration(k-2) * 90 * time.Second), 0.062}, TimeSigmaS: 5})
	}
	p.FrequencyHz = 437e6
	b := belief(t, p)
	for _, s := range []int{-150, -60, 0, 90, 180} {
		at := peakTime.Add(time.Duration(s) * time.Second)
		look, _ := p.Objects[3].Orbit.LookLate(track.Site{}, at, 2)
		b.Observe(Observation{
			Time: at.Add(time.Second), Kind: Heard, Held: &Direction{look.AzimuthDeg, look.ElevationDeg},
			FrequencyHz: track.ReceiveHz(p.FrequencyHz, look.RangeRateKmS) + 2500,
		})
	}
	a := b.Advise(peakTime.Add(185 * time.Second))
	if a.Object != 3 || a.ObjectProbability[3] < 0.95 {
		t.Errorf("takes it for %s, with %v", a.ObjectName, a.ObjectProbability)
	}
}

func TestPriorSaysWhatIsWrong(t *testing.T) {
	for name, change := range map[string]func(*Prior){
		"beamwidth NaN is outside 1 to 180":        func(p *Prior) { p.BeamwidthDeg = math.NaN() },
		"no object to aim at: give at least one":   func(p *Prior) { p.Objects = nil },
		"time error 9999 is outside -1800 to 1800": func(p *Prior) { p.Objects[0].TimeErrorS = 9999 },
	} {
		p := prior()
		change(&p)
		if _, err := NewBelief(p); err == nil || err.Error() != name {
			t.Errorf("error %v, want %s", err, name)
		}
	}
}

func benchmarkMark(b *testing.B, p Prior) {
	for b.Loop() {
		b.StopTimer()
		x := belief(b, p)
		at := peakTime.Add(-60 * time.Second)
		x.Advise(at.Add(-15 * time.Second))
		b.StartTimer()
		x.Observe(Observation{Time: at.Add(time.Second), Kind: Heard})
		x.Advise(at.Add(2 * time.Second))
	}
}

// From a mark to the next advice, to be within 50 ms.
func BenchmarkMarkOneObject(b *testing.B) { benchmarkMark(b, prior()) }

// To be within 200 ms.
func BenchmarkMarkUnknownPhase(b *testing.B) {
	p := prior()
	p.Schedule.First = time.Time{}
	benchmarkMark(b, p)
}

// To be within 200 ms.
func BenchmarkMarkFortyObjects(b *testing.B) {
	p := prior()
	p.Objects = nil
	for k := range 40 {
		p.Objects = append(p.Objects, Object{Orbit: arc{peakTime.Add(time.Duration(k-20) * 10 * time.Second), 0.062}, TimeSigmaS: 40})
	}
	benchmarkMark(b, p)
}

// In a group of two, of which one is all but ruled out, the other is believed as
// it is alone.
func TestSmallGroupIsAsFineAsOneObject(t *testing.T) {
	p := prior()
	p.Objects[0].TimeSigmaS = 600
	alone := belief(t, p)
	p.Objects = append(p.Objects, Object{Orbit: arc{peakTime.Add(5000 * time.Second), 0.062}, TimeSigmaS: 600, Weight: 1e-9})
	grouped := belief(t, p)
	for _, s := range []int{-90, -60, -30, 0, 30} {
		at := peakTime.Add(time.Duration(s) * time.Second)
		look, _ := p.Objects[0].Orbit.LookLate(track.Site{}, at, 0)
		for _, b := range []*Belief{alone, grouped} {
			b.Observe(Observation{Time: at.Add(time.Second), Kind: Silent, Held: &Direction{look.AzimuthDeg, look.ElevationDeg}})
		}
	}
	one, two := alone.estimates().TimeErrorS, grouped.estimates().TimeErrorS
	if math.Abs(one.Low-two.Low) > 2 || math.Abs(one.High-two.High) > 2 {
		t.Errorf("alone %+v, in a group %+v", one, two)
	}
}
