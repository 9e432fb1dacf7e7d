package north

import (
	"errors"
	"math"
	"strings"
	"testing"
	"time"

	"foreaim/track"
)

// usual, weak and none are fields as At gives them; the numbers are invented but
// for the limits of the zones, which are the model's (see Zone).
var (
	usual = Field{HorizontalNT: 16000, DeclinationDeg: -12.5, DeclinationUncertaintyDeg: 0.4}
	weak  = Field{HorizontalNT: 5000, DeclinationDeg: 30, DeclinationUncertaintyDeg: 1.1, Zone: Caution}
	none  = Field{HorizontalNT: 1500, DeclinationDeg: 30, DeclinationUncertaintyDeg: 3.6, Zone: Blackout}
)

// Row N080 of the table in testdata/nmea: a sensor at 1.0° magnetic, variation
// 12.5° west, is 348.5° true by the rule of its README.
func TestBoomOfAReading(t *testing.T) {
	magnetic := Reading{MagneticDeg: 1, MagneticKnown: true}
	for name, c := range map[string]struct {
		sensor  Sensor
		reading Reading
		field   Field
		want    Boom
		err     error
	}{
		"magnetic": {Sensor{}, magnetic, usual, Boom{AzimuthDeg: 348.5, SigmaDeg: math.Hypot(5, 0.4)}, nil},
		// An offset takes the error of declination with it.
		"with its offset":       {Sensor{OffsetDeg: 20, OffsetSigmaDeg: 2, Set: true}, magnetic, usual, Boom{AzimuthDeg: 8.5, SigmaDeg: math.Hypot(5, 2)}, nil},
		"true":                  {Sensor{}, Reading{TrueDeg: -0.5, TrueKnown: true, MagneticDeg: 77, MagneticKnown: true}, usual, Boom{AzimuthDeg: 359.5, SigmaDeg: 5}, nil},
		"true needs no field":   {Sensor{}, Reading{TrueDeg: 90, TrueKnown: true}, Field{}, Boom{AzimuthDeg: 90, SigmaDeg: 5}, nil},
		"true in the blackout":  {Sensor{OffsetSigmaDeg: 12, Set: true}, Reading{TrueDeg: 90, TrueKnown: true}, none, Boom{AzimuthDeg: 90, SigmaDeg: 13}, nil},
		"weak field":            {Sensor{}, magnetic, weak, Boom{AzimuthDeg: 31, SigmaDeg: math.Hypot(10, 1.1)}, nil},
		"weak field, set":       {Sensor{OffsetSigmaDeg: 2, Set: true}, magnetic, weak, Boom{AzimuthDeg: 31, SigmaDeg: math.Hypot(10, 2)}, nil},
		"blackout":              {Sensor{}, magnetic, none, Boom{}, ErrBlackout},
		"no declination":        {Sensor{}, magnetic, Field{}, Boom{}, ErrNoField},
		"pitch only":            {Sensor{}, Reading{PitchDeg: 5, PitchKnown: true}, usual, Boom{}, ErrNoHeading},
		"not a number":          {Sensor{}, Reading{TrueDeg: math.NaN(), TrueKnown: true}, usual, Boom{}, ErrNoHeading},
		"up":                    {Sensor{PitchOffsetDeg: 2}, Reading{TrueDeg: 90, TrueKnown: true, PitchDeg: 40, PitchKnown: true}, usual, Boom{90, 5, 42, true}, nil},
		"not beyond the zenith": {Sensor{PitchOffsetDeg: 2}, Reading{TrueDeg: 90, TrueKnown: true, PitchDeg: 89, PitchKnown: true}, usual, Boom{90, 5, 90, true}, nil},
	} {
		got, err := c.sensor.Boom(c.reading, c.field)
		if math.Abs(got.AzimuthDeg-c.want.AzimuthDeg) > 1e-9 || math.Abs(got.SigmaDeg-c.want.SigmaDeg) > 1e-9 ||
			got.ElevationDeg != c.want.ElevationDeg || got.ElevationKnown != c.want.ElevationKnown || !errors.Is(err, c.err) {
			t.Errorf("%s: %+v, %v, want %+v, %v", name, got, err, c.want, c.err)
		}
	}
}

