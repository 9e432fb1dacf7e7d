package tui

import (
	tea "github.com/charmbracelet/bubbletea"

	"foreaim/track"
	"foreaim/track/north"
)

// northKeys are the keys of finding north.
func northKeys() []binding {
	on := func(words, short string, keys, names []string, do func(m *model) tea.Cmd, off func(m *model) string) binding {
		return binding{Key{string(onNorth), keys, words}, short, names, do, off}
	}
	list := func(s ...string) []string { return s }
	return []binding{
		on("one way up", "", list("↑", "k"), list("up", "k"), moveWay(-1), nil),
		on("one way down", "", list("↓", "j"), list("down", "j"), moveWay(1), nil),
		on("take it: what is looked at stands below the cross", "Enter take", list("Enter", "Space"), list("enter", " "), (*model).takeWay, nil),
		on("the cross half a fist to the left", "", list("←"), list("left"), moveCross(-0.5), nil),
		on("the cross half a fist to the right", "", list("→"), list("right"), moveCross(0.5), nil),
		on("the cross three fists to the left", "", list("[", "Shift ←"), list("[", "shift+left"), moveCross(-3), nil),
		on("the cross three fists to the right", "", list("]", "Shift →"), list("]", "shift+right"), moveCross(3), nil),
		on("the cross straight ahead", "", list("0"), list("0"), (*model).levelCross, nil),
		on("find a landmark by its signal; again: take it", "x signal", list("x"), list("x"), (*model).startTurn, nil),
		on("take the last reference away", "u undo", list("u", "Backspace"), list("u", "backspace"), (*model).untake, nil),
		on("name the fixed thing that is straight ahead", "", list("n"), list("n"), (*model).nameAhead, nil),
		on("remember this place as a landmark", "r remember", list("r"), list("r"), (*model).rememberHere, noMemory),
		on("the boom lies straight ahead: let the cross follow its sensor", "", list("a"), list("a"), (*model).followBoom, noSensor),
		on("set the boom's sensor by the facing, the boom along the cross; again: undo that", "o sensor", list("o"), list("o"), (*model).setOffset, noSensor),
		on("give up the walk or the turn; back to pointing", "Esc back", list("Esc", "w"), list("esc", "w"), (*model).leaveNorth, nil),
	}
}

// findNorth is the key to the view.
func findNorth() binding {
	return binding{
		Key:   Key{string(onPointing), []string{"w"}, "find north: sun, moon, star, landmarks, walk, compass"},
		short: "w north", names: []string{"w"}, do: (*model).openNorth,
	}
}

func (m *model) openNorth() tea.Cmd {
	m.showing = onNorth // its ways are looked at with everything else, before it is drawn
	return nil
}

func moveWay(by int) func(m *model) tea.Cmd {
	return func(m *model) tea.Cmd {
		f := &m.finder
		if f.walk != nil || f.turn != nil {
			return nil
		}
		chosen, _ := f.way()
		for i, w := range f.ways {
			if w.name == chosen.name {
				f.selected = f.ways[max(0, min(i+by, len(f.ways)-1))].name
				break
			}
		}
		return nil
	}
}

func moveCross(fists float64) func(m *model) tea.Cmd {
	return func(m *model) tea.Cmd { m.moveHand(fists); return nil }
}

func (m *model) levelCross() tea.Cmd {
	m.finder.rightDeg, m.finder.boom.follows = 0, false
	return nil
}

// takeWay takes the chosen way, or goes on with what is under way.
func (m *model) takeWay() tea.Cmd {
	f := &m.finder
	switch {
	case f.walk != nil:
		return m.endWalk()
	case f.turn != nil:
		m.markShoulder()
		return nil
	}
	w, ok := f.way()
	switch {
	case !ok:
	case w.refusal != "":
		m.tell(capital(w.refusal))
	default:
		f.selected = w.name
		return w.do(m)
	}
	return nil
}

func (m *model) leaveNorth() tea.Cmd {
	if m.finder.walk != nil || m.finder.turn != nil {
		m.giveUp()
		return nil
	}
	m.showing = onPointing
	return nil
}

func (m *model) nameAhead() tea.Cmd {
	m.askName("Straight ahead is", func(m *model, name string) string {
		m.facing.ahead = name
		return ""
	})
	return nil
}

// noMemory says why nothing can be remembered.
func noMemory(m *model) string {
	if _, known, _ := m.here(); !known {
		return "the place is not known yet: wait for a fix"
	}
	return ""
}

// rememberedMsg is how remembering went.
type rememberedMsg struct {
	name string
	err  error
}

// rememberHere asks for the name of this place and keeps it.
func (m *model) rememberHere() tea.Cmd {
	m.askName("Remember this place as", func(m *model, name string) string {
		site, known, _ := m.here()
		switch {
		case name == "":
			return "a name, such as mast"
		case !known:
			return "the place is not known"
		case m.hasLandmark(name):
			return "there is one of that name"
		}
		place := track.Site{Name: name, LatitudeDeg: site.LatitudeDeg, LongitudeDeg: site.LongitudeDeg, HeightM: site.HeightM}
		m.finder.places = append(m.finder.places, north.Landmark{
			Name: name, LatitudeDeg: place.LatitudeDeg, LongitudeDeg: place.LongitudeDeg,
			HeightM: place.HeightM, HeightKnown: place.HeightM != 0,
		})
		m.finder.remember = &place
		m.tell("Remembered for this outing: " + name)
		return ""
	})
	return nil
}

func (m *model) hasLandmark(name string) bool {
	for _, all := range [][]north.Landmark{m.config.Landmarks, m.finder.places} {
		for _, l := range all {
			if clean(l.Name) == name {
				return true
			}
		}
	}
	return false
}

// keepPlace keeps a place that was just named, off the frames.
func (m *model) keepPlace() tea.Cmd {
	place := m.finder.remember
	m.finder.remember = nil
	if place == nil || m.config.Remember == nil {
		return nil
	}
	keep := m.config.Remember
	return func() tea.Msg { return rememberedMsg{place.Name, keep(place.Name, *place)} }
}

// remembered tells how keeping a place went.
func (m *model) remembered(msg rememberedMsg) {
	if msg.err != nil {
		m.insist("Not kept for the next outing: " + clean(msg.err.Error()))
		return
	}
	m.tell("Remembered: " + clean(msg.name))
}
