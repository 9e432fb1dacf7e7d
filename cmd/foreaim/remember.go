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
	c, err := parseConfig(m.path(), data)
	if only := (config{file: c.file, landmarks: c.landmarks}); err == nil && !reflect.DeepEqual(c, only) {
		err = fmt.Errorf("%s: there is more in it than landmarks", m.path())
	}
	return c.landmarks, err
}

// add remembers a place. A name that is remembered already gets the new place,
// so that a mistake can be put right. Of names and places that can't be, and of
// a file that can't be read, it says why and leaves all as it was.
func (m remembered) add(name string, place track.Site) error {
	name, err := landmarkName(name)
	if err != nil {
		return fmt.Errorf("the name of the place: %w", err)
	}
	if err := place.Check(); err != nil {
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
	known, err := m.load()
	if err != nil {
		return err
	}
	l := north.Landmark{
		Name:        name,
		LatitudeDeg: *number(place.LatitudeDeg, landmarkDecimals), LongitudeDeg: *number(place.LongitudeDeg, landmarkDecimals),
		HeightM: *number(place.HeightM, 1), HeightKnown: place.HeightM != 0,
	}
	if i, ok := landmarkCalled(known, name); ok {
		known[i] = l
	} else {
		known = append(known, l)
	}
	if len(known) > mostRemembered {
		return fmt.Errorf("%d places are remembered, no more fit: take some out of %s", mostRemembered, m.path())
	}
	return m.write(known)
}

// landmarkDecimals is about a centimetre.
const landmarkDecimals = 7

func (m remembered) write(landmarks []north.Landmark) error {
	var file struct {
		Landmark []landmarkTable `toml:"landmark"`
	}
	for _, l := range landmarks {
		table := landmarkTable{Name: &l.Name, LatitudeDeg: &l.LatitudeDeg, LongitudeDeg: &l.LongitudeDeg}
		if l.HeightKnown {
			table.HeightM = &l.HeightM
		}
		file.Landmark = append(file.Landmark, table)
	}
	text, err := toml.Marshal(file)
	if err != nil {
		return err
	}
	if err := durable.WriteFile(m.path(), append([]byte(landmarksHead), text...)); err != nil {
		return err
	}
	return durable.SyncFolder(m.folder)
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
