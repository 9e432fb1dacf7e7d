package tui

import (
	"errors"
	"fmt"
	"strings"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"foreaim/track"
	"foreaim/track/aim"
	"foreaim/track/outing"
)

// marking holds what was marked, for each satellite.
type marking struct {
	marks   *outing.Marks // of the chosen one
	number  int           // its catalogue number
	all     []*outing.Marks
	numbers []int
	newest  int // the largest ID of the record's marks
	// asked is the plan whose bursts the marks expect.
	asked struct {
		generation, version int
		at                  time.Time
	}
}

// newMarking begins the marks, or takes them up again.
func newMarking(c Config, targets []target) (marking, error) {
	m := marking{marks: outing.NewMarks(earOf(c), 0)} // for no satellite at all
	var lost []error
	for _, t := range targets {
		lost = append(lost, m.add(c, t))
	}
	if c.Resume != nil {
		for _, k := range c.Resume.Marks {
			m.newest = max(m.newest, k.ID)
		}
	}
	m.choose(chosenOf(c, targets))
	return m, errors.Join(lost...)
}

// add begins the marks of one more satellite, or takes them up again.
func (m *marking) add(c Config, t target) error {
	marks := outing.NewMarks(earOf(c), t.Schedule.Length)
	m.all, m.numbers = append(m.all, marks), append(m.numbers, t.orbit.Elements().CatalogueNumber)
	if c.Resume == nil {
		return nil
	}
	return marks.Restore(marksOf(t, c.Resume), c.Resume.Last)
}

// earOf is how late a mark comes.
func earOf(c Config) outing.Ear {
	if c.Ear == (outing.Ear{}) {
		return outing.DefaultEar()
	}
	return c.Ear
}

// marksOf returns the marks of a record that are of a satellite; those that
// tell none are of the one that the record was about.
func marksOf(t target, r *outing.State) []outing.Mark {
	var own []outing.Mark
	for _, k := range r.Marks {
		about, number := r.Satellite()
		if k.CatalogueNumber != 0 {
			about, number = "", k.CatalogueNumber
		}
		if about == "" && number == 0 || t.is(about, number) {
			own = append(own, k)
		}
	}
	return own
}

// choose takes the marks of another satellite.
func (m *marking) choose(target int) {
	if target >= len(m.all) || m.marks == m.all[target] {
		return
	}
	m.marks, m.number = m.all[target], m.numbers[target]
	for _, marks := range m.all {
		m.newest = max(m.newest, marks.Newest())
	}
	m.marks.CountAfter(m.newest)
}

// expect tells the marks which bursts are to come, once for each plan and each
// version of its aims.
func (m *marking) expect(k *tracker, version int, s *scene) {
	if len(s.plan.Holds) == 0 || k.generation == m.asked.generation && version == m.asked.version && k.planned.at.Equal(m.asked.at) {
		return
	}
	m.asked.generation, m.asked.version, m.asked.at = k.generation, version, k.planned.at
	var bursts []outing.Burst
	var known time.Time
	if s.learnedTimes {
		known = k.rhythm.since
	}
	for _, h := range s.plan.Holds {
		if !h.Burst || h.At.Before(known) { // nobody was told to expect it
			continue
		}
		bursts = append(bursts, outing.Burst{
			Number: s.planned.Next(h.At).Number,
			Start:  h.At, Length: s.planned.Length, Tolerance: s.planned.Tolerance, Hidden: h.Hidden,
			Held: heldIn(h),
		})
	}
	m.marks.Expect(s.now, bursts)
}

// held returns the hold that the operator is in, as far as anybody knows: the
// next one from when it is due, until then the last.
func (s *scene) held() outing.Held {
	h := s.moment.Last
	if s.moment.Next != nil && s.moment.Now {
		h = s.moment.Next
	}
	if h == nil {
		return outing.Held{}
	}
	return heldIn(*h)
}

// heldIn says a hold as the record keeps it.
func heldIn(h aim.Hold) outing.Held {
	return outing.Held{Hold: h.Number, Known: true, AzimuthDeg: tidy(h.AzimuthDeg), ElevationDeg: tidy(h.ElevationDeg)}
}

// trueNow is the true time of this moment, not of the last frame: marks are
// dated by it.
func (m *model) trueNow() time.Time { return m.tracker.clock.Correct(m.config.Now()) }

// hear takes the key for heard.
func (m *model) hear() tea.Cmd {
	if p := m.config.Practice; p != nil && !p.Sounded(m.config.Now()) {
		m.tell("Nothing sounded: turn the boom with the arrow keys to where the burst will be")
		return nil
	}
	return m.mark(m.marking.marks.Hear(m.trueNow(), m.scene.held()), "")
}

// undo takes back the last mark.
func (m *model) undo() tea.Cmd {
	changed := m.marking.marks.Undo()
	if len(changed) == 0 {
		m.tell("There is no mark to take back")
		return nil
	}
	words := markWords(changed[0])
	m.mark(changed, "Taken back: "+words)
	return nil
}

