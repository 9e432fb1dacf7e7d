package tui

import (
	"slices"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"foreaim/track"
	"foreaim/track/aim"
	"foreaim/track/outing"
)

// learning keeps what is believed of how late the satellite is and how wrong the
// operator's north, and the aims that follow from it. The belief itself is worked
// on beside the frames, by one command at a time.
type learning struct {
	off    bool // aims are the predicted ones
	faced  []faced
	since  time.Time               // the facing was set to something else altogether
	felt   map[int64]aim.Direction // where a sensor on the boom pointed, by the burst's start in ms
	passed []aim.Hold              // that are over, where burst times are unknown
	last   aim.Hold                // the next one of the frame before

	subject subject // what is to be learned; zero: nothing yet
	busy    bool    // a command has the belief
	belief  *aim.Belief
	about   subject           // the belief
	told    []aim.Observation // the belief took
	ahead   []ahead           // the holds that were advised, the next one first
	failed  string            // why there is no belief; empty while there is one
	advice  *aim.Advice       // the newest; nil: none yet
	aims    map[int]advised   // by the number of the hold
	version int               // of the aims
	over    overlay
	// patience is how long after a burst's start it is known whether it was heard.
	patience time.Duration
	turns    int // quarter turns of the boom that were made
	// takenUp tells that the outing was taken up: what was made before isn't known
	// but by what is believed now.
	takenUp bool
	// twistSaid tells that the next one was said aloud.
	twistSaid bool

	kept carried
}

// advised is the aim for a hold.
type advised struct {
	aim.Direction
	quarterTurns int
	at           time.Time // of the hold
}

// ahead is a hold to come.
type ahead struct {
	number int
	at     time.Time
}

// is tells whether it is about a hold: numbers move when burst times are learned.
func (a ahead) is(h aim.Hold) bool {
	return a.number == h.Number && a.at.Sub(h.At).Abs() < sameHold
}

// sameHold is how far a hold may be moved and still be the same.
const sameHold = 5 * time.Second

// of tells whether it is the aim for a hold.
func (a advised) of(h aim.Hold) bool { return ahead{h.Number, a.at}.is(h) }

// overlay is a plan with the aims that were learned.
type overlay struct {
	version, generation int
	at                  time.Time
	plan                aim.Plan
}

func newLearning(c Config, targets []target) learning {
	l := learning{felt: map[int64]aim.Direction{}, aims: map[int]advised{}}
	l.kept.north = c.EarlierNorth
	if r := c.Resume; r != nil {
		l.off = slices.Contains(r.Warnings, unlearnt)
		l.since, l.takenUp = r.FacingAt, true
		l.kept.resume(r, chosenOf(c, targets))
	}
	return l
}

// learnedMsg is the answer of the belief.
type learnedMsg struct {
	subject subject
	belief  *aim.Belief
	told    []aim.Observation
	ahead   []ahead
	advice  []aim.Advice
	err     error
}

// most is for how many holds to come aims are worked out at a time.
const most = 24

// due returns the command that takes what was marked into account, or works out
// the aims for the holds to come; nil while nothing is to be done.
func (l *learning) due(k *tracker, s *scene, marks *outing.Marks) tea.Cmd {
	if !l.ask(k, s) || l.off || l.busy || len(s.plan.Holds) == 0 {
		return nil
	}
	u := l.subject
	fresh := l.about != u
	seen := l.observations(u, k, marks)
	var coming []ahead
	var at []time.Time
	for _, h := range toCome(s) {
		moment := h.At.Add(-time.Millisecond)
		if !h.Burst {
			moment = h.Ready
			if moment.Before(s.now) {
				moment = s.now
			}
		}
		coming, at = append(coming, ahead{h.Number, h.At}), append(at, moment)
	}
	if !fresh && len(seen) == len(l.told) && same(seen, l.told) && (len(coming) == 0 || len(l.ahead) > 0 && l.ahead[0].is(aim.Hold{Number: coming[0].number, At: coming[0].at})) {
		return nil
	}
	l.busy, l.about = true, u
	belief, told := l.belief, l.told
	if fresh || len(seen) < len(told) || !same(seen, told) {
		belief, told = nil, nil
	}
	prior := u.prior(k)
	return func() tea.Msg {
		m := learnedMsg{subject: u, belief: belief, told: seen, ahead: coming}
		if m.belief == nil {
			if m.belief, m.err = aim.NewBelief(prior); m.err != nil {
				return m
			}
		}
		for _, o := range seen[len(told):] {
			m.belief.Observe(o)
		}
		if len(at) == 0 {
			at = []time.Time{u.set}
		}
		m.advice = m.belief.Ahead(at)
		return m
	}
}

