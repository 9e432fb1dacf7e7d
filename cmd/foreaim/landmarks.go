package main

import (
	"errors"
	"fmt"
	"strings"
	"unicode/utf8"

	"foreaim/track"
	"foreaim/track/north"
)

// landmarkTable is a place to take a facing from, as the configuration and the
// file of remembered places write it.
type landmarkTable struct {
	Name         *string  `toml:"name"`
	LatitudeDeg  *float64 `toml:"latitude_deg"`
	LongitudeDeg *float64 `toml:"longitude_deg"`
	HeightM      *float64 `toml:"height_m"` // of what is looked at, above the WGS-84 ellipsoid
}

// mostLandmarkName is how many characters the name of a landmark may have.
const mostLandmarkName = 40

// landmarkName makes one line of a name, and says what is wrong with it.
func landmarkName(text string) (string, error) {
	name := strings.Join(strings.Fields(plain(text)), " ")
	switch n := utf8.RuneCountInString(name); {
	case n == 0:
		return "", errors.New("it is empty")
	case n > mostLandmarkName:
		return "", fmt.Errorf("it has %d characters, at most %d", n, mostLandmarkName)
	}
	return name, nil
}

// landmarksOf checks the landmarks of a file.
func landmarksOf(c *configCheck, tables []landmarkTable) (landmarks []north.Landmark) {
	for i, table := range tables {
		this := fmt.Sprintf("landmark[%d]", i+1)
		l := north.Landmark{
			LatitudeDeg:  c.number(this+".latitude_deg", table.LatitudeDeg, -90, 90),
			LongitudeDeg: c.number(this+".longitude_deg", table.LongitudeDeg, -180, 180),
			HeightM:      c.number(this+".height_m", table.HeightM, -500, 10000),
			HeightKnown:  table.HeightM != nil,
		}
		for _, key := range []struct {
			name    string
			missing bool
		}{{"name", table.Name == nil}, {"latitude_deg", table.LatitudeDeg == nil}, {"longitude_deg", table.LongitudeDeg == nil}} {
			if key.missing {
				c.add(this, "", "%s is missing", key.name)
			}
		}
		if table.Name != nil {
			name, err := landmarkName(*table.Name)
			if err != nil {
				c.add(this+".name", "", "%v", err)
			} else if _, twice := landmarkCalled(landmarks, name); twice {
				c.add(this+".name", "", "%q is that of another landmark already", name)
			}
			l.Name = name
		}
		landmarks = append(landmarks, l)
	}
	return landmarks
}

// landmarkCalled finds a landmark by its name; false where there is none.
func landmarkCalled(landmarks []north.Landmark, name string) (int, bool) {
	for i, l := range landmarks {
		if sameName(l.Name, name) {
			return i, true
		}
	}
	return 0, false
}

// parseLandmark reads a landmark of the command line.
func parseLandmark(text string) (north.Landmark, error) {
	const hint = "a landmark looks like church=54.31,-9.87 or church=54.31,-9.87,40 (north, east, metres)"
	called, place, found := strings.Cut(text, "=")
	if !found || !strings.Contains(place, ",") {
		return north.Landmark{}, wrong(hint, "%q is not NAME=LAT,LON", text)
	}
	name, err := landmarkName(called)
	if err != nil {
		return north.Landmark{}, wrong(hint, "the name %q: %w", called, err)
	}
	site, err := track.ParseSite(place)
	if err != nil {
		return north.Landmark{}, wrong(hint, "%s: %w", name, err)
	}
	return north.Landmark{
		Name: name, LatitudeDeg: site.LatitudeDeg, LongitudeDeg: site.LongitudeDeg,
		HeightM: site.HeightM, HeightKnown: strings.Count(place, ",") == 2,
	}, nil
}
