package main

import (
	"context"
	"errors"
	"fmt"
	"strings"

	"foreaim/gps"
	"foreaim/tui"
)

// openReceivers opens what tells the screen where the antenna is and where the
// boom points: the receiver, and the sensor if it has a port of its own. The
// sensor may come later; so may the receiver where the site is known. Without a
// receiver the sensor goes with the known site. Without either it returns nil.
func (sys system) openReceivers(ctx context.Context, c config, screen *tui.Config) (*gps.Receiver, error) {
	options := gps.Options{Now: sys.now, Patient: screen.SiteKnown}
	source := c.gpsSource
	if source == "" && c.sensor != "" {
		site := screen.Site
		source = fmt.Sprintf("fixed:%s,%s,%s", decimal(site.LatitudeDeg), decimal(site.LongitudeDeg), decimal(site.HeightM))
		screen.SiteFixed = true
	}
	if source == "" {
		return nil, nil
	}
	return openJoined(ctx, source, c.sensor, options)
}

// openJoined opens a receiver and, where one is named, the sensor beside it. A
// sensor that isn't there yet keeps nobody from an outing.
func openJoined(ctx context.Context, source, sensor string, options gps.Options) (*gps.Receiver, error) {
	receiver, err := gps.Open(ctx, source, options)
	if err != nil {
		return nil, receiverProblem(source, err)
	}
	if sensor == "" {
		return receiver, nil
	}
	options.Patient = true
	second, err := gps.Open(ctx, sensor, options)
	if err != nil {
		receiver.Close()
		return nil, receiverProblem(sensor, err)
	}
	return gps.Join(receiver, second), nil
}

// receiverProblem words an error of opening a receiver: a wrong URL is the
// command line's fault, and so is a recording that isn't there; all else is the
// world's.
func receiverProblem(source string, err error) error {
	p := &problem{status: statusFailed, err: err}
	if errors.Is(err, gps.ErrURL) || isRecording(source) {
		p.status = statusWrong
	}
	var told *gps.Error
	if errors.As(err, &told) {
		p.hint = told.Hint
	}
	return p
}

// isRecording tells whether a source is a file that is replayed.
func isRecording(source string) bool { return strings.HasPrefix(source, "file:") }
