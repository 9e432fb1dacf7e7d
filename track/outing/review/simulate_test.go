package review_test

import (
	"bytes"
	"context"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"testing"
	"time"

	"foreaim/track"
	"foreaim/track/elements"
	"foreaim/track/outing"
	"foreaim/track/outing/review"
)

const rad = math.Pi / 180

// world is one invented outing as it really is. It has its own physics: nothing
// of it is taken from the package that is tested.
type world struct {
	rng    *rand.Rand
	orbit  *track.Orbit
	sender *track.Orbit // of what is heard; nil: the same
	set    elements.Set
	site   track.Site
	pass   track.Pass
	faults []review.Cause

	least                                 border
	facingSigmaDeg                        float64
	lateS, headingDeg, marginDB, offsetHz float64
	elsewhere                             bool // another object: nothing of this one
	wanders, stuck, sensor                bool
	deaf                                  bool
	tunedHz                               float64 // NaN: follows the Doppler shift
	noiseDB                               float64
	noiseMarked                           bool
	test                                  outing.Cause
	off                                   bool // the beacon doesn't send
	shift                                 time.Duration
	every                                 int     // only each of so many is sent; 1 all
	diesAt                                float64 // share of the pass; 1 never
	awayFrom, awayTo                      float64 // shares of the pass in which nobody listens
	awayTold                              bool

	first  time.Time
	period time.Duration
	at     float64 // frequency, Hz
	heard  int
	sent   int
}

// border is where mistakes begin: degrees of the heading, degrees by which a time
// error moves the satellite, dB at the nearest point.
type border struct{ headingDeg, movedDeg, weakDB float64 }

var passesOnce []track.Pass

func fixture(t testing.TB) (*track.Orbit, elements.Set, track.Site, []track.Pass) {
	t.Helper()
	f, err := os.Open(filepath.Join("..", "..", "..", "testdata", "outing", "emberling.tle"))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	sets, err := elements.Read(f, "emberling.tle")
	if err != nil {
		t.Fatal(err)
	}
	orbit, err := track.NewOrbit(sets[0])
	if err != nil {
		t.Fatal(err)
	}
	site := track.Site{LatitudeDeg: 57.27, LongitudeDeg: -5.71, HeightM: 40}
	if passesOnce == nil {
		all, err := orbit.Passes(context.Background(), site, sets[0].Epoch.Add(12*time.Hour), sets[0].Epoch.Add(60*time.Hour), 0)
		if err != nil {
			t.Fatal(err)
		}
		for _, p := range all {
			if p.Peak.ElevationDeg > 22 {
				passesOnce = append(passesOnce, p)
			}
		}
	}
	return orbit, sets[0], site, passesOnce
}

// between is even between two values, with a random sign.
func (w *world) either(low, high float64) float64 {
	x := low + (high-low)*w.rng.Float64()
	if w.rng.IntN(2) == 0 {
		return -x
	}
	return x
}

// newWorld draws an outing with faults chosen at random: none in a tenth, one in
// six tenths, two in the rest.
func newWorld(t testing.TB, n uint64) *world {
	w := emptyWorld(n)
	w.least, w.facingSigmaDeg = border{16, 15, -1}, 4
	var passes []track.Pass
	w.orbit, w.set, w.site, passes = fixture(t)
	w.pass = passes[w.rng.IntN(len(passes))]
	w.first = w.pass.Rise.Time.Add(time.Duration(w.rng.Float64() * 30e9)).Round(time.Millisecond)
	spread := 20 * math.Log10(w.pass.Peak.RangeKm/1000)
	for w.marginDB = -99; w.marginDB-spread < 2; {
		w.marginDB = 6 + 3*w.rng.NormFloat64()
	}
	for w.headingDeg = 99; math.Abs(w.headingDeg) > 10; {
		w.headingDeg = 4 * w.rng.NormFloat64()
	}
	likely, err := track.LikelyError(w.set, nil, w.pass.Peak.Time)
	if err != nil {
		t.Fatal(err)
	}
	moved := func() float64 {
		d, _ := w.orbit.OffDeg(w.site, w.pass.Peak.Time, w.lateS)
		return d
	}
	for w.lateS = 999; moved() > 11; {
		w.lateS = likely.SigmaS * w.rng.NormFloat64()
	}
	w.addFaults(spread, moved)
	return w
}

func emptyWorld(n uint64) *world {
	return &world{rng: rand.New(rand.NewPCG(n, 4)), tunedHz: math.NaN(), every: 1, diesAt: 1, period: 30 * time.Second, at: 437.1e6}
}

