package fetch

import (
	"fmt"
	"time"
)

// Outcome is how a fetch ended.
type Outcome int

// The outcomes.
const (
	Fetched   Outcome = iota // new content was handed over
	Unchanged                // the server says that it has nothing new
	TooSoon                  // the server was not asked, to spare it
)

// Result tells of one fetch.
type Result struct {
	Address string // fit to print
	Outcome Outcome
	At      time.Time // when the content last was the server's
	Bytes   int       // handed over
}

// Words says for people what happened, at now.
func (r Result) Words(now time.Time) string {
	switch r.Outcome {
	case Unchanged:
		return "unchanged at the server"
	case TooSoon:
		return "from the store, fetched " + span(now.Sub(r.At)) + " ago"
	default:
		return fmt.Sprintf("fetched, %s", size(int64(r.Bytes)))
	}
}

// span writes a duration for people, rounded to what matters.
func span(d time.Duration) string {
	switch d = d.Abs(); {
	case d < 90*time.Second:
		return fmt.Sprintf("%.0f s", d.Seconds())
	case d < time.Hour:
		return fmt.Sprintf("%d min", d.Round(time.Minute)/time.Minute)
	case d < 48*time.Hour:
		d = d.Round(time.Minute)
		return fmt.Sprintf("%d h %d min", d/time.Hour, d%time.Hour/time.Minute)
	default:
		return fmt.Sprintf("%.0f days", d.Hours()/24)
	}
}

func size(bytes int64) string {
	switch {
	case bytes < 1000:
		return fmt.Sprintf("%d bytes", bytes)
	case bytes < 1_000_000:
		return fmt.Sprintf("%.1f kB", float64(bytes)/1e3)
	default:
		return fmt.Sprintf("%.1f MB", float64(bytes)/1e6)
	}
}
