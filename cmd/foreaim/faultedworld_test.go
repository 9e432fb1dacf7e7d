package main

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"
	"time"

	"foreaim/cmd/foreaim/internal/world"
	"foreaim/track"
	"foreaim/track/outing/review"
)

// faulted is one invented outing as it really is: the world, what is wrong in it, and
// how its operator behaves. What is wrong is drawn as in the outings that package
// review is held to; what can be heard is the world's.
type faulted struct {
	*world.World
	rng    *rand.Rand
	faults []review.Cause
	pass   track.Pass // by the elements
	begin  time.Time  // true time when the program is started

	extraDB           float64 // by which the bursts come in stronger than the world has them
	offsetHz, tunedHz float64 // of sender and receiver; NaN: the receiver follows the Doppler shift
	elsewhere         bool    // another object: nothing of this one
	deaf              bool
	off               bool // the beacon doesn't send
	shift             time.Duration
	every             int     // only each of so many is sent; 1 all
	diesAt            float64 // share of the pass; 1 never
	wanders, stuck    bool    // the hand, wherever it is told to be
	sensor            bool
	noiseDB           float64
	noiseMarked       bool
	test              string     // answers to the noise test; empty: not asked
	away              [2]float64 // shares of the pass between which nobody listens
	awayTold          bool
	strengths, tunes  bool // the operator tells how strong, and on which frequency
}

// What counts as a cause: an error that moves the aim by a quarter of the beam, and a
// signal that is at the nearest point less than so much above what an ear needs; see
// package review.
const (
	causeDeg, causeDB = 12.5, 1.0
	// facingSigmaDeg is what is assumed of a facing of which nobody says how well it
	// is known, marginDB and marginSigmaDB of a signal.
	facingSigmaDeg          = 15.0
	marginDB, marginSigmaDB = 6.0, 4.0
)

// newFaulted draws an outing: the errors that are usual, as large as elements of this
// age, a facing of no known origin and a signal of no known strength have them; and
// mistakes at random, none in a tenth, one in six tenths, two in the rest. A usual
// error that is large enough counts as a cause, too; outings with more than two
// causes are drawn anew.
func newFaulted(t *testing.T, seed uint64) *faulted {
	t.Helper()
	for try := uint64(0); ; try++ {
		if f := drawFaulted(t, seed+try<<32); len(f.faults) <= 2 {
			slices.Sort(f.faults)
			return f
		}
	}
}

func drawFaulted(t *testing.T, seed uint64) *faulted {
	t.Helper()
	w, err := world.New(t.Context(), mustTime("2026-11-25T18:00:00Z"))
	if err != nil {
		t.Fatal(err)
	}
	if err := w.Vary(seed); err != nil {
		t.Fatal(err)
	}
	f := &faulted{World: w, rng: rand.New(rand.NewPCG(seed, 2026)), tunedHz: math.NaN(), every: 1, diesAt: 1}
	f.lay(t)
	late := &w.Satellites[0].LateS
	likely, err := track.LikelyError(w.Satellites[0].Set, nil, f.pass.Peak.Time)
	if err != nil {
		t.Fatal(err)
	}
	*late = likely.SigmaS * f.rng.NormFloat64()
	f.turnNorth(facingSigmaDeg * f.rng.NormFloat64())
	f.extraDB = marginDB + marginSigmaDB*f.rng.NormFloat64() - f.nearestDB(t) - 20*math.Log10(f.pass.Peak.RangeKm/1000)
	f.offsetHz = 1500 * f.rng.NormFloat64()
	f.sensor, f.strengths, f.tunes = f.rng.IntN(2) == 0, f.rng.IntN(2) == 0, f.rng.Float64() < 0.7
	count := 1
	if x := f.rng.Float64(); x < 0.1 {
		count = 0
	} else if x > 0.7 {
		count = 2
	}
	for len(f.faults) < count {
		if c := review.Cause(f.rng.IntN(8)); !slices.Contains(f.faults, c) {
			f.faults = append(f.faults, c)
			f.add(t, c)
		}
	}
	movedDeg, err := w.Satellites[0].Orbit.OffDeg(f.Site, f.pass.Peak.Time, *late)
	if err != nil {
		t.Fatal(err)
	}
	for c, large := range map[review.Cause]bool{
		review.North:    math.Abs(track.TurnDeg(w.BelievedDeg, w.FacingDeg)) > causeDeg,
		review.Elements: movedDeg > causeDeg,
		review.WeakLink: f.nearestDB(t)+f.extraDB < causeDB,
	} {
		if large && !slices.Contains(f.faults, c) {
			f.faults = append(f.faults, c)
		}
	}
	return f
}

