package tui

import (
	"cmp"
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"foreaim/track"
	"foreaim/track/north"
)

// way is one way to find north, as it is now.
type way struct {
	name     string
	sigmaDeg float64 // of a facing by it
	note     string  // for the list; may be empty
	howTo    string  // a sentence or two
	caution  string  // may be empty
	refusal  string  // why it is of no use now; empty when it is
	do       func(m *model) tea.Cmd
	landmark *north.Landmark
}

// Standard uncertainties of places along each axis, metres, and of a bearing
// read off a map with a protractor, degrees. Common practice, no source.
const (
	fixM, givenM, landmarkM = 3.0, 20.0, 10.0
	mapDeg                  = 3.0
	// farthestM is how far a mountain is seen from another on a clear day (common
	// practice, no source).
	farthestM = 300_000.0
)

// steelCaution is to stand beside every use of a compass.
const steelCaution = "Keep the compass away from the car, fences, the boom, the preamplifier's magnet and your phone."

// lookWays works out what every way is worth now, the best first, those that are
// of no use last.
func (m *model) lookWays() []way {
	site, known, measured := m.here()
	if !known {
		wait := "the place is not known yet: wait for a fix"
		return []way{m.wordWay(), {name: "sun, moon, pole star", refusal: wait}, {name: "compass", refusal: wait}}
	}
	ways := m.skyWays(site)
	for _, l := range slices.Concat(m.config.Landmarks, m.finder.places) {
		ways = append(ways, m.landmarkWay(l, site, measured))
	}
	ways = append(ways, m.walkWay(), m.compassWay(site))
	if m.scene.report.Heading.Fresh(m.scene.computer) {
		ways = append(ways, m.sensorWay())
	}
	ways = append(ways, m.mapWay(site), m.wordWay())
	slices.SortStableFunc(ways, func(a, b way) int {
		refused := func(w way) int { return min(len(w.refusal), 1) }
		return cmp.Or(cmp.Compare(refused(a), refused(b)), cmp.Compare(a.sigmaDeg, b.sigmaDeg))
	})
	return ways
}

// way returns the way that is chosen, the best one to begin with.
func (f *finder) way() (way, bool) {
	for _, w := range f.ways {
		if w.name == f.selected {
			return w, true
		}
	}
	if len(f.ways) == 0 {
		return way{}, false
	}
	return f.ways[0], true
}

// takeOr takes a reference, or tells why not.
func (m *model) takeOr(r north.Reference, err error) tea.Cmd {
	if err != nil {
		m.tell(capital(reason(err)))
		return nil
	}
	m.take(r)
	return nil
}

// skyWays are sun, moon and pole star.
func (m *model) skyWays(site track.Site) []way {
	sights, err := north.Sights(m.scene.now, site)
	if err != nil {
		return []way{{name: "sun, moon, pole star", refusal: clean(err.Error())}}
	}
	var ways []way
	for _, s := range sights {
		kind := north.ByMoon
		w := way{name: s.Name, sigmaDeg: s.UncertaintyDeg, howTo: s.HowTo, refusal: strings.TrimSuffix(s.Refusal, "."), note: fmt.Sprintf("%03d°T", whole360(s.AzimuthDeg))}
		switch s.Name {
		case "sun's shadow":
			kind, w.caution = north.BySun, north.SunCaution
		case "pole star":
			kind = north.ByPoleStar
		}
		if !m.scene.clock.Known {
			w.howTo += " Is the clock right? Four minutes turn the sky by a degree."
		}
		w.do = func(m *model) tea.Cmd {
			return m.takeOr(north.Refer(kind, s.Name, s.AzimuthDeg, m.finder.rightDeg, s.UncertaintyDeg, m.trueNow()))
		}
		ways = append(ways, w)
	}
	return ways
}

