package tui

import (
	"fmt"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"foreaim/track/outing"
)

// diskEvery is how often the free space is looked at.
const diskEvery = 10 * time.Second

// checking is the checklist of the pass.
type checking struct {
	items     []outing.Item
	list      *outing.Checklist // nil while there is no pass
	rise, set time.Time         // that it is timed against
	ticks     []outing.Check    // of the pass, to be kept when it is computed anew
	tickRise  time.Time         // of the pass that they are of; zero: none
	said      time.Time         // the slot of what was said last
	diskAt    time.Time
	diskFree  int64
	diskKnown bool
	selected  int
}

func newChecking(c Config) checking {
	k := checking{items: c.Checks}
	if k.items == nil {
		k.items = outing.DefaultItems()
		if c.Record == nil { // nothing needs room then
			k.items = without(k.items, outing.FactDisk)
		}
	}
	if c.Resume != nil && c.Resume.Pass != nil {
		k.ticks, k.tickRise = c.Resume.Checks, c.Resume.Pass.Rise.Time.Time
	}
	return k
}

func without(items []outing.Item, fact outing.Fact) []outing.Item {
	var kept []outing.Item
	for _, i := range items {
		if i.Check != fact {
			kept = append(kept, i)
		}
	}
	return kept
}

// watch follows the pass and the facts. It returns what has ticked itself.
func (k *checking) watch(s *scene, c Config) []outing.Check {
	if s.pass == nil || s.pass.AlwaysUp {
		k.list = nil
		return nil
	}
	if k.list == nil || !k.rise.Equal(s.pass.Rise.Time) || !k.set.Equal(s.pass.Set.Time) {
		k.rise, k.set = s.pass.Rise.Time, s.pass.Set.Time
		k.list = outing.NewChecklist(k.items, k.rise, k.set, s.now)
		if k.rise.Sub(k.tickRise).Abs() > samePass {
			k.ticks = nil
		}
		k.tickRise = k.rise
		k.list.Restore(k.ticks)
	}
	if c.DiskFree != nil && s.computer.Sub(k.diskAt).Abs() > diskEvery {
		k.diskAt = s.computer
		k.diskFree, k.diskKnown = c.DiskFree()
	}
	changed := k.list.Update(s.now, k.facts(s, c))
	k.ticks = append(k.ticks, changed...)
	return changed
}

// facts is what the program knows.
func (k *checking) facts(s *scene, c Config) outing.Facts {
	fix := s.report.Fix
	f := outing.Facts{
		HasFix: fix.Valid(), FixAge: s.computer.Sub(fix.Received), Fixed: !s.receiver || c.SiteFixed || fix.Quality == "fixed",
		ClockKnown: s.clock.Known, HasElements: true, FacingSet: s.facing.known,
		DiskKnown: k.diskKnown, DiskFree: k.diskFree, RecordFailed: s.unkept != "",
	}
	if f.ClockKnown {
		f.ClockError = time.Duration(s.clock.UncertaintyAt(s.computer) * float64(time.Second))
	}
	f.ElementsAge = s.target.orbit.Elements().Age(k.rise)
	return f
}

// toggle confirms an item, or takes its confirmation back.
func (m *model) toggleCheck(name, text string) {
	k := &m.checking
	now := m.trueNow()
	check, ok := k.list.Confirm(name, now)
	if !ok {
		check, ok = k.list.TakeBack(name, now)
	}
	if !ok {
		return
	}
	k.ticks = append(k.ticks, check)
	m.recording.put(now, check.Entry())
	if check.Done {
		m.tell(text + " Yes.")
	} else {
		m.tell(text + " Not any more.")
	}
}

// confirmInsisting answers what the checklist insists on: the recorder.
func (m *model) confirmInsisting() tea.Cmd {
	if m.checking.list == nil {
		why := "There is no pass to prepare for yet"
		if !m.settled() {
			why = "Again in a moment: the time is not known yet"
		}
		m.tell(why)
		return nil
	}
	var open, done *outing.ItemStatus
	for _, i := range m.checking.list.All(m.scene.now) {
		switch {
		case !i.Insist:
		case i.State != outing.Done && open == nil:
			open = &i
		case i.State == outing.Done:
			done = &i
		}
	}
	switch {
	case open != nil:
		m.toggleCheck(open.Name, open.Text)
	case done != nil:
		m.toggleCheck(done.Name, done.Text)
	default:
		m.tell("Nothing on the checklist insists")
	}
	return nil
}

// speakCheck says aloud what is open.
func (m *model) speakCheck() {
	s, k := &m.scene, &m.checking
	if k.list == nil || len(s.plan.Holds) == 0 {
		return
	}
	if u, ok := k.list.Speak(s.now); ok && !u.At.Equal(k.said) && m.speaking.aside(s, u.Text) {
		k.said = u.At
	}
}

// todo says what the checklist asks for first, from the fullest to the
// shortest, and whether it insists; nothing while all is done.
func (k *checking) todo(now time.Time) (words []string, insists bool) {
	if k.list == nil {
		return nil, false
	}
	due := k.list.Due(now)
	if len(due) == 0 {
		return nil, false
	}
	first := due[0]
	text := clean(first.Text)
	if first.State == outing.Failed {
		return []string{text + " " + capital(first.Why) + "  c: checks", text + "  c: checks", text}, false
	}
	key := "  c: checks"
	if first.Insist {
		key = "  r: yes"
	}
	full := text + key
	if more := len(due) - 1; more > 0 {
		full = fmt.Sprintf("%s  and %d more, c", text+key, more)
	}
	return []string{full, text + key, text}, first.Insist
}
