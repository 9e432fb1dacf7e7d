package radio

import (
	"math"
	"slices"
	"sort"
)

// Band is a part of a sweep that stands out of its floor: one signal, or several
// without a gap.
type Band struct {
	LowMHz, HighMHz float64
	// OpenLow and OpenHigh: it reaches to the end of the sweep, or further.
	OpenLow, OpenHigh bool
	// Level is that of all of it, taking each point for the power around its
	// frequency, half way to the next ones. TopLevel is the median of its points.
	Level, TopLevel float64
	OverFloorDB     float64
}

// Occupancy is what a sweep shows.
type Occupancy struct {
	Bands   []Band  // by rising frequency
	Lines   []Point // too narrow to be a band: a carrier, or the receiver's own
	StepMHz float64 // from point to point: an edge is known no better
	NoiseDB float64 // scatter of a single point, one standard deviation

	sweep Sweep
	parts []stretch
}

const (
	leastBandPoints = 4
	// leastStepDB is how far anything has to stand out, however smooth the floor.
	leastStepDB = 3.0
	// sure is how many standard deviations it has to.
	sure = 3.5
	// leastLineDB is how far a single point has to.
	leastLineDB = 6.0
	// strongLineDB is from where on a line may matter to others.
	strongLineDB = 20.0
	// mostBands and mostLines are how many are looked at.
	mostBands = 200
	mostLines = 20
	// skirtDB is how far below its top a signal's side counts no more.
	skirtDB = 12.0
	// windowPoints on either side are looked at for an edge.
	windowPoints = 12
)

// Occupied finds the bands of a sweep, with edges to about one point, on a floor
// that may slope and ripple. It finds none where no floor is to be seen. A
// sweep of fewer than 32 points has neither bands nor lines.
func (s Sweep) Occupied() Occupancy {
	o := Occupancy{sweep: s, parts: s.stretches()}
	var noise []float64
	for i := range o.parts {
		part := &o.parts[i]
		o.StepMHz = part.stepMHz
		noise = append(noise, part.noise)
		runs := part.runs()
		for i := range runs {
			part.sharpen(runs, i)
		}
		runs = slices.DeleteFunc(runs, func(r run) bool { return r.to-r.from < leastBandPoints })
		for _, r := range runs {
			o.Bands = append(o.Bands, part.band(r))
		}
		o.Lines = append(o.Lines, part.lines(runs)...)
	}
	o.NoiseDB = median(noise)
	return o
}

// signals returns the strongest bands by rising frequency, and then the strongest
// lines, as bands of a single point.
func (o Occupancy) signals() []Band {
	var narrow []Band
	for _, l := range o.Lines {
		if over := l.Level - o.floorAt(l.MHz); over > strongLineDB {
			narrow = append(narrow, Band{LowMHz: l.MHz - o.StepMHz/2, HighMHz: l.MHz + o.StepMHz/2, Level: l.Level, TopLevel: l.Level, OverFloorDB: over})
		}
	}
	return slices.Concat(strongest(o.Bands, mostBands), strongest(narrow, mostLines))
}

// strongest leaves the weaker ones out, and the others in their order.
func strongest(bands []Band, most int) []Band {
	if len(bands) <= most {
		return bands
	}
	levels := make([]float64, len(bands))
	for i, b := range bands {
		levels[i] = -b.Level
	}
	least := -slices.Sorted(slices.Values(levels))[most-1]
	var all []Band
	for _, b := range bands {
		if b.Level >= least && len(all) < most {
			all = append(all, b)
		}
	}
	return all
}

// floorAt returns the floor near a frequency; -Inf where none is known.
func (o Occupancy) floorAt(mhz float64) float64 {
	best, level := math.Inf(1), math.Inf(-1)
	next := sort.Search(len(o.parts), func(i int) bool { return o.parts[i].points[0].MHz > mhz })
	for _, part := range o.parts[max(next-1, 0):min(next+1, len(o.parts))] {
		at := sort.Search(len(part.points), func(i int) bool { return part.points[i].MHz >= mhz })
		for _, i := range []int{at - 1, at} {
			if i < 0 || i == len(part.points) {
				continue
			}
			if d := math.Abs(part.points[i].MHz - mhz); d < best {
				best, level = d, part.floor[i]
			}
		}
	}
	return level
}