// newVagueWorld draws an outing of which less is known before: elements are up to 20
// days old, north is known to 3° to 20°. The errors are as large as the record says
// that they may be, whatever comes of that: one that moves the aim by more than a
// quarter of the beam, or a signal weaker than the limit, is a cause, as the review
// has it.
func newVagueWorld(t testing.TB, n uint64) *world {
	for try := uint64(0); ; try++ {
		w := emptyWorld(n + try<<32)
		w.least = border{12.5, 12.5, 1}
		w.orbit, w.set, w.site, _ = fixture(t)
		begin := w.set.Epoch.Add(time.Duration(20 * 24 * float64(time.Hour) * w.rng.Float64()))
		passes, err := w.orbit.Passes(context.Background(), w.site, begin, begin.Add(24*time.Hour), 0)
		if err != nil {
			t.Fatal(err)
		}
		passes = slices.DeleteFunc(passes, func(p track.Pass) bool { return p.Peak.ElevationDeg < 22 })
		if len(passes) == 0 {
			continue
		}
		w.pass = passes[w.rng.IntN(len(passes))]
		w.first = w.pass.Rise.Time.Add(time.Duration(w.rng.Float64() * 30e9)).Round(time.Millisecond)
		likely, err := track.LikelyError(w.set, nil, w.pass.Peak.Time)
		if err != nil {
			t.Fatal(err)
		}
		w.facingSigmaDeg = 3 + 17*w.rng.Float64()
		w.headingDeg, w.lateS, w.marginDB = w.facingSigmaDeg*w.rng.NormFloat64(), likely.SigmaS*w.rng.NormFloat64(), 6+4*w.rng.NormFloat64()
		spread := 20 * math.Log10(w.pass.Peak.RangeKm/1000)
		moved := func() float64 {
			d, _ := w.orbit.OffDeg(w.site, w.pass.Peak.Time, w.lateS)
			return d
		}
		w.addFaults(spread, moved)
		for c, is := range map[review.Cause]bool{
			review.North: math.Abs(w.headingDeg) > w.least.headingDeg, review.Elements: moved() > w.least.movedDeg,
			review.WeakLink: w.marginDB-spread < w.least.weakDB,
		} {
			if is && !slices.Contains(w.faults, c) {
				w.faults = append(w.faults, c)
			}
		}
		if len(w.faults) <= 2 { // more are not told apart
			return w
		}
	}
}

// addFaults adds what else is drawn, and faults: none in a tenth, one in six tenths,
// two in the rest.
func (w *world) addFaults(spread float64, moved func() float64) {
	w.offsetHz = 1500 * w.rng.NormFloat64()
	w.sensor = w.rng.IntN(2) == 0
	w.noiseMarked = w.rng.Float64() < 0.05
	if w.rng.Float64() < 0.2 {
		w.test = []outing.Cause{outing.Usual, outing.Usual, outing.Usual, outing.Usual, outing.Unclear}[w.rng.IntN(5)]
	}
	count := 1
	if x := w.rng.Float64(); x < 0.1 {
		count = 0
	} else if x > 0.7 {
		count = 2
	}
	for len(w.faults) < count {
		if c := review.Cause(w.rng.IntN(8)); !slices.Contains(w.faults, c) {
			w.faults = append(w.faults, c)
			w.add(c, spread, moved)
		}
	}
}

func (w *world) add(c review.Cause, spread float64, moved func() float64) {
	x := w.rng.Float64()
	switch c {
	case review.Aim:
		w.wanders, w.stuck = x < 0.75, x >= 0.75
	case review.North:
		w.headingDeg = w.either(w.least.headingDeg, 90)
		if x < 0.1 {
			w.headingDeg = w.either(150, 180)
		}
	case review.Elements:
		w.elsewhere = x < 0.2
		for w.lateS = w.either(15, 300); moved() < w.least.movedDeg; {
			w.lateS = w.either(15, 300)
		}
	case review.Tuning:
		w.deaf = x < 0.6
		w.tunedHz = 9000 * (2*w.rng.Float64() - 1)
	case review.WeakLink:
		w.marginDB = spread + w.least.weakDB - 13*x
	case review.Interference:
		w.noiseDB = 6 + 12*x
		w.noiseMarked = w.rng.Float64() < 0.65
		if w.rng.Float64() < 0.4 {
			w.test = []outing.Cause{outing.InBeam, outing.AllRound, outing.Overload, outing.Outside, outing.Inside, outing.Unclear}[w.rng.IntN(6)]
		}
	case review.Transmitter:
		switch {
		case x < 0.6:
			w.off = true
		case x < 0.82:
			w.shift = time.Duration((6 + 18*w.rng.Float64()) * 1e9)
		case x < 0.9:
			w.every = 2
		default:
			w.diesAt = 0.3 + 0.4*w.rng.Float64()
		}
	case review.NotListened:
		w.awayTold = x < 0.6
		w.awayTo = 1
		switch y := w.rng.Float64(); {
		case y < 0.4 && !w.awayTold:
		case y < 0.7:
			w.awayTo = 0.4 + 0.3*w.rng.Float64()
		default:
			w.awayFrom = 0.3 + 0.3*w.rng.Float64()
		}
	}
}

