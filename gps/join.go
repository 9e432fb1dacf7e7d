package gps

import "context"

// Sensor is how the second source of a joined Receiver does.
type Sensor struct {
	Source  string // its URL; empty: there is none
	State   State  // Searching or Fixed: it speaks
	Problem string // one line, as Report.Problem
}

// Join gives the reports of a receiver with the heading of a second source: an
// electronic compass on a port of its own. A heading of the receiver's own
// stands in while the sensor is lost or has none. The sensor's clock and
// position are not used. Closing it closes both; it ends with the receiver, not
// with the sensor.
func Join(receiver, sensor *Receiver) *Receiver {
	ctx, cancel := context.WithCancel(context.Background())
	r := &Receiver{reports: make(chan Report, 1), cancel: cancel, done: make(chan struct{})}
	go func() {
		defer close(r.done)
		defer close(r.reports)
		defer sensor.Close()
		defer receiver.Close()
		r.relay(ctx, receiver.Reports(), sensor.Reports())
	}()
	return r
}

// relay hands on what either says.
func (r *Receiver) relay(ctx context.Context, receiver, sensor <-chan Report) {
	var fix, heading Report
	for {
		select {
		case <-ctx.Done():
			return
		case next, open := <-receiver:
			if !open {
				return
			}
			fix = next
		case next, open := <-sensor:
			if !open {
				sensor = nil
				continue
			}
			heading = next
		}
		select {
		case <-r.reports: // unread: replaced
		default:
		}
		r.reports <- joined(fix, heading)
	}
}

// wordless is how many sentences a sensor may send before one has to be about
// where it points.
const wordless = 20

// joined is a receiver's report with a sensor's heading.
func joined(fix, sensor Report) Report {
	if sensor.Heading != nil && (sensor.State != Lost || fix.Heading == nil) {
		fix.Heading = sensor.Heading
	}
	fix.Sensor = Sensor{sensor.Source, sensor.State, sensor.Problem}
	if fix.Sensor.Problem == "" && sensor.Heading == nil && sensor.Sentences >= wordless {
		fix.Sensor.Problem = "it sends sentences, but none says where it points"
	}
	return fix
}
