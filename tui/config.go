// Package tui is the full-screen program: one file per view, one theme, one
// key map, no science.
package tui

import (
	"context"
	"time"

	"foreaim/gps"
	"foreaim/track"
	"foreaim/track/aim"
	"foreaim/track/beacon"
	"foreaim/track/elements"
	"foreaim/track/north"
	"foreaim/track/outing"
	"foreaim/track/outing/review"
	"foreaim/track/terrain"
)

// Recorder takes the record of the outing. Record must not wait for a disk;
// *outing.Recorder is one.
type Recorder interface {
	// Record takes an entry at a true time.
	Record(at time.Time, entry outing.Entry)
	Status() outing.Status
}

// Voice says texts aloud. None of its methods may wait.
type Voice interface {
	// Say says a text that must be over by staleAfter, on the computer's clock.
	// An urgent one interrupts what is being said; any replaces one that waits.
	Say(text string, staleAfter time.Time, urgent bool)
	// Speaking estimates how long a text takes.
	Speaking(text string) time.Duration
	// Problem says in one line why nothing is heard, "" while all is well.
	Problem() string
}

// TonePlayer plays the tones that stand for instructions where no voice speaks.
// None of its methods may wait.
type TonePlayer interface {
	// Play plays tones one after another, under the rules of Voice.Say.
	Play(tones []aim.Tone, staleAfter time.Time, urgent bool)
	// Problem says in one line why nothing is heard, "" while all is well.
	Problem() string
}

// Command is something of the user's own that is run at a time of the pass.
type Command struct {
	At   outing.Moment // of every pass that is pointed at
	Name string        // for people
	// Run runs it and returns when it has ended, or was ended because its time
	// was up: with how it went and what it wrote. A Problem of the result is
	// shown on the screen. It is called beside the frames, each time from a
	// goroutine of its own. Command and When may be left empty: they are filled
	// in with the name and the moment.
	Run func() outing.CommandEntry
}

// Target is one satellite that can be pointed at.
type Target struct {
	Orbit       *track.Orbit
	Name        string  // for the screen, without control characters
	FrequencyHz float64 // 0: unknown
	Schedule    beacon.Schedule
	File        string // where its elements were read, for the record; may be empty
	// MarginDB is by how much its bursts are likely over what an ear needs, in the
	// middle of the beam and at 1000 km; 0: not known, 6 dB are assumed.
	MarginDB float64
	// MarginSigmaDB is the standard deviation of that; 0: not known, 4 dB are assumed.
	MarginSigmaDB float64
	// TwistUnknown tells that the beam and the wave may be linearly polarised, at
	// an unknown angle to each other.
	TwistUnknown bool
	// Likely is how late or early it may be at a time by what its elements tell,
	// see track.LikelyError; nil: not known. It takes a few milliseconds.
	Likely func(at time.Time) track.Likely
	// EarlierLate is how many seconds late it was on earlier outings with the same
	// elements; zero: not known.
	EarlierLate Earlier
}

// Earlier is an error that stayed over earlier outings, to be expected again.
type Earlier struct {
	Mean, Sigma float64   // Sigma is the standard deviation of the next outing's
	At          time.Time // of the last of these outings; zero: nothing is known
}

// Catalogue finds satellites besides the targets, to be chosen on the screen.
type Catalogue interface {
	Len() int // how many objects there are
	// Match returns at most limit objects that part of a name, designator or
	// number fits, the best first, as elements.Catalogue does. It is asked at
	// each key that is typed, so that it must answer in a few milliseconds.
	Match(part string, limit int) []elements.Set
	// Target makes one that Match returned ready to be pointed at. It may take
	// its time: it is called beside the frames, by one goroutine at a time.
	Target(set elements.Set) (Target, error)
}

