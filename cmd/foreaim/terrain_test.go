package main

import (
	"fmt"
	"os"
	"path/filepath"

	"foreaim/track/terrain/landscape"

	"github.com/rogpeppe/go-internal/testscript"
)

// The meadow of the tests, and an invented ridge of 300 m that runs from north to
// south 2 km east of it, 6 km long to either side, its feet 1.5 km away.
const (
	meadowLatitude, meadowLongitude = 58.3127, 14.0864
	ridgeLongitude                  = meadowLongitude + 2/58.64 // a degree of longitude there is 58.64 km long (WGS-84)
)

func ridgeByMeadow() landscape.Shape {
	return landscape.Sum(landscape.Level(120), landscape.Ridge(meadowLatitude, ridgeLongitude, 0, 300, 1500, 6000))
}

// writeTiles writes elevation tiles of 3 arc-seconds, by their south-west corners.
func writeTiles(folder string, shape landscape.Shape, corners ...[2]int) error {
	if err := os.MkdirAll(folder, 0o777); err != nil {
		return err
	}
	for _, c := range corners {
		name := filepath.Join(folder, fmt.Sprintf("N%02dE%03d.hgt", c[0], c[1]))
		if err := os.WriteFile(name, landscape.Tile(shape, c[0], c[1], 1201), 0o666); err != nil {
			return err
		}
	}
	return nil
}

// makeTiles is the script's command: tiles FOLDER writes the one tile that the
// meadow is in.
func makeTiles(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 1 {
		ts.Fatalf("usage: tiles FOLDER")
	}
	ts.Check(writeTiles(ts.MkAbs(args[0]), ridgeByMeadow(), [2]int{58, 14}))
}
