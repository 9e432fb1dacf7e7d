package gps

import (
	"bytes"
	"fmt"
	"strings"
	"time"

	"github.com/adrianmo/go-nmea"
)

const (
	// fixAge is how long a fix counts as the present one while other sentences
	// keep coming; slow receivers give one in ten seconds.
	fixAge = 15 * time.Second
	// geoidM is the standard deviation of a height above mean sea level taken
	// as one above the ellipsoid. From memory (EGM96): the geoid keeps within
	// -107 and +86 m, 30 m root mean square.
	geoidM = 30
	// noiseLines is how many lines without one sentence are called noise.
	noiseLines = 8
	// noteAge is how long a change of the clock is spoken of.
	noteAge = time.Minute
)

// decoder turns lines into what is known. It is not safe for concurrent use.
type decoder struct {
	notBefore time.Time
	reader    *reader
	clock     estimator
	calendar  calendar
	path      path
	leap      leapWatch
	compass   compass
	epoch     epoch
	burst     burst

	newest, before Fix       // before: as it was when the epoch began
	fixedAt        time.Time // when the present fix arrived; zero: none
	detailedAt     time.Time // when a sentence last gave satellites and height
	dimensions     int       // of the newest GSA: 2 means that the height is a guess
	last           time.Time // the newest line's arrival

	sentences, rejected                int
	positionProblem, timeProblem, note string
	noteAt                             time.Time
}

// newDecoder begins with nothing known.
func newDecoder(options Options) *decoder {
	notBefore := options.NotBefore
	if notBefore.IsZero() {
		notBefore = buildDate()
	}
	return &decoder{notBefore: notBefore, reader: newReader()}
}

// line takes one raw line, without its line end, perhaps garbage or half a
// sentence; the computer's clock when its first byte arrived; and the line's
// speed in bit/s, 0 when there is no serial line. It tells whether the report
// has changed in more than its counters.
func (d *decoder) line(raw []byte, firstByte time.Time, baud int) (changed bool) {
	if len(bytes.TrimSpace(raw)) == 0 {
		return false
	}
	d.clock.tick(firstByte)
	d.last = firstByte
	s, err := d.reader.read(raw)
	if err != nil {
		d.rejected++
		return d.noise() != ""
	}
	d.sentences++
	lead := d.burst.lead(firstByte, wireTime(len(raw)+2, baud), s.timeKnown)
	switch s.kind {
	case "":
		return d.sentences == 1
	case nmea.TypeHDT, nmea.TypeTHS, nmea.TypeHDG, nmea.TypeHDM, nmea.TypeXDR:
		d.compass.add(s.kind, s.heading, firstByte)
		return true
	case nmea.TypeGSA:
		d.dimensions = s.dimensions
		return true
	}
	if !d.epoch.holds(s, firstByte) {
		d.epoch = newEpoch(s, firstByte)
		d.epoch.lead = lead
		d.before = d.newest
	}
	d.date(s, firstByte)
	if s.quality != "" {
		d.position(s)
	}
	d.time(lineDelay(baud).after(d.epoch.lead))
	return true
}

// present tells whether the newest fix is the present one.
func (d *decoder) present() bool {
	return !d.fixedAt.IsZero() && d.last.Sub(d.fixedAt).Abs() <= fixAge
}

// noise tells that nothing readable comes.
func (d *decoder) noise() string {
	if d.sentences == 0 && d.rejected >= noiseLines {
		return "nothing readable arrives: wrong baud rate, or not a receiver"
	}
	return ""
}

// report gives everything known now, with State Searching or Fixed.
func (d *decoder) report() Report {
	r := Report{
		State: Searching, Fix: d.newest, Heading: d.compass.heading(),
		Sentences: d.sentences, Rejected: d.rejected,
	}
	if d.present() {
		r.State = Fixed
	}
	problems := []string{d.noise(), d.positionProblem, d.timeProblem}
	var doubted bool
	if r.Clock, doubted = d.leap.widen(d.clock.now(), d.last); doubted {
		problems = append(problems, fmt.Sprintf("the receiver may not know the leap seconds before %s: time up to %d s wrong",
			r.Clock.Correct(d.leap.until).UTC().Format("15:04 MST"), leapS))
	}
	if d.note != "" && d.last.Sub(d.noteAt).Abs() < noteAge {
		problems = append(problems, d.note)
	}
	for _, p := range problems {
		if p != "" {
			r.Problem = strings.TrimPrefix(r.Problem+"; "+p, "; ")
		}
	}
	return r
}
