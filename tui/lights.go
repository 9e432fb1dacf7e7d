package tui

import (
	"foreaim/track"
	"foreaim/track/aim"
	"foreaim/track/north"
)

// seenLandmark is a landmark along the ground.
type seenLandmark struct {
	name       string
	azimuthDeg float64
}

// tellLights takes where sun and moon stand, as far as they are in sight.
func (s *scene) tellLights(site track.Site, known bool) {
	if !known {
		return
	}
	up := func(b north.Body, err error) *aim.Direction {
		if err != nil || b.SeenElevationDeg < 0 || s.skyline != nil && b.SeenElevationDeg < s.skyline(b.AzimuthDeg) {
			return nil
		}
		return &aim.Direction{AzimuthDeg: b.AzimuthDeg, ElevationDeg: b.SeenElevationDeg}
	}
	s.sun = up(north.Sun(s.now, site))
	moon, err := north.Moon(s.now, site)
	s.moon = up(moon.Body, err)
}

// tellLandmarks takes the landmarks that have a bearing from here.
func (s *scene) tellLandmarks(all []north.Landmark, site track.Site, known bool) {
	if !known {
		return
	}
	for _, l := range all {
		if at, err := l.From(site); err == nil && at.DistanceM <= farthestM {
			s.landmarks = append(s.landmarks, seenLandmark{clean(l.Name), at.BearingDeg})
		}
	}
}

// sunNearDeg is how near the aim the sun is for somebody to look into it who
// looks along the boom (common practice, no source).
const sunNearDeg = 15.0

// sunRemark warns of looking along the boom.
func (s *scene) sunRemark() remark {
	h := s.aimed()
	if h == nil || s.sun == nil || track.SeparationDeg(h.AzimuthDeg, h.ElevationDeg, s.sun.AzimuthDeg, s.sun.ElevationDeg) > sunNearDeg {
		return remark{}
	}
	return remark{"SUN AHEAD: don't look along the boom", "SUN AHEAD", true, "the sun is along the boom"}
}

// unsureDeg is how unsure a facing may be before finding north is worth more
// than anything else: half a fist's turn of the usual beam is lost with it
// (common practice, no source).
const unsureDeg = 15.0

// facingRemark says how surely straight ahead is known.
func (s *scene) facingRemark() remark {
	f := s.facing
	switch {
	case !f.known || f.sigmaDeg == 0:
		return remark{}
	case f.sigmaDeg > unsureDeg:
		words := "FACING " + within(f.deg, f.sigmaDeg)
		return remark{words + ": find north, w", words, true, "facing uncertain"}
	}
	words := "facing " + within(f.deg, f.sigmaDeg)
	return remark{long: words, short: words}
}

// differRemark warns of references that disagree.
func (s *scene) differRemark() remark {
	if len(s.said.Differences) == 0 {
		return remark{}
	}
	words := clean(s.said.Differences[0].String())
	return remark{words, "NORTH IN DOUBT", true, words}
}
