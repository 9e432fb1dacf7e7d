package outing

import (
	"slices"
	"time"
)

// Utterance is something to say aloud.
type Utterance struct {
	At    time.Time // the slot that it belongs to: said once a slot
	Names []string  // the items that it is about
	Text  string
}

const (
	// speechSlot is the grid, counted from rise, on which the checklist speaks,
	// and so the least time between two utterances. What insists has every
	// second slot, the rest the others.
	speechSlot = 30 * time.Second
	// together is how many items are said at once: about three seconds each.
	together = 2
)

// Speak returns what to say in the slot of the moment; false where that is
// nothing. It depends on the state and the time alone: the caller says an
// utterance when its At isn't that of the last one said, and so at most one in
// thirty seconds. What insists is said every minute until it is confirmed, also
// during the pass. The rest is said before rise only, two items at a time, what
// has just become due first.
func (c *Checklist) Speak(now time.Time) (Utterance, bool) {
	slot := floorDiv(now.Sub(c.rise), speechSlot)
	insisting, others := c.speakable(now)
	u := Utterance{At: stamp(c.rise.Add(time.Duration(slot) * speechSlot))}
	switch {
	case slot%2 != 0 && len(insisting) > 0:
		turn := floorDiv(time.Duration(slot), 2) % len(insisting)
		if turn < 0 {
			turn += len(insisting)
		}
		u.say(insisting[turn])
	case slot%2 == 0 && now.Before(c.rise) && len(others) > 0:
		// The turn counts from the slot in which the newest came in.
		came := floorDiv(others[0].Due.Sub(c.rise)+speechSlot-1, speechSlot)
		turns := (len(others) + together - 1) / together
		first := max(slot-came, 0) / 2 % turns * together
		for _, s := range others[first:min(first+together, len(others))] {
			u.say(s)
		}
	}
	return u, u.Text != ""
}

func (u *Utterance) say(s ItemStatus) {
	if u.Text != "" {
		u.Text += " "
	}
	u.Text += s.Text
	u.Names = append(u.Names, s.Name)
}

// speakable returns what there is to say: what insists, and the rest, the newest
// first.
func (c *Checklist) speakable(now time.Time) (insisting, others []ItemStatus) {
	for _, s := range c.open(now) {
		if s.Insist {
			insisting = append(insisting, s)
		} else {
			others = append(others, s)
		}
	}
	slices.SortStableFunc(others, func(a, b ItemStatus) int { return b.Due.Compare(a.Due) })
	return insisting, others
}

// floorDiv divides and rounds down.
func floorDiv(a, b time.Duration) int {
	q := a / b
	if a%b < 0 {
		q--
	}
	return int(q)
}
