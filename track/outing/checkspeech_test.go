package outing

import (
	"slices"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"
)

// spoken is what a caller says aloud: an utterance when its slot is a new one.
type spoken struct {
	at   time.Time // when it was said
	text string
}

// sayAll asks every second for what to say, over a time.
func sayAll(l *Checklist, from, to time.Time, each func(now time.Time)) []spoken {
	var all []spoken
	var last time.Time
	for now := from; now.Before(to); now = now.Add(time.Second) {
		each(now)
		if u, ok := l.Speak(now); ok && !u.At.Equal(last) {
			last = u.At
			all = append(all, spoken{now, u.Text})
		}
	}
	return all
}

// With nothing confirmed: nothing before its time, the nearest to rise is heard
// in time, and the recorder every minute from five minutes before rise to set.
func TestSpeakWhenNothingIsDone(t *testing.T) {
	l := listFrom("11:30:00")
	facts := allWell()
	facts.FacingSet = false // due since six minutes before rise
	l.Update(at("11:30:00"), facts)
	all := sayAll(l, at("11:30:00"), at("12:12:00"), func(time.Time) {})
	if !slices.IsSortedFunc(all, func(a, b spoken) int { return a.at.Compare(b.at) }) || all[0].at.Before(at("11:54:00")) || all[len(all)-1].at.After(at("12:10:00")) {
		t.Fatalf("%v", all)
	}
	recorder, last := 0, at("11:55:00")
	for _, s := range all {
		if strings.Contains(s.text, "Recorder") {
			if s.at.Sub(last) > time.Minute {
				t.Errorf("no word of the recorder from %s to %s", last, s.at)
			}
			recorder, last = recorder+1, s.at
		} else if s.at.After(at("12:00:00")) {
			t.Errorf("%q said in mid-pass", s.text)
		}
	}
	if recorder != 15 {
		t.Errorf("recorder said %d times in 15 minutes", recorder)
	}
	rise := slices.IndexFunc(all, func(s spoken) bool { return strings.HasPrefix(s.text, "On the rise point?") })
	if rise < 0 || all[rise].at.Before(at("11:59:00")) || all[rise].at.After(at("11:59:01")) {
		t.Errorf("the rise point isn't said a minute before rise: %v", all)
	}
	for _, item := range []string{"Facing", "squelch", "fitted", "powered"} {
		if !slices.ContainsFunc(all, func(s spoken) bool { return strings.Contains(s.text, item) }) {
			t.Errorf("%s is never said: %v", item, all)
		}
	}
}

// Started in mid-pass the recorder is asked for within a minute, and no more
// once it is confirmed.
func TestSpeakInMidPass(t *testing.T) {
	l := listFrom("12:03:20")
	all := sayAll(l, at("12:03:20"), at("12:08:00"), func(now time.Time) {
		if now.Equal(at("12:05:45")) {
			l.Confirm("recorder", now)
		}
	})
	if len(all) != 3 || all[0].at.After(at("12:04:00")) || all[0].text != "Recorder running?" || all[2].at.After(at("12:05:45")) {
		t.Errorf("%v, want the recorder three times until 12:05:45", all)
	}
}

// Several that insist take turns.
func TestSpeakTakesTurns(t *testing.T) {
	items := []Item{
		{Name: "a", Before: 5 * time.Minute, Text: "A?", Insist: true},
		{Name: "b", Before: 5 * time.Minute, Text: "B?", Insist: true},
	}
	l := NewChecklist(items, at("12:00:00"), at("12:10:00"), at("11:00:00"))
	count := make(map[string]int)
	for _, s := range sayAll(l, at("11:50:00"), at("12:10:00"), func(time.Time) {}) {
		count[s.text]++
	}
	if count["A?"]+count["B?"] != 15 || count["A?"] < 7 || count["B?"] < 7 {
		t.Errorf("%v, want 15 in turns", count)
	}
}

// Any list, any answers: never two utterances within a slot, and nothing that
// isn't due.
func TestSpeakAnything(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var items []Item
		for i := range rapid.IntRange(0, 8).Draw(t, "items") {
			items = append(items, Item{
				Name: string(rune('a' + i)), Text: string(rune('A' + i)),
				Before: time.Duration(rapid.IntRange(0, 900).Draw(t, "before")) * time.Second,
				Insist: rapid.Bool().Draw(t, "insist"),
			})
		}
		started := at("11:40:00").Add(time.Duration(rapid.IntRange(0, 1700).Draw(t, "started")) * time.Second)
		l := NewChecklist(items, at("12:00:00"), at("12:10:00"), started)
		said := sayAll(l, started, at("12:11:00"), func(now time.Time) {
			due := l.Due(now)
			if len(due) > MaxDue {
				t.Fatalf("%d due at once", len(due))
			}
			if len(due) > 0 && rapid.IntRange(0, 99).Draw(t, "confirm") == 0 {
				l.Confirm(due[0].Name, now)
			}
			u, _ := l.Speak(now)
			for _, name := range u.Names {
				for _, s := range l.All(now) {
					if s.Name == name && s.State != Due {
						t.Fatalf("%s is %s and spoken", name, s.State)
					}
				}
			}
		})
		for i := 1; i < len(said); i++ {
			if gap := said[i].at.Truncate(speechSlot).Sub(said[i-1].at.Truncate(speechSlot)); gap < speechSlot {
				t.Fatalf("said at %s and %s", said[i-1].at, said[i].at)
			}
		}
	})
}
