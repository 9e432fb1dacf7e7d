package review

import (
	"cmp"
	"math"
	"slices"
	"strings"
	"time"

	"foreaim/track"
	"foreaim/track/beacon"
	"foreaim/track/elements"
	"foreaim/track/north"
	"foreaim/track/outing"
)

const (
	// around is how long before rise and after set something still belongs to a
	// pass: a satellite may be that early or late.
	around = 10 * time.Minute
	// longest is the longest pass that is reviewed.
	longest = 24 * time.Hour
	// mostBursts is how many bursts of a pass are listed at most.
	mostBursts = 2000
)

// timed is an entry with its time.
type timed[E any] struct {
	at    time.Time
	entry E
}

// series is entries of one kind.
type series[E any] []timed[E]

func (s *series[E]) add(at time.Time, entry E) { *s = append(*s, timed[E]{at, entry}) }

// sort puts them in the order of time: a clock may have been set back.
func (s series[E]) sort() {
	slices.SortStableFunc(s, func(a, b timed[E]) int { return a.at.Compare(b.at) })
}

// last returns the last entry up to a time, or else the first one after it.
func last[E any](all []timed[E], until time.Time) (e E, ok bool) {
	if len(all) == 0 {
		return e, false
	}
	found := all[0].entry
	for _, t := range all {
		if t.at.After(until) {
			break
		}
		found = t.entry
	}
	return found, true
}

// tape is a record taken apart by kinds, each in the order of time.
type tape struct {
	outing   string
	demo     bool
	from, to time.Time
	fixes    series[outing.FixEntry]
	facings  series[outing.FacingEntry]
	elements series[outing.ElementsEntry]
	passes   series[outing.PassEntry]
	advice   series[outing.AdviceEntry]
	holds    series[outing.HoldEntry]
	sensor   series[outing.SensorEntry]
	checks   series[outing.CheckEntry]
	marks    []outing.Mark
	notes    []outing.TimedNote
}

func newTape(log outing.Log) *tape {
	t := new(tape)
	marks := map[int]outing.Mark{}
	for _, r := range log.Records {
		if r.Entry == nil {
			continue
		}
		if t.from.IsZero() || r.At.Before(t.from) {
			t.from = r.At
		}
		if r.At.After(t.to) {
			t.to = r.At
		}
		switch e := r.Entry.(type) {
		case outing.StartEntry:
			t.outing, t.demo = string(e.Outing), e.Demo
		case outing.FixEntry:
			t.fixes.add(r.At, e)
		case outing.FacingEntry:
			t.facings.add(r.At, e)
		case outing.ElementsEntry:
			t.elements.add(r.At, e)
		case outing.PassEntry:
			t.passes.add(r.At, e)
		case outing.AdviceEntry:
			t.advice.add(r.At, e)
		case outing.HoldEntry:
			t.holds.add(r.At, e)
		case outing.SensorEntry:
			t.sensor.add(r.At, e)
		case outing.CheckEntry:
			t.checks.add(r.At, e)
		case outing.MarkEntry:
			marks[e.ID] = e.State()
		case outing.NoteEntry:
			t.notes = append(t.notes, outing.TimedNote{At: r.At, Text: string(e.Text)})
		}
	}
	for _, m := range marks {
		if m.Fate == outing.Stands && m.Check() == nil {
			t.marks = append(t.marks, m)
		}
	}
	slices.SortFunc(t.marks, func(a, b outing.Mark) int { return cmp.Or(a.At.Compare(b.At), a.ID-b.ID) })
	t.fixes.sort()
	t.facings.sort()
	t.elements.sort()
	t.passes.sort()
	t.advice.sort()
	t.holds.sort()
	t.sensor.sort()
	t.checks.sort()
	return t
}

// gather makes the passes of a record, with all that it tells of each.
func gather(log outing.Log) []Pass {
	t := newTape(log)
	computed := t.latestPasses()
	var all []Pass
	for _, e := range computed {
		if t.stoodThrough(e) {
			all = append(all, t.pass(log.File, e))
		}
	}
	switch {
	case len(all) > 0:
	case len(computed) > 0:
		all = append(all, t.outside(log.File, computed))
	default:
		all = append(all, t.without(log.File))
	}
	return all
}

// stoodThrough tells whether the record holds a part of a pass. One that was only
// looked at is none of the outing.
func (t *tape) stoodThrough(e outing.PassEntry) bool {
	return !e.Rise.Time.After(t.to) && !e.Set.Time.Before(t.from)
}

// outside is what there is to say of a record that holds nothing of any of the
// passes that were computed: it is of the first one to come, or else of the last.
func (t *tape) outside(file string, computed []outing.PassEntry) Pass {
	next := slices.IndexFunc(computed, func(e outing.PassEntry) bool { return e.Rise.Time.After(t.to) })
	words := "the record ends before this pass begins"
	if next < 0 {
		next, words = len(computed)-1, "the record begins after this pass is over"
	}
	p := t.pass(file, computed[next])
	p.outside = true
	p.Missing = append([]string{words}, p.Missing...)
	return p
}

// latestPasses returns each pass as it was computed last, in the order of rise.
func (t *tape) latestPasses() []outing.PassEntry {
	var all []outing.PassEntry
	for _, p := range t.passes {
		e := p.entry
		d := e.Set.Time.Sub(e.Rise.Time.Time)
		if e.Rise.Time.IsZero() || d <= 0 || d > longest {
			continue
		}
		i := slices.IndexFunc(all, e.Same)
		if i < 0 {
			all = append(all, e)
		} else {
			all[i] = e
		}
	}
	slices.SortStableFunc(all, func(a, b outing.PassEntry) int { return a.Rise.Time.Compare(b.Rise.Time.Time) })
	return all
}

