package tui

import (
	"context"
	"fmt"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"foreaim/track"
)

// off is how far from its elements a satellite likely is at the peak of a pass.
type off struct {
	sigmaS float64 // late or early, in s; 0: not known
	deg    float64 // of arc; 0: not known
}

// offMsg is how far off the satellite likely is in each pass of a search.
type offMsg struct {
	generation int
	from       time.Time // of the search
	offs       []off
}

// searchOff works out how far off the satellite likely is in each pass.
func searchOff(ctx context.Context, q question, m passesMsg) offMsg {
	answer := offMsg{generation: m.generation, from: m.from, offs: make([]off, len(m.passes))}
	for i, p := range m.passes {
		if ctx.Err() != nil {
			break
		}
		o := &answer.offs[i]
		o.sigmaS = q.target.Likely(p.Peak.Time).SigmaS
		if o.sigmaS <= 0 {
			continue
		}
		if deg, err := q.target.orbit.OffDeg(q.site, p.Peak.Time, o.sigmaS); err == nil {
			o.deg = deg
		}
	}
	return answer
}

// offDue returns the command that works out how far off the satellite likely
// is, once for each search; nil while nothing is to be done.
func (k *tracker) offDue(q question) tea.Cmd {
	if q.target.Likely == nil || k.offAsked || !k.searchedOK || len(k.searched.passes) == 0 {
		return nil
	}
	k.offAsked = true
	ctx, m := k.ctx, k.searched
	return func() tea.Msg { return searchOff(ctx, q, m) }
}

// off takes the answer.
func (k *tracker) off(m offMsg) {
	if m.generation == k.generation && m.from.Equal(k.searched.from) {
		k.offs = m.offs
	}
}

// offOf returns how far off the satellite likely is in a pass of the search;
// nothing while that isn't known.
func (k *tracker) offOf(p track.Pass) off {
	for i, o := range k.offs {
		if k.searched.passes[i].Equal(p) {
			return o
		}
	}
	return off{}
}

// words says it: "±4.2 s, 0.9° at the peak"; empty when it isn't known.
func (o off) words() string {
	switch {
	case o.sigmaS <= 0:
		return ""
	case o.deg <= 0:
		return "±" + lateWords(o.sigmaS)
	}
	return "±" + lateWords(o.sigmaS) + ", " + o.arc() + " at the peak"
}

// short says it in few characters: "±0.9°", or the time where no angle is known.
func (o off) short() string {
	switch {
	case o.sigmaS <= 0:
		return ""
	case o.deg <= 0:
		return "±" + lateWords(o.sigmaS)
	case o.deg < 0.05:
		return o.arc()
	}
	return "±" + o.arc()
}

// arc says the angle, with a tenth only below ten degrees.
func (o off) arc() string {
	if o.deg < 0.05 {
		return "<0.1°"
	}
	return figures(o.deg) + "°"
}

// lateWords says a time error: "0.4 s", "42 s", "3 min".
func lateWords(s float64) string {
	if s < 99.5 {
		return figures(s) + " s"
	}
	return fmt.Sprintf("%.0f min", s/60)
}
