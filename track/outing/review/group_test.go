package review_test

import (
	"math"
	"strings"
	"testing"

	"foreaim/track"
	"foreaim/track/elements"
	"foreaim/track/outing"
	"foreaim/track/outing/review"
)

// In invented outings with the objects of a launch as a group another one sends, or
// that of the elements: the one that sent comes first, where enough was heard. The
// others come 50 to 250 s before or after it on the same orbit.
func TestGroupTellsObjects(t *testing.T) {
	const fewest = 4 // bursts heard
	var right, of [2]int
	for n := uint64(0); of[0] < 12 || of[1] < 12; n++ {
		w := healthy(t, int(n%5))
		for range n { // others each time
			w.rng.Uint64()
		}
		var group []elements.Set
		for i, name := range []string{"TIDELARK", "FENWREN"} {
			set := w.set
			set.Name, set.CatalogueNumber = name, 99072+i
			ahead := w.either(50, 250)
			set.AnomalyDeg = track.Wrap360(set.AnomalyDeg + ahead*set.MeanMotionRevPerDay*360/86400)
			group = append(group, set)
		}
		want := "EMBERLING"
		which := int(n % 2)
		if which == 1 {
			sender, err := track.NewOrbit(group[0])
			if err != nil {
				t.Fatal(err)
			}
			w.sender, want = sender, group[0].Name
		}
		log := w.log(t)
		if w.heard < fewest {
			continue
		}
		p := review.Of([]outing.Log{log}, review.Settings{Group: group}).Passes[0]
		of[which]++
		sum := 0.0
		for _, o := range p.Objects {
			sum += o.Probability
		}
		if len(p.Objects) == 0 || sum > 1+1e-6 || math.Abs(p.Objects[0].Probability-p.Estimates.ObjectProbability) > 1e-9 && p.Objects[0].Name == "EMBERLING" {
			t.Errorf("objects %+v, that of the elements %.2f", p.Objects, p.Estimates.ObjectProbability)
			continue
		}
		if p.Objects[0].Name == want {
			right[which]++
		} else {
			t.Logf("%s was heard, %d bursts: %+v", want, w.heard, p.Objects)
		}
		if told := strings.Contains(strings.Join(p.Errors(), " "), p.Objects[0].Name+" of the same group"); told != (p.Objects[0].Name != "EMBERLING") {
			t.Errorf("of %+v it says %q", p.Objects, p.Errors())
		}
	}
	t.Logf("the object of the elements was heard: right in %d of %d; another: in %d of %d", right[0], of[0], right[1], of[1])
	if right[0] < of[0]-1 || right[1] < of[1]-2 {
		t.Error("the object that was heard comes first too seldom")
	}
}
