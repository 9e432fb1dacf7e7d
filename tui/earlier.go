package tui

import (
	"math"
	"strings"

	"foreaim/track/north"
)

// outcome is what stayed over earlier outings as a time error.
func (e Earlier) outcome() outcome {
	return outcome{given: given{e.Mean, e.Sigma}, at: e.At, recorded: true}
}

// way is the kind of reference that a facing was made of.
func (f facing) way() string {
	if f.magnetic {
		return north.ByCompass.String()
	}
	return f.how
}

// northOf returns the error of north to be expected of a facing, and says it where
// earlier outings tell. What was turned by hand is turned already.
func (c *carried) northOf(f facing) (g given, words string) {
	e, ok := c.north[f.way()]
	if !f.known || !ok {
		return given{0, f.sigma()}, ""
	}
	g = given{e.Mean - f.nudgedDeg, math.Hypot(e.Sigma, leastDeg)}
	return g, f.way() + " " + sidedBy(g, "°", "right of true", "left of true")
}

// fromEarlier says what is taken in from earlier outings.
func fromEarlier(parts ...string) string {
	return "From earlier outings: " + strings.Join(parts, ", ") + ", taken in"
}
