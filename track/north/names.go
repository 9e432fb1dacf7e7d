package north

import "foreaim/track/internal/csvfile"

// mostName is how many characters of a name from outside lines and errors show.
const mostName = 16

// shortName makes a name from outside fit for a line, or gives the other one
// where nothing is left of it.
func shortName(name, otherwise string) string {
	if name = csvfile.Clean(name, mostName); name != "" {
		return name
	}
	return otherwise
}
