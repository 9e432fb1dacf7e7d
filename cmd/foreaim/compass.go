package main

import (
	"fmt"
	"math"
	"strings"
	"time"

	"foreaim/track"
	"foreaim/track/north"
)

// compass turns true azimuths into magnetic ones for people. Where the magnetic
// model says nothing, magnetic cells are empty, which drops their column.
type compass struct {
	field north.Field
	known bool
	note  string // for below the table, without a last line end
}

// newCompass takes the field at a site and time.
func newCompass(site track.Site, t time.Time) compass {
	field, err := north.At(site.LatitudeDeg, site.LongitudeDeg, site.HeightM, t)
	note := fmt.Sprintf("Magnetic azimuths: declination %s (%s).", sayDeclination(field.DeclinationDeg), north.Model)
	switch {
	case err != nil:
		note = "No magnetic azimuths: " + err.Error() + "."
	case field.Zone == north.Caution:
		note += " The field is weak here: don't trust a compass."
	case field.Zone == north.Blackout:
		note = "No magnetic azimuths: a compass is useless so near the magnetic pole (blackout zone)."
	}
	return compass{field, err == nil && field.Zone != north.Blackout, strings.TrimSpace(item("", note))}
}

// sayTrue and sayMagnetic say an azimuth as it stands in a table.
func sayTrue(deg float64) string { return fmt.Sprintf("%.1f°", track.Wrap360(math.Round(deg*10)/10)) }

func (c compass) sayMagnetic(trueDeg float64) string {
	if !c.known {
		return ""
	}
	return sayTrue(north.MagneticDeg(trueDeg, c.field.DeclinationDeg))
}

// wholeTrue says an azimuth where there is little room, to a degree.
func wholeTrue(deg float64) string { return wholeAzimuth(deg) + "°" }

func (c compass) wholeMagnetic(trueDeg float64) string {
	if !c.known {
		return ""
	}
	return wholeTrue(north.MagneticDeg(trueDeg, c.field.DeclinationDeg))
}

// sayDeclination says degrees with their side.
func sayDeclination(deg float64) string {
	if deg < 0 {
		return fmt.Sprintf("%.1f° west", -deg)
	}
	return fmt.Sprintf("%.1f° east", deg)
}
