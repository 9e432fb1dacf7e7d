package tui

import (
	"slices"
	"strings"
	"testing"
	"time"

	"foreaim/track/aim"
)

// pattern is the bells since a moment: quick ones stand together, "_" is a long gap
// between two, a blank a pause.
func (p *player) pattern(from time.Duration) string {
	p.mu.Lock()
	defer p.mu.Unlock()
	var b strings.Builder
	var last time.Time
	for _, r := range p.rings {
		if r.Before(start.Add(from)) {
			continue
		}
		if !last.IsZero() {
			switch gap := r.Sub(last).Round(100 * time.Millisecond); gap {
			case 200 * time.Millisecond:
			case 600 * time.Millisecond:
				b.WriteString("_")
			default:
				b.WriteString(" ")
			}
		}
		b.WriteString("*")
		last = r
	}
	return b.String()
}

// Without a voice the bell tells the way to the hold, the hold and the burst:
// right and up, once, four times, then left and up. The first hold of -113 s is
// 51° to the right of straight ahead and 26° up; the next is to the left of it
// and higher.
func TestBell(t *testing.T) {
	t.Parallel()
	play(t, stories["move"], 80, 24, func(p *player) { // from -138 s on; bursts at -113 and -83
		p.until(-100 * time.Second)
		if got, want := p.pattern(-138*time.Second), "*** **_* * **** ** **_*"; got != want {
			t.Errorf("the bell rang %q, want %q", got, want)
		}
		p.press("b")
		p.want("Bell off")
		n := p.rung()
		p.until(-60 * time.Second)
		if p.rung() != n {
			t.Errorf("%d bells once silenced", p.rung()-n)
		}
		p.want("bell off")
		p.press("b")
		p.want("Bell on, while no voice speaks: 1 hold, 2 left, 3 right, 4 burst")
	})
}

// toneListener is a player of tones that only listens.
type toneListener struct {
	mute
	all []string
}

func (l *toneListener) Play(tones []aim.Tone, _ time.Time, _ bool) {
	l.mu.Lock()
	defer l.mu.Unlock()
	var names []string
	for _, tone := range tones {
		names = append(names, string(tone))
	}
	l.all = append(l.all, strings.Join(names, ","))
}

func (l *toneListener) played() []string {
	l.mu.Lock()
	defer l.mu.Unlock()
	return slices.Clone(l.all)
}

// A callout sounds in one way only: aloud, else in tones, else by the bell.
func TestOneWayToSound(t *testing.T) {
	t.Parallel()
	voice, tones := new(listener), new(toneListener)
	s := spoken(stories["move"], voice)
	change := s.change
	s.change = func(c *Config) { change(c); c.Tones = tones }
	play(t, s, 80, 24, func(p *player) {
		p.until(-100 * time.Second)
		if n := len(voice.texts()); n == 0 || len(tones.played()) != 0 || p.rung() != 0 {
			t.Errorf("%d texts, tones %v, %d bells, want the voice alone", n, tones.played(), p.rung())
		}
		voice.fail("no sound card")
		said := len(voice.texts())
		p.until(-70 * time.Second) // the hold and the burst of -83 s, and the way on
		if n := len(voice.texts()) - said; n < 3 {
			t.Errorf("a voice that failed once is tried with %d of 3 callouts", n)
		}
		if got := tones.played(); !slices.Equal(got, []string{"hold", "burst", "left,up"}) || p.rung() != 0 {
			t.Errorf("tones %v and %d bells while the voice fails", got, p.rung())
		}
		tones.fail("no player\x1b[2J")
		p.until(-40 * time.Second)
		p.want("TONES FAIL")
		if n := len(tones.played()); n != 3 || p.rung() < 5 {
			t.Errorf("%d tones and %d bells once the tones fail too", n-3, p.rung())
		}
		// After a minute they are tried again, in place of the bell.
		n := p.rung()
		p.until(10 * time.Second)
		if again := len(tones.played()) - 3; again != 1 || p.rung() == n {
			t.Errorf("the tones were tried %d times and the bell rang %d times in the next minute", again, p.rung()-n)
		}
		p.press("b")
		n, m := p.rung(), len(tones.played())
		p.until(50 * time.Second)
		if p.rung() != n || len(tones.played()) != m {
			t.Error("silenced, something sounds")
		}
	})
}

// Silent from the start means all of it; each has its key.
func TestSilentFromTheStart(t *testing.T) {
	voice, tones := new(listener), new(toneListener)
	s := spoken(stories["move"], voice)
	change := s.change
	s.change = func(c *Config) { change(c); c.Tones, c.Silent = tones, true }
	play(t, s, 80, 24, func(p *player) {
		p.until(-80 * time.Second)
		if len(voice.texts()) != 0 || len(tones.played()) != 0 || p.rung() != 0 {
			t.Errorf("silent, but %v, %v and %d bells", voice.texts(), tones.played(), p.rung())
		}
		p.press("v")
		p.until(-50 * time.Second)
		if len(voice.texts()) == 0 {
			t.Error("v does not give the voice back")
		}
	})
}
