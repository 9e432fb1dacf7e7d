package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io/fs"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"foreaim/cmd/foreaim/internal/durable"
	"foreaim/track/elements"
	"foreaim/track/north"
	"foreaim/track/outing/review"
	"foreaim/tui"

	"github.com/pelletier/go-toml/v2"
)

const (
	lastingFile = "lasting.toml"
	lastingHead = "# Errors that stayed over several outings, as foreaim review --keep found them.\n# Foreaim writes this file anew; foreaim review --forget removes it.\n\n"
	// mostLastingBytes is how large their file may be.
	mostLastingBytes = 1 << 20
)

// lastingErrors are the errors that pointing takes into account.
type lastingErrors struct {
	North    []lastingError `toml:"north,omitempty"`
	Elements []lastingError `toml:"elements,omitempty"`
}

// lastingError is one: in degrees right of true of a way to find north, or in
// seconds late of a satellite with the elements of an epoch.
type lastingError struct {
	How             string    `toml:"how,omitempty"`
	Satellite       string    `toml:"satellite,omitempty"`
	CatalogueNumber int       `toml:"catalogue_number,omitempty"`
	Epoch           time.Time `toml:"epoch,omitempty"`
	Error           float64   `toml:"error"`
	Sigma           float64   `toml:"sigma"` // of the next outing's
	Until           time.Time `toml:"until"` // the end of the last of the outings
}

// about tells whether two are about the same.
func (e lastingError) about(o lastingError) bool {
	return e.How == o.How && e.CatalogueNumber == o.CatalogueNumber && (e.CatalogueNumber != 0 || e.Satellite == o.Satellite)
}

func (e lastingError) earlier() tui.Earlier {
	return tui.Earlier{Mean: e.Error, Sigma: e.Sigma, At: e.Until}
}

// keepable are the ways to find north with one tool, which may be wrong by the
// same each time.
func keepable(how string) bool {
	for k := north.ByCompass; k <= north.ByPoleStar; k++ {
		if k.String() == how {
			return true
		}
	}
	return false
}

// readLasting reads the file of lasting errors.
func readLasting(path string, data []byte) (all lastingErrors, err error) {
	if err := toml.NewDecoder(bytes.NewReader(data)).DisallowUnknownFields().Decode(&all); err != nil {
		return lastingErrors{}, tomlError(path, err)
	}
	check := func(kind string, list []lastingError, most float64, known func(lastingError) bool) {
		for i, e := range list {
			if !known(e) || !(math.Abs(e.Error) <= most) || !(e.Sigma > 0 && e.Sigma <= most) || e.Until.IsZero() {
				err = errors.Join(err, fmt.Errorf("%s: the %s %d is none that foreaim review --keep writes: run it again", path, kind, i+1))
			}
		}
	}
	check("north", all.North, 180, func(e lastingError) bool { return keepable(e.How) })
	check("elements", all.Elements, 1800, func(e lastingError) bool { return !e.Epoch.IsZero() })
	if err != nil {
		return lastingErrors{}, err
	}
	return all, nil
}

func (sys system) lastingPath() string { return filepath.Join(sys.dataFolder, lastingFile) }

// lasting reads what is kept; nothing where there is no file.
func (sys system) lasting() (lastingErrors, error) {
	info, err := os.Stat(sys.lastingPath())
	if errors.Is(err, fs.ErrNotExist) {
		return lastingErrors{}, nil
	}
	if err == nil && info.Size() > mostLastingBytes {
		err = fmt.Errorf("%s: it is larger than %d bytes", sys.lastingPath(), mostLastingBytes)
	}
	if err != nil {
		return lastingErrors{}, err
	}
	data, err := os.ReadFile(sys.lastingPath())
	if err != nil {
		return lastingErrors{}, err
	}
	return readLasting(sys.lastingPath(), data)
}

