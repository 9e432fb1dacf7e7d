package tui

import (
	"fmt"
	"math"
	"slices"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"foreaim/track"
	"foreaim/track/aim"
	"foreaim/track/north"
)

// mount is how the sensor's azimuth is used in finding north.
type mount struct {
	follows bool    // the cross goes where the boom points
	zeroDeg float64 // the sensor's azimuth when the boom lay straight ahead
}

// sensed is where the boom points.
type sensed struct {
	known    bool
	reading  north.Reading
	field    north.Field // that turns a magnetic reading
	rawDeg   float64     // true azimuth by the sensor alone
	pitched  bool        // its elevation is known
	boom     aim.Direction
	disabled string // why a sensor that is there gives no azimuth
}

// sense reads the sensor on the boom.
func (s *scene) sense(site track.Site, siteKnown bool) sensed {
	h := s.report.Heading
	if !h.Fresh(s.computer) || !h.TrueKnown && !h.MagneticKnown {
		return sensed{}
	}
	b := sensed{reading: north.Reading{
		TrueDeg: h.TrueDeg, TrueKnown: h.TrueKnown, MagneticDeg: h.MagneticDeg, MagneticKnown: h.MagneticKnown,
		PitchDeg: h.PitchDeg, PitchKnown: h.PitchKnown,
	}}
	if siteKnown && !h.TrueKnown {
		var err error
		if b.field, err = north.At(site.LatitudeDeg, site.LongitudeDeg, site.HeightM, s.now); err != nil {
			return sensed{disabled: reason(err)}
		}
	}
	boom, err := s.facing.sensor.Boom(b.reading, b.field)
	if err != nil {
		return sensed{disabled: reason(err)}
	}
	b.known, b.pitched = true, boom.ElevationKnown
	b.rawDeg = track.Wrap360(boom.AzimuthDeg - s.facing.sensor.OffsetDeg)
	b.boom = aim.Direction{AzimuthDeg: boom.AzimuthDeg, ElevationDeg: boom.ElevationDeg}
	return b
}

// onAimDeg is as near as a hand holds.
const onAimDeg = 3.0

// boomRemark says how far the boom is off the aim.
func (s *scene) boomRemark() remark {
	b := s.sensed
	if s.hand != nil {
		b = sensed{known: true, pitched: true, boom: s.handAt()}
	}
	if !b.known {
		if b.disabled != "" {
			return remark{long: "no boom: " + b.disabled, short: "no boom"}
		}
		return remark{}
	}
	hold := s.aimed()
	if hold == nil {
		at := "boom " + s.azimuth(b.boom.AzimuthDeg)
		return remark{long: at, short: at}
	}
	turn, up := whole(track.TurnDeg(b.boom.AzimuthDeg, hold.AzimuthDeg)), whole(hold.ElevationDeg-b.boom.ElevationDeg)
	var parts []string
	if math.Abs(float64(turn))*math.Cos(hold.ElevationDeg*math.Pi/180) > onAimDeg {
		parts = append(parts, sided(turn, "right", "left"))
	}
	if b.pitched && math.Abs(float64(up)) > onAimDeg {
		parts = append(parts, sided(up, "up", "down"))
	}
	words := "boom on the aim"
	if len(parts) > 0 {
		words = "boom " + strings.Join(parts, " ")
	}
	return remark{long: words, short: words}
}

// sided says an angle with its side.
func sided(deg int, over, under string) string {
	if deg < 0 {
		return fmt.Sprintf("%d° %s", -deg, under)
	}
	return fmt.Sprintf("%d° %s", deg, over)
}

// sensorWay is the sensor on the boom as a compass.
func (m *model) sensorWay() way {
	w := way{name: "sensor", howTo: "Lay the boom along the direction below the cross.", caution: steelCaution}
	b, set := m.scene.sensed, m.facing.sensor
	refer := func(rightDeg float64) (north.Reference, error) {
		return b.reading.Reference(b.field, rightDeg, m.trueNow())
	}
	r, err := refer(0)
	switch {
	case b.disabled != "":
		w.refusal = b.disabled
	case !b.known:
		w.refusal = "it tells no azimuth"
	case set.Set:
		w.refusal = fmt.Sprintf("it was set by the others (%s); o: undo that", offsetWords(set))
	case err != nil:
		w.refusal = reason(err)
	}
	w.sigmaDeg, w.note = r.SigmaDeg, m.scene.azimuth(b.rawDeg)
	w.do = func(m *model) tea.Cmd { return m.takeOr(refer(m.finder.rightDeg)) }
	return w
}

// offsetWords says how a sensor is set: "+10° ±2°".
func offsetWords(s north.Sensor) string {
	return fmt.Sprintf("%+.0f° ±%d°", s.OffsetDeg, max(whole(s.OffsetSigmaDeg), 1))
}

// setOffset sets the sensor by the facing, the boom lying level along the cross;
// once more takes that back.
func (m *model) setOffset() tea.Cmd {
	f, b := &m.finder, m.scene.sensed
	if m.facing.sensor.Set {
		m.setSensor(north.Sensor{})
		m.tell("The sensor is used as it is again")
		return nil
	}
	own := func(t taken) bool { return t.Kind == north.BySensor }
	if others := slices.DeleteFunc(slices.Clone(f.taken), own); len(others) != len(f.taken) {
		if len(others) == 0 {
			m.tell("Take another reference first: the sensor can't be set by itself")
			return nil
		}
		f.taken = others
		m.combine()
	}
	if !m.facing.known {
		m.tell("Take a reference first: the sensor is set by straight ahead")
		return nil
	}
	set, err := north.SetBy(b.reading, b.field, m.facing.deg, m.facing.sigma(), f.rightDeg)
	if err != nil {
		m.tell(capital(reason(err)))
		return nil
	}
	m.setSensor(set)
	m.tell("The sensor is set: " + offsetWords(set) + " from now on")
	return nil
}

// setSensor takes how the sensor sits on the boom.
func (m *model) setSensor(s north.Sensor) {
	f := &m.finder
	m.facing.sensor, f.check = s, nil
	f.changes++
	m.facing.changes = f.changes
}

// checkSensor checks the boom's sensor against a reference for which the boom was
// just laid along what is below the cross, and tells whether it agrees; a
// disagreement stays on the view.
func (m *model) checkSensor(r north.Reference) (agrees bool) {
	f, b := &m.finder, m.scene.sensed
	switch r.Kind {
	case north.BySun, north.ByMoon, north.ByPoleStar, north.ByLandmark:
	default:
		return false
	}
	if !b.known {
		return false
	}
	check, err := m.facing.sensor.Check(b.reading, b.field, r, f.rightDeg)
	if err != nil {
		return false
	}
	if f.check = &check; check.Agrees() {
		f.check = nil
	}
	return f.check == nil
}

// sensorRemark warns of a sensor that disagrees with a reference.
func (s *scene) sensorRemark() remark {
	if s.check == nil || !s.sensed.known {
		return remark{}
	}
	words := clean(s.check.String())
	return remark{words, "SENSOR IN DOUBT", true, words}
}

// followBoom lets the cross follow the boom, which lies straight ahead now.
func (m *model) followBoom() tea.Cmd {
	m.finder.boom = mount{true, m.scene.sensed.rawDeg}
	m.tell("The boom lies straight ahead: the cross follows it")
	return nil
}

// noSensor says why the sensor can't be used.
func noSensor(m *model) string {
	switch b := m.scene.sensed; {
	case b.known:
		return ""
	case b.disabled != "":
		return b.disabled
	}
	return "there is no sensor on the boom"
}
