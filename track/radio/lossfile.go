package radio

import (
	"cmp"
	"fmt"
	"io"
	"math"
	"slices"
	"sort"

	"foreaim/track/internal/csvfile"
)

// LossPoint is an attenuation in dB at a frequency.
type LossPoint struct{ MHz, DB float64 }

// LossTable is a bought or measured filter: its attenuation by frequency.
type LossTable struct {
	points []LossPoint // by rising frequency; at least one
}

const maxLossFile = 4 << 20 // bytes

// ReadLossTable reads a filter as CSV: the columns frequency_mhz and loss_db
// (positive: it takes off; 0 to 200), a line a point, in any order. Each frequency
// once. The name of the file is for the error, a *FileError.
func ReadLossTable(r io.Reader, file string) (*LossTable, error) {
	t := csvfile.Open(r, file, csvfile.Format{What: "a filter's attenuation", Needs: []string{"frequency_mhz", "loss_db"}, MaxBytes: maxLossFile})
	table := &LossTable{}
	lines := map[float64]int{}
	for t.Next() {
		p := LossPoint{t.Number("frequency_mhz", 0.001, 1e6), t.Number("loss_db", 0, limitDB)}
		if line, there := lines[p.MHz]; there {
			t.Fail("frequency_mhz", "keep one of the two", "%v MHz is in line %d already", p.MHz, line)
		}
		lines[p.MHz] = t.Line()
		table.points = append(table.points, p)
	}
	if err := t.Err(); err != nil {
		return nil, err
	}
	if len(table.points) == 0 {
		return nil, &FileError{File: file, Line: 1, Column: 1, What: "no attenuation is in it", Advice: "add a line for each frequency, such as 437,1.2"}
	}
	slices.SortFunc(table.points, func(a, b LossPoint) int { return cmp.Compare(a.MHz, b.MHz) })
	return table, nil
}

// Points returns the table by rising frequency.
func (t *LossTable) Points() []LossPoint { return slices.Clone(t.points) }

// Covers returns whether the table tells the attenuation at a frequency.
func (t *LossTable) Covers(mhz float64) bool {
	return mhz >= t.points[0].MHz && mhz <= t.points[len(t.points)-1].MHz
}

// LossDB implements Response: between the table's frequencies by straight lines in
// dB over the logarithm of the frequency. Outside them nothing is known: from
// nothing to as much as is ever asked for.
func (t *LossTable) LossDB(mhz float64) Range {
	if !t.Covers(mhz) {
		return Range{0, mostDB}
	}
	i := sort.Search(len(t.points), func(i int) bool { return t.points[i].MHz >= mhz })
	b := t.points[i]
	if b.MHz == mhz {
		return Exactly(b.DB)
	}
	a := t.points[i-1]
	return Exactly(a.DB + (b.DB-a.DB)*math.Log(mhz/a.MHz)/math.Log(b.MHz/a.MHz))
}

// Words tells the attenuation at a frequency, or that the table doesn't.
func (t *LossTable) Words(mhz float64) string {
	if !t.Covers(mhz) {
		return fmt.Sprintf("unknown at %.1f MHz: the table goes from %v to %v MHz", mhz, t.points[0].MHz, t.points[len(t.points)-1].MHz)
	}
	return fmt.Sprintf("%s dB at %.1f MHz", t.LossDB(mhz), mhz)
}
