package outing

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"pgregory.net/rapid"
)

// everyThirty is ten bursts of a second, from 12:00:30 on every half minute,
// numbered from 1. By ear their marks are expected 1.8 s after the start and
// believed from 0.2 s to 2.7 s after it.
func everyThirty() []Burst {
	bursts := make([]Burst, 10)
	for i := range bursts {
		bursts[i] = Burst{
			Number: i + 1,
			Start:  at("12:00:30").Add(time.Duration(i) * 30 * time.Second),
			Length: time.Second,
			Held:   Held{Hold: i + 1, Known: true, AzimuthDeg: 100 + 10*float64(i), ElevationDeg: 20},
		}
	}
	return bursts
}

// listener is a model with the program's ticks between its events.
type listener struct {
	*Marks
	now    time.Time
	record []Mark
}

func listen() *listener {
	l := &listener{Marks: NewMarks(DefaultEar(), time.Second)}
	l.Expect(at("12:00:00"), everyThirty())
	l.now = at("12:00:00")
	l.keep(l.Tick(l.now))
	return l
}

func (l *listener) keep(marks []Mark) []Mark {
	l.record = append(l.record, marks...)
	return marks
}

// to ticks ten times a second up to a time.
func (l *listener) to(t time.Time) *listener {
	for l.now.Before(t) {
		l.now = l.now.Add(100 * time.Millisecond)
		l.keep(l.Tick(l.now))
	}
	return l
}

func (l *listener) hear(clock string) []Mark {
	l.to(at(clock))
	return l.keep(l.Hear(at(clock), Held{Hold: 99}))
}

// told is what stands, in short: the burst's number or none, kind and strength.
func told(m *Marks) string {
	var words []string
	for _, k := range m.All() {
		word := string(k.Kind)
		if k.Origin.Expected {
			word = fmt.Sprintf("%d %s", k.Origin.Number, word)
		}
		if k.Strength != "" {
			word += " " + string(k.Strength)
		}
		words = append(words, word)
	}
	return strings.Join(words, ", ")
}

func TestHeardAndSilent(t *testing.T) {
	for _, c := range []struct {
		name    string
		presses []string
		until   string
		want    string
	}{
		{"nothing pressed", nil, "12:01:05", "1 silent, 2 silent"},
		{"not yet silent", nil, "12:00:32.7", ""},
		{"silent", nil, "12:00:32.8", "1 silent"},
		{"heard", []string{"12:00:31.8"}, "12:00:40", "1 heard"},
		{"while it sounds", []string{"12:00:30.2"}, "12:00:40", "1 heard"},
		{"before it can be", []string{"12:00:30.1"}, "12:00:40", "heard, 1 silent"},
		{"late", []string{"12:00:37"}, "12:00:40", "1 heard"},
		{"too late", []string{"12:00:38"}, "12:00:40", "1 silent, heard"},
		{"between bursts", []string{"12:00:45"}, "12:01:05", "1 silent, heard, 2 silent"},
		{"before the first", []string{"12:00:10"}, "12:00:20", "heard"},
		{"twice", []string{"12:00:31.8", "12:00:33"}, "12:00:40", "1 heard strong"},
		{"three times", []string{"12:00:31.8", "12:00:33", "12:00:36.9"}, "12:00:40", "1 heard weak"},
		{"four times", []string{"12:00:31.8", "12:00:32.2", "12:00:32.6", "12:00:33"}, "12:00:40", "1 heard good"},
		{"five times", []string{"12:00:31.8", "12:00:32.2", "12:00:32.6", "12:00:33", "12:00:33.4"}, "12:00:40", "1 heard strong"},
		{"long after", []string{"12:00:31.8", "12:00:36"}, "12:00:40", "1 heard, heard"},
		{"a bouncing contact", []string{"12:00:31.8", "12:00:31.83"}, "12:00:40", "1 heard"},
		{"a key kept down", []string{"12:00:31.8", "12:00:32.3", "12:00:32.34", "12:00:32.38", "12:00:32.42"}, "12:00:40", "1 heard"},
		{"kept down on the second", []string{"12:00:31.8", "12:00:33", "12:00:33.5", "12:00:33.54"}, "12:00:40", "1 heard strong"},
		{"each burst", []string{"12:00:31.5", "12:01:01.9", "12:01:32"}, "12:01:50", "1 heard, 2 heard, 3 heard"},
	} {
		t.Run(c.name, func(t *testing.T) {
			l := listen()
			for _, p := range c.presses {
				l.hear(p)
			}
			l.to(at(c.until))
			if got := told(l.Marks); got != c.want {
				t.Errorf("got %q, want %q", got, c.want)
			}
		})
	}
}