// toCome are the holds to come, as many as are looked at: the next one until its
// burst begins, then those after it, so that the way there is known in time.
func toCome(s *scene) []aim.Hold {
	if s.moment.Next == nil {
		return nil
	}
	all := s.moment.Following
	if next := *s.moment.Next; !next.Burst || s.now.Before(next.At) {
		all = append([]aim.Hold{next}, all...)
	}
	return all[:min(len(all), most)]
}

// ask tells what there is to learn; false where that is nothing, or where it isn't
// known yet how late the satellite may be.
func (l *learning) ask(k *tracker, s *scene) bool {
	if s.pass == nil || len(k.targets) == 0 || !teaches(s.target, *s.pass) || s.off.sigmaS <= 0 {
		return false
	}
	u := subject{target: k.chosen, site: k.site, rise: s.pass.Rise.Time, set: s.pass.Set.Time, since: l.since, schedule: s.target.Schedule}
	if !l.subject.rise.IsZero() && l.subject.samePass(u) && l.subject.since.Equal(u.since) {
		u.late, u.heading = l.subject.late, l.subject.heading // what was expected before it began
		if alike(l.subject.schedule, u.schedule, s.now, u.set) {
			u.schedule = l.subject.schedule
		}
		l.subject = u
		l.wait(k)
		return true
	}
	if !l.subject.samePass(u) {
		l.aims, l.passed, l.turns, l.advice = map[int]advised{}, nil, 0, nil
		clear(l.felt)
		l.version++
	}
	u.late, u.heading = l.kept.prior(u, s)
	l.subject = u
	l.wait(k)
	return true
}

// wait sets the patience.
func (l *learning) wait(k *tracker) {
	sch := l.subject.schedule
	latest := earOf(k.config).Latest(outing.Burst{Length: sch.Length, Tolerance: sch.Tolerance})
	l.patience = min(latest.Sub(time.Time{})+200*time.Millisecond, sch.Period/3)
}

// samePass is how far the rise of a pass moves when it is computed anew; the
// next pass is an orbit away.
const samePass = 20 * time.Minute

// samePass tells whether two subjects are about the same pass.
func (u subject) samePass(v subject) bool {
	return u.target == v.target && u.rise.Sub(v.rise).Abs() < samePass
}

// take takes the belief's answer.
func (l *learning) take(m learnedMsg, now time.Time, plan aim.Plan) {
	l.busy = false
	if m.subject != l.subject {
		l.belief, l.told, l.about = nil, nil, subject{}
		return
	}
	l.belief, l.told, l.ahead, l.failed = m.belief, m.told, m.ahead, ""
	if m.err != nil {
		l.failed, l.belief = clean(m.err.Error()), nil
		return
	}
	if len(m.advice) == 0 {
		return
	}
	l.advice = &m.advice[0]
	if l.takenUp {
		l.turns, l.takenUp = l.advice.QuarterTurns, false
	}
	l.kept.learn(l.subject, m.advice[0], now)
	holds := make(map[int]aim.Hold, len(plan.Holds))
	for _, h := range plan.Holds {
		holds[h.Number] = h
	}
	for i, n := range m.ahead[:min(len(m.ahead), len(m.advice))] {
		h, ok := holds[n.number]
		a := m.advice[i]
		if !ok || !n.is(h) || a.Next.IsZero() {
			continue
		}
		to := h.Direction
		if h.OffDeg(a.Aim) > nearDeg {
			to = a.Aim
		}
		h.Direction = l.sendable(h, to, now)
		l.aims[h.Number] = advised{h.Direction, a.QuarterTurns, h.At}
	}
	l.version++
}

