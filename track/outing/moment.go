package outing

import (
	"fmt"
	"strings"
	"time"

	"foreaim/track"
	"foreaim/track/internal/csvfile"
)

// Anchor is what a Moment counts from.
type Anchor string

// The anchors.
const (
	AtRise  Anchor = "rise"
	AtPeak  Anchor = "peak"
	AtSet   Anchor = "set"
	AtBurst Anchor = "burst" // every burst of the pass
)

// maxOffset is the furthest that a Moment may be from its anchor.
const maxOffset = 24 * time.Hour

// Moment is a time of any pass: 30 s before it rises, two seconds before each
// burst.
type Moment struct {
	Anchor Anchor
	Offset time.Duration // positive: after it
}

// ParseMoment reads an anchor and, after a sign, how long before or after it:
// rise-30s, burst-2s, set+10s, peak, set+1m30s. Units are
// h, m, s and ms; anything finer is rounded.
func ParseMoment(text string) (Moment, error) {
	text = strings.TrimSpace(text)
	fault := func(what string) (Moment, error) {
		return Moment{}, fmt.Errorf("%q is not a time of a pass: %s; want something like rise-30s, burst-2s, peak or set+10s", csvfile.Found(text), what)
	}
	if text == "" {
		return fault("it is empty")
	}
	name, offset := text, ""
	if i := strings.IndexAny(text, "+-"); i >= 0 {
		name, offset = text[:i], text[i:]
	}
	m := Moment{Anchor: Anchor(name)}
	switch m.Anchor {
	case AtRise, AtPeak, AtSet, AtBurst:
	default:
		return fault("it must begin with rise, peak, set or burst")
	}
	if offset == "" {
		return m, nil
	}
	if strings.Trim(offset[1:], "0123456789.hms") != "" || offset == "+" || offset == "-" {
		return fault(fmt.Sprintf("after %s comes + or - and a duration such as 30s or 1m30s", name))
	}
	d, err := time.ParseDuration(offset)
	switch {
	case err != nil:
		return fault(fmt.Sprintf("%s is not a duration such as 30s or 1m30s", csvfile.Found(offset[1:])))
	case d.Abs() > maxOffset:
		return fault("it is more than 24 h off")
	}
	m.Offset = d.Round(time.Millisecond)
	return m, nil
}

// String writes a moment as ParseMoment reads it.
func (m Moment) String() string {
	switch {
	case m.Offset == 0:
		return string(m.Anchor)
	case m.Offset > 0:
		return fmt.Sprintf("%s+%s", m.Anchor, m.Offset)
	}
	return fmt.Sprintf("%s%s", m.Anchor, m.Offset)
}

// When returns the times of a moment in a pass, given the starts of its bursts.
// There is none at the rise and set of an object that is always up.
func (m Moment) When(pass track.Pass, bursts []time.Time) []time.Time {
	if m.Anchor == AtBurst {
		times := make([]time.Time, len(bursts))
		for i, b := range bursts {
			times[i] = b.Add(m.Offset)
		}
		return times
	}
	look := pass.Peak
	switch {
	case m.Anchor == AtPeak:
	case pass.AlwaysUp:
		return nil
	case m.Anchor == AtRise:
		look = pass.Rise
	default:
		look = pass.Set
	}
	return []time.Time{look.Time.Add(m.Offset)}
}
