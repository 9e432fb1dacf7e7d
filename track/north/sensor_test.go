package north

import (
	"errors"
	"math"
	"slices"
	"testing"
)

// weak, none and usual are fields as At gives them; the numbers are invented but
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
		"true needs no field":   {Sensor{}, Reading{TrueDeg: 90, TrueKnown: true}, none, Boom{AzimuthDeg: 90, SigmaDeg: 5}, nil},
		"weak field":            {Sensor{}, magnetic, weak, Boom{AzimuthDeg: 31, SigmaDeg: math.Hypot(10, 1.1)}, nil},
		"blackout":              {Sensor{}, magnetic, none, Boom{}, ErrBlackout},
		"no declination":        {Sensor{}, magnetic, Field{}, Boom{}, ErrNoHeading},
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
// turns with the boom.
func TestSensorSetByAFacing(t *testing.T) {
	for _, mounted := range []float64{0, 17, -90, 179.5} {
		for _, facing := range []float64{0, 3, 135, 358} {
			clamped := func(boomDeg, pitchDeg float64) Reading {
				return Reading{MagneticDeg: boomDeg - usual.DeclinationDeg - mounted, MagneticKnown: true, PitchDeg: pitchDeg - 4, PitchKnown: true}
			}
			s, err := SetBy(clamped(facing, 0), usual, Facing{Deg: facing, SigmaDeg: 2})
			if err != nil || math.Abs(s.OffsetDeg-mounted) > 1e-9 || s.OffsetSigmaDeg != 2 {
				t.Fatalf("mounted %v°, facing %v°: %+v, %v", mounted, facing, s, err)
			}
			boom, err := s.Boom(clamped(facing+100, 35), usual)
			if to := boom.To(facing+100, 35); err != nil || math.Abs(to.RightDeg) > 1e-9 || math.Abs(to.UpDeg) > 1e-9 || !to.UpKnown || to.OffDeg > 1e-6 {
				t.Errorf("mounted %v°, facing %v°: %+v, %v after a turn of 100°", mounted, facing, to, err)
			}
		}
	}
	level := Reading{TrueDeg: 10, TrueKnown: true}
	for want, c := range map[error]struct {
		reading Reading
		facing  Facing
	}{
		ErrNoHeading:   {Reading{}, Facing{Deg: 10, SigmaDeg: 2}},
		ErrNoReference: {level, Facing{}},
		ErrNotLevel:    {Reading{TrueDeg: 10, TrueKnown: true, PitchDeg: 31, PitchKnown: true}, Facing{Deg: 10, SigmaDeg: 2}},
	} {
		if s, err := SetBy(c.reading, usual, c.facing); !errors.Is(err, want) || s.Set {
			t.Errorf("%+v, %v, want %v", s, err, want)
		}
	}
}

// Spherical triangles that can be worked out by hand: along the horizon and up
// a meridian the angle is the difference; two directions 90° apart at 45° up are
// 60° apart, for their scalar product is 1/2.
func TestPointingError(t *testing.T) {
	for _, c := range []struct {
		boom       Boom
		azimuthDeg float64
		elevation  float64
		want       Correction
	}{
		{Boom{AzimuthDeg: 350, ElevationKnown: true}, 10, 0, Correction{20, 0, true, 20}},
		{Boom{AzimuthDeg: 10, ElevationKnown: true}, 350, 0, Correction{-20, 0, true, 20}},
		{Boom{AzimuthDeg: 90, ElevationDeg: 30, ElevationKnown: true}, 90, 12, Correction{0, -18, true, 18}},
		{Boom{AzimuthDeg: 0, ElevationDeg: 45, ElevationKnown: true}, 90, 45, Correction{90, 0, true, 60}},
		{Boom{AzimuthDeg: 0, ElevationDeg: 80, ElevationKnown: true}, 180, 80, Correction{180, 0, true, 20}}, // over the top
		{Boom{AzimuthDeg: 0}, 90, 45, Correction{90, 0, false, 60}},                                          // height taken as right
		{Boom{AzimuthDeg: 0}, 90, 90, Correction{90, 0, false, 0}},
	} {
		got := c.boom.To(c.azimuthDeg, c.elevation)
		if math.Abs(got.RightDeg-c.want.RightDeg) > 1e-9 || math.Abs(got.UpDeg-c.want.UpDeg) > 1e-9 ||
			got.UpKnown != c.want.UpKnown || math.Abs(got.OffDeg-c.want.OffDeg) > 1e-6 {
			t.Errorf("%+v to %v, %v: %+v, want %+v", c.boom, c.azimuthDeg, c.elevation, got, c.want)
		}
	}
}

func TestSensorCheckedAgainstTheFacing(t *testing.T) {
	facing := Facing{Deg: 212, SigmaDeg: 2}
	for name, c := range map[string]struct {
		sensor Sensor
		deg    float64
		agrees bool
		lines  []string
	}{
		"agrees":       {Sensor{}, 220, true, []string{"sensor agrees: 8° right of ahead"}},
		"the same":     {Sensor{}, 212.2, true, []string{"sensor agrees: straight ahead"}},
		"off, not set": {Sensor{}, 192, false, []string{"sensor is off: 20° left, expected within 15°", "set its mounting offset, or look for iron near the", "boom"}},
		"off, though set": {Sensor{OffsetDeg: 5, OffsetSigmaDeg: 2, Set: true}, 240, false,
			[]string{"sensor is off: 33° right, expected within 16°", "iron nearby? the boom, cable, preamplifier's magnet", "or has it slipped?"}},
	} {
		got, err := c.sensor.Check(Reading{TrueDeg: c.deg, TrueKnown: true}, usual, facing)
		if err != nil || got.Agrees() != c.agrees || !slices.Equal(got.Lines(), c.lines) {
			t.Errorf("%s: %+v %q, %v, want %q", name, got, got.Lines(), err, c.lines)
		}
		for _, line := range got.Lines() {
			if len([]rune(line)) > LineWidth {
				t.Errorf("%s: %q is longer than %d", name, line, LineWidth)
			}
		}
	}
	if _, err := (Sensor{}).Check(Reading{MagneticDeg: 5, MagneticKnown: true}, none, facing); !errors.Is(err, ErrBlackout) {
		t.Errorf("blackout: %v", err)
	}
	if _, err := (Sensor{}).Check(Reading{TrueDeg: 5, TrueKnown: true}, usual, Facing{}); !errors.Is(err, ErrNoReference) {
		t.Errorf("no facing: %v", err)
	}
}
