package terrain

import "math"

// SectionPoint is one place of a profile as it is drawn for a wave: over a straight
// base, with the ground raised by the bent Earth.
type SectionPoint struct {
	DistanceKm float64
	GroundM    float64 // above mean sea level, and the bulge of the Earth
	LineM      float64 // the straight line between the antennas
	FresnelM   float64 // radius of the first Fresnel zone around it
}

// Section returns a profile with the line between two antennas and the room that
// the wave needs, for drawing. What Pass refuses is refused.
func (p Profile) Section(l Link) ([]SectionPoint, error) {
	l, err := p.suits(l)
	if err != nil {
		return nil, err
	}
	last, d := len(p.GroundM)-1, p.LengthKm()
	from, to := p.GroundM[0]+l.FromM, p.GroundM[last]+l.ToM
	points := make([]SectionPoint, 0, len(p.GroundM))
	for i, a := range p.DistanceKm {
		b := d - a
		points = append(points, SectionPoint{
			a, p.GroundM[i] + 500*a*b/l.EarthKm, (from*b + to*a) / d, math.Sqrt(l.lambdaM() * a * b * 1000 / d),
		})
	}
	return points, nil
}
