package main

import (
	"errors"
	"fmt"
	"math"
	"time"

	"foreaim/track"
	"foreaim/track/north"

	"github.com/spf13/cobra"
)

func newNorthCommand(sys system) *cobra.Command {
	o := newOptions(sys)
	cmd := &cobra.Command{
		Use:   "north",
		Short: "tell how far a compass points from true north",
		Long: `Tell the magnetic declination at a site and time, and the rest of the Earth's
magnetic field there, by the World Magnetic Model.`,
		Args: arguments(0, 0, ""),
		RunE: func(cmd *cobra.Command, _ []string) error {
			c, err := sys.configFor(cmd)
			if err != nil {
				return err
			}
			if len(o.at.all) > 1 {
				return wrong("", "one --at is enough")
			}
			p, err := sys.findPlace(cmd.Context(), o, c)
			if err != nil {
				return err
			}
			at := p.now
			if len(o.at.all) > 0 {
				at = o.at.all[0]
			}
			return sys.north(o, p.site, at)
		},
	}
	f := cmd.Flags()
	o.addSite(f)
	o.addAt(f, "at this time (now without it)")
	o.addJSON(f)
	return cmd
}

// northAnswer is the answer. Outside the model's years Note says so and the
// magnetic fields are left out.
type northAnswer struct {
	Time                      instant  `json:"time"`
	DeclinationDeg            *float64 `json:"declination_deg,omitempty"`
	DeclinationUncertaintyDeg *float64 `json:"declination_uncertainty_deg,omitempty"`
	AnnualChangeDeg           *float64 `json:"annual_change_deg,omitempty"`
	InclinationDeg            *float64 `json:"inclination_deg,omitempty"`
	TotalNT                   *float64 `json:"total_nt,omitempty"`
	HorizontalNT              *float64 `json:"horizontal_nt,omitempty"`
	NorthNT                   *float64 `json:"north_nt,omitempty"`
	EastNT                    *float64 `json:"east_nt,omitempty"`
	DownNT                    *float64 `json:"down_nt,omitempty"`
	Model                     string   `json:"model,omitempty"`
	Note                      string   `json:"note,omitempty"`
}

func (sys system) north(o *options, site track.Site, at time.Time) error {
	field, err := north.At(site.LatitudeDeg, site.LongitudeDeg, site.HeightM, at)
	outside := errors.Is(err, north.ErrOutsideYears)
	if err != nil && !outside {
		return wrong("", "%w", err)
	}
	if o.json {
		answer := northAnswer{Time: instant(at)}
		if outside {
			answer.Note = err.Error()
		} else {
			answer.fill(field)
		}
		return printJSON(sys.stdout, answer)
	}
	head := fmt.Sprintf("%s at %s\n\n", sayPlace(site), sys.bothTimes(at))
	if outside {
		_, err = fmt.Fprintf(sys.stdout, "%sNo declination: %v.\n", head, err)
		return err
	}
	_, err = fmt.Fprint(sys.stdout, head, sayField(field))
	return err
}

const ntDecimals = 1

func (a *northAnswer) fill(f north.Field) {
	a.DeclinationDeg = number(f.DeclinationDeg, degDecimals)
	a.DeclinationUncertaintyDeg = number(f.DeclinationUncertaintyDeg, degDecimals)
	a.AnnualChangeDeg = number(f.DeclinationDegPerYear, degDecimals)
	a.InclinationDeg = number(f.InclinationDeg, degDecimals)
	a.TotalNT = number(f.TotalNT, ntDecimals)
	a.HorizontalNT = number(f.HorizontalNT, ntDecimals)
	a.NorthNT = number(f.NorthNT, ntDecimals)
	a.EastNT = number(f.EastNT, ntDecimals)
	a.DownNT = number(f.DownNT, ntDecimals)
	a.Model = north.Model
	a.Note = zoneWords(f.Zone)
}

// zoneWords warns where a compass can't be trusted; empty elsewhere.
func zoneWords(z north.Zone) string {
	switch z {
	case north.Caution:
		return "caution zone: the horizontal field is below 6000 nT, a compass may be far off"
	case north.Blackout:
		return "blackout zone: the horizontal field is below 2000 nT, a compass is not to be used"
	}
	return ""
}

// sayField says the field for people.
func sayField(f north.Field) string {
	change := "east"
	if f.DeclinationDegPerYear < 0 {
		change = "west"
	}
	text := fmt.Sprintf(`declination  %s ± %.1f° (the model's own error), moving %.2f° %s a year
inclination  %.1f°
field        %.0f nT: %.0f north, %.0f east, %.0f down; %.0f horizontal
model        %s

true azimuth = magnetic azimuth %s
A hand-held compass adds %.0f to %.0f° of its own: iron, tilt, reading.
`, sayDeclination(f.DeclinationDeg), f.DeclinationUncertaintyDeg, math.Abs(f.DeclinationDegPerYear), change,
		f.InclinationDeg, f.TotalNT, f.NorthNT, f.EastNT, f.DownNT, f.HorizontalNT, north.Model,
		sum(f.DeclinationDeg), north.CompassErrorLowDeg, north.CompassErrorHighDeg)
	if words := zoneWords(f.Zone); words != "" {
		text += "Beware: " + words + ".\n"
	}
	return text
}

// sum says an angle to be added.
func sum(deg float64) string {
	if deg < 0 {
		return fmt.Sprintf("- %.1f°", -deg)
	}
	return fmt.Sprintf("+ %.1f°", deg)
}
