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

// offset is what is added to a sensor's azimuth to get the boom's.
type offset struct {
	known bool
	deg   float64
}

// mount is how the sensor's azimuth is used in finding north.
type mount struct {
	follows bool    // the cross goes where the boom points
	zeroDeg float64 // the sensor's azimuth when the boom lay straight ahead
}

// sensed is where the boom points.
type sensed struct {
	known    bool
	rawDeg   float64 // true azimuth by the sensor alone
	pitched  bool    // its elevation is known
	boom     aim.Direction
	disabled string // why a sensor that is there gives no azimuth
}

// sense reads the sensor on the boom.
func sense(s *scene) sensed {
	h := s.report.Heading
	if !h.Fresh(s.computer) || !h.TrueKnown && !h.MagneticKnown {
		return sensed{}
	}
	b := sensed{known: true, pitched: h.PitchKnown}
	switch {
	case h.TrueKnown:
		b.rawDeg = h.TrueDeg
	case !s.north.known:
		return sensed{disabled: "no declination known here"}
	case s.north.blackout:
		return sensed{disabled: reason(north.ErrBlackout)}
	default:
		b.rawDeg = north.TrueDeg(h.MagneticDeg, s.north.deg)
	}
	b.boom.AzimuthDeg = track.Wrap360(b.rawDeg + s.facing.offset.deg)
	if h.PitchKnown {
		b.boom.ElevationDeg = h.PitchDeg
	}
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
func (m *model) sensorWay(site track.Site) way {
	w := way{name: "sensor", howTo: "Lay the boom along the direction below the cross.", caution: steelCaution}
	b := m.scene.sensed
	h := m.scene.report.Heading
	refer := func(rightDeg float64) (north.Reference, error) {
		if h.TrueKnown {
			return north.Refer(north.BySensor, "", h.TrueDeg, rightDeg, 0, m.trueNow())
		}
		field, err := north.At(site.LatitudeDeg, site.LongitudeDeg, site.HeightM, m.scene.now)
		if err != nil {
			return north.Reference{}, err
		}
		return north.CompassReference(north.BySensor, "", h.MagneticDeg, rightDeg, field, 0, m.trueNow())
	}
	r, err := refer(0)
	switch {
	case b.disabled != "":
		w.refusal = b.disabled
	case !b.known:
		w.refusal = "it tells no azimuth"
	case m.facing.offset.known:
		w.refusal = fmt.Sprintf("it was set by the others (%+.0f°); o: undo that", m.facing.offset.deg)
	case err != nil:
		w.refusal = reason(err)
	}
	w.sigmaDeg, w.note = r.SigmaDeg, m.scene.azimuth(b.rawDeg)
	w.do = func(m *model) tea.Cmd { return m.takeOr(refer(m.finder.rightDeg)) }
	return w
}

// setOffset sets the sensor by the facing, the boom lying along the cross; once
// more takes that back.
func (m *model) setOffset() tea.Cmd {
	f, b := &m.finder, m.scene.sensed
	if m.facing.offset.known {
		m.facing.offset = offset{}
		f.changes++
		m.facing.changes = f.changes
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
	deg := track.TurnDeg(b.rawDeg, track.Wrap360(m.facing.deg+f.rightDeg))
	m.facing.offset = offset{true, deg}
	f.changes++
	m.facing.changes = f.changes
	m.tell(fmt.Sprintf("The sensor is set: %+.0f° from now on", deg))
	return nil
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
