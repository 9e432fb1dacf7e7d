package radio

import (
	"cmp"
	"io"
	"maps"
	"slices"
	"sort"

	"foreaim/track/internal/csvfile"
)

// FileError is what is wrong with a file, and where.
type FileError = csvfile.Error

// Pattern is a measured antenna: its gain by frequency and angle off the axis,
// the same all around the axis. A nil pattern knows nothing.
type Pattern struct {
	frequenciesMHz []float64 // rising
	cuts           [][]gain  // by frequency; each by rising angle
}

type gain struct{ angleDeg, dBi float64 }

// GainDBi returns the gain at a frequency and an angle off the axis, and whether
// the table tells it: between its angles, by straight lines in dB, and between
// its frequencies, where both neighbours' gains and all between are possible.
func (p *Pattern) GainDBi(frequencyMHz, offAxisDeg float64) (Range, bool) {
	if p == nil {
		return Range{}, false
	}
	i := sort.SearchFloat64s(p.frequenciesMHz, frequencyMHz)
	if i == len(p.frequenciesMHz) || i == 0 && frequencyMHz < p.frequenciesMHz[0] {
		return Range{}, false
	}
	above, known := along(p.cuts[i], offAxisDeg)
	if !known || p.frequenciesMHz[i] == frequencyMHz {
		return Exactly(above), known
	}
	below, known := along(p.cuts[i-1], offAxisDeg)
	return Range{min(above, below), max(above, below)}, known
}

// along reads one cut.
func along(cut []gain, angleDeg float64) (float64, bool) {
	i := sort.Search(len(cut), func(i int) bool { return cut[i].angleDeg >= angleDeg })
	switch {
	case i == len(cut):
		return 0, false
	case cut[i].angleDeg == angleDeg:
		return cut[i].dBi, true
	case i == 0:
		return 0, false
	}
	a, b := cut[i-1], cut[i]
	return a.dBi + (b.dBi-a.dBi)*(angleDeg-a.angleDeg)/(b.angleDeg-a.angleDeg), true
}

const maxPatternFile = 4 << 20 // bytes

// ReadPattern reads an antenna as CSV: the columns frequency_mhz, angle_deg (off
// the axis, 0 to 180) and gain_dbi, a line a point, in any order. Each angle
// once a frequency. The name of the file is for the error, a *FileError.
func ReadPattern(r io.Reader, file string) (*Pattern, error) {
	t := csvfile.Open(r, file, csvfile.Format{What: "an antenna's pattern", Needs: []string{"frequency_mhz", "angle_deg", "gain_dbi"}, MaxBytes: maxPatternFile})
	cuts := map[float64][]gain{}
	lines := map[[2]float64]int{}
	for t.Next() {
		f := t.Number("frequency_mhz", 0.001, 1e6)
		g := gain{t.Number("angle_deg", 0, 180), t.Number("gain_dbi", -100, 60)}
		if line, there := lines[[2]float64{f, g.angleDeg}]; there {
			t.Fail("angle_deg", "keep one of the two", "%v degrees at %v MHz are in line %d already", g.angleDeg, f, line)
		}
		lines[[2]float64{f, g.angleDeg}] = t.Line()
		cuts[f] = append(cuts[f], g)
	}
	if err := t.Err(); err != nil {
		return nil, err
	}
	p := &Pattern{frequenciesMHz: slices.Sorted(maps.Keys(cuts))}
	for _, f := range p.frequenciesMHz {
		slices.SortFunc(cuts[f], func(a, b gain) int { return cmp.Compare(a.angleDeg, b.angleDeg) })
		p.cuts = append(p.cuts, cuts[f])
	}
	return p, nil
}
