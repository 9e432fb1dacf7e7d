package tui

import (
	"fmt"
	"math"
	"strings"

	"foreaim/track"
	"foreaim/track/aim"
	"foreaim/track/radio"
)

// towards says where a transmitter stands: in fists from straight ahead and as an
// azimuth, from the fullest to the shortest.
func (s *scene) towards(in radio.Incoming) []string {
	az := s.azimuth(in.BearingDeg)
	trueOnly := fmt.Sprintf("%03d°T", whole360(in.BearingDeg))
	if !s.facing.known {
		return []string{aim.CompassWord(in.BearingDeg) + " " + az, trueOnly}
	}
	turn := track.TurnDeg(s.facing.deg, in.BearingDeg)
	aside := asideWords(turn, s.fistDeg)
	return []string{aside + " " + az, strings.Replace(aside, " fists", "", 1) + " " + trueOnly, trueOnly}
}

// asideWords says a turn from straight ahead: "2.5 fists left".
func asideWords(turnDeg, fistDeg float64) string {
	n := math.Round(math.Abs(turnDeg)/fistDeg*2) / 2
	fists := "fists"
	if n <= 1 {
		fists = "fist"
	}
	switch {
	case n == 0:
		return "ahead"
	case math.Abs(turnDeg) > 180-fistDeg/2:
		return "behind"
	case turnDeg < 0:
		return fmt.Sprintf("%g %s left", n, fists)
	}
	return fmt.Sprintf("%g %s right", n, fists)
}

// harmWords are what a transmitter does, from the fullest to the shortest.
var harmWords = map[string][]string{
	radio.Overloads:    {"overloads the chain", "overloads"},
	radio.OnTheChannel: {"sends on the wanted channel", "on the channel"},
	radio.MayOverload:  {"may overload the chain", "may overload"},
	radio.Mixes:        {"makes noise with others", "makes noise"},
	radio.Harmless:     {"harmless"},
}

// drawTransmitters lists the transmitters about the chosen one.
func (r *reception) drawTransmitters(c *canvas, s *scene, x, y, rows int) {
	all := r.list()
	chosen, _ := r.chosen()
	at, name := 0, 0
	for i, t := range all {
		if t.Transmitter == chosen.Transmitter {
			at = i
		}
		name = max(name, cells(clean(t.Name)))
	}
	width := c.columns - x - 1
	name = min(name, max(8, width/4))
	top := min(max(0, at-rows/2), max(0, len(all)-rows))
	var lines [][]string
	for i := top; i < len(all) && i-top < rows; i++ {
		cursor := ' '
		if i == at {
			cursor = '>'
		}
		lines = append(lines, s.transmitterLine(all[i], fmt.Sprintf("%c%c %-*s", cursor, letterOf(i), name, fit(name, clean(all[i].Name)))))
	}
	form := 0
	for _, forms := range lines {
		for form < len(forms)-1 && cells(c.glyphs.say(forms[form])) > width+1 {
			form++
		}
	}
	for k, forms := range lines {
		c.text(x-1, y+k, plain, c.fit(width+1, forms[form]))
		if top+k == at {
			c.bar(x-1, y+k, name+3, strong)
		}
	}
}

// transmitterLine is a line of the list after its lead, from the fullest form to
// the shortest.
func (s *scene) transmitterLine(t radio.Severity, lead string) []string {
	where := s.towards(t.Incoming)
	short, last := where[min(1, len(where)-1)], where[len(where)-1]
	mhz, km := fmt.Sprintf("%.0f MHz", t.MiddleMHz()), fmt.Sprintf("%.0f km", t.DistanceKm)
	if t.DistanceKm < 10 {
		km = fmt.Sprintf("%.1f km", t.DistanceKm)
	}
	harm := harmWords[t.Words]
	if harm == nil {
		harm = []string{t.IsotropicDBm.String() + " dBm"}
	}
	var all []string
	for _, form := range [...]func(end string) string{
		func(end string) string { return fmt.Sprintf("%s  %9s  %-24s %7s  %s", lead, mhz, where[0], km, end) },
		func(end string) string { return fmt.Sprintf("%s %7s  %-15s %6s  %s", lead, mhz, short, km, end) },
		func(end string) string { return fmt.Sprintf("%s %-15s %6s %s", lead, short, km, end) },
		func(end string) string { return fmt.Sprintf("%s %-15s %s", lead, short, end) },
		func(end string) string { return fmt.Sprintf("%s %s %s", lead, last, end) },
	} {
		all = append(all, form(harm[0]), form(harm[len(harm)-1]))
	}
	return all
}

// letterOf names a transmitter in the list and the band.
func letterOf(i int) rune {
	if i < 26 {
		return 'a' + rune(i)
	}
	return '+'
}
