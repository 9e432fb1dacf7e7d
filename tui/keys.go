package tui

import (
	"slices"

	tea "github.com/charmbracelet/bubbletea"

	"foreaim/track/outing"
)

// screen names a view.
type screen string

// The views.
const (
	everywhere screen = ""
	onPointing screen = "pointing"
	onPasses   screen = "passes"
	onChecks   screen = "checklist"
	onNoise    screen = "noise test" // over the pointing view
	onPractice screen = "practice"   // over the pointing view
	onSkyline  screen = "skyline"
	onNorth    screen = "find north"
	onHelp     screen = "help"

	onReception screen = "reception"
	onGround    screen = "ground"
	onReview    screen = "review"
	// Letters are typed there: the letter keys of everywhere don't work.
	onSatellites screen = "satellites"
)

// Key is one entry of the key table, from which the footer, the help page and
// the README's table are made.
type Key struct {
	View  string   // where it works; empty: everywhere
	Keys  []string // as a person says them
	Words string   // what it does
}

// binding is a key with what it does.
type binding struct {
	Key
	short string   // for the footer; empty: not there
	names []string // as the screen library names them
	do    func(m *model) tea.Cmd
	off   func(m *model) string // why it can't be used now, empty when it can; nil: always
}

// clicks names the mouse buttons that do something, as the key table has them.
var clicks = map[tea.MouseButton]string{tea.MouseButtonLeft: "click", tea.MouseButtonRight: "right click"}

