package tui

import (
	"context"
	"errors"

	tea "github.com/charmbracelet/bubbletea"

	"foreaim/track"
	"foreaim/track/radio"
)

// groundWay is the ground towards the chosen transmitter.
type groundWay struct {
	asked  vistaOf
	busy   bool
	cancel context.CancelFunc
	known  *vista // nil until it is known
}

// vistaOf is what a vista depends on.
type vistaOf struct {
	site track.Site
	to   radio.Transmitter
}

// vista is the answer.
type vista struct {
	Vista
	err error
	of  vistaOf
}

type vistaMsg struct{ *vista }

// forget drops what is known and ends what is under way.
func (g *groundWay) forget() {
	if g.cancel != nil {
		g.cancel()
	}
	g.asked, g.cancel, g.known = vistaOf{}, nil, nil
}

// vistaDue asks for the ground towards the chosen transmitter, one at a time.
func (m *model) vistaDue() tea.Cmd {
	g, source := &m.reception.ground, m.config.Ground
	to, ok := m.reception.chosen()
	if m.showing != onGround || source == nil || !ok {
		return nil
	}
	of := vistaOf{m.reception.asked.site, to.Transmitter}
	if of != g.asked {
		g.forget()
		g.asked = of
	}
	if g.busy || g.known != nil {
		return nil
	}
	g.busy = true
	ctx, cancel := context.WithCancel(m.tracker.ctx)
	g.cancel = cancel
	return func() tea.Msg {
		v := &vista{of: of}
		v.Vista, v.err = source(ctx, of.site, of.to)
		return vistaMsg{v}
	}
}

// take takes an answer.
func (g *groundWay) take(v *vista) {
	g.busy = false
	if v.of == g.asked && !errors.Is(v.err, context.Canceled) {
		g.known = v
	}
}

// list returns the transmitters in the order that the views show: by what they
// do where that is known, else the strongest first.
func (r *reception) list() []radio.Severity {
	if r.reckoned != nil {
		return r.reckoned.severities
	}
	if r.known == nil {
		return nil
	}
	return r.known.unreckoned
}

// chosen is the transmitter that is chosen, the first where none was.
func (r *reception) chosen() (radio.Severity, bool) {
	all := r.list()
	for _, one := range all {
		if one.Transmitter == r.transmitter {
			return one, true
		}
	}
	if len(all) == 0 {
		return radio.Severity{}, false
	}
	return all[0], true
}

// moveTransmitter moves the choice.
func moveTransmitter(by int) func(m *model) tea.Cmd {
	return func(m *model) tea.Cmd {
		r := &m.reception
		all := r.list()
		chosen, ok := r.chosen()
		for i, one := range all {
			if ok && one.Transmitter == chosen.Transmitter {
				r.transmitter = all[max(0, min(i+by, len(all)-1))].Transmitter
				break
			}
		}
		return nil
	}
}
