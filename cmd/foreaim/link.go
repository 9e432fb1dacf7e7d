package main

import (
	"context"
	"slices"
	"time"

	"foreaim/track"
	"foreaim/track/beacon"
	"foreaim/track/radio"

	"github.com/spf13/cobra"
)

func newLinkCommand(sys system) *cobra.Command {
	o, l := newOptions(sys), newLinkFlags()
	every := value[time.Duration]{parse: parseDuration, kind: "DURATION"}
	cmd := &cobra.Command{
		Use:   "link [SAT]",
		Short: "say how well a satellite will come in during a pass, by chain",
		Long: `Say how strong the beacon arrives during the pass under way, or else the next
one: against the noise, what it takes to hear it and what it takes to decode it,
for each chain of the configuration. Of a single chain it also tells what it
would be without its preamplifier, and with that on the other side of the cable.
With --transmitters it tells what they do to it, and what helps.

What isn't known counts as a range: the truth should lie in it.`,
		Args: arguments(0, 1, ""),
		RunE: func(cmd *cobra.Command, args []string) error {
			t, err := sys.prepare(cmd, o, args)
			if err != nil {
				return err
			}
			from, err := o.passFrom(t.now)
			if err != nil {
				return err
			}
			r, err := newReception(cmd.Context(), t, l, from, o.span, every)
			if err != nil {
				return err
			}
			sys.warnOfAge(r.pass.satellite, from)
			if o.json {
				return printJSON(sys.stdout, r.answers())
			}
			return sys.printReception(t, r)
		},
	}
	f := cmd.Flags()
	o.addElements(f)
	o.addSite(f)
	o.addNextPass(f)
	f.Var(&every, "every", "a row every so often (30s without it), beside those of the bursts")
	o.addSkyline(f)
	o.addFrequency(f)
	o.addBeacon(f)
	l.add(f)
	o.addJSON(f)
	return cmd
}

// sample is a moment of a pass.
type sample struct {
	track.Look
	burst int // its number where one begins then
	known bool
}

// received is what one chain makes of a pass, sample by sample.
type received struct {
	link   radio.Link
	levels []radio.Level
	// Among strong transmitters:
	loads  []radio.Overload // nil: none are known
	advice radio.Advice     // where they do most harm
	worst  int              // the sample where that is
}

// level is how the beacon arrives, with the transmitters.
func (r received) level(i int) radio.Level {
	if r.loads == nil {
		return r.levels[i]
	}
	return r.loads[i].Level
}

// reception is a pass as it comes in by several chains.
type reception struct {
	pass      passOf
	samples   []sample
	chains    []received
	incoming  []radio.Incoming
	hasBursts bool
}

func newReception(ctx context.Context, t task, f *linkFlags, from time.Time, span, every value[time.Duration]) (r reception, err error) {
	link, err := t.config.link(t.satellites[0], f)
	if err != nil {
		return r, err
	}
	chains, err := t.config.chainsFor(f.chains)
	if err != nil {
		return r, err
	}
	if r.incoming, err = t.config.readTransmitters(f, t.site, t.sight); err != nil {
		return r, err
	}
	if r.pass, err = nextPass(ctx, t, from, span, value[float64]{}); err != nil {
		return r, err
	}
	if err := r.take(t.site, every.or(30*time.Second)); err != nil {
		return r, err
	}
	looks := make([]track.Look, len(r.samples))
	for i, s := range r.samples {
		looks[i] = s.Look
	}
	for _, chain := range chains {
		link.Chain = chain
		if err := link.Check(); err != nil {
			return r, wrong("", "%w", err)
		}
		r.chains = append(r.chains, newReceived(link, looks, r.incoming))
	}
	return r, nil
}

func newReceived(link radio.Link, looks []track.Look, incoming []radio.Incoming) received {
	c := received{link: link, levels: link.Along(looks, 0)}
	if len(incoming) == 0 {
		return c
	}
	s := radio.NewSurroundings(link, incoming)
	c.loads = s.Along(looks, 0)
	for i, o := range c.loads {
		if o.NoiseRiseDB.High > c.loads[c.worst].NoiseRiseDB.High {
			c.worst = i
		}
	}
	c.advice = s.Advise(looks[c.worst], 0)
	return c
}

// take chooses the moments: each burst, and every so often.
func (r *reception) take(site track.Site, every time.Duration) error {
	p := r.pass
	rise, set := p.Rise.Time, p.Set.Time
	if set.Sub(rise)/every >= maxTimes {
		return wrong("", "%s every %s is more than %d rows", sayDuration(set.Sub(rise).Round(time.Second)), sayDuration(every), maxTimes)
	}
	for at := rise; ; at = at.Add(every) {
		if at.After(set) {
			at = set
		}
		look, err := p.orbit.Look(site, at)
		if err != nil {
			return failed("", "%w", err)
		}
		r.samples = append(r.samples, sample{Look: look})
		if at.Equal(set) {
			break
		}
	}
	if p.schedule.Known() && p.schedule.Period > 0 {
		bursts, err := beacon.InPass(p.orbit, site, p.Pass, p.schedule, p.frequencyHz)
		if err != nil {
			return failed("", "%w", err)
		}
		for _, b := range bursts {
			r.hasBursts = true
			r.samples = append(r.samples, sample{b.Look, b.Number, true})
		}
	}
	slices.SortStableFunc(r.samples, func(a, b sample) int { return a.Time.Compare(b.Time) })
	return nil
}