// bindings returns the key table. The biggest keys of the pointing view are for
// what matters most in the field. A presenter's clicker sends PageDown and
// PageUp (common practice, no source).
func bindings() []binding {
	on := func(v screen, words, short string, keys, names []string, do func(m *model) tea.Cmd) binding {
		return binding{Key{string(v), keys, words}, short, names, do, nil}
	}
	list := func(s ...string) []string { return s }
	return slices.Concat([]binding{
		on(onPointing, "a burst was heard; again: strong, weak, good", "Space heard", list("Space", "Enter"), list(" ", "enter"), (*model).hear),
		on(onPointing, "the same, for a clicker and a mouse", "", list("PageDown", "click"), list("pgdown", "click"), (*model).hear),
		on(onPointing, "that was wrong: take the last mark back", "u undo", list("u", "Backspace"), list("u", "backspace"), (*model).undo),
		on(onPointing, "the same, for a clicker and a mouse", "", list("PageUp", "right click"), list("pgup", "right click"), (*model).undo),
		on(onPointing, "not listening, and listening again", "", list("l"), list("l"), (*model).toggleListening),
		on(onPointing, "noise up, and normal again", "n noise", list("n"), list("n"), (*model).toggleNoise),
		noiseKey(),
		on(onPointing, "learn from each burst where to aim, or aim as predicted", "", list("a"), list("a"), (*model).toggleLearning),
		on(onPointing, "it was heard 100 Hz higher", "", list("+"), list("+", "="), step(outing.FineStepHz)),
		on(onPointing, "it was heard 100 Hz lower", "", list("-"), list("-"), step(-outing.FineStepHz)),
		on(onPointing, "it was heard 500 Hz higher", "", list(">"), list(">"), step(outing.CoarseStepHz)),
		on(onPointing, "it was heard 500 Hz lower", "", list("<"), list("<"), step(-outing.CoarseStepHz)),
		on(onPointing, "the recorder runs; pressed again: it doesn't", "", list("r"), list("r"), (*model).confirmInsisting),
		on(onPointing, "checklist of the pass", "c checks", list("c"), list("c"), show(onChecks)),
		on(onPointing, "set the facing: the azimuth that is straight ahead", "", list("f"), list("f"), (*model).openEntry),
		on(onPointing, "turn the facing 1° to the left", "", list("←"), list("left"), nudge(-1)),
		on(onPointing, "turn the facing 1° to the right", "", list("→"), list("right"), nudge(1)),
		on(onPointing, "turn the facing 10° to the left", "", list("[", "Shift ←"), list("[", "shift+left"), nudge(-10)),
		on(onPointing, "turn the facing 10° to the right", "", list("]", "Shift →"), list("]", "shift+right"), nudge(10)),
		findNorth(),
		on(onPointing, "the skyline: enter what trees and houses hide", "", list("k"), list("k"), (*model).openSkyline),
		note(),
		on(onPointing, "coming passes, to choose from", "p passes", list("p"), list("p"), (*model).openPasses),
		chooseTarget(onPointing),
		on(onPointing, "hearing: the chain, strong transmitters, what helps", "", list("h"), list("h"), show(onReception)),
		on(onPointing, "the ground towards a strong transmitter", "", list("g"), list("g"), show(onGround)),
		openReviewKey(),
		on(onPointing, "bell or tones, where no voice speaks, off and on", "b bell", list("b"), list("b"), (*model).toggleBell),
		voiceKey(),
		on(onPasses, "one pass up", "", list("↑", "k"), list("up", "k"), movePass(-1)),
		on(onPasses, "one pass down", "", list("↓", "j"), list("down", "j"), movePass(1)),
		on(onPasses, "point at the chosen pass", "Enter choose", list("Enter"), list("enter"), (*model).choosePass),
		chooseTarget(onPasses),
		on(onPasses, "back to pointing", "Esc back", list("Esc", "p"), list("esc", "p"), show(onPointing)),
		on(onSatellites, "search for part of a name, designator or number", "", list("letters", "digits"), nil, nil),
		on(onSatellites, "take the last character back", "", list("Backspace"), nil, nil),
		on(onSatellites, "one satellite up", "", list("↑"), list("up"), moveChoice(-1)),
		on(onSatellites, "one satellite down", "↑ ↓ move", list("↓"), list("down"), moveChoice(1)),
		on(onSatellites, "ten satellites up", "", list("PageUp"), list("pgup"), moveChoice(-10)),
		on(onSatellites, "ten satellites down", "", list("PageDown"), list("pgdown"), moveChoice(10)),
		on(onSatellites, "point at the chosen satellite", "Enter choose", list("Enter"), list("enter"), (*model).chooseSatellite),
		on(onSatellites, "back, with the satellite as it was", "Esc back", list("Esc"), list("esc"), (*model).closeChooser),
		on(onNoise, "yes", "", list("y", "1"), list("y", "1"), answerNoise(outing.Yes)),
		on(onNoise, "no", "", list("n", "2"), list("n", "2"), answerNoise(outing.No)),
		on(onNoise, "can't tell", "", list("?", "3"), list("?", "3"), answerNoise(outing.CantTell)),
		on(onChecks, "one item up", "", list("↑", "k"), list("up", "k"), moveCheck(-1)),
		on(onChecks, "one item down", "", list("↓", "j"), list("down", "j"), moveCheck(1)),
		on(onChecks, "confirm the item, or take that back", "Enter confirm", list("Enter"), list("enter"), (*model).answerCheck),
		on(onChecks, "back to pointing", "Esc back", list("Esc", "c"), list("esc", "c"), show(onPointing)),
		on(onSkyline, "half a fist to the left", "", list("←"), list("left"), moveOutline(-0.5, 0)),
		on(onSkyline, "half a fist to the right", "", list("→"), list("right"), moveOutline(0.5, 0)),
		on(onSkyline, "three fists to the left", "", list("[", "Shift ←"), list("[", "shift+left"), moveOutline(-3, 0)),
		on(onSkyline, "three fists to the right", "", list("]", "Shift →"), list("]", "shift+right"), moveOutline(3, 0)),
		on(onSkyline, "half a fist higher", "← → + - move", list("+", "↑"), list("+", "=", "up"), moveOutline(0, 0.5)),
		on(onSkyline, "half a fist lower", "", list("-", "↓"), list("-", "down"), moveOutline(0, -0.5)),
		on(onSkyline, "the skyline bends here: set a point", "Enter set", list("Enter", "Space"), list("enter", " "), (*model).setPoint),
		on(onSkyline, "take the last point away", "u undo", list("u", "Backspace"), list("u", "backspace"), (*model).takePoint),
		on(onSkyline, "back to pointing", "Esc back", list("Esc", "k"), list("esc", "k"), show(onPointing)),
	}, practiceKeys(), northKeys(), receptionKeys(), reviewKeys(), []binding{
		on(onHelp, "one line up", "", list("↑", "k"), list("up", "k"), scroll(-1)),
		on(onHelp, "one line down", "", list("↓", "j"), list("down", "j"), scroll(1)),
		on(onHelp, "back to pointing", "Esc back", list("Esc"), list("esc"), show(onPointing)),
		on(everywhere, "this help, and back", "? help", list("?"), list("?"), (*model).toggleHelp),
		on(everywhere, "leave", "q quit", list("q"), list("q"), func(*model) tea.Cmd { return tea.Quit }),
		on(everywhere, "leave at once", "", list("Ctrl-C"), list("ctrl+c"), func(*model) tea.Cmd { return tea.Interrupt }),
	})
}

