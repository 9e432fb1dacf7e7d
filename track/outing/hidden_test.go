package outing

import "testing"

// The second of three bursts is behind trees: silence says nothing of it, but
// it may be heard through them.
func TestHiddenBurst(t *testing.T) {
	for _, heard := range []bool{false, true} {
		l := listen()
		bursts := everyThirty()
		bursts[1].Hidden = true
		l.Expect(l.now, bursts)
		want := "1 silent, 3 silent"
		if heard {
			l.to(at("12:01:01.8"))
			l.hear("12:01:01.8")
			want = "1 silent, 2 heard, 3 silent"
		}
		l.to(at("12:01:40"))
		if got := told(l.Marks); got != want {
			t.Errorf("got %q, want %q", got, want)
		}
	}
}

// The marks of two satellites in one record have IDs of their own.
func TestCountAfter(t *testing.T) {
	a, b := NewMarks(DefaultEar(), 0), NewMarks(DefaultEar(), 0)
	first := a.Noise(at("12:00:00"), true, Held{})
	b.CountAfter(a.Newest())
	second := b.Noise(at("12:00:10"), true, Held{})
	a.CountAfter(b.Newest())
	third := a.Noise(at("12:00:20"), false, Held{})
	if first[0].ID != 1 || second[0].ID != 2 || third[len(third)-1].ID != 3 {
		t.Errorf("IDs %d, %d, %d, want 1, 2, 3", first[0].ID, second[0].ID, third[len(third)-1].ID)
	}
}
