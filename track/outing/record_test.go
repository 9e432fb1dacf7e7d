package outing

import (
	"math"
	"os"
	"reflect"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// Read against a record that was written by hand and summed by the sha256sum of
// GNU coreutils: see testdata/README.md.
func TestReadRecordSummedElsewhere(t *testing.T) {
	text, err := os.ReadFile("../../testdata/outing/record_summed_by_sha256sum.jsonl")
	if err != nil {
		t.Fatal(err)
	}
	log := read(t, string(text))
	if len(log.Faults) > 0 {
		t.Fatalf("faults in a good record: %v", log.Faults)
	}
	want := []Entry{
		StartEntry{Outing: "20260325T093000Z", Program: "foreaim 0.4", Site: "Sheep <& Stone> meadow", Demo: true},
		FixEntry{LatitudeDeg: NumberOf(57.27), LongitudeDeg: NumberOf(-5.71), AltitudeM: NumberOf(40), Quality: "gps", Satellites: 9, HDOP: NumberOf(0.9)},
		ClockEntry{OffsetS: NumberOf(-88.125), UncertaintyS: NumberOf(0.25)},
		FacingEntry{AzimuthDeg: NumberOf(212.5), DeclinationDeg: NumberOf(-1.5), How: "landmark"},
	}
	if diff := cmp.Diff(want, entries(log)[:len(want)]); diff != "" {
		t.Errorf("entries (-want +got):\n%s", diff)
	}
	if at := log.Records[1].At; !at.Equal(clock0.Add(4250e6)) {
		t.Errorf("second record at %v", at)
	}
	seen := map[Kind]bool{}
	for _, r := range log.Records {
		seen[r.Entry.Kind()] = true
	}
	for _, k := range kinds {
		if !seen[k.kind] {
			t.Errorf("the record by hand has no %s", k.kind)
		}
	}
	// Writing what was read gives the same bytes.
	d := newDisk()
	w := NewWriter(d, false)
	for _, r := range log.Records {
		if err := w.Append(r); err != nil {
			t.Error(err)
		}
	}
	if diff := cmp.Diff(string(text), d.text()); diff != "" {
		t.Errorf("written again (-by hand +by us):\n%s", diff)
	}
}

// Members end in their unit, or are of those that have none; none hides a
// member that every line has.
func TestMembersNameTheirUnits(t *testing.T) {
	units := []string{"_deg", "_km", "_m", "_s", "_hz", "_probability"}
	for _, e := range []Entry{StartEntry{}, FixEntry{}, ClockEntry{}, FacingEntry{}, ElementsEntry{},
		PassEntry{}, AdviceEntry{}, HoldEntry{}, MarkEntry{}, SensorEntry{}, CheckEntry{},
		WarningEntry{}, CommandEntry{}, NoteEntry{}, EndEntry{}} {
		checkMembers(t, reflect.TypeOf(e), units)
	}
}

func checkMembers(t *testing.T, kind reflect.Type, units []string) {
	for i := range kind.NumField() {
		f := kind.Field(i)
		name, _, _ := strings.Cut(f.Tag.Get("json"), ",")
		where := kind.Name() + "." + f.Name
		switch {
		case name == "" || name != strings.ToLower(name):
			t.Errorf("%s has the JSON name %q", where, name)
		case name == "v" || name == "at" || name == "kind" || name == "sum":
			t.Errorf("%s hides %q of the line", where, name)
		case f.Type == reflect.TypeFor[LookEntry]():
			checkMembers(t, f.Type, units)
		case f.Type == reflect.TypeFor[References]():
			checkMembers(t, f.Type.Elem(), units)
		case f.Type.Kind() == reflect.Float64 || f.Type.Kind() == reflect.Slice || f.Type.Kind() == reflect.Pointer:
			t.Errorf("%s is a %s: use Number, and nothing without a bound", where, f.Type)
		case f.Type == reflect.TypeFor[Number]() && name != "hdop":
			has := false
			for _, u := range units {
				has = has || strings.HasSuffix(name, u)
			}
			if !has {
				t.Errorf("%s: %q doesn't end in a unit", where, name)
			}
		}
	}
}

func TestNaNIsLeftOut(t *testing.T) {
	for _, v := range []float64{math.NaN(), math.Inf(1), math.Inf(-1)} {
		text := logOf(t, start, FixEntry{LatitudeDeg: NumberOf(v), LongitudeDeg: Number{v, true}, AltitudeM: NumberOf(0)})
		if strings.Contains(text, "itude_deg") || !strings.Contains(text, `"altitude_m":0,`) {
			t.Errorf("%v: %s", v, text)
		}
		if got, want := read(t, text).Records[1].Entry, (FixEntry{AltitudeM: NumberOf(0)}); got != want {
			t.Errorf("%v: read %+v, want %+v", v, got, want)
		}
	}
}

// The checksum is by GNU sha256sum.
func ExampleWriter() {
	w := NewWriter(noSync{os.Stdout}, false)
	_ = w.Append(Record{At: clock0, Entry: NoteEntry{Text: "sheep in the way"}})
	// Output: {"v":1,"at":"2026-03-25T09:30:00.000Z","kind":"note","text":"sheep in the way","sum":"b372b3ce90f7dcc6"}
}
