package tui

import (
	"time"

	"foreaim/gps"
	"foreaim/track"
	"foreaim/track/aim"
	"foreaim/track/beacon"
	"foreaim/track/north"
	"foreaim/track/outing"
	"foreaim/track/terrain"
)

// stage is what is going on, from the operator's side.
type stage int

// The stages.
const (
	noTarget   stage = iota
	noSite           // waiting for a fix
	searching        // for passes
	noPass           // none in the days ahead
	trouble          // the orbit can't be told
	before           // the next pass has not begun
	move             // go to the next hold
	keepStill        // be in the hold: its burst is due
	burstNow         // the burst is sounding, as far as anybody knows
	listen           // burst times unknown: hold after hold
	lastPassed       // no burst is left before the set
	over             // the pass has just set
)

// facing is the true azimuth that the operator takes as straight ahead.
type facing struct {
	known bool
	deg   float64
	// sigmaDeg is its standard uncertainty; 0: nobody said.
	sigmaDeg float64
	how      string       // typed, nudged, or the names of the references
	ahead    string       // the fixed thing that is straight ahead; may be empty
	sensor   north.Sensor // on the boom
	changes  int          // of the references
	// nudgedDeg is how far it was turned by hand since.
	nudgedDeg float64
	// magnetic tells that it was given so, and declinationDeg, east positive,
	// was added.
	magnetic       bool
	declinationDeg float64
}

// scene is everything the screen shows at one moment. It is a function of the
// time and of what is known; nothing in it counts frames.
type scene struct {
	now             time.Time // the true time, as well as it is known
	computer        time.Time // the computer's reading at that moment
	zone            *time.Location
	stage           stage
	title           string
	sounds          string // what the invented receiver lets hear
	fistDeg         float64
	beamDeg         float64 // width
	minElevationDeg float64 // of a pass

	target       target          // with the bursts to be expected in the pass
	published    beacon.Schedule // of the target
	learnedTimes bool            // of the bursts
	rhythm       string          // what was learned of it; may be empty
	number       int             // of the target, from 1
	count        int             // of targets
	site         track.Site
	north        declination
	facing       facing
	said         north.Facing // by the references
	made         outing.References
	sensed       sensed             // of the boom
	check        *north.SensorCheck // of its sensor; nil: none, or all is well
	hand         *Boom              // as the keys have turned it; nil: nobody practises

	sun, moon *aim.Direction // nil: not in sight
	landmarks []seenLandmark

	// skyline is the elevation of what hides the sky at a true azimuth, both in
	// degrees; nil where nothing does.
	skyline      func(azimuthDeg float64) float64
	outline      []terrain.Point // of the skyline
	hillsMissing string          // why there are no hills in it; empty while there are

	look    track.Look // now
	lookOK  bool
	lateS   float64 // it is taken to be, in look
	lookErr error

	pass    *track.Pass
	off     off // at its peak
	plan    aim.Plan
	planned beacon.Schedule // the plan is made for
	moment  aim.Moment
	sent    aim.Told // to which of the holds, by the callouts
	path    []aim.Direction

	belief      *aim.Advice // nil: nothing is learned
	twist       bool        // the boom about its own axis, for the next hold
	twists      []int       // the holds that begin with that
	unlearned   bool        // aims are the predicted ones, as was wished
	unteachable string      // why there is no belief; empty while that is no fault

	receiver  bool // there is one
	report    gps.Report
	clock     gps.Clock
	silent    bool
	tally     tally
	recorded  bool     // there is a record
	todo      []string // what the checklist asks for; empty while all is done
	insists   bool     // on it
	noise     noiseLines
	voiceOff  bool
	voiceless string // why nothing is said; empty while all is well
	toneless  string // why no tones are played; empty while all is well
	unkept    string // what is wrong with the record; empty while all is well
	stopped   bool   // the recording, altogether
	problem   string // why the stage is trouble
}

// aimed returns the hold that the digits show: the next one, and after the last
// one that.
func (s *scene) aimed() *aim.Hold {
	if s.moment.Next != nil {
		return s.moment.Next
	}
	return s.moment.Last
}

// hides tells whether the skyline, and not the least elevation, decides when a
// pass is in sight at an azimuth.
func (s *scene) hides(azimuthDeg float64) bool {
	return s.skyline != nil && s.skyline(azimuthDeg) > s.minElevationDeg
}

// makeScene looks at everything at one moment.
func makeScene(k *tracker, l *learning, computer time.Time, facing facing, report *gps.Report, silent bool) scene {
	s := scene{
		computer:        computer,
		now:             k.clock.Correct(computer),
		zone:            k.config.Zone,
		title:           k.config.Title,
		fistDeg:         k.config.FistDeg,
		beamDeg:         k.config.BeamwidthDeg,
		minElevationDeg: k.config.MinElevationDeg,
		number:          k.chosen + 1,
		count:           len(k.targets),
		site:            k.site,
		facing:          facing,
		skyline:         k.horizon.SkylineDeg,
		outline:         k.skyline.Points(),
		receiver:        report != nil,
		clock:           k.clock,
		silent:          silent,
	}
	if report != nil {
		s.report = *report
	}
	s.tellLights(k.site, k.siteKnown)
	if len(k.targets) == 0 {
		s.stage = noTarget
		return s
	}
	s.target = k.targets[k.chosen]
	s.published = s.target.Schedule
	if !k.siteKnown {
		s.stage = noSite
		return s
	}
	s.look, s.lookErr = s.target.orbit.Look(k.site, s.now)
	s.lookOK = s.lookErr == nil
	if k.searchedOK {
		s.north = k.searched.north
	}
	s.pass = k.current(s.now)
	if s.pass != nil {
		s.off = k.offOf(*s.pass)
		s.target.Schedule, s.learnedTimes = k.schedule(s.pass)
		if k.rhythm.about(k.chosen, *s.pass) {
			s.rhythm = k.rhythm.words
		}
	}
	if k.planOK && s.pass != nil && k.planned.pass.Equal(*s.pass) {
		s.plan, s.path = l.on(k.planned.plan, k.generation, k.planned.at), k.planned.path
		s.moment, s.planned = s.plan.At(s.now), k.planned.schedule
	}
	s.stage, s.problem = k.stage(&s)
	return s
}

// stage tells what is going on.
func (k *tracker) stage(s *scene) (stage, string) {
	switch {
	case !k.searchedOK:
		return searching, ""
	case k.searched.err != nil:
		return trouble, k.searched.err.Error()
	case s.pass == nil && len(k.searched.passes) == 0:
		return noPass, ""
	case s.pass == nil || !k.planOK || !k.planned.pass.Equal(*s.pass):
		return searching, ""
	case k.planned.err != nil:
		return trouble, k.planned.err.Error()
	case s.lookErr != nil:
		return trouble, s.lookErr.Error()
	}
	m := s.moment
	switch {
	case s.now.Before(s.pass.Rise.Time) && !(m.Next != nil && m.Now):
		return before, ""
	case !s.now.Before(s.pass.Set.Time) && m.Next == nil:
		return over, ""
	case m.Next == nil:
		return lastPassed, ""
	case !s.plan.BurstsKnown:
		return listen, ""
	case !m.Now:
		return move, ""
	case m.Next.Wait(s.now) > 0:
		return keepStill, ""
	default:
		return burstNow, ""
	}
}