// Config is everything the program is given.
type Config struct {
	Now  func() time.Time // the computer's clock; time.Now when nil
	Zone *time.Location   // for local times; time.Local when nil

	Targets []Target
	// Chosen is an index into Targets; a negative one stands for the satellite
	// that Resume was about, or else the first.
	Chosen int
	// Catalogue opens a catalogue to choose further satellites from. It may
	// take its time: it is called beside the frames when it is first wanted, and
	// again if it failed. Nil: there are only the targets.
	Catalogue func() (Catalogue, error)

	// Site is where the antenna is until Reports says better; SiteKnown is
	// false while only a fix can tell. SiteFixed keeps Reports from moving it:
	// they only tell the time then.
	Site      track.Site
	SiteKnown bool
	SiteFixed bool
	Reports   <-chan gps.Report // nil without a receiver

	FacingDeg   float64 // true azimuth
	FacingKnown bool
	// EarlierNorth is by how many degrees north was right of true on earlier
	// outings, by the kind of reference that the facing was made of.
	EarlierNorth map[string]Earlier

	// Landmarks are the places to take a facing from, each with its name.
	Landmarks []north.Landmark
	// Remember keeps a place under a name for this outing and the next ones; the
	// screen adds it to the landmarks that it has by itself. A height of 0 is
	// taken as not known. The error is one line for people. It writes to a disk:
	// call it beside the frames. Nil: nothing can be remembered.
	Remember func(name string, place track.Site) error

	// Skyline is what trees and houses hide, to begin with: more is entered on
	// the screen, and an outing that is taken up brings its own. The zero
	// skyline hides nothing. Hills is what the ground hides of the known Site;
	// LookAround tells that of the sites that Reports tell. Nil: no ground is known.
	Skyline    terrain.Skyline
	Hills      Hills
	LookAround HillsSource

	BeamwidthDeg    float64 // 0: 50
	FistDeg         float64 // 0: aim.FistDeg
	MinElevationDeg float64 // of a pass
	// Silent begins without any sound: no bell, no tones, no voice. Each has its
	// key.
	Silent bool

	// Record takes what is worth keeping; nil: nothing is recorded. Start opens
	// it. The giver closes it after Run, which records the end.
	Record Recorder
	Start  outing.StartEntry
	// DiskFree tells the bytes free where the record is written, at once; false
	// when that isn't known. Nil: never known.
	DiskFree func() (bytes int64, known bool)
	// Resume is the state of an outing that is taken up again: pass, facing,
	// skyline, marks and checklist are restored. Nil begins afresh.
	Resume *outing.State
	// Notice is one more thing to tell at the start, a sentence without its full
	// stop; may be empty.
	Notice string
	// Review reviews the record as it is by now, what waits to be written included.
	// It may take its time: it is called beside the frames, by one goroutine at a
	// time. Nil: there is nothing to review.
	Review func(ctx context.Context) (review.Review, error)
	// Voice says the instructions. Where there is none (nil), or it has a
	// problem, Tones plays them; nil: the terminal's bell rings them.
	Voice Voice
	Tones TonePlayer
	// Commands are run at their times of the pass.
	Commands []Command

	Ear    outing.Ear    // how late a mark comes; zero: outing.DefaultEar
	Checks []outing.Item // the checklist; nil: outing.DefaultItems

	// NoiseWay and NoiseDB are how the noise test weakens what comes in, see
	// outing.NewTriage; zero: an attenuator of 10 dB.
	NoiseWay outing.Way
	NoiseDB  float64

	// Radio and Ground tell what the views of the reception and of the ground show.
	// Nil: these views say what to configure for it.
	Radio  RadioSource
	Ground GroundSource

	Theme string // auto, light, dark or mono
	ASCII bool

	Title string // a short word that stays on the screen, such as "demo"; may be empty
	// Sounds tells what can be heard at a moment by the computer's clock where
	// no receiver is there to be heard, in the demonstration. It stands beside
	// the title. The boom is held as the screen says; nil: it doesn't say.
	// Nil, or an empty text: nothing.
	Sounds func(computer time.Time, boom *Boom) string
	// Practice lets the keys turn the boom; nil: nobody practises.
	Practice Practice
}
