package outing

import (
	"fmt"
	"strings"
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

// ItemError is what is wrong with an item of a checklist.
type ItemError struct {
	Item  int    // from 0; -1: with the list as a whole
	Field string // name, before, text, check or insist; empty: none of them alone
	What  string // printable
}

// Error says which item it is, from 1, and what is wrong.
func (e *ItemError) Error() string {
	if e.Item < 0 {
		return e.What
	}
	return strings.TrimSpace(fmt.Sprintf("checklist item %d: %s %s", e.Item+1, e.Field, e.What))
}

// CheckItems returns an *ItemError of the first item that is wrong, which says
// what would be right.
func CheckItems(items []Item) error {
	if len(items) > maxItems {
		return &ItemError{-1, "", fmt.Sprintf("checklist of %d items, at most %d", len(items), maxItems)}
	}
	names := make(map[string]bool, len(items))
	for i, item := range items {
		if field, what := item.fault(); what != "" {
			return &ItemError{i, field, what}
		}
		if names[item.Name] {
			return &ItemError{i, "name", fmt.Sprintf("%q is that of another item already", item.Name)}
		}
		names[item.Name] = true
	}
	return nil
}

// fault returns what is wrong with an item, and with which of its fields.
func (item Item) fault() (field, what string) {
	if what := shortText(item.Name, maxItemName); what != "" {
		return "name", what
	}
	if what := shortText(item.Text, maxItemText); what != "" {
		return "text", what
	}
	switch {
	case item.Before < 0 || item.Before > maxBefore:
		return "before", fmt.Sprintf("%s is not within 0s to %s before rise", item.Before, maxBefore)
	case !item.Check.known():
		return "check", fmt.Sprintf("%q is unknown, want fix, clock, elements, facing, disk or none", csvfile.Found(string(item.Check)))
	case item.Insist && item.UntilRise:
		return "insist", "goes on during the pass, and the item ends at rise: choose one"
	case item.Insist && item.Check != FactNone:
		return "insist", "is for the operator, and the program checks the item: choose one"
	}
	return "", ""
}

func (f Fact) known() bool {
	switch f {
	case FactNone, FactFix, FactClock, FactElements, FactFacing, FactDisk:
		return true
	}
	return false
}

// shortText tells what is wrong with a line of the user's own.
func shortText(text string, most int) string {
	switch n := utf8.RuneCountInString(text); {
	case text == "":
		return "is empty"
	case n > most:
		return fmt.Sprintf("has %d characters, at most %d", n, most)
	case Clean(text) != text:
		return fmt.Sprintf("%q holds what can't be shown, or begins or ends with a space", csvfile.Found(text))
	}
	return ""
}
