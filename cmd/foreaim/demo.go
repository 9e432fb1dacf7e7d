package main

import (
	"context"
	"fmt"
	"math"
	"os"
	"time"

	"foreaim/cmd/foreaim/internal/world"
	"foreaim/gps"
	"foreaim/track/north"
	"foreaim/track/outing/review"
	"foreaim/tui"

	"github.com/spf13/cobra"
)

// The demonstration's pace, in its seconds per real second.
const (
	slowest = 0.1
	fastest = 60
)

func newDemoCommand(sys system) *cobra.Command {
	speed := value[float64]{parse: numberWithin("a speed looks like 10", slowest, fastest), kind: "N", value: 1}
	seed := wholeFlag(1, math.MaxUint64)
	var practice practice
	var screen screenFlags
	cmd := &cobra.Command{
		Use:   "demo",
		Short: "show the pointing aid at work on an invented outing",
		Long: `Show the full-screen program on an invented outing: a meadow, three invented
satellites, a GPS receiver on a serial line of its own and a laptop whose clock
is wrong. A pass is under way when it starts. It needs no file, no hardware and
no network. What you would hear of the receiver stands beside the word demo.
Trees hide a part of the sky, the noise goes up for a while, nobody has
confirmed yet that the recorder runs, and north is not where you are told that
it is: find it with the key w, by the chapel, which you see one fist left of
straight ahead. The satellites are late on their elements: mark what you hear,
and the screen learns from that, and from what you don't hear, where they really
are. A mast drowns the second pass: the key h tells so, and what helps. The
record of the demonstration is kept in a temporary folder; where it lies is said
at the end.

With --practise the truth is another one each time, or that of a --seed, and you
turn the boom yourself: with the arrow keys, by half a fist, and with [ and ] by
three. Only what sounds can be marked. At the end it is said what you heard,
what you would have heard by following the elements alone, and what by knowing
the truth.`,
		Args: arguments(0, 0, ""),
		RunE: func(cmd *cobra.Command, _ []string) error {
			practice.seed = seed.value
			if seed.given && !practice.on {
				return wrong("add --practise", "--seed is for practising")
			}
			return sys.demo(cmd, speed.value, screen, practice)
		},
	}
	cmd.Flags().Var(&speed, "speed", "let time run so many times as fast (0.1 to 60)")
	cmd.Flags().BoolVar(&practice.on, "practise", false, "turn the boom yourself, and see your score")
	cmd.Flags().Var(&seed, "seed", "practise with the truth of this number again")
	screen.add(cmd.Flags())
	return cmd
}

func (sys system) demo(cmd *cobra.Command, speed float64, screen screenFlags, practice practice) error {
	begin := sys.now()
	w, err := world.New(cmd.Context(), begin)
	if err != nil {
		return failed("", "%w", err)
	}
	if practice.on {
		if err := practice.begin(w, begin); err != nil {
			return failed("", "%w", err)
		}
	}
	pace := demoPace{w, begin, speed}
	truth := func() time.Time { return pace.truth(sys.now()) }
	laptop := func() time.Time { return w.Laptop(truth()) }

	config, err := screen.config(sys)
	if err != nil {
		return err
	}
	config.Now = laptop
	config.Title = "demo"
	ear := &demoEar{world.Ear{World: w}, w.ClockSlow}
	config.Sounds = ear.listen
	if practice.on {
		config.Practice = ear
	}
	config.FacingDeg, config.FacingKnown = w.BelievedDeg, true
	config.Landmarks = []north.Landmark{w.Chapel}
	config.Skyline = w.Skyline
	demoReception(w, &config)
	for _, s := range w.Satellites {
		config.Targets = append(config.Targets, tui.Target{
			Orbit: s.Orbit, Name: s.Set.Name, FrequencyHz: s.FrequencyHz, Schedule: s.Schedule,
			Likely: satellite{orbit: s.Orbit}.likely, MarginDB: world.MarginDB,
		})
	}
	if !sys.terminal {
		// One picture has no time to wait for the receiver.
		config.Now = truth
		ear.slow = 0
		config.Site, config.SiteKnown = w.Site, true
		_, err := fmt.Fprint(sys.stdout, tui.Picture(config, sys.width))
		return err
	}

	line, url, err := world.Line()
	if err != nil {
		return failed("", "the demonstration's serial line can't be opened: %w", err)
	}
	defer line.Close()
	ctx, stop := context.WithCancel(cmd.Context())
	defer stop()
	go func() {
		// The line's end is the outing's end, nothing to report.
		_ = world.Receiver{World: w, Truth: truth, Speed: speed}.Feed(ctx, line)
	}()
	// The invented receiver has no old dates to be caught with, even where this
	// computer's clock is years behind.
	receiver, err := gps.Open(ctx, url, gps.Options{Now: laptop, NotBefore: w.Start.AddDate(-1, 0, 0)})
	if err != nil {
		return failed("", "%w", err)
	}
	defer receiver.Close()
	config.Reports = receiver.Reports()
	end, err := sys.demoSounds(cmd, pace, &config)
	if err != nil {
		return err
	}
	defer end()
	err = sys.showRecorded(ctx, config)
	if practice.on && err == nil {
		fmt.Fprint(sys.stdout, practice.score(&ear.Ear))
	}
	return err
}

// showRecorded shows the demonstration and keeps its record in a folder of its
// own, apart from those of real outings.
func (sys system) showRecorded(ctx context.Context, config tui.Config) error {
	folder, err := os.MkdirTemp("", "foreaim-demo-")
	if err != nil {
		sys.warn("no record is kept: %v", err)
		return sys.show(ctx, config)
	}
	record, err := openRecord(folder, config.Now())
	if err != nil {
		return failed("", "%w", err)
	}
	record.show(&config, sys.version, review.Settings{BeamwidthDeg: config.BeamwidthDeg, MarginDB: world.MarginDB, MarginKnown: true})
	config.Start.Demo = true
	err = sys.show(ctx, config)
	if err := record.Close(); err != nil {
		sys.warn("%s: %v", record.path, err)
	}
	fmt.Fprintln(sys.stdout, "The record of this demonstration is", record.path)
	return err
}