// linkJSON is what one chain makes of one moment. What isn't known exactly is
// told by its middle and its two ends.
type linkJSON struct {
	Chain string `json:"chain"`
	lookJSON
	Burst      *int     `json:"burst,omitempty"`
	PathLossDB *float64 `json:"path_loss_db,omitempty"`
	levelJSON
	// With transmitters around.
	NoiseRiseDB           *float64 `json:"noise_rise_db,omitempty"`
	NoiseRiseLowDB        *float64 `json:"noise_rise_low_db,omitempty"`
	NoiseRiseHighDB       *float64 `json:"noise_rise_high_db,omitempty"`
	QuietHearingMarginDB  *float64 `json:"quiet_hearing_margin_db,omitempty"` // without them
	QuietDecodingMarginDB *float64 `json:"quiet_decoding_margin_db,omitempty"`
	GainLossHighDB        *float64 `json:"gain_loss_high_db,omitempty"`
	ProductsHighDBm       *float64 `json:"products_high_dbm,omitempty"`
	DirectHighDBm         *float64 `json:"direct_high_dbm,omitempty"`
	Directed              bool     `json:"depends_on_direction,omitempty"`
}

func (r reception) answers() []linkJSON {
	answers := []linkJSON{}
	for i, s := range r.samples {
		for _, c := range r.chains {
			a := linkJSON{
				Chain: c.link.Chain.Name, lookJSON: newLookJSON(s.Look),
				PathLossDB: number(c.levels[i].PathLossDB, 2), levelJSON: newLevelJSON(c.level(i)),
			}
			if s.known {
				a.Burst = &s.burst
			}
			if c.loads != nil {
				o := c.loads[i]
				a.NoiseRiseDB, a.NoiseRiseLowDB, a.NoiseRiseHighDB = ends(o.NoiseRiseDB)
				a.QuietHearingMarginDB = number(o.Before.HearingMarginDB.Mid(), 2)
				a.QuietDecodingMarginDB = number(o.Before.DecodingMarginDB.Mid(), 2)
				a.GainLossHighDB = number(o.GainLossDB.High, 2)
				a.ProductsHighDBm, a.DirectHighDBm = number(o.ProductsDBm.High, 2), number(o.DirectDBm.High, 2)
				a.Directed = o.Directed
			}
			answers = append(answers, a)
		}
	}
	return answers
}

// levelJSON is how a beacon arrives.
type levelJSON struct {
	ReceivedDBm          *float64 `json:"received_dbm,omitempty"`
	ReceivedLowDBm       *float64 `json:"received_low_dbm,omitempty"`
	ReceivedHighDBm      *float64 `json:"received_high_dbm,omitempty"`
	NoiseDBm             *float64 `json:"noise_dbm,omitempty"`
	NoiseLowDBm          *float64 `json:"noise_low_dbm,omitempty"`
	NoiseHighDBm         *float64 `json:"noise_high_dbm,omitempty"`
	SNRDB                *float64 `json:"snr_db,omitempty"`
	SNRLowDB             *float64 `json:"snr_low_db,omitempty"`
	SNRHighDB            *float64 `json:"snr_high_db,omitempty"`
	HearingMarginDB      *float64 `json:"hearing_margin_db,omitempty"`
	HearingMarginLowDB   *float64 `json:"hearing_margin_low_db,omitempty"`
	HearingMarginHighDB  *float64 `json:"hearing_margin_high_db,omitempty"`
	DecodingMarginDB     *float64 `json:"decoding_margin_db,omitempty"`
	DecodingMarginLowDB  *float64 `json:"decoding_margin_low_db,omitempty"`
	DecodingMarginHighDB *float64 `json:"decoding_margin_high_db,omitempty"`
}

func newLevelJSON(l radio.Level) (a levelJSON) {
	a.ReceivedDBm, a.ReceivedLowDBm, a.ReceivedHighDBm = ends(l.ReceivedDBm)
	a.NoiseDBm, a.NoiseLowDBm, a.NoiseHighDBm = ends(l.NoiseDBm)
	a.SNRDB, a.SNRLowDB, a.SNRHighDB = ends(l.SNRDB)
	a.HearingMarginDB, a.HearingMarginLowDB, a.HearingMarginHighDB = ends(l.HearingMarginDB)
	a.DecodingMarginDB, a.DecodingMarginLowDB, a.DecodingMarginHighDB = ends(l.DecodingMarginDB)
	return a
}

// ends are a range's middle and ends for JSON.
func ends(r radio.Range) (mid, low, high *float64) {
	return number(r.Mid(), 2), number(r.Low, 2), number(r.High, 2)
}
