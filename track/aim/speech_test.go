package aim

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"
)

// unspell reads spoken numbers back, by rules of its own: the values of the
// words are added, "hundred" multiplies what was before it.
func unspell(words string) int {
	values := map[string]int{"zero": 0, "one": 1, "two": 2, "three": 3, "four": 4, "five": 5, "six": 6, "seven": 7,
		"eight": 8, "nine": 9, "ten": 10, "eleven": 11, "twelve": 12, "thirteen": 13, "fourteen": 14, "fifteen": 15,
		"sixteen": 16, "seventeen": 17, "eighteen": 18, "nineteen": 19, "twenty": 20, "thirty": 30, "forty": 40,
		"fifty": 50, "sixty": 60, "seventy": 70, "eighty": 80, "ninety": 90, "and": 0}
	sum := 0
	for _, w := range strings.FieldsFunc(words, func(r rune) bool { return r == ' ' || r == '-' }) {
		v, ok := values[w]
		switch {
		case w == "hundred":
			sum *= 100
		case !ok:
			return -1
		default:
			sum += v
		}
	}
	return sum
}

func TestSpellCanBeReadBack(t *testing.T) {
	seen := map[string]bool{}
	for n := range 1000 {
		words := Spell(n)
		if seen[words] || unspell(words) != n {
			t.Errorf("%d: %q, read back as %d, seen before: %v", n, words, unspell(words), seen[words])
		}
		seen[words] = true
	}
	if Spell(1000) != "1000" || Spell(-1) != "-1" {
		t.Errorf("out of range: %q, %q", Spell(1000), Spell(-1))
	}
}

func TestStepSpeech(t *testing.T) {
	for _, c := range []struct {
		from, to Direction
		want     string
	}{
		{Direction{100, 20}, Direction{120, 25}, "right twenty, half a fist up"},
		{Direction{10, 32}, Direction{330, 20}, "left forty, one fist down"},
		{Direction{0, 0}, Direction{180, 26}, "right one hundred and eighty, two and a half fists up"},
		{Direction{90, 40}, Direction{92, 42}, "stay"},
		{Direction{90, 60}, Direction{50, 84}, "two and a half fists up to straight up, top of the boom towards north-east"},
		{Direction{50, 84}, Direction{230, 55}, "three fists down towards south-west"},
		{Direction{50, 88}, Direction{200, 89.5}, "a little up to straight up"},
	} {
		if got := StepSpeech(c.from, c.to, FistDeg); got != c.want {
			t.Errorf("from %v to %v: %q, want %q", c.from, c.to, got, c.want)
		}
	}
}

func TestPlaceSpeech(t *testing.T) {
	for _, c := range []struct {
		d      Direction
		facing Facing
		want   string
	}{
		{Direction{143, 11}, Facing{true, 163}, "azimuth one four three true, two fists left of ahead, one fist up"},
		{Direction{359.7, 2}, Facing{true, 358}, "azimuth zero zero zero true, straight ahead, on the horizon"},
		{Direction{45, 15}, Facing{true, 226}, "azimuth zero four five true, straight behind you, one and a half fists up"},
		{Direction{20, 5}, Facing{true, 350}, "azimuth zero two zero true, three fists right of ahead, half a fist up"},
		{Direction{143, -6}, Facing{}, "azimuth one four three true, south-east, half a fist below the horizon"},
		{Direction{143, 85}, Facing{true, 0}, "straight up, top of the boom towards south-east"},
	} {
		if got := c.d.PlaceSpeech(c.facing, FistDeg); got != c.want {
			t.Errorf("%v facing %v: %q, want %q", c.d, c.facing, got, c.want)
		}
	}
}

// The ear hears what the eye reads: the spoken step, its number read back, is
// the written one.
func TestSpeechIsWhatTheScreenSays(t *testing.T) {
	spoken := regexp.MustCompile(`^(right|left) ([a-z -]+?)(, |$)`)
	rapid.Check(t, func(t *rapid.T) {
		step := direction(t, "from").StepTo(direction(t, "to"))
		fist := rapid.Float64Range(7, 13).Draw(t, "fist")
		got := spoken.ReplaceAllStringFunc(step.Speech(fist), func(s string) string {
			m := spoken.FindStringSubmatch(s)
			return fmt.Sprintf("%d° %s%s", unspell(m[2]), m[1], m[3])
		})
		if want := step.Words(fist); got != want {
			t.Fatalf("%v is spoken %q, written %q", step, step.Speech(fist), want)
		}
	})
}

func TestWaitSpeech(t *testing.T) {
	for s, want := range map[float64]string{
		-1: "zero", 0: "zero", 7.2: "eight", 8: "eight", 98.5: "ninety-nine", 100: "one minute forty",
		120: "two minutes", 135: "two minutes ten", 61: "sixty-one", 725: "twelve minutes", 7300: "two hours",
	} {
		if got := waitSpeech(time.Duration(s * float64(time.Second))); got != want {
			t.Errorf("%g s: %q, want %q", s, got, want)
		}
	}
}

// What espeak-ng 1.51 -s 160 wrote, in seconds.
func TestSpeakingTime(t *testing.T) {
	for text, want := range map[string]float64{
		"hold": 0.81, "burst in eight": 1.10, "right twenty, half a fist up": 2.36,
		"right twenty, half a fist up; burst in eight":                                           3.41,
		"left one hundred and eighty, two and a half fists down; burst in twenty-three":          5.36,
		"rise in two minutes: azimuth one four three true, two fists left of ahead, one fist up": 6.03,
	} {
		if got := SpeakingTime(text).Seconds(); math.Abs(got-want) > 0.3 {
			t.Errorf("%q: %g s, want %g s", text, got, want)
		}
	}
	if a, b := SpeakingTime("burst in 20"), SpeakingTime("burst in twenty"); (a - b).Abs() > time.Second/2 {
		t.Errorf("digits take %v, words %v", a, b)
	}
}

func TestSpeechHasNoDigits(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		from, to := direction(t, "from"), direction(t, "to")
		for _, s := range []string{StepSpeech(from, to, FistDeg), to.PlaceSpeech(Facing{true, from.AzimuthDeg}, FistDeg)} {
			if strings.ContainsAny(s, "0123456789°") {
				t.Fatal(strconv.Quote(s))
			}
		}
	})
}