// nearDeg is how far from a predicted direction an aim must be to be another.
const nearDeg = 1.0

// watch looks at what the belief needs to know besides the marks.
func (l *learning) watch(s *scene, f facing) {
	if n := len(l.faced); n == 0 || l.faced[n-1].deg != f.deg {
		if n > 0 {
			l.reface(s.now, f)
		}
		l.faced = append(l.faced, faced{s.now, f.deg})
	}
	l.kept.facing = f
	if next := s.moment.Next; next != nil {
		if boom, ok := s.points(); ok && next.Burst && s.moment.Now && !s.now.Before(next.At) {
			if at := next.At.UnixMilli(); l.felt[at] == (aim.Direction{}) {
				l.felt[at] = boom
			}
		}
		if next.Burst && !l.last.Burst && l.last.Ready.Before(s.now) && s.now.Before(l.last.Until) { // times are known now
			l.last.Until = s.now
			l.passed = append(l.passed, l.last)
		}
		if !next.Burst && l.last.Number == next.Number-1 && !l.last.Burst && !l.last.At.IsZero() {
			l.passed = append(l.passed, l.last)
		}
		l.last = *next
	}
}

// points returns where the boom points, if that is known.
func (s *scene) points() (aim.Direction, bool) {
	if s.hand != nil {
		return s.handAt(), true
	}
	return s.sensed.boom, s.sensed.known && s.sensed.pitched
}

// reface takes it that the facing was corrected, which turns all directions
// that were told; or set to another, which ends what they are good for.
func (l *learning) reface(now time.Time, f facing) {
	before := l.faced[len(l.faced)-1].deg
	was := l.kept.facing
	if f.how == "typed" || f.known != was.known {
		l.since = now
		l.kept.settle(false)
		return
	}
	turn := track.TurnDeg(before, f.deg)
	if f.sigmaDeg == was.sigmaDeg { // turned by hand, by what was learned perhaps
		l.subject.heading.mean -= turn
	} else {
		expected := ""
		if l.subject.heading, expected = l.kept.northOf(f); expected != "" {
			l.kept.words = fromEarlier(expected)
		}
	}
	for n, a := range l.aims {
		a.AzimuthDeg = track.Wrap360(a.AzimuthDeg + turn)
		l.aims[n] = a
	}
	l.version++
}

// on returns a plan with the aims that were learned.
func (l *learning) on(p aim.Plan, generation int, at time.Time) aim.Plan {
	if l.off || len(l.aims) == 0 {
		return p
	}
	if o := &l.over; o.version == l.version && o.generation == generation && o.at.Equal(at) {
		return o.plan
	}
	q := aim.Plan{Holds: slices.Clone(p.Holds), BurstsKnown: p.BurstsKnown}
	for i := range q.Holds {
		if a, ok := l.aims[q.Holds[i].Number]; ok && a.of(q.Holds[i]) {
			q.Holds[i].Direction = a.Direction
			if h := &q.Holds[i]; h.Burst { // stay until it is known whether it was heard
				h.Until = later(h.Until, h.At.Add(l.patience))
			}
		}
	}
	l.over = overlay{l.version, generation, at, q}
	return q
}

func later(a, b time.Time) time.Time {
	if a.After(b) {
		return a
	}
	return b
}

// toggleLearning switches learning off and on.
func (m *model) toggleLearning() tea.Cmd {
	l := &m.learning
	l.off = !l.off
	l.ahead = nil // all is worked out anew
	if l.off {
		m.tell("Aims are the predicted ones: nothing is learned from what is heard")
	} else {
		m.tell("Aims follow what is learned from each burst")
	}
	return nil
}