// take takes what a review found in the place of what was known of the same, and
// says what is kept.
func (all *lastingErrors) take(r review.Review) (words []string) {
	for _, l := range r.Lasting {
		e := lastingError{Error: *number(l.Mean, 2), Sigma: *number(l.NextSigma, 2), Until: l.Until.UTC().Truncate(time.Second)}
		list, says, ok := &all.North, "Kept for your north by "+l.How+".", keepable(l.How)
		if l.Cause == review.North {
			e.How = l.How
		} else {
			list, ok = &all.Elements, !l.Epoch.IsZero()
			e.Satellite, e.CatalogueNumber, e.Epoch = plain(l.Satellite), l.CatalogueNumber, l.Epoch.UTC()
			says = fmt.Sprintf("Kept for %s with these elements, of %s UTC; newer ones begin afresh.", e.Satellite, e.Epoch.Format(time.DateTime))
		}
		*list = slices.DeleteFunc(*list, e.about)
		if ok && l.Same {
			*list, words = append(*list, e), append(words, says)
		}
	}
	return words
}

// keepLasting keeps what stays over the outings of a review, and says so.
func (sys system) keepLasting(ctx context.Context, r review.Review) (string, error) {
	if slices.ContainsFunc(r.Passes, func(p review.Pass) bool { return p.Demo }) {
		return "", wrong("name records of your outings", "--keep: a demonstration is among the records, nothing in it is real")
	}
	if len(r.Lasting) == 0 {
		return "", wrong("name the records of at least two outings that say how wrong north or the time was", "--keep: nothing can be told that stays from one outing to the other")
	}
	if err := os.MkdirAll(sys.dataFolder, 0o755); err != nil {
		return "", failed("", "%w", err)
	}
	ctx, cancel := context.WithTimeout(ctx, rememberWithin)
	defer cancel()
	unlock, err := durable.Lock(ctx, sys.lastingPath()+".lock")
	if err != nil {
		return "", failed("", "%w", err)
	}
	defer unlock()
	all, err := sys.lasting()
	if err != nil {
		return "", wrong("foreaim review --forget removes it", "%w", err)
	}
	words := all.take(r)
	text, err := toml.Marshal(all)
	if err == nil {
		err = durable.WriteFile(sys.lastingPath(), append([]byte(lastingHead), text...))
	}
	if err == nil {
		err = durable.SyncFolder(sys.dataFolder)
	}
	if err != nil {
		return "", failed("", "%w", err)
	}
	if len(words) == 0 {
		return "Nothing stays that could be taken in: nothing is kept.\n", nil
	}
	return strings.Join(words, "\n") + "\n", nil
}

// forgetLasting removes what is kept.
func (sys system) forgetLasting() error {
	if err := os.Remove(sys.lastingPath()); err != nil && !errors.Is(err, fs.ErrNotExist) {
		return failed("", "%w", err)
	}
	return nil
}

// expectLasting gives the screen the errors that are kept; what can't be read is
// warned of.
func (sys system) expectLasting(config *tui.Config) {
	all, err := sys.lasting()
	if err != nil {
		for _, each := range split(err) {
			sys.warn("errors of earlier outings: %v", each)
		}
	}
	config.EarlierNorth = map[string]tui.Earlier{}
	for _, e := range all.North {
		config.EarlierNorth[e.How] = e.earlier()
	}
	for i, t := range config.Targets {
		config.Targets[i].EarlierLate = all.of(t.Orbit.Elements())
	}
}

// of is how late a satellite was with the same elements.
func (all lastingErrors) of(set elements.Set) tui.Earlier {
	for _, e := range all.Elements {
		same := e.CatalogueNumber == set.CatalogueNumber && (e.CatalogueNumber != 0 || e.Satellite == name(set))
		if same && e.Epoch.Sub(set.Epoch).Abs() < time.Second { // records hold fewer digits
			return e.earlier()
		}
	}
	return tui.Earlier{}
}
