package radio

import (
	"fmt"
	"math"
	"sort"
)

// Origin is where a signal is made, as far as an attenuator tells.
type Origin string

// The origins.
const (
	FromOutside Origin = "comes in by the antenna"
	InReceiver  Origin = "made in the receiver"
	BehindPad   Origin = "gets in behind the attenuator"
	NotTold     Origin = "not told"
)

// Drop is how something changed when an attenuator was put in front of
// everything.
type Drop struct {
	LowMHz, HighMHz float64
	PadDB           float64
	// FellDB is by how much it fell. Its High is +Inf where it fell into the
	// noise: then it may have fallen by more.
	FellDB Range
	Order  int // of the product, 2 or 3, by how fast it fell; 0: not told
	Origin Origin
	Words  string
}

const (
	// padErrorDB is how far an attenuator and a receiver's scale may be off
	// together, or a quarter of the attenuator (common practice, no source).
	padErrorDB = 2.0
	// readErrorDB is how far off two readings by eye may be (common practice).
	readErrorDB = 2.0
	// buriedDB is how near to the floor a level tells nothing any more.
	buriedDB = 3.0
)

// judge says where a signal is made: what comes from outside falls by as much as
// was put in, products of second order by twice and of third order by three times
// that (the definition of the intercept points; ITU-R SM.1134), what gets in
// behind the attenuator not at all. It is told only when all that the noise
// leaves possible agrees.
func (d *Drop) judge() {
	within := max(padErrorDB, d.PadDB/4)
	buried := math.IsInf(d.FellDB.High, 1)
	fell := "fell by " + d.FellDB.String() + " dB"
	if buried {
		fell = fmt.Sprintf("fell by at least %.0f dB", d.FellDB.Low)
	}
	d.Origin = NotTold
	switch {
	case d.FellDB.Low > d.PadDB+within:
		d.Origin = InReceiver
		d.Order = d.order(within)
		d.Words = fmt.Sprintf("%s, more than the %.0f put in: made in the receiver", fell, d.PadDB)
	case buried:
		d.Words = fell + " into the noise: a smaller attenuator would tell"
	case d.FellDB.High < -roseDB:
		d.Words = "rose: the receiver was compressed, and gets its gain back"
	case d.FellDB.High < min(within, d.PadDB/2):
		d.Origin = BehindPad
		d.Words = "didn't fall: it doesn't come by the antenna, or the receiver is overloaded so far that nothing gets louder"
	case d.FellDB.Low >= d.PadDB-within && d.FellDB.High <= d.PadDB+within:
		d.Origin = FromOutside
		d.Words = fell + ", as much as was put in: it comes in by the antenna"
	case d.compressed():
		d.Words = fmt.Sprintf("%s, less than the %.0f put in: the receiver was compressed, or its gain isn't fixed", fell, d.PadDB)
	default:
		d.Words = fmt.Sprintf("%s of %.0f: too uncertain to tell", fell, d.PadDB)
	}
}

// compressed says whether it fell by less than was put in, but fell.
func (d Drop) compressed() bool {
	within := max(padErrorDB, d.PadDB/4)
	return d.FellDB.High < d.PadDB-within && d.FellDB.High >= min(within, d.PadDB/2)
}

// order returns that of a product: what is off by a little shows as often.
func (d Drop) order(within float64) int {
	fits := func(n float64) bool {
		return d.FellDB.Low >= n*(d.PadDB-within) && d.FellDB.High <= n*(d.PadDB+within)
	}
	switch {
	case fits(2) && !fits(3):
		return 2
	case fits(3) && !fits(2):
		return 3
	}
	return 0
}

// Drops compares the bands and strong lines of a sweep with what is there behind an
// attenuator, all else unchanged; the gain above all: an automatic one makes up for
// it.
func Drops(plain, padded Occupancy) []Drop {
	var all []Drop
	for _, b := range plain.signals() {
		if d, both := fell(plain, padded, b.LowMHz, b.HighMHz); both {
			if after := padded.sweep.between(b.LowMHz, b.HighMHz); median(after) < padded.floorAt((b.LowMHz+b.HighMHz)/2)+buriedDB {
				d.FellDB.High = math.Inf(1)
			}
			d.judge()
			all = append(all, d)
		}
	}
	return all
}

// FloorDrop compares what is between two frequencies, be it a signal or the
// noise; false where either sweep has no points there. It may have fallen to the
// receiver's own noise, and could fall no further: a fall by no more than was put
// in is then no proof.
func FloorDrop(plain, padded Occupancy, lowMHz, highMHz float64) (Drop, bool) {
	d, both := fell(plain, padded, lowMHz, highMHz)
	if both {
		d.judge()
	}
	return d, both
}

func fell(plain, padded Occupancy, lowMHz, highMHz float64) (Drop, bool) {
	before, after := plain.sweep.between(lowMHz, highMHz), padded.sweep.between(lowMHz, highMHz)
	if len(before) == 0 || len(after) == 0 {
		return Drop{}, false
	}
	by := median(before) - median(after)
	// Three standard deviations of the difference of two medians, each with 1.25
	// times that of a mean.
	off := 3 * 1.25 * math.Hypot(plain.NoiseDB/math.Sqrt(float64(len(before))), padded.NoiseDB/math.Sqrt(float64(len(after))))
	return Drop{
		LowMHz: lowMHz, HighMHz: highMHz, PadDB: padded.sweep.AttenuatorDB - plain.sweep.AttenuatorDB,
		FellDB: Range{by - off, by + off},
	}, true
}

// between returns the levels between two frequencies.
func (s Sweep) between(lowMHz, highMHz float64) []float64 {
	from := sort.Search(len(s.Points), func(i int) bool { return s.Points[i].MHz >= lowMHz })
	var all []float64
	for _, p := range s.Points[from:] {
		if p.MHz > highMHz {
			break
		}
		all = append(all, p.Level)
	}
	return all
}

// same says whether two readings are of one signal: they have half of the
// narrower one in common.
func (p Peak) same(q Peak) bool {
	common := min(p.HighMHz, q.HighMHz) - max(p.LowMHz, q.LowMHz)
	return common >= 0 && common >= min(p.HighMHz-p.LowMHz, q.HighMHz-q.LowMHz)/2
}

// PeakDrops compares signals that were read with and without an attenuator, the
// antenna and the preamplifier as they were: each that was seen at the least
// attenuation with the same one at the next.
func PeakDrops(peaks []Peak) []Drop {
	var all []Drop
	for i, p := range peaks {
		next := -1
		for k, q := range peaks {
			same := q.AzimuthDeg == p.AzimuthDeg && q.Preamplifier == p.Preamplifier && p.same(q)
			switch {
			case !same || k == i:
			case q.AttenuatorDB < p.AttenuatorDB:
				next = len(peaks) // not the least
			case q.AttenuatorDB > p.AttenuatorDB && (next < 0 || next < len(peaks) && q.AttenuatorDB < peaks[next].AttenuatorDB):
				next = k
			}
		}
		if next < 0 || next == len(peaks) {
			continue
		}
		q := peaks[next]
		d := Drop{LowMHz: p.LowMHz, HighMHz: p.HighMHz, PadDB: q.AttenuatorDB - p.AttenuatorDB,
			FellDB: Range{p.Level - q.Level - readErrorDB, p.Level - q.Level + readErrorDB}}
		d.judge()
		all = append(all, d)
	}
	return all
}