// note is the key for a note, where there is a record to keep it.
func note() binding {
	b := binding{Key: Key{string(onPointing), []string{"t"}, "type a note for the record"}, names: []string{"t"}, do: (*model).openNote}
	b.off = func(m *model) string {
		if m.config.Record == nil {
			return "nothing is recorded, so no note can be kept"
		}
		return ""
	}
	return b
}

// voiceKey is the key for the voice, where there is one.
func voiceKey() binding {
	b := binding{Key: Key{string(onPointing), []string{"v"}, "voice off and on"}, names: []string{"v"}, do: (*model).toggleVoice}
	b.off = func(m *model) string {
		if m.config.Voice == nil {
			return "there is no voice: the configuration's [voice] command is not set"
		}
		return ""
	}
	return b
}

// noiseKey is the key for the noise test, where there is room for its questions.
func noiseKey() binding {
	b := binding{
		Key: Key{string(onPointing), []string{"x"}, "noise test: where it comes from; and leave it"}, names: []string{"x"},
		do: (*model).toggleNoiseTest,
	}
	b.off = func(m *model) string {
		if m.noise.test == nil && m.scene.aimed() == nil {
			return "the noise test needs a pass to aim at"
		}
		return ""
	}
	return b
}

// chooseTarget is the key for another satellite, where there are several.
func chooseTarget(v screen) binding {
	return binding{
		Key:   Key{string(v), []string{"s"}, "another satellite: choose it, Enter takes the next"},
		short: "s satellite", names: []string{"s"},
		do: (*model).openChooser,
		off: func(m *model) string {
			if len(m.tracker.targets) < 2 && m.config.Catalogue == nil {
				return "there is only one satellite"
			}
			return ""
		},
	}
}

// Keys returns the key table.
func Keys() []Key {
	var keys []Key
	for _, b := range bindings() {
		keys = append(keys, b.Key)
	}
	return keys
}

// press does what a key does on the view that is shown.
func (m *model) press(name string) tea.Cmd {
	if m.showing == onPointing && m.noise.asking() {
		if cmd, ok := m.pressOn(name, onNoise); ok {
			return cmd
		}
	}
	if m.showing == onPointing && m.config.Practice != nil {
		if cmd, ok := m.pressOn(name, onPractice); ok {
			return cmd
		}
	}
	cmd, _ := m.pressOn(name, m.showing, everywhere)
	return cmd
}

// pressOn does what a key does on one of some views; false where it does
// nothing.
func (m *model) pressOn(name string, views ...screen) (tea.Cmd, bool) {
	for _, b := range m.keys {
		if !slices.Contains(views, screen(b.View)) {
			continue
		}
		for _, n := range b.names {
			if n != name {
				continue
			}
			if b.off != nil {
				if why := b.off(m); why != "" {
					m.tell(capital(why))
					return nil, true
				}
			}
			return b.do(m), true
		}
	}
	return nil, false
}

// footer returns the keys to show at the bottom of the view that is shown, help
// and the way back first: there is not always room for all.
func (m *model) footer() []string {
	var help, back, others []string
	for _, b := range m.keys {
		steers := b.View == string(onPractice) && m.config.Practice != nil && m.showing == onPointing
		if b.short == "" || b.View != string(everywhere) && b.View != string(m.showing) && !steers {
			continue
		}
		switch {
		case b.off != nil && b.off(m) != "":
		case m.showing == onSatellites && b.View == string(everywhere): // letters are typed there
		case b.names[0] == "?":
			help = append(help, b.short)
		case b.names[0] == "esc":
			back = append(back, b.short)
		default:
			others = append(others, b.short)
		}
	}
	return slices.Concat(help, back, others)
}
