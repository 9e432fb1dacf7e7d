package track

import "time"

// Look is the direction to an object from a site at a time: the look angles.
type Look struct {
	Time         time.Time
	AzimuthDeg   float64 // from true north clockwise, [0, 360)
	ElevationDeg float64 // above the horizon, without refraction
	RangeKm      float64
	RangeRateKmS float64 // positive: going away
}

// Look returns the look angles from a site at t. The light's travel time is
// left out (below 0.01° for a low orbit). The error, if any, is a *TimeError.
func (o *Orbit) Look(site Site, t time.Time) (Look, error) { return o.LookLate(site, t, 0) }

// LookLate returns the look angles of an object that is lateS seconds late
// along its track (negative: early): the orbit at t − lateS, the Earth at t.
func (o *Orbit) LookLate(site Site, t time.Time, lateS float64) (Look, error) {
	return o.lookFrom(newPlace(site), t, lateS)
}

func (o *Orbit) lookFrom(p place, t time.Time, lateS float64) (Look, error) {
	s, err := o.State(t.Add(-seconds(lateS)))
	if err != nil {
		return Look{}, err
	}
	position, velocity := earthFixed(s, t)
	look := Look{Time: t}
	look.AzimuthDeg, look.ElevationDeg, look.RangeKm = p.direction(position)
	if look.RangeKm > 0 {
		look.RangeRateKmS = dot(sub(position, p.position), velocity) / look.RangeKm
	}
	return look, nil
}

// seconds turns seconds into a Duration, rounded to nanoseconds.
func seconds(s float64) time.Duration { return time.Duration(s * float64(time.Second)) }
