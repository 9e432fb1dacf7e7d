package main

import (
	"bufio"
	"bytes"
	"context"
	"errors"
	"io"
	"time"

	"foreaim/track/aim"

	"github.com/spf13/cobra"
)

func newAdviseCommand(sys system) *cobra.Command {
	o, e := newOptions(sys), newErrorFlags()
	lowest := value[float64]{parse: parseElevation, kind: "DEG"}
	var group string
	cmd := &cobra.Command{
		Use:   "advise [SAT]",
		Short: "answer what was heard with where to aim next, for programs",
		Long: `Read what was heard or missed in one pass, a JSON object a line on standard
input, and answer with where to hold the antenna for the next burst and what is
believed by now: one line before the first and one after each.

  {"time":"2026-11-25T20:12:10.600Z","kind":"heard"}

kind is heard, silent, not_listening, noise_up or noise_normal. There may be
frequency_hz, strength (weak, good or strong), and azimuth_deg and
elevation_deg, the direction that was held as the operator believes it; without
them it is the one that was advised. The azimuth of an answer is one as the
operator should believe it too: what is known of the error of their north is in
it. next is null when no burst is left in the pass; next.phase_known is false
while the time is only when the burst begins at the latest. A mark counts for
the burst that began last or begins within 2 s.

The errors that are given are standard deviations.`,
		Args: arguments(0, 1, ""),
		RunE: func(cmd *cobra.Command, args []string) error {
			l, err := sys.outlook(cmd, o, e, group, lowest, args)
			if err != nil {
				return err
			}
			return sys.advise(cmd.Context(), l)
		},
	}
	f := cmd.Flags()
	o.addElements(f)
	f.StringVar(&group, "group", "", "it may be any object of the launch `PREFIX`, such as 2026-014, or of a file")
	o.addSite(f)
	o.addSpan(f, "the pass under way or next at this time (now without it)", "look for a pass this far ahead (3d without it)")
	f.Var(&lowest, "min-elevation", "nothing is heard below this elevation (0 without it)")
	o.addFrequency(f)
	o.addBeacon(f)
	e.add(f, "what is likely for the elements", "4")
	f.BoolVar(&o.json, "json", false, "print JSON for programs, as it does anyway")
	return cmd
}

// advise answers the observations on standard input.
func (sys system) advise(ctx context.Context, l outlook) error {
	belief, err := aim.NewBelief(l.prior)
	if err != nil {
		return wrong("", "%w", err)
	}
	adviser := adviser{belief: belief, outlook: l, now: l.begin}
	answer := func() error { return printJSONLine(sys.stdout, newAdviceAnswer(adviser.advise(), l.objects)) }
	if err := answer(); err != nil {
		return err
	}
	lines := readLines(ctx, sys.stdin)
	for {
		select {
		case <-ctx.Done():
			return ctx.Err()
		case line, open := <-lines:
			if !open {
				return nil
			}
			observation, err := line.observation()
			if err != nil {
				return err
			}
			adviser.observe(observation)
			if err := answer(); err != nil {
				return err
			}
		}
	}
}

// adviser knows what time it is by the observations.
type adviser struct {
	belief *aim.Belief
	outlook
	now    time.Time
	advice aim.Advice // the last
}

// earlyMark is how long before a burst a mark may be about it (see
// aim.Observation): the next burst is one after it.
const earlyMark = 2*time.Second + 1

func (a *adviser) observe(o aim.Observation) {
	if next := a.advice.Next; o.Kind == aim.Silent && a.advice.PhaseKnown && o.Time.Sub(next).Abs() < earlyMark {
		// Silence is about the whole burst, also where its time is an estimate.
		o.Time = laterOf(o.Time, next.Add(earlyMark))
	}
	a.belief.Observe(o)
	at := o.Time
	if a.prior.Schedule.Known() && (o.Kind == aim.Heard || o.Kind == aim.Silent) {
		at = at.Add(earlyMark)
	}
	a.now = laterOf(a.now, at)
}

// advise returns the advice for the next burst. A belief looks only so many
// bursts ahead: before a pass it is asked on.
func (a *adviser) advise() aim.Advice {
	const stride = 100
	a.advice = a.belief.Advise(a.now)
	for now := a.now; a.advice.Next.IsZero() && now.Before(a.prior.To); {
		now = now.Add(stride * a.prior.Schedule.Period)
		a.advice = a.belief.Advise(now)
	}
	return a.advice
}

// inputLine is one line of standard input with its number.
type inputLine struct {
	number int
	text   []byte
	err    error // it could not be read
}

// longestLine is in bytes; an observation takes a thousandth of it.
const longestLine = 64 << 10

// readLines reads the lines that aren't empty; it ends with the input, after an
// error, or with the context, as soon as it is handed something.
func readLines(ctx context.Context, in io.Reader) <-chan inputLine {
	lines := make(chan inputLine)
	send := func(l inputLine) bool {
		select {
		case lines <- l:
			return true
		case <-ctx.Done():
			return false
		}
	}
	go func() {
		defer close(lines)
		s := bufio.NewScanner(in)
		s.Buffer(nil, longestLine)
		n := 0
		for s.Scan() {
			n++
			text := s.Bytes()
			if n == 1 {
				text = bytes.TrimPrefix(text, []byte("\xef\xbb\xbf"))
			}
			if len(bytes.TrimSpace(text)) > 0 && !send(inputLine{number: n, text: bytes.Clone(text)}) {
				return
			}
		}
		if s.Err() != nil {
			send(inputLine{number: n + 1, err: s.Err()})
		}
	}()
	return lines
}

// observation reads the line.
func (l inputLine) observation() (aim.Observation, error) {
	switch {
	case errors.Is(l.err, bufio.ErrTooLong):
		return aim.Observation{}, wrong(observationHint, "stdin:%d: the line is longer than %d bytes", l.number, longestLine)
	case l.err != nil:
		return aim.Observation{}, failed("", "stdin:%d: %w", l.number, l.err)
	}
	o, err := readObservation(l.text)
	if fault, ok := errors.AsType[*lineFault](err); ok {
		return o, wrong(fault.hint, "stdin:%d:%w", l.number, fault)
	}
	return o, err
}
