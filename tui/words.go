package tui

import (
	"fmt"
	"math"
	"time"

	"foreaim/track"
	"foreaim/track/aim"
	"foreaim/track/north"
)

// azimuth says a true azimuth, with the magnetic one where it is known:
// "143°T 141°M".
func (s *scene) azimuth(deg float64) string {
	t := fmt.Sprintf("%03d°T", whole360(deg))
	if !s.north.known {
		return t
	}
	return t + fmt.Sprintf(" %03d°M", whole360(north.MagneticDeg(deg, s.north.deg)))
}

// whole360 rounds an azimuth to whole degrees, 0 to 359.
func whole360(deg float64) int { return int(math.Round(deg)) % 360 }

// whole rounds to whole degrees, without a negative zero.
func whole(deg float64) int { return int(math.Round(deg)) }

// countdown says a time span as digits: seconds up to 99, then minutes and
// seconds, whole minutes from ten minutes on ("23m"), hours from 100 minutes on
// ("3h"), days from 100 hours on ("5d"). A span over is "0". Whole seconds are
// cut upwards, so 0 is the moment itself.
func countdown(d time.Duration) string {
	seconds := max(0, int(math.Ceil(d.Seconds())))
	switch {
	case seconds <= 99:
		return fmt.Sprint(seconds)
	case seconds < 600:
		return fmt.Sprintf("%d:%02d", seconds/60, seconds%60)
	case seconds < 6000:
		return fmt.Sprintf("%dm", seconds/60)
	case seconds < 360000:
		return fmt.Sprintf("%dh", seconds/3600)
	default:
		return fmt.Sprintf("%dd", min(seconds/86400, 999))
	}
}

// span says a time span exactly: "0:42", "12:05", "1:02:05", "3 d 01:02".
func span(d time.Duration) string {
	seconds := max(0, int(math.Ceil(d.Seconds())))
	m, h := seconds/60, seconds/3600
	switch {
	case h == 0:
		return fmt.Sprintf("%d:%02d", m, seconds%60)
	case h < 24:
		return fmt.Sprintf("%d:%02d:%02d", h, m%60, seconds%60)
	default:
		return fmt.Sprintf("%d d %02d:%02d", h/24, h%24, m%60)
	}
}

// clockTime says a time of day in the local zone, with the day when it isn't
// today's.
func (s *scene) clockTime(t time.Time) string {
	local, today := t.In(s.zone), s.now.In(s.zone)
	if local.YearDay() != today.YearDay() || local.Year() != today.Year() {
		return local.Format("Mon 15:04:05")
	}
	return local.Format("15:04:05")
}

// timeNow says the time in the local zone and in UTC.
func (s *scene) timeNow() []string {
	local, utc := s.now.In(s.zone), s.now.UTC()
	if _, offset := local.Zone(); offset == 0 {
		return []string{utc.Format("15:04:05") + " UTC"}
	}
	zone, _ := local.Zone()
	return []string{
		local.Format("15:04:05 ") + clean(zone) + utc.Format("  15:04:05 UTC"),
		local.Format("15:04:05 ") + clean(zone),
		local.Format("15:04:05"),
	}
}

// fewFists says a step from straight ahead on a narrow screen: "fists: 3 left, 2.5 up".
func fewFists(step aim.Step, fistDeg float64) string {
	halves := func(deg float64) float64 { return math.Round(math.Abs(deg)/fistDeg*2) / 2 }
	side, way := "right", "up"
	if step.TurnDeg < 0 {
		side = "left"
	}
	if step.UpDeg < 0 {
		way = "down"
	}
	return fmt.Sprintf("fists: %g %s, %g %s", halves(step.TurnDeg), side, halves(step.UpDeg), way)
}

// where says a direction against the facing, in fists, or, where left and right
// mean nothing, how the boom leans.
func (s *scene) where(d aim.Direction) []string {
	switch {
	case d.Overhead():
		return []string{d.OverheadWords(), "straight up"}
	case s.facing.known:
		step := aim.Step{TurnDeg: track.TurnDeg(s.facing.deg, d.AzimuthDeg), UpDeg: d.ElevationDeg}
		return []string{aim.AheadWords(step.TurnDeg, s.fistDeg) + ", " + aim.HeightWords(step.UpDeg, s.fistDeg), fewFists(step, s.fistDeg)}
	default:
		return []string{
			"towards " + aim.CompassWord(d.AzimuthDeg) + ", " + aim.HeightWords(d.ElevationDeg, s.fistDeg) + " (w: find north)",
			"towards " + aim.CompassWord(d.AzimuthDeg) + ", " + aim.HeightWords(d.ElevationDeg, s.fistDeg),
		}
	}
}

// stayHere is the step to a hold in the same direction.
const stayHere = "stay where you are"

// step says the way to the next hold: from the last one where somebody was sent
// there, else from the facing, as the callouts do. Both in whole words, then shorter.
func (s *scene) step() []string {
	next, last := s.moment.Next, s.moment.Last
	first := last == nil
	if !s.sent.Has(last) {
		last = nil
	}
	switch {
	case next == nil:
		return nil
	case last != nil && (next.Overhead() || last.Overhead()):
		w := aim.HeightStepWords(next.ElevationDeg-last.ElevationDeg, s.fistDeg)
		if next.Overhead() {
			return []string{w + " to straight up, from the last hold", w}
		}
		w += " towards " + aim.CompassWord(next.AzimuthDeg)
		return []string{w + ", from straight up", w}
	case next.Overhead():
		return []string{"straight up"}
	case last != nil:
		w := last.StepTo(next.Direction).Words(s.fistDeg)
		if w == "stay" {
			return []string{stayHere, w}
		}
		return []string{w + ", from the last hold", w}
	case s.facing.known:
		ahead := aim.Direction{AzimuthDeg: s.facing.deg}
		w := ahead.StepTo(next.Direction).Words(s.fistDeg)
		if w == "stay" {
			return []string{"straight ahead, on the horizon"}
		}
		return []string{w + ", from straight ahead", w}
	default:
		w := fmt.Sprintf("to %s, %d° up", s.azimuth(next.AzimuthDeg), whole(next.ElevationDeg))
		if !first {
			return []string{w}
		}
		return []string{w + ", the first hold", w}
	}
}

// megahertz says a frequency to 100 Hz.
func megahertz(hz float64) string { return fmt.Sprintf("%.4f MHz", hz/1e6) }
