package runner

import (
	"time"

	"foreaim/track/aim"
)

// Speaker says texts through a command of the user's choice.
type Speaker struct {
	args []string
	out  *announcer
}

// maxText is the most runes of a text that are spoken.
const maxText = 300

// NewSpeaker makes a speaker from a program and its arguments, in which {text}
// stands for the text; without it the text comes on standard input. The
// observer, which may be nil, gets every text after it was said, one at a time,
// from another goroutine. Close it.
func NewSpeaker(args []string, observe func(Spoken)) *Speaker {
	return &Speaker{args: args, out: newAnnouncer("voice", observe, run)}
}

// Say says a text, which must be over by staleAfter on the computer's clock: it
// isn't begun when it can't be. An urgent text interrupts the one being said;
// any replaces the one that waits. Say never waits for anything.
func (s *Speaker) Say(text string, staleAfter time.Time, urgent bool) {
	text = oneLine(text)
	if r := []rune(text); len(r) > maxText {
		text = string(r[:maxText])
	}
	if text == "" {
		return
	}
	c := Command{Args: s.args}
	if Uses(s.args, "text") {
		c.Args = Fill(s.args, map[string]string{"text": text})
	} else {
		c.Input = []byte(text + "\n")
	}
	s.out.say(saying{text, c, aim.SpeakingTime(text), staleAfter}, urgent)
}

// Speaking estimates how long a text takes, from how long others took.
func (s *Speaker) Speaking(text string) time.Duration {
	s.out.mu.Lock()
	defer s.out.mu.Unlock()
	return s.out.pace.of(aim.SpeakingTime(text))
}

// Problem says in one line why nothing is heard, "" while all is well.
func (s *Speaker) Problem() string { return s.out.trouble() }

// Close falls silent, in the middle of a word.
func (s *Speaker) Close() { s.out.close() }
