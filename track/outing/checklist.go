package outing

import (
	"cmp"
	"slices"
	"time"
)

// ItemState is how far an item of the checklist is.
type ItemState string

// The states.
const (
	Pending ItemState = "pending" // its time hasn't come
	Due     ItemState = "due"     // to be confirmed by the operator
	Failed  ItemState = "failed"  // its time has come, and the program finds it wrong
	Done    ItemState = "done"
	Missed  ItemState = "missed" // too late for it
)

// Check is one tick of the checklist, or the taking back of one, for the record.
type Check struct {
	Name     string
	Done     bool
	At       time.Time
	ByItself bool // by the program
}

// ItemStatus is an item at a moment.
type ItemStatus struct {
	Item
	State    ItemState
	Due      time.Time // when its time comes; the start of the program if that was later
	At       time.Time // when it was done
	ByItself bool      // done by the program
	Why      string    // why the program's check fails, also before it is due
}

// Checklist is a list of items timed against one pass.
type Checklist struct {
	items     []Item
	rise, set time.Time
	started   time.Time
	ticks     map[string]Check
	facts     Facts
}

// NewChecklist makes a checklist for a pass, begun at a time that may be in its
// middle. The items must pass CheckItems.
func NewChecklist(items []Item, rise, set, started time.Time) *Checklist {
	return &Checklist{items: slices.Clone(items), rise: rise, set: set, started: started, ticks: make(map[string]Check)}
}

// Update takes the facts of the moment. It returns the items that tick or untick
// themselves by them, for the record. An item that the operator confirmed stays
// confirmed whatever the facts say.
func (c *Checklist) Update(now time.Time, facts Facts) []Check {
	c.facts = facts
	var changed []Check
	for _, item := range c.items {
		tick := c.ticks[item.Name]
		if item.Check == FactNone || tick.Done && !tick.ByItself {
			continue
		}
		if ok, _ := facts.judge(item.Check); ok != tick.Done {
			changed = append(changed, c.tick(Check{item.Name, ok, stamp(now), true}))
		}
	}
	return changed
}

// Confirm says that the operator has checked an item; false when there is no
// such item or it is done.
func (c *Checklist) Confirm(name string, at time.Time) (Check, bool) {
	if c.ticks[name].Done || !c.has(name) {
		return Check{}, false
	}
	return c.tick(Check{name, true, stamp(at), false}), true
}

// TakeBack says that an item isn't done after all: the recorder has stopped. It
// returns false when the item wasn't done.
func (c *Checklist) TakeBack(name string, at time.Time) (Check, bool) {
	if !c.ticks[name].Done {
		return Check{}, false
	}
	return c.tick(Check{name, false, stamp(at), false}), true
}

// Restore takes the ticks of a record, in its order. Those of items that are no
// longer on the list are left out.
func (c *Checklist) Restore(checks []Check) {
	for _, k := range checks {
		if c.has(k.Name) {
			c.tick(k)
		}
	}
}

func (c *Checklist) tick(k Check) Check {
	c.ticks[k.Name] = k
	return k
}

func (c *Checklist) has(name string) bool {
	return slices.ContainsFunc(c.items, func(i Item) bool { return i.Name == name })
}

// All returns every item at a moment, in the order of the list.
func (c *Checklist) All(now time.Time) []ItemStatus {
	all := make([]ItemStatus, len(c.items))
	for i, item := range c.items {
		all[i] = c.status(item, now)
	}
	return all
}

func (c *Checklist) status(item Item, now time.Time) ItemStatus {
	s := ItemStatus{Item: item, Due: c.rise.Add(-item.Before)}
	if s.Due.Before(c.started) {
		s.Due = c.started
	}
	passes := true
	if item.Check != FactNone {
		passes, s.Why = c.facts.judge(item.Check)
	}
	tick := c.ticks[item.Name]
	switch {
	case tick.Done:
		s.State, s.At, s.ByItself = Done, tick.At, tick.ByItself
	case now.Before(s.Due):
		s.State = Pending
	case !now.Before(c.set) || item.UntilRise && !now.Before(c.rise):
		s.State = Missed
	case !passes:
		s.State = Failed
	default:
		s.State = Due
	}
	return s
}

// MaxDue is the most items that ask for attention at once.
const MaxDue = 3

// Due returns what asks for attention, most urgent first, MaxDue at most: what
// insists, then what the program finds wrong, then the rest by how lately its
// time came: the nearer to rise, the more it counts.
func (c *Checklist) Due(now time.Time) []ItemStatus {
	due := c.open(now)
	return due[:min(len(due), MaxDue)]
}

// open returns all that is due or failed, most urgent first.
func (c *Checklist) open(now time.Time) []ItemStatus {
	var due []ItemStatus
	for _, item := range c.items {
		if s := c.status(item, now); s.State == Due || s.State == Failed {
			due = append(due, s)
		}
	}
	rank := func(s ItemStatus) int {
		switch {
		case s.Insist:
			return 0
		case s.State == Failed:
			return 1
		}
		return 2
	}
	slices.SortStableFunc(due, func(a, b ItemStatus) int {
		if r := rank(a) - rank(b); r != 0 {
			return r
		}
		return cmp.Compare(a.Before, b.Before)
	})
	return due
}
