package main

import (
	"bytes"
	"fmt"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"foreaim/track"
	"foreaim/track/elements"
	"foreaim/track/outing"
	"foreaim/track/outing/review"
	"foreaim/tui"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"github.com/pelletier/go-toml/v2"
)

// outings writes the record in which the satellite is 185 s early as those of two
// outings.
func outings(t *testing.T, demo bool) (files []string) {
	t.Helper()
	log, err := system{}.readOuting(earlyRecord)
	if err != nil {
		t.Fatal(err)
	}
	for i := range 2 {
		record, err := openRecord(filepath.Join(t.TempDir(), "outings"), log.Records[0].At)
		if err != nil {
			t.Fatal(err)
		}
		for _, r := range log.Records {
			if e, ok := r.Entry.(outing.StartEntry); ok {
				e.Outing, e.Demo = outing.Text(fmt.Sprint(i)), demo
				r.Entry = e
			}
			record.Record(r.At, r.Entry)
		}
		if err := record.Close(); err != nil {
			t.Fatal(err)
		}
		files = append(files, record.path)
	}
	return files
}

// What stays is kept where the user agrees, is given to the screen for the same
// elements only, and is removed again.
func TestKeepsWhatStays(t *testing.T) {
	var out bytes.Buffer
	sys := here(t)
	sys.stdout, sys.width, sys.env = &out, 80, func(string) string { return "" }
	sys.configFile = filepath.Join(t.TempDir(), "none.toml")
	review := func(args ...string) {
		t.Helper()
		cmd := newReviewCommand(sys)
		cmd.Flags().String("config", "", "")
		cmd.SilenceUsage = true
		cmd.SetArgs(args)
		if err := cmd.ExecuteContext(t.Context()); err != nil {
			t.Fatal(err)
		}
	}
	log, err := sys.readOuting(earlyRecord)
	if err != nil {
		t.Fatal(err)
	}
	set := usedElements(t, log.File)
	earlier := func(set elements.Set) tui.Earlier {
		orbit, err := track.NewOrbit(set)
		if err != nil {
			t.Fatal(err)
		}
		config := tui.Config{Targets: []tui.Target{{Orbit: orbit}}}
		sys.expectLasting(&config)
		return config.Targets[0].EarlierLate
	}
	files := outings(t, false)
	review(files...)
	if e := earlier(set); e != (tui.Earlier{}) {
		t.Errorf("nobody agreed, and %+v is expected", e)
	}
	review(append(files, "--keep")...)
	if e := earlier(set); e.Mean < -230 || e.Mean > -140 || e.Sigma < 2 || e.At.IsZero() {
		t.Errorf("%+v is expected, true is -185 s", e)
	}
	if !strings.Contains(out.String(), "Kept for EMBERLING with these elements") {
		t.Errorf("it doesn't say what is kept:\n%s", out.String())
	}
	newer := set
	newer.Epoch = set.Epoch.Add(12 * time.Hour)
	if e := earlier(newer); e != (tui.Earlier{}) {
		t.Errorf("with newer elements %+v is expected", e)
	}
	review("--forget")
	if e := earlier(set); e != (tui.Earlier{}) || warnings(sys) != "" {
		t.Errorf("forgotten, and %+v is expected; warned of %q", e, warnings(sys))
	}
}

func usedElements(t *testing.T, file string) elements.Set {
	t.Helper()
	log, err := system{}.readOuting(file)
	if err != nil {
		t.Fatal(err)
	}
	p := review.Of(sliceOf(log), review.Settings{}).Passes[0]
	if p.Elements == nil {
		t.Fatal("the record has no elements")
	}
	return *p.Elements
}

func sliceOf[T any](all ...T) []T { return all }

// North is kept by its tool; a way that is no tool isn't, and what is found not to
// stay any more is taken out.
func TestKeepsNorthByItsTool(t *testing.T) {
	until := time.Date(2026, 6, 10, 10, 0, 0, 0, time.UTC)
	north := func(how string, mean float64, same bool) review.Review {
		return review.Review{Lasting: sliceOf(review.Lasting{Cause: review.North, How: how, Mean: mean, NextSigma: 4, Same: same, Until: until})}
	}
	var all lastingErrors
	for _, step := range []struct {
		review review.Review
		want   []lastingError
	}{
		{north("compass", -12, true), []lastingError{{How: "compass", Error: -12, Sigma: 4, Until: until}}},
		{north("typed", 20, true), []lastingError{{How: "compass", Error: -12, Sigma: 4, Until: until}}},
		{north("compass", -10, true), []lastingError{{How: "compass", Error: -10, Sigma: 4, Until: until}}},
		{north("compass", 0, false), nil},
	} {
		words := all.take(step.review)
		if !cmp.Equal(all.North, step.want, cmpopts.EquateEmpty()) {
			t.Errorf("%+v: %+v, want %+v (%q)", step.review.Lasting, all.North, step.want, words)
		}
	}
}

// An object that was named since is the same one.
func TestKeepsByNumber(t *testing.T) {
	epoch := time.Date(2026, 6, 9, 10, 0, 0, 0, time.UTC)
	late := func(name string, mean float64) review.Review {
		return review.Review{Lasting: sliceOf(review.Lasting{Cause: review.Elements, Satellite: name, CatalogueNumber: 99071, Epoch: epoch, Mean: mean, NextSigma: 4, Same: true, Until: epoch})}
	}
	var all lastingErrors
	all.take(late("OBJECT C", 20))
	all.take(late("EMBERLING", 30))
	if len(all.Elements) != 1 || all.Elements[0].Error != 30 {
		t.Errorf("kept are %+v, want 30 s", all.Elements)
	}
}

func TestRefusesToKeep(t *testing.T) {
	for _, c := range []struct {
		args   []string
		stderr string
	}{
		{[]string{earlyRecord, "--keep"}, "at least two outings"},
		{append(outings(t, true), "--keep"), "nothing in it is real"},
		{[]string{earlyRecord, "--forget"}, "leave out the records and all other flags"},
	} {
		status, stdout, stderr := runHere(t, t.Context(), append([]string{"review"}, c.args...)...)
		if status != statusWrong || stdout != "" || !strings.Contains(stderr, c.stderr) {
			t.Errorf("%q: exit status %d\n%s\n%s", c.args, status, stdout, stderr)
		}
	}
}

// What can be read is written so that the same is read again.
func FuzzReadLasting(f *testing.F) {
	f.Add([]byte("[[north]]\nhow = 'compass'\nerror = -12.0\nsigma = 4.2\nuntil = 2026-06-10T10:00:00Z\n"))
	f.Add([]byte("[[elements]]\nsatellite = 'EMBERLING'\nepoch = 2026-06-09T10:00:00Z\nerror = 30\nsigma = 3\nuntil = 2026-06-10T10:00:00Z\n"))
	f.Add([]byte("[[north]]\nhow = 'moon'\nerror = nan\n"))
	f.Fuzz(func(t *testing.T, data []byte) {
		all, err := readLasting("lasting.toml", data)
		if err != nil {
			return
		}
		text, err := toml.Marshal(all)
		if err != nil {
			t.Fatal(err)
		}
		again, err := readLasting("lasting.toml", text)
		if diff := cmp.Diff(all, again, cmpopts.EquateEmpty()); err != nil || diff != "" {
			t.Errorf("%v\n%s", err, diff)
		}
	})
}