// run is from one point up to another, without it.
type run struct{ from, to int }

// over returns how far the median of the five points around one is above the
// floor: what is narrow doesn't count, edges stay where they are.
func (s *stretch) over() []float64 {
	all := make([]float64, len(s.points))
	for i := range all {
		var five [5]float64
		n := 0
		for k := max(i-2, 0); k <= min(i+2, len(all)-1); k++ {
			five[n] = s.points[k].Level
			n++
		}
		slices.Sort(five[:n])
		all[i] = five[n/2] - s.floor[i]
	}
	return all
}

// runs returns what is above the floor for long enough.
func (s *stretch) runs() []run {
	limit := max(leastStepDB, sure*s.scatter)
	var all []run
	for i, d := range s.over() {
		if d < limit {
			continue
		}
		if last := len(all) - 1; last >= 0 && i-all[last].to <= 2 {
			all[last].to = i + 1
		} else {
			all = append(all, run{i, i + 1})
		}
	}
	return slices.DeleteFunc(all, func(r run) bool { return r.to-r.from < leastBandPoints-1 })
}

// sharpen moves both ends of a run to where outside and inside are told apart
// best.
func (s *stretch) sharpen(runs []run, i int) {
	r := &runs[i]
	before, after := 0, len(s.points)
	if i > 0 {
		before = runs[i-1].to
	}
	if i+1 < len(runs) {
		after = runs[i+1].from
	}
	inside := min(windowPoints, max((r.to-r.from)/2, 2))
	from, to := r.from, r.to
	if from > 0 {
		from = s.edge(r.from, +1, min(windowPoints, r.from-before), inside)
	}
	if to < len(s.points) {
		to = s.edge(r.to-1, -1, min(windowPoints, after-r.to), inside) + 1
	}
	r.from, r.to = from, max(to, from)
}

// edge returns the outermost point of a band near point k, whose inside lies in
// a direction: the sum of squares is least, inside against the band's top there
// and outside against the floor. What is far below the top counts as outside.
func (s *stretch) edge(k, inwards, outside, inside int) int {
	var top []float64
	for n := range inside {
		top = append(top, s.points[k+inwards*n].Level)
	}
	high := quantile(top, 0.6)
	cost := func(i int, in bool) float64 {
		low := max(s.floor[i], high-skirtDB)
		level := min(max(s.points[i].Level, low-1), high+1)
		if in {
			return (level - high) * (level - high)
		}
		return (level - low) * (level - low)
	}
	// To begin with all is inside; then one point after the other goes outside.
	best, least, sum := k-inwards*outside, math.Inf(1), 0.0
	for n := -outside; n < inside; n++ {
		if sum < least {
			best, least = k+inwards*n, sum
		}
		i := k + inwards*n
		sum += cost(i, false) - cost(i, true)
	}
	return best
}

func (s *stretch) band(r run) Band {
	half := s.stepMHz / 2
	b := Band{
		LowMHz: s.points[r.from].MHz - half, HighMHz: s.points[r.to-1].MHz + half,
		OpenLow: r.from == 0, OpenHigh: r.to == len(s.points),
	}
	levels, over := make([]float64, 0, r.to-r.from), make([]float64, 0, r.to-r.from)
	for i := r.from; i < r.to; i++ {
		levels = append(levels, s.points[i].Level)
		over = append(over, s.points[i].Level-s.floor[i])
	}
	b.Level, b.TopLevel, b.OverFloorDB = SumDBm(levels...), median(levels), median(over)
	return b
}

// lines returns what is narrow, the highest point of each.
func (s *stretch) lines(bands []run) []Point {
	limit := max(leastLineDB, 2*sure*s.noise, sure*s.scatter)
	var all []Point
	last := -2
	for i, p := range s.points {
		for len(bands) > 0 && i > bands[0].to {
			bands = bands[1:]
		}
		if p.Level-s.floor[i] < limit || len(bands) > 0 && i >= bands[0].from-1 {
			continue
		}
		if n := len(all) - 1; i == last+1 {
			if p.Level > all[n].Level {
				all[n] = p
			}
		} else {
			all = append(all, p)
		}
		last = i
	}
	return all
}