// However a sensor is clamped on, once set by a facing it says the facing, and
// turns and tilts with the boom.
func TestSensorSetByAFacing(t *testing.T) {
	for _, mounted := range []float64{0, 17, -90, 179.5} {
		for _, facing := range []float64{0, 3, 135, 358} {
			for _, right := range []float64{0, 90, -20} {
				clamped := func(boomDeg, pitchDeg float64) Reading {
					return Reading{MagneticDeg: boomDeg - usual.DeclinationDeg - mounted, MagneticKnown: true, PitchDeg: pitchDeg - 4, PitchKnown: true}
				}
				s, err := SetBy(clamped(facing+right, 0), usual, facing, 2, right)
				// Laying out 90° by hand costs 2°, 20° a tenth.
				sigma := math.Hypot(2, map[float64]float64{90: 2, -20: 2}[right])
				if err != nil || !s.Set || math.Abs(s.OffsetDeg-mounted) > 1e-9 || math.Abs(s.OffsetSigmaDeg-sigma) > 1e-9 {
					t.Fatalf("mounted %v°, facing %v°, %v° right: %+v, %v", mounted, facing, right, s, err)
				}
				boom, err := s.Boom(clamped(facing+100, 35), usual)
				if off := track.TurnDeg(facing+100, boom.AzimuthDeg); err != nil || math.Abs(off) > 1e-9 || math.Abs(boom.ElevationDeg-35) > 1e-9 {
					t.Errorf("mounted %v°, facing %v°: %+v, %v after a turn of 100°", mounted, facing, boom, err)
				}
				// Straight ahead is found to be 6° further right: so is the boom.
				if boom, err = s.Turned(6, 1).Boom(clamped(facing, 0), usual); err != nil || math.Abs(track.TurnDeg(facing+6, boom.AzimuthDeg)) > 1e-9 {
					t.Errorf("mounted %v°, facing %v°: %+v, %v after the facing was put right", mounted, facing, boom, err)
				}
			}
		}
	}
	if s := (Sensor{}).Turned(6, 1); s != (Sensor{}) {
		t.Errorf("a sensor that nobody set has turned: %+v", s)
	}
	level := Reading{TrueDeg: 10, TrueKnown: true}
	steep := Reading{TrueDeg: 10, TrueKnown: true, PitchDeg: 31, PitchKnown: true}
	for want, c := range map[error]struct {
		reading    Reading
		deg, sigma float64
	}{
		ErrNoHeading:   {Reading{}, 10, 2},
		ErrNoReference: {level, 10, 0},
		ErrNotLevel:    {steep, 10, 2},
	} {
		if s, err := SetBy(c.reading, usual, c.deg, c.sigma, 0); !errors.Is(err, want) || s.Set {
			t.Errorf("%+v, %v, want %v", s, err, want)
		}
	}
}

// Two readings of one sensor share most of its error, whichever north they are
// from: taken twice it is no second witness.
func TestSensorTwiceIsOneWitness(t *testing.T) {
	for name, r := range map[string]Reading{
		"true":     {TrueDeg: 100, TrueKnown: true},
		"magnetic": {MagneticDeg: 100, MagneticKnown: true},
	} {
		one, err := r.Reference(usual, 0, noon())
		two := one
		two.At = noon().Add(time.Minute)
		f, bad := Combine([]Reference{one, two}, two.At)
		// 4° of the 5° are shared; the rest, 3°, is lessened by √2.
		if want := math.Hypot(4, 3/math.Sqrt2); err != nil || bad != nil || f.SigmaDeg < want-0.01 || len(f.Used) != 2 {
			t.Errorf("%s: %+v, %v, %v, want no surer than ±%.2f°", name, f, err, bad, want)
		}
	}
}

func TestSensorCheckedAgainstAReference(t *testing.T) {
	sun := Reference{Kind: BySun, Name: "sun's shadow", FacingDeg: 212, SigmaDeg: 2, At: noon()}
	mast := Reference{Kind: ByLandmark, Name: "Skarvan mast", FacingDeg: 358, SigmaDeg: 2, At: noon()}
	set := Sensor{OffsetDeg: 5, OffsetSigmaDeg: 2, Set: true}
	for name, c := range map[string]struct {
		sensor     Sensor
		deg, right float64
		against    Reference
		agrees     bool
		says       string
	}{
		"agrees":             {Sensor{}, 220, 0, sun, true, "the sensor says 8° more than the sun's shadow"},
		"to the side":        {Sensor{}, 250, 30, sun, true, "the sensor says 8° more than the sun's shadow"},
		"the same":           {Sensor{}, 212.2, 0, sun, true, "the sensor says as much as the sun's shadow"},
		"off, not set":       {Sensor{}, 192, 0, sun, false, "the sensor says 20° less than the sun's shadow: iron near it, or clamped on askew?"},
		"off, though set":    {set, 240, 0, sun, false, "the sensor says 33° more than the sun's shadow: iron near it, or has it slipped?"},
		"off, across north":  {Sensor{}, 15, 0, mast, false, "the sensor says 17° more than Skarvan mast: iron near it, or clamped on askew?"},
		"within three sigma": {Sensor{}, 358 + 2.74*math.Sqrt(29), 0, mast, true, "the sensor says 15° more than Skarvan mast"},
	} {
		got, err := c.sensor.Check(Reading{TrueDeg: c.deg, TrueKnown: true}, usual, c.against, c.right)
		if err != nil || got.Agrees() != c.agrees || got.String() != c.says {
			t.Errorf("%s: %+v %q, %v, want %q", name, got, got.String(), err, c.says)
		}
	}
	steep := Reading{TrueDeg: 5, TrueKnown: true, PitchDeg: 31, PitchKnown: true}
	if _, err := (Sensor{}).Check(steep, usual, sun, 0); !errors.Is(err, ErrNotLevel) {
		t.Errorf("not level: %v", err)
	}
	if _, err := (Sensor{PitchOffsetDeg: -4, Set: true}).Check(steep, usual, sun, 0); err != nil {
		t.Errorf("27° up: %v", err)
	}
	if _, err := (Sensor{}).Check(Reading{MagneticDeg: 5, MagneticKnown: true}, none, sun, 0); !errors.Is(err, ErrBlackout) {
		t.Errorf("blackout: %v", err)
	}
	if _, err := (Sensor{}).Check(Reading{TrueDeg: 5, TrueKnown: true}, usual, Reference{}, 0); !errors.Is(err, ErrReference) || !strings.Contains(err.Error(), "no way to find north") {
		t.Errorf("no reference: %v", err)
	}
}
