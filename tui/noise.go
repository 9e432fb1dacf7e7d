package tui

import (
	"strings"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"foreaim/track/outing"
)

// padDB is the attenuator that the noise test is made with where nothing else
// is configured: its middle sizes tell most.
const padDB = 10

// noise is the noise test, under way or over.
type noise struct {
	test    *outing.Triage // nil: none
	broken  bool           // off for a burst
	finding *outing.Finding
}

// noiseLines is what the noise test shows.
type noiseLines struct {
	question string // takes the place of the instructions
	caution  string
	aside    []string // takes the place of the direction
	todo     string   // what to do now that it is over
}

// toggleNoiseTest begins the test, or leaves it.
func (m *model) toggleNoiseTest() tea.Cmd {
	if m.noise.test != nil {
		return m.leaveNoiseTest()
	}
	way, db := m.config.NoiseWay, m.config.NoiseDB
	if way == "" {
		way, db = outing.Pad, padDB
	}
	test, err := outing.NewTriage(way, db, m.marking.marks.NoiseIsUp())
	if err != nil {
		m.tell("No noise test: " + err.Error())
		return nil
	}
	m.noise = noise{test: test}
	return nil
}

// leaveNoiseTest takes the test from the screen, and says what is to be put
// back.
func (m *model) leaveNoiseTest() tea.Cmd {
	if m.noise.test == nil {
		return nil
	}
	if back := m.noise.test.Break(); back != "" {
		m.tell("Noise test left. " + back)
	}
	m.noise = noise{}
	return nil
}

// answerNoise takes an answer.
func answerNoise(a outing.Answer) func(m *model) tea.Cmd {
	return func(m *model) tea.Cmd {
		test, now := m.noise.test, m.trueNow()
		if fits, why := test.Fits(now, m.scene.ready()); !fits {
			m.tell(why)
			return nil
		}
		answered, ok := test.Answer(now, m.scene.held(), a)
		if !ok {
			return nil
		}
		m.recording.put(now, answered.Entry())
		m.reception.answered = test.Answered()
		if f, over := test.Finding(); over {
			m.noise.finding = &f
			m.recording.put(now, f.Entry())
		}
		return nil
	}
}

// asking tells whether a question is open.
func (n *noise) asking() bool { return n.test != nil && n.finding == nil }

// ready is when one must be in the next hold for a burst; zero when no burst is
// to come.
func (s *scene) ready() time.Time {
	if s.moment.Next == nil || !s.moment.Next.Burst {
		return time.Time{}
	}
	return s.moment.Next.Ready
}

// watch breaks the test off before a burst, and goes on with it after.
func (n *noise) watch(s *scene) {
	switch {
	case n.finding != nil:
		f := n.finding
		s.noise.aside = []string{f.Meaning, capital(string(f.Cause))}
		s.noise.todo = f.Do + "  x: done"
		if f.Back != "" {
			s.noise.todo = f.Back + " " + s.noise.todo
		}
		return
	case n.test == nil:
		return
	}
	fits, _ := n.test.Fits(s.now, s.ready())
	if fits && n.broken {
		n.test.Resume(s.now)
		fits, _ = n.test.Fits(s.now, s.ready())
	}
	n.broken = !fits
	if n.broken {
		back := n.test.Break()
		s.noise.aside = []string{back + "  The noise test goes on after the burst.", back}
		return
	}
	q, _ := n.test.Question()
	s.noise.question, s.noise.caution = q.Text, q.Caution
}

// draw draws the question over the two rows of the instructions from a row on.
func (n noiseLines) draw(c *canvas, y int) {
	const title, keys = "NOISE TEST  ", "y yes  n no  ? can't tell  x leave"
	c.bar(0, y, c.columns, block)
	if line := c.glyphs.say(title + n.question); cells(line) <= c.columns-2 {
		c.text(1, y, block, line)
		c.text(1, y+1, plain, c.fit(c.columns-2, strings.TrimSpace(n.caution+"  "+keys), keys, "y n ? x"))
		return
	}
	for i, line := range wrap(c.glyphs.say(n.question+"  y n ? x"), c.columns-2) {
		if i == 2 {
			break
		}
		c.text(1, y+i, [...]ink{block, plain}[i], line)
	}
}