// A mark carries its burst, when that began, and the hold it was made in.
func TestOrigin(t *testing.T) {
	l := listen()
	got := l.hear("12:00:31.6")
	want := Mark{ID: 1, At: at("12:00:31.6"), Kind: Heard, Held: everyThirty()[0].Held, Origin: Origin{
		Expected: true, Number: 1, Start: at("12:00:30"),
		LikelyStart: at("12:00:29.8"), UncertaintyS: 0.3, // 31.6 − 1 − 0.8 s
	}}
	if diff := cmp.Diff([]Mark{want}, got, cmpopts.EquateApprox(0, 1e-9)); diff != "" {
		t.Error(diff)
	}
	got = l.hear("12:00:45")
	want = Mark{ID: 2, At: at("12:00:45"), Kind: Heard, Held: Held{Hold: 99}, Origin: Origin{LikelyStart: at("12:00:43.2"), UncertaintyS: 0.3}}
	if diff := cmp.Diff([]Mark{want}, got, cmpopts.EquateApprox(0, 1e-9)); diff != "" {
		t.Error(diff)
	}
	if b := got[0].Burst(); !b.Equal(at("12:00:43.2")) {
		t.Errorf("burst at %s, want the likely start", b)
	}
	l.to(at("12:01:05"))
	all := l.All()
	if last := all[len(all)-1]; last.Kind != Silent || !last.Automatic || last.Held.Hold != 2 || !last.At.Equal(at("12:01:02.7")) || !last.Burst().Equal(at("12:01:00")) {
		t.Errorf("silence %+v, want at the latest time of burst 2 in hold 2", last)
	}
}

// What was silent and then heard is replaced, and comes back by undo.
func TestLateMarkReplacesSilence(t *testing.T) {
	l := listen()
	l.to(at("12:00:34"))
	changed := l.hear("12:00:35")
	if len(changed) != 2 || changed[0].Kind != Silent || changed[0].Fate != Replaced || changed[1].Kind != Heard {
		t.Fatalf("changed %+v, want the silence replaced by heard", changed)
	}
	l.keep(l.Undo())
	if got := told(l.Marks); got != "1 silent" {
		t.Errorf("after undo %q, want the silence again", got)
	}
	l.keep(l.Undo())
	l.to(at("12:00:50"))
	if got := told(l.Marks); got != "" {
		t.Errorf("after undo of the program's own %q, want nothing, and it isn't made again", got)
	}
	if len(l.Undo()) != 0 {
		t.Error("undo of nothing changed something")
	}
}

// An undone mark of a burst that wasn't silent yet leaves it to be decided.
func TestUndoThenSilence(t *testing.T) {
	l := listen()
	l.hear("12:00:31.8")
	l.to(at("12:00:40"))
	l.keep(l.Undo())
	l.to(at("12:00:41"))
	if got := told(l.Marks); got != "1 silent" {
		t.Errorf("%q, want silent", got)
	}
	l.hear("12:01:01.8")
	l.keep(l.Undo())
	if got := told(l.Marks); got != "1 silent" {
		t.Errorf("%q, want the mark of burst 2 gone", got)
	}
	if changed := l.hear("12:01:02"); len(changed) != 1 || changed[0].ID == 2 || changed[0].Strength != "" {
		t.Errorf("%+v, want a new mark: the one before is undone", changed)
	}
}

