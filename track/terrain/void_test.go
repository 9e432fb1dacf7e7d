package terrain

import (
	"errors"
	"math"
	"testing"

	"foreaim/track/terrain/landscape"
)

func TestVoids(t *testing.T) {
	nan := math.NaN()
	for _, c := range []struct {
		name string
		hole func(row, col int) bool
		rise float64 // a sample eastwards
		want float64 // NaN: not known
	}{
		{"one sample", func(r, c int) bool { return r == 600 && c == 600 }, 4, 1000},
		{"three by three", func(r, c int) bool { return r > 598 && r < 602 && c > 598 && c < 602 }, 4, 1000},
		{"a column of three", func(r, c int) bool { return c > 598 && c < 602 }, 4, 1000},
		{"four by four", func(r, c int) bool { return r > 598 && r < 603 && c > 598 && c < 603 }, 4, nan},
		{"steep", func(r, c int) bool { return c == 600 }, 26, nan},
		{"steep across, level along", func(r, c int) bool { return r == 600 }, 8, 1000},
		{"at the edge", func(r, c int) bool { return c <= 600 }, 1, nan},
	} {
		tiles := only("N58E014.hgt", landscape.Tile(func(lat, lon float64) float64 {
			row, col := int(math.Round((59-lat)*1200)), int(math.Round((lon-14)*1200))
			if c.hole(row, col) {
				return nan
			}
			return min(max(0, 1000+c.rise*float64(col-600)), 9000)
		}, 58, 14, 1201))
		got, err := tiles.HeightM(58.5, 14.5)
		if math.IsNaN(c.want) {
			var void *VoidError
			if !errors.As(err, &void) || math.Abs(void.LatitudeDeg-58.5) > 1e-3 || math.Abs(void.LongitudeDeg-14.5) > 1e-3 {
				t.Errorf("%s: %v, %v, want unknown", c.name, got, err)
			}
			continue
		}
		if err != nil {
			t.Error(c.name, err)
		}
		near(t, c.name, got, c.want, 1e-6)
	}
}
