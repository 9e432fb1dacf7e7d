package tui

import (
	"fmt"

	tea "github.com/charmbracelet/bubbletea"

	"foreaim/track"
	"foreaim/track/aim"
)

// passList is the view of coming passes.
type passList struct {
	selected, top int
	fellows       fellows // of the chosen one
}

// coming returns the passes of the list: those that are not over.
func (k *tracker) coming(s *scene) []track.Pass {
	if !k.searchedOK {
		return nil
	}
	passes := k.searched.passes
	for len(passes) > 0 && s.now.After(passes[0].Set.Time) {
		passes = passes[1:]
	}
	return passes
}

// movePass moves the choice.
func movePass(by int) func(m *model) tea.Cmd {
	return func(m *model) tea.Cmd {
		last := len(m.tracker.coming(&m.scene)) - 1
		m.list.selected = max(0, min(m.list.selected+by, last))
		return nil
	}
}

// choosePass points at the chosen pass.
func (m *model) choosePass() tea.Cmd {
	passes := m.tracker.coming(&m.scene)
	if m.list.selected >= len(passes) {
		m.tell("There is no pass to choose")
		return nil
	}
	m.tracker.pin(passes[m.list.selected])
	m.showing = onPointing
	return nil
}

// draw draws the view.
func (l *passList) draw(c *canvas, s *scene, k *tracker, footer []string) {
	title := "Passes of " + s.target.Name
	if s.count > 1 {
		title += fmt.Sprintf(" (%d of %d)", s.number, s.count)
	}
	c.text(1, 0, strong, c.fit(c.columns-2, title+", "+s.above()+", local time", title))
	passes := k.coming(s)
	if len(passes) == 0 {
		word, rest, i := s.headline()
		c.text(1, 2, i, c.fit(c.columns-2, append(prefix(word+" ", rest), word)...))
	}
	lines := make([][]string, len(passes))
	for i, p := range passes {
		lines[i] = s.passLine(p, k.offOf(p))
	}
	form := pickForm(c, lines)
	c.text(1, 1, plain, c.fit(c.columns-2, passHeads[form]))
	rows := max(c.rows-3, 1)
	for _, about := range [...][]string{l.fellows.words(), l.about(s, k, passes)} {
		if rows >= 8 && len(about) > 0 {
			rows--
			c.text(1, 2+rows, plain, c.fit(c.columns-2, about...))
		}
	}
	l.top = max(0, min(l.top, l.selected))
	if l.selected >= l.top+rows {
		l.top = l.selected - rows + 1
	}
	for i := l.top; i < len(lines) && i < l.top+rows; i++ {
		how := plain
		if i == l.selected {
			how = block
		}
		y := 2 + i - l.top
		c.text(1, y, how, c.fit(c.columns-2, lines[i][form]))
		if i == l.selected {
			c.bar(0, y, c.columns, how)
			c.set(0, y, how, '>')
		}
	}
	if c.rows > 3 {
		drawFooter(c, c.rows-1, s, footer)
	}
}

// about says how old the elements are in the chosen pass and how far off the
// satellite likely is then; nothing while that isn't known.
func (l *passList) about(s *scene, k *tracker, passes []track.Pass) []string {
	if l.selected >= len(passes) {
		return nil
	}
	p := passes[l.selected]
	o := k.offOf(p)
	if o.words() == "" {
		return nil
	}
	r := s.elementsRemark(p.Peak.Time, o)
	return []string{capital(r.long), capital(r.short)}
}

// prefix puts a text before each of the others.
func prefix(with string, texts []string) []string {
	out := make([]string, len(texts))
	for i, t := range texts {
		out[i] = with + t
	}
	return out
}

// passHeads are the heads of the columns, from the fullest form to the shortest.
var passHeads = [...]string{
	"Day Rise     T    M    Peak     T    M    up  Set      T    M    Lasts Bursts Likely off",
	"Day Rise     T    M    Peak     T    M    up  Set      T    M    Lasts Bursts",
	"Day Rise      T    M    up  Set    T    M   Bursts",
	"Day Rise      T    up",
}

// pickForm returns the fullest form that the columns hold.
func pickForm(c *canvas, lines [][]string) int {
	for form := range passHeads {
		widest := cells(passHeads[form])
		for _, line := range lines {
			widest = max(widest, cells(c.glyphs.say(line[form])))
		}
		if widest <= c.columns-2 {
			return form
		}
	}
	return len(passHeads) - 1
}

// passLine says a pass in all forms.
func (s *scene) passLine(p track.Pass, o off) []string {
	day := func(l track.Look) string { return l.Time.In(s.zone).Format("Mon 15:04:05") }
	clock := func(l track.Look) string { return l.Time.In(s.zone).Format("15:04:05") }
	short := func(l track.Look) string { return l.Time.In(s.zone).Format("15:04") }
	both := func(l track.Look) string {
		if !s.north.known {
			return fmt.Sprintf("%03d   -", whole360(l.AzimuthDeg))
		}
		return fmt.Sprintf("%03d  %03d", whole360(l.AzimuthDeg), whole360(l.AzimuthDeg-s.north.deg+360))
	}
	one := func(l track.Look) string { return fmt.Sprintf("%03d", whole360(l.AzimuthDeg)) }
	up := fmt.Sprintf("%2d", whole(p.Peak.ElevationDeg))
	lasts := fmt.Sprintf("%5s", span(p.Duration()))
	if p.AlwaysUp {
		always := fmt.Sprintf("Always up, peak %s° at %s", up, clock(p.Peak))
		return []string{always, always, always, always}
	}
	bursts := s.burstCount(p)
	full := fmt.Sprintf("%s %s  %s %s  %s  %s %s  %s %6s", day(p.Rise), both(p.Rise), clock(p.Peak), both(p.Peak), up, clock(p.Set), both(p.Set), lasts, bursts)
	return []string{
		fmt.Sprintf("%s %10s", full, o.short()),
		full,
		fmt.Sprintf("%s  %s  %s  %s  %s %6s", day(p.Rise), both(p.Rise), up, short(p.Set), both(p.Set), bursts),
		fmt.Sprintf("%s  %s  %s", day(p.Rise), one(p.Rise), up),
	}
}

// burstCount says how many bursts a pass holds in sight: "20", "19-20" without a phase.
func (s *scene) burstCount(p track.Pass) string {
	least, most, err := aim.CountBursts(p, s.published)
	switch {
	case err != nil:
		return "-"
	case least == most:
		return fmt.Sprint(most)
	default:
		return fmt.Sprintf("%d-%d", least, most)
	}
}
