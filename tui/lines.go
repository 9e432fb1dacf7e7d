package tui

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"foreaim/track"
	"foreaim/track/aim"
)

// headline says what to do now: a word for the state, the rest from the fullest
// to the shortest, and the ink of the bar.
func (s *scene) headline() (word string, rest []string, i ink) {
	switch s.stage {
	case noTarget:
		return "NO SATELLITE", []string{"give its elements: --elements FILE"}, block
	case noSite:
		return "WAITING FOR A FIX", []string{"from " + s.source() + ": it needs a free view of the sky, a cold one some minutes. Or give the site: --site LAT,LON", "or give --site LAT,LON"}, block
	case searching:
		return "SEARCHING", []string{"for the next pass"}, block
	case noPass:
		return "NO PASS", []string{fmt.Sprintf("in the next 10 days %s from here", s.above()), "in 10 days"}, block
	case trouble:
		return "TROUBLE", []string{clean(s.problem)}, burst
	case before:
		rise := s.pass.Rise
		rises := "rises in "
		if s.hides(rise.AzimuthDeg) {
			rises = "over the skyline in "
		}
		rises += span(rise.Time.Sub(s.now))
		name, at := s.target.Name+" ", s.azimuth(rise.AzimuthDeg)
		return "NEXT PASS", []string{
			name + rises + " in the " + aim.CompassWord(rise.AzimuthDeg) + ", at " + at,
			name + rises + ", " + at,
			name + rises,
			rises + ", " + at,
			rises,
		}, block
	case move:
		step := s.step()
		switch stays := len(step) > 0 && step[0] == stayHere; { // "MOVE" would contradict it
		case stays && s.twist:
			return "TWIST", []string{"the boom a quarter turn about its own axis, where you are", "the boom a quarter turn", "the boom 90°"}, block
		case stays:
			return "STAY", []string{"where you are, for the next burst", "where you are"}, block
		}
		return "MOVE", step, block
	case keepStill:
		return "KEEP STILL", []string{"the burst is due: " + s.arrived(), s.arrived()}, still
	case burstNow:
		return "BURST NOW", []string{"keep still and listen", "listen"}, burst
	case listen:
		return "LISTEN", s.step(), still
	case lastPassed:
		return "NO BURST LEFT", []string{fmt.Sprintf("sets in %s", span(s.pass.Set.Time.Sub(s.now)))}, block
	default:
		return "PASS OVER", []string{"lower your arm"}, block
	}
}

// above says what a pass must rise above: "above 5° and the skyline".
func (s *scene) above() string {
	words := fmt.Sprintf("above %.0f°", s.minElevationDeg)
	if s.skyline != nil {
		words += " and the skyline"
	}
	return words
}

// arrived reminds of the hold's elevation, for whoever is still on the way.
func (s *scene) arrived() string {
	return fmt.Sprintf("%d° up", whole(s.moment.Next.ElevationDeg))
}

// pointing says the direction to be in: against the facing and as azimuths.
func (s *scene) pointing() []string {
	h := s.aimed()
	if h == nil {
		return nil
	}
	az := s.azimuth(h.AzimuthDeg)
	var lines []string
	for _, w := range s.where(h.Direction) {
		lines = append(lines, capital(w)+"   "+az, az+"  "+w)
	}
	return append(lines, az+fmt.Sprintf(" %d° up", whole(h.ElevationDeg)))
}

// following lists the bursts after the next one, as many as fit.
func (s *scene) following(columns int) string {
	line := ""
	for _, part := range s.followingParts() {
		sep := "   "
		if line == "" {
			sep = "Then "
		}
		if cells(line)+cells(sep)+cells(part) > columns {
			break
		}
		line += sep + part
	}
	if line == "" && s.moment.Next != nil && len(s.moment.Following) == 0 {
		return fit(columns, "Then none: this is the last of the pass", "Then none")
	}
	return line
}

// followingParts says each of the holds after the next one, numbered as in the
// window: "2 +0:30 143°T 141°M 45°".
func (s *scene) followingParts() []string {
	var parts []string
	for i, h := range s.moment.Following {
		part := fmt.Sprintf("%d in %s %s %d°", i+2, span(h.At.Sub(s.now)), s.azimuth(h.AzimuthDeg), whole(h.ElevationDeg))
		if slices.Contains(s.twists, h.Number) {
			part += " twisted"
		}
		parts = append(parts, part)
		if len(parts) == 30 {
			break
		}
	}
	return parts
}

