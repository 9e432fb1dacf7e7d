package main

import (
	"fmt"
	"strings"
	"time"

	"foreaim/track"
)

// likely is how late or early the object may be at a time.
func (s satellite) likely(at time.Time) track.Likely {
	l, err := track.LikelyError(s.orbit.Elements(), s.history, at)
	if err != nil { // the orbit is there, so that these elements can be flown
		return track.Likely{}
	}
	return l
}

// offDeg is how far that puts the object from its look angles at a time, in
// degrees of arc; 0 where it can't be told.
func (s satellite) offDeg(site track.Site, at time.Time) float64 {
	deg, err := s.orbit.OffDeg(site, at, s.likely(at).SigmaS)
	if err != nil {
		return 0
	}
	return deg
}

// sayOff says an angle of arc that something is likely off.
func sayOff(deg float64) string {
	switch {
	case deg <= 0:
		return ""
	case deg < 0.05:
		return "<0.1°"
	case deg < 9.95:
		return fmt.Sprintf("%.1f°", deg)
	}
	return fmt.Sprintf("%.0f°", deg)
}

// sayPass says when a pass is, how high it goes, and how far the object may be
// off there, in lines of text without a last line end.
func (sys system) sayPass(site track.Site, p passOf) string {
	text := fmt.Sprintf("Pass from %s to %s, up to %s", sys.bothTimes(p.Rise.Time), sys.bothTimes(p.Set.Time), sayElevation(p.Peak.ElevationDeg))
	if off := sayOff(p.offDeg(site, p.Peak.Time)); off != "" {
		text += " (likely off by " + off + " there)"
	}
	return strings.TrimSpace(item("", text+"."))
}

// sayLikely says in two lines how old the elements are and how late or early that may make the object.
func (sys system) sayLikely(s satellite, at time.Time) string {
	return sys.sayElements(s.orbit.Elements(), at) + "\n" + sentence(s.likely(at).Words())
}
