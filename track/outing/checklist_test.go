package outing

import (
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

// allWell is facts of which every one is as it should be.
func allWell() Facts {
	return Facts{
		HasFix: true, FixAge: time.Second, ClockKnown: true, ClockError: 200 * time.Millisecond,
		HasElements: true, ElementsAge: 20 * time.Hour, FacingSet: true, DiskKnown: true, DiskFree: 1 << 30,
	}
}

// listFrom is the default list for a pass from 12:00 to 12:10.
func listFrom(started string) *Checklist {
	return NewChecklist(DefaultItems(), at("12:00:00"), at("12:10:00"), at(started))
}

func names(due []ItemStatus) string {
	var all []string
	for _, s := range due {
		all = append(all, s.Name)
	}
	return strings.Join(all, ", ")
}

func TestDueOverThePass(t *testing.T) {
	for _, c := range []struct {
		started, now string
		want         string
	}{
		{"11:30:00", "11:40:00", ""},
		{"11:30:00", "11:54:59", ""},
		{"11:30:00", "11:55:00", "recorder"},
		{"11:30:00", "11:56:00", "recorder, receiver"},
		{"11:30:00", "11:58:00", "recorder, antenna, preamplifier"},
		{"11:30:00", "11:59:00", "recorder, rise point, antenna"},
		{"11:30:00", "12:00:00", "recorder, antenna, preamplifier"},
		{"12:05:00", "12:05:00", "recorder, antenna, preamplifier"},
		{"12:05:00", "12:09:59.9", "recorder, antenna, preamplifier"},
		{"12:05:00", "12:10:00", ""},
	} {
		l := listFrom(c.started)
		l.Update(at(c.now), allWell())
		if got := names(l.Due(at(c.now))); got != c.want {
			t.Errorf("started %s, at %s: %q, want %q", c.started, c.now, got, c.want)
		}
	}
}

// What was due before the program began is due since then.
func TestDueSince(t *testing.T) {
	for _, s := range listFrom("11:57:00").All(at("11:57:00")) {
		want := at("12:00:00").Add(-s.Before)
		if s.Before > 3*time.Minute {
			want = at("11:57:00")
		}
		if !s.Due.Equal(want) {
			t.Errorf("%s is due at %s, want %s", s.Name, s.Due, want)
		}
	}
}

// A failed check of the program's own comes right after what insists, says why,
// is silent before its time, and can be confirmed by the operator all the same.
func TestFailedCheck(t *testing.T) {
	l := listFrom("11:30:00")
	facts := allWell()
	facts.ElementsAge = 4 * 24 * time.Hour
	l.Update(at("11:40:00"), facts)
	if s := l.All(at("11:47:59"))[0]; s.State != Pending || s.Why != "they are 4.0 days from their epoch" {
		t.Errorf("before its time: %+v", s)
	}
	due := l.Due(at("11:58:00"))
	if names(due) != "recorder, elements, antenna" || due[1].State != Failed {
		t.Errorf("due %q, %+v", names(due), due[1])
	}
	if k, ok := l.Confirm("elements", at("11:58:05")); !ok || k.ByItself || !k.Done {
		t.Errorf("%+v, %v", k, ok)
	}
	if got := l.Update(at("11:58:06"), facts); len(got) != 0 {
		t.Errorf("the program takes the operator's tick back: %+v", got)
	}
	if s := l.All(at("11:58:10"))[0]; s.State != Done || s.ByItself || !s.At.Equal(at("11:58:05")) {
		t.Errorf("%+v, want done by the operator at 11:58:05", s)
	}
}

// Items tick themselves, and untick themselves when it is so no more.
func TestTicksItself(t *testing.T) {
	l := listFrom("11:30:00")
	if got := l.Update(at("11:40:00"), Facts{}); len(got) != 0 {
		t.Errorf("nothing known ticks %+v", got)
	}
	got := l.Update(at("11:40:01"), allWell())
	want := []Check{
		{"elements", true, at("11:40:01"), true}, {"disk", true, at("11:40:01"), true}, {"fix", true, at("11:40:01"), true},
		{"clock", true, at("11:40:01"), true}, {"facing", true, at("11:40:01"), true},
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Error(diff)
	}
	if got := l.Update(at("11:40:02"), allWell()); len(got) != 0 {
		t.Errorf("a second time gives %+v", got)
	}
	lost := allWell()
	lost.FixAge = time.Minute
	if diff := cmp.Diff([]Check{{"fix", false, at("12:03:00"), true}}, l.Update(at("12:03:00"), lost)); diff != "" {
		t.Error(diff)
	}
	if got := names(l.Due(at("12:03:00"))); got != "recorder, fix, antenna" {
		t.Errorf("in mid-pass: %q, want the lost fix second", got)
	}
}

func TestConfirmAndTakeBack(t *testing.T) {
	l := listFrom("11:30:00")
	if _, ok := l.Confirm("kettle", at("11:55:00")); ok {
		t.Error("confirmed what isn't on the list")
	}
	if _, ok := l.TakeBack("recorder", at("11:55:00")); ok {
		t.Error("took back what isn't done")
	}
	if _, ok := l.Confirm("recorder", at("11:50:00")); !ok {
		t.Error("may be confirmed before it is due")
	}
	if _, ok := l.Confirm("recorder", at("11:51:00")); ok {
		t.Error("confirmed twice")
	}
	l.Update(at("11:55:00"), allWell())
	if got := names(l.Due(at("11:55:00"))); got != "" {
		t.Errorf("due %q, want nothing", got)
	}
	if _, ok := l.TakeBack("recorder", at("12:04:00")); !ok || names(l.Due(at("12:04:00")))[:8] != "recorder" {
		t.Error("the recorder stopped, and is not due again")
	}
}

// Facts at the edges of what they must be.
func TestFacts(t *testing.T) {
	change := func(f func(*Facts)) Facts { x := allWell(); f(&x); return x }
	for _, c := range []struct {
		facts Facts
		which Fact
		want  string // "": as it should be
	}{
		{allWell(), FactFix, ""}, {allWell(), FactClock, ""}, {allWell(), FactElements, ""}, {allWell(), FactFacing, ""},
		{allWell(), FactDisk, ""}, {Facts{}, FactNone, ""},
		{Facts{}, FactFix, "no fix yet"},
		{Facts{Fixed: true}, FactFix, ""},
		{change(func(f *Facts) { f.FixAge = 31 * time.Second }), FactFix, "the last fix is 31s old"},
		{Facts{}, FactClock, "nothing to check the clock by"},
		{change(func(f *Facts) { f.ClockError = -1500 * time.Millisecond }), FactClock, "the clock may be 1.5 s off"},
		{Facts{}, FactElements, "no elements"},
		{change(func(f *Facts) { f.ElementsAge = -73 * time.Hour }), FactElements, "they are 3.0 days from their epoch"},
		{Facts{}, FactFacing, "no facing set"},
		{Facts{}, FactDisk, "free space unknown"},
		{change(func(f *Facts) { f.DiskFree = 7_900_000 }), FactDisk, "7 MB left"},
		{change(func(f *Facts) { f.DiskFree = -1 }), FactDisk, "0 MB left"},
		{change(func(f *Facts) { f.RecordFailed = true }), FactDisk, "the record can't be written"},
	} {
		if ok, why := c.facts.judge(c.which); why != c.want || ok != (c.want == "") {
			t.Errorf("%s of %+v: %v, %q, want %q", c.which, c.facts, ok, why, c.want)
		}
	}
}

func TestCheckItems(t *testing.T) {
	if err := CheckItems(DefaultItems()); err != nil {
		t.Error(err)
	}
	good := Item{Name: "kettle", Before: time.Minute, Text: "Kettle off?"}
	with := func(f func(*Item)) []Item { x := good; f(&x); return []Item{good, x} }
	other := func(f func(*Item)) []Item { return with(func(i *Item) { i.Name = "other"; f(i) }) }
	for _, c := range []struct {
		items []Item
		want  string
	}{
		{nil, ""},
		{other(func(i *Item) { i.Before = 0 }), ""},
		{with(func(*Item) {}), `checklist item 2: name "kettle" is that of another item already`},
		{with(func(i *Item) { i.Name = "" }), "checklist item 2: name is empty"},
		{with(func(i *Item) { i.Name = strings.Repeat("é", 25) }), "name has 25 characters, at most 24"},
		{with(func(i *Item) { i.Name = "a\x1b[m" }), `name "a[m" holds what can't be shown`},
		{with(func(i *Item) { i.Name = " a" }), "begins or ends with a space"},
		{other(func(i *Item) { i.Text = "" }), "checklist item 2: text is empty"},
		{other(func(i *Item) { i.Text = strings.Repeat("x", 61) }), "text has 61 characters, at most 60"},
		{other(func(i *Item) { i.Before = -time.Second }), "item 2: before -1s is not within 0s to 1h0m0s before rise"},
		{other(func(i *Item) { i.Before = 2 * time.Hour }), "before 2h0m0s is not within"},
		{other(func(i *Item) { i.Check = "weather" }), `check "weather" is unknown, want fix, clock`},
		{other(func(i *Item) { i.Insist, i.UntilRise = true, true }), "insist goes on during the pass, and the item ends at rise"},
		{other(func(i *Item) { i.Insist, i.Check = true, FactFix }), "insist is for the operator, and the program checks the item"},
		{slices.Repeat([]Item{good}, 41), "checklist of 41 items, at most 40"},
	} {
		err := CheckItems(c.items)
		if (err == nil) != (c.want == "") || err != nil && !strings.Contains(err.Error(), c.want) {
			t.Errorf("%v, want %q", err, c.want)
		}
	}
}

// The record's entries bring the list back as it was.
func TestChecklistFromRecord(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := listFrom("11:30:00")
		now := at("11:40:00")
		var record []Check
		for range rapid.IntRange(0, 30).Draw(t, "events") {
			now = now.Add(time.Duration(rapid.IntRange(0, 90).Draw(t, "later")) * time.Second)
			item := rapid.SampledFrom(DefaultItems()).Draw(t, "item").Name
			switch rapid.IntRange(0, 2).Draw(t, "event") {
			case 0:
				if k, ok := l.Confirm(item, now); ok {
					record = append(record, k)
				}
			case 1:
				if k, ok := l.TakeBack(item, now); ok {
					record = append(record, k)
				}
			case 2:
				facts := allWell()
				facts.HasFix, facts.FacingSet = rapid.Bool().Draw(t, "fix"), rapid.Bool().Draw(t, "facing")
				record = append(record, l.Update(now, facts)...)
			}
		}
		var kept []Check
		for _, k := range record {
			back, ok := CheckOf(k.Entry(), k.At)
			if !ok || back != k {
				t.Fatalf("%+v came back as %+v, %v", k, back, ok)
			}
			kept = append(kept, back)
		}
		again := listFrom("11:30:00")
		again.Restore(append(kept, Check{Name: "off the list", Done: true}))
		again.facts = l.facts // not of the record, they are found anew
		if diff := cmp.Diff(l.All(now), again.All(now)); diff != "" {
			t.Fatal(diff)
		}
	})
	if _, ok := CheckOf(CheckEntry{List: ListSkyline, Answer: "done"}, at("12:00:00")); ok {
		t.Error("a point of the skyline became a tick")
	}
}