// landmarkWay is a landmark, seen by eye.
func (m *model) landmarkWay(l north.Landmark, site track.Site, measured bool) way {
	w := way{name: clean(l.Name), landmark: &l}
	sighting, err := l.From(site)
	switch {
	case errors.Is(err, track.ErrSamePlace):
		w.refusal = "you stand on it: no direction leads there"
		return w
	case err != nil:
		w.refusal = reason(err)
		return w
	case sighting.DistanceM > farthestM:
		w.refusal = fmt.Sprintf("it is %s away: nobody sees that far", metres(sighting.DistanceM))
		return w
	}
	siteM := givenM
	if measured {
		siteM = fixM * math.Max(1, m.scene.report.Fix.HDOP)
	}
	refer := func(rightDeg float64) (north.Reference, error) {
		return north.LandmarkReference(l.Name, sighting, rightDeg, siteM, landmarkM, m.trueNow())
	}
	r, err := refer(0)
	if err != nil {
		w.refusal = reason(err)
		return w
	}
	w.sigmaDeg, w.note = r.SigmaDeg, fmt.Sprintf("%03d°T %s", whole360(sighting.BearingDeg), metres(sighting.DistanceM))
	w.howTo = "Aim the level boom at it. In fog, if it sends: x, and turn the antenna through its signal."
	w.do = func(m *model) tea.Cmd { return m.takeOr(refer(m.finder.rightDeg)) }
	return w
}

// metres says a distance.
func metres(m float64) string {
	if m < 1000 {
		return fmt.Sprintf("%.0f m", m)
	}
	if m > 100_000 {
		return fmt.Sprintf("%.0f km", m/1000)
	}
	return fmt.Sprintf("%.1f km", m/1000)
}

// compassWay is a compass in the hand.
func (m *model) compassWay(site track.Site) way {
	w := way{name: "compass", caution: steelCaution}
	field, err := north.At(site.LatitudeDeg, site.LongitudeDeg, site.HeightM, m.scene.now)
	if err != nil {
		w.refusal = reason(err)
		return w
	}
	r, err := north.CompassReference(north.ByCompass, "", 0, 0, field, 0, m.scene.now)
	if err != nil {
		w.refusal = reason(err)
		return w
	}
	w.sigmaDeg, w.howTo = r.SigmaDeg, "Read the compass along the direction below the cross and type what it says, magnetic."
	if field.Zone != north.Normal {
		w.note = "near the magnetic pole"
	}
	w.do = func(m *model) tea.Cmd {
		m.askAzimuth("Compass", "° magnetic", func(m *model, deg float64) string {
			return m.takeTyped(north.CompassReference(north.ByCompass, "", deg, m.finder.rightDeg, field, 0, m.trueNow()))
		})
		return nil
	}
	return w
}

// takeTyped takes a reference that was typed, or says why not.
func (m *model) takeTyped(r north.Reference, err error) (problem string) {
	if err != nil {
		return reason(err)
	}
	m.take(r)
	return ""
}

// mapWay is a bearing read off a map, from its grid north.
func (m *model) mapWay(site track.Site) way {
	w := way{name: "map", sigmaDeg: mapDeg}
	grid, err := site.Grid()
	if err != nil {
		w.refusal = clean(err.Error())
		return w
	}
	w.note = fmt.Sprintf("grid north at %+.1f°", grid.ConvergenceDeg)
	w.howTo = fmt.Sprintf("Read off the map (UTM %v) the bearing from grid north to what is below the cross, and type it.", grid)
	w.do = func(m *model) tea.Cmd {
		m.askAzimuth("Map bearing", "° from grid north", func(m *model, deg float64) string {
			return m.takeTyped(north.Refer(north.ByWord, "map", grid.TrueDeg(deg), m.finder.rightDeg, mapDeg, m.trueNow()))
		})
		return nil
	}
	return w
}

// wordWay is an azimuth that somebody says.
func (m *model) wordWay() way {
	return way{
		name: "known azimuth", note: "typed", sigmaDeg: north.ByWord.SigmaDeg(), howTo: "Type the true azimuth of what is below the cross, if somebody knows it.",
		do: func(m *model) tea.Cmd {
			m.askAzimuth("Azimuth", "° true", func(m *model, deg float64) string {
				return m.takeTyped(north.Refer(north.ByWord, "", deg, m.finder.rightDeg, 0, m.trueNow()))
			})
			return nil
		},
	}
}
