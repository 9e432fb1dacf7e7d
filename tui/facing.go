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

// entry is the line in which a facing or a note is typed.
type entry struct {
	open     bool
	note     bool // free text instead
	text     string
	magnetic bool
	problem  string
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
	if e.note {
		return m.typeNote(k)
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
			case (r >= '0' && r <= '9' || r == '.') && len(e.text) < entryWidth:
				e.text += string(r)
			}
		}
	}
	return nil
}

// takeEntry sets the facing from what was typed, or says what is wrong with it.
func (m *model) takeEntry() {
	e := &m.entry
	deg, err := strconv.ParseFloat(e.text, 64)
	d := m.scene.north
	f := facing{known: true, how: "typed"}
	switch {
	case err != nil || !(deg >= 0 && deg <= 360):
		e.problem = "an azimuth is a number from 0 to 360"
		return
	case e.magnetic && !d.known:
		e.problem = "no declination known here: type a true azimuth"
		return
	case e.magnetic:
		trueDeg := north.TrueDeg(deg, d.deg)
		m.tell(fmt.Sprintf("Facing %.0f° true, from %s° magnetic: model ±%.1f°, a compass itself %.0f to %.0f°",
			trueDeg, e.text, d.sigmaDeg, north.CompassErrorLowDeg, north.CompassErrorHighDeg))
		deg, f.magnetic, f.declinationDeg = trueDeg, true, d.deg
	default:
		m.tell(fmt.Sprintf("Facing %s° true", strings.TrimSuffix(e.text, ".")))
	}
	f.deg = track.Wrap360(deg)
	m.facing = f
	*e = entry{}
}

// line says what is typed and how to go on.
func (e entry) line() []string {
	if e.note {
		return e.noteLine()
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

// nudge turns the facing by some degrees. While none is set it starts from the
// middle of the window.
func nudge(deg float64) func(m *model) tea.Cmd {
	return func(m *model) tea.Cmd {
		from := m.facing.deg
		if !m.facing.known {
			from = math.Round(m.scene.window(m.glyphs, 72, 9).centreDeg)
		}
		m.facing = facing{known: true, deg: track.Wrap360(from + deg), how: "nudged"}
		m.tell(fmt.Sprintf("Facing %s", m.scene.azimuth(m.facing.deg)))
		return nil
	}
}
