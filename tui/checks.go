package tui

import (
	"fmt"

	tea "github.com/charmbracelet/bubbletea"

	"foreaim/track/outing"
)

// checkState says how far an item is, in full and in short.
func (s *scene) checkState(i outing.ItemStatus) (full, short string, how ink) {
	switch i.State {
	case outing.Done:
		if i.ByItself {
			return "found right", "right", plain
		}
		return "yes, at " + s.clockTime(i.At), "yes", plain
	case outing.Due:
		return "DUE", "DUE", warning
	case outing.Failed:
		return "NO: " + i.Why, "NO", warning
	case outing.Missed:
		return "too late", "late", plain
	}
	wait := span(i.Due.Sub(s.now))
	return "in " + wait, wait, plain
}

// drawChecks draws the checklist.
func drawChecks(c *canvas, s *scene, k *checking, footer []string) {
	title := "Checklist"
	if k.list != nil {
		title += " for the pass of " + s.target.Name
		if s.now.Before(k.rise) {
			title += ", rises in " + span(k.rise.Sub(s.now))
		}
	}
	c.text(1, 0, strong, c.fit(c.columns-2, title, "Checklist"))
	var items []outing.ItemStatus
	if k.list != nil {
		items = k.list.All(s.now)
	} else {
		c.text(1, 2, plain, c.fit(c.columns-2, "No pass to prepare for yet"))
	}
	k.selected = max(0, min(k.selected, len(items)-1))
	rows := max(c.rows-3, 1)
	top := max(0, k.selected-rows+1)
	text := 0
	for _, i := range items {
		text = max(text, cells(clean(i.Text))+2)
	}
	text = min(text, c.columns*3/5)
	for i := top; i < len(items) && i-top < rows; i++ {
		y := 1 + i - top
		how, cursor := plain, "  "
		if i == k.selected {
			how, cursor = strong, "> "
		}
		c.text(1, y, how, c.fit(text, cursor+clean(items[i].Text)))
		full, short, ink := s.checkState(items[i])
		c.text(text+2, y, ink, c.fit(c.columns-text-3, full, short))
	}
	if c.rows > 3 {
		drawFooter(c, c.rows-1, s, footer)
	}
}

// moveCheck moves the cursor of the checklist.
func moveCheck(by int) func(m *model) tea.Cmd {
	return func(m *model) tea.Cmd {
		m.checking.selected = max(0, m.checking.selected+by)
		return nil
	}
}

// answerCheck confirms the item at the cursor, or takes it back.
func (m *model) answerCheck() tea.Cmd {
	k := &m.checking
	if k.list == nil {
		return nil
	}
	items := k.list.All(m.scene.now)
	if k.selected >= len(items) {
		return nil
	}
	i := items[k.selected]
	if i.State == outing.Done && i.ByItself {
		m.tell(fmt.Sprintf("%s The program finds it right", i.Text))
		return nil
	}
	m.toggleCheck(i.Name, i.Text)
	return nil
}