// What the operator took back of the program's is not made again, even when an
// earlier burst is decided anew.
func TestUndoneSilenceStaysUndone(t *testing.T) {
	l := listen()
	l.hear("12:00:31.8")
	l.to(at("12:01:05"))
	for _, want := range []string{"1 heard", ""} {
		l.keep(l.Undo())
		if got := told(l.Marks); got != want {
			t.Errorf("undone to %q, want %q", got, want)
		}
	}
	l.to(at("12:01:10"))
	if got := told(l.Marks); got != "1 silent" {
		t.Errorf("%q, want only burst 1 silent", got)
	}
}

// With bursts closer than the time for a second press, the better fit decides.
func TestQuickBursts(t *testing.T) {
	m := NewMarks(DefaultEar(), 200*time.Millisecond)
	var bursts []Burst
	for i := range 5 {
		bursts = append(bursts, Burst{Number: i, Start: at("12:00:10").Add(time.Duration(i) * 3 * time.Second), Length: 200 * time.Millisecond})
	}
	m.Expect(at("12:00:00"), bursts)
	for _, clock := range []string{"12:00:11", "12:00:12", "12:00:14.1", "12:00:17"} {
		m.Hear(at(clock), Held{})
	}
	if got := told(m); got != "0 heard strong, 1 heard, 2 heard" {
		t.Errorf("%q", got)
	}
}

// Bursts that have begun stay; later ones are replaced.
func TestExpectLater(t *testing.T) {
	l := listen()
	l.to(at("12:00:31"))
	moved := everyThirty()
	for i := range moved {
		moved[i].Start = moved[i].Start.Add(3 * time.Second)
		moved[i].Held.AzimuthDeg = 200
	}
	slices.Reverse(moved)
	l.Expect(l.now, moved)
	if len(l.bursts) != len(moved) {
		t.Errorf("%d bursts, want %d: burst 1 once", len(l.bursts), len(moved))
	}
	l.hear("12:00:31.8")
	l.hear("12:01:04.8")
	all := l.All()
	if len(all) != 2 || all[0].Held.AzimuthDeg != 100 || !all[0].Origin.Start.Equal(at("12:00:30")) ||
		all[1].Held.AzimuthDeg != 200 || !all[1].Origin.Start.Equal(at("12:01:03")) {
		t.Errorf("%+v, want burst 1 as it was and burst 2 as moved", all)
	}
}

func TestStepFrequency(t *testing.T) {
	l := listen()
	if got := l.StepFrequency(CoarseStepHz, 437e6); got != nil {
		t.Errorf("a frequency without a mark: %v", got)
	}
	l.hear("12:00:31.8")
	for _, c := range []struct{ step, want float64 }{{CoarseStepHz, 437_000_500}, {CoarseStepHz, 437_001_000}, {-FineStepHz, 437_000_900}} {
		if got := l.keep(l.StepFrequency(c.step, 437e6)); len(got) != 1 || got[0].FrequencyHz != c.want || got[0].ID != 1 {
			t.Errorf("%+v, want %.0f Hz", got, c.want)
		}
	}
	for _, c := range []struct{ step, expected float64 }{{0, 0}, {-500e6, 437e6}, {math.Inf(1), 437e6}} {
		if got := l.StepFrequency(c.step, c.expected); got != nil {
			t.Errorf("a step of %g gave %+v", c.step, got)
		}
	}
	l.hear("12:01:01.8")
	if got := l.StepFrequency(0, 437e6); len(got) != 1 || got[0].FrequencyHz != 437e6 || got[0].Origin.Number != 2 {
		t.Errorf("%+v, want the expected frequency for burst 2", got)
	}
	if m, ok := l.Heard(); !ok || m.Origin.Number != 2 {
		t.Errorf("the last heard is %+v", m)
	}
}

