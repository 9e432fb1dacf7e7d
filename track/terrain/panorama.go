package terrain

import (
	"context"
	"fmt"
	"runtime"

	"foreaim/track/internal/diffraction"
)

// StandardEarthKm is the effective radius of the Earth for radio waves in usual
// air, k = 4/3 (ITU-R P.526).
const StandardEarthKm = diffraction.StandardRadiusKm

// View says how far and how finely to look around. The zero value is usable.
type View struct {
	Azimuths int     // evenly from north; 0: 720; 8 to 7200
	ReachKm  float64 // 0: 60; 0.1 to 300
	EarthKm  float64 // effective radius; 0: StandardEarthKm
	Workers  int     // 0: as many as there are processors
}

// Crest is what hides the sky at one azimuth.
type Crest struct {
	AzimuthDeg   float64 // true
	ElevationDeg float64 // above the level horizon
	DistanceM    float64 // along the ground
	HeightM      float64 // above mean sea level
	UnknownM     float64 // length of ground at this azimuth whose height is not known
}

// Panorama is what the ground hides of the sky of a site.
type Panorama struct {
	GroundM  float64 // of the site, above mean sea level
	AntennaM float64 // above ground
	ReachKm  float64 // how far was looked
	Crests   []Crest // by azimuth, evenly from north
}

// LookAround works out the skyline of the ground for an antenna above it, 0 to
// 1000 m.
//
// The air bends radio waves down, so the Earth is taken as wider than it is,
// k = 4/3: a ridge 30 km away is 0.03° higher than without. The elevation is that
// at which a wave leaves the antenna and grazes the ridge; look angles are without
// refraction, so low objects are seen a little (0.3° at the horizon, common
// practice, no source) sooner than these tell. Trees and houses are not in the
// ground, or only on the average: join the skyline that was entered by hand.
//
// Each azimuth is one line. It is looked at every 10 m, beyond 6 km every 30 m,
// and finer around the crest. Ground that is not known hides nothing and is
// counted in UnknownM; at the site itself it is an error, as is every missing
// tile within reach.
func LookAround(ctx context.Context, g Ground, site Place, antennaM float64, v View) (Panorama, error) {
	v, err := v.withDefaults()
	if err != nil {
		return Panorama{}, err
	}
	if err := site.check(); err != nil {
		return Panorama{}, fmt.Errorf("site: %w", err)
	}
	if !(antennaM >= 0 && antennaM <= 1000) {
		return Panorama{}, fmt.Errorf("antenna %v m above ground is outside 0 to 1000", antennaM)
	}
	ground, err := heightOf(g, "the site", site)
	if err != nil {
		return Panorama{}, err
	}
	p := Panorama{GroundM: ground, AntennaM: antennaM, ReachKm: v.ReachKm, Crests: make([]Crest, v.Azimuths)}
	rays := newRays(v, ground+antennaM)
	err = share(ctx, v.Workers, v.Azimuths, func(_ context.Context, i int, w *way) (err error) {
		azimuth := 360 * float64(i) / float64(v.Azimuths)
		if p.Crests[i], err = rays.cast(g, site, azimuth, w); err != nil {
			return fmt.Errorf("ground towards %.1f°: %w", azimuth, err)
		}
		return nil
	})
	if err != nil {
		return Panorama{}, err
	}
	return p, nil
}

func (v View) withDefaults() (View, error) {
	if v.Azimuths == 0 {
		v.Azimuths = 720
	}
	if v.ReachKm == 0 {
		v.ReachKm = 60
	}
	if v.EarthKm == 0 {
		v.EarthKm = StandardEarthKm
	}
	if v.Workers <= 0 {
		v.Workers = runtime.GOMAXPROCS(0)
	}
	switch {
	case v.Azimuths < 8 || v.Azimuths > 7200:
		return v, fmt.Errorf("%d azimuths are outside 8 to 7200", v.Azimuths)
	case !(v.ReachKm >= 0.1 && v.ReachKm <= 300):
		return v, fmt.Errorf("a reach of %v km is outside 0.1 to 300", v.ReachKm)
	case !(v.EarthKm >= 1000):
		return v, fmt.Errorf("an effective Earth radius of %v km is under 1000", v.EarthKm)
	}
	return v, nil
}

// Skyline returns the panorama as a skyline.
func (p Panorama) Skyline() Skyline {
	points := make([]Point, 0, len(p.Crests))
	for _, c := range p.Crests {
		points = append(points, Point{c.AzimuthDeg, min(max(c.ElevationDeg, LowestDeg), HighestDeg)})
	}
	return Skyline{points}
}

// UnknownShare returns how much of the ground around has no known height, 0 to 1.
func (p Panorama) UnknownShare() float64 {
	sum := 0.0
	for _, c := range p.Crests {
		sum += c.UnknownM
	}
	return sum / (p.ReachKm * 1000 * float64(len(p.Crests)))
}
