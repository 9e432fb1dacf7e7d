package tui

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"foreaim/track"
	"foreaim/track/beacon"
	"foreaim/track/outing"
)

// rhythm is when the bursts of one pass come, as learned from what was marked as
// heard in it. It is worked on beside the frames. Where the published schedule
// tells the times well enough, nothing is learned.
type rhythm struct {
	target int
	rise   time.Time // of the pass it is about
	heard  []beacon.Mark
	busy   bool
	at     time.Time       // it was looked at last
	prior  beacon.Prior    // for the marks of another pass
	now    beacon.Schedule // zero: as published
	since  time.Time       // unknown times became known; zero: they haven't, or were
	words  string          // may be empty

	// periods are what earlier passes taught, by target. When bursts come is not
	// carried over.
	periods map[int]beacon.Prior
}

const (
	// vague is the tolerance from which burst times are worth learning: a
	// countdown shows seconds.
	vague = time.Second
	// periodShare is how far a published period may be off, as a share of it
	// (common practice, no source).
	periodShare = 0.001
	// rhythmEvery is how often the schedule is taken anew: its uncertainty grows
	// with the time since the last mark.
	rhythmEvery = time.Minute
	// aroundPass is how long before the rise and after the set a late or early
	// satellite is heard; the next pass is an orbit away.
	aroundPass = 10 * time.Minute
	// finestS keeps a mark from being taken as exact.
	finestS = 0.05
)

// unsure tells whether a published schedule leaves the times of the bursts to be
// learned. A phase that is given without a tolerance is taken at its word.
func unsure(s beacon.Schedule) bool { return !s.Known() || s.Tolerance > vague }

// about tells whether it is about a pass of a target.
func (r *rhythm) about(target int, p track.Pass) bool {
	return r.target == target && !r.rise.IsZero() && r.rise.Sub(p.Rise.Time).Abs() < samePass
}

// schedule returns when bursts are to be expected in a pass of the chosen target,
// and whether that was learned; p may be nil.
func (k *tracker) schedule(p *track.Pass) (s beacon.Schedule, learned bool) {
	if r := &k.rhythm; p != nil && r.now.Period > 0 && r.about(k.chosen, *p) {
		return r.now, true
	}
	return k.targets[k.chosen].Schedule, false
}

// rhythmMsg is what the marks tell.
type rhythmMsg struct {
	target   int
	rise     time.Time
	heard    []beacon.Mark
	at       time.Time
	schedule beacon.Schedule // Period 0: nothing better than the published one
	prior    beacon.Prior
	words    string // that last
	wait     string // and those with the next burst
}

// due returns the command that learns from the marks of the pass that is shown;
// nil while nothing has changed.
func (r *rhythm) due(s *scene, marks *outing.Marks) tea.Cmd {
	if s.pass == nil || s.pass.AlwaysUp || !unsure(s.published) {
		return nil
	}
	target := s.number - 1
	if !r.about(target, *s.pass) {
		r.begin(target, s.pass.Rise.Time)
	}
	from, to := s.pass.Rise.Time.Add(-aroundPass), s.pass.Set.Time.Add(aroundPass)
	heard := heardBetween(marks, from, to)
	if len(heard) == 0 {
		r.heard, r.now, r.since, r.words = nil, beacon.Schedule{}, time.Time{}, ""
		return nil
	}
	age := s.now.Sub(r.at)
	if r.busy || slices.Equal(heard, r.heard) && age >= 0 && age < rhythmEvery {
		return nil
	}
	r.busy = true
	m := rhythmMsg{target: target, rise: r.rise, heard: heard, at: s.now}
	prior, listened := r.before(s), listenedTo(marks, heard)
	return func() tea.Msg {
		learned, err := beacon.Learn(prior, m.heard, listened)
		if err != nil {
			m.words = "burst times can't be learned: " + clean(err.Error())
			m.wait = m.words
			return m
		}
		// Marks that don't fit move no published times.
		if fits := func(odds float64) bool { return odds < 0.5 }; !prior.Schedule.Known() || slices.ContainsFunc(learned.False, fits) {
			m.schedule, _ = learned.Schedule(m.at)
		}
		m.prior = learned.Prior(m.at)
		m.words, m.wait = learned.Brief(), learned.Words(m.at)
		return m
	}
}

// begin begins with another pass: of the one before only the period is kept.
func (r *rhythm) begin(target int, rise time.Time) {
	if r.periods == nil {
		r.periods = map[int]beacon.Prior{}
	}
	if p := r.prior; p.Schedule.Period > 0 && len(r.heard) > 2 {
		p.Schedule.First, p.Schedule.Tolerance = time.Time{}, 0
		p.PeriodSigma = max(p.PeriodSigma, periodShare/100)
		r.periods[r.target] = p
	}
	*r = rhythm{target: target, rise: rise, busy: r.busy, periods: r.periods}
}

// before is what is known before the marks of the pass that is shown.
func (r *rhythm) before(s *scene) beacon.Prior {
	p := beacon.Prior{Schedule: s.published}
	switch earlier, ok := r.periods[r.target]; {
	case s.published.Known(): // its phase is meant for now, however old First is
		p.Schedule.First = s.published.Next(s.pass.Rise.Time).Time
	case ok:
		return earlier
	}
	if s.published.Period > 0 {
		p.PeriodSigma = periodShare
	}
	return p
}

