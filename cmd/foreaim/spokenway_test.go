package main

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"foreaim/track"
	"foreaim/track/aim"
)

// way is what a text tells a hand to do, read as a person would: degrees, right
// and up positive; 0 where it says nothing.
type way struct {
	fromAhead bool // a place against the facing, not a step from the last hold
	azimuth   int  // said with it; -1: none
	turn, up  float64
}

var (
	turnSpoken = regexp.MustCompile(`\b(right|left) ([a-z-]+(?: hundred(?: and [a-z-]+)?)?)`)
	turnShown  = regexp.MustCompile(`(\d+)(?:°| deg) (right|left)`)
	sideSaid   = regexp.MustCompile(`([a-z ]*fists?) (right|left) of ahead`)
	upSaid     = regexp.MustCompile(`([a-z ]*fists?) (up|down|below the horizon)`)
	azimuthOf  = regexp.MustCompile(`azimuth ([a-z]+ [a-z]+ [a-z]+) true`)
)

// spelt are the numbers, and fistsSaid the angles in degrees, that words say.
func spelt() map[string]float64 {
	m := map[string]float64{}
	for n := range 1000 {
		m[aim.Spell(n)] = float64(n)
	}
	return m
}

func fistsSaid() map[string]float64 {
	m := map[string]float64{}
	for halves := 1; halves <= 36; halves++ {
		m[aim.Fists(float64(halves)*5, 10)] = float64(halves) * 5
	}
	return m
}

// signed gives an angle its side.
func signed(deg float64, side string) float64 {
	if side == "left" || side == "down" || side == "below the horizon" {
		return -deg
	}
	return deg
}

// spokenWay reads an instruction to move; false where a text is none.
func spokenWay(text string) (way, bool) {
	if _, after, found := strings.Cut(text, ": "); found { // "rise in nine: …", "correction: …"
		text = after
	}
	text, _, _ = strings.Cut(text, ";")
	w := way{azimuth: -1}
	numbers := spelt()
	if a := azimuthOf.FindStringSubmatch(text); a != nil {
		w.fromAhead, w.azimuth = true, 0
		for _, digit := range strings.Fields(a[1]) {
			w.azimuth = w.azimuth*10 + int(numbers[digit])
		}
		if s := sideSaid.FindStringSubmatch(text); s != nil {
			w.turn = signed(fistsSaid()[strings.TrimSpace(s[1])], s[2])
		}
	} else if s := turnSpoken.FindStringSubmatch(text); s != nil {
		w.turn = signed(numbers[s[2]], s[1])
	}
	up := upSaid.FindStringSubmatch(text)
	if up != nil {
		w.up = signed(fistsSaid()[strings.TrimSpace(up[1])], up[2])
	}
	return w, w.fromAhead || w.turn != 0 || up != nil || strings.TrimSpace(text) == "stay"
}

// shownWay reads the line that says where to go; false where the screen has
// none.
func shownWay(screen string) (way, bool) {
	for line := range strings.Lines(screen) {
		word, text, _ := strings.Cut(strings.TrimSpace(line), "  ")
		w := way{azimuth: -1}
		if word == "STAY" {
			return w, true
		}
		if word != "MOVE" || !strings.Contains(text, ", from ") {
			continue
		}
		w.fromAhead = strings.Contains(text, "from straight ahead")
		if s := turnShown.FindStringSubmatch(text); s != nil {
			deg, _ := strconv.ParseFloat(s[1], 64)
			w.turn = signed(deg, s[2])
		}
		if up := upSaid.FindStringSubmatch(text); up != nil {
			w.up = signed(fistsSaid()[strings.TrimSpace(up[1])], up[2])
		}
		return w, true
	}
	return way{}, false
}

// off says what is wrong with a way against the directions from where and to
// where it leads; "" when it is right to the rounding: half of 5° or of half a
// fist, and a degree for what clock, fix and elements in a file leave open.
func (w way) off(last *track.Look, facingDeg float64, to track.Look) string {
	const within = 2.5 + 1
	turn, up := track.TurnDeg(facingDeg, to.AzimuthDeg), to.ElevationDeg
	if !w.fromAhead {
		if last == nil {
			return "a step from a last hold, and there is none"
		}
		turn, up = track.TurnDeg(last.AzimuthDeg, to.AzimuthDeg), to.ElevationDeg-last.ElevationDeg
	}
	if math.Abs(track.TurnDeg(turn, w.turn)) > within || math.Abs(up-w.up) > within {
		return fmt.Sprintf("it is %+.1f° to the right and %+.1f° up, not %+.0f° and %+.0f°", turn, up, w.turn, w.up)
	}
	if w.azimuth >= 0 && math.Abs(track.TurnDeg(float64(w.azimuth), to.AzimuthDeg)) > 1.5 {
		return fmt.Sprintf("the azimuth is %.1f°, not %d°", to.AzimuthDeg, w.azimuth)
	}
	return ""
}

// The reading of instructions, against sentences written out by hand.
func TestSpokenAndShownWays(t *testing.T) {
	for text, want := range map[string]way{
		"right twenty, half a fist up; burst in eight":         {azimuth: -1, turn: 20, up: 5},
		"left one hundred and five, one and a half fists down": {azimuth: -1, turn: -105, up: -15},
		"stay": {azimuth: -1},
		"correction: from the last hold left five":                                              {azimuth: -1, turn: -5},
		"two fists down; burst in five":                                                         {azimuth: -1, up: -20},
		"rise in nine: azimuth zero four five true, two fists left of ahead, on the horizon":    {fromAhead: true, azimuth: 45, turn: -20},
		"azimuth one four three true, straight ahead, one fist up; burst in one minute fifteen": {fromAhead: true, azimuth: 143, up: 10},
	} {
		if got, ok := spokenWay(text); !ok || got != want {
			t.Errorf("%q: %+v %v, want %+v", text, got, ok, want)
		}
	}
	for _, text := range []string{"burst in eight", "hold; burst in four", "hold", "burst", "no more bursts", "risen; burst in twenty", "Recorder running?"} {
		if got, ok := spokenWay(text); ok {
			t.Errorf("%q is taken for an instruction: %+v", text, got)
		}
	}
	for screen, want := range map[string]way{
		"x\n MOVE  45° right, from straight ahead\n y":                {fromAhead: true, azimuth: -1, turn: 45},
		" MOVE  5° left, one and a half fists up, from the last hold": {azimuth: -1, turn: -5, up: 15},
		" STAY  where you are, for the next burst":                    {azimuth: -1},
	} {
		if got, ok := shownWay(screen); !ok || got != want {
			t.Errorf("%q: %+v %v, want %+v", screen, got, ok, want)
		}
	}
}
