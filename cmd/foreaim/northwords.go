package main

import (
	"fmt"
	"math"
	"strings"

	"foreaim/track/north"
)

// String says all of it for people.
func (n northHere) String() string {
	var b strings.Builder
	b.WriteString(n.sayGuides())
	if sun, err := north.Sun(n.at, n.site); err == nil && sun.SeenElevationDeg > -1 {
		fmt.Fprintf(&b, "\n%s\n", north.SunCaution)
	}
	b.WriteString("\n" + n.sayField() + n.sayGrid())
	return b.String()
}

// sayGuides says what shows the way, what is best and what is of no use.
func (n northHere) sayGuides() string {
	t := newTable("lay the boom along", ">true", ">magnetic", ">good to", ">away", ">up")
	var useless, best strings.Builder
	for _, w := range n.guides() {
		if w.refusal != "" {
			useless.WriteString(item("", fmt.Sprintf("Not now: %s. %s", w.name, w.refusal)))
			continue
		}
		if len(t.rows) == 0 {
			best.WriteString("\n" + item("", fmt.Sprintf("Best now: %s, good to ±%.1f°. %s", w.name, w.sigmaDeg, w.howTo)))
		}
		magnetic, away, up := "", "", ""
		if deg := n.magneticDeg(w.trueDeg); !math.IsNaN(deg) {
			magnetic = sayTrue(deg)
		}
		if s := w.sighting; s != nil {
			away = fmt.Sprintf("%.2f km", s.DistanceM/1000)
			if s.ElevationKnown {
				up = fmt.Sprintf("%+.1f°", s.ElevationDeg)
			}
		}
		t.add(w.name, sayTrue(w.trueDeg), magnetic, fmt.Sprintf("±%.1f°", w.sigmaDeg), away, up)
	}
	if n.skyErr != nil {
		useless.WriteString(item("", "Not now: the sky. "+refusal(n.skyErr)))
	}
	if len(t.rows) == 0 {
		return "Nothing here shows the way now.\n\n" + useless.String()
	}
	best.WriteString("Take a second one of another kind, and compare.\n")
	if useless.Len() > 0 {
		best.WriteString("\n" + useless.String())
	}
	return t.String() + best.String()
}

// sayField says the magnetic field for people.
func (n northHere) sayField() string {
	if n.fieldErr != nil {
		return item("", fmt.Sprintf("No declination: %v.", n.fieldErr))
	}
	f := n.field
	change := "east"
	if f.DeclinationDegPerYear < 0 {
		change = "west"
	}
	text := item("declination  ", fmt.Sprintf("%s ± %.1f° (the model's own), moving %.2f° %s a year",
		sayDeclination(f.DeclinationDeg), f.DeclinationUncertaintyDeg, math.Abs(f.DeclinationDegPerYear), change))
	text += fmt.Sprintf(`inclination  %.1f°
field        %.0f nT: %.0f north, %.0f east, %.0f down; %.0f horizontal
model        %s

`, f.InclinationDeg, f.TotalNT, f.NorthNT, f.EastNT, f.DownNT, f.HorizontalNT, north.Model)
	if f.Zone != north.Blackout {
		text += fmt.Sprintf("true azimuth = magnetic azimuth %s\nA hand-held compass adds %.0f to %.0f° of its own: iron, tilt, reading.\n"+
			"Read it some metres from steel and magnets: car, fence, boom, the preamplifier.\n",
			sum(f.DeclinationDeg), north.CompassErrorLowDeg, north.CompassErrorHighDeg)
	}
	if words := zoneWords(f.Zone); words != "" {
		text += item("Beware: ", words+".")
	}
	return text
}

// sayGrid says the map's grid for people.
func (n northHere) sayGrid() string {
	g, err := n.site.Grid()
	if err != nil {
		return item("", fmt.Sprintf("No map grid: %v.", err))
	}
	return fmt.Sprintf("true azimuth = map grid azimuth %s (UTM %v)\n", sum(g.ConvergenceDeg), g)
}

// sum says an angle to be added.
func sum(deg float64) string {
	if deg < 0 {
		return fmt.Sprintf("- %.1f°", -deg)
	}
	return fmt.Sprintf("+ %.1f°", deg)
}
