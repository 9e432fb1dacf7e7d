package outing

import (
	"cmp"
	"slices"
	"time"
)

// State is what a record tells about its outing, as it stood at its end: what a
// program that goes on after a crash needs back.
type State struct {
	Outing  string    // the outing's name; empty when the record has no start
	Started time.Time // of the first record
	Last    time.Time // of the last record in the file
	Ended   bool      // an end was recorded, and nothing went on after it

	Fix      *FixEntry // nil: never had one; so for the others
	FixAt    time.Time
	Clock    *ClockEntry
	ClockAt  time.Time
	Facing   *FacingEntry // nil, too, when it was taken back
	FacingAt time.Time
	Elements *ElementsEntry
	Pass     *PassEntry
	Hold     *HoldEntry // the last one reached in Pass
	HoldAt   time.Time
	Advice   *AdviceEntry // the last one that tells what was believed
	AdviceAt time.Time

	Marks    []Mark         // the latest state of each, by ID; undone and replaced ones too
	Checks   []Check        // the latest tick of each item of the checklist, in the order first ticked
	Answers  []TimedCheck   // the latest answer to each item of other lists, but for the skyline
	Skyline  []SkylinePoint // by azimuth
	Warnings []string       // that still hold, in the order given
	Notes    []TimedNote
}

// SkylinePoint is one point of the skyline: true azimuth and elevation in degrees.
type SkylinePoint struct{ AzimuthDeg, ElevationDeg float64 }

// TimedNote is a note with the time it was typed.
type TimedNote struct {
	At   time.Time
	Text string
}

// TimedCheck is a check with the time it was recorded.
type TimedCheck struct {
	At time.Time
	CheckEntry
}

// Satellite returns the name and the catalogue number of the satellite of the
// pass, or of the last elements; "" and 0 when there were neither.
func (s State) Satellite() (string, int) {
	switch {
	case s.Pass != nil:
		return string(s.Pass.Satellite), s.Pass.CatalogueNumber
	case s.Elements != nil:
		return string(s.Elements.Satellite), s.Elements.CatalogueNumber
	}
	return "", 0
}

// Resume replays a log. Records that aren't understood change nothing.
func Resume(log Log) State {
	r := replay{marks: map[int]int{}, ticks: map[Text]int{}, answers: map[checkKey]int{}, skyline: map[float64]float64{}}
	for _, record := range log.Records {
		r.take(record)
	}
	for azimuth, elevation := range r.skyline {
		r.Skyline = append(r.Skyline, SkylinePoint{azimuth, elevation})
	}
	slices.SortFunc(r.Skyline, func(a, b SkylinePoint) int { return cmp.Compare(a.AzimuthDeg, b.AzimuthDeg) })
	slices.SortStableFunc(r.Marks, func(a, b Mark) int { return cmp.Compare(a.ID, b.ID) })
	return r.State
}

// checkKey tells items apart.
type checkKey struct{ list, item Text }

// replay is a State that is being built.
type replay struct {
	State
	marks   map[int]int      // ID to index
	ticks   map[Text]int     // item to index
	answers map[checkKey]int // to index
	skyline map[float64]float64
}

func (r *replay) take(record Record) {
	if r.Started.IsZero() {
		r.Started = record.At
	}
	r.Last = record.At
	switch e := record.Entry.(type) {
	case StartEntry:
		r.Outing, r.Ended = string(e.Outing), false
	case EndEntry:
		r.Ended = true
	case FixEntry:
		r.Fix, r.FixAt = &e, record.At
	case ClockEntry:
		r.Clock, r.ClockAt = &e, record.At
	case FacingEntry:
		r.Facing, r.FacingAt = &e, record.At
		if !e.AzimuthDeg.Known {
			r.Facing = nil
		}
	case ElementsEntry:
		r.Elements = &e
	case PassEntry:
		r.pass(e)
	case HoldEntry:
		r.Hold, r.HoldAt = &e, record.At
	case AdviceEntry:
		if e.TimeErrorS.Known && e.HeadingErrorDeg.Known {
			r.Advice, r.AdviceAt = &e, record.At
		}
	case MarkEntry:
		latest(&r.Marks, r.marks, e.ID, e.State())
	case CheckEntry:
		r.check(record.At, e)
	case WarningEntry:
		r.warn(string(e.Words), e.Over)
	case NoteEntry:
		r.Notes = append(r.Notes, TimedNote{record.At, string(e.Text)})
	}
}

// samePass is how far the rise of a pass moves when it is computed anew with
// another fix or newer elements; the next pass is an orbit away.
const samePass = 20 * time.Minute

// Same tells whether two entries are of the same pass.
func (e PassEntry) Same(o PassEntry) bool {
	return e.CatalogueNumber == o.CatalogueNumber && e.Satellite == o.Satellite &&
		e.Rise.Time.Sub(o.Rise.Time.Time).Abs() < samePass
}

// pass forgets the hold of another pass.
func (r *replay) pass(e PassEntry) {
	if r.Pass != nil && !r.Pass.Same(e) {
		r.Hold, r.HoldAt = nil, time.Time{}
	}
	r.Pass = &e
}

func (r *replay) check(at time.Time, e CheckEntry) {
	if tick, ok := CheckOf(e, at); ok {
		latest(&r.Checks, r.ticks, e.Item, tick)
		return
	}
	if e.List != ListSkyline {
		latest(&r.Answers, r.answers, checkKey{e.List, e.Item}, TimedCheck{at, e})
		return
	}
	switch {
	case !e.AzimuthDeg.Known:
	case e.Answer == AnswerRemoved:
		delete(r.skyline, e.AzimuthDeg.Value)
	case e.ElevationDeg.Known:
		r.skyline[e.AzimuthDeg.Value] = e.ElevationDeg.Value
	}
}

// latest puts a value in the place of the earlier one with its key, or at the
// end.
func latest[K comparable, V any](all *[]V, index map[K]int, key K, value V) {
	i, known := index[key]
	if !known {
		i = len(*all)
		index[key] = i
		*all = append(*all, value)
	}
	(*all)[i] = value
}

// warn adds a warning, or takes it away when it is over.
func (r *replay) warn(words string, over bool) {
	r.Warnings = slices.DeleteFunc(r.Warnings, func(w string) bool { return w == words })
	if !over {
		r.Warnings = append(r.Warnings, words)
	}
}
