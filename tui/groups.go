package tui

import (
	"fmt"
	"math"
	"time"

	"foreaim/track"
)

// group is one of the three numbers that must be read from two metres.
type group struct {
	label  string
	digits string // in the runes of digitShapes
	i      ink    // of the label
}

// groups returns the turn, the elevation and the countdown; nothing while there
// is no hold to go to.
func (s *scene) groups() []group {
	h := s.aimed()
	if h == nil {
		return nil
	}
	left := s.timeGroup()
	if spread := s.spread(); spread != "" {
		left.label += " " + spread
	}
	return []group{s.turnGroup(h.AzimuthDeg), {"UP °", fmt.Sprint(whole(h.ElevationDeg)), strong}, left}
}

// turnGroup says which way to turn from the facing; without one, the azimuth.
func (s *scene) turnGroup(azimuthDeg float64) group {
	if !s.facing.known {
		return group{"TURN TO °T", fmt.Sprintf("%03d", whole360(azimuthDeg)), strong}
	}
	turn := whole(track.TurnDeg(s.facing.deg, azimuthDeg))
	digits := fmt.Sprint(int(math.Abs(float64(turn))))
	switch {
	case turn < 0:
		return group{"TURN LEFT °", "<" + digits, strong}
	case turn > 0:
		return group{"TURN RIGHT °", digits + ">", strong}
	default:
		return group{"AHEAD", digits, strong}
	}
}

// timeGroup counts down to what comes next: the burst, the next move, the set.
func (s *scene) timeGroup() group {
	g := func(label string, d time.Duration) group {
		digits := countdown(d)
		switch digits[len(digits)-1] {
		case 'm', 'h', 'd':
		default:
			if d <= 99*time.Second {
				label += " s"
			}
		}
		return group{label, digits, strong}
	}
	m := s.moment
	switch {
	case s.stage == over:
		return group{"SET", "0", strong}
	case m.Next == nil:
		return g("SETS IN", s.pass.Set.Time.Sub(s.now))
	case s.plan.BurstsKnown && s.stage == burstNow:
		return group{"BURST NOW", "0", burst}
	case s.plan.BurstsKnown:
		return g("BURST IN", m.Next.At.Sub(s.now))
	case s.now.Before(m.Next.Ready):
		return g("RISES IN", m.Next.Ready.Sub(s.now))
	default:
		return g("MOVE IN", m.Next.Until.Sub(s.now))
	}
}

// slots are the widest digits of the first two groups.
var slots = [...]string{"<000", "00"}

// pickDigits returns the biggest digits that the columns and rows hold; false
// when none do.
func pickDigits(groups []group, columns, rows int) (digitSize, bool) {
	for _, d := range digitSizes {
		width := d.width(slots[0]) + d.width(slots[1]) + d.width(groups[2].digits) + 2*d.apart
		if width <= columns && d.rows() <= rows {
			return d, true
		}
	}
	return digitSize{}, false
}

// drawGroups draws labels and digits from a row on: the first group at the
// left, the last at the right, so that none moves as another changes.
func drawGroups(c *canvas, y int, d digitSize, groups []group) {
	w0, w1, w2 := d.width(slots[0]), d.width(slots[1]), d.width(groups[2].digits)
	reserved := max(w2, d.width(slots[1])) // a countdown under ten moves nothing
	spare := c.columns - w0 - w1 - reserved
	margin := max(0, min(2, (spare-2*d.apart)/4))
	lefts := [...]int{margin, margin + w0 + (spare-2*margin)/2, c.columns - margin - w2}
	for i, g := range groups {
		x := lefts[i]
		width := d.width(g.digits)
		if i == 0 && g.digits[len(g.digits)-1] == '>' { // a right turn keeps to the right
			x += w0 - width
		}
		label := c.glyphs.say(g.label)
		at := min(x, c.columns-cells(label))
		c.text(max(at, 0), y, g.i, label)
		d.draw(c, x, y+1, digit, c.glyphs.full, g.digits)
	}
}
