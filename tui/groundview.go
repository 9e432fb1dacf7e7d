package tui

import (
	"fmt"
	"math"
	"strings"

	"foreaim/track/radio"
	"foreaim/track/terrain"
)

// enoughRoom is the share of the first Fresnel zone that has to be free for a wave
// to pass as in free space (common practice).
const enoughRoom = 0.6

// drawGroundWay draws the view: the ground from here, on the left, to the chosen
// transmitter, with the line between the antennas and the room that the wave needs.
func drawGroundWay(c *canvas, s *scene, r *reception, config Config, footer []string) {
	defer func() {
		if c.rows > 3 {
			drawFooter(c, c.rows-1, s, footer)
		}
	}()
	to, ok := r.chosen()
	if !ok || config.Ground == nil {
		c.text(1, 0, block, c.fit(c.columns-2, "GROUND"))
		c.bar(0, 0, c.columns, block)
		c.lines(2, c.rows-1, c.paragraph(nil, plain, "", r.groundMissing(s, config)))
		return
	}
	name := fit(max(c.columns/3, 8), clean(to.Name))
	where := s.towards(to.Incoming)
	c.text(1, 0, block, c.fit(c.columns-2,
		fmt.Sprintf("GROUND towards %s %s: %s, %.1f km", name, to.Band(), where[0], to.DistanceKm),
		fmt.Sprintf("GROUND towards %s: %s, %.1f km", name, where[0], to.DistanceKm),
		fmt.Sprintf("GROUND %s: %s, %.1f km", name, where[len(where)-1], to.DistanceKm),
		name))
	c.bar(0, 0, c.columns, block)
	v := r.ground.known
	switch {
	case v == nil:
		c.text(1, 2, plain, c.fit(c.columns-2, "Reading the ground …"))
		return
	case v.err != nil:
		c.lines(2, c.rows-1, c.paragraph(nil, plain, "", wayOut(v.err)))
		return
	case len(v.Section) == 0:
		c.text(1, 2, plain, c.fit(c.columns-2, "No ground is told"))
		return
	}
	word, rest, i := sightWords(v.Passage)
	y := 1
	for n, line := range wrap(c.glyphs.say(word+rest), c.columns-2) {
		if n == 0 {
			c.text(c.text(1, y, i, fit(c.columns-2, c.glyphs.say(word))), y, plain, strings.TrimPrefix(line, c.glyphs.say(word)))
		} else {
			c.text(1, y, plain, line)
		}
		y++
	}
	end := c.rows - 1
	below := r.groundLines(c, v, to)
	if room := end - y - len(below); room < 6 {
		below = below[:max(0, min(len(below), end-y-6))]
	}
	c.lines(end-len(below), end, below)
	drawSection(c, y, end-len(below)-y, v.Section)
}

// groundMissing says why there is no ground to show, and the way out.
func (r *reception) groundMissing(s *scene, config Config) string {
	switch {
	case config.Ground == nil:
		return "No elevation tiles are known: name their folder with --terrain DIR, or with terrain = \"DIR\" in the configuration. Space and mapping agencies give such tiles away."
	case config.Radio == nil:
		return noTransmitters
	case r.known != nil && r.known.err != nil:
		return wayOut(r.known.err)
	case r.known != nil:
		return noTransmitters
	case s.stage == noSite || s.stage == noTarget:
		word, rest, _ := s.headline()
		return word + " " + rest[0]
	}
	return "Reading the transmitters …"
}

// sightWords says what the ground does to the wave.
func sightWords(p terrain.Passage) (word, rest string, i ink) {
	at := alongWords(p.WorstKm)
	switch {
	case !p.LineOfSight:
		return "HIDDEN", fmt.Sprintf("  the ground stands %.0f m into the line %s and takes %.0f dB off", -p.ClearanceM, at, p.LossDB), strong
	case p.FresnelShare < enoughRoom:
		return "IN SIGHT, CLOSE", fmt.Sprintf("  the ground comes near the line %s and takes %.0f dB off", at, p.LossDB), strong
	}
	return "IN SIGHT", "  over free ground", warning
}

