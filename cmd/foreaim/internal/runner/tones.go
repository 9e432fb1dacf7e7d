package runner

import (
	"strings"
	"time"

	"foreaim/track/aim"
)

// Tones plays tones through a command of the user's choice.
type Tones struct {
	args []string
	out  *announcer
}

// NewTones makes a player from a program and its arguments, in which {tone}
// stands for the tones' names, as "right,up". Without it, the sound comes on
// standard input as a WAV file: 16 bits, one channel, 22050 Hz. The observer is
// that of a Speaker; its texts are the names. Close it.
func NewTones(args []string, observe func(Spoken)) *Tones {
	return &Tones{args: args, out: newAnnouncer("tones", observe, run)}
}

// Play plays tones one after another, under the rules of Speaker.Say.
func (t *Tones) Play(tones []aim.Tone, staleAfter time.Time, urgent bool) {
	if len(tones) == 0 {
		return
	}
	names := make([]string, len(tones))
	for i, tone := range tones {
		names[i] = string(tone)
	}
	text := oneLine(strings.Join(names, ","))
	sound := pcm(tones)
	c := Command{Args: t.args}
	if Uses(t.args, "tone") {
		c.Args = Fill(t.args, map[string]string{"tone": text})
	} else {
		c.Input = wav(sound)
	}
	length := time.Duration(len(sound)) * time.Second / sampleRate
	t.out.say(saying{text, c, length, staleAfter}, urgent)
}

// Problem says in one line why nothing is heard, "" while all is well.
func (t *Tones) Problem() string { return t.out.trouble() }

// Close falls silent.
func (t *Tones) Close() { t.out.close() }
