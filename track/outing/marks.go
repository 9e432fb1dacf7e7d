package outing

import (
	"cmp"
	"errors"
	"fmt"
	"slices"
	"time"
)

// Marks holds what was marked in one outing for one satellite. Every method
// that changes something returns the marks that are new or changed, in order,
// for the record; Restore takes them back.
type Marks struct {
	ear    Ear
	length time.Duration // of a burst where none was expected; 0 unknown

	marks   []Mark // by ID
	bursts  []Burst
	decided int // bursts before this one have been decided on by Tick

	since   time.Time // no silence is concluded from before
	watched time.Time // the last Tick
	away    []span    // when no key could be taken

	press press
	after int // the ID that new marks come after
}

// press is the last press of the key for heard.
type press struct {
	id     int // of its mark, 0 when there is none
	at     time.Time
	before Strength // of the mark before this press
}

const (
	// strengthWindow is how soon another press of the same key must follow to
	// tell the strength instead of another burst.
	strengthWindow = 4 * time.Second
	// repeatGap: presses that follow faster come from a key kept down (10 to
	// 40 a second, from memory) or from a bouncing contact, not from a hand.
	repeatGap = 120 * time.Millisecond
	// lateness is how long after the latest believable time a mark may still
	// turn a silence into heard.
	lateness = 5 * time.Second
)

// NewMarks returns an empty model. The length is that of the beacon's bursts,
// 0 when unknown: it dates bursts that come where none was expected.
func NewMarks(ear Ear, length time.Duration) *Marks {
	return &Marks{ear: ear, length: length}
}

// Expect says which bursts are expected. Those that have begun by now stay as
// they were when they began: later wisdom doesn't change what was advised.
func (m *Marks) Expect(now time.Time, bursts []Burst) {
	kept := m.decided
	for kept < len(m.bursts) && !m.bursts[kept].Start.After(now) {
		kept++
	}
	numbers := make(map[int]bool, kept+len(bursts))
	for _, b := range m.bursts[:kept] {
		numbers[b.Number] = true
	}
	var last time.Time
	if kept > 0 {
		last = m.bursts[kept-1].Start
	}
	m.bursts = m.bursts[:kept]
	bursts = slices.SortedStableFunc(slices.Values(bursts), func(a, b Burst) int { return a.Start.Compare(b.Start) })
	for _, b := range bursts {
		if !numbers[b.Number] && b.Start.After(last) {
			numbers[b.Number] = true
			b.Start = stamp(b.Start)
			m.bursts = append(m.bursts, b)
		}
	}
}

// Hear takes one press of the key for heard. The first press says that a burst
// was heard, nothing else. Pressed again within four seconds the same key says
// how well: twice for strong, three times for weak, four times for good, and
// round again. A key kept down counts once.
//
// The mark goes to the expected burst whose mark time fits best, or to none.
// The held direction is used where the mark belongs to no burst.
func (m *Marks) Hear(at time.Time, held Held) []Mark {
	at = stamp(at)
	last := m.find(m.press.id)
	if last != nil && last.stands() {
		gap := at.Sub(m.press.at)
		if gap.Abs() < repeatGap {
			return m.repeat(last, at)
		}
		if gap > 0 && gap <= strengthWindow && !m.better(last, at) {
			m.press.at, m.press.before = at, last.Strength
			last.Strength = nextStrength(last.Strength)
			return []Mark{*last}
		}
	}
	changed := m.endAway(at)
	burst, expected := m.attribute(at)
	if expected {
		changed = append(changed, m.replaceAutomatic(burst.Number)...)
		held = cmp.Or(burst.Held, held)
	} else {
		burst.Length = m.length
	}
	mark := Mark{At: at, Kind: Heard, Held: held, Origin: Origin{Expected: expected}}
	if expected {
		mark.Origin.Number, mark.Origin.Start = burst.Number, burst.Start
	}
	mark.Origin.LikelyStart, mark.Origin.UncertaintyS = m.ear.Start(at, burst, expected)
	mark.Origin.LikelyStart = stamp(mark.Origin.LikelyStart)
	changed = append(changed, m.add(mark))
	m.press = press{id: changed[len(changed)-1].ID, at: at}
	return changed
}

// repeat takes a press that no hand made. The key was kept down: a strength
// that its first repetition seemed to tell is taken back.
func (m *Marks) repeat(last *Mark, at time.Time) []Mark {
	if at.After(m.press.at) {
		m.press.at = at
	}
	if last.Strength == m.press.before {
		return nil
	}
	last.Strength = m.press.before
	return []Mark{*last}
}

// better tells whether a press fits another expected burst better than the
// mark that it would tell the strength of.
func (m *Marks) better(last *Mark, at time.Time) bool {
	other, ok := m.attribute(at)
	if !ok || !last.Origin.Expected {
		return ok
	}
	for _, b := range m.bursts {
		if b.Number == last.Origin.Number {
			return m.ear.miss(other, at) < m.ear.miss(b, at)
		}
	}
	return true
}

func nextStrength(s Strength) Strength {
	switch s {
	case Strong:
		return Weak
	case Weak:
		return Good
	}
	return Strong
}

