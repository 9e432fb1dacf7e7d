package tui

import (
	"strings"
	"testing"
	"time"

	"foreaim/track/aim"
)

// A hold in the direction of the last one asks for no move, and doesn't say so.
func TestStayIsNoMove(t *testing.T) {
	last := aim.Hold{Number: 4, Direction: aim.Direction{AzimuthDeg: 150, ElevationDeg: 5}, Until: time.Unix(0, 0)}
	next := last
	next.Number, next.AzimuthDeg = 5, 151
	s := scene{stage: move, fistDeg: aim.FistDeg, moment: aim.Moment{Last: &last, Next: &next}, sent: aim.Told{}.With(aim.Callout{Hold: 4, Way: true})}
	if word, rest, _ := s.headline(); word != "STAY" || rest[0] != "where you are, for the next burst" {
		t.Errorf("%s %q", word, rest)
	}
	s.twist = true // said aloud at the same time
	if word, rest, _ := s.headline(); word != "TWIST" || rest[1] != "the boom a quarter turn" {
		t.Errorf("%s %q", word, rest)
	}
	next.AzimuthDeg += 30
	if word, rest, _ := s.headline(); word != "MOVE" || rest[0] != "30° right, from the last hold" {
		t.Errorf("%s %q", word, rest)
	}
}

// Somebody who starts in mid-pass was sent to no hold: like the voice, the screen
// says the first way from straight ahead, and the next one from the hold that it
// led to. The bursts are at -113 and -83 s; the facing is 150°.
func TestFirstWayInMidPass(t *testing.T) {
	voice := new(listener)
	play(t, spoken(stories["move"], voice), 80, 24, func(p *player) {
		p.want("MOVE  50° right, two and a half fists up, from straight ahead")
		if all := voice.texts(); len(all) != 1 || !strings.Contains(all[0].text, "right of ahead") {
			t.Errorf("said %+v", all)
		}
		p.until(-105 * time.Second)
		p.want("MOVE  10° left, half a fist up, from the last hold")
		if all := voice.texts(); !strings.HasPrefix(all[len(all)-1].text, "left ten, half a fist up") {
			t.Errorf("said %+v", all)
		}
		p.press("f", "1", "6", "0", "\r") // a new facing leaves the hand where it is
		p.want("from the last hold")
	})
}
