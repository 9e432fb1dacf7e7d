package outing

import (
	"errors"
	"fmt"
	"time"
	"unicode/utf8"

	"foreaim/track/internal/csvfile"
)

// Fact names something that the program can check itself.
type Fact string

// The facts.
const (
	FactNone     Fact = ""
	FactFix      Fact = "fix"
	FactClock    Fact = "clock"
	FactElements Fact = "elements"
	FactFacing   Fact = "facing"
	FactDisk     Fact = "disk"
)

// Item is one line of a checklist.
type Item struct {
	Name   string        // short and unique, for the record
	Before time.Duration // before rise, when it is due
	Text   string        // what to check, as a question, also spoken
	Check  Fact          // the program answers it; FactNone: the operator does
	// Insist keeps the item on the screen, and has it spoken again and again,
	// until it is confirmed, also during the pass.
	Insist bool
	// UntilRise drops the item at rise, when it is too late for it.
	UntilRise bool
}

// DefaultItems is a checklist to begin with (common practice, no source). The
// recorder is the one thing that nobody can make good afterwards.
func DefaultItems() []Item {
	return []Item{
		{Name: "elements", Before: 12 * time.Minute, Text: "Elements under 3 days old?", Check: FactElements},
		{Name: "disk", Before: 12 * time.Minute, Text: "Room for the record?", Check: FactDisk},
		{Name: "fix", Before: 10 * time.Minute, Text: "Position known?", Check: FactFix},
		{Name: "clock", Before: 10 * time.Minute, Text: "Clock right?", Check: FactClock},
		{Name: "facing", Before: 6 * time.Minute, Text: "Facing set?", Check: FactFacing},
		{Name: "recorder", Before: 5 * time.Minute, Text: "Recorder running?", Insist: true},
		{Name: "receiver", Before: 4 * time.Minute, Text: "Receiver tuned, squelch open?"},
		{Name: "antenna", Before: 2 * time.Minute, Text: "Antenna fitted for the band?"},
		{Name: "preamplifier", Before: 2 * time.Minute, Text: "Preamplifier powered?"},
		{Name: "rise point", Before: time.Minute, Text: "On the rise point?", UntilRise: true},
	}
}

// Limits of a checklist.
const (
	maxItems    = 40
	maxItemName = 24        // characters
	maxItemText = 60        // characters: one line of a screen, three seconds of speech
	maxBefore   = time.Hour // before rise
)

// CheckItems returns an error that names the first item that is wrong, and what
// would be right.
func CheckItems(items []Item) error {
	if len(items) > maxItems {
		return fmt.Errorf("checklist of %d items, at most %d", len(items), maxItems)
	}
	names := make(map[string]bool, len(items))
	for i, item := range items {
		name := fmt.Sprintf("checklist item %d", i+1)
		if err := shortText(item.Name, maxItemName); err != nil {
			return fmt.Errorf("%s: name %w", name, err)
		}
		name += fmt.Sprintf(" (%s)", item.Name)
		if err := shortText(item.Text, maxItemText); err != nil {
			return fmt.Errorf("%s: text %w", name, err)
		}
		switch {
		case names[item.Name]:
			return fmt.Errorf("%s: there is one of this name already", name)
		case item.Before < 0 || item.Before > maxBefore:
			return fmt.Errorf("%s: %s before rise is not within 0s to %s", name, item.Before, maxBefore)
		case !item.Check.known():
			return fmt.Errorf("%s: check %q is unknown, want fix, clock, elements, facing, disk or none", name, csvfile.Found(string(item.Check)))
		case item.Insist && item.UntilRise:
			return fmt.Errorf("%s: insists, and ends at rise: choose one", name)
		case item.Insist && item.Check != FactNone:
			return fmt.Errorf("%s: insists, and is checked by the program: choose one", name)
		}
		names[item.Name] = true
	}
	return nil
}

func (f Fact) known() bool {
	switch f {
	case FactNone, FactFix, FactClock, FactElements, FactFacing, FactDisk:
		return true
	}
	return false
}

// shortText tells what is wrong with a line of the user's own.
func shortText(text string, most int) error {
	switch n := utf8.RuneCountInString(text); {
	case text == "":
		return errors.New("is empty")
	case n > most:
		return fmt.Errorf("has %d characters, at most %d", n, most)
	case Clean(text) != text:
		return fmt.Errorf("%q holds what can't be shown, or begins or ends with a space", csvfile.Found(text))
	}
	return nil
}
