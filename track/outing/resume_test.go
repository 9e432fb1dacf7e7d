package outing

import (
	"testing"

	"github.com/google/go-cmp/cmp"
)

// invented returns a mark as the keys make it.
func invented(id, at int, kind MarkKind) Mark {
	return Mark{ID: id, At: second(at), Kind: kind,
		Held:   Held{Hold: id, Known: true, AzimuthDeg: 192.25, ElevationDeg: 30},
		Origin: Origin{Expected: true, Number: 40 + id, Start: second(at - 2), LikelyStart: second(at - 1), UncertaintyS: 0.3}}
}

func TestResume(t *testing.T) {
	heard, strong := invented(1, 100, Heard), invented(1, 100, Heard)
	strong.Strength, strong.FrequencyHz = Strong, 437.5e6
	silent, undone := invented(2, 130, Silent), invented(2, 130, Silent)
	undone.Fate = Undone
	away := Mark{ID: 3, At: second(150), Kind: NotListening, Note: "on the phone"}
	pass := PassEntry{Satellite: "EMBERLING", CatalogueNumber: 99071, Rise: LookEntry{Time: TimeOf(second(60))}}
	moved := pass
	moved.Rise.Time = TimeOf(second(63))
	point := func(azimuth, elevation float64) CheckEntry {
		return CheckEntry{List: ListSkyline, AzimuthDeg: NumberOf(azimuth), ElevationDeg: NumberOf(elevation)}
	}
	gone := point(90, 0)
	gone.Answer = AnswerRemoved
	tick := Check{Name: "recorder", Done: true}
	triage := CheckEntry{List: ListTriage, Item: "turned away", Answer: "yes", AzimuthDeg: NumberOf(10)}
	log := read(t, logOf(t,
		start, // 0 s
		FixEntry{LatitudeDeg: NumberOf(58), Satellites: 4},
		FacingEntry{AzimuthDeg: NumberOf(180)},
		FacingEntry{AzimuthDeg: NumberOf(200), How: "church"},
		ElementsEntry{Satellite: "EMBERLING", CatalogueNumber: 99071},
		Check{Name: "recorder"}.Entry(),                                   // 5 s
		point(190, 8), point(90, 12), point(10.5, 3), point(190, 9), gone, // 6 to 10 s
		tick.Entry(), // 11 s
		pass,
		HoldEntry{Number: 1, AzimuthDeg: NumberOf(190)},
		MarkEntryOf(heard),
		HoldEntry{Number: 2, AzimuthDeg: NumberOf(192)}, // 15 s
		MarkEntryOf(silent), MarkEntryOf(strong), MarkEntryOf(undone), MarkEntryOf(away),
		NoteEntry{"goat on the road"}, // 20 s
		WarningEntry{Words: "old elements"}, WarningEntry{Words: "no fix"}, WarningEntry{Words: "old elements", Over: true},
		triage, // 24 s
		moved,
	))
	log.Records = append(log.Records, Record{At: second(26), Entry: Opaque{Version: 2, Name: KindEnd}})
	tick.At = second(11)
	want := State{
		Outing: "20260325T093000Z", Started: second(0), Last: second(26),
		Fix: &FixEntry{LatitudeDeg: NumberOf(58), Satellites: 4}, FixAt: second(1),
		Facing: &FacingEntry{AzimuthDeg: NumberOf(200), How: "church"}, FacingAt: second(3),
		Elements: &ElementsEntry{Satellite: "EMBERLING", CatalogueNumber: 99071},
		Pass:     &moved,
		Hold:     &HoldEntry{Number: 2, AzimuthDeg: NumberOf(192)}, HoldAt: second(15),
		Marks:    []Mark{strong, undone, away},
		Checks:   []Check{tick},
		Answers:  []TimedCheck{{second(24), triage}},
		Skyline:  []SkylinePoint{{10.5, 3}, {190, 9}},
		Warnings: []string{"no fix"},
		Notes:    []TimedNote{{second(20), "goat on the road"}},
	}
	got := Resume(log)
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("(-want +got):\n%s", diff)
	}
	if name, number := got.Satellite(); name != "EMBERLING" || number != 99071 {
		t.Errorf("satellite %q, %d", name, number)
	}
	m := NewMarks(DefaultEar(), 0)
	if err := m.Restore(got.Marks, got.Last); err != nil || m.Listening() {
		t.Errorf("marks restored: %v, listening %v, want not listening as before", err, m.Listening())
	}
}

func TestResumeEndAndOtherPass(t *testing.T) {
	again := start
	again.Continued = true
	pass := PassEntry{Satellite: "EMBERLING", Rise: LookEntry{Time: TimeOf(second(60))}}
	next := pass
	next.Rise.Time = TimeOf(second(60 + 5700))
	hold := HoldEntry{Number: 7}
	for name, c := range map[string]struct {
		entries []Entry
		ended   bool
		hold    *HoldEntry
	}{
		"nothing":       {nil, false, nil},
		"ended":         {[]Entry{start, pass, hold, EndEntry{}}, true, &hold},
		"went on":       {[]Entry{start, pass, hold, EndEntry{}, again}, false, &hold},
		"another pass":  {[]Entry{start, pass, hold, next}, false, nil},
		"facing undone": {[]Entry{start, FacingEntry{AzimuthDeg: NumberOf(9)}, FacingEntry{}}, false, nil},
	} {
		got := Resume(read(t, logOf(t, c.entries...)))
		if got.Ended != c.ended || !cmp.Equal(got.Hold, c.hold) || got.Facing != nil {
			t.Errorf("%s: ended %v, hold %v, facing %v", name, got.Ended, got.Hold, got.Facing)
		}
	}
}
