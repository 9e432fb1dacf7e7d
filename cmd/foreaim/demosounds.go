package main

import (
	"time"

	"foreaim/cmd/foreaim/internal/world"
	"foreaim/track/aim"
	"foreaim/tui"

	"github.com/spf13/cobra"
)

// demoPace is how the demonstration's time goes: from its start on, so many
// times as fast as the real.
type demoPace struct {
	world *world.World
	begin time.Time // real time at the world's start
	speed float64
}

// truth returns the demonstration's true time at a real time.
func (p demoPace) truth(now time.Time) time.Time {
	return p.world.Start.Add(time.Duration(float64(now.Sub(p.begin)) * p.speed))
}

// real returns the real time at which the demonstration's laptop shows a time.
func (p demoPace) real(laptop time.Time) time.Time {
	since := laptop.Add(p.world.ClockSlow).Sub(p.world.Start)
	return p.begin.Add(time.Duration(float64(since) / p.speed))
}

// demoSounds gives the demonstration the voice and the tones of the user's
// configuration, but none of the commands that are for real passes. A usual
// configuration that can't be read is no reason to show nothing.
func (sys system) demoSounds(cmd *cobra.Command, p demoPace, screen *tui.Config) (end func(), err error) {
	c, err := sys.configFor(cmd)
	if err != nil {
		if cmd.Flags().Changed("config") {
			return nil, err
		}
		sys.warn("the demonstration has no voice: %v", err)
		c = config{}
	}
	end = c.sounds(screen)
	if screen.Voice != nil {
		screen.Voice = demoVoice{screen.Voice, p}
	}
	if screen.Tones != nil {
		screen.Tones = demoTones{screen.Tones, p}
	}
	return end, nil
}

// demoVoice speaks in real time what is said in the demonstration's.
type demoVoice struct {
	tui.Voice
	pace demoPace
}

func (v demoVoice) Say(text string, staleAfter time.Time, urgent bool) {
	v.Voice.Say(text, v.pace.real(staleAfter), urgent)
}

func (v demoVoice) Speaking(text string) time.Duration {
	return time.Duration(float64(v.Voice.Speaking(text)) * v.pace.speed)
}

// demoTones plays in real time what is played in the demonstration's.
type demoTones struct {
	tui.TonePlayer
	pace demoPace
}

func (t demoTones) Play(tones []aim.Tone, staleAfter time.Time, urgent bool) {
	t.TonePlayer.Play(tones, t.pace.real(staleAfter), urgent)
}

// demoEar is what somebody outdoors has ears for in the demonstration, whose laptop
// is slow.
type demoEar struct {
	world.Ear
	slow time.Duration
}

// listen returns what can be heard.
func (e *demoEar) listen(computer time.Time, boom *tui.Boom) string {
	var held *world.Boom
	if boom != nil {
		held = &world.Boom{RightDeg: boom.RightDeg, UpDeg: boom.UpDeg}
	}
	return e.Listen(computer.Add(e.slow), held)
}

// Sounded tells whether something sounded that can be marked.
func (e *demoEar) Sounded(computer time.Time) bool { return e.Ear.Sounded(computer.Add(e.slow)) }
