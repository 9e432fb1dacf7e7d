package outing

import (
	"bytes"
	"os"
	"reflect"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

// anyEntry draws an entry of a type with values within their ranges, and texts
// with whatever a text may hold.
func anyEntry[E Entry]() *rapid.Generator[Entry] {
	moment := rapid.Custom(func(t *rapid.T) Time {
		return TimeOf(time.UnixMilli(rapid.Int64Range(-1e12, 2e13).Draw(t, "ms")))
	})
	number := rapid.Custom(func(t *rapid.T) Number {
		if rapid.Bool().Draw(t, "unknown") {
			return Number{}
		}
		return NumberOf(rapid.Float64Range(0, 1).Draw(t, "value"))
	})
	text := rapid.Custom(func(t *rapid.T) Text { return Text(rapid.String().Draw(t, "text")) })
	made := rapid.MakeCustom[E](rapid.MakeConfig{Types: map[reflect.Type]*rapid.Generator[any]{
		reflect.TypeFor[Time]():     moment.AsAny(),
		reflect.TypeFor[Number]():   number.AsAny(),
		reflect.TypeFor[Text]():     text.AsAny(),
		reflect.TypeFor[MarkKind](): rapid.SampledFrom([]MarkKind{Heard, Silent, NotListening, NoiseUp, NoiseNormal}).AsAny(),
		reflect.TypeFor[Strength](): rapid.SampledFrom([]Strength{"", Weak, Good, Strong}).AsAny(),
		reflect.TypeFor[Fate]():     rapid.SampledFrom([]Fate{Stands, Undone, Replaced}).AsAny(),
	}})
	return rapid.Map(made, func(e E) Entry {
		switch e := any(e).(type) {
		case MarkEntry:
			e.ID = 1 + e.ID&0xffff
			if e.Time.IsZero() {
				e.Time = TimeOf(clock0)
			}
			return e
		case StartEntry:
			e.Outing = start.Outing
			return e
		case CheckEntry:
			e.List = ListTriage
			return e
		case FacingEntry:
			e.References = ReferencesOf(e.References.All()) // in use are the first
			return e
		}
		return e
	})
}

// cleaned is an entry as it is read back: its texts cleaned.
func cleaned(e Entry) Entry {
	v := reflect.New(reflect.TypeOf(e)).Elem()
	v.Set(reflect.ValueOf(e))
	cleanTexts(v)
	return v.Interface().(Entry)
}

func cleanTexts(v reflect.Value) {
	for i := range v.NumField() {
		switch f := v.Field(i); {
		case f.Type() == reflect.TypeFor[Text]():
			f.SetString(Clean(f.String()))
		case f.Type() == reflect.TypeFor[References]():
			for k := range f.Len() {
				cleanTexts(f.Index(k))
			}
		}
	}
}

// roundTrip writes drawn records of all kinds, on a disk that tears some, and
// reads them back.
func roundTrip(t *rapid.T) {
	drawn := rapid.SliceOfN(rapid.OneOf(
		anyEntry[StartEntry](), anyEntry[FixEntry](), anyEntry[ClockEntry](), anyEntry[FacingEntry](),
		anyEntry[ElementsEntry](), anyEntry[PassEntry](), anyEntry[AdviceEntry](), anyEntry[HoldEntry](),
		anyEntry[MarkEntry](), anyEntry[SensorEntry](), anyEntry[CheckEntry](), anyEntry[WarningEntry](),
		anyEntry[CommandEntry](), anyEntry[NoteEntry](), anyEntry[EndEntry]()), 0, 6).Draw(t, "entries")
	d := newDisk()
	w := NewWriter(d, false)
	want := []Entry{start}
	at := []time.Time{clock0}
	if err := w.Append(Record{At: clock0, Entry: start}); err != nil {
		t.Fatal(err)
	}
	for _, e := range drawn {
		moment := time.UnixMilli(rapid.Int64Range(-1e12, 2e13).Draw(t, "at")).UTC()
		if err := w.Append(Record{At: moment, Entry: e}); err != nil {
			t.Fatalf("%+v: %v", e, err)
		}
		want, at = append(want, cleaned(e)), append(at, moment)
	}
	text := d.text()
	log, err := Read(strings.NewReader(text), "drawn")
	if err != nil || len(log.Faults) > 0 {
		t.Fatalf("%v, %v in %s", err, log.Faults, text)
	}
	if diff := cmp.Diff(want, entries(log)); diff != "" {
		t.Fatalf("(-want +got):\n%s", diff)
	}
	for i, r := range log.Records {
		if !r.At.Equal(at[i]) || r.Line != i+1 {
			t.Fatalf("record %d is of %v in line %d, want %v", i, r.At, r.Line, at[i])
		}
	}
	// Cut anywhere: all records before the cut, none changed.
	cut := rapid.IntRange(0, len(text)).Draw(t, "cut")
	head, err := Read(strings.NewReader(text[:cut]), "cut")
	whole := strings.Count(text[:cut], "\n")
	if err != nil || len(head.Records) < whole || len(head.Records) > whole+1 {
		t.Fatalf("cut at %d: %d records, want %d; %v", cut, len(head.Records), whole, err)
	}
	if diff := cmp.Diff(want[:len(head.Records)], append([]Entry{}, entries(head)...)); diff != "" {
		t.Fatalf("cut at %d (-want +got):\n%s", cut, diff)
	}
}

func TestAppendRead(t *testing.T) { rapid.Check(t, roundTrip) }

func FuzzAppendRead(f *testing.F) { f.Fuzz(rapid.MakeFuzz(roundTrip)) }

// FuzzRead reads anything; summed: with a right checksum put on each line, so
// that what is behind it is reached. Whatever is read has clean messages, and
// what is understood is the same when it is written and read again.
func FuzzRead(f *testing.F) {
	seed, err := os.ReadFile("../../testdata/outing/record_summed_by_sha256sum.jsonl")
	if err != nil {
		f.Fatal(err)
	}
	f.Add(seed, false)
	for line := range bytes.Lines(seed) {
		f.Add(line[:len(line)-1-tailBytes], true)
	}
	f.Add([]byte("{\"v\":2,\"kind\":\"\\u001b[2J\"}\n\x00\x00\n\xef\xbb\xbf{"), false)
	f.Fuzz(func(t *testing.T, text []byte, sums bool) {
		if sums {
			var all strings.Builder
			for line := range bytes.Lines(text) {
				all.WriteString(summed(string(bytes.TrimRight(line, "\r\n"))))
			}
			text = []byte(all.String())
		}
		log, err := Read(bytes.NewReader(text), "any.jsonl")
		if err != nil {
			log.Faults = append(log.Faults, err.(*Fault))
		}
		for _, fault := range log.Faults {
			if m := fault.Error(); Clean(m) != m || !strings.HasPrefix(m, "any.jsonl:") {
				t.Fatalf("message %q", m)
			}
		}
		_ = Resume(log)
		if all, allErr := ReadAll(bytes.NewReader(text), "any.jsonl"); err == nil && (allErr != nil || len(all) != 1 || !cmp.Equal(all[0], log)) {
			t.Fatalf("one outing is read as %d: %v", len(all), allErr)
		}
		d := newDisk()
		w := NewWriter(d, false)
		var want []Record
		for _, r := range log.Records {
			if _, opaque := r.Entry.(Opaque); opaque {
				continue
			}
			if err := w.Append(r); err != nil {
				t.Fatalf("read but not written: %+v: %v", r, err)
			}
			r.Line = len(want) + 1
			want = append(want, r)
		}
		again, err := Read(strings.NewReader(d.text()), "again")
		if err != nil {
			t.Fatal(err)
		}
		if diff := cmp.Diff(want, again.Records); diff != "" {
			t.Fatalf("(-first +again):\n%s", diff)
		}
	})
}
