package aim

import (
	"testing"
	"time"

	"foreaim/track"
)

// aheadTimes are shortly before each of the pass's bursts.
func aheadTimes() (all []time.Time) {
	for n := range 18 {
		all = append(all, peakTime.Add(time.Duration(30*n-271)*time.Second))
	}
	return all
}

// While nothing is heard, the holds to come search: among them is one within half
// a beam of where the object is, for errors of one standard deviation and more
// either way. Leading alone never is.
func TestAheadCoversTheLikelyErrors(t *testing.T) {
	p := prior()
	all := belief(t, p).Ahead(aheadTimes())
	if len(all) < 16 {
		t.Fatalf("%d holds ahead, want one for each burst", len(all))
	}
	near := func(lateS, headingDeg float64, aims func(Advice) Direction) bool {
		for _, a := range all {
			look, _ := arc{peakTime, 0.062}.LookLate(track.Site{}, a.Next, lateS)
			d := aims(a)
			if look.ElevationDeg > 5 && track.SeparationDeg(look.AzimuthDeg, look.ElevationDeg, d.AzimuthDeg+headingDeg, d.ElevationDeg) < p.BeamwidthDeg/2 {
				return true
			}
		}
		return false
	}
	for _, late := range []float64{-180, -120, 0, 120, 180} {
		for _, heading := range []float64{-20, 0, 20} {
			if !near(late, heading, func(a Advice) Direction { return a.Aim }) {
				t.Errorf("no hold is near an object %v s late with north %v° off", late, heading)
			}
		}
	}
}

// What is looked at ahead is not taken as observed, and the first advice is that
// of Advise.
func TestAheadLearnsNothing(t *testing.T) {
	times := aheadTimes()
	b, c := belief(t, prior()), belief(t, prior())
	first, again, plain := b.Ahead(times)[0], b.Ahead(times)[0], c.Advise(times[0])
	for _, a := range []Advice{first, again} {
		if a.Aim != plain.Aim || a.HearProbability != plain.HearProbability || a.Learned {
			t.Errorf("ahead %+v, advised %+v", a, plain)
		}
	}
	if late := b.Ahead([]time.Time{peakTime.Add(time.Hour)}); len(late) != 1 || !late[0].Next.IsZero() {
		t.Errorf("after the pass: %+v", late)
	}
}

// Bursts that should have been heard ask for a twist of a linearly polarised
// beam, and for another later; a heard one leaves the boom as it is.
func TestTwistAfterLikelyBurstsWereMissed(t *testing.T) {
	p := prior()
	p.Objects[0].TimeSigmaS, p.HeadingSigmaDeg, p.TwistUnknown, p.MarginDB = 2, 3, true, 12
	b := belief(t, p)
	turns := []int{}
	for n, kind := range []Kind{Silent, Silent, Silent, Silent, Heard, Silent} {
		at := peakTime.Add(time.Duration(30*n-60) * time.Second)
		a := b.Advise(at.Add(-time.Second))
		turns = append(turns, a.QuarterTurns)
		b.Observe(Observation{Time: at.Add(time.Second), Kind: kind})
	}
	if turns[0] != 0 || turns[1] != 0 || turns[4] == 0 || turns[5] != turns[4] {
		t.Errorf("quarter turns advised: %v", turns)
	}
	p.TwistUnknown = false
	b = belief(t, p)
	for n := range 5 {
		at := peakTime.Add(time.Duration(30*n-60) * time.Second)
		b.Observe(Observation{Time: at.Add(time.Second), Kind: Silent, Held: &Direction{}})
		if a := b.Advise(at.Add(2 * time.Second)); a.QuarterTurns != 0 {
			t.Error("a beam that needs no twist is twisted")
		}
	}
}

func TestBrief(t *testing.T) {
	a := Advice{Explains: true, AudibleProbability: 0.9, HearProbability: 0.82, Next: peakTime,
		TimeErrorS: Estimate{Mean: -40, Sigma: 6}, HeadingErrorDeg: Estimate{Mean: -12, Sigma: 3}}
	if got := a.Brief(); got != "40 s early, north 12° left, 82 % next" {
		t.Error(got)
	}
	a.TimeErrorS.Sigma, a.HeadingErrorDeg, a.AudibleProbability = 60, Estimate{Sigma: 1}, 0.4
	if got := a.Brief(); got != "±60 s, north ok, 60 % nothing to hear, 82 % next" {
		t.Error(got)
	}
}