// heardBetween returns when bursts began that were marked as heard.
func heardBetween(marks *outing.Marks, from, to time.Time) []beacon.Mark {
	var all []beacon.Mark
	for _, k := range marks.All() {
		if at := k.Origin.LikelyStart; k.Kind == outing.Heard && at.After(from) && at.Before(to) {
			all = append(all, beacon.Mark{Time: at, SigmaS: min(max(k.Origin.UncertaintyS, finestS), beacon.MaxMarkSigmaS)})
		}
	}
	return all
}

// listenedTo returns when somebody listened between the first and the last of
// what was heard.
func listenedTo(marks *outing.Marks, heard []beacon.Mark) []beacon.Interval {
	from, to := heard[0].Time, heard[0].Time
	for _, m := range heard {
		if m.Time.Before(from) {
			from = m.Time
		}
		to = later(to, m.Time)
	}
	from, to = from.Add(-time.Second), to.Add(time.Second)
	var all []beacon.Interval
	for _, k := range marks.All() {
		if k.Kind != outing.NotListening {
			continue
		}
		off, on := k.At, k.Until
		switch {
		case k.Automatic:
			off, on = k.Origin.Start.Add(-time.Second), k.At
		case on.IsZero():
			on = to
		}
		if off.Before(to) && from.Before(off) {
			all = append(all, beacon.Interval{From: from, To: off})
		}
		from = later(from, on)
	}
	if from.Before(to) {
		all = append(all, beacon.Interval{From: from, To: to})
	}
	return all
}

// take takes what was learned; it tells whether times are known that weren't.
func (r *rhythm) take(m rhythmMsg, published beacon.Schedule, marks *outing.Marks) (news bool) {
	r.busy = false
	if m.target != r.target || !m.rise.Equal(r.rise) {
		return false
	}
	r.heard, r.at, r.prior, r.words = m.heard, m.at, m.prior, m.words
	was := r.now
	switch s := m.schedule; {
	case s.Known():
		if !was.Known() {
			was = published
		}
		news = !was.Known()
		if news {
			r.since = m.at
		}
		r.now = numbered(s, was, marks)
		return news
	case published.Period == 0 && s.Period > 0:
		r.now = beacon.Schedule{Period: s.Period.Round(10 * time.Millisecond), Length: s.Length}
	default:
		r.now = beacon.Schedule{}
	}
	r.since = time.Time{}
	if len(r.heard) < 2 {
		r.words = ""
	}
	return false
}

// numbered lets a schedule count its bursts on from where another did, or where
// there is none from beyond all that were marked, since marks know bursts by
// their numbers.
func numbered(s, before beacon.Schedule, marks *outing.Marks) beacon.Schedule {
	n := 0
	if before.Known() {
		n = numberAt(before, s.First)
	} else {
		for _, k := range marks.All() {
			n = max(n, k.Origin.Number)
		}
		n += 100
	}
	s.First = s.First.Add(-time.Duration(n) * s.Period)
	return s
}

// numberAt returns the number of the burst nearest a time.
func numberAt(s beacon.Schedule, t time.Time) int { return s.Next(t.Add(-s.Period / 2)).Number }

// alike tells whether two schedules have the same bursts at some times, as far as
// an antenna has to care.
func alike(a, b beacon.Schedule, at ...time.Time) bool {
	const close = 500 * time.Millisecond
	if a == b {
		return true
	}
	if !a.Known() || !b.Known() {
		return false
	}
	for _, t := range at {
		burst := b.Next(t).Time
		if a.Next(burst.Add(-a.Period/2)).Time.Sub(burst).Abs() > close {
			return false
		}
	}
	return true
}

// rhythmDue returns the command that learns when bursts come.
func (m *model) rhythmDue() tea.Cmd {
	if !m.settled() {
		return nil
	}
	return m.tracker.rhythm.due(&m.scene, m.marking.marks)
}

// takeRhythm takes what was learned of when bursts come, and tells it when that
// was unknown.
func (m *model) takeRhythm(msg rhythmMsg) {
	if m.tracker.rhythm.take(msg, m.tracker.targets[msg.target].Schedule, m.marking.marks) {
		m.tell(capital(msg.wait))
		m.brief = capital(msg.words)
	}
}

// rhythmRemark says what was learned of when bursts come.
func (s *scene) rhythmRemark() remark {
	short, _, _ := strings.Cut(s.rhythm, ";")
	return remark{long: s.rhythm, short: short}
}

// spread says how far the next burst may be from its countdown, in seconds, where
// that was learned: "±0.6".
func (s *scene) spread() string {
	if !s.learnedTimes || !s.plan.BurstsKnown || s.moment.Next == nil || s.stage == burstNow {
		return ""
	}
	sigma := s.target.Schedule.UncertaintyS(s.moment.Next.At)
	if sigma < 2 {
		return fmt.Sprintf("±%.1f", max(sigma, 0.1))
	}
	return fmt.Sprintf("±%.0f", math.Ceil(sigma))
}
