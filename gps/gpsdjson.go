package gps

import (
	"encoding/json"
	"math"
	"time"
)

// gpsdMessage has the fields that are used of all classes of gpsd's protocol.
type gpsdMessage struct {
	Class string `json:"class"`

	// TPV
	Mode        int       `json:"mode"`   // 2: position, 3: with height
	Status      int       `json:"status"` // of the fix, see quality
	Time        time.Time `json:"time"`
	LeapSeconds *int      `json:"leapseconds"`
	Lat         *float64  `json:"lat"`
	Lon         *float64  `json:"lon"`
	AltHAE      *float64  `json:"altHAE"` // above the ellipsoid
	AltMSL      *float64  `json:"altMSL"` // above mean sea level
	Alt         *float64  `json:"alt"`    // the same in older versions
	GeoidSep    *float64  `json:"geoidSep"`

	// SKY
	HDOP       *float64 `json:"hdop"`
	USat       *int     `json:"uSat"` // satellites used; newer versions
	Satellites []struct {
		Used bool `json:"used"`
	} `json:"satellites"`

	// ATT
	Heading    *float64 `json:"heading"`  // from true north
	MagHeading *float64 `json:"mheading"` // from magnetic north
	Pitch      *float64 `json:"pitch"`
	Roll       *float64 `json:"roll"`

	// PPS, TOFF: the true time of an event and what the clock read
	RealSec   int64 `json:"real_sec"`
	RealNsec  int64 `json:"real_nsec"`
	ClockSec  int64 `json:"clock_sec"`
	ClockNsec int64 `json:"clock_nsec"`
	Precision int   `json:"precision"` // PPS: log2 of seconds

	Devices []json.RawMessage `json:"devices"` // DEVICES
	Message string            `json:"message"` // ERROR
}

// parseGpsd reads one line of gpsd. It refuses what has fields of the wrong
// kind.
func parseGpsd(line []byte) (gpsdMessage, error) {
	var m gpsdMessage
	err := json.Unmarshal(line, &m)
	return m, err
}

// fix gives the fix of a TPV; leapKnown tells that gpsd was told the leap
// seconds by the receiver.
func (m gpsdMessage) fix(sky gpsdSky) (f Fix, leapKnown bool) {
	f = Fix{Time: m.Time.UTC(), Quality: m.quality(), SatellitesUsed: sky.used, HDOP: sky.hdop}
	if m.Mode < 2 || m.Lat == nil || m.Lon == nil ||
		!(math.Abs(*m.Lat) <= 90) || !(math.Abs(*m.Lon) <= 180) {
		f.Quality = none
		return f, m.LeapSeconds != nil
	}
	f.LatitudeDeg, f.LongitudeDeg = *m.Lat, *m.Lon
	aboveSea := m.AltMSL
	if aboveSea == nil {
		aboveSea = m.Alt
	}
	switch {
	case m.Mode < 3:
		return f, m.LeapSeconds != nil
	case m.AltHAE != nil:
		f.AltitudeM, f.AltitudeKnown = *m.AltHAE, true
	case aboveSea != nil && m.GeoidSep != nil:
		f.AltitudeM, f.AltitudeKnown = *aboveSea+*m.GeoidSep, true
	case aboveSea != nil:
		f.AltitudeM, f.AltitudeKnown, f.AltitudeUncertaintyM = *aboveSea, true, geoidM
	}
	if math.Abs(f.AltitudeM) > 100_000 {
		f.AltitudeM, f.AltitudeKnown, f.AltitudeUncertaintyM = 0, false, 0
	}
	return f, m.LeapSeconds != nil
}

// quality names the status of a TPV.
func (m gpsdMessage) quality() string {
	switch m.Status {
	case 2:
		return differential
	case 3, 4:
		return rtk
	case 5, 6:
		return estimated
	case 8:
		return simulated
	}
	return plain
}

// gpsdSky is what SKY tells about the fix.
type gpsdSky struct {
	used int
	hdop float64
}

// sky updates what is known: SKY comes with the satellites, with the dilution
// or with both.
func (m gpsdMessage) sky(s gpsdSky) gpsdSky {
	if m.HDOP != nil {
		s.hdop = *m.HDOP
	}
	switch {
	case m.USat != nil:
		s.used = *m.USat
	case m.Satellites != nil:
		s.used = 0
		for _, satellite := range m.Satellites {
			if satellite.Used {
				s.used++
			}
		}
	}
	return s
}

// attitude gives what an ATT says of the sensor, if that is anything.
func (m gpsdMessage) attitude() (h Heading, ok bool) {
	for _, field := range []struct {
		from  *float64
		to    *float64
		known *bool
		limit float64
	}{
		{m.Heading, &h.TrueDeg, &h.TrueKnown, 360},
		{m.MagHeading, &h.MagneticDeg, &h.MagneticKnown, 360},
		{m.Pitch, &h.PitchDeg, &h.PitchKnown, 90},
		{m.Roll, &h.RollDeg, &h.RollKnown, 180},
	} {
		if field.from != nil && math.Abs(*field.from) <= field.limit {
			*field.to, *field.known = *field.from, true
		}
	}
	h.TrueDeg, h.MagneticDeg = turn(h.TrueDeg), turn(h.MagneticDeg)
	return h, h.known()
}

// leastPulseError bounds in seconds what an interrupt or a USB adapter adds to a
// pulse at least (common practice, no source).
const leastPulseError = 0.002

// pulseError bounds the error of a PPS in seconds: twice what gpsd states as
// its precision.
func (m gpsdMessage) pulseError() float64 {
	return max(math.Ldexp(2, max(min(m.Precision, 0), -30)), leastPulseError)
}