// attribute returns the burst, not heard yet, that a mark made at a time is of.
func (m *Marks) attribute(at time.Time) (Burst, bool) {
	best, late := -1, -1
	for i, b := range m.bursts {
		if m.ear.Earliest(b).After(at) || m.ear.Latest(b).Add(lateness).Before(at) || m.heard(b.Number) {
			continue
		}
		if m.ear.Latest(b).Before(at) {
			late = i
		} else if best < 0 || m.ear.miss(b, at) < m.ear.miss(m.bursts[best], at) {
			best = i
		}
	}
	if best < 0 {
		best = late
	}
	if best < 0 {
		return Burst{}, false
	}
	return m.bursts[best], true
}

func (m *Marks) heard(number int) bool {
	return slices.ContainsFunc(m.marks, func(k Mark) bool {
		return k.stands() && k.Kind == Heard && k.Origin.Expected && k.Origin.Number == number
	})
}

// replaceAutomatic makes way for what was heard of a burst.
func (m *Marks) replaceAutomatic(number int) []Mark {
	return m.change(func(k *Mark) bool {
		return k.stands() && k.Automatic && k.Origin.Expected && k.Origin.Number == number
	}, Replaced)
}

// change gives a fate to all marks of a kind.
func (m *Marks) change(which func(*Mark) bool, fate Fate) []Mark {
	var changed []Mark
	for i := range m.marks {
		if k := &m.marks[i]; which(k) {
			k.Fate = fate
			changed = append(changed, *k)
		}
	}
	return changed
}

// Undo takes back the mark made last of those that stand, the program's own
// among them; pressed again, the one before. The program doesn't make a mark of
// its own again that was taken back. What the mark had replaced holds again.
func (m *Marks) Undo() []Mark {
	for i := len(m.marks) - 1; i >= 0; i-- {
		k := &m.marks[i]
		if !k.stands() {
			continue
		}
		k.Fate = Undone
		changed := []Mark{*k}
		if k.Kind == Heard && k.Origin.Expected {
			changed = append(changed, m.reopen(k.Origin.Number)...)
		}
		return changed
	}
	return nil
}

// reopen makes a burst undecided that isn't heard any more, or gives it back
// the mark that was replaced.
func (m *Marks) reopen(number int) []Mark {
	changed := m.change(func(k *Mark) bool {
		return k.Fate == Replaced && k.Origin.Expected && k.Origin.Number == number
	}, Stands)
	for i, b := range m.bursts[:m.decided] {
		if b.Number == number && len(changed) == 0 {
			m.decided = i
			break
		}
	}
	return changed
}

// All returns the marks that stand, by time.
func (m *Marks) All() []Mark {
	var all []Mark
	for _, k := range m.marks {
		if k.stands() {
			all = append(all, k)
		}
	}
	slices.SortStableFunc(all, func(a, b Mark) int { return a.At.Compare(b.At) })
	return all
}

// add keeps a new mark and numbers it.
func (m *Marks) add(mark Mark) Mark {
	mark.ID = max(m.Newest(), m.after) + 1
	m.marks = append(m.marks, mark)
	return mark
}

// Newest returns the largest ID of all marks, 0 where there is none.
func (m *Marks) Newest() int {
	if n := len(m.marks); n > 0 {
		return m.marks[n-1].ID
	}
	return 0
}

// CountAfter makes the IDs of marks to come larger than the given one: those of
// several satellites share one record.
func (m *Marks) CountAfter(id int) { m.after = max(m.after, id) }

// find returns the mark with an ID, or nil.
func (m *Marks) find(id int) *Mark {
	i, ok := slices.BinarySearchFunc(m.marks, id, func(k Mark, id int) int { return k.ID - id })
	if !ok {
		return nil
	}
	return &m.marks[i]
}

// Restore takes the marks of a record, in its order; of those with the same ID
// the last holds. Until is the time of the record's last line: from then to the
// next Tick nobody could mark anything. Marks that can't be are left out, and
// named in the error.
func (m *Marks) Restore(marks []Mark, until time.Time) error {
	var faults []error
	last := make(map[int]Mark, len(marks))
	for _, k := range marks {
		if err := k.Check(); err != nil {
			faults = append(faults, err)
			continue
		}
		last[k.ID] = k
	}
	*m = *NewMarks(m.ear, m.length)
	for _, k := range last {
		m.marks = append(m.marks, k)
	}
	slices.SortFunc(m.marks, func(a, b Mark) int { return a.ID - b.ID })
	m.since, m.watched = until, until
	return errors.Join(faults...)
}

// maxMarkID leaves room to count on.
const maxMarkID = 1 << 30

// Check returns an error that names the first thing wrong with a mark that
// comes from outside.
func (k Mark) Check() error {
	switch {
	case k.ID < 1 || k.ID > maxMarkID:
		return fmt.Errorf("mark has number %d, want 1 or more", k.ID)
	case !k.Kind.known():
		return fmt.Errorf("mark %d has the kind %q, want heard, silent, not_listening, noise_up or noise_normal", k.ID, k.Kind)
	case k.Strength != "" && !k.Strength.known():
		return fmt.Errorf("mark %d has the strength %q, want weak, good, strong or none", k.ID, k.Strength)
	case k.Fate != Stands && k.Fate != Undone && k.Fate != Replaced:
		return fmt.Errorf("mark %d has the fate %q, want undone, replaced or none", k.ID, k.Fate)
	case k.At.IsZero():
		return fmt.Errorf("mark %d has no time", k.ID)
	}
	return nil
}
