package main

import (
	"github.com/spf13/cobra"
)

func newGPSCommand(sys system) *cobra.Command {
	o := newOptions(sys)
	source, sensor, list := "", "", false
	cmd := &cobra.Command{
		Use:   "gps",
		Short: "show what a GPS receiver says, and how wrong the clock here is",
		Long: `Show each fix of a GPS receiver until interrupted, or for a time. Sources are

  serial:///dev/ttyUSB0?baud=9600   a serial port (no baud: found by trying)
  gpsd://localhost:2947             a gpsd server
  tcp://HOST:PORT  udp://:PORT      NMEA lines, as phones send them
  file:///PATH.nmea?rate=1          a recording, by its own time stamps
  fixed:54.31,-9.87,40              no receiver: a place

A receiver tells each second some tenths late; that is in the stated error of
the clock. An electronic compass is read from the same source (HDT, THS, HDG,
HDM; XDR for pitch and roll), or from one of its own.`,
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
				if sensor == "" {
					sensor = c.sensor
				}
			}
			if source == "" {
				return wrong(`say which with --source URL; "foreaim gps --list" shows the serial ports`, "there is no GPS source")
			}
			return sys.showFixes(cmd.Context(), o, source, sensor)
		},
	}
	f := cmd.Flags()
	f.StringVar(&source, "source", "", "listen to the receiver at this `URL`")
	f.StringVar(&sensor, "sensor", "", "listen to an electronic compass at this `URL`, too")
	f.Var(&o.span, "for", "stop after this long")
	f.BoolVar(&list, "list", false, "list the serial ports instead")
	o.addJSON(f)
	return cmd
}
