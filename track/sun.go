package track

import (
	"math"
	"time"
)

// Sun returns the sun's apparent geocentric position in TEME, km: the sun as
// light shows it at t. Source: J. Meeus, "Astronomical Algorithms", 2nd
// edition, chapter 25, lower accuracy: 0.01°, from 1900 to 2100.
func Sun(t time.Time) Vector {
	const rad, unitKm = math.Pi / 180, 149597870.7
	const aberrationDeg = 0.00569
	c := CenturiesTT(t)
	mean := 280.46646 + c*(36000.76983+c*0.0003032)
	g := (357.52911 + c*(35999.05029-c*0.0001537)) * rad // mean anomaly
	centre := (1.914602-c*(0.004817+c*0.000014))*math.Sin(g) +
		(0.019993-c*0.000101)*math.Sin(2*g) + 0.000289*math.Sin(3*g)
	e := 0.016708634 - c*(0.000042037+c*0.0000001267)
	distance := unitKm * 1.000001018 * (1 - e*e) / (1 + e*math.Cos(g+centre*rad))
	return EclipticToTEME(mean+centre-aberrationDeg, 0, distance, t)
}
