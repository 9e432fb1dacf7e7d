package review_test

import (
	"bytes"
	"context"
	"testing"
	"time"

	"foreaim/track/outing"
	"foreaim/track/outing/review"
)

// BenchmarkTenHours reads and reviews a record of ten hours with six passes and a
// sensor that gives ten readings a second. A review is to take under 2 s.
func BenchmarkTenHours(b *testing.B) {
	w := healthy(b, 0)
	record := w.play(b)
	for i := range 5 { // what comes later in the same record: the same marks anew
		log, err := outing.Read(bytes.NewReader(w.play(b)), "")
		if err != nil {
			b.Fatal(err)
		}
		var out scribe
		rec := outing.NewRecorder(&out, true)
		for _, r := range log.Records[1:] {
			e := r.Entry
			shift := time.Duration(i+1) * 95 * time.Minute
			switch v := e.(type) {
			case outing.PassEntry:
				v.Rise.Time, v.Peak.Time, v.Set.Time = outing.TimeOf(v.Rise.Time.Add(shift)), outing.TimeOf(v.Peak.Time.Add(shift)), outing.TimeOf(v.Set.Time.Add(shift))
				v.First = outing.TimeOf(v.First.Add(shift))
				e = v
			case outing.MarkEntry:
				v.ID += 1000 * (i + 1)
				v.Time, v.Burst = outing.TimeOf(v.Time.Add(shift)), outing.TimeOf(v.Burst.Add(shift))
				v.LikelyStart = outing.Time{}
				e = v
			}
			rec.Record(r.At.Add(shift), e)
		}
		for k := range 100 * 60 * 10 {
			if k%1000 == 0 {
				time.Sleep(5 * time.Millisecond) // the queue of a recorder is bounded
			}
			rec.Record(w.pass.Rise.Time.Add(time.Duration(i)*100*time.Minute+time.Duration(k)*100*time.Millisecond),
				outing.SensorEntry{TrueDeg: outing.NumberOf(float64(k % 360)), PitchDeg: outing.NumberOf(30)})
		}
		if err := rec.Close(context.Background()); err != nil {
			b.Fatal(err)
		}
		record = append(record, out.Bytes()...)
	}
	b.SetBytes(int64(len(record)))
	for b.Loop() {
		log, err := outing.Read(bytes.NewReader(record), "")
		if err != nil {
			b.Fatal(err)
		}
		if r := review.Of([]outing.Log{log}, review.Settings{}); len(r.Passes) != 6 {
			b.Fatalf("%d passes", len(r.Passes))
		}
	}
}
