package main

import (
	"context"
	"fmt"
	"math"
	"time"

	"foreaim/gps"
	"foreaim/track"

	"github.com/spf13/cobra"
)

func newGPSCommand(sys system) *cobra.Command {
	o := newOptions(sys)
	source, list := "", false
	cmd := &cobra.Command{
		Use:   "gps",
		Short: "show what a GPS receiver says, and how wrong this computer's clock is",
		Long: `Show each fix of a GPS receiver until interrupted, or for a time. Sources are

  serial:///dev/ttyUSB0?baud=9600   a serial port (no baud: found by trying)
  gpsd://localhost:2947             a gpsd server
  tcp://HOST:PORT  udp://:PORT      NMEA lines, as phones send them
  file:///PATH.nmea?rate=1          a recording, by its own time stamps
  fixed:54.31,-9.87,40              no receiver: a place`,
		Args: arguments(0, 0, ""),
		RunE: func(cmd *cobra.Command, _ []string) error {
			if list {
				return sys.listPorts(o)
			}
			if source == "" {
				c, err := sys.configFor(cmd)
				if err != nil {
					return err
				}
				source = c.gpsSource
			}
			if source == "" {
				return wrong(`say which with --source URL; "foreaim gps --list" shows the serial ports`, "there is no GPS source")
			}
			return sys.showFixes(cmd.Context(), o, source)
		},
	}
	f := cmd.Flags()
	f.StringVar(&source, "source", "", "listen to the receiver at this `URL`")
	f.Var(&o.span, "for", "stop after this long")
	f.BoolVar(&list, "list", false, "list the serial ports instead")
	o.addJSON(f)
	return cmd
}

// fixAnswer is one fix of the answer.
type fixAnswer struct {
	Time               *instant `json:"time,omitempty"`
	LatitudeDeg        *float64 `json:"latitude_deg,omitempty"`
	LongitudeDeg       *float64 `json:"longitude_deg,omitempty"`
	AltitudeM          *float64 `json:"altitude_m,omitempty"`
	Quality            string   `json:"quality"`
	SatellitesUsed     int      `json:"satellites_used"`
	HDOP               *float64 `json:"hdop,omitempty"`
	ClockOffsetS       *float64 `json:"clock_offset_s,omitempty"`
	ClockUncertaintyS  *float64 `json:"clock_uncertainty_s,omitempty"`
	HeadingTrueDeg     *float64 `json:"heading_true_deg,omitempty"`
	HeadingMagneticDeg *float64 `json:"heading_magnetic_deg,omitempty"`
	PitchDeg           *float64 `json:"pitch_deg,omitempty"`
}

// positionDecimals is about a decimetre.
const positionDecimals = 6

func newFixAnswer(r gps.Report) fixAnswer {
	fix := r.Fix
	a := fixAnswer{
		LatitudeDeg:    number(fix.LatitudeDeg, positionDecimals),
		LongitudeDeg:   number(fix.LongitudeDeg, positionDecimals),
		Quality:        fix.Quality,
		SatellitesUsed: fix.SatellitesUsed,
	}
	if !fix.Time.IsZero() {
		t := instant(fix.Time)
		a.Time = &t
	}
	if fix.AltitudeKnown {
		a.AltitudeM = number(fix.AltitudeM, 1)
	}
	if fix.HDOP > 0 {
		a.HDOP = number(fix.HDOP, 2)
	}
	if r.Clock.Known {
		a.ClockOffsetS = number(r.Clock.OffsetS, 3)
		a.ClockUncertaintyS = number(r.Clock.UncertaintyS, 3)
	}
	if h := r.Heading; h != nil {
		if h.TrueKnown {
			a.HeadingTrueDeg = azimuth(h.TrueDeg)
		}
		if h.MagneticKnown {
			a.HeadingMagneticDeg = azimuth(h.MagneticDeg)
		}
		if h.PitchKnown {
			a.PitchDeg = number(h.PitchDeg, degDecimals)
		}
	}
	return a
}

