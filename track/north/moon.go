package north

import (
	"math"
	"time"

	"foreaim/track"
)

// MoonBody is the moon with its light.
type MoonBody struct {
	Body
	IlluminatedShare float64 // of the disc, 0 new to 1 full
}

// Moon returns where the moon stands: azimuth (times the cosine of the
// elevation) and elevation within 0.02° in our time, within 0.05° from 1900 to
// 2100, for which the Earth's rotation is not known. The error is like that of Sun.
func Moon(t time.Time, site track.Site) (MoonBody, error) {
	if err := checkSky(site, t); err != nil {
		return MoonBody{}, err
	}
	moon, sun := moonPosition(t), track.Sun(t)
	away := track.Vector{sun[0] - moon[0], sun[1] - moon[1], sun[2] - moon[2]}
	home := track.Vector{-moon[0], -moon[1], -moon[2]}
	return MoonBody{
		Body:             bodyAt(moon, site, t),
		IlluminatedShare: (1 + math.Cos(angleBetween(away, home))) / 2,
	}, nil
}

// angleBetween returns the angle between two vectors in radians.
func angleBetween(a, b track.Vector) float64 {
	cross := math.Hypot(math.Hypot(a[1]*b[2]-a[2]*b[1], a[2]*b[0]-a[0]*b[2]), a[0]*b[1]-a[1]*b[0])
	return math.Atan2(cross, a[0]*b[0]+a[1]*b[1]+a[2]*b[2])
}
