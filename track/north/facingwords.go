package north

import (
	"fmt"
	"math"
	"strings"
	"time"

	"foreaim/track"
)

// Lines says in short lines what the facing is, what was left out, what
// disagrees and what to do next.
func (f Facing) Lines() []string {
	lines := []string{fmt.Sprintf("facing %s %s by %s", degrees(f.Deg), within(f.SigmaDeg), labels(f.Used))}
	if len(f.LeftOut) > 0 {
		away := 0.0
		for _, r := range f.LeftOut {
			away = math.Max(away, math.Abs(track.TurnDeg(f.Deg, r.FacingDeg)))
		}
		lines = append(lines, fmt.Sprintf("left out: %s, %.0f° off the others", labels(f.LeftOut), away))
		for i, r := range f.LeftOut {
			if i == 0 || r.Kind != f.LeftOut[i-1].Kind {
				lines = append(lines, r.Kind.Doubt())
			}
		}
		return lines
	}
	if len(f.Differences) > 0 {
		d := f.Differences[0]
		return append(lines, d.String(), d.doubt(), "take one more of another kind to see which is right")
	}
	if len(f.Used) == 1 {
		lines = append(lines, "take a second one of another kind to check it")
	}
	return lines
}

// String says who differs and by how much: "compass and sun differ by 24°".
func (d Difference) String() string {
	a, b := d.A.Label(), d.B.Label()
	if a == b {
		return fmt.Sprintf("two of %s differ by %.0f°", a, d.Deg)
	}
	return fmt.Sprintf("%s and %s differ by %.0f°", a, b, d.Deg)
}

// doubt asks after the likelier culprit: a compass, where there is one, else
// the one that is less sure.
func (d Difference) doubt() string {
	magnetic := func(r Reference) bool { return r.Kind == ByCompass || r.Kind == BySensor }
	switch {
	case magnetic(d.A) == magnetic(d.B) && d.B.SigmaDeg > d.A.SigmaDeg, !magnetic(d.A) && magnetic(d.B):
		return d.B.Kind.Doubt()
	}
	return d.A.Kind.Doubt()
}

// Line says what one reference gives and how old it is: "sun: facing 212°
// ±2°, 12 min ago".
func (r Reference) Line(now time.Time) string {
	line := fmt.Sprintf("%s: facing %s %s", r.Label(), degrees(r.FacingDeg), within(r.SigmaDeg))
	if !r.At.IsZero() {
		line += ", " + ago(now.Sub(r.At))
	}
	return line
}

// Line says what the walk gave or how much further to go.
func (w Walk) Line() string {
	switch {
	case w.Enough:
		return fmt.Sprintf("walked %.0f m towards %s %s", w.LengthM, degrees(w.BearingDeg), within(w.SigmaDeg))
	case w.LengthM < leastWalkM:
		return fmt.Sprintf("walk %.0f m further, straight on", w.FurtherM)
	}
	return fmt.Sprintf("walk %.0f m further, straight on (now %s %s)", w.FurtherM, degrees(w.BearingDeg), within(w.SigmaDeg))
}

// Line says where the signal is, for turns that were read from straight ahead.
func (m Middle) Line() string {
	if m.Scattered() {
		return fmt.Sprintf("the turns are %.0f° apart: a reflection? turn again", m.ApartDeg)
	}
	return fmt.Sprintf("signal %s, %s, from %d %s", side(m.Deg), within(m.SigmaDeg), m.Turns, plural(m.Turns, "turn"))
}

// degrees gives a direction as three digits.
func degrees(deg float64) string { return fmt.Sprintf("%03.0f°", track.Wrap360(math.Round(deg))) }

func within(sigmaDeg float64) string {
	switch {
	case sigmaDeg > 90:
		return "(any)"
	case sigmaDeg < 1:
		return "±1°"
	}
	return fmt.Sprintf("±%.0f°", sigmaDeg)
}

func side(rightDeg float64) string {
	off := math.Round(track.TurnDeg(0, rightDeg))
	switch {
	case off > 0:
		return fmt.Sprintf("%.0f° right of ahead", off)
	case off < 0:
		return fmt.Sprintf("%.0f° left of ahead", -off)
	}
	return "straight ahead"
}

func ago(age time.Duration) string {
	switch {
	case age < time.Minute:
		return "just now"
	case age < 2*time.Hour:
		return fmt.Sprintf("%.0f min ago", math.Floor(age.Minutes()))
	case age < 48*time.Hour:
		return fmt.Sprintf("%.0f h ago", math.Floor(age.Hours()))
	}
	return fmt.Sprintf("%.0f days ago", math.Floor(age.Hours()/24))
}

// labels lists references by name, each name once.
func labels(references []Reference) string {
	var names []string
	times := map[string]int{}
	for _, r := range references {
		name := r.Label()
		if times[name]++; times[name] == 1 {
			names = append(names, name)
		}
	}
	for i, name := range names {
		if times[name] > 1 {
			names[i] = fmt.Sprintf("%s ×%d", name, times[name])
		}
	}
	return strings.Join(names, ", ")
}

func plural(n int, word string) string {
	if n == 1 {
		return word
	}
	return word + "s"
}
