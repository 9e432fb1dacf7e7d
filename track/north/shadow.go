package north

import (
	"fmt"
	"math"
	"time"

	"foreaim/track"
)

// SunCaution is to stand beside every use of the sun.
const SunCaution = "Never look at the sun, least of all along the boom: use the shadow."

// Shadow is the shadow of an upright stick.
type Shadow struct {
	Sight           // its azimuth is the way the shadow falls, away from the light
	LengthM float64 // on level ground, of a stick 1 m high; +Inf with the light at the horizon or below
}

const shadowHowTo = "Hold a straight stick upright beside a hanging weight. " +
	"Lay the boom along the middle of its shadow, the front away from the stick."

// The lowest light that throws a shadow to work with: under it haze, trees and
// hills take it (common practice, no source).
const (
	lowestSunDeg  = 1
	lowestMoonDeg = 5
)

// SunShadow returns the shadow that the sun throws. It is refused with the sun
// lower than 1° as seen, or so high (78°) that a facing would be worse than 5°.
func SunShadow(t time.Time, site track.Site) (Shadow, error) {
	sun, err := Sun(t, site)
	if err != nil {
		return Shadow{}, err
	}
	s := shadow(sun, "sun's shadow")
	switch {
	case sun.SeenElevationDeg < -sunDiscDeg/2:
		s.refuse("The sun is below the horizon.")
	case sun.SeenElevationDeg < lowestSunDeg:
		s.refuse(fmt.Sprintf("The sun is too low for a shadow: %.1f° up, from %d° it can be used.", sun.SeenElevationDeg, lowestSunDeg))
	case s.UncertaintyDeg > worstSightDeg:
		s.refuse(fmt.Sprintf("The sun is too high: %.0f° up, the shadow too short to tell a direction.", sun.SeenElevationDeg))
	}
	return s, nil
}

// MoonShadow returns the shadow that the moon throws. It is refused unless the
// night is dark (sun under -6°), half of the disc or more is lit (common
// practice, no source) and the moon stands well.
func MoonShadow(t time.Time, site track.Site) (Shadow, error) {
	moon, err := Moon(t, site)
	if err != nil {
		return Shadow{}, err
	}
	sun, err := Sun(t, site)
	if err != nil {
		return Shadow{}, err
	}
	const leastShare = 0.5
	s := shadow(moon.Body, "moon's shadow")
	switch {
	case moon.SeenElevationDeg < lowestMoonDeg:
		s.refuse(moonLow(moon))
	case sun.ElevationDeg > darkDeg:
		s.refuse("It is too light for a shadow of the moon.")
	case moon.IlluminatedShare < leastShare:
		s.refuse(fmt.Sprintf("The moon is too thin for a shadow: %.0f %% of it is lit.", 100*moon.IlluminatedShare))
	case s.UncertaintyDeg > worstSightDeg:
		s.refuse(fmt.Sprintf("The moon is too high: %.0f° up, the shadow too short to tell a direction.", moon.SeenElevationDeg))
	}
	return s, nil
}

// shadow is the shadow in the light of a body, whatever its use.
func shadow(b Body, name string) Shadow {
	length := math.Inf(1)
	if b.SeenElevationDeg > 0 {
		length = math.Max(0, 1/math.Tan(b.SeenElevationDeg*rad))
	}
	return Shadow{LengthM: length, Sight: Sight{
		Name:           name,
		AzimuthDeg:     track.Wrap360(b.AzimuthDeg + 180),
		UncertaintyDeg: sightUncertaintyDeg(b.SeenElevationDeg, sunDiscDeg),
		HowTo:          shadowHowTo,
	}}
}
