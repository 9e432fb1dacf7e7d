package tui

import (
	"fmt"
	"math"
	"time"

	"foreaim/gps"
)

const (
	// quietAfter is how long a receiver may send nothing before it counts as
	// lost: receivers send once a second.
	quietAfter = 2500 * time.Millisecond
	// oldFix is the age from which a position is said to be old.
	oldFix = 10 * time.Second
	// clockWrongS is the error of the computer's clock that is worth a warning.
	clockWrongS = 1.0
	// oldElements is the age from which the elements of a low orbit are not to
	// be trusted to a burst's width of the beam (common practice, no source).
	oldElements = 3 * 24 * time.Hour
	// veryOldElements is the age from which they are of no use for an outing
	// (common practice, no source).
	veryOldElements = 10 * 24 * time.Hour
)

// remark is one part of the status: for people, perhaps a warning, in a long
// and a short form. Kept is a warning's form for the record, the same as long
// as it holds; empty where that is not worth a line.
type remark struct {
	long, short string
	warning     bool
	kept        string
}

// source names the receiver's source for people.
func (s *scene) source() string {
	if s.report.Source != "" {
		return clean(s.report.Source)
	}
	return "the receiver"
}

// status says how good the fix, the clock and the elements are; warnings first.
func (s *scene) status() []remark {
	all := []remark{s.recordRemark(), s.rhythmRemark(), s.voiceRemark(), s.tonesRemark(), s.sunRemark(), s.hillsRemark(), s.differRemark(), s.sensorRemark(), s.boomRemark(), s.facingRemark(), s.fixRemark(), s.clockRemark(), s.elementsRemark(s.now, s.off), s.learningRemark()}
	if s.north.note != "" {
		all = append(all, remark{long: s.north.note, short: "no magnetic", warning: true, kept: s.north.note})
	}
	if s.silent {
		all = append(all, remark{long: "bell off", short: "bell off"})
	}
	if note := s.phaseNote(); note != nil {
		all = append(all, remark{long: note[0], short: note[len(note)-1], warning: true, kept: "burst times unknown"})
	}
	var sorted []remark
	for _, wanted := range [...]bool{true, false} {
		for _, r := range all {
			if r.warning == wanted && r.long != "" {
				sorted = append(sorted, r)
			}
		}
	}
	return sorted
}

// tellRecord takes how the record goes.
func (s *scene) tellRecord(to Recorder) {
	if to == nil {
		return
	}
	status := to.Status()
	s.recorded, s.unkept, s.stopped = true, status.Words(s.now), status.Stopped
}

func (s *scene) recordRemark() remark {
	if s.unkept == "" {
		return remark{}
	}
	short := "RECORD FAILS"
	if s.stopped {
		short = "RECORDING STOPPED"
	}
	return remark{long: capital(clean(s.unkept)), short: short, warning: true}
}

// lost returns for how long the receiver has been silent; false while it isn't.
func (s *scene) lost() (time.Duration, bool) {
	r := s.report
	if r.Fix.Quality == "fixed" {
		return 0, false
	}
	quiet := s.computer.Sub(r.LastByte)
	if r.LastByte.IsZero() {
		quiet = 0
	}
	return quiet, r.State == gps.Lost || quiet > quietAfter
}

func (s *scene) fixRemark() remark {
	if !s.receiver {
		return remark{long: "site as given", short: "site given"}
	}
	r := s.report
	quiet, lost := s.lost()
	switch {
	case lost:
		text := "GPS LOST"
		if quiet > 0 {
			text += " for " + span(quiet)
		}
		long := text
		if r.Problem != "" {
			long += ": " + clean(r.Problem)
		}
		return remark{long, text, true, "GPS lost"}
	case r.State == gps.Ended:
		return remark{"replay ended", "replay ended", true, "replay ended"}
	case r.State == gps.Opening:
		return remark{"GPS opening", "GPS opening", true, ""}
	case r.Problem != "":
		return remark{"GPS: " + clean(r.Problem), "GPS problem", true, "GPS: " + clean(r.Problem)}
	case r.State == gps.Searching || !r.Fix.Valid():
		return remark{"GPS searching, no fix", "no fix", true, "no fix"}
	}
	if r.Fix.Quality == "fixed" {
		return remark{"site fixed", "site fixed", false, ""}
	}
	if age := s.computer.Sub(r.Fix.Received); age > oldFix {
		return remark{"fix " + span(age) + " old", "fix old", true, "fix old"}
	}
	text := fmt.Sprintf("fix %d satellites", r.Fix.SatellitesUsed)
	if r.Fix.HDOP > 0 {
		text += fmt.Sprintf(" HDOP %.1f", r.Fix.HDOP)
	}
	return remark{text, fmt.Sprintf("fix %d sats", r.Fix.SatellitesUsed), false, ""}
}