// lay moves the meadow and the day, so that each outing has another pass and elements
// of another age, and takes the noise of the demonstration away.
func (f *faulted) lay(t *testing.T) {
	t.Helper()
	home, orbit := f.Site, f.Satellites[0].Orbit
	oldest := f.Start.Sub(f.Satellites[0].Set.Epoch)
	for tries := 0; ; tries++ {
		f.Site.LatitudeDeg = home.LatitudeDeg + 5*f.rng.Float64() - 2.5
		f.Site.LongitudeDeg = home.LongitudeDeg + 10*f.rng.Float64() - 5
		day := f.Start.Add(-time.Duration(f.rng.Float64() * float64(oldest)))
		passes, err := orbit.Passes(t.Context(), f.Site, day, day.Add(12*time.Hour), 0)
		if err != nil || tries == 100 {
			t.Fatal("no good pass", err)
		}
		passes = slices.DeleteFunc(passes, func(p track.Pass) bool { return p.Peak.ElevationDeg <= 25 })
		if len(passes) > 0 {
			f.pass = passes[f.rng.IntN(len(passes))]
			break
		}
	}
	f.begin = f.pass.Rise.Time.Add(-20 * time.Second).Truncate(time.Millisecond)
	f.Start = f.begin.Add(-time.Hour)
	s := &f.Satellites[0].Schedule
	s.First = s.First.Add(-oldest.Truncate(s.Period) - 24*time.Hour) // before any pass
}

// turnNorth lets true north of the boom be so far from the operator's.
func (f *faulted) turnNorth(deg float64) { f.BelievedDeg = track.Wrap360(f.FacingDeg - deg) }

// nearestDB is how well bursts come in on average at the nearest point of the pass,
// with the antenna on the satellite.
func (f *faulted) nearestDB(t *testing.T) float64 {
	t.Helper()
	sum, n := 0.0, 10 // twice the fades
	at := f.begin
	for range n {
		b := f.burst(t, at)
		sum += b.MarginDB + 20*math.Log10(b.Look.RangeKm/f.pass.Peak.RangeKm)
		at = b.Time.Add(1)
	}
	return sum / float64(n)
}

