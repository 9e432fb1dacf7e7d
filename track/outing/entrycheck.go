package outing

import "errors"

// first returns the first error of some checks.
func first(errs ...error) error {
	for _, err := range errs {
		if err != nil {
			return err
		}
	}
	return nil
}

// direction checks an azimuth from 0 to 360 and an elevation from −90 to 90,
// both degrees.
func direction(azimuth, elevation Number) error {
	return first(azimuth.within("azimuth_deg", 0, 360), elevation.within("elevation_deg", -90, 90))
}

func (e StartEntry) check() error {
	if Clean(string(e.Outing)) == "" {
		return errors.New("outing is empty, want the outing's name")
	}
	return nil
}

func (e FixEntry) check() error {
	return first(e.LatitudeDeg.within("latitude_deg", -90, 90), e.LongitudeDeg.within("longitude_deg", -180, 180))
}

func (ClockEntry) check() error { return nil }

func (e FacingEntry) check() error {
	return first(direction(e.AzimuthDeg, Number{}), e.DeclinationDeg.within("declination_deg", -180, 180),
		e.SensorOffsetDeg.within("sensor_offset_deg", -360, 360),
		e.SensorPitchOffsetDeg.within("sensor_pitch_offset_deg", -90, 90), e.References.check())
}

func (ElementsEntry) check() error { return nil }

func (e PassEntry) check() error { return first(e.Rise.check(), e.Peak.check(), e.Set.check()) }

func (l LookEntry) check() error { return direction(l.AzimuthDeg, l.ElevationDeg) }

func (e AdviceEntry) check() error {
	return first(direction(e.AzimuthDeg, e.ElevationDeg),
		e.HearProbability.within("hear_probability", 0, 1),
		e.AudibleProbability.within("audible_probability", 0, 1))
}

func (e HoldEntry) check() error { return direction(e.AzimuthDeg, e.ElevationDeg) }

func (e MarkEntry) check() error {
	return first(e.State().Check(), direction(e.AzimuthDeg, e.ElevationDeg))
}

func (e SensorEntry) check() error {
	return first(e.TrueDeg.within("heading_true_deg", 0, 360),
		e.MagneticDeg.within("heading_magnetic_deg", 0, 360), e.PitchDeg.within("pitch_deg", -180, 180))
}

func (e CheckEntry) check() error {
	if Clean(string(e.List)) == "" {
		return errors.New("list is empty, want the list that the item is of")
	}
	return direction(e.AzimuthDeg, e.ElevationDeg)
}

func (WarningEntry) check() error { return nil }

func (CommandEntry) check() error { return nil }

func (NoteEntry) check() error { return nil }

func (EndEntry) check() error { return nil }
