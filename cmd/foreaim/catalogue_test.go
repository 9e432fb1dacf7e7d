package main

import (
	"bytes"
	"os"
	"strings"
	"testing"
	"time"

	"foreaim/tui"

	"github.com/pelletier/go-toml/v2"
)

// What is chosen on the screen is pointed at with all that is known of it.
func TestCatalogue(t *testing.T) {
	var told bytes.Buffer
	sys := testSystem(system{stdout: &told, stderr: &told, dataFolder: t.TempDir()})
	o := newOptions(sys)
	c := config{satellites: []satelliteConfig{{name: "TIDELARK", frequencyHz: 436.2e6}}}
	open := sys.openCatalogue(o, c, newLinkFlags())
	if _, err := open(); err == nil || !strings.Contains(err.Error(), "no orbital elements") {
		t.Errorf("an empty store: %v", err)
	}
	store, err := sys.openStore()
	if err != nil {
		t.Fatal(err)
	}
	sets, faults := readElementFile("../../testdata/outing/launch.tle")
	if faults != nil {
		t.Fatal(faults)
	}
	older := sets[1]
	older.Epoch = older.Epoch.AddDate(0, 0, -1)
	if _, err := store.Import(t.Context(), append(sets, older)); err != nil {
		t.Fatal(err)
	}

	var found tui.Catalogue
	if found, err = open(); err != nil { // again, as the screen does
		t.Fatal(err)
	}
	match := found.Match("tide", 5)
	if found.Len() != 3 || len(match) != 1 || match[0].CatalogueNumber != 99072 {
		t.Fatalf("%d objects, found %v", found.Len(), match)
	}
	target, err := found.Target(match[0])
	if err != nil {
		t.Fatal(err)
	}
	if !target.Orbit.Elements().Epoch.Equal(sets[1].Epoch) || target.Name != "TIDELARK" || target.FrequencyHz != 436.2e6 {
		t.Errorf("%+v", target)
	}
	if l := target.Likely(sys.now()); l.Measured != 1 || l.SigmaS <= 0 {
		t.Errorf("likely error %+v does not rest on the one difference of the store", l)
	}

	kept := lastingErrors{Elements: []lastingError{{
		Satellite: "TIDELARK", CatalogueNumber: 99072, Epoch: sets[1].Epoch, Error: 21, Sigma: 4, Until: sets[1].Epoch.Add(time.Hour),
	}}}
	text, err := toml.Marshal(kept)
	if err == nil {
		err = os.WriteFile(sys.lastingPath(), text, 0o600)
	}
	if err != nil {
		t.Fatal(err)
	}
	if target, err = found.Target(match[0]); err != nil || target.EarlierLate != kept.Elements[0].earlier() {
		t.Errorf("what stays of it is %+v, kept is %+v: %v", target.EarlierLate, kept.Elements[0], err)
	}

	low := match[0]
	low.MeanMotionRevPerDay = 16.9 // a perigee under 156 km
	if _, err := found.Target(low); err == nil {
		t.Error("elements that can't be flown are pointed at")
	}
	if told.Len() > 0 {
		t.Errorf("the screen was written over: %q", &told)
	}
}
