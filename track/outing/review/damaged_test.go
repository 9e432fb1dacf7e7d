package review_test

import (
	"bytes"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"
	"time"

	"foreaim/track"
	"foreaim/track/outing"
	"foreaim/track/outing/review"
)

// healthy is an invented outing without any fault, one of several.
func healthy(t testing.TB, which int) *world {
	for n := uint64(0); ; n++ {
		if w := newWorld(t, n); len(w.faults) == 0 {
			if which == 0 {
				return w
			}
			which--
		}
	}
}

func of(t testing.TB, records ...[]byte) review.Review {
	t.Helper()
	var logs []outing.Log
	for _, r := range records {
		log, _ := outing.Read(bytes.NewReader(r), "record.jsonl") // its faults are the caller's to tell
		logs = append(logs, log)
	}
	return review.Of(logs, review.Settings{})
}

// A record that was cut, edited or mixed is reviewed as far as it goes, or says
// what is missing.
func TestDamagedRecords(t *testing.T) {
	whole := healthy(t, 0).play(t)
	lines := bytes.SplitAfter(whole, []byte("\n"))
	all := of(t, whole).Passes[0]
	if all.Count(review.Heard) < 5 {
		t.Fatalf("only %d heard in an outing without a fault", all.Count(review.Heard))
	}
	without := func(kind string) []byte {
		var b []byte
		for _, l := range lines {
			if !bytes.Contains(l, []byte(`"kind":"`+kind+`"`)) {
				b = append(b, l...)
			}
		}
		return b
	}
	for name, c := range map[string]struct {
		record  []byte
		given   bool
		missing string
	}{
		"cut in the middle of a line": {whole[:len(whole)*2/3], true, ""},
		"its beginning cut off":       {bytes.Join(lines[len(lines)/2:], nil), false, "no pass"},
		"a line edited":               {bytes.Replace(whole, []byte(`"mark":"heard"`), []byte(`"mark":"silent"`), 1), true, ""},
		"mixed with another outing":   {append(slices.Clone(whole), newWorld(t, 3).play(t)...), true, ""},
		"the same twice":              {append(slices.Clone(whole), whole...), true, ""},
		"without elements":            {without("elements"), false, "no elements"},
		"without a position":          {without("fix"), false, "no position"},
		"without a facing":            {without("facing"), true, "no facing"},
		"without marks":               {without("mark"), false, ""},
		"empty":                       {nil, false, "no pass"},
		"not a record":                {[]byte("time,kind\n"), false, "no pass"},
	} {
		p := of(t, c.record).Passes[0]
		if p.Verdict.Given != c.given {
			t.Errorf("%s: verdict given: %v", name, p.Verdict.Given)
		}
		if !p.Verdict.Given && len(p.Verdict.Bring) == 0 {
			t.Errorf("%s: no verdict, and no word of what to bring", name)
		}
		if text := strings.Join(p.Missing, "; "); !strings.Contains(text, c.missing) {
			t.Errorf("%s: it says missing is %q, want %q", name, text, c.missing)
		}
	}
}

// A record that ends before the pass tells so, and asks for nothing that it has.
func TestARecordMadeBeforeThePass(t *testing.T) {
	w := healthy(t, 0)
	var b []byte
	for _, l := range bytes.SplitAfter(w.play(t), []byte("\n")) {
		kinds := []string{"start", "fix", "facing", "elements", "pass"}
		if slices.ContainsFunc(kinds, func(k string) bool { return bytes.Contains(l, []byte(`"kind":"`+k+`"`)) }) {
			b = append(b, l...)
		}
	}
	log, err := outing.Read(bytes.NewReader(b), "record.jsonl")
	if err != nil {
		t.Fatal(err)
	}
	for i := range log.Records {
		log.Records[i].At = w.pass.Rise.Time.Add(-time.Hour)
	}
	passes := review.Of([]outing.Log{log}, review.Settings{}).Passes
	if len(passes) != 1 || passes[0].Verdict.Given || passes[0].Elements == nil || passes[0].Site == nil {
		t.Fatalf("the review is %+v", passes)
	}
	if want := []string{"the record ends before this pass begins"}; !slices.Equal(passes[0].Missing, want) {
		t.Errorf("missing is %q, want %q", passes[0].Missing, want)
	}
	bring := strings.Join(passes[0].Verdict.Bring, " ")
	if strings.Contains(bring, "elements") || strings.Contains(bring, "period") || !strings.Contains(bring, "until it is over") {
		t.Errorf("it says to bring %q", bring)
	}
	for i := range log.Records {
		log.Records[i].At = w.pass.Set.Time.Add(time.Hour)
	}
	after := review.Of([]outing.Log{log}, review.Settings{}).Passes[0]
	if len(after.Missing) == 0 || after.Missing[0] != "the record begins after this pass is over" {
		t.Errorf("made after the pass, missing is %q", after.Missing)
	}
}

