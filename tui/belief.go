package tui

import (
	"math"

	tea "github.com/charmbracelet/bubbletea"

	"foreaim/track/outing"
)

// unlearnt is how the record names that aims are the predicted ones.
const unlearnt = "aims are not learned"

// worthSaying is the time error's standard deviation in seconds from which it is
// said what is believed before anything was heard or missed.
const worthSaying = 10

// tellBelief takes what is believed.
func (s *scene) tellBelief(l *learning) {
	s.unlearned = l.off
	s.unteachable = l.failed
	if l.off || l.advice == nil || s.pass == nil || !l.subject.of(s) {
		return
	}
	s.belief = l.advice
	s.followBelief()
	s.twists = l.twists(s)
	s.twist = len(s.twists) > 0 && s.twists[0] == s.moment.Next.Number
}

// followBelief takes the satellite for as late as it is believed to be, once that is
// more than nobody knows.
func (s *scene) followBelief() {
	e := s.belief.TimeErrorS
	if !s.lookOK || !s.belief.Learned || !s.belief.Explains || math.Abs(e.Mean) < 1.5*e.Sigma {
		return
	}
	if look, err := s.target.orbit.LookLate(s.site, s.now, e.Mean); err == nil {
		s.look, s.lateS = look, e.Mean
	}
}

// of tells whether it is about the pass that is shown.
func (u subject) of(s *scene) bool {
	return s.number == u.target+1 && s.pass.Rise.Time.Sub(u.rise).Abs() < samePass
}

// twistWords are said when the boom is to be twisted.
const twistWords = "twist the boom a quarter turn about its own axis"

// speakTwist says aloud that the boom is to be twisted, once, and takes it as done
// when the burst comes.
func (m *model) speakTwist() {
	s, l := &m.scene, &m.learning
	if !s.twist {
		l.twistSaid = false
		return
	}
	if s.moment.Now {
		l.turns, s.twist = l.aims[s.moment.Next.Number].quarterTurns, false
		return
	}
	if !l.twistSaid {
		l.twistSaid = m.speaking.aside(s, twistWords)
	}
}

// believed says what is believed in one line, from the fullest to the shortest;
// nothing while that is what everybody takes for granted.
func (s *scene) believed() []string {
	a := s.belief
	if a == nil || !a.Learned && a.TimeErrorS.Sigma < worthSaying && !s.twist {
		return nil
	}
	lines := []string{capital(a.Words()), capital(a.Brief())}
	if !s.twist {
		return lines
	}
	return []string{capital(twistWords) + ": " + a.Brief(), capital(twistWords), "Twist the boom 90°"}
}

// learningRemark says when nothing is learned that could be.
func (s *scene) learningRemark() remark {
	switch {
	case s.unlearned:
		return remark{"aims as predicted, not learned", "not learning", true, unlearnt}
	case s.unteachable != "":
		return remark{long: "nothing is learned: " + s.unteachable, short: "nothing learned"}
	}
	return remark{}
}

// tellBeliefTo fills what is believed into an entry of the record.
func (s *scene) tellBeliefTo(e *outing.AdviceEntry) {
	a := s.belief
	if a == nil {
		return
	}
	rounded := func(x float64) outing.Number { return outing.NumberOf(math.Round(x*1e3) / 1e3) }
	e.HearProbability, e.AudibleProbability = rounded(a.HearProbability), rounded(a.AudibleProbability)
	e.TimeErrorS, e.TimeErrorSigmaS = rounded(a.TimeErrorS.Mean), rounded(a.TimeErrorS.Sigma)
	e.HeadingErrorDeg, e.HeadingErrorSigmaDeg = rounded(a.HeadingErrorDeg.Mean), rounded(a.HeadingErrorDeg.Sigma)
}

// learned takes the answer of the belief.
func (m *model) learned(msg learnedMsg) {
	m.learning.take(msg, m.scene.now, m.tracker.planned.plan)
}

// learnDue returns the command that the belief has to be given.
func (m *model) learnDue() tea.Cmd {
	if !m.settled() {
		return nil
	}
	cmd := m.learning.due(m.tracker, &m.scene, m.marking.marks)
	if words := m.learning.kept.words; words != "" {
		m.learning.kept.words = ""
		m.insist(words)
	}
	return cmd
}

// twists returns the numbers of the holds to come that begin with a twist of the
// boom.
func (l *learning) twists(s *scene) []int {
	var all []int
	turns := l.turns
	for _, h := range toCome(s) {
		if a, ok := l.aims[h.Number]; ok && a.quarterTurns != turns {
			turns = a.quarterTurns
			all = append(all, h.Number)
		}
	}
	return all
}
