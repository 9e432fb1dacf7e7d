package main

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"time"

	"foreaim/cmd/foreaim/internal/durable"
	"foreaim/track"
	"foreaim/track/north"

	"github.com/pelletier/go-toml/v2"
)

// Places remembered in the field are kept in a file of the program's own in the
// folder for data. The configuration is the user's: nothing writes to it.
const (
	landmarksFile = "landmarks.toml"
	landmarksHead = "# Places remembered in the field. Foreaim writes this file anew; your own landmarks\n# belong into the configuration, in the same form.\n\n"
	// mostRemembered is how many places are remembered, mostLandmarkBytes how
	// large their file may be.
	mostRemembered    = 200
	mostLandmarkBytes = 1 << 20
	// rememberWithin is how long another program that remembers a place is
	// waited for.
	rememberWithin = 2 * time.Second
)

// remembered are the remembered places in a folder.
type remembered struct{ folder string }

func (sys system) remembered() remembered { return remembered{sys.dataFolder} }

func (m remembered) path() string { return filepath.Join(m.folder, landmarksFile) }

// load reads what is remembered; nothing where there is no file.
func (m remembered) load() ([]north.Landmark, error) {
	info, err := os.Stat(m.path())
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	if err == nil && info.Size() > mostLandmarkBytes {
		err = fmt.Errorf("%s: it is larger than %d bytes", m.path(), mostLandmarkBytes)
	}
	if err != nil {
		return nil, err
	}
	data, err := os.ReadFile(m.path())
	if err != nil {
		return nil, err
	}
	return readPlaces(m.path(), data)
}

// readPlaces reads the file of remembered places: a configuration with
// landmarks only.
func readPlaces(path string, data []byte) ([]north.Landmark, error) {
	c, err := parseConfig(path, data)
	if only := (config{file: c.file, landmarks: c.landmarks}); err == nil && !reflect.DeepEqual(c, only) {
		err = fmt.Errorf("%s: there is more in it than landmarks", path)
	}
	return c.landmarks, err
}

// add remembers a place. Of names and places that can't be, and of a file that
// can't be read, it says why and leaves all as it was.
func (m remembered) add(name string, place track.Site) error {
	l, err := newLandmark(name, place)
	if err != nil {
		return err
	}
	if err := os.MkdirAll(m.folder, 0o755); err != nil {
		return err
	}
	ctx, cancel := context.WithTimeout(context.Background(), rememberWithin)
	defer cancel()
	unlock, err := durable.Lock(ctx, m.path()+".lock")
	if err != nil {
		return err
	}
	defer unlock()
	places, err := m.load()
	if err != nil {
		return err
	}
	places = withPlace(places, l)
	if len(places) > mostRemembered {
		return fmt.Errorf("%d places are remembered, no more fit: take some out of %s", mostRemembered, m.path())
	}
	text, err := writePlaces(places)
	if err != nil {
		return err
	}
	if err := durable.WriteFile(m.path(), text); err != nil {
		return err
	}
	return durable.SyncFolder(m.folder)
}

// landmarkDecimals is about a centimetre.
const landmarkDecimals = 7

// newLandmark makes a landmark of a place. A height of 0 is one that isn't
// known.
func newLandmark(name string, place track.Site) (north.Landmark, error) {
	name, err := landmarkName(name)
	if err != nil {
		return north.Landmark{}, fmt.Errorf("the name of the place: %w", err)
	}
	if err := place.Check(); err != nil {
		return north.Landmark{}, err
	}
	return north.Landmark{
		Name:         name,
		LatitudeDeg:  *number(place.LatitudeDeg, landmarkDecimals),
		LongitudeDeg: *number(place.LongitudeDeg, landmarkDecimals),
		HeightM:      *number(place.HeightM, 1), HeightKnown: place.HeightM != 0,
	}, nil
}

// withPlace adds a place. A name that is there already gets the new place, so
// that a mistake can be put right.
func withPlace(places []north.Landmark, l north.Landmark) []north.Landmark {
	if i, ok := landmarkCalled(places, l.Name); ok {
		places[i] = l
		return places
	}
	return append(places, l)
}

// writePlaces makes the file that readPlaces reads.
func writePlaces(places []north.Landmark) ([]byte, error) {
	var file struct {
		Landmark []landmarkTable `toml:"landmark"`
	}
	for _, l := range places {
		table := landmarkTable{Name: &l.Name, LatitudeDeg: &l.LatitudeDeg, LongitudeDeg: &l.LongitudeDeg}
		if l.HeightKnown {
			table.HeightM = &l.HeightM
		}
		file.Landmark = append(file.Landmark, table)
	}
	text, err := toml.Marshal(file)
	return append([]byte(landmarksHead), text...), err
}

// landmarks are those of the configuration, then the remembered ones that have
// names of their own. What can't be read is warned of.
func (sys system) landmarks(c config) []north.Landmark {
	more, err := sys.remembered().load()
	if err != nil {
		for _, each := range split(err) {
			sys.warn("remembered places: %v", each)
		}
		return c.landmarks
	}
	all := append([]north.Landmark{}, c.landmarks...)
	for _, l := range more {
		if _, ok := landmarkCalled(c.landmarks, l.Name); !ok {
			all = append(all, l)
		}
	}
	return all
}

// remember returns what remembers a place for the screen. A name of the
// configuration is the user's to change.
func (sys system) remember(c config) func(name string, place track.Site) error {
	return func(name string, place track.Site) error {
		name = strings.Join(strings.Fields(plain(name)), " ")
		if i, ok := landmarkCalled(c.landmarks, name); ok {
			return fmt.Errorf("%s is a landmark of your configuration: take another name", c.landmarks[i].Name)
		}
		if err := sys.remembered().add(name, place); err != nil {
			return errors.New(plain(strings.ReplaceAll(err.Error(), "\n", "; ")))
		}
		return nil
	}
}
