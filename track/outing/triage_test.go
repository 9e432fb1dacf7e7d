package outing

import (
	"strings"
	"testing"
	"time"
)

func triageOf(t *testing.T, way Way, raised bool) *Triage {
	t.Helper()
	x, err := NewTriage(way, 10, raised)
	if err != nil {
		t.Fatal(err)
	}
	return x
}

var answers = []Answer{Yes, No, CantTell}

// What each row of answers means, for a raised floor and for one that is as
// usual. The reasoning: behind a pad of A dB external noise falls by A, the
// products of overload by 2 A or 3 A, the receiver's own noise not at all
// (derived from the intercept points of ITU-R SM.1134); what drops when the
// antenna turns away comes from where it pointed. Without its preamplifier a
// receiver loses the noise that that makes itself, too (cascade formula, Friis
// 1944): where nothing drops there is no gain, and a drop by the gain alone says
// nothing about outside.
func TestFindings(t *testing.T) {
	for _, c := range []struct {
		turned, weakened, much Answer // much "": not asked
		raised, usual          Cause
	}{
		{Yes, Yes, Yes, Overload, Overload},
		{Yes, Yes, No, InBeam, InBeam},
		{Yes, Yes, CantTell, Unclear, Unclear},
		{Yes, No, "", Unclear, Unclear},
		{Yes, CantTell, "", Unclear, Unclear},
		{No, Yes, Yes, Overload, Overload},
		{No, Yes, No, AllRound, Usual},
		{No, Yes, CantTell, Unclear, Unclear},
		{No, No, "", Inside, Usual},
		{No, CantTell, "", Unclear, Unclear},
		{CantTell, Yes, Yes, Overload, Overload},
		{CantTell, Yes, No, Outside, Outside},
		{CantTell, Yes, CantTell, Unclear, Unclear},
		{CantTell, No, "", Inside, Usual},
		{CantTell, CantTell, "", Unclear, Unclear},
	} {
		for _, way := range []Way{Pad, Bypass} {
			for raised, want := range map[bool]Cause{true: c.raised, false: c.usual} {
				switch {
				case way == Pad || raised:
				case c.usual == Usual && c.weakened == No:
					want = NoGain
				case c.usual == Outside:
					want = Unclear
				}
				x := triageOf(t, way, raised)
				for _, a := range []Answer{c.turned, c.weakened, c.much} {
					if _, ok := x.Answer(at("12:00:00"), Held{}, a); ok != (a != "") {
						t.Fatalf("%+v: answer %q taken: %v", c, a, ok)
					}
				}
				f, ok := x.Finding()
				if !ok || f.Cause != want {
					t.Errorf("%s, %+v, raised %v: %q, want %q", way, c, raised, f.Cause, want)
				}
				// Overload is cured by what the test put in; everything else is
				// put back.
				back := map[Way]string{Pad: "Attenuator out.", Bypass: "Preamplifier back in, then its feed on."}[way]
				if want == Overload {
					back = ""
				}
				if f.Back != back {
					t.Errorf("%s, %+v: put back %q, want %q", way, c, f.Back, back)
				}
			}
		}
	}
}

// Every way through the test: one question at a time, at most three, under 20 s
// in all, the time needed never grows, a finding in one line only at the end,
// and the feed's caution before any bypass.
func TestEveryWayThrough(t *testing.T) {
	ends := 0
	var walk func(x *Triage, way Way, given []Answer)
	walk = func(x *Triage, way Way, given []Answer) {
		q, open := x.Question()
		f, over := x.Finding()
		if open == over {
			t.Fatalf("%v: open %v, over %v", given, open, over)
		}
		if over {
			ends++
			for _, line := range []string{f.Meaning, f.Do} {
				if line == "" || len(line) > 78 || strings.Contains(line, "\n") {
					t.Errorf("%v: %q is not one short line", given, line)
				}
			}
			if x.Needs() != 0 || x.Break() != "" || len(given) > 3 {
				t.Errorf("%v: over, but needs %s, breaks with %q", given, x.Needs(), x.Break())
			}
			if fits, _ := x.Fits(at("12:00:00"), at("12:00:00")); !fits {
				t.Error("what is over needs no time")
			}
			return
		}
		if (q.Caution == FeedCaution) != (way == Bypass && q.Topic == Weaken) {
			t.Errorf("%s, %s: caution %q", way, q.Topic, q.Caution)
		}
		if x.Needs() > 20*time.Second || x.Needs() < q.Needs {
			t.Errorf("%s, %v: needs %s", way, given, x.Needs())
		}
		for _, a := range answers {
			before := x.Needs()
			got, ok := x.Answer(at("12:00:00"), Held{Hold: 3}, a)
			if !ok || got.Topic != q.Topic || got.Answer != a || got.Held.Hold != 3 {
				t.Fatalf("%v: %+v, %v", given, got, ok)
			}
			if x.Needs() >= before {
				t.Errorf("%v then %s: needs %s, before it %s", given, a, x.Needs(), before)
			}
			walk(x, way, append(given[:len(given):len(given)], a))
			x.TakeBack()
			if again, _ := x.Question(); again != q {
				t.Fatalf("taken back, asks %v, want %v", again, q)
			}
		}
	}
	for _, way := range []Way{Pad, Bypass} {
		walk(triageOf(t, way, true), way, nil)
	}
	if ends != 2*15 {
		t.Errorf("%d ways through, want 15 for each way of weakening", ends)
	}
	x := triageOf(t, Pad, true)
	x.TakeBack()
	if _, ok := x.Answer(at("12:00:00"), Held{}, "maybe"); ok || len(x.Answered()) != 0 {
		t.Error("maybe is no answer")
	}
}

