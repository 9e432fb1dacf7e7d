package north

import (
	"errors"
	"fmt"
	"math"
	"time"

	"foreaim/track"
)

// Body is where a body of the sky stands, seen from a site: the centre of its
// disc, with parallax, aberration and nutation. At a geographic pole north is taken
// along the meridian of the site's longitude.
type Body struct {
	AzimuthDeg       float64 // from true north clockwise, [0, 360); in the zenith 0
	ElevationDeg     float64 // above the horizontal plane, without refraction, -90 to 90
	SeenElevationDeg float64 // the same as the eye sees it, lifted by standard refraction
	DistanceKm       float64 // from the site; for a star +Inf
}

// ErrOutsideSkyYears is returned for times that the sky's formulae don't cover.
var ErrOutsideSkyYears = errors.New("sun, moon and stars are worked out for the years 1900 to 2100 only")

// checkSky refuses sites and times that the formulae don't cover.
func checkSky(site track.Site, t time.Time) error {
	if err := site.Check(); err != nil {
		return err
	}
	if year := t.UTC().Year(); year < 1900 || year > 2100 {
		return fmt.Errorf("%w, not %d", ErrOutsideSkyYears, year)
	}
	return nil
}

// bodyAt returns the body at a position in TEME, km.
func bodyAt(position track.Vector, site track.Site, t time.Time) Body {
	var b Body
	b.AzimuthDeg, b.ElevationDeg, b.DistanceKm = site.DirectionTEME(position, t)
	b.SeenElevationDeg = b.ElevationDeg + RefractionDeg(b.ElevationDeg)
	return b
}

// RefractionDeg returns how far standard air (1010 hPa, 10 °C) lifts a body at
// a geometric elevation, both in degrees. Real air near the horizon differs by
// 0.1° and more. Under -1° nothing is seen, and the answer is 0. Source: Þ.
// Sæmundsson, Sky & Telescope 72, 1986, as in J. Meeus, "Astronomical
// Algorithms", 2nd edition, formula 16.4.
func RefractionDeg(elevationDeg float64) float64 {
	if elevationDeg < -1 {
		return 0
	}
	minutes := 1.02 / math.Tan((elevationDeg+10.3/(elevationDeg+5.11))*rad)
	return math.Max(0, minutes) / 60 // a shade under 0 in the zenith
}

// Sun returns where the sun stands: azimuth (times the cosine of the elevation)
// and elevation within 0.01°, from 1900 to 2100, with UT1 taken as UTC (each
// second between them turns the sky by 0.004°). The error names a site out of
// range or wraps ErrOutsideSkyYears.
//
// Never look at the sun: see SunCaution.
func Sun(t time.Time, site track.Site) (Body, error) {
	if err := checkSky(site, t); err != nil {
		return Body{}, err
	}
	return bodyAt(track.Sun(t), site, t), nil
}
