package north

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"time"

	"foreaim/track"
)

// A Sight is a direction from the sky to take a facing from.
type Sight struct {
	Name       string
	AzimuthDeg float64 // true azimuth of what the boom is laid along, [0, 360)
	// UncertaintyDeg is one standard deviation of a facing taken with it by
	// hand. One that is refused has the 104° of a direction nobody knows.
	UncertaintyDeg float64
	HowTo          string // what to do, a sentence or two
	Refusal        string // why it is of no use now, a sentence; empty when it is
}

func (s *Sight) refuse(why string) { s.Refusal, s.UncertaintyDeg = why, unknownDeg }

// What a facing by hand is made of. Common practice, no source, but for the
// disc: the mean of sun and moon.
const (
	readingDeg = 1     // laying a boom along a line
	plumbDeg   = 1     // tilt of a stick or string that should be upright
	sunDiscDeg = 0.533 // width of the light; any point of it may be taken

	worstSightDeg = 5  // a sight that is worse is refused
	darkDeg       = -6 // the sun at the end of civil twilight: bright stars are out
)

// unknownDeg is the standard deviation of a direction that may be any.
var unknownDeg = 180 / math.Sqrt(3)

// sightUncertaintyDeg returns the standard uncertainty of the azimuth of a
// light (disc width in degrees) at an elevation, taken with an upright stick or
// string. A stick that leans by τ across the light moves the shadow's tip by
// h·τ at the distance h/tan(el), so the azimuth is off by τ·tan(el). An angle
// on the sky across the light, such as the disc's width, is an azimuth 1/cos(el)
// times as large.
func sightUncertaintyDeg(elevationDeg, discDeg float64) float64 {
	sin, cos := math.Sincos(elevationDeg * rad)
	lean, across := plumbDeg*sin/cos, discDeg/math.Sqrt(12)/cos
	return math.Min(unknownDeg, math.Sqrt(readingDeg*readingDeg+lean*lean+across*across))
}

const stringHowTo = "Hang a weight on a string at arm's length so that the string runs through the %s. " +
	"Aim the level boom at where the string meets the ground line."

// MoonSight returns the moon as something to sight along a string. It is
// refused when the moon is lower than 5° or too high, and when it is too thin to
// be found: under 3 % lit in the dark, under 25 % with the sun above -6°
// (common practice, no source). The second also keeps the eye 60° off the sun.
func MoonSight(t time.Time, site track.Site) (Sight, error) {
	moon, err := Moon(t, site)
	if err != nil {
		return Sight{}, err
	}
	sun, err := Sun(t, site)
	if err != nil {
		return Sight{}, err
	}
	leastShare, when := 0.03, "in the dark"
	if sun.ElevationDeg > darkDeg {
		leastShare, when = 0.25, "by daylight"
	}
	s := newSight("moon", moon.Body, sunDiscDeg)
	switch {
	case moon.SeenElevationDeg < lowestMoonDeg:
		s.refuse(moonLow(moon))
	case moon.IlluminatedShare < leastShare:
		s.refuse(fmt.Sprintf("The moon is too thin to be found %s: %.0f %% of it is lit.", when, 100*moon.IlluminatedShare))
	case s.UncertaintyDeg > worstSightDeg:
		s.refuse(fmt.Sprintf("The moon is too high to tell a direction: %.0f° up.", moon.SeenElevationDeg))
	}
	return s, nil
}

func moonLow(moon MoonBody) string {
	if moon.SeenElevationDeg < 0 {
		return "The moon is below the horizon."
	}
	return fmt.Sprintf("The moon is too low: %.0f° up, from %d° it can be used.", moon.SeenElevationDeg, lowestMoonDeg)
}

// southWithoutStar: the star's magnitude is from memory (Bright Star
// Catalogue); the rule of the Cross is common practice, no source. It fits the
// catalogue: foot to top 6.0°, foot to pole 26.9°.
const southWithoutStar = "No bright star stands at the south pole of the sky (sigma Octantis, magnitude 5.4, is too faint to aim by). " +
	"The Southern Cross tells south to about 5°: carry its long axis on, from the foot, 4½ times its length, then go straight down."

// PoleStarSight returns the pole star as something to sight along a string. It
// is refused when the star is lower than 10° (haze) or too high, south of the
// equator with words about the southern sky, and while the sun is above -6°.
func PoleStarSight(t time.Time, site track.Site) (Sight, error) {
	star, err := PoleStar(t, site)
	if err != nil {
		return Sight{}, err
	}
	sun, err := Sun(t, site)
	if err != nil {
		return Sight{}, err
	}
	const lowestDeg = 10
	s := newSight("pole star", star, 0)
	switch {
	case site.LatitudeDeg < 0:
		s.refuse(southWithoutStar)
	case star.SeenElevationDeg < lowestDeg:
		s.refuse(fmt.Sprintf("The pole star is too low here: %.0f° up, from %d° it can be used.", star.SeenElevationDeg, lowestDeg))
	case s.UncertaintyDeg > worstSightDeg:
		s.refuse(fmt.Sprintf("The pole star is too high here to tell a direction: %.0f° up.", star.SeenElevationDeg))
	case sun.ElevationDeg > darkDeg:
		s.refuse("It is too light for the pole star.")
	}
	return s, nil
}

func newSight(name string, b Body, discDeg float64) Sight {
	return Sight{
		Name:           name,
		AzimuthDeg:     b.AzimuthDeg,
		UncertaintyDeg: sightUncertaintyDeg(b.SeenElevationDeg, discDeg),
		HowTo:          fmt.Sprintf(stringHowTo, name),
	}
}

// Sights returns all that the sky offers at a site and time, the best first and
// the refused last, otherwise in the order sun's shadow, pole star, moon, moon's
// shadow. Clouds, trees and hills are not known to it. The error is like that
// of Sun.
func Sights(t time.Time, site track.Site) ([]Sight, error) {
	sun, err := SunShadow(t, site)
	if err != nil {
		return nil, err
	}
	star, err := PoleStarSight(t, site)
	if err != nil {
		return nil, err
	}
	moon, err := MoonSight(t, site)
	if err != nil {
		return nil, err
	}
	moonShadow, err := MoonShadow(t, site)
	if err != nil {
		return nil, err
	}
	sights := []Sight{sun.Sight, star, moon, moonShadow.Sight}
	slices.SortStableFunc(sights, func(a, b Sight) int { return cmp.Compare(a.UncertaintyDeg, b.UncertaintyDeg) })
	return sights, nil
}
