package main

import (
	"fmt"
	"slices"
	"time"

	"foreaim/track"
	"foreaim/track/aim"
	"foreaim/track/elements"
	"foreaim/track/outing"

	"github.com/spf13/cobra"
)

func newMatchCommand(sys system) *cobra.Command {
	o, e := newOptions(sys), newErrorFlags()
	lowest := value[float64]{parse: parseElevation, kind: "DEG"}
	var marksFile, reference string
	cmd := &cobra.Command{
		Use:   "match [PREFIX|FILE]",
		Short: "find out which object of a launch was heard",
		Long: `Weigh which object of a group it was that was heard in one pass, by the marks of
the pass: when something was heard or missed, where the antenna was, and on
which frequency. A group is the beginning of an international designator, such
as 2026-014, among the objects of the store, or a file of elements.

Marks are CSV with the columns time and kind (heard, silent, not_listening,
noise_up, noise_normal), and frequency_hz, strength, azimuth_deg, elevation_deg
and note, which may be missing. What is not marked says nothing. The frequency
of the sender and the receiver may be off by some kHz; how much is found out
along. Where a burst was heard without a direction, no direction is used. Period
and times of the bursts are found from the marks where they are not known.`,
		Args: arguments(0, 1, ""),
		RunE: func(cmd *cobra.Command, args []string) error {
			m, err := sys.readMatch(cmd, o, e, args, marksFile, reference)
			if err != nil {
				return err
			}
			answers, fits, err := sys.match(m, lowest.value)
			if err != nil {
				return err
			}
			if o.json {
				return printJSON(sys.stdout, matchJSONs(answers))
			}
			_, err = fmt.Fprint(sys.stdout, sayMatch(m, answers, fits))
			return err
		},
	}
	f := cmd.Flags()
	f.StringVar(&marksFile, "marks", "", "read the marks from the CSV `FILE`")
	o.addElements(f)
	o.addSite(f)
	f.StringVar(&reference, "reference", "", "take frequency and period of a configured beacon from this object, `SAT`")
	f.Var(&lowest, "min-elevation", "nothing is heard below this elevation (0 without it)")
	o.addFrequency(f)
	o.addBeacon(f)
	e.add(f, "what is likely for the elements", "4")
	o.addJSON(f)
	return cmd
}

// matching is what is to be matched.
type matching struct {
	group
	place
	prior aim.Prior // without objects and times
	marks []outing.Mark
	ear   outing.Ear // zero: the usual one
	error *errorFlags
}

// readMatch reads the marks, the group and the place.
func (sys system) readMatch(cmd *cobra.Command, o *options, e *errorFlags, args []string, file, reference string) (m matching, err error) {
	if m.marks, err = readMarks(file); err != nil {
		return m, err
	}
	c, err := sys.configFor(cmd)
	if err != nil {
		return m, err
	}
	if m.group, err = sys.readGroup(o, c, args, reference); err != nil {
		return m, err
	}
	promise, err := e.promised(c, m.reference)
	if err != nil {
		return m, err
	}
	m.error, m.ear, m.prior = e, c.ear, e.prior(c, promise)
	m.prior.Schedule, m.prior.FrequencyHz = m.reference.schedule, m.reference.frequencyHz
	m.place, err = sys.findPlace(cmd.Context(), o, c)
	m.prior.Site = m.site
	return m, err
}

func readMarks(file string) ([]outing.Mark, error) {
	if file == "" {
		return nil, wrong("name a CSV file with --marks FILE", "there are no marks")
	}
	marks, err := readFile(file, "name a CSV file with --marks FILE", outing.ReadMarks)
	if err != nil {
		return nil, err
	}
	if !slices.ContainsFunc(marks, heard) {
		return nil, wrong("silence alone doesn't tell objects apart", "%s: no mark says that something was heard", file)
	}
	slices.SortStableFunc(marks, func(a, b outing.Mark) int { return a.At.Compare(b.At) })
	if first, last := marks[0].At, marks[len(marks)-1].At; last.Sub(first) > longestMatch {
		return nil, wrong("give the marks of one pass", "%s: the marks are of %s to %s", file, first.Format(time.RFC3339), last.Format(time.RFC3339))
	}
	return marks, nil
}

// longestMatch is how long the passes of a launch that comes in a row can take.
const longestMatch = 12 * time.Hour

func heard(m outing.Mark) bool { return m.Kind == outing.Heard }

// match weighs the objects, the likeliest first, and returns whether the marks fit
// any of them. Those that were not up when something was heard come last.
func (sys system) match(m matching, lowestDeg float64) (all []matched, fits bool, err error) {
	m.prior.MinElevationDeg = lowestDeg
	if err := m.findSchedule(); err != nil {
		return nil, false, err
	}
	m.prior.From, m.prior.To = m.marks[0].At, m.marks[len(m.marks)-1].At.Add(time.Second)
	if slices.ContainsFunc(m.marks, func(mark outing.Mark) bool { return heard(mark) && !mark.Held.Known }) {
		m.prior.BeamwidthDeg, m.prior.HandDeg = 180, 0 // nobody knows where it pointed
	}
	var (
		sets    []elements.Set
		objects []aim.Object
	)
	for _, set := range m.members {
		s, err := newSatellite(set, newOptions(sys), config{})
		if err != nil {
			sys.warn("%v; it is left out", err)
			continue
		}
		s.history = m.library.history(set)
		sets, objects = append(sets, set), append(objects, m.error.object(s, m.marks[0].At))
	}
	all, fits, err = m.weigh(sets, objects)
	if err == nil && !fits {
		sys.warn("the marks hardly fit any of the objects: check site, time and frequency; or it is another one")
	}
	return all, fits, err
}

// observations makes observations of the marks.
func (m matching) observations() []aim.Observation {
	var all []aim.Observation
	for _, mark := range m.marks {
		o := aim.Observation{Time: mark.At, Kind: aim.Kind(mark.Kind), Strength: aim.Strength(mark.Strength), FrequencyHz: mark.FrequencyHz}
		switch {
		case mark.Held.Known:
			o.Held = &aim.Direction{AzimuthDeg: track.Wrap360(mark.Held.AzimuthDeg), ElevationDeg: mark.Held.ElevationDeg}
		case mark.Kind == outing.Silent:
			continue // in an unknown direction
		}
		all = append(all, o)
	}
	return all
}
