//go:build unix

package main

import (
	"math"
	"time"

	"foreaim/track"
	"foreaim/track/outing"
)

// sent is a direction that the record has for a burst, from a true time on.
type sent struct {
	from  time.Time
	burst time.Time
	look  track.Look
}

// sentTo reads out of the record what was advised, and where the antenna was held.
func (r *passRun) sentTo() (advised, held []sent) {
	r.t.Helper()
	log, _ := readRecord(r.t, onlyRecord(r.t, r.state))
	for _, rec := range log.Records {
		switch e := rec.Entry.(type) {
		case outing.AdviceEntry:
			advised = append(advised, sent{rec.At, e.Time.Time, track.Look{AzimuthDeg: e.AzimuthDeg.Value, ElevationDeg: e.ElevationDeg.Value}})
		case outing.HoldEntry:
			held = append(held, sent{rec.At, e.Time.Time, track.Look{AzimuthDeg: e.AzimuthDeg.Value, ElevationDeg: e.ElevationDeg.Value}})
		}
	}
	return advised, held
}

// upTo tells of which burst something is: within the milliseconds that clock and
// record leave open.
func upTo(a, b time.Time) bool { return a.Sub(b).Abs() < 500*time.Millisecond }

// inForce returns what was advised for a burst at a time, and shortly before and
// after it: voice, screen and record are a moment apart.
func inForce(advised []sent, burst, at time.Time) (all []track.Look) {
	const apart = time.Second
	for i, a := range advised {
		over := i+1 < len(advised) && advised[i+1].from.Before(at.Add(-apart))
		if upTo(a.burst, burst) && !over && !a.from.After(at.Add(apart)) {
			all = append(all, a.look)
		}
	}
	return all
}

// rightFor tells what is wrong with a way for all that was advised then; "" when
// it is right for one.
func (w way) rightFor(last *track.Look, to []track.Look) string {
	off := "nothing was advised"
	for _, look := range to {
		if off = w.off(last, facingDeg, look); off == "" {
			return ""
		}
	}
	return off
}

// checkAdvised checks what was said and shown against the advice in the record,
// and that the advice is one that can be followed, about where the satellite may
// be.
func (r *passRun) checkAdvised() {
	t := r.t
	t.Helper()
	advised, held := r.sentTo()
	said := r.voice.said(t)
	spoken, compared := 0, 0
	for i := 1; i < len(r.bursts); i++ {
		burst := r.bursts[i].Time
		last, begins := &r.bursts[i-1], r.bursts[i-1].Time // the first by the elements
		for _, h := range held {
			if h.burst.Before(burst.Add(-time.Second)) {
				last, begins = &h.look, h.burst
			}
		}
		told := 0
		var first time.Time // instruction
		for _, s := range said {
			w, ok := spokenWay(s.text)
			if !ok || s.begun.Before(begins) || !s.begun.Before(burst) {
				continue
			}
			if told++; told == 1 {
				first = s.begun
			}
			if off := w.rightFor(last, inForce(advised, burst, s.begun)); off != "" {
				t.Errorf("burst %d: %q was said: %s", i, s.text, off)
			}
			if told > 1 && burst.Sub(s.begun).Seconds() < 2+math.Abs(w.turn)/10 {
				t.Errorf("burst %d: %q comes %.1f s before it: no hand follows", i, s.text, burst.Sub(s.begun).Seconds())
			}
		}
		if told == 0 {
			t.Errorf("burst %d: no instruction before it", i)
		}
		spoken += told
		for _, s := range r.shots {
			w, ok := shownWay(s.text)
			to := inForce(advised, burst, s.at)
			if !ok || len(to) == 0 || !s.at.Before(burst) || told == 0 || s.at.Before(first.Add(500*time.Millisecond)) {
				continue
			}
			compared++
			if off := w.rightFor(last, to); off != "" {
				t.Errorf("burst %d: %s\non the screen\n%s", i, off, s.text)
			}
		}
		r.checkSane(i, inForce(advised, burst, burst))
	}
	if bursts := len(r.bursts) - 1; spoken < bursts || compared < 3*bursts {
		t.Errorf("%d instructions and %d screens compared for %d bursts: too few to prove anything", spoken, compared, bursts)
	}
	for _, s := range said {
		t.Logf("%s %s", s.begun.Format("15:04:05.0"), s.text)
	}
}

// checkSane checks that an aim is in the sky, the first one near where the elements
// have the satellite, and the others not farther off its path, as long as it may be
// late or early, than a wrong north explains.
func (r *passRun) checkSane(number int, aims []track.Look) {
	r.t.Helper()
	const lateS, northDeg, firstDeg = 150, 35, 20 // about three, two and one standard deviations
	if len(aims) == 0 {
		r.t.Errorf("burst %d: nothing was advised", number)
		return
	}
	a := aims[len(aims)-1]
	nearest := math.Inf(1)
	for late := -lateS; late <= lateS; late += 5 {
		if number == 1 && late != 0 {
			continue
		}
		look, err := r.orbit.LookLate(r.site, r.bursts[number].Time, float64(late))
		if err != nil {
			r.t.Fatal(err)
		}
		nearest = min(nearest, track.SeparationDeg(a.AzimuthDeg, a.ElevationDeg, look.AzimuthDeg, look.ElevationDeg))
	}
	if within := map[bool]float64{true: firstDeg, false: northDeg}[number == 1]; nearest > within || a.ElevationDeg < 0 {
		r.t.Errorf("burst %d: %+v is advised, %.0f° from where the satellite can be", number, a, nearest)
	}
}
