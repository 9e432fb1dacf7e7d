package north

import (
	"slices"
	"strings"
	"testing"
	"time"
	"unicode"
	"unicode/utf8"
)

func TestFacingLines(t *testing.T) {
	church := says(ByLandmark, 101, 1.5)
	church.Name = "church"
	for name, c := range map[string]struct {
		refs []Reference
		want []string
	}{
		"one": {[]Reference{says(BySun, 100, 2)}, []string{
			"facing 100° ±2° by sun", "take a second one of another kind to check it"}},
		"two agree": {[]Reference{says(BySun, 100, 2), church}, []string{"facing 101° ±1° by sun, church"}},
		"two differ": {[]Reference{says(ByCompass, 124, 5), says(BySun, 100, 2)}, []string{
			"facing 112° ±13° by compass, sun", "compass and sun differ by 24°",
			"iron nearby? a car, fence, the preamplifier's magnet",
			"take one more of another kind to see which is right"}},
		"odd one": {[]Reference{says(ByCompass, 130, 5), says(BySun, 100, 2), church}, []string{
			"facing 101° ±1° by sun, church", "left out: compass, 29° off the others",
			"iron nearby? a car, fence, the preamplifier's magnet"}},
		"just below north": {[]Reference{says(BySun, 359.8, 2), says(ByWalk, 359.8, 2)}, []string{"facing 000° ±1° by sun, walk"}},
		"wrong star and church": {[]Reference{church, says(ByPoleStar, 61, 2)}, []string{
			"facing 081° ±20° by church, pole star", "church and pole star differ by 40°",
			"is it the right star?", "take one more of another kind to see which is right"}},
	} {
		if got := mustCombine(t, c.refs...).Lines(); !slices.Equal(got, c.want) {
			t.Errorf("%s:\n%q, want\n%q", name, got, c.want)
		}
	}
}

func TestOtherLines(t *testing.T) {
	sun := says(BySun, 212.4, 2)
	for _, c := range []struct{ got, want string }{
		{sun.Line(noon().Add(12*time.Minute + 50*time.Second)), "sun: facing 212° ±2°, 12 min ago"},
		{sun.Line(noon().Add(3 * time.Hour)), "sun: facing 212° ±2°, 3 h ago"},
		{sun.Line(noon().Add(50 * time.Hour)), "sun: facing 212° ±2°, 2 days ago"},
		{sun.Line(noon()), "sun: facing 212° ±2°, just now"},
		{Walk{FurtherM: 40}.Line(), "walk 40 m further, straight on"},
		{Walk{FurtherM: 40, LengthM: 50, BearingDeg: 7.2, SigmaDeg: 5}.Line(), "walk 40 m further, straight on (now 007° ±5°)"},
		{Walk{LengthM: 118, BearingDeg: 34.2, SigmaDeg: 2.1, Enough: true}.Line(), "walked 118 m towards 034° ±2°"},
		{Middle{Deg: 348, SigmaDeg: 4, WidthDeg: 40, Turns: 1}.Line(), "signal 12° left of ahead, ±4°, from 1 turn"},
		{Middle{Deg: 12, SigmaDeg: 4, WidthDeg: 40, Turns: 2}.Line(), "signal 12° right of ahead, ±4°, from 2 turns"},
		{Middle{Deg: 359.9, SigmaDeg: 4, WidthDeg: 40, Turns: 2}.Line(), "signal straight ahead, ±4°, from 2 turns"},
		{Middle{ApartDeg: 30, WidthDeg: 40}.Line(), "the turns are 30° apart: a reflection? turn again"},
	} {
		if c.got != c.want {
			t.Errorf("%q, want %q", c.got, c.want)
		}
	}
}

// Whatever the names, lines hold nothing that a terminal obeys, and no name makes
// them long.
func FuzzLines(f *testing.F) {
	f.Add("church", "sun", 100.0, 130.0, 2.0)
	f.Add("\x1b[2J\x9b", strings.Repeat("longname", 30), 0.0, 359.9, 100.0)
	f.Add("\u202e\xff\n", "", 5.0, 5.0, 1e-9)
	f.Fuzz(func(t *testing.T, a, b string, facingA, facingB, sigma float64) {
		one, err := Refer(ByLandmark, a, facingA, 0, sigma, noon())
		if err != nil {
			return
		}
		two := Reference{Kind: ByWord, Name: b, FacingDeg: facingB, SigmaDeg: sigma}
		all, err := Combine([]Reference{one, two, says(BySun, 10, 2)}, noon())
		if err != nil {
			return
		}
		lines := append(all.Lines(), one.Line(noon()), two.Line(noon()), one.Line(noon().AddDate(500, 0, 0)))
		for _, line := range lines {
			if line == "" || utf8.RuneCountInString(line) > 100 || !utf8.ValidString(line) || strings.ContainsFunc(line, notPrintable) {
				t.Fatalf("%q", line)
			}
		}
	})
}

func notPrintable(r rune) bool { return !unicode.IsPrint(r) }
