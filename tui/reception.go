package tui

import (
	"cmp"
	"context"
	"errors"
	"slices"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"foreaim/track"
	"foreaim/track/aim"
	"foreaim/track/outing"
	"foreaim/track/radio"
)

const (
	// reckonEvery is how old what is shown of the moment may grow.
	reckonEvery = 2 * time.Second
	// burstsReckoned is how many of the next bursts are reckoned.
	burstsReckoned = 6
)

// reception is the state of the views of reception and ground.
type reception struct {
	asked  receptionOf
	busy   bool
	cancel context.CancelFunc
	known  *gathered // nil until it is known

	answered  []outing.Answered // of the last noise test
	reckoning bool
	reckoned  *reckoned

	transmitter radio.Transmitter // the chosen one
	ground      groundWay
}

// receptionOf is what the transmitters and the link depend on.
type receptionOf struct {
	site   track.Site
	chosen int
	ok     bool
}

// gathered is what is known apart from the moment.
type gathered struct {
	RadioSite
	asked      receptionOf
	err        error
	around     *radio.Surroundings // nil where the link isn't known
	channels   map[radio.Transmitter]string
	unreckoned []radio.Severity // the transmitters, the strongest first
	signals    []signalSeen
}

// signalSeen is a band that stood out on the receiver, with what it may be.
type signalSeen struct {
	radio.Signal
	name string
}

// momentOf is what a reckoning depends on beside what was gathered.
type momentOf struct {
	rise time.Time // of the pass; zero: none
	next int       // the number of the next hold
	slot int64     // of the time
	told told
}

// reckoned is what the transmitters do to the beacon now and at the next bursts.
type reckoned struct {
	of         *gathered
	moment     momentOf
	where      string // where "now" is
	look       track.Look
	now        radio.Overload
	bursts     []burstMargin
	severities []radio.Severity
	advice     radio.Advice
	cause      *radio.Diagnosis // nil: too little is known
}

// burstMargin is the margin for hearing at an expected burst.
type burstMargin struct {
	at     time.Time
	margin radio.Range // dB
}

// Messages of the work beside the frames.
type (
	gatheredMsg struct{ *gathered }
	reckonedMsg struct{ *reckoned }
)

// receptionDue returns the command that is due for the views of reception and
// ground; nil while nothing is to be done.
func (m *model) receptionDue() tea.Cmd {
	if m.showing != onReception && m.showing != onGround {
		return nil
	}
	return tea.Batch(guard(m.gatherDue()), guard(m.reckonDue()), guard(m.vistaDue()))
}

// gatherDue asks what is known here of the chosen target's signal.
func (m *model) gatherDue() tea.Cmd {
	r, source := &m.reception, m.config.Radio
	q, ok := m.tracker.question()
	now := receptionOf{q.site, m.tracker.chosen, ok}
	if now != r.asked {
		if r.cancel != nil {
			r.cancel()
		}
		r.asked, r.known, r.reckoned, r.cancel = now, nil, nil, nil
		r.ground.forget()
	}
	if source == nil || !ok || r.busy || r.known != nil {
		return nil
	}
	r.busy = true
	ctx, cancel := context.WithCancel(m.tracker.ctx)
	r.cancel = cancel
	return func() tea.Msg {
		g := gather(ctx, source, q)
		g.asked = now
		return gatheredMsg{g}
	}
}

// gather asks the source and readies the answer.
func gather(ctx context.Context, source RadioSource, q question) *gathered {
	g := new(gathered)
	if g.RadioSite, g.err = source(ctx, q.target.Target, q.site); g.err != nil {
		return g
	}
	if g.Missing == "" {
		if err := g.Link.Check(); err != nil {
			g.Missing = clean(err.Error())
		} else {
			g.around = radio.NewSurroundings(g.Link, g.Incoming)
		}
	}
	plan := g.Plan
	if plan == nil {
		plan = new(radio.Plan)
	}
	g.channels = make(map[radio.Transmitter]string)
	for _, in := range g.Incoming {
		g.channels[in.Transmitter] = channelName(plan.Identify(radio.Band{LowMHz: in.LowMHz, HighMHz: in.HighMHz}, 0.01, nil))
		g.unreckoned = append(g.unreckoned, radio.Severity{Incoming: in})
	}
	slices.SortStableFunc(g.unreckoned, func(a, b radio.Severity) int {
		return cmp.Compare(b.IsotropicDBm.High, a.IsotropicDBm.High)
	})
	if len(g.Seen.Peaks) == 0 && len(g.Seen.Sweeps) == 0 {
		return g
	}
	link := g.Link
	if g.Missing != "" { // signals are found without the chain
		link.Chain = radio.Chain{}
	}
	if s, err := radio.NewSurvey(radio.Asked{Seen: g.Seen, Plan: g.Plan, Link: link, Known: g.Incoming}); err == nil {
		for _, one := range s.Signals {
			g.signals = append(g.signals, signalSeen{one, channelName(one.Candidates)})
		}
	}
	return g
}

