package main

import (
	"time"

	"foreaim/track/beacon"
	"foreaim/track/outing"
)

// periodSigma is how far a stated period may be off, as a share of it.
const periodSigma = 0.001

// findSchedule finds out when the bursts were, where that isn't known: by the
// marks, and by the first of them where they don't agree. What is not marked
// says nothing here, so that only the marks count as listened to.
func (m *matching) findSchedule() error {
	if m.prior.Schedule.Known() {
		return nil
	}
	ear := m.ear
	if ear == (outing.Ear{}) {
		ear = outing.DefaultEar()
	}
	reaction := ear.Reaction + (ear.WaterfallLeast+ear.WaterfallMost)/2 + m.prior.Schedule.Length
	scatter := ear.Scatter + (ear.WaterfallMost-ear.WaterfallLeast)/4
	var (
		marks    []beacon.Mark
		listened []beacon.Interval
	)
	for _, mark := range m.marks {
		if heard(mark) {
			at := mark.At.Add(-reaction)
			marks = append(marks, beacon.Mark{Time: at, SigmaS: max(0.1, scatter.Seconds())})
			listened = append(listened, beacon.Interval{From: at.Add(-2 * time.Second), To: at.Add(2 * time.Second)})
		}
	}
	prior := beacon.Prior{Schedule: m.prior.Schedule}
	if prior.Schedule.Period > 0 {
		prior.PeriodSigma = periodSigma
	}
	learned, err := beacon.Learn(prior, marks, listened)
	if err != nil {
		return wrong("", "%w", err)
	}
	if found, ok := learned.Schedule(marks[0].Time.Add(-2 * time.Second)); ok && found.Known() {
		m.prior.Schedule = found
		return nil
	}
	if m.prior.Schedule.Period == 0 {
		return noPeriod(m.reference)
	}
	m.prior.Schedule.First = marks[0].Time
	return nil
}