// satellite says where it is now.
func (s *scene) satellite() []string {
	if !s.lookOK {
		return nil
	}
	where := fmt.Sprintf("Now %s %d°", s.azimuth(s.look.AzimuthDeg), whole(s.look.ElevationDeg))
	where += s.hiddenNow()
	if s.lateS != 0 {
		where += s.asLate()
	}
	full := where + fmt.Sprintf("  %.0f km", s.look.RangeKm)
	if s.target.FrequencyHz > 0 {
		hz := megahertz(track.ReceiveHz(s.target.FrequencyHz, s.look.RangeRateKmS))
		return []string{full + "  receive " + hz, full + "  " + hz, where + "  " + hz, where}
	}
	return []string{full, where}
}

// asLate says in brackets how late it is taken to be.
func (s *scene) asLate() string {
	if s.lateS < 0 {
		return fmt.Sprintf(" (as %.0f s early)", -s.lateS)
	}
	return fmt.Sprintf(" (as %.0f s late)", s.lateS)
}

// hiddenNow says in brackets why it is not in sight; empty while it is.
func (s *scene) hiddenNow() string {
	switch {
	case s.look.ElevationDeg < 0:
		return " (below the horizon)"
	case s.skyline == nil || s.look.ElevationDeg >= s.skyline(s.look.AzimuthDeg):
		return ""
	}
	if s.pass != nil {
		for _, h := range s.pass.Hidden {
			if !s.now.Before(h.From) && s.now.Before(h.To) {
				return " (behind the skyline until " + s.clockTime(h.To) + ")"
			}
		}
	}
	return " (behind the skyline)"
}

// clockOfPass says rise, peak and set.
func (s *scene) clockOfPass() []string {
	name := s.target.Name
	if s.count > 1 {
		name += fmt.Sprintf(" (%d of %d)", s.number, s.count)
	}
	if s.pass == nil {
		return []string{name}
	}
	p := s.pass
	if p.AlwaysUp {
		return []string{name + "  always up, peak " + fmt.Sprintf("%d°", whole(p.Peak.ElevationDeg)), name + "  always up", name}
	}
	var left string
	switch {
	case s.now.Before(p.Rise.Time), !s.now.Before(p.Set.Time):
	case s.now.Before(p.Peak.Time):
		left = "  peak in " + span(p.Peak.Time.Sub(s.now))
	default:
		left = "  sets in " + span(p.Set.Time.Sub(s.now))
	}
	rise, peak, set := s.clockTime(p.Rise.Time), s.clockTime(p.Peak.Time), s.clockTime(p.Set.Time)
	comes, goes := "rise", "set"
	if s.hides(p.Rise.AzimuthDeg) {
		comes = "over the skyline"
	}
	if s.hides(p.Set.AzimuthDeg) {
		goes = "behind it"
		if comes == "rise" {
			goes = "behind the skyline"
		}
	}
	full := fmt.Sprintf("%s %s  peak %s %d°  %s %s", comes, rise, peak, whole(p.Peak.ElevationDeg), goes, set)
	short := fmt.Sprintf("rise %s peak %d° set %s", rise, whole(p.Peak.ElevationDeg), set)
	return []string{name + "  " + full + left, name + "  " + full, name + "  " + short, full, short}
}

// phaseNote says what is not known about the bursts; empty when all is.
func (s *scene) phaseNote() []string {
	sch := s.target.Schedule
	switch {
	case sch.Known():
		return nil
	case sch.Period > 0:
		every := shortDuration(sch.Period)
		return []string{
			fmt.Sprintf("Burst times unknown: one every %s, so up to %s to wait in each hold", every, every),
			fmt.Sprintf("Burst times unknown: wait up to %s", every),
		}
	default:
		return []string{"Burst times unknown: no period given, listen all the time", "Burst times unknown"}
	}
}

// shortDuration says a duration without zero parts: "30s", "1m30s", "2h".
func shortDuration(d time.Duration) string {
	t := d.String()
	for _, zero := range [...]string{"m0s", "h0m"} {
		if strings.HasSuffix(t, zero) {
			t = t[:len(t)-len(zero)+1]
		}
	}
	return t
}