// Lines in another order, as two machines' records put together have them, say
// the same.
func TestOrderDoesNotMatter(t *testing.T) {
	lines := bytes.SplitAfter(newWorld(t, 19).play(t), []byte("\n"))
	want := of(t, bytes.Join(lines, nil)).Passes[0]
	mixed := slices.Clone(lines[:1])
	for i := 1; i < len(lines); i += 2 {
		mixed = append(mixed, lines[i])
	}
	for i := 2; i < len(lines); i += 2 {
		mixed = append(mixed, lines[i])
	}
	got := of(t, bytes.Join(mixed, nil)).Passes[0]
	if fmt.Sprint(got.Verdict) != fmt.Sprint(want.Verdict) || got.Estimates != want.Estimates {
		t.Errorf("in another order: %v, want %v", got.Verdict.Words, want.Verdict.Words)
	}
}

// A facing that is corrected in the middle of the pass says of the holds before it
// what one says that was right from the start.
func TestFacingCorrected(t *testing.T) {
	w := healthy(t, 0)
	for i := 1; w.sensor; i++ { // which is corrected by itself
		w = healthy(t, i)
	}
	played := w.log(t).Records
	middle := w.pass.Peak.Time
	const turn = 20.0
	turned := func(from time.Time, facing bool) outing.Log {
		more := func(n outing.Number) outing.Number {
			if n.Known {
				n.Value = track.Wrap360(n.Value + turn)
			}
			return n
		}
		var log outing.Log
		for _, r := range played {
			if !facing && len(log.Records) > 0 && !r.At.Before(from) && log.Records[len(log.Records)-1].At.Before(from) {
				log.Records = append(log.Records, outing.Record{At: from, Entry: outing.FacingEntry{AzimuthDeg: outing.NumberOf(180 + turn), SigmaDeg: outing.NumberOf(4), How: "nudged"}})
			}
			switch e := r.Entry.(type) {
			case outing.FacingEntry:
				if facing {
					e.AzimuthDeg, e.How = more(e.AzimuthDeg), "nudged"
				}
				r.Entry = e
			case outing.AdviceEntry:
				if !r.At.Before(from) {
					e.AzimuthDeg = more(e.AzimuthDeg)
				}
				r.Entry = e
			case outing.HoldEntry:
				if !r.At.Before(from) {
					e.AzimuthDeg = more(e.AzimuthDeg)
				}
				r.Entry = e
			case outing.MarkEntry:
				if !r.At.Before(from) {
					e.AzimuthDeg = more(e.AzimuthDeg)
				}
				r.Entry = e
			}
			log.Records = append(log.Records, r)
		}
		return log
	}
	whole := review.Of([]outing.Log{turned(time.Time{}, true)}, review.Settings{}).Passes[0]
	half := review.Of([]outing.Log{turned(middle, false)}, review.Settings{}).Passes[0]
	if len(whole.Bursts) == 0 || len(half.Bursts) != len(whole.Bursts) {
		t.Fatalf("%d bursts, want %d", len(half.Bursts), len(whole.Bursts))
	}
	for i, b := range half.Bursts {
		if want := whole.Bursts[i]; b.Source == review.Nowhere || track.SeparationDeg(b.Held.AzimuthDeg, b.Held.ElevationDeg, want.Held.AzimuthDeg, want.Held.ElevationDeg) > 1e-6 {
			t.Errorf("burst %d was held at %+v, want %+v", i+1, b.Held, want.Held)
		}
	}
	if half.Estimates != whole.Estimates {
		t.Errorf("corrected in the middle: %+v, from the start %+v", half.Estimates, whole.Estimates)
	}
}

