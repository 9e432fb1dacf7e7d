package outing

import (
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"pgregory.net/rapid"
)

func TestNotListening(t *testing.T) {
	for _, c := range []struct {
		name       string
		stop, back string
		want       string // at 12:01:40, after three bursts
	}{
		{"during the second", "12:00:45", "12:01:15", "1 silent, not_listening, 2 not_listening, 3 silent"},
		{"only before it", "12:00:45", "12:00:55", "1 silent, not_listening, 2 silent, 3 silent"},
		{"ends in it", "12:00:45", "12:01:00.5", "1 silent, not_listening, 2 not_listening, 3 silent"},
		{"pressed just after it", "12:01:02.5", "12:01:20", "1 silent, not_listening, 2 not_listening, 3 silent"},
		{"pressed when it was silent", "12:01:04", "12:01:20", "1 silent, 2 silent, not_listening, 3 silent"},
		{"and on", "12:00:45", "12:05:00", "1 silent, not_listening, 2 not_listening, 3 not_listening"},
	} {
		t.Run(c.name, func(t *testing.T) {
			l := listen()
			l.to(at(c.stop))
			if got := l.keep(l.StopListening(l.now, Held{})); len(got) != 1 || l.Listening() {
				t.Fatalf("%+v", got)
			}
			if got := l.StopListening(l.now, Held{}); got != nil {
				t.Errorf("a second time gave %+v", got)
			}
			if back := at(c.back); back.Before(at("12:01:40")) {
				l.to(back)
				if got := l.keep(l.Listen(back)); len(got) != 1 || !got[0].Until.Equal(back) || !l.Listening() {
					t.Fatalf("%+v", got)
				}
				if got := l.Listen(back); got != nil {
					t.Errorf("a second time gave %+v", got)
				}
			}
			l.to(at("12:01:40"))
			if got := told(l.Marks); got != c.want {
				t.Errorf("got %q, want %q", got, c.want)
			}
		})
	}
}

// Who hears something listens.
func TestHearingIsListening(t *testing.T) {
	l := listen()
	l.to(at("12:00:45"))
	l.keep(l.StopListening(l.now, Held{}))
	changed := l.hear("12:01:01.8")
	if len(changed) != 2 || changed[0].Until != changed[1].At || !l.Listening() {
		t.Errorf("%+v, want listening again", changed)
	}
	l.to(at("12:01:40"))
	if got := told(l.Marks); got != "1 silent, not_listening, 2 heard, 3 silent" {
		t.Errorf("%q", got)
	}
}

// No key can be taken while the computer sleeps or the program isn't running:
// silence then says nothing, and the first Tick in mid-pass says nothing of
// what was before.
func TestGaps(t *testing.T) {
	l := listen()
	l.to(at("12:00:50"))
	l.now = at("12:01:10")
	l.to(at("12:01:40"))
	if got := told(l.Marks); got != "1 silent, 2 not_listening, 3 silent" {
		t.Errorf("slept through the second: %q", got)
	}

	late := &listener{Marks: NewMarks(DefaultEar(), 0), now: at("12:01:00.5")}
	late.Expect(late.now, everyThirty())
	late.to(at("12:01:40"))
	if got := told(late.Marks); got != "3 silent" {
		t.Errorf("begun in the second: %q", got)
	}
	early := &listener{Marks: NewMarks(DefaultEar(), 0), now: at("12:01:00.5")}
	early.Expect(early.now, everyThirty())
	early.hear("12:01:01.8")
	if got := told(early.Marks); got != "2 heard" {
		t.Errorf("begun and heard in the second: %q", got)
	}

	restored := &listener{Marks: NewMarks(DefaultEar(), 0), now: at("12:02:10")}
	if err := restored.Restore(l.record, at("12:01:40")); err != nil {
		t.Fatal(err)
	}
	restored.Expect(restored.now, everyThirty())
	restored.to(at("12:02:40"))
	if got := told(restored.Marks); got != "1 silent, 2 not_listening, 3 silent, 4 not_listening, 5 silent" {
		t.Errorf("killed and continued: %q", got)
	}
}

// The clock is set right by a first fix, forwards or back.
func TestClockSet(t *testing.T) {
	l := listen()
	l.to(at("12:01:40"))
	l.now = at("12:00:40")
	l.to(at("12:02:40"))
	if got := told(l.Marks); got != "1 silent, 2 silent, 3 silent, 4 silent, 5 silent" {
		t.Errorf("set back: %q", got)
	}
}

func TestNoise(t *testing.T) {
	l := listen()
	if l.NoiseIsUp() || l.Noise(l.now, false, Held{}) != nil {
		t.Error("noise is up, or normal was news, at the start")
	}
	for _, up := range []bool{true, false, true} {
		if got := l.keep(l.Noise(l.now, up, Held{Hold: 4})); len(got) != 1 || got[0].Held.Hold != 4 || l.NoiseIsUp() != up || l.Noise(l.now, up, Held{}) != nil {
			t.Errorf("noise up %v: %+v", up, got)
		}
	}
	if l.Undo(); l.NoiseIsUp() {
		t.Error("noise is up after undo")
	}
	if got := told(l.Marks); got != "noise_up, noise_normal" {
		t.Errorf("%q", got)
	}
}

// How often the program ticks makes no difference.
func TestTickRate(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		quick, slow := NewMarks(DefaultEye(), 0), NewMarks(DefaultEye(), 0)
		bursts := everyThirty()
		quick.Expect(at("12:00:00"), bursts)
		slow.Expect(at("12:00:00"), bursts)
		press := rapid.SliceOfN(rapid.IntRange(0, 3400), 0, 20).Draw(t, "presses") // tenths of a second
		stop, back := rapid.IntRange(0, 3400).Draw(t, "stop"), rapid.IntRange(0, 3400).Draw(t, "back")
		for i := range 3500 {
			now := at("12:00:00").Add(time.Duration(i) * 100 * time.Millisecond)
			quick.Tick(now)
			if i%28 == 0 {
				slow.Tick(now)
			}
			for _, m := range []*Marks{quick, slow} {
				for _, p := range press {
					if p == i {
						m.Hear(now, Held{})
					}
				}
				if i == stop {
					m.StopListening(now, Held{})
				}
				if i == back {
					m.Listen(now)
				}
			}
		}
		if diff := cmp.Diff(quick.All(), slow.All(), cmpopts.IgnoreFields(Mark{}, "ID")); diff != "" {
			t.Fatal(diff)
		}
		settled := 0
		for _, k := range quick.All() {
			if k.Origin.Expected {
				settled++
			}
		}
		if settled != len(bursts) {
			t.Fatalf("%d of %d bursts have a mark: %s", settled, len(bursts), told(quick))
		}
	})
}

func BenchmarkTick(b *testing.B) {
	m := NewMarks(DefaultEar(), 0)
	m.Expect(at("12:00:00"), everyThirty())
	now := at("12:00:00")
	for b.Loop() {
		now = now.Add(100 * time.Millisecond)
		m.Tick(now)
	}
}