func vector(azimuthDeg, elevationDeg float64) [3]float64 {
	sinA, cosA := math.Sincos(azimuthDeg * rad)
	sinE, cosE := math.Sincos(elevationDeg * rad)
	return [3]float64{sinA * cosE, cosA * cosE, sinE}
}

// hears plays one burst that is sent at a time with the antenna believed to be
// in a direction.
func (w *world) hears(at time.Time, azimuthDeg, elevationDeg float64) (bool, outing.Strength, float64) {
	sender := w.orbit
	if w.sender != nil {
		sender = w.sender
	}
	look, err := sender.LookLate(w.site, at, w.lateS)
	share := at.Sub(w.pass.Rise.Time).Seconds() / w.pass.Duration().Seconds()
	away := w.awayTo > 0 && share >= w.awayFrom && share <= w.awayTo
	if err != nil || w.elsewhere || w.off || w.deaf || away || share > w.diesAt || look.ElevationDeg <= 0 {
		return false, "", 0
	}
	hz := track.ReceiveHz(w.at, look.RangeRateKmS) + w.offsetHz
	if off := hz - w.at - w.tunedHz; !math.IsNaN(w.tunedHz) && math.Abs(off) > 3000 {
		return false, "", 0
	}
	b := vector(azimuthDeg+w.headingDeg+8*w.rng.NormFloat64()/math.Max(0.2, math.Cos(elevationDeg*rad)), elevationDeg+8*w.rng.NormFloat64())
	s := vector(look.AzimuthDeg, look.ElevationDeg)
	off := math.Acos(math.Max(-1, math.Min(1, b[0]*s[0]+b[1]*s[1]+b[2]*s[2]))) / rad
	margin := w.marginDB - w.noiseDB - math.Min(20, 12*off*off/2500) - 20*math.Log10(look.RangeKm/1000) + 5*w.rng.NormFloat64()
	if margin < 0 || w.rng.Float64() < 0.02 {
		return false, "", 0
	}
	strength := outing.Weak
	if margin > 12 {
		strength = outing.Strong
	} else if margin > 5 {
		strength = outing.Good
	}
	return true, strength, math.Round((hz + 250*w.rng.NormFloat64()))
}

// log plays the pass and writes its record as a program does, then reads it.
func (w *world) log(t testing.TB) outing.Log {
	log, err := outing.Read(bytes.NewReader(w.play(t)), "invented.jsonl")
	if err != nil || len(log.Faults) > 0 {
		t.Fatal(err, log.Faults)
	}
	return log
}

// scribe writes records into memory.
type scribe struct{ bytes.Buffer }

func (*scribe) Sync() error { return nil }