// toggleListening says that nobody listens, or somebody again.
func (m *model) toggleListening() tea.Cmd {
	now, k := m.trueNow(), m.marking.marks
	if k.Listening() {
		return m.mark(k.StopListening(now, m.scene.held()), "Not listening: silence counts for nothing until l or a mark")
	}
	return m.mark(k.Listen(now), "Listening again")
}

// toggleNoise says that the noise floor is up, or normal again.
func (m *model) toggleNoise() tea.Cmd {
	k := m.marking.marks
	words := "Noise normal"
	if !k.NoiseIsUp() {
		words = "Noise up: x asks where it comes from"
	}
	return m.mark(k.Noise(m.trueNow(), !k.NoiseIsUp(), m.scene.held()), words)
}

// step moves the frequency of the last mark of what was heard, from where it
// is expected.
func step(hz float64) func(m *model) tea.Cmd {
	return func(m *model) tea.Cmd {
		mark, ok := m.marking.marks.Heard()
		if !ok {
			m.tell("A frequency belongs to what was heard: mark that first")
			return nil
		}
		expected := 0.0
		if t := m.scene.target; t.FrequencyHz > 0 {
			if look, err := t.orbit.Look(m.tracker.site, mark.Burst()); err == nil {
				expected = tidy(track.ReceiveHz(t.FrequencyHz, look.RangeRateKmS))
			}
		}
		if expected == 0 && mark.FrequencyHz == 0 {
			m.tell("No frequency is known to step from: give one with --frequency")
			return nil
		}
		return m.mark(m.marking.marks.StepFrequency(hz, expected), "")
	}
}

// mark records marks that are new or changed, and tells the last one.
func (m *model) mark(changed []outing.Mark, words string) tea.Cmd {
	if len(changed) == 0 {
		return nil
	}
	m.recording.marks(m.trueNow(), m.marking.number, changed)
	if words == "" {
		words = capital(markWords(changed[len(changed)-1]))
	}
	m.tell(words)
	return nil
}

// markWords says a mark: "burst 4 heard, good, 437.4512 MHz".
func markWords(k outing.Mark) string {
	name := "a burst"
	if k.Origin.Expected && k.Held.Hold > 0 {
		name = fmt.Sprintf("burst %d", k.Held.Hold)
	}
	switch k.Kind {
	case outing.Heard:
		if !k.Origin.Expected {
			name = "heard, where none was due"
		} else {
			name += " heard"
		}
		if k.Strength != "" {
			name += ", " + string(k.Strength)
		}
		if k.FrequencyHz > 0 {
			name += ", " + megahertz(k.FrequencyHz)
		}
		return name
	case outing.Silent:
		return name + " silent"
	case outing.NotListening:
		switch {
		case k.Automatic:
			return name + " not listened to"
		case k.Until.IsZero():
			return awayWords
		}
		return "listening again"
	case outing.NoiseUp:
		return noiseUpWords
	default:
		return "noise normal"
	}
}

// What lasts, in words.
const noiseUpWords, awayWords = "noise up", "not listening"

// tally is what the marks come to, for the screen.
type tally struct {
	last                    string // the mark made last, in words
	told                    bool   // the last row says it
	heard, silent, unheeded int
	away, noise             bool // not listening; the noise is up
}

// tallyOf counts the marks that stand.
func tallyOf(marks *outing.Marks) tally {
	t := tally{away: !marks.Listening(), noise: marks.NoiseIsUp()}
	newest := 0
	for _, k := range marks.All() {
		switch {
		case k.Kind == outing.Heard:
			t.heard++
		case k.Kind == outing.Silent:
			t.silent++
		case k.Kind == outing.NotListening && k.Automatic:
			t.unheeded++
		}
		if k.ID > newest {
			newest, t.last = k.ID, markWords(k)
		}
	}
	return t
}

// line says the tally from the fullest to the shortest; nothing before the
// first mark.
func (t tally) line() []string {
	if t.last == "" {
		return nil
	}
	count := fmt.Sprintf("%d heard %d silent", t.heard, t.silent)
	full := count
	if t.unheeded > 0 {
		full += fmt.Sprintf(" %d missed", t.unheeded)
	}
	var states []string
	if t.noise {
		states = append(states, "NOISE UP")
	}
	if t.away {
		states = append(states, "NOT LISTENING")
	}
	state := strings.Join(states, " ")
	join := func(parts ...string) string {
		var kept []string
		for _, p := range parts {
			if p != "" {
				kept = append(kept, p)
			}
		}
		return strings.Join(kept, "  ")
	}
	last := capital(t.last)
	if t.told || t.noise && t.last == noiseUpWords || t.away && t.last == awayWords { // said by the state
		last = ""
	}
	short, _, _ := strings.Cut(last, ",")
	return []string{join(last, full, state), join(short, full, state), join(short, count, state), join(count, state), join(fmt.Sprintf("%d:%d", t.heard, t.silent), state)}
}
