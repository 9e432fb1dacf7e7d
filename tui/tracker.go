package tui

import (
	"context"
	"math"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"foreaim/gps"
	"foreaim/track"
	"foreaim/track/aim"
	"foreaim/track/terrain"
)

const (
	// siteMoveKm and clockStepS are the changes that make a new search or plan
	// worth its while.
	siteMoveKm = 0.2
	clockStepS = 0.5
	// listAge is how old a list of passes may grow, retryAfter how long a
	// failed search or an exhausted plan waits for the next try.
	listAge    = 6 * time.Hour
	retryAfter = 10 * time.Second
	// uncheckedClock is taken for how far an unchecked clock may be off. It may
	// be more; the screen says that nobody knows.
	uncheckedClock = time.Second
)

// tracker keeps the passes and the plan of the chosen target up to date. All
// its times are true times.
type tracker struct {
	ctx     context.Context
	targets []target
	config  Config

	chosen    int
	site      track.Site
	siteKnown bool
	clock     gps.Clock
	layers    layers
	skyline   terrain.Skyline // of layers
	horizon   track.Horizon

	generation int // of searches: answers to older questions are dropped
	cancel     context.CancelFunc
	searching  bool
	searched   passesMsg
	searchedOK bool
	searchedAt time.Time
	offAsked   bool
	offs       []off // of the searched passes; nil until they are known

	pinned       *track.Pass     // chosen by hand
	wish         *track.Interval // from its rise to its set, to find it again
	planning     bool
	planned      planMsg
	planOK       bool
	plannedClock gps.Clock

	rhythm rhythm // of the bursts
}

func newTracker(ctx context.Context, config Config, targets []target) *tracker {
	k := &tracker{
		ctx: ctx, targets: targets, config: config,
		chosen: chosenOf(config, targets),
		site:   config.Site, siteKnown: config.SiteKnown,
	}
	k.setLayers(startLayers(config))
	if r := config.Resume; r != nil && r.Pass != nil && len(targets) > 0 && targets[k.chosen].is(r.Satellite()) {
		k.wish = &track.Interval{From: r.Pass.Rise.Time.Time, To: r.Pass.Set.Time.Time}
	}
	return k
}

// chosenOf returns the target to begin with.
func chosenOf(c Config, targets []target) int {
	if c.Chosen < 0 && c.Resume != nil {
		for i, t := range targets {
			if t.is(c.Resume.Satellite()) {
				return i
			}
		}
	}
	return min(max(c.Chosen, 0), max(len(targets)-1, 0))
}

// setLayers takes what hides the sky: passes are to be searched anew.
func (k *tracker) setLayers(l layers) {
	k.layers, k.skyline = l, l.skyline()
	k.horizon = track.Horizon{MinElevationDeg: k.config.MinElevationDeg}
	if len(k.skyline.Points()) > 0 {
		k.horizon = k.skyline.Horizon(k.config.MinElevationDeg)
	}
	k.forget()
}

// question returns what is asked now; false while there is nothing to ask.
func (k *tracker) question() (question, bool) {
	if !k.siteKnown || len(k.targets) == 0 {
		return question{}, false
	}
	return question{k.targets[k.chosen], k.site, k.horizon}, true
}

// forget drops all answers, because the question has changed. A pass that was
// chosen by hand is found again in the next answer.
func (k *tracker) forget() {
	k.generation++
	if k.cancel != nil {
		k.cancel()
		k.cancel = nil
	}
	k.searching, k.searchedOK, k.planning, k.planOK = false, false, false, false
	k.offAsked, k.offs = false, nil
	k.pinned = nil
}

// choose takes another target.
func (k *tracker) choose(i int) {
	if i != k.chosen && i >= 0 && i < len(k.targets) {
		k.chosen, k.wish = i, nil
		k.forget()
	}
}

// pin keeps to a pass until it is over.
func (k *tracker) pin(p track.Pass) {
	k.pinned = &p
	k.wish = &track.Interval{From: p.Rise.Time, To: p.Set.Time}
}

// report takes a receiver's report: a better site, the clock's error.
func (k *tracker) report(r gps.Report) {
	if r.Clock.Known {
		k.clock = r.Clock
	}
	fix := r.Fix
	if !fix.Valid() || k.config.SiteFixed {
		return
	}
	site := track.Site{LatitudeDeg: fix.LatitudeDeg, LongitudeDeg: fix.LongitudeDeg}
	if fix.AltitudeKnown {
		site.HeightM = fix.AltitudeM
	}
	if k.siteKnown && roughKm(k.site, site) < siteMoveKm {
		return
	}
	k.site, k.siteKnown = site, true
	k.forget()
}