func (w *world) play(t testing.TB) []byte {
	t.Helper()
	var out scribe
	rec := outing.NewRecorder(&out, false)
	p := w.pass
	rise, set := p.Rise.Time, p.Set.Time
	start := rise.Add(-5 * time.Minute)
	name := start.UTC().Format("20060102T150405Z")
	put := func(at time.Time, e outing.Entry) { rec.Record(at, e) }
	n := outing.NumberOf
	put(start, outing.StartEntry{Outing: outing.Text(name)})
	put(start, outing.FixEntry{LatitudeDeg: n(w.site.LatitudeDeg), LongitudeDeg: n(w.site.LongitudeDeg), AltitudeM: n(w.site.HeightM)})
	line1, line2, err := w.set.TLE()
	if err != nil {
		t.Fatal(err)
	}
	put(start, outing.ElementsEntry{Satellite: "EMBERLING", CatalogueNumber: w.set.CatalogueNumber, Epoch: outing.TimeOf(w.set.Epoch), Line1: outing.Text(line1), Line2: outing.Text(line2)})
	put(start, outing.FacingEntry{AzimuthDeg: n(180), SigmaDeg: n(w.facingSigmaDeg), How: "landmark"})
	entry := func(l track.Look) outing.LookEntry {
		return outing.LookEntry{Time: outing.TimeOf(l.Time), AzimuthDeg: n(l.AzimuthDeg), ElevationDeg: n(l.ElevationDeg), RangeKm: n(l.RangeKm)}
	}
	put(start, outing.PassEntry{
		Satellite: "EMBERLING", CatalogueNumber: w.set.CatalogueNumber, Rise: entry(p.Rise), Peak: entry(p.Peak), Set: entry(p.Set),
		FrequencyHz: n(w.at), PeriodS: n(30), First: outing.TimeOf(w.first), LengthS: n(1),
	})
	id := 0
	mark := func(at time.Time, m outing.Mark) {
		id++
		m.ID, m.At, m.CatalogueNumber = id, at, w.set.CatalogueNumber
		put(at, outing.MarkEntryOf(m))
	}
	if w.noiseMarked {
		mark(rise.Add(20*time.Second), outing.Mark{Kind: outing.NoiseUp})
	}
	if w.test != "" {
		put(rise.Add(40*time.Second), outing.Finding{Cause: w.test, Meaning: "x", Do: "y"}.Entry())
	}
	far := func(share float64) time.Time { return rise.Add(time.Duration(share * float64(p.Duration()))) }
	if w.awayTold {
		mark(far(w.awayFrom), outing.Mark{Kind: outing.NotListening, Until: far(w.awayTo)})
	}
	searching := w.rng.IntN(2) == 0
	wander := [2]float64{}
	for number, at := 1, w.first; at.Before(set); number, at = number+1, at.Add(w.period) {
		if at.Before(rise) {
			continue
		}
		look, err := w.orbit.Look(w.site, at)
		if err != nil {
			t.Fatal(err)
		}
		az, el := look.AzimuthDeg, look.ElevationDeg
		if searching {
			az, el = track.Wrap360(az+15*w.rng.NormFloat64()), math.Max(0, math.Min(90, el+8*w.rng.NormFloat64()))
		}
		held := outing.Held{Hold: number, Known: true, AzimuthDeg: az, ElevationDeg: el}
		realAz, realEl := az, el
		if w.wanders {
			wander = [2]float64{w.either(35, 130), w.either(5, 50)}
			realAz, realEl = az+wander[0], math.Max(-5, math.Min(90, el+wander[1]))
		}
		if w.stuck {
			realAz, realEl = p.Rise.AzimuthDeg+30, 20
		}
		put(at.Add(-12*time.Second), outing.AdviceEntry{Number: number, Time: outing.TimeOf(at), AzimuthDeg: n(az), ElevationDeg: n(el)})
		put(at.Add(-5*time.Second), outing.HoldEntry{Number: number, Time: outing.TimeOf(at), AzimuthDeg: n(az), ElevationDeg: n(el)})
		if w.sensor {
			put(at.Add(-time.Second), outing.SensorEntry{TrueDeg: n(track.Wrap360(realAz + 3*w.rng.NormFloat64())), PitchDeg: n(realEl + 3*w.rng.NormFloat64())})
		}
		sentAt, expected := at, true
		if w.shift > 0 {
			sentAt, expected = at.Add(w.shift), false
		}
		heard, strength, hz := w.hears(sentAt, realAz, realEl)
		if heard && w.every > 1 && number%w.every != 0 {
			heard = false
		}
		w.sent++
		origin := outing.Origin{Expected: true, Number: number, Start: at}
		share := at.Sub(rise).Seconds() / p.Duration().Seconds()
		away := w.awayTold && share >= w.awayFrom && share <= w.awayTo
		if heard && expected || w.rng.Float64() < 0.004 {
			w.heard++
			key := at.Add(time.Duration((1.8 + 0.3*w.rng.NormFloat64()) * 1e9))
			origin.LikelyStart, origin.UncertaintyS = key.Add(-1800*time.Millisecond), 0.3
			m := outing.Mark{Kind: outing.Heard, Strength: strength, Held: held, Origin: origin}
			if w.rng.Float64() < 0.7 {
				m.FrequencyHz = hz
			}
			mark(key, m)
			continue
		}
		kind := outing.Silent
		if away {
			kind = outing.NotListening
		}
		mark(at.Add(3*time.Second), outing.Mark{Kind: kind, Held: held, Origin: origin, Automatic: true})
		if heard {
			key := sentAt.Add(1800 * time.Millisecond)
			mark(key, outing.Mark{Kind: outing.Heard, Strength: strength, FrequencyHz: hz, Held: held,
				Origin: outing.Origin{LikelyStart: sentAt, UncertaintyS: 0.3}})
		}
	}
	put(set.Add(time.Minute), outing.EndEntry{Reason: "left"})
	if err := rec.Close(context.Background()); err != nil {
		t.Fatal(err)
	}
	return out.Bytes()
}
