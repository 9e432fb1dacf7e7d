package store

import (
	"crypto/sha256"
	"fmt"
	"strconv"

	"foreaim/track/elements"
)

// Object says which object a set is of: sets of one object have the same one.
type Object string

// Number is the object with a catalogue number from 1 up.
func Number(number int) Object { return Object(strconv.Itoa(number)) }

// ObjectOf is the object of a set: its catalogue number counts, or, where the
// set has none, name and designator together.
func ObjectOf(set elements.Set) Object {
	if set.CatalogueNumber != 0 {
		return Number(set.CatalogueNumber)
	}
	hash := sha256.Sum256([]byte(set.Name + "\x00" + set.Designator))
	return Object(fmt.Sprintf("x%x", hash[:8]))
}

// unnumbered is the file of the objects without a number.
const unnumbered = "sets-unnumbered.txt"

// fileName is the file that an object's sets are in.
func (o Object) fileName() string {
	if o == "" || o[0] == 'x' {
		return unnumbered
	}
	digits := "0" + string(o)
	return "sets-" + digits[len(digits)-2:] + ".txt"
}

// fileNames are all the files that a store can have.
func fileNames() []string {
	names := make([]string, 0, 101)
	for i := range 100 {
		names = append(names, fmt.Sprintf("sets-%02d.txt", i))
	}
	return append(names, unnumbered)
}