// showFixes prints each new fix until the time is over, the replay has ended or
// the user interrupts.
func (sys system) showFixes(parent context.Context, o *options, source string) error {
	ctx, cancel := parent, context.CancelFunc(func() {})
	if o.span.given {
		ctx, cancel = context.WithTimeout(parent, o.span.value)
	}
	defer cancel()
	receiver, err := gps.Open(ctx, source, gps.Options{Now: sys.now})
	if err != nil {
		return receiverProblem(err)
	}
	defer receiver.Close()
	var last time.Time // when the newest fix that was shown arrived
	problem := ""
	for {
		select {
		case <-ctx.Done():
			return fixesEnd(parent.Err(), source, !last.IsZero(), problem)
		case r, open := <-receiver.Reports():
			if !open {
				return fixesEnd(parent.Err(), source, !last.IsZero(), problem)
			}
			if r.Problem != problem && r.Problem != "" {
				sys.note("%s", r.Problem)
			}
			problem = r.Problem
			if r.Fix.Valid() && !r.Fix.Received.Equal(last) {
				last = r.Fix.Received
				if err := sys.showFix(o, r); err != nil {
					return err
				}
			}
			if r.State == gps.Ended || r.Fix.Quality == "fixed" {
				return fixesEnd(nil, source, !last.IsZero(), problem)
			}
		}
	}
}

// fixesEnd is how listening ended.
func fixesEnd(interrupted error, source string, anyFix bool, problem string) error {
	switch {
	case interrupted != nil:
		return interrupted
	case anyFix:
		return nil
	case problem != "":
		problem = ": " + problem
	}
	return failed("a receiver needs a free view of the sky, and minutes after a cold start", "no fix from %s%s", source, problem)
}

func (sys system) showFix(o *options, r gps.Report) error {
	if o.json {
		return printJSONLine(sys.stdout, newFixAnswer(r))
	}
	fix := r.Fix
	at := fix.Time
	if at.IsZero() {
		at = fix.Received
	}
	site := track.Site{LatitudeDeg: fix.LatitudeDeg, LongitudeDeg: fix.LongitudeDeg, HeightM: fix.AltitudeM}
	text := fmt.Sprintf("%s  %s  %s", sys.bothTimes(at), sayPlace(site), fix.Quality)
	if fix.SatellitesUsed > 0 {
		text += fmt.Sprintf(", %d satellites", fix.SatellitesUsed)
	}
	if fix.HDOP > 0 {
		text += fmt.Sprintf(", HDOP %.1f", fix.HDOP)
	}
	if r.Clock.Known {
		text += "  " + sayClock(r.Clock)
	}
	_, err := fmt.Fprintln(sys.stdout, text)
	return err
}

// sayClock says how wrong the computer's clock is.
func sayClock(c gps.Clock) string {
	direction := "slow"
	if c.OffsetS < 0 {
		direction = "fast"
	}
	return fmt.Sprintf("this computer's clock is %.2f s %s (±%.2f s)", math.Abs(c.OffsetS), direction, c.UncertaintyS)
}

type portAnswer struct {
	Name        string `json:"name"`
	Description string `json:"description"`
}

func (sys system) listPorts(o *options) error {
	ports, err := sys.ports()
	if err != nil {
		return failed("", "%w", err)
	}
	answers := make([]portAnswer, 0, len(ports))
	rows := newTable("port", "what it is")
	for _, p := range ports {
		answers = append(answers, portAnswer{plain(p.Name), plain(p.Description)})
		rows.add(p.Name, p.Description)
	}
	if o.json {
		return printJSON(sys.stdout, answers)
	}
	text := rows.String()
	if len(ports) == 0 {
		text = "There is no serial port: plug the receiver in.\n"
	}
	_, err = fmt.Fprint(sys.stdout, text)
	return err
}
