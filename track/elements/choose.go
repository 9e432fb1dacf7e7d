package elements

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"foreaim/track/internal/csvfile"
)

// ChoiceError says why no one object could be chosen.
type ChoiceError struct {
	What   string // what is wrong
	Advice string // the way out
}

// Error returns one line.
func (e *ChoiceError) Error() string { return e.What }

// Hint returns the way out.
func (e *ChoiceError) Hint() string { return e.Advice }

// Newest returns one set for each object, the one with the newest epoch (of
// equal epochs the first), in the order in which the objects first appear. Sets
// are of one object as SameObject says.
func Newest(sets []Set) []Set {
	var n newest
	for _, s := range sets {
		n.add(s)
	}
	return n.sets
}

// newest gathers the newest set of each object.
type newest struct {
	sets []Set
	at   map[identity]int // in sets
}

// add takes a set in and returns where its object is in sets, and the object's
// newest set before; zero if the object is new.
func (n *newest) add(s Set) (i int, before Set) {
	id := s.identity()
	i, seen := n.at[id]
	if !seen {
		if n.at == nil {
			n.at = map[identity]int{}
		}
		n.at[id] = len(n.sets)
		n.sets = append(n.sets, s)
		return n.at[id], Set{}
	}
	before = n.sets[i]
	if s.Epoch.After(before.Epoch) {
		n.sets[i] = s
	}
	return i, before
}

// Choose returns the newest set of the object that sat means: a catalogue
// number (also in a TLE's five characters), else a whole name or designator,
// else a part of a name or designator that only one object has; letter case is
// free. An empty sat means the only object. The error is a *ChoiceError.
func Choose(sets []Set, sat string) (Set, error) {
	objects := Newest(sets)
	sat = csvfile.Clean(sat, maxName)
	if len(objects) == 0 {
		return Set{}, &ChoiceError{"there are no elements to choose from", "name a file or folder with --elements"}
	}
	if sat == "" {
		if len(objects) == 1 {
			return objects[0], nil
		}
		return Set{}, &ChoiceError{
			fmt.Sprintf("there are elements of %d objects, and none was named: %s", len(objects), few(objects)),
			adviceName,
		}
	}
	for _, matches := range matchers(sat) {
		// An older set may have the name that the newest lacks.
		meant := map[identity]bool{}
		for _, s := range sets {
			if matches(s) {
				meant[s.identity()] = true
			}
		}
		found := slices.DeleteFunc(slices.Clone(objects), func(s Set) bool { return !meant[s.identity()] })
		switch len(found) {
		case 0:
			continue
		case 1:
			return found[0], nil
		}
		return Set{}, &ChoiceError{fmt.Sprintf("%q fits %d objects: %s", sat, len(found), few(found)), adviceName}
	}
	if len(objects) == 1 {
		return Set{}, &ChoiceError{fmt.Sprintf("no object fits %q; the only one is %s", sat, few(objects)), adviceOther}
	}
	return Set{}, &ChoiceError{fmt.Sprintf("none of %d objects fits %q; some are %s", len(objects), sat, few(objects)), adviceOther}
}

const (
	adviceName  = "give a catalogue number, or a longer part of the name"
	adviceOther = "give a catalogue number, or another part of the name"
)

// matchers are the ways to understand sat, the surest first.
func matchers(sat string) []func(Set) bool {
	number := 0
	if n, ok := digits(sat); ok {
		number = n
	} else if n, err := ParseAlpha5(strings.ToUpper(sat)); err == nil {
		number = n
	}
	part := strings.ToLower(sat)
	return []func(Set) bool{
		func(s Set) bool { return number > 0 && s.CatalogueNumber == number },
		func(s Set) bool {
			return strings.EqualFold(s.Name, sat) || strings.EqualFold(s.Designator, sat) ||
				strings.EqualFold(shortDesignator(s.Designator), sat)
		},
		func(s Set) bool {
			return strings.Contains(strings.ToLower(s.Name), part) || strings.Contains(strings.ToLower(s.Designator), part)
		},
	}
}

// identity tells objects apart. A set with neither number nor name nor
// designator is an object of its own, told by its place.
type identity struct {
	number           int
	name, designator string
	file             string
	line             int
}

// SameObject tells whether two sets are of one object: their catalogue numbers
// are equal or, where neither has one, names and designators, in any letter
// case (without these either, their places in a file). A set with a number and
// one without are of two objects, whatever their names.
func (s Set) SameObject(other Set) bool { return s.identity() == other.identity() }

func (s Set) identity() identity {
	switch {
	case s.CatalogueNumber > 0:
		return identity{number: s.CatalogueNumber}
	case s.Name != "" || s.Designator != "":
		return identity{name: strings.ToLower(s.Name), designator: strings.ToLower(s.Designator)}
	}
	return identity{file: s.File, line: s.Line}
}

// label names the set for messages.
func (s Set) label() string {
	number := fmt.Sprintf("catalogue number %d", s.CatalogueNumber)
	name := cmp.Or(s.Name, s.Designator)
	switch {
	case name == "" && s.CatalogueNumber == 0:
		return "an object without name and number"
	case name == "":
		return number
	case s.CatalogueNumber == 0:
		return name
	}
	return fmt.Sprintf("%s (%d)", name, s.CatalogueNumber)
}

// few names the first of many objects.
func few(objects []Set) string {
	const most = 5
	var names []string
	for _, s := range objects[:min(len(objects), most)] {
		names = append(names, s.label())
	}
	if len(objects) > most {
		names = append(names, "...")
	}
	return strings.Join(names, ", ")
}
