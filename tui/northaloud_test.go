package tui

import (
	"strings"
	"testing"
	"time"

	"foreaim/track/north"
)

// What was found is said aloud once for each reference that was taken, when no
// instruction is near, with the uncertainty that the screen shows.
func TestNorthSaidAloud(t *testing.T) {
	l := new(listener)
	s := spoken(finding(meadow, noonTime.Add(-20*time.Minute), northMast), l)
	said := func() (all []string) {
		for _, u := range l.texts() {
			if strings.HasPrefix(u.text, "north ") {
				all = append(all, u.text)
			}
		}
		return all
	}
	play(t, s, 80, 24, func(p *player) {
		p.press("w")
		p.wait(time.Second)
		p.press("j", "j", "\r") // the mast
		p.want("straight ahead is 000° ±2°")
		p.wait(20 * time.Second)
		if all := said(); len(all) != 1 || all[0] != "north found, give or take two degrees" {
			t.Errorf("said %q", all)
		}
		p.press("u")
		p.wait(20 * time.Second)
		if all := said(); len(all) != 1 {
			t.Errorf("said %q when nothing was taken", all)
		}
	})
}

func TestFoundAloud(t *testing.T) {
	sun, compass := north.Reference{Kind: north.BySun}, north.Reference{Kind: north.ByCompass}
	for want, f := range map[string]north.Facing{
		"north found, give or take three degrees":                      {SigmaDeg: 2.6, Used: []north.Reference{sun}},
		"north found, give or take one degree":                         {SigmaDeg: 0.4, Used: []north.Reference{sun}},
		"north in doubt, two references differ by twenty-four degrees": {SigmaDeg: 13, Differences: []north.Difference{{A: sun, B: compass, Deg: 24.2}}},
		"north found, give or take two degrees, one left out":          {SigmaDeg: 2, LeftOut: []north.Reference{compass}, Differences: []north.Difference{{A: sun, B: compass, Deg: 24.2}}},
		"north may be anywhere":                                        {SigmaDeg: 104},
	} {
		if got := foundAloud(f); got != want {
			t.Errorf("%+v: %q, want %q", f, got, want)
		}
	}
}