// What stays from outing to outing is told; what doesn't is not.
func TestLasting(t *testing.T) {
	var same, other [][]byte
	_, _, _, passes := fixture(t)
	for i := range 4 {
		w := healthy(t, i)
		w.first = passes[i].Rise.Time.Add(w.first.Sub(w.pass.Rise.Time))
		w.pass, w.marginDB = passes[i], 6
		w.headingDeg, w.lateS = -20, -30
		same = append(same, w.play(t))
		w.headingDeg, w.lateS = []float64{-35, 40, -45, 38}[i], []float64{60, -70, 90, -60}[i]
		other = append(other, w.play(t))
	}
	found := map[review.Cause]review.Lasting{}
	for _, l := range of(t, same...).Lasting {
		found[l.Cause] = l
	}
	if l := found[review.North]; !l.Same || math.Abs(l.Mean+20) > 2*l.Sigma || l.Outings != 4 || !strings.Contains(l.Words, "left of true") {
		t.Errorf("north 20° left in 4 outings: %+v", l)
	}
	if l := found[review.Elements]; !l.Same || math.Abs(l.Mean+30) > 2*l.Sigma || l.Satellite != "EMBERLING" {
		t.Errorf("30 s early in 4 outings: %+v", l)
	}
	// The object got its name between the outings.
	same[0] = renamed(t, same[0])
	if l := of(t, same...).Lasting; len(l) != 2 || l[1].Satellite != "EMBERLING" || l[1].Outings != 4 {
		t.Errorf("named since: %+v", l)
	}
	for _, l := range of(t, other...).Lasting {
		if l.Same {
			t.Errorf("errors to both sides are said to stay: %+v", l)
		}
	}
	if all := of(t, same[0], same[0]).Lasting; len(all) != 0 {
		t.Errorf("one outing given twice is told to be two: %v", all)
	}
}

// renamed is a record of a satellite of another name.
func renamed(t *testing.T, record []byte) []byte {
	t.Helper()
	log, err := outing.Read(bytes.NewReader(record), "record.jsonl")
	if err != nil {
		t.Fatal(err)
	}
	var out scribe
	rec := outing.NewRecorder(&out, false)
	for _, r := range log.Records {
		switch e := r.Entry.(type) {
		case outing.PassEntry:
			e.Satellite = "OBJECT C"
			r.Entry = e
		case outing.ElementsEntry:
			e.Satellite = "OBJECT C"
			r.Entry = e
		}
		rec.Record(r.At, r.Entry)
	}
	if err := rec.Close(t.Context()); err != nil {
		t.Fatal(err)
	}
	return out.Bytes()
}

// The bursts of the table are those of the record, where they were held and
// where the satellite was.
func TestBurstTable(t *testing.T) {
	w := newWorld(t, 19)
	p := of(t, w.play(t)).Passes[0]
	if len(p.Bursts) != w.sent || p.Count(review.Heard) != w.heard {
		t.Fatalf("%d bursts, %d heard, want %d and %d", len(p.Bursts), p.Count(review.Heard), w.sent, w.heard)
	}
	for _, b := range p.Bursts {
		look, err := w.orbit.LookLate(w.site, b.Time, p.Estimates.TimeErrorS.Mean)
		if err != nil || math.Abs(look.ElevationDeg-b.Found.ElevationDeg) > 0.05 {
			t.Errorf("burst %d: found at %.2f°, want %.2f° (%v)", b.Number, b.Found.ElevationDeg, look.ElevationDeg, err)
		}
		if b.Source != review.BySensor && b.Source != review.ByHold || !b.AimErrorDeg.Known {
			t.Errorf("burst %d: held by %q, aim error %v", b.Number, b.Source, b.AimErrorDeg)
		}
	}
}
