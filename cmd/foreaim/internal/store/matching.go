package store

import (
	"errors"
	"strconv"
	"strings"

	"foreaim/track/elements"
)

// Matching returns every set of the objects of which at least one set has a name
// and designator that fit; either may be empty. The sets come by catalogue
// number, of one object the oldest epoch first. It is much faster than Newest
// where few objects fit, as it reads the messages of those only. Sets that could
// be read are returned beside an error, as by Newest.
func (s *Store) Matching(fits func(name, designator string) bool) ([]elements.Set, error) {
	var all []elements.Set
	var faults []error
	for _, name := range fileNames() {
		f, err := readFile(s.path(name))
		if err != nil {
			faults = append(faults, err)
			continue
		}
		meant := map[Object]bool{}
		faults = append(faults, f.lines(func(l line, _ int) {
			if !meant[l.object] && fits(l.value("OBJECT_NAME"), l.value("OBJECT_ID")) {
				meant[l.object] = true
			}
		}))
		if len(meant) == 0 {
			continue
		}
		var own batch
		f.lines(func(l line, number int) { // what is damaged is told above
			if meant[l.object] {
				own = append(own, numbered{l, number})
			}
		})
		sets, badSets := own.sets(f.path)
		all = append(all, sets...)
		faults = append(faults, badSets)
	}
	sortByEpoch(all)
	sortByNumber(all)
	return all, errors.Join(faults...)
}

// value is the text behind a keyword of the line's message, as newLines writes
// it; empty where there is none.
func (l line) value(keyword string) string {
	_, after, found := strings.Cut(l.omm, `"`+keyword+`":`)
	if !found {
		return ""
	}
	quoted, err := strconv.QuotedPrefix(after)
	if err != nil {
		return ""
	}
	text, err := strconv.Unquote(quoted)
	if err != nil {
		return ""
	}
	return text
}
