package tui

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"foreaim/track"
	"foreaim/track/north"
)

// entry is the line in which a facing or the answer to a question is typed.
type entry struct {
	open     bool
	text     string
	magnetic bool
	problem  string
	ask      *ask // nil: the facing is typed
}

// entryWidth is the most characters of an azimuth: "359.99".
const entryWidth = 6

// openEntry opens the line.
func (m *model) openEntry() tea.Cmd {
	m.entry = entry{open: true}
	return nil
}

// typeKey takes a key while the line is open.
func (m *model) typeKey(k tea.KeyMsg) tea.Cmd {
	e := &m.entry
	if e.ask != nil {
		return m.typeAnswer(k)
	}
	switch k.Type {
	case tea.KeyEsc:
		*e = entry{}
	case tea.KeyEnter:
		m.takeEntry()
	case tea.KeyBackspace:
		e.problem = ""
		if e.text != "" {
			e.text = e.text[:len(e.text)-1]
		}
	case tea.KeyCtrlC:
		return tea.Interrupt
	case tea.KeyRunes:
		e.problem = ""
		for _, r := range k.Runes {
			switch {
			case r == 'm' || r == 'M':
				e.magnetic = !e.magnetic
			case r == 't' || r == 'T':
				e.magnetic = false
			case len(e.text) < entryWidth:
				if r, ok := ofNumber(r); ok {
					e.text += string(r)
				}
			}
		}
	}
	return nil
}

// takeEntry sets the facing from what was typed, or says what is wrong with it.
// It takes the place of all references: somebody knows better, or faces another
// way.
func (m *model) takeEntry() {
	e := &m.entry
	deg, err := strconv.ParseFloat(e.text, 64)
	switch {
	case err != nil || !(deg >= 0 && deg <= 360):
		e.problem = "an azimuth is a number from 0 to 360"
		return
	case e.magnetic:
		if e.problem = m.faceMagnetic(deg); e.problem != "" {
			return
		}
	default:
		m.finder.forget()
		m.facing = facing{known: true, deg: track.Wrap360(deg), how: "typed", sensor: m.facing.sensor}
		m.tell(fmt.Sprintf("Facing %s° true", strings.TrimSuffix(e.text, ".")))
	}
	*e = entry{}
}

// faceMagnetic sets the facing from a compass, or says why not.
func (m *model) faceMagnetic(deg float64) (problem string) {
	site, known, _ := m.here()
	field, err := north.At(site.LatitudeDeg, site.LongitudeDeg, site.HeightM, m.trueNow())
	if !known || err != nil {
		return "no declination known here: type a true azimuth"
	}
	r, err := north.CompassReference(north.ByCompass, "", deg, 0, field, 0, m.trueNow())
	if err != nil {
		return reason(err)
	}
	m.finder.forget()
	m.finder.taken = []taken{{Reference: r}}
	m.facing = facing{sensor: m.facing.sensor} // what was set by another facing stays
	m.combine()
	m.facing.how, m.facing.magnetic, m.facing.declinationDeg, m.facing.ahead = "typed", true, field.DeclinationDeg, ""
	m.tell(fmt.Sprintf("Facing %.0f° true, from %g° magnetic: model ±%.1f°, a compass itself %.0f to %.0f°",
		m.facing.deg, deg, field.DeclinationUncertaintyDeg, north.CompassErrorLowDeg, north.CompassErrorHighDeg))
	return ""
}

// line says what is typed and how to go on.
func (e entry) line() []string {
	if e.ask != nil {
		return e.askLine()
	}
	unit, other := "true", "m: magnetic"
	if e.magnetic {
		unit, other = "magnetic", "m: true"
	}
	typed := fmt.Sprintf("Facing: %s_ ° %s", e.text, unit)
	if e.problem != "" {
		return []string{typed + "   " + e.problem, e.problem}
	}
	return []string{typed + "   " + other + "  Enter: set  Esc: leave", typed + "  " + other, typed, e.text + "_"}
}

// nudge turns the facing by some degrees, with all that it is made of. While none
// is set it starts from the middle of the window.
func nudge(deg float64) func(m *model) tea.Cmd {
	return func(m *model) tea.Cmd {
		f := m.facing
		switch {
		case !f.known:
			f = facing{known: true, deg: math.Round(m.scene.window(m.glyphs, 72, 9).centreDeg), how: "guessed", sensor: f.sensor}
		case len(m.finder.taken) == 0 && f.how != "guessed":
			f.how = "nudged"
		}
		f.deg = track.Wrap360(f.deg + deg)
		f.nudgedDeg += deg
		f.sensor = f.sensor.Turned(deg, f.sensor.OffsetSigmaDeg)
		m.finder.shift(deg, m.trueNow())
		m.facing = f
		m.tell(fmt.Sprintf("Facing %s", m.scene.azimuth(f.deg)))
		return nil
	}
}
