package tui

import (
	"fmt"
	"math"
	"strings"
	"testing"
	"time"

	"foreaim/track"
)

// likely is a story whose elements are off by so many seconds a day.
func likely(s story, perDay float64) story {
	epoch := s.object.epoch
	s.likely = func(at time.Time) track.Likely {
		return track.Likely{SigmaS: perDay * at.Sub(epoch).Hours() / 24}
	}
	return s
}

// The usual object flies 700 km away at its peak, 7.4 km a second across the
// line of sight: 4.2 s are 31 km or 2.5°, 30 s 18°. In 120 s it flies 888 km and
// sinks by 62 km: 54°.
func TestLikelyOff(t *testing.T) {
	for _, c := range []struct {
		perDay float64
		age    time.Duration
		want   []string // on the screen of 120 columns
		short  []string // and of 53
	}{
		{3.36, 30 * time.Hour, []string{"elements 1.2 d old: ±4.2 s, 2.5° at the peak"}, []string{"elements 1.2 d ±2.5°"}},
		{0.05, 30 * time.Hour, []string{"elements 1.2 d old: ±0.1 s, <0.1° at the peak"}, []string{"elements 1.2 d <0.1°"}},
		{24, 30 * time.Hour, []string{"ELEMENTS POOR, 1.2 d old: ±30 s, 18° at the peak"}, []string{"ELEMENTS POOR ±18°"}},
		{1, 90 * time.Hour, []string{"ELEMENTS 3.7 DAYS OLD: ±3.8 s, 2.3° at the peak"}, []string{"ELEMENTS 3.7 d OLD ±2.3°"}},
		{6, 480 * time.Hour, []string{"ELEMENTS 20 DAYS OLD: ±2 min, 54° at the peak", "Elements 20 days old: find newer before you go (±2 min)"}, []string{"ELEMENTS 20 d OLD ±54°"}},
	} {
		s := stories["move"]
		s.object.epoch = start.Add(-c.age)
		s = likely(s, c.perDay)
		for _, size := range []struct {
			columns, rows int
			want          []string
		}{{120, 40, c.want}, {53, 20, c.short}} {
			m := picture(t, s, size.columns, size.rows)
			for _, want := range size.want {
				if page := m.page.plain(); !strings.Contains(page, want) {
					t.Errorf("%v s a day: %q is not on the screen:\n%s", c.perDay, want, page)
				}
			}
		}
	}
	usually := likely(stories["move"], 3.36)
	m := picture(t, usually, 80, 24)
	want := math.Atan2(7.4*4.2, 520/math.Sin(48*math.Pi/180)) * 180 / math.Pi
	if got := m.scene.off; math.Abs(got.deg-want) > 0.05 || math.Abs(got.sigmaS-4.2) > 1e-9 {
		t.Errorf("off %+v at the peak, want 4.2 s and %.2f°", got, want)
	}
	now := usually.clock()
	config, targets := usually.config(func() time.Time { return now })
	if text := pictureOf(config, targets, 80); !strings.Contains(text, "Elements 1.2 d old: ±4.2 s, 2.5° at the peak") {
		t.Errorf("the picture tells nothing of it:\n%s", text)
	}
}

// Each pass of the list has its own, and no search waits for it.
func TestLikelyOffOfPasses(t *testing.T) {
	s := likely(stories["move"], 3.36)
	slow := s.likely
	s.likely = func(at time.Time) track.Likely { time.Sleep(time.Second); return slow(at) }
	play(t, s, 120, 40, func(p *player) {
		p.want("MOVE", "elements 1.2 days")
		p.press("p")
		p.miss("±")
		p.wait(time.Minute)
		p.want("Elements 1.2 d old: ±4.2 s, 2.5° at the peak", "Likely off")
		p.press(strings.Repeat("j", 15))
		p.want("Elements 2.2 d old: ±7.5 s, 4.6° at the peak") // 15 passes of 95 min later: 23.75 h
	})
	for _, size := range [][2]int{{53, 20}, {80, 24}, {120, 40}} {
		m := picture(t, likely(stories["move"], 3.36), size[0], size[1])
		golden(t, "off-"+sizeName(size), m.page.plain())
		press(t, m, "p")
		golden(t, "passesoff-"+sizeName(size), m.page.plain())
	}
}

func TestOffWords(t *testing.T) {
	for o, want := range map[off]string{
		{}:                       "|",
		{sigmaS: 4.24}:           "±4.2 s|±4.2 s",
		{sigmaS: 12, deg: 10.6}:  "±12 s, 11° at the peak|±11°",
		{sigmaS: 99.4, deg: .04}: "±99 s, <0.1° at the peak|<0.1°",
		{sigmaS: 119, deg: 0.94}: "±2 min, 0.9° at the peak|±0.9°",
	} {
		if got := fmt.Sprintf("%s|%s", o.words(), o.short()); got != want {
			t.Errorf("%+v: %q, want %q", o, got, want)
		}
	}
}
