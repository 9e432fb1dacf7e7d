package tui

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"foreaim/track"
	"foreaim/track/north"
)

// finder is the view in which straight ahead is found: what was taken so far and
// what is under way.
type finder struct {
	taken   []taken
	said    north.Facing // by all that are taken
	changes int          // of taken, to tell one state from another
	places  []north.Landmark

	ways     []way  // as they are now
	note     string // on the place; may be empty
	selected string // name of a way; one that isn't there stands for the best
	// rightDeg is where what is looked at stands, to the right of straight ahead.
	rightDeg float64
	walk     *walk
	turn     *turning
	boom     mount
	check    *north.SensorCheck // of the boom's sensor, that it didn't pass
	news     news               // to be said aloud
	remember *track.Site        // to be kept; nil: nothing
}

// lookNorth looks at what is known of north, and follows what is under way.
func (m *model) lookNorth() {
	f, s := &m.finder, &m.scene
	m.watchMoves()
	s.facing, s.said, s.made = m.facing, f.said, f.entries()
	site, known, _ := m.here()
	s.sensed, s.check = s.sense(site, known), f.check
	s.tellLandmarks(slices.Concat(m.config.Landmarks, f.places), site, known)
	if f.boom.follows && s.sensed.known {
		f.rightDeg = track.TurnDeg(f.boom.zeroDeg, s.sensed.rawDeg)
	}
	if m.showing == onNorth {
		f.ways, f.note = m.lookWays(), poleNote(site, known)
	}
}

// nearPoleDeg is the latitude from which an azimuth needs its meridian to be
// told: there one differs from another by the metre.
const nearPoleDeg = 89.9

// poleNote says which way azimuths count near a pole.
func poleNote(site track.Site, known bool) string {
	if !known || math.Abs(site.LatitudeDeg) < nearPoleDeg {
		return ""
	}
	return fmt.Sprintf("This near the pole azimuths count from the meridian of %.1f° east.", track.Wrap360(site.LongitudeDeg))
}

// taken is a reference and where it was taken.
type taken struct {
	north.Reference
	at    track.Site
	known bool // at
}

const (
	mostTaken = 10
	// takenTwice is how soon the same reference again is the same reading: the
	// key was pressed twice, or where it stands was put right.
	takenTwice = 5 * time.Second
)

// here returns where the operator is, and whether a receiver says so now.
func (m *model) here() (site track.Site, known, measured bool) {
	fix := m.scene.report.Fix
	if fix.Valid() && !m.config.SiteFixed {
		site := track.Site{LatitudeDeg: fix.LatitudeDeg, LongitudeDeg: fix.LongitudeDeg, HeightM: m.tracker.site.HeightM}
		if fix.AltitudeKnown {
			site.HeightM = fix.AltitudeM
		}
		return site, true, true
	}
	return m.tracker.site, m.tracker.siteKnown, false
}

// take adds a reference. A facing that somebody only said joins the first one,
// as a word.
func (m *model) take(r north.Reference) {
	f := &m.finder
	if word := m.facing; len(f.taken) == 0 && word.known && word.sigmaDeg == 0 && word.how != "guessed" {
		if told, err := north.Refer(north.ByWord, word.how, word.deg, 0, 0, r.At); err == nil {
			f.taken = append(f.taken, taken{Reference: told})
		}
	}
	again := false
	if n := len(f.taken); n > 0 {
		last := f.taken[n-1]
		again = last.Kind == r.Kind && last.Name == r.Name && r.At.Sub(last.At).Abs() < takenTwice
	}
	if again {
		f.taken = f.taken[:len(f.taken)-1]
	}
	dropped := ""
	if len(f.taken) == mostTaken {
		dropped = ". The oldest is dropped: " + clean(f.taken[0].Label())
		f.taken = slices.Delete(f.taken, 0, 1)
	}
	site, known, measured := m.here()
	f.taken = append(f.taken, taken{r, site, known && measured})
	words := capital(clean(r.Label())) + ": straight ahead is " + within(r.FacingDeg, r.SigmaDeg)
	brief := words
	if m.checkSensor(r) {
		words += ", and the sensor agrees"
	}
	f.rightDeg = 0
	if !m.combine() {
		return
	}
	if !again || f.news.text != "" {
		f.news = news{foundAloud(f.said), m.scene.now.Add(newsFor)}
	}
	m.tell(words + dropped)
	m.brief = brief
}

// combine works out straight ahead from all that was taken; false where it can't,
// which it tells.
func (m *model) combine() bool {
	f := &m.finder
	f.changes++
	if len(f.taken) == 0 {
		f.said = north.Facing{}
		m.facing = facing{ahead: m.facing.ahead, sensor: m.facing.sensor}
		return true
	}
	said, err := north.Combine(f.references(), m.trueNow())
	if err != nil {
		m.tell(capital(reason(err)))
		return false
	}
	f.said = said
	var names []string
	for _, r := range said.Used {
		if name := clean(r.Label()); !slices.Contains(names, name) {
			names = append(names, name)
		}
	}
	was := m.facing
	m.facing = facing{
		known: true, deg: said.Deg, sigmaDeg: said.SigmaDeg, how: strings.Join(names, ", "),
		ahead: m.facing.ahead, sensor: was.sensor, changes: f.changes,
	}
	if was.known && was.sigmaDeg < lostDeg { // straight ahead is known better, and so is what was set by it
		m.facing.sensor = was.sensor.Turned(track.TurnDeg(was.deg, said.Deg), m.facing.sigma())
	}
	return true
}

func (f *finder) references() []north.Reference {
	all := make([]north.Reference, len(f.taken))
	for i, t := range f.taken {
		all[i] = t.Reference
	}
	return all
}

// untake takes the last reference away, or leaves what is under way.
func (m *model) untake() tea.Cmd {
	f := &m.finder
	switch {
	case f.walk != nil || f.turn != nil:
		m.giveUp()
	case len(f.taken) == 0:
		m.tell("There is no reference to take away")
	default:
		last := f.taken[len(f.taken)-1]
		f.taken = f.taken[:len(f.taken)-1]
		if f.check != nil && f.check.Against == last.Reference {
			f.check = nil
		}
		m.combine()
		m.tell("Taken away: " + clean(last.Label()))
	}
	return nil
}

// shift turns straight ahead, and with it what every reference says of it.
func (f *finder) shift(deg float64, now time.Time) {
	for i := range f.taken {
		f.taken[i].FacingDeg = track.Wrap360(f.taken[i].FacingDeg + deg)
	}
	if said, err := north.Combine(f.references(), now); err == nil {
		f.said = said
	}
}

// forget puts all references aside: somebody says better.
func (f *finder) forget() { f.taken, f.said, f.check = nil, north.Facing{}, nil }

// within says a direction with its uncertainty: "135° ±3°".
func within(deg, sigmaDeg float64) string {
	switch {
	case sigmaDeg == 0:
		return fmt.Sprintf("%03d°", whole360(deg))
	case sigmaDeg > lostDeg:
		return "anywhere"
	}
	return fmt.Sprintf("%03d° ±%d°", whole360(deg), max(whole(sigmaDeg), 1))
}

// reason is an error as a sentence for people, without what it is wrapped in.
func reason(err error) string {
	return clean(strings.TrimPrefix(err.Error(), north.ErrReference.Error()+": "))
}
