package tui

import (
	"context"
	"errors"
	"fmt"
	"slices"

	tea "github.com/charmbracelet/bubbletea"

	"foreaim/track"
	"foreaim/track/aim"
	"foreaim/track/terrain"
)

// Hills is what the ground around a site hides.
type Hills struct {
	Skyline terrain.Skyline
	// Note says in a few words what is not known of the ground; may be empty.
	Note string
}

// HillsSource looks at the ground around a site, under the rules of RadioSource.
type HillsSource func(ctx context.Context, site track.Site) (Hills, error)

// hills is the state of the look around.
type hills struct {
	from   *track.Site // where the newest look was or is taken from; nil: nowhere yet
	due    bool        // it has not begun
	busy   bool        // one is under way
	cancel context.CancelFunc

	missing string // why there are no hills in the skyline; empty while there are
	news    string // to be told when the last row is free
	brief   string
}

// hillsMsg is the answer to a look around.
type hillsMsg struct {
	Hills
	err  error
	from track.Site
}

// startHills knows from where the skyline to begin with was seen: from the site
// that is known, or from where the outing stood that brings its own.
func startHills(c Config) (h hills) {
	r := c.Resume
	switch {
	case c.SiteKnown:
		h.from = &c.Site
		if c.Hills.Note != "" {
			h.news, h.brief = hillsNews(c.Hills)
		}
	case r != nil && len(r.Skyline) > 0 && r.Fix != nil && r.Fix.LatitudeDeg.Known && r.Fix.LongitudeDeg.Known:
		h.from = &track.Site{LatitudeDeg: r.Fix.LatitudeDeg.Value, LongitudeDeg: r.Fix.LongitudeDeg.Value}
	}
	return h
}

// hillsDue looks at the hills around when a first fix tells the place, and again
// when that has moved: one look at a time.
func (m *model) hillsDue() tea.Cmd {
	h, k, source := &m.hills, m.tracker, m.config.LookAround
	if source == nil || !k.siteKnown {
		return nil
	}
	if h.from == nil || roughKm(*h.from, k.site) >= siteMoveKm {
		if h.cancel != nil {
			h.cancel()
		}
		site := k.site
		h.from, h.due = &site, true
	}
	if h.busy || !h.due {
		return nil
	}
	h.busy, h.due = true, false
	ctx, cancel := context.WithCancel(k.ctx)
	h.cancel = cancel
	from := *h.from
	return func() tea.Msg {
		defer cancel()
		answer := hillsMsg{from: from}
		answer.Hills, answer.err = source(ctx, from)
		return answer
	}
}

// takeHills takes what a look around found, or why it found nothing. Hills that
// were seen from elsewhere hide nothing here.
func (m *model) takeHills(msg hillsMsg) {
	h := &m.hills
	h.busy = false
	if h.due || msg.err != nil && errors.Is(msg.err, context.Canceled) {
		return
	}
	h.missing = ""
	if msg.err != nil {
		h.missing = wayOut(msg.err)
		h.news, h.brief = "Hills are left out of the skyline: "+h.missing, "Hills are left out of the skyline"
	} else {
		h.news, h.brief = hillsNews(msg.Hills)
	}
	layers := m.tracker.layers.over(msg.Skyline)
	if !slices.Equal(layers.skyline().Points(), m.tracker.skyline.Points()) {
		m.tracker.setLayers(layers)
	}
}

// hillsNews says that hills have come into the skyline, in full and shortly.
func hillsNews(h Hills) (news, brief string) {
	top := terrain.Point{ElevationDeg: terrain.LowestDeg}
	for _, p := range h.Skyline.Points() {
		if p.ElevationDeg > top.ElevationDeg {
			top = p
		}
	}
	brief = fmt.Sprintf("Hills in the skyline: up to %d° in the %s", whole(top.ElevationDeg), aim.CompassWord(top.AzimuthDeg))
	if top.ElevationDeg < 1 {
		brief = "Hills in the skyline: none is 1° high"
	}
	news = brief
	if h.Note != "" {
		news += "; " + h.Note
	}
	return news, brief
}

// tellHills tells the news of the hills when no other message is shown.
func (m *model) tellHills() {
	h := &m.hills
	if h.news == "" || m.message != "" && m.scene.computer.Before(m.until) {
		return
	}
	if h.missing == "" {
		m.tell(h.news)
	} else {
		m.insist(h.news)
	}
	m.brief, h.news = h.brief, ""
}

// hillsRemark warns while hills are left out of the skyline.
func (s *scene) hillsRemark() remark {
	if s.hillsMissing == "" {
		return remark{}
	}
	return remark{"hills left out of the skyline", "NO HILLS", true, "hills left out of the skyline: " + s.hillsMissing}
}
