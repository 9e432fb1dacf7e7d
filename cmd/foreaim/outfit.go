package main

import (
	"errors"

	"foreaim/cmd/foreaim/internal/runner"
	"foreaim/track/outing"
	"foreaim/tui"
)

// settle gives the screen what the configuration says about a pass.
func (c config) settle(screen *tui.Config) {
	screen.FistDeg = c.fistDeg
	screen.BeamwidthDeg = c.beamwidth.narrower()
	screen.Ear = c.ear
	screen.Checks = c.checks
	screen.NoiseWay, screen.NoiseDB = c.noiseWay, c.noiseDB
}

// outfit gives the screen the user's own commands, and returns what ends them.
func (c config) outfit(screen *tui.Config) (end func()) {
	commands := runner.New(nil) // nothing that is handed to it panics
	for _, r := range c.runs {
		screen.Commands = append(screen.Commands, r.on(commands))
	}
	endSounds := c.sounds(screen)
	return func() {
		endSounds()
		commands.Close()
	}
}

// sounds gives the screen the commands that speak and play tones.
func (c config) sounds(screen *tui.Config) (end func()) {
	end = func() {}
	if c.voice != nil {
		voice := runner.NewSpeaker(c.voice, nil)
		screen.Voice, end = voice, voice.Close
	}
	if c.tones != nil {
		tones, before := runner.NewTones(c.tones, nil), end
		screen.Tones, end = tones, func() { tones.Close(); before() }
	}
	return end
}

// on makes what the screen runs of a command of the user's own.
func (r runConfig) on(commands *runner.Runner) tui.Command {
	return tui.Command{
		At:   r.at,
		Name: plain(runner.Join(r.command)),
		Run: func() outing.CommandEntry {
			ended := make(chan runner.Result, 1)
			commands.Go(runner.Command{Args: r.command, Timeout: r.timeout}, func(result runner.Result) { ended <- result })
			return commandEntry(<-ended)
		},
	}
}

// commandEntry is how a command went, for the record.
func commandEntry(r runner.Result) outing.CommandEntry {
	e := outing.CommandEntry{
		DurationS:  outing.NumberOf(r.Took.Seconds()),
		ExitStatus: r.Status,
		TimedOut:   errors.Is(r.Err, runner.ErrTimeout),
		Output:     outing.Text(outputEnd(r.Output, r.Cut)),
	}
	if r.Err != nil {
		e.Problem = outing.Text(outing.Clean(r.Err.Error()))
	}
	return e
}

// maxOutput is how many characters of a command's output the record keeps.
const maxOutput = 1000

// outputEnd returns the end of an output, as one line: errors are there.
func outputEnd(output string, cut bool) string {
	runes := []rune(output)
	if over := len(runes) - maxOutput; over > 0 {
		runes, cut = runes[over:], true
	}
	if output = outing.Clean(string(runes)); cut {
		return "... " + output
	}
	return output
}
