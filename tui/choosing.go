package tui

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"foreaim/track/elements"
)

const (
	// mostFound is how many objects of the catalogue are listed.
	mostFound = 100
	// searchWidth is the most characters that are searched for.
	searchWidth = 40
)

// chooser is the view in which a satellite is chosen: from the targets, and by
// typing part of its name from a catalogue.
type chooser struct {
	text          string
	found         []candidate
	selected, top int
	from          screen // the view that it was opened from

	catalogue Catalogue // nil until it is open
	opening   bool
	problem   string // why there is none; empty while all is well
	loading   string // the object that is made ready; empty: none
	asked     int    // counts the objects asked for: answers to older ones are dropped
}

// candidate is one satellite of the list.
type candidate struct {
	name   string
	set    elements.Set
	target int // index of the target; -1: it is of the catalogue
}

// catalogueMsg is the catalogue, or why there is none.
type catalogueMsg struct {
	catalogue Catalogue
	err       error
}

// targetMsg is an object of the catalogue, ready to be pointed at.
type targetMsg struct {
	asked  int
	target Target
	err    error
}

// openChooser shows the view. The next target is chosen to begin with, so that
// Enter alone goes round.
func (m *model) openChooser() tea.Cmd {
	c := &m.chooser
	c.from, m.showing = m.showing, onSatellites
	c.text, c.loading = "", ""
	c.find(m.tracker.targets)
	if n := len(c.found); n > 0 {
		c.selected = (m.tracker.chosen + 1) % n
	}
	return m.openCatalogue()
}

// openCatalogue returns the command that opens the catalogue, once; nil when
// there is none to open.
func (m *model) openCatalogue() tea.Cmd {
	c, open := &m.chooser, m.config.Catalogue
	if open == nil || c.catalogue != nil || c.opening {
		return nil
	}
	c.opening, c.problem = true, ""
	return guard(func() tea.Msg {
		catalogue, err := open()
		return catalogueMsg{catalogue, err}
	})
}

// closeChooser goes back; an object that is still being made ready is not wanted
// any more.
func (m *model) closeChooser() tea.Cmd {
	m.showing, m.chooser.loading = m.chooser.from, ""
	return nil
}

// typeName takes a key of the view that is no command.
func (m *model) typeName(k tea.KeyMsg) {
	c := &m.chooser
	switch r := []rune(c.text); {
	case k.Type == tea.KeyBackspace && len(r) > 0:
		c.text = string(r[:len(r)-1])
	case (k.Type == tea.KeyRunes || k.Type == tea.KeySpace) && !k.Alt:
		r = append(r, []rune(clean(string(k.Runes)))...)
		c.text = strings.TrimLeft(string(r[:min(len(r), searchWidth)]), " ")
	default:
		return
	}
	c.find(m.tracker.targets)
}

// find lists what fits the text: the targets first. An empty text fits every
// target and lists nothing of the catalogue.
func (c *chooser) find(targets []target) {
	c.found, c.selected, c.top = c.found[:0], 0, 0
	for i, t := range targets {
		if set := t.orbit.Elements(); t.fits(c.text) {
			c.found = append(c.found, candidate{t.Name, set, i})
		}
	}
	if c.text == "" || c.catalogue == nil {
		return
	}
	for _, set := range c.catalogue.Match(strings.TrimSpace(c.text), mostFound) {
		name := nameOf(set)
		if !slices.ContainsFunc(targets, func(t target) bool { return t.is(name, set.CatalogueNumber) }) {
			c.found = append(c.found, candidate{name, set, -1})
		}
	}
}

// fits tells whether a text is part of its name, number or designator.
func (t target) fits(text string) bool {
	set := t.orbit.Elements()
	text = strings.ToLower(strings.TrimSpace(text))
	for _, s := range [...]string{t.Name, numberText(set.CatalogueNumber), set.Designator} {
		if strings.Contains(strings.ToLower(s), text) {
			return true
		}
	}
	return false
}

// nameOf is what an object of the catalogue is called on the screen.
func nameOf(set elements.Set) string {
	if name := strings.TrimSpace(clean(set.Name)); name != "" {
		return name
	}
	if set.CatalogueNumber > 0 {
		return numberText(set.CatalogueNumber)
	}
	return clean(set.Designator)
}

// numberText is a catalogue number as text; empty where there is none.
func numberText(n int) string {
	if n == 0 {
		return ""
	}
	return fmt.Sprint(n)
}

// moveChoice moves the choice.
func moveChoice(by int) func(m *model) tea.Cmd {
	return func(m *model) tea.Cmd {
		c := &m.chooser
		c.selected = max(0, min(c.selected+by, len(c.found)-1))
		return nil
	}
}

// chooseSatellite points at the chosen satellite; one of the catalogue is made
// ready first.
func (m *model) chooseSatellite() tea.Cmd {
	c := &m.chooser
	if c.selected >= len(c.found) {
		m.tell("There is no satellite to choose")
		return nil
	}
	chosen := c.found[c.selected]
	if chosen.target >= 0 {
		m.pointAt(chosen.target)
		return nil
	}
	c.asked++
	c.loading = chosen.name
	asked, catalogue := c.asked, c.catalogue
	return guard(func() tea.Msg {
		t, err := catalogue.Target(chosen.set)
		return targetMsg{asked, t, err}
	})
}

// catalogueOpen takes the catalogue.
func (m *model) catalogueOpen(msg catalogueMsg) {
	c := &m.chooser
	c.opening = false
	if msg.err != nil {
		c.problem = clean(msg.err.Error())
		return
	}
	selected := c.selected
	c.catalogue = msg.catalogue
	c.find(m.tracker.targets)
	c.selected = max(0, min(selected, len(c.found)-1)) // what is typed already may have moved the choice
}

// targetReady takes an object of the catalogue among the targets and points at
// it.
func (m *model) targetReady(msg targetMsg) {
	c := &m.chooser
	if msg.asked != c.asked || c.loading == "" {
		return
	}
	name := c.loading
	c.loading = ""
	if msg.err == nil && msg.target.Orbit == nil {
		msg.err = errors.New("it has no orbit")
	}
	if msg.err != nil {
		m.insist(name + " can't be pointed at: " + msg.err.Error())
		return
	}
	m.addTarget(targetsOf([]Target{msg.target})[0])
}

// addTarget takes one more target and points at it.
func (m *model) addTarget(t target) {
	m.tracker.targets = append(m.tracker.targets, t)
	if err := m.marking.add(m.config, t); err != nil {
		m.insist("Not all marks could be taken up: " + err.Error())
	}
	m.pointAt(len(m.tracker.targets) - 1)
}

// pointAt points at a target and goes back from the view.
func (m *model) pointAt(target int) {
	m.tracker.choose(target)
	m.list.selected = 0
	m.closeChooser()
	t := m.tracker.targets[target]
	if words, _ := oldWarning(t, m.scene.now); words != "" {
		m.insist(t.Name + ": " + words)
		return
	}
	m.tell("Pointing at " + t.Name)
}
