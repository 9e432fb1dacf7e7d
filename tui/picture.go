package tui

import (
	"context"
	"strings"

	"foreaim/gps"
)

// Picture returns the moment as plain text without any escape sequence, for an
// output that is no terminal: in words what to do, where the satellite is and
// how good the fix, the clock and the elements are, and the window. It takes
// the newest report if one is there and waits for none.
func Picture(config Config, columns int) string {
	return pictureOf(config, targetsOf(config.Targets), columns)
}

// pictureOf is Picture with any orbits.
func pictureOf(config Config, targets []target, columns int) string {
	ctx := context.Background()
	config = config.withDefaults()
	k := newTracker(ctx, config, targets)
	var report *gps.Report
	if config.Reports != nil {
		report = new(gps.Report)
		select {
		case r, ok := <-config.Reports:
			if ok {
				report = &r
				k.report(r)
			}
		default:
		}
	}
	computer := config.Now()
	now := k.clock.Correct(computer)
	if q, ok := k.question(); ok {
		k.passes(searchPasses(ctx, k.generation, q, now))
		k.searchedAt = now
		if pass := k.current(now); pass != nil {
			if q.target.Likely != nil {
				k.off(searchOff(ctx, q, k.searched))
			}
			k.plan(makePlan(k.generation, q, *pass, now, k.settings(pass)))
		}
	}
	s := makeScene(k, new(learning), computer, facing{known: config.FacingKnown, deg: config.FacingDeg}, report, false)
	s.tellSounds(config)
	return s.text(pickGlyphs(config.ASCII), columns)
}

// text writes the scene in words and as a window.
func (s *scene) text(g glyphs, columns int) string {
	columns = max(columns, 20)
	c := newCanvas(columns, 60, g)
	y := 0
	write := func(candidates ...string) {
		if text := c.fit(columns, candidates...); text != "" {
			c.text(0, y, plain, text)
			y++
		}
	}
	write(s.timeNow()...)
	word, rest, _ := s.headline()
	write(prefix(word+": ", rest)...)
	write(s.pointing()...)
	if groups := s.groups(); groups != nil {
		write(s.inWords(groups))
	}
	if w := min(columns-axis, 360/columnDeg); s.pass != nil && w > 20 {
		c.paste(0, y, s.window(g, w, 9).draw(s.sky()))
		y += 11
	}
	write(s.following(columns))
	write(s.satellite()...)
	write(s.clockOfPass()...)
	for _, r := range s.status() {
		write(capital(r.long), capital(r.short))
	}
	return strings.TrimRight(c.plain(), "\n") + "\n"
}

// inWords says the three numbers.
func (s *scene) inWords(groups []group) string {
	var parts []string
	for _, g := range groups {
		parts = append(parts, g.label+" "+strings.Trim(g.digits, "<>"))
	}
	return strings.Join(parts, "   ")
}