func TestFits(t *testing.T) {
	x := triageOf(t, Bypass, true)
	for _, c := range []struct {
		left time.Duration
		want string
	}{
		{30 * time.Second, ""},
		{9 * time.Second, ""},
		{8500 * time.Millisecond, "No time before the burst: this needs 9 s, there are 8. After it."},
		{-time.Second, "No time before the burst: this needs 9 s, there are 0. After it."},
	} {
		now := at("12:00:00")
		if ok, words := x.Fits(now, now.Add(c.left)); words != c.want || ok != (c.want == "") {
			t.Errorf("%s left: %v, %q", c.left, ok, words)
		}
	}
	if ok, _ := x.Fits(at("12:00:00"), time.Time{}); !ok {
		t.Error("before a rise far away there is time")
	}
}

// A burst comes in the middle: what was put in is taken out, and the question
// that needs it is asked again; what was answered before holds for a while.
func TestBreakAndResume(t *testing.T) {
	x := triageOf(t, Bypass, true)
	if got := x.Break(); got != "Back to the aim." {
		t.Errorf("%q", got)
	}
	x.Answer(at("12:00:05"), Held{}, Yes)
	x.Answer(at("12:00:10"), Held{}, Yes)
	if got := x.Break(); got != "Preamplifier back in, then its feed on. Back to the aim." {
		t.Errorf("%q", got)
	}
	x.Resume(at("12:00:40"))
	if q, _ := x.Question(); q.Topic != Weaken || len(x.Answered()) != 1 {
		t.Errorf("goes on with %s, want to weaken again", q.Topic)
	}
	x.Resume(at("12:05:06"))
	if q, _ := x.Question(); q.Topic != TurnAway {
		t.Errorf("after five minutes goes on with %s, want from the beginning", q.Topic)
	}
	pad := triageOf(t, Pad, true)
	pad.Answer(at("12:00:05"), Held{}, No)
	if got := pad.Break(); got != "Attenuator out. Back to the aim." {
		t.Errorf("%q", got)
	}
}

// What goes to the record: topic, answer, aim; then what it means.
func TestNoiseEntries(t *testing.T) {
	x := triageOf(t, Pad, true)
	a, _ := x.Answer(at("12:00:05"), Held{Hold: 2, Known: true, AzimuthDeg: 120, ElevationDeg: 0}, No)
	want := CheckEntry{List: ListTriage, Item: "turn away", Answer: "no", AzimuthDeg: NumberOf(120), ElevationDeg: NumberOf(0)}
	if got := a.Entry(); got != want || got.check() != nil {
		t.Errorf("%+v, want %+v", got, want)
	}
	b, _ := x.Answer(at("12:00:10"), Held{}, No)
	if got := b.Entry(); got != (CheckEntry{List: ListTriage, Item: "weaken", Answer: "no"}) {
		t.Errorf("%+v, want no aim", got)
	}
	f, _ := x.Finding()
	if got := f.Entry(); got.List != ListTriage || got.Answer != Text(Inside) || got.Words != Text(f.Meaning+" "+f.Do) {
		t.Errorf("%+v", got)
	}
}

func TestNewTriageRefuses(t *testing.T) {
	for _, c := range []struct {
		way  Way
		db   float64
		want string
	}{
		{"magic", 10, `"magic" is no way to test noise, want attenuator or bypass`},
		{Pad, 0, "attenuator of 0 dB is not within 1 to 20 dB"},
		{Pad, 30, "attenuator of 30 dB"},
		{Bypass, 61, "bypass of 61 dB is not within 1 to 60 dB"},
	} {
		if x, err := NewTriage(c.way, c.db, true); x != nil || err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s %v dB: %v", c.way, c.db, err)
		}
	}
	for _, way := range []Way{Pad, Bypass} {
		x := triageOf(t, way, false)
		x.Answer(at("12:00:00"), Held{}, Yes)
		x.Answer(at("12:00:05"), Held{}, Yes)
		if q, _ := x.Question(); !strings.Contains(q.Text, "10 dB") {
			t.Errorf("%s: %q doesn't name the value", way, q.Text)
		}
	}
}
