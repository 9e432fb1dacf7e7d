package main

import (
	"fmt"
	"math"
	"time"

	"foreaim/track"

	"github.com/spf13/cobra"
)

// maxTimes is the most rows that one look prints.
const maxTimes = 100_000

func newLookCommand(sys system) *cobra.Command {
	o := newOptions(sys)
	every := value[time.Duration]{parse: parseDuration, kind: "DURATION"}
	cmd := &cobra.Command{
		Use:   "look [SAT]",
		Short: "show where a satellite is at given times",
		Long: `Show where a satellite is: now, at each --at, or over a time (--from, --for,
--every). Azimuths are from true north, elevations above the level horizon
without refraction.`,
		Args: arguments(0, 1, ""),
		RunE: func(cmd *cobra.Command, args []string) error {
			t, err := sys.prepare(cmd, o, args)
			if err != nil {
				return err
			}
			times, err := lookTimes(o, every, t.now)
			if err != nil {
				return err
			}
			return sys.look(t, o, times)
		},
	}
	f := cmd.Flags()
	o.addElements(f)
	o.addSite(f)
	o.addAt(f, "at this time (repeatable; now without any)")
	o.addSpan(f, "from this time", "for this long")
	f.Var(&every, "every", "with --for: one row every so often (1m without)")
	o.addFrequency(f)
	o.addJSON(f)
	return cmd
}

// lookTimes are the times that the flags ask for.
func lookTimes(o *options, every value[time.Duration], now time.Time) ([]time.Time, error) {
	if !o.span.given {
		if o.from.given || every.given {
			return nil, wrong("add --for, or use --at for single times", "--from and --every need --for")
		}
		if len(o.at.all) == 0 {
			return []time.Time{now}, nil
		}
		return o.at.all, nil
	}
	if len(o.at.all) > 0 {
		return nil, wrong("", "either --at or --from and --for, not both")
	}
	from, step := o.from.or(now), every.or(time.Minute)
	if o.span.value/step >= maxTimes {
		return nil, wrong("", "%s every %s is more than %d rows", sayDuration(o.span.value), sayDuration(step), maxTimes)
	}
	var times []time.Time
	for d := time.Duration(0); d <= o.span.value; d += step {
		times = append(times, from.Add(d))
	}
	return times, nil
}

// lookAnswer is one row of the answer.
type lookAnswer struct {
	Satellite       string `json:"satellite"`
	CatalogueNumber int    `json:"catalogue_number"`
	lookJSON
	RangeRateKmS    *float64 `json:"range_rate_km_s,omitempty"`
	SubLatitudeDeg  *float64 `json:"sub_latitude_deg,omitempty"`
	SubLongitudeDeg *float64 `json:"sub_longitude_deg,omitempty"`
	AltitudeKm      *float64 `json:"altitude_km,omitempty"`
	Sunlit          bool     `json:"sunlit"`
	ReceiveHz       *float64 `json:"receive_hz,omitempty"`
}

func (sys system) look(t task, o *options, times []time.Time) error {
	s := t.satellites[0]
	sys.warnOfAge(s, times[len(times)-1])
	answers := make([]lookAnswer, 0, len(times))
	day, sayTime := sys.clockColumn(times)
	rows := newTable(day, "UTC", ">true", ">magnetic", ">elevation", ">range km", ">km/s", ">receive MHz", "above", ">height km", "light")
	rows.spare = []string{">height km", "light", "above", "UTC"}
	for _, at := range times {
		look, err := s.orbit.Look(t.site, at)
		if err != nil {
			return failed("", "%w", err)
		}
		ground, err := s.orbit.Ground(at)
		if err != nil {
			return failed("", "%w", err)
		}
		answers = append(answers, newLookAnswer(s, look, ground))
		rows.add(sys.lookRow(sayTime(at), s, newCompass(t.site, at), look, ground)...)
	}
	if o.json {
		return printJSON(sys.stdout, answers)
	}
	c := newCompass(t.site, times[0])
	_, err := fmt.Fprintf(sys.stdout, "%s%s\n\n%s\n%s\n", item("", title(s.orbit.Elements())+" from "+sayPlace(t.site)),
		sys.sayLikely(s, times[0]), rows, c.note)
	return err
}

func newLookAnswer(s satellite, look track.Look, ground track.Ground) lookAnswer {
	set := s.orbit.Elements()
	answer := lookAnswer{
		Satellite: name(set), CatalogueNumber: set.CatalogueNumber,
		lookJSON:        newLookJSON(look),
		RangeRateKmS:    number(look.RangeRateKmS, rateDecimals),
		SubLatitudeDeg:  number(ground.LatitudeDeg, degDecimals),
		SubLongitudeDeg: number(ground.LongitudeDeg, degDecimals),
		AltitudeKm:      number(ground.AltitudeKm, kmDecimals),
		Sunlit:          ground.Sunlit,
	}
	if s.frequencyHz > 0 {
		answer.ReceiveHz = number(track.ReceiveHz(s.frequencyHz, look.RangeRateKmS), hzDecimals)
	}
	return answer
}

func (sys system) lookRow(at string, s satellite, c compass, look track.Look, ground track.Ground) []string {
	light := "in shadow"
	if ground.Sunlit {
		light = "sunlit"
	}
	receive := ""
	if s.frequencyHz > 0 {
		receive = sayMHz(track.ReceiveHz(s.frequencyHz, look.RangeRateKmS))
	}
	return []string{
		at, sys.utcBeside(look.Time),
		sayTrue(look.AzimuthDeg), c.sayMagnetic(look.AzimuthDeg), sayElevation(look.ElevationDeg),
		fmt.Sprintf("%.0f", look.RangeKm), fmt.Sprintf("%+.3f", look.RangeRateKmS), receive,
		degrees(ground.LatitudeDeg, 0, "N", "S") + " " + degrees(ground.LongitudeDeg, 0, "E", "W"), fmt.Sprintf("%.0f", ground.AltitudeKm), light,
	}
}

// sayElevation says degrees to a tenth, without a minus before zero.
func sayElevation(deg float64) string { return fmt.Sprintf("%.1f°", math.Round(deg*10)/10+0) }

// sayMHz says a frequency to 10 Hz, as receivers show it.
func sayMHz(hz float64) string { return fmt.Sprintf("%.5f", hz/1e6) }
