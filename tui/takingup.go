package tui

import (
	"cmp"
	"errors"
	"slices"

	tea "github.com/charmbracelet/bubbletea"

	"foreaim/track"
)

// errNotThere: the catalogue has no such object.
var errNotThere = errors.New("the catalogue has no such object")

// takenUpMsg is the satellite of the outing that is taken up, from the catalogue.
type takenUpMsg struct {
	catalogue Catalogue
	name      string
	target    Target
	err       error
}

// takeUp returns the command that fetches the satellite of the outing that is
// taken up from the catalogue: it was chosen there, if it is none of the targets.
// It is nil when nothing is to be fetched.
func (m *model) takeUp() tea.Cmd {
	open, resume := m.config.Catalogue, m.config.Resume
	if open == nil || resume == nil || m.config.Chosen >= 0 {
		return nil
	}
	name, number := resume.Satellite()
	if name == "" && number == 0 || slices.ContainsFunc(m.tracker.targets, func(t target) bool { return t.is(name, number) }) {
		return nil
	}
	m.chooser.opening = true
	return guard(func() tea.Msg {
		catalogue, err := open()
		if err != nil {
			return catalogueMsg{nil, err}
		}
		answer := takenUpMsg{catalogue: catalogue, name: clean(cmp.Or(name, numberText(number))), err: errNotThere}
		for _, set := range catalogue.Match(cmp.Or(numberText(number), name), mostFound) {
			if set.CatalogueNumber == number && (number != 0 || nameOf(set) == name) {
				answer.target, answer.err = catalogue.Target(set)
				break
			}
		}
		return answer
	})
}

// takenUp points at the satellite of the outing that is taken up, unless another
// was chosen meanwhile.
func (m *model) takenUp(msg takenUpMsg) {
	m.catalogueOpen(catalogueMsg{msg.catalogue, nil})
	switch {
	case m.tracker.chosen != chosenOf(m.config, m.tracker.targets):
	case msg.err == nil && msg.target.Orbit != nil:
		m.addTarget(targetsOf([]Target{msg.target})[0])
		if p := m.config.Resume.Pass; p != nil {
			m.tracker.wish = &track.Interval{From: p.Rise.Time.Time, To: p.Set.Time.Time}
		}
	default:
		m.insist(msg.name + ", which this outing was about, can't be pointed at: " + cmp.Or(msg.err, errNotThere).Error())
	}
}