// without is what there is to say of a record without any pass.
func (t *tape) without(file string) Pass {
	p := Pass{File: file, Outing: t.outing, Demo: t.demo, Notes: t.notes}
	p.Missing = append(p.Missing, "the record has no pass: none was chosen, or its beginning was cut off")
	if len(t.elements) > 0 {
		p.Satellite, p.CatalogueNumber = string(t.elements[0].entry.Satellite), t.elements[0].entry.CatalogueNumber
	}
	for _, m := range t.marks {
		p.mark(m)
	}
	return p
}

// pass gathers what belongs to one pass.
func (t *tape) pass(file string, e outing.PassEntry) Pass {
	p := Pass{
		File: file, Outing: t.outing, Demo: t.demo,
		Satellite: string(e.Satellite), CatalogueNumber: e.CatalogueNumber,
		Rise: look(e.Rise), Peak: look(e.Peak), Set: look(e.Set),
		Schedule: schedule(e),
	}
	if f := e.FrequencyHz; f.Known && f.Value > 0 && f.Value < 1e11 {
		p.FrequencyHz = f.Value
	}
	set := p.Set.Time
	if fix, ok := last(t.fixes, set); ok && fix.LatitudeDeg.Known && fix.LongitudeDeg.Known {
		site := track.Site{LatitudeDeg: fix.LatitudeDeg.Value, LongitudeDeg: fix.LongitudeDeg.Value, HeightM: fix.AltitudeM.Value}
		if site.Check() == nil {
			p.Site = &site
		}
	}
	if f, ok := last(t.facings, set); ok && f.AzimuthDeg.Known {
		p.FacingHow, p.FacingDeg = string(f.How), f.AzimuthDeg.Value
		switch {
		case p.FacingHow == "":
			p.FacingHow = "unknown"
		case p.FacingHow == "typed" && f.DeclinationDeg.Known: // a magnetic azimuth
			p.FacingHow = north.ByCompass.String()
		}
		if s := f.SigmaDeg; s.Known && s.Value > 0 && s.Value < 180 {
			p.HeadingSigmaDeg = math.Max(1, s.Value)
		}
	}
	p.elements(t.elements)
	p.expect()
	from, to := p.Rise.Time.Add(-around), set.Add(around)
	for _, m := range t.marks {
		if !m.At.Before(from) && !m.At.After(to) && (m.CatalogueNumber == 0 || e.CatalogueNumber == 0 || m.CatalogueNumber == e.CatalogueNumber) {
			p.mark(m)
		}
	}
	for _, n := range t.notes {
		if !n.At.Before(from) && !n.At.After(to) {
			p.Notes = append(p.Notes, n)
		}
	}
	p.noise(to)
	p.hold(t)
	p.checks(t.checks, from, to)
	p.lacks()
	return p
}

func look(e outing.LookEntry) track.Look {
	return track.Look{Time: e.Time.Time, AzimuthDeg: e.AzimuthDeg.Value, ElevationDeg: e.ElevationDeg.Value, RangeKm: e.RangeKm.Value}
}

// schedule is the zero one where the record's can't be.
func schedule(e outing.PassEntry) beacon.Schedule {
	s := beacon.Schedule{
		Period: duration(e.PeriodS), First: e.First.Time,
		Length: duration(e.LengthS), Tolerance: duration(e.ToleranceS),
	}
	if s.Validate() != nil {
		return beacon.Schedule{}
	}
	return s
}

func duration(s outing.Number) time.Duration {
	if !s.Known || !(s.Value > 0) || s.Value > 1e6 {
		return 0
	}
	return time.Duration(math.Round(s.Value * 1e9))
}

// elements takes those that were used: of this satellite, the last before set.
func (p *Pass) elements(all []timed[outing.ElementsEntry]) {
	all = slices.DeleteFunc(slices.Clone(all), func(t timed[outing.ElementsEntry]) bool {
		return t.entry.Line1 == "" || t.entry.Line2 == "" ||
			p.CatalogueNumber != 0 && t.entry.CatalogueNumber != 0 && t.entry.CatalogueNumber != p.CatalogueNumber
	})
	e, ok := last(all, p.Set.Time)
	if !ok {
		return
	}
	text := string(e.Line1) + "\n" + string(e.Line2) + "\n"
	sets, _ := elements.Read(strings.NewReader(text), "record") // what can't be read is missing
	if len(sets) != 1 {
		return
	}
	set := sets[0]
	set.Name = p.Satellite
	likely, err := track.LikelyError(set, nil, p.Peak.Time)
	if err != nil {
		return
	}
	p.Elements, p.Likely = &set, likely
}

// lacks says what can't be judged without.
func (p *Pass) lacks() {
	if p.Elements == nil {
		p.Missing = append(p.Missing, "the record has no elements that can be read: where the satellite was is unknown")
	}
	if p.Site == nil {
		p.Missing = append(p.Missing, "the record has no position: where you stood is unknown")
	}
	if p.Schedule.Period == 0 {
		p.Missing = append(p.Missing, "the record has no period of the beacon: what was to be expected is unknown")
	}
	if p.FacingHow == "" {
		p.Missing = append(p.Missing, "no facing was set: nobody told where north is")
	}
}
