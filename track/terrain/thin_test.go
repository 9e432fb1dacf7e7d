package terrain

import (
	"math"
	"math/rand/v2"
	"testing"
)

// A skyline that was thinned stays as near as it was told to, at its bends and
// between, and what is straight needs no points.
func TestThin(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 11))
	for i := range 50 {
		s := roughSkyline(t, r)
		fine := make([]Point, 0, 720)
		for az := 0.0; az < 360; az += 0.5 {
			fine = append(fine, Point{az, s.ElevationDeg(az)})
		}
		whole := mustSkyline(t, fine...)
		within := []float64{0.05, 0.5, 3}[i%3]
		thin := whole.Thin(within)
		if got := len(thin.Points()); got >= 500 || got < 2 {
			t.Errorf("%d points are left", got)
		}
		for az := 0.0; az < 360; az += 0.1 {
			if off := math.Abs(thin.ElevationDeg(az) - whole.ElevationDeg(az)); off > within+1e-9 {
				t.Fatalf("%v° off at %v°, want %v", off, az, within)
			}
		}
	}
	few := mustSkyline(t, Point{10, 3}, Point{200, 5})
	if got := few.Thin(1).Points(); len(got) != 2 {
		t.Error(got)
	}
}
