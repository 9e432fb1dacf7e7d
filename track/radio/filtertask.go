package radio

import (
	"cmp"
	"errors"
	"fmt"
)

// StopBand is what a filter has to take off.
type StopBand struct{ LowMHz, HighMHz, NeededDB float64 }

// FilterTask is what a filter has to do.
type FilterTask struct {
	WantedLowMHz, WantedHighMHz float64
	Stops                       []StopBand
	// TolerableDB is the most that it may lose in the wanted band.
	TolerableDB float64
	SystemOhm   float64 // of the line, at both ends
}

// Check names the first value that is out of range.
func (t FilterTask) Check() error {
	switch {
	case !(t.WantedLowMHz >= 1 && t.WantedLowMHz <= t.WantedHighMHz && t.WantedHighMHz <= 6000):
		return fmt.Errorf("the wanted band is %v to %v MHz, want rising frequencies, 1 to 6000", t.WantedLowMHz, t.WantedHighMHz)
	case !(t.TolerableDB > 0 && t.TolerableDB <= mostDB):
		return fmt.Errorf("the tolerable loss is %v dB, want more than 0, up to %v", t.TolerableDB, mostDB)
	case !(t.SystemOhm >= 10 && t.SystemOhm <= 300):
		return fmt.Errorf("the line has %v ohm, want 10 to 300", t.SystemOhm)
	case len(t.Stops) == 0:
		return errors.New("nothing is to be taken off: no filter is needed")
	}
	for _, s := range t.Stops {
		switch {
		case !(s.LowMHz >= 1 && s.LowMHz <= s.HighMHz && s.HighMHz <= 6000):
			return fmt.Errorf("a band to take off is %v to %v MHz, want rising frequencies, 1 to 6000", s.LowMHz, s.HighMHz)
		case !(s.NeededDB > 0 && s.NeededDB <= mostDB):
			return fmt.Errorf("%v dB are to be taken off at %s, want more than 0, up to %v", s.NeededDB, s.band(), mostDB)
		case s.LowMHz <= t.WantedHighMHz && s.HighMHz >= t.WantedLowMHz:
			return fmt.Errorf("%s lies in the wanted band: no filter tells them apart", s.band())
		}
	}
	return nil
}

func (s StopBand) band() string { return bandWords(s.LowMHz, s.HighMHz) }

func bandWords(lowMHz, highMHz float64) string {
	return Transmitter{LowMHz: lowMHz, HighMHz: highMHz}.Band()
}

// marks are the signs of a plot: w wanted, x to be taken off.
func (t FilterTask) marks() []PlotMark {
	var all []PlotMark
	for _, s := range t.Stops {
		all = append(all, PlotMark{s.LowMHz, s.HighMHz, 'x'})
	}
	return append(all, PlotMark{t.WantedLowMHz, t.WantedHighMHz, 'w'})
}

// bandSteps is in how many steps a band is looked at.
const bandSteps = 8

// inBand calls f at frequencies all through a band, its ends among them.
func inBand(lowMHz, highMHz float64, f func(mhz float64)) {
	for i := range bandSteps + 1 {
		f(lowMHz + (highMHz-lowMHz)*float64(i)/bandSteps)
	}
}

// reached is what a response does for a task.
type reached struct {
	wanted  Range   // lost where most is
	stops   []Range // taken off where least is
	enough  bool    // of each stop, as it may come out
	bearing bool    // no more lost than tolerable
	missing float64 // dB, at the stop where most is
	partsDB float64 // what its parts count for when it is compared, dB
}

func (t FilterTask) reach(r Response) reached {
	var got reached
	inBand(t.WantedLowMHz, t.WantedHighMHz, func(mhz float64) {
		db := r.LossDB(mhz)
		got.wanted = Range{max(got.wanted.Low, db.Low), max(got.wanted.High, db.High)}
	})
	for _, s := range t.Stops {
		least := Exactly(limitDB)
		inBand(s.LowMHz, s.HighMHz, func(mhz float64) {
			db := r.LossDB(mhz)
			least = Range{min(least.Low, db.Low), min(least.High, db.High)}
		})
		got.stops = append(got.stops, least)
		got.missing = max(got.missing, s.NeededDB-least.Low)
	}
	got.enough = got.missing == 0
	got.partsDB = partsDB(r)
	got.bearing = got.wanted.High <= t.TolerableDB
	return got
}

// partsDB returns what the parts of a filter count for: a stub as much as its plugs
// and T-piece lose, a branch of a ladder half of that for the work (common
// practice, no source).
func partsDB(r Response) float64 {
	switch f := r.(type) {
	case Notch:
		return 0.1 * float64(len(f.Stubs))
	case *Ladder:
		return 0.05 * float64(len(f.Branches))
	}
	return 0
}

// compare orders what is reached: first what is enough, then what loses least; of
// what isn't enough, what misses least; last what loses too much.
func (r reached) compare(o reached) int {
	rank := func(r reached) (class int, value float64) {
		switch {
		case r.enough && r.bearing:
			return 0, r.wanted.High + r.partsDB
		case r.bearing:
			return 1, r.missing
		}
		return 2, r.wanted.High
	}
	a, x := rank(r)
	b, y := rank(o)
	return cmp.Or(a-b, cmp.Compare(x, y))
}