func (s *scene) clockRemark() remark {
	c := s.clock
	within := c.UncertaintyAt(s.computer)
	switch {
	case !c.Known:
		return remark{"clock: computer, unchecked", "clock unchecked", true, "clock unchecked"}
	case math.Abs(c.OffsetS) > clockWrongS:
		way := "slow"
		if c.OffsetS < 0 {
			way = "fast"
		}
		return remark{
			fmt.Sprintf("computer %s s %s, corrected ±%.1f s", figures(math.Abs(c.OffsetS)), way, within),
			fmt.Sprintf("computer %s s %s, ±%.1f s", figures(math.Abs(c.OffsetS)), way, within),
			true, "computer's clock " + way + ", corrected",
		}
	}
	return remark{fmt.Sprintf("clock GPS ±%.1f s", within), fmt.Sprintf("clock ±%.1f s", within), within > clockWrongS, "clock uncertain"}
}

// figures says seconds with a tenth only below ten.
func figures(x float64) string {
	if x < 9.95 {
		return fmt.Sprintf("%.1f", x)
	}
	return fmt.Sprintf("%.0f", x)
}

// earlyOrLate says what the age of a low satellite's very old elements may come to
// (common practice, no source: it depends on its height and on the sun).
func earlyOrLate(age time.Duration) string {
	if age < 30*24*time.Hour {
		return "up to a minute early or late"
	}
	return "minutes early or late"
}

// oldWarning says before the outing that the elements are far too old for it,
// the whole of it and the shortest; empty while they aren't.
func oldWarning(t target, now time.Time) (words, brief string) {
	age := t.orbit.Elements().Age(now)
	if age <= veryOldElements {
		return "", ""
	}
	brief = fmt.Sprintf("Elements %.0f days old: find newer before you go", age.Hours()/24)
	late := earlyOrLate(age)
	if t.Likely != nil {
		if l := t.Likely(now); l.SigmaS > 0 {
			late = "±" + lateWords(l.SigmaS)
		}
	}
	return brief + " (" + late + ")", brief
}

// poorShare is the share of the beam's half width from which it is worth a
// warning that elements are likely off by so much: in one case of twenty it is
// twice as much, and the beam's edge is reached.
const poorShare = 0.5

// elementsRemark says how old the elements are at a time, and how far off the
// satellite likely is.
func (s *scene) elementsRemark(at time.Time, o off) remark {
	if s.stage == noTarget {
		return remark{}
	}
	age := s.target.orbit.Elements().Age(at)
	days := age.Hours() / 24
	var r remark
	switch {
	case age < -oldElements:
		r = remark{fmt.Sprintf("elements are for %.1f days ahead", -days), fmt.Sprintf("elements %.1f d ahead", -days), true, "elements are for days ahead"}
	case age > veryOldElements:
		r = remark{fmt.Sprintf("ELEMENTS %.0f DAYS OLD", days), fmt.Sprintf("ELEMENTS %.0f d OLD", days), true, "elements old"}
	case age > oldElements:
		r = remark{fmt.Sprintf("ELEMENTS %.1f DAYS OLD", days), fmt.Sprintf("ELEMENTS %.1f d OLD", days), true, "elements old"}
	case o.deg > poorShare*s.beamDeg/2:
		r = remark{fmt.Sprintf("ELEMENTS POOR, %.1f d old", days), "ELEMENTS POOR", true, "elements poor"}
	case o.words() != "":
		r = remark{fmt.Sprintf("elements %.1f d old", days), fmt.Sprintf("elements %.1f d", days), false, ""}
	default:
		r = remark{fmt.Sprintf("elements %.1f days", days), fmt.Sprintf("elements %.1f d", days), false, ""}
	}
	switch words := o.words(); {
	case words != "":
		r.long += ": " + words
		r.short += " " + o.short()
	case age > veryOldElements:
		r.long += ": " + earlyOrLate(age)
	}
	return r
}