func TestRestoreRefuses(t *testing.T) {
	good := Mark{ID: 2, At: at("12:00:00"), Kind: Heard}
	change := func(f func(*Mark)) Mark { k := good; f(&k); return k }
	m := NewMarks(DefaultEar(), 0)
	err := m.Restore([]Mark{
		change(func(k *Mark) { k.ID = 0 }),
		change(func(k *Mark) { k.Kind = "seen\x1b" }),
		change(func(k *Mark) { k.Strength = "huge" }),
		change(func(k *Mark) { k.Fate = "lost" }),
		change(func(k *Mark) { k.At = time.Time{} }),
		good,
	}, at("12:00:10"))
	want := "mark has number 0, want 1 or more\n" +
		"mark 2 has the kind \"seen\\x1b\", want heard, silent, not_listening, noise_up or noise_normal\n" +
		"mark 2 has the strength \"huge\", want weak, good, strong or none\n" +
		"mark 2 has the fate \"lost\", want undone, replaced or none\n" +
		"mark 2 has no time"
	if err == nil || err.Error() != want {
		t.Errorf("got %v\nwant %s", err, want)
	}
	if diff := cmp.Diff([]Mark{good}, m.All()); diff != "" {
		t.Error(diff)
	}
	if got := m.Hear(at("12:00:20"), Held{}); got[0].ID != 3 {
		t.Errorf("next is %d, want 3", got[0].ID)
	}
}

// Any keys at any times: what was given out for the record, taken back, gives
// the same marks; no burst has two marks; all can be undone.
func TestAnyKeys(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		ear := rapid.SampledFrom([]Ear{DefaultEar(), DefaultEye(), {}}).Draw(t, "ear")
		m := NewMarks(ear, 0)
		bursts := everyThirty()
		tolerance := rapid.SampledFrom([]time.Duration{0, time.Second, 8 * time.Second}).Draw(t, "tolerance")
		for i := range bursts {
			bursts[i].Tolerance = tolerance
		}
		now := at("12:00:00")
		m.Expect(now, bursts)
		var record []Mark
		for range rapid.IntRange(1, 60).Draw(t, "events") {
			now = now.Add(time.Duration(rapid.SampledFrom([]int{-500, 0, 50, 300, 1000, 2500, 10000}).Draw(t, "later")) * time.Millisecond)
			held := Held{Hold: rapid.IntRange(0, 3).Draw(t, "hold")}
			var changed []Mark
			switch rapid.IntRange(0, 8).Draw(t, "event") {
			case 0, 1:
				changed = m.Hear(now, held)
			case 2:
				changed = m.Undo()
			case 3:
				changed = m.StopListening(now, held)
			case 4:
				changed = m.Listen(now)
			case 5:
				changed = m.Noise(now, rapid.Bool().Draw(t, "up"), held)
			case 6:
				changed = m.StepFrequency(CoarseStepHz, 437e6)
			case 7:
				changed = m.Tick(now)
			case 8:
				m.Expect(now, bursts)
			}
			record = append(record, changed...)
		}
		seen := make(map[int]bool)
		for _, k := range m.All() {
			if err := k.Check(); err != nil {
				t.Fatal(err)
			}
			if k.Origin.Expected && seen[k.Origin.Number] {
				t.Fatalf("burst %d has two marks: %s", k.Origin.Number, told(m))
			}
			seen[k.Origin.Number] = k.Origin.Expected
		}
		// What the record's lines keep of it is enough.
		var kept []Mark
		for _, k := range record {
			kept = append(kept, MarkEntryOf(k).State())
		}
		again := NewMarks(ear, 0)
		if err := again.Restore(kept, now); err != nil {
			t.Fatal(err)
		}
		if diff := cmp.Diff(m.All(), again.All()); diff != "" {
			t.Fatalf("from the record: %s", diff)
		}
		if m.Listening() != again.Listening() || m.NoiseIsUp() != again.NoiseIsUp() {
			t.Fatal("listening or noise differ from the record's")
		}
		for n := 2 * len(record); len(m.Undo()) > 0; n-- {
			if n < 0 {
				t.Fatal("undo has no end")
			}
		}
		if len(m.All()) != 0 || !m.Listening() || m.NoiseIsUp() {
			t.Fatalf("undone to the end there is %q", told(m))
		}
	})
}
