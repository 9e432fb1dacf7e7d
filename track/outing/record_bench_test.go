package outing

import (
	"bytes"
	"io"
	"testing"
)

func BenchmarkAppend(b *testing.B) {
	mark := MarkEntryOf(invented(1, 100, Heard))
	w := NewWriter(noSync{io.Discard}, false)
	b.ReportAllocs()
	for b.Loop() {
		if err := w.Append(Record{At: clock0, Entry: mark}); err != nil {
			b.Fatal(err)
		}
	}
}

// A log of ten hours with a record a second: mostly fixes, some advice, holds
// and marks.
func BenchmarkReadTenHours(b *testing.B) {
	const records = 36000
	mark := MarkEntryOf(invented(1, 100, Heard))
	cycle := []Entry{
		AdviceEntry{Number: 3, Time: TimeOf(clock0), AzimuthDeg: NumberOf(201.5), ElevationDeg: NumberOf(31.25), Words: "20° left, half a fist up"},
		HoldEntry{Number: 3, AzimuthDeg: NumberOf(201.5), ElevationDeg: NumberOf(31.25), Time: TimeOf(clock0)},
		mark,
	}
	fix := FixEntry{LatitudeDeg: NumberOf(58.312745), LongitudeDeg: NumberOf(14.086412), AltitudeM: NumberOf(131.4), Quality: "gps", Satellites: 9, HDOP: NumberOf(0.9)}
	var text bytes.Buffer
	w := NewWriter(noSync{&text}, false)
	for i := range records {
		e := Entry(fix)
		switch {
		case i == 0:
			e = start
		case i%10 < len(cycle):
			e = cycle[i%10]
		}
		if err := w.Append(Record{At: second(i), Entry: e}); err != nil {
			b.Fatal(err)
		}
	}
	b.SetBytes(int64(text.Len()))
	b.ReportAllocs()
	for b.Loop() {
		log, err := Read(bytes.NewReader(text.Bytes()), "")
		if err != nil || len(log.Records) != records {
			b.Fatal(len(log.Records), err)
		}
	}
}