// alongWords says how far along the way something is.
func alongWords(km float64) string {
	if km < 0.05 {
		return "right here"
	}
	return fmt.Sprintf("%.1f km from here", km)
}

// groundLines are the numbers below the picture.
func (r *reception) groundLines(c *canvas, v *vista, to radio.Severity) (lines []inkedLine) {
	p := v.Passage
	room := fmt.Sprintf("That is %.1f radii of the first Fresnel zone too high.", -p.FresnelShare)
	if p.FresnelShare >= 0 {
		room = fmt.Sprintf("Room at the narrowest place: %.2f of the first Fresnel zone, %.0f m, %s (%g is enough)", p.FresnelShare, p.ClearanceM, alongWords(p.WorstKm), enoughRoom)
	}
	loss := fmt.Sprintf("Loss: free space %.0f dB, the ground %.0f dB, together %.0f dB; trees and houses may take off more", v.FreeSpaceDB, p.LossDB, v.FreeSpaceDB+p.LossDB)
	does := "Here: " + portWords(to)
	for _, text := range []string{room, loss, does} {
		lines = c.paragraph(lines, plain, "", text)
	}
	return lines
}

// portWords says how strong a transmitter arrives and what it does.
func portWords(to radio.Severity) string {
	if to.Words == "" {
		return to.IsotropicDBm.String() + " dBm at an antenna of 0 dBi"
	}
	return to.PortDBm.String() + " dBm at the antenna's port: " + to.Words
}

// sectionLabel is the width of the heights beside the section.
const sectionLabel = 7

// drawSection draws a section into some rows: its last two are the distances.
func drawSection(c *canvas, y, rows int, section []terrain.SectionPoint) {
	columns, rows := c.columns-sectionLabel-2, rows-1
	if columns < 8 || rows < 3 {
		return
	}
	low, high := math.Inf(1), math.Inf(-1)
	for _, p := range section {
		low, high = min(low, p.GroundM), max(high, p.GroundM, p.LineM)
	}
	perRow := max((high-low)/float64(rows-1), 1)
	low -= perRow / 2 // the lowest ground is drawn, too
	last := section[len(section)-1].DistanceKm
	left := sectionLabel + 1
	row := func(m float64) int { return y + rows - 1 - int(math.Floor((m-low)/perRow)) }
	for x := range columns {
		p := columnOf(section, x, columns)
		c.column(left+x, y+rows-1, rows, (p.GroundM-low)/perRow, land, c.glyphs.full, c.glyphs.half)
		if at := row(p.LineM - p.FresnelM); c.at(left+x, at).r == ' ' && at < y+rows && at >= y {
			c.set(left+x, at, beam, c.glyphs.room)
		}
		at, sign := row(p.LineM), c.glyphs.ground
		if p.GroundM > p.LineM {
			sign = c.glyphs.land
		}
		if at >= y && at < y+rows {
			c.set(left+x, at, trail, sign)
		}
	}
	for k := 0; k < rows; k += 2 {
		c.right(sectionLabel, y+rows-1-k, plain, fmt.Sprintf("%.0f m", low+(float64(k)+0.5)*perRow))
	}
	c.text(left, y+rows, horizon, "here")
	c.right(left+columns, y+rows, horizon, fmt.Sprintf("%.1f km", last))
	line, room := string(c.glyphs.ground)+" line", string(c.glyphs.room)+" room"
	c.centred(left+6, left+columns-10, y+rows, horizon, c.fit(columns-16, line+"  "+room+" that the wave needs", line+"  "+room, line))
}

// columnOf is the highest ground of the points that share a column.
func columnOf(section []terrain.SectionPoint, x, columns int) terrain.SectionPoint {
	n := len(section)
	from, to := x*n/columns, max((x+1)*n/columns, x*n/columns+1)
	p := section[(from+to)/2]
	for _, q := range section[from:to] {
		p.GroundM = max(p.GroundM, q.GroundM)
	}
	return p
}