// roughKm returns the distance between two sites, good enough to tell whether
// one has moved: on a sphere, for short ways.
func roughKm(a, b track.Site) float64 {
	const kmPerDeg = 111.2
	northKm := (b.LatitudeDeg - a.LatitudeDeg) * kmPerDeg
	eastKm := track.TurnDeg(a.LongitudeDeg, b.LongitudeDeg) * kmPerDeg * math.Cos(a.LatitudeDeg*math.Pi/180)
	return math.Hypot(northKm, eastKm)
}

// current returns the pass to show: the one chosen by hand until it is over,
// else the first that isn't and doesn't only graze the horizon, or else the first
// that does; nil when there is none.
func (k *tracker) current(now time.Time) *track.Pass {
	over := func(p *track.Pass) bool { return now.After(p.Set.Time.Add(afterSet)) }
	if k.pinned != nil && !over(k.pinned) {
		return k.pinned
	}
	if k.pinned != nil {
		k.pinned, k.wish = nil, nil
	}
	if !k.searchedOK || k.searched.err != nil {
		return nil
	}
	var first *track.Pass
	for i := range k.searched.passes {
		p := &k.searched.passes[i]
		switch {
		case over(p):
		case !aim.Grazing(*p, k.targets[k.chosen].Schedule, k.searched.from):
			return p
		case first == nil:
			first = p
		}
	}
	return first
}

// settings returns what the plan of a pass needs to know.
func (k *tracker) settings(p *track.Pass) aim.Settings {
	off := uncheckedClock
	if k.clock.Known {
		off = time.Duration(k.clock.UncertaintyS * float64(time.Second)) // a bound already
	}
	schedule, _ := k.schedule(p)
	return aim.Settings{
		Schedule:     schedule,
		BeamwidthDeg: k.config.BeamwidthDeg,
		Clock:        off,
	}
}

// update starts whatever search or plan is due and returns it as a command.
func (k *tracker) update(now time.Time) tea.Cmd {
	q, ok := k.question()
	if !ok {
		return nil
	}
	var commands []tea.Cmd
	pass := k.current(now)
	if !k.searching && k.searchDue(now, pass) {
		k.searching = true
		ctx, cancel := context.WithCancel(k.ctx)
		k.cancel = cancel
		generation := k.generation
		commands = append(commands, func() tea.Msg { return searchPasses(ctx, generation, q, now) })
	}
	if pass != nil && !k.planning && k.planDue(now, pass) {
		k.planning, k.plannedClock = true, k.clock
		generation, p, s := k.generation, *pass, k.settings(pass)
		commands = append(commands, func() tea.Msg { return makePlan(generation, q, p, now, s) })
	}
	commands = append(commands, k.offDue(q))
	return tea.Batch(commands...)
}

func (k *tracker) searchDue(now time.Time, pass *track.Pass) bool {
	if !k.searchedOK {
		return true
	}
	age := now.Sub(k.searchedAt)
	if age < 0 { // the clock was set back
		return true
	}
	ranOut := pass == nil && len(k.searched.passes) > 0
	return age > listAge || (k.searched.err != nil || ranOut) && age > retryAfter
}

func (k *tracker) planDue(now time.Time, pass *track.Pass) bool {
	if s, _ := k.schedule(pass); !k.planOK || !k.planned.pass.Equal(*pass) || s != k.planned.schedule {
		return true
	}
	if math.Abs(k.clock.OffsetS-k.plannedClock.OffsetS) > clockStepS ||
		math.Abs(k.clock.UncertaintyS-k.plannedClock.UncertaintyS) > clockStepS ||
		k.clock.Known != k.plannedClock.Known {
		return true
	}
	// The plan of a pass without end stops somewhere.
	spent := k.planned.err != nil || k.planned.plan.At(now).Next == nil && now.Before(pass.Set.Time)
	age := now.Sub(k.planned.at)
	return spent && (age > retryAfter || age < 0)
}

// passes takes the answer to a search.
func (k *tracker) passes(m passesMsg) {
	if m.generation != k.generation {
		return
	}
	k.searching, k.searchedOK, k.searched, k.searchedAt = false, true, m, m.from
	k.offAsked, k.offs = false, nil
	if k.wish == nil {
		return
	}
	for _, p := range m.passes {
		if !p.Rise.Time.After(k.wish.To) && !p.Set.Time.Before(k.wish.From) {
			k.pin(p)
			return
		}
	}
}

// plan takes the answer to a request for a plan.
func (k *tracker) plan(m planMsg) {
	if m.generation != k.generation {
		return
	}
	k.planning, k.planOK, k.planned = false, true, m
}
