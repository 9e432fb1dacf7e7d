package tui

import (
	"regexp"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"foreaim/track/aim"
)

// said is a text given to a voice.
type said struct {
	at     time.Time // by the computer
	text   string
	stale  time.Time
	urgent bool
	screen string // the headline's row at the next look
}

// mute is what a voice and a player of tones that only listen share: they fail when
// they are told to.
type mute struct {
	mu      sync.Mutex
	problem string
}

func (l *mute) Problem() string {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.problem
}

// fail makes it tell a problem.
func (l *mute) fail(problem string) {
	l.mu.Lock()
	defer l.mu.Unlock()
	l.problem = problem
}

// listener is a voice that only listens.
type listener struct {
	mute
	now func() time.Time
	all []said
}

func (l *listener) Say(text string, stale time.Time, urgent bool) {
	l.mu.Lock()
	defer l.mu.Unlock()
	l.all = append(l.all, said{at: l.now(), text: text, stale: stale, urgent: urgent})
}

func (l *listener) Speaking(text string) time.Duration { return aim.SpeakingTime(text) }

// texts returns what was said so far.
func (l *listener) texts() []said {
	l.mu.Lock()
	defer l.mu.Unlock()
	return slices.Clone(l.all)
}

// spoken is a story with a voice.
func spoken(s story, l *listener) story {
	change := s.change
	s.change = func(c *Config) {
		if change != nil {
			change(c)
		}
		l.now, c.Voice = c.Now, l
	}
	return s
}

// degrees are the turns as spoken.
var degrees = map[string]string{
	"five": "5", "ten": "10", "fifteen": "15", "twenty": "20", "twenty-five": "25", "thirty": "30",
	"thirty-five": "35", "forty": "40",
}

var turn = regexp.MustCompile(`^(left|right) ([a-z-]+)`)

// Every hold's instruction is spoken before its burst, can end before it, and
// says the turn that the screen says at that moment; so do "hold" and "burst".
func TestSpokenPass(t *testing.T) {
	t.Parallel()
	l := new(listener)
	s := spoken(stories["move"], l)
	s.at = -250 * time.Second
	play(t, s, 80, 24, func(p *player) {
		var shown []string
		for p.now().Before(start.Add(200 * time.Second)) {
			n := len(l.texts())
			p.wait(100 * time.Millisecond) // until the terminal has the picture as well
			for len(shown) < n {
				shown = append(shown, strings.Split(p.text(), "\n")[6])
			}
		}
		l.mu.Lock()
		defer l.mu.Unlock()
		for i, row := range shown {
			l.all[i].screen = row
		}
	})
	moves, holds, bursts := 0, 0, 0
	for _, u := range l.all {
		if end := u.at.Add(aim.SpeakingTime(u.text)); end.After(u.stale) {
			t.Errorf("%q at %s can't end by %s", u.text, u.at, u.stale)
		}
		m := turn.FindStringSubmatch(u.text)
		switch {
		case m != nil:
			moves++
			if want := degrees[m[2]] + "° " + m[1]; degrees[m[2]] == "" || !strings.Contains(u.screen, want) {
				t.Errorf("%q is said while the screen says %q", u.text, u.screen)
			}
		case strings.HasPrefix(u.text, "hold"):
			holds++
			if !strings.Contains(u.screen, "KEEP STILL") {
				t.Errorf("%q is said while the screen says %q", u.text, u.screen)
			}
		case u.text == "burst":
			bursts++
			if !strings.Contains(u.screen, "BURST NOW") {
				t.Errorf("%q is said while the screen says %q", u.text, u.screen)
			}
		}
	}
	// Bursts from -233 to 187 s, one every 30 s: 15. Of the 16 ways to a hold the
	// first is said from the facing, and two go straight up and straight down.
	if moves != 13 || holds != 15 || bursts != 15 {
		t.Errorf("%d turns, %d holds, %d bursts said, want 13, 15 and 15", moves, holds, bursts)
	}
}

// A text's end is given by the computer's clock, which is 90 s slow here.
func TestSpokenByTheComputersClock(t *testing.T) {
	l := new(listener)
	s := spoken(stories["slow"], l)
	play(t, s, 80, few, func(p *player) {
		for range 40 {
			p.report(goodReport(p.now(), 90))
			p.wait(time.Second)
		}
	})
	if len(l.all) < 3 {
		t.Fatalf("%d texts said", len(l.all))
	}
	for _, u := range l.all[1:] {
		if left := u.stale.Sub(u.at); left < 0 || left > 40*time.Second {
			t.Errorf("%q is stale after %s", u.text, left)
		}
	}
}

func TestVoiceKeyAndProblem(t *testing.T) {
	l := new(listener)
	play(t, spoken(stories["move"], l), 80, 24, func(p *player) {
		p.press("v")
		p.want("Voice off")
		n := len(l.texts())
		p.wait(40 * time.Second)
		p.want("voice off")
		if all := l.texts(); len(all) != n {
			t.Errorf("said while off: %+v", all[n:])
		}
		p.press("v")
		p.wait(30 * time.Second)
		if len(l.texts()) == n {
			t.Error("nothing is said once on again")
		}
		l.fail("espeak-ng\x1b: not found")
		p.wait(time.Second)
		p.want("VOICE FAILS: espeak-ng: not found")
	})
	play(t, stories["move"], 53, 20, func(p *player) {
		p.press("v")
		p.want("There is no voice")
	})
}

// A new facing before the first hold corrects what was said.
func TestSpokenCorrection(t *testing.T) {
	l := new(listener)
	s := spoken(stories["move"], l)
	s.at = -300 * time.Second // rises at -279.5
	play(t, s, 80, few, func(p *player) {
		p.wait(10 * time.Second)
		p.press("f", "2", "4", "0", "\r")
		p.wait(time.Second)
	})
	last := l.all[len(l.all)-1]
	if !strings.HasPrefix(last.text, "correction: ") || !strings.Contains(last.text, "left") && !strings.Contains(last.text, "ahead") && !strings.Contains(last.text, "right") {
		t.Errorf("said last: %+v", last)
	}
}
