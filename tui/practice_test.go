package tui

import (
	"math"
	"testing"
	"time"

	"foreaim/track/aim"
	"foreaim/track/outing"
)

// booth is a practice in which something sounds from a moment on.
type booth struct {
	from time.Time
	boom *Boom
}

func (b *booth) Sounded(computer time.Time) bool { return !computer.Before(b.from) }

func (b *booth) listen(_ time.Time, boom *Boom) string {
	if boom != nil {
		held := *boom
		b.boom = &held
	}
	return ""
}

// The keys turn the boom by half a fist, the window and the ear have it there,
// and only what sounded can be marked. The belief takes the boom's direction.
func TestPractice(t *testing.T) {
	d := newDisk()
	s := erring{sigmaS: 30}.story(d)
	b := &booth{from: start.Add(-200 * time.Second)}
	change := s.change
	s.change = func(c *Config) { change(c); c.Practice, c.Sounds = b, b.listen }
	play(t, s, 80, 24, func(p *player) {
		const left, right, up, down = "\x1b[D", "\x1b[C", "\x1b[A", "\x1b[B"
		p.press(right, right, right, up, up, down, "[", up)
		if want := (Boom{RightDeg: -15, UpDeg: 10}); b.boom == nil || *b.boom != want {
			t.Errorf("the boom is at %+v, want %+v", b.boom, want)
		}
		p.press(down, down, down, left)
		if want := (Boom{RightDeg: -20}); *b.boom != want {
			t.Errorf("the boom is at %+v, want %+v", *b.boom, want)
		}
		p.want("boom 86° right 6° up") // the hold is at 216° and 6° up, the boom at 130°
		p.press(" ")
		p.want("Nothing sounded")
		p.miss("heard 0")
		p.until(-200 * time.Second)
		p.press(" ")
		p.want("1 heard")
		p.until(-170 * time.Second)
		all := entries[outing.AdviceEntry](t, d)
		if e := all[len(all)-1]; !(math.Abs(e.HeadingErrorDeg.Value) > 5) {
			t.Errorf("heard with the boom 80° off, and north is believed to be off by %v°", e.HeadingErrorDeg)
		}
	})
	s.likely = nil // nothing to learn
	m := picture(t, s, 80, 24)
	golden(t, "practice-80x24", m.page.plain())
}

// What is believed is on every screen where there is room for it, in a pass that
// is searched for as in one that was learned, and asks for no more than seven
// things at once.
func TestBeliefIsShown(t *testing.T) {
	e := erring{lateS: 90, headingDeg: -20, sigmaS: 80, marginDB: 4}
	for _, size := range [][2]int{{53, 20}, {80, 24}, {120, 40}} {
		d := newDisk()
		s := e.story(d)
		play(t, s, size[0], size[1], func(p *player) {
			p.until(-240 * time.Second)
			p.want("next")
			e.operate(p, d, -233*time.Second, 37*time.Second)
			p.until(46 * time.Second)
			p.want("late", "next", "heard")
		})
		m := picture(t, stories["move"], size[0], size[1])
		m.scene.belief = &aim.Advice{
			Next: start, HearProbability: 0.82, AudibleProbability: 0.97, Explains: true, Learned: true,
			TimeErrorS: aim.Estimate{Mean: 40, Sigma: 12}, HeadingErrorDeg: aim.Estimate{Mean: -12, Sigma: 6},
		}
		m.scene.tally = tally{last: "burst 5 heard", heard: 3, silent: 2}
		m.scene.followBelief()
		m.draw()
		golden(t, "learned-"+sizeName(size), m.page.plain())
		if n := attention(m.page); n > 7 {
			t.Errorf("%v: %d things ask for attention:\n%s", size, n, m.page.plain())
		}
	}
}
