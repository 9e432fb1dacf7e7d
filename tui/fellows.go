package tui

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"foreaim/track"
	"foreaim/track/elements"
)

const (
	// mostFellows is how many objects of one launch are compared.
	mostFellows = 150
	// fellowsTold is how many of them are named.
	fellowsTold = 8
)

// fellows are the objects of the same launch beside a pass of the list.
type fellows struct {
	asked   fellowsKey
	busy    bool
	members []track.Member
}

// fellowsKey is everything that they depend on.
type fellowsKey struct {
	generation int // of the searches
	rise       time.Time
	catalogue  bool // it is open
}

// fellowsMsg is the answer for a pass.
type fellowsMsg struct{ members []track.Member }

// openPasses shows the coming passes. The catalogue, if there is one, tells the
// other objects of the launch.
func (m *model) openPasses() tea.Cmd {
	m.showing = onPasses
	return m.openCatalogue()
}

// fellowsDue returns the command that finds the fellows of the chosen pass, one
// at a time; nil while nothing is to be done.
func (m *model) fellowsDue() tea.Cmd {
	f, passes := &m.list.fellows, m.tracker.coming(&m.scene)
	q, ok := m.tracker.question()
	if m.showing != onPasses || f.busy {
		return nil
	}
	if !ok || q.target.Orbit == nil || m.list.selected >= len(passes) {
		*f = fellows{}
		return nil
	}
	pass := passes[m.list.selected]
	key := fellowsKey{m.tracker.generation, pass.Rise.Time, m.chooser.catalogue != nil}
	if key == f.asked {
		return nil
	}
	f.asked, f.members = key, nil
	group := m.launch(q.target.orbit.Elements())
	if len(group) == 0 || pass.AlwaysUp {
		return nil
	}
	f.busy = true
	ctx := m.tracker.ctx
	return func() tea.Msg {
		// Where nothing can be compared nothing is told.
		members, _ := track.AlongPass(ctx, q.target.Orbit, pass, group, q.site, q.horizon)
		return fellowsMsg{members}
	}
}

// take takes the answer.
func (f *fellows) take(m fellowsMsg) {
	f.busy, f.members = false, m.members
}

// launch returns the objects of a set's launch that are known, without itself.
func (m *model) launch(set elements.Set) []elements.Set {
	prefix := launchOf(set.Designator)
	if prefix == "" {
		return nil
	}
	var group []elements.Set
	add := func(s elements.Set) {
		if track.OfLaunch(s, prefix) && !s.SameObject(set) && !slices.ContainsFunc(group, s.SameObject) {
			group = append(group, s)
		}
	}
	for _, t := range m.tracker.targets {
		add(t.orbit.Elements())
	}
	if m.chooser.catalogue != nil {
		for _, s := range m.chooser.catalogue.Match(prefix, mostFellows) {
			add(s)
		}
	}
	return group
}

// launchOf is the launch of an international designator: "2026-901" of
// "2026-901AB"; empty where there is none.
func launchOf(designator string) string {
	return strings.TrimRight(strings.ToUpper(designator), "ABCDEFGHIJKLMNOPQRSTUVWXYZ")
}

// words says how they follow, the nearest first, from the fullest form to the
// shortest; nothing where there are none.
func (f *fellows) words() []string {
	var passing []track.Member
	for _, m := range f.members {
		if m.Pass != nil && !m.Pass.AlwaysUp {
			passing = append(passing, m)
		}
	}
	slices.SortStableFunc(passing, func(a, b track.Member) int {
		return cmp.Compare(a.RisesAfter.Abs(), b.RisesAfter.Abs())
	})
	var said, forms []string
	for i, m := range passing[:min(len(passing), fellowsTold)] {
		said = append(said, fellowWords(m))
		text := "Same launch: " + strings.Join(said, ", ")
		if more := len(passing) - i - 1; more > 0 {
			text += fmt.Sprintf(", %d more", more)
		}
		forms = append(forms, text)
	}
	slices.Reverse(forms)
	return forms
}

// fellowWords says one: "OBJECT F 3:10 after".
func fellowWords(m track.Member) string {
	after := m.RisesAfter.Round(time.Second)
	switch name := nameOf(m.Set); {
	case after > 0:
		return name + " " + span(after) + " after"
	case after < 0:
		return name + " " + span(-after) + " before"
	default:
		return name + " together"
	}
}