// channelName is the likeliest channel, empty where no table has one whose edges
// fit.
func channelName(all []radio.Candidate) string {
	for _, c := range all {
		if c.Fit == radio.EdgesFit && len(c.Channels) > 0 {
			name := clean(c.Channels[0])
			if c.Adjacent() {
				name += "-" + clean(c.Channels[len(c.Channels)-1])
			}
			return name
		}
	}
	return ""
}

// gathered takes an answer.
func (m *model) gathered(g *gathered) {
	r := &m.reception
	r.busy = false
	switch {
	case g.asked != r.asked, errors.Is(g.err, context.Canceled):
	default:
		r.known, r.reckoned = g, nil
	}
}

// reckonDue reckons the moment, one at a time.
func (m *model) reckonDue() tea.Cmd {
	r, s := &m.reception, &m.scene
	if r.known == nil || r.known.around == nil || r.reckoning {
		return nil
	}
	at := momentOf{slot: s.now.UnixNano() / int64(reckonEvery), told: m.told()}
	if s.pass != nil {
		at.rise = s.pass.Rise.Time
	}
	if s.moment.Next != nil {
		at.next = s.moment.Next.Number
	}
	if r.reckoned != nil && r.reckoned.moment == at {
		return nil
	}
	r.reckoning = true
	next := &reckoned{of: r.known, moment: at}
	next.where, next.look = s.receiving()
	var looks []track.Look
	for _, h := range s.nextHolds() {
		looks = append(looks, h.Look)
		next.bursts = append(next.bursts, burstMargin{at: h.At})
	}
	if !s.plan.BurstsKnown {
		next.bursts, looks = nil, nil
	}
	before := r.reckoned
	return func() tea.Msg { return reckonedMsg{next.reckon(looks, before)} }
}

// reckon works it out. The advice holds until the next hold.
func (r *reckoned) reckon(looks []track.Look, before *reckoned) *reckoned {
	around := r.of.around
	r.now = around.At(r.look, 0)
	r.severities = around.Severities(r.look)
	slices.SortStableFunc(r.severities, func(a, b radio.Severity) int {
		return cmp.Compare(slices.Index(radio.Harms(), a.Words), slices.Index(radio.Harms(), b.Words))
	})
	worst := r.look
	least := r.now.Level.HearingMarginDB.Low
	for i, o := range around.Along(looks, 0) {
		r.bursts[i].margin = o.Level.HearingMarginDB
		if i == 0 || o.Level.HearingMarginDB.Low < least {
			worst, least = looks[i], o.Level.HearingMarginDB.Low
		}
	}
	if before != nil && before.of == r.of && before.moment.rise.Equal(r.moment.rise) && before.moment.next == r.moment.next {
		r.advice, r.cause = before.advice, before.cause
		if before.moment.told == r.moment.told {
			return r
		}
	} else {
		r.advice = around.Advise(worst, 0)
	}
	r.cause = r.of.cause(r.moment.told, worst)
	return r
}

// takeReckoned takes an answer.
func (m *model) takeReckoned(next *reckoned) {
	r := &m.reception
	r.reckoning = false
	if next.of == r.known {
		r.reckoned = next
	}
}

// usualLook stands for a pass where none is known.
var usualLook = track.Look{ElevationDeg: 30, RangeKm: 1000}

// receiving is where the beacon is to be received: where it is now or, while it
// is not in sight, where its next burst or its peak will be.
func (s *scene) receiving() (string, track.Look) {
	switch {
	case s.lookOK && s.look.ElevationDeg > 0:
		return "now", s.look
	case s.moment.Next != nil && s.plan.BurstsKnown:
		return "at the first burst", s.moment.Next.Look
	case s.pass != nil:
		return "at the peak", s.pass.Peak
	}
	return "1000 km away, 30° up", usualLook
}

// nextHolds are the holds to come.
func (s *scene) nextHolds() []aim.Hold {
	if s.moment.Next == nil {
		return nil
	}
	all := append([]aim.Hold{*s.moment.Next}, s.moment.Following...)
	return all[:min(len(all), burstsReckoned)]
}