func (f *faulted) burst(t *testing.T, at time.Time) world.Burst {
	t.Helper()
	b, err := f.NextBurst(0, at)
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// either is even between two values, with a random sign.
func (f *faulted) either(low, high float64) float64 {
	x := low + (high-low)*f.rng.Float64()
	if f.rng.IntN(2) == 0 {
		return -x
	}
	return x
}

func (f *faulted) add(t *testing.T, c review.Cause) {
	t.Helper()
	x := f.rng.Float64()
	switch c {
	case review.Aim:
		f.wanders, f.stuck = x < 0.75, x >= 0.75
	case review.North:
		f.turnNorth(f.either(causeDeg, 90))
		if x < 0.1 {
			f.turnNorth(f.either(150, 180))
		}
	case review.Elements:
		f.elsewhere = x < 0.2
		f.beLate(t)
	case review.Tuning:
		f.deaf = x < 0.6
		f.tunedHz = 9000 * (2*f.rng.Float64() - 1)
	case review.WeakLink:
		f.extraDB = causeDB - f.nearestDB(t) - 13*x
	case review.Interference:
		f.noiseDB = 6 + 12*x
		f.noiseMarked = f.rng.Float64() < 0.65
		if f.rng.Float64() < 0.4 { // from the beam; from all round; overload; inside
			f.test = []string{"yyn", "nyn", "nyy", "nn"}[f.rng.IntN(4)]
		}
	case review.Transmitter:
		switch {
		case x < 0.6:
			f.off = true
		case x < 0.82:
			f.shift = time.Duration((6 + 15*f.rng.Float64()) * 1e9)
		case x < 0.9:
			f.every = 2
		default:
			f.diesAt = 0.3 + 0.4*f.rng.Float64()
		}
	case review.NotListened:
		f.awayTold = x < 0.6
		f.away = [2]float64{0, 1}
		switch y := f.rng.Float64(); {
		case y < 0.4 && !f.awayTold:
		case y < 0.7:
			f.away[1] = 0.4 + 0.3*f.rng.Float64()
		default:
			f.away[0] = 0.3 + 0.3*f.rng.Float64()
		}
	}
}

// beLate draws how late the satellite is until that is a cause.
func (f *faulted) beLate(t *testing.T) {
	t.Helper()
	s := &f.Satellites[0]
	for {
		s.LateS = f.either(15, 300)
		d, err := s.Orbit.OffDeg(f.Site, f.pass.Peak.Time, s.LateS)
		if err != nil {
			t.Fatal(err)
		}
		if d > causeDeg {
			return
		}
	}
}

// share is how much of the pass is over.
func (f *faulted) share(at time.Time) float64 {
	return at.Sub(f.pass.Rise.Time).Seconds() / f.pass.Duration().Seconds()
}

// sent returns a burst as it is really sent.
func (f *faulted) sent(t *testing.T, b world.Burst) world.Burst {
	t.Helper()
	if f.shift == 0 {
		return b
	}
	later := b
	later.Time = b.Time.Add(f.shift)
	look, err := f.Satellites[0].Orbit.LookLate(f.Site, later.Time, f.Satellites[0].LateS)
	if err != nil {
		t.Fatal(err)
	}
	later.MarginDB += 20 * math.Log10(b.Look.RangeKm/look.RangeKm)
	later.Look, later.Hidden = look, look.ElevationDeg <= math.Max(0, f.Skyline.ElevationDeg(look.AzimuthDeg))
	return later
}

// hand is where the boom really is of somebody who is told to hold it somewhere.
func (f *faulted) hand(told world.Boom) world.Boom {
	switch {
	case f.stuck:
		told = world.Boom{RightDeg: track.TurnDeg(f.BelievedDeg, f.pass.Rise.AzimuthDeg+30), UpDeg: 20}
	case f.wanders:
		told.RightDeg += f.either(35, 130)
		told.UpDeg = math.Max(-5, math.Min(90, told.UpDeg+f.either(5, 50)))
	}
	told.RightDeg += 6 * f.rng.NormFloat64() / math.Max(0.2, math.Cos(told.UpDeg*math.Pi/180))
	told.UpDeg += 6 * f.rng.NormFloat64()
	return told
}

// hears tells whether a burst that is sent is heard with the boom held somewhere, how
// far it is over what an ear needs, and on which frequency.
func (f *faulted) hears(b world.Burst, boom world.Boom) (heard bool, marginDB, hz float64) {
	hz = track.ReceiveHz(f.Satellites[0].FrequencyHz, b.Look.RangeRateKmS) + f.offsetHz
	share := f.share(b.Time)
	b = f.HeardWith(b, boom)
	b.MarginDB += f.extraDB - f.noiseDB + 3*f.rng.NormFloat64()
	switch {
	case !b.Audible(), f.off, f.elsewhere, f.deaf, share > f.diesAt, b.Number%f.every != 0:
		return false, 0, 0
	case f.away[1] > 0 && share >= f.away[0] && share <= f.away[1]:
		return false, 0, 0
	case math.Abs(hz-f.Satellites[0].FrequencyHz-f.tunedHz) > 3000: // false if it follows
		return false, 0, 0
	}
	return f.rng.Float64() > 0.02, b.MarginDB, hz + 250*f.rng.NormFloat64()
}
