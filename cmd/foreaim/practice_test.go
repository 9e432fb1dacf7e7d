package main

import (
	"context"
	"fmt"
	"math"
	"regexp"
	"strings"
	"testing"
	"time"

	"foreaim/cmd/foreaim/internal/world"
	"foreaim/track"
)

// A seed is one truth, another seed is another, and over many the errors are as
// large as is likely: within a tenth for 400 draws.
func TestPracticeDrawsTheTruth(t *testing.T) {
	draw := func(seed uint64) (lateS, headingDeg, sigmaS float64) {
		w, err := world.New(context.Background(), mustTime(testNow))
		if err != nil {
			t.Fatal(err)
		}
		p := practice{on: true, seed: seed}
		if err := p.begin(w, mustTime(testNow)); err != nil {
			t.Fatal(err)
		}
		l, err := track.LikelyError(w.Satellites[0].Set, nil, w.Start.Add(5*time.Minute))
		if err != nil {
			t.Fatal(err)
		}
		return w.Satellites[0].LateS, track.TurnDeg(w.BelievedDeg, w.FacingDeg), l.SigmaS
	}
	late, heading, _ := draw(3)
	if again, too, _ := draw(3); again != late || too != heading {
		t.Errorf("one seed gives %g s, %g° and %g s, %g°", late, heading, again, too)
	}
	sumLate, sumHeading := 0.0, 0.0
	const n = 400
	for seed := range uint64(n) {
		late, heading, sigma := draw(seed + 1)
		sumLate += late * late / sigma / sigma
		sumHeading += heading * heading / 14 / 14
	}
	for what, sum := range map[string]float64{"time": sumLate, "north": sumHeading} {
		if rms := math.Sqrt(sum / n); math.Abs(rms-1) > 0.1 {
			t.Errorf("errors of %s are %.2f times as large as is likely", what, rms)
		}
	}
}

func TestPracticeScore(t *testing.T) {
	w := &world.World{FacingDeg: 100, BelievedDeg: 112, Satellites: []world.Satellite{{LateS: -31.6}}}
	w.Satellites[0].Set.Name = "EMBERLING"
	got := practice{true, 77}.score(&world.Ear{World: w, Score: world.Score{Marked: 1, Led: 4, Known: 15}})
	want := `You heard and marked 1 burst of the 15 that could be heard by knowing the truth.
Following the elements and your north alone one hears 4.
The truth: EMBERLING was 32 s early, and your north 12° left of true.
Again: foreaim demo --practise --seed 77
`
	if got != want {
		t.Errorf("%s\nwant\n%s", got, want)
	}
}

func TestSeedIsForPractising(t *testing.T) {
	status, _, stderr := runHere(t, context.Background(), "demo", "--seed", "4")
	if status != statusWrong || !strings.Contains(stderr, "--practise") {
		t.Errorf("status %d: %s", status, stderr)
	}
}

var (
	boomAcross = regexp.MustCompile(`boom (?:on the aim|(?:(\d+)° (left|right))?(?: ?(\d+)° (up|down))?)`)
	scored     = regexp.MustCompile(`marked (\d+) bursts? of the (\d+) that`)
	tallied    = regexp.MustCompile(`(\d+) heard (\d+) silent`)
)

// A whole practice pass in a real terminal, by somebody who does nothing but turn
// the boom as the screen says and mark what sounds. What is believed changes with a
// mark, and the score at the end counts what the screen does.
func TestPracticePass(t *testing.T) {
	t.Parallel()
	term := inTerminal(t, 120, 30, "demo", "--practise", "--seed", "5", "--speed", "28", "--silent")
	term.await("boom ", "corrected ±")
	var before, after string // a mark
	marks := 0
	for end := time.Now().Add(30 * time.Second); time.Now().Before(end); time.Sleep(30 * time.Millisecond) {
		screen := term.screen()
		if strings.Contains(screen, "NEXT PASS") {
			break
		}
		if b := believedIn(screen); marks == 1 && after == "" && strings.Contains(screen, "1 heard") && b != "" && b != believedIn(before) {
			after = screen
		}
		if strings.Contains(screen, "demo: a ") {
			term.press("Space")
			if marks++; marks == 1 {
				before = screen
			}
			for deadline := time.Now().Add(time.Second); strings.Contains(term.screen(), "demo: a ") && time.Now().Before(deadline); {
				time.Sleep(20 * time.Millisecond)
			}
			continue
		}
		m := boomAcross.FindStringSubmatch(screen)
		if m == nil {
			continue
		}
		var keys []string
		for i, side := range map[int]map[string]string{1: {"left": "Left", "right": "Right"}, 3: {"up": "Up", "down": "Down"}} {
			var deg int
			if _, err := fmt.Sscan(m[i], &deg); err == nil {
				for range (deg + 2) / 5 {
					keys = append(keys, side[m[i+1]])
				}
			}
		}
		if len(keys) > 0 {
			term.press(keys...)
			time.Sleep(120 * time.Millisecond) // until it is drawn
		}
	}
	last := term.screen()
	term.press("q")
	if status := term.ended(); status != "0" {
		t.Errorf("exit status %s", status)
	}
	said := term.await("You heard and marked", "The truth: EMBERLING was", "--practise --seed 5")
	t.Logf("before a mark:\n%s\nafter it:\n%s\nat the end:\n%s\n%s", before, after, last, said)
	score := claim(t, said, scored)
	heard := claim(t, last, tallied)
	if score[0] < 4 || score[0] > score[1] || heard[0] > score[0] {
		t.Errorf("%v marked of %v; the screen counts %v", score[0], score[1], heard[0])
	}
	if before == "" || after == "" {
		t.Errorf("a mark changes nothing that is believed:\n%s\n%s", before, after)
	}
}

// believedIn returns the line that tells what is believed.
func believedIn(screen string) string {
	for line := range strings.Lines(screen) {
		if strings.Contains(line, "to hear the next") {
			return line
		}
	}
	return ""
}
