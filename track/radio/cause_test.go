package radio

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"foreaim/track/radio/internal/invent"
)

// diagnosed judges a made-up case from its files and answers alone.
func diagnosed(t *testing.T, c invent.Case) Survey {
	t.Helper()
	a := Asked{
		Evidence: Evidence{Noise: c.Noise, TurnAway: c.TurnAway, Weaken: c.Weaken, TooMuch: c.TooMuch, Carried: c.Carried},
		Link:     Link{FrequencyHz: c.WantedMHz * 1e6, Mode: Mode{BandwidthHz: 15000}},
	}
	if c.Survey != "" {
		var err error
		if a.Seen, err = ReadSeen(strings.NewReader(c.Survey), "survey.csv"); err != nil {
			t.Fatal(err)
		}
	}
	s, err := NewSurvey(a)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// Of made-up outings (package invent, which knows physics and nothing of how it
// is judged) the cause is named right in nine of ten of 200 where it is clear
// from what was looked at; of all, clear or not, it is hardly ever named wrong.
func TestCauseBlind(t *testing.T) {
	truths := map[string]Cause{
		invent.Outside: OutsideNoise, invent.Saturation: Saturation, invent.Own: OwnNoise, invent.Product: MixedProduct, invent.Nothing: NothingWrong,
	}
	r := rand.New(rand.NewPCG(2, 26))
	clear, right, all, wrong, silent := 0, 0, 0, 0, 0
	table := map[string]int{}
	for clear < 200 {
		c := invent.NewCase(r)
		d := diagnosed(t, c).Cause
		all++
		verdict := "right"
		switch d.Cause {
		case truths[c.Cause]:
		case "":
			verdict = "can't tell"
			silent++
			if !strings.HasPrefix(d.Do, "Can't tell; do this next. ") && !strings.HasPrefix(d.Do, "All that") {
				t.Errorf("nothing to do next: %+v", d)
			}
		default:
			verdict = "wrong"
			wrong++
			c.Survey = fmt.Sprint(len(c.Survey), " bytes")
			t.Logf("%+v\n%+v", c, d)
		}
		if c.Clear {
			clear++
			if verdict == "right" {
				right++
			}
		}
		table[fmt.Sprintf("%s, clear %v: %s", c.Cause, c.Clear, verdict)]++
	}
	t.Logf("clear: %d of %d right; all: %d, of which %d wrong, %d can't be told", right, clear, all, wrong, silent)
	for k, n := range table {
		t.Logf("%s: %d", k, n)
	}
	if right < 180 {
		t.Errorf("%d of %d right", right, clear)
	}
	if wrong > all*3/100 {
		t.Errorf("%d of %d wrong", wrong, all)
	}
}

// The likelihoods of what can be seen add up to 1 for each cause.
func TestWeightsAddUp(t *testing.T) {
	sums := map[topic][]float64{}
	for _, w := range weights {
		if len(w.likely) != len(causes) || w.words == "" {
			t.Fatalf("%+v", w)
		}
		if sums[w.topic] == nil {
			sums[w.topic] = make([]float64, len(causes))
		}
		for i, p := range w.likely {
			sums[w.topic][i] += p
		}
	}
	for topic, sum := range sums {
		for i, p := range sum {
			if math.Abs(p-1) > 1e-9 {
				t.Errorf("%s, %s: %v", topic, causes[i], p)
			}
		}
	}
	if p := weigh(nil); math.Abs(p[0]+p[1]+p[2]+p[3]+p[4]-1) > 1e-12 {
		t.Error(p)
	}
}

// Clear evidence is named, none or contradictory isn't; the test that would tell
// most comes next.
func TestDiagnose(t *testing.T) {
	real := Drop{PadDB: 10, FellDB: Range{9, 11}}
	real.judge()
	ghost := Drop{PadDB: 10, FellDB: Range{28, 31}}
	ghost.judge()
	for _, c := range []struct {
		name string
		e    Evidence
		want Cause
		next string
	}{
		{"nothing known", Evidence{}, "", "Take the sweep twice"},
		{"only noise", Evidence{Noise: "up"}, "", "Take the sweep twice"},
		{"inside", Evidence{Noise: "up", TurnAway: "no", Weaken: "no"}, OwnNoise, ""},
		{"in the beam", Evidence{Noise: "up", TurnAway: "yes", Weaken: "yes", TooMuch: "no", Floor: &real, StillStands: true, Looked: true, Stands: true}, OutsideNoise, ""},
		{"product", Evidence{Noise: "up", Floor: &ghost, Drops: []Drop{real}, Looked: true, Stands: true, Makers: []string{"2 × A - B"}}, MixedProduct, ""},
		{"all well", Evidence{Noise: "normal", TurnAway: "no", Weaken: "no", Drops: []Drop{real}, Looked: true}, NothingWrong, ""},
		{"normal noise alone proves nothing", Evidence{Noise: "normal"}, "", "Take the sweep twice"},
		{"contradiction", Evidence{Noise: "up", TurnAway: "no", Carried: "no", Floor: &ghost, Drops: []Drop{real, real}, Looked: true}, "", "Sweep a wider range"},
	} {
		d := Diagnose(c.e)
		if d.Cause != c.want || !strings.Contains(d.Do, c.next) {
			t.Errorf("%s: %+v", c.name, d)
		}
		sum := 0.0
		for i, o := range d.Odds {
			sum += o.Probability
			if i > 0 && o.Probability > d.Odds[i-1].Probability {
				t.Errorf("%s: %+v", c.name, d.Odds)
			}
		}
		if math.Abs(sum-1) > 1e-9 || d.Do == "" {
			t.Errorf("%s: %v, %q", c.name, sum, d.Do)
		}
	}
}
