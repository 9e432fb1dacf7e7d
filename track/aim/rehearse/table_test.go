package rehearse

import (
	"context"
	"fmt"
	"os"
	"strconv"
	"strings"
	"testing"
	"time"
)

type row struct {
	timeS, headingDeg, marginDB, beamDeg float64
	lead, leadAny, known                 float64
}

var rows = []row{
	{10, 10, 6, 50, 0.83, 1.00, 0.88},
	{60, 15, 6, 50, 0.68, 0.98, 0.88},
	{120, 20, 6, 50, 0.48, 0.88, 0.89},
	{180, 15, 6, 50, 0.39, 0.81, 0.89},
	{60, 30, 4, 40, 0.30, 0.76, 0.70},
}

func TestTable(t *testing.T) {
	n, _ := strconv.Atoi(os.Getenv("PASSES"))
	if n == 0 {
		n = 100
	}
	for i, r := range rows {
		if o := os.Getenv("ROWS"); o != "" && !strings.Contains(o, strconv.Itoa(i+1)) {
			continue
		}
		s := Default()
		s.Passes, s.TimeErrorS, s.HeadingErrorDeg, s.MarginDB, s.BeamwidthDeg = n, r.timeS, r.headingDeg, r.marginDB, r.beamDeg
		s.AimErrorDeg, s.FadingDB = 0, 0
		if os.Getenv("REAL") != "" {
			s.AimErrorDeg, s.FadingDB = 8, 5
		}
		t0 := time.Now()
		res, err := Run(context.Background(), s, nil)
		if err != nil {
			t.Fatal(err)
		}
		gap := (res[Learn].HeardShare - res[Lead].HeardShare) / (res[Known].HeardShare - res[Lead].HeardShare)
		fmt.Printf("%v follow %.3f lead %.3f %.2f learn %.3f %.3f known %.3f gap %.3f   %v\n", r,
			res[Follow].HeardShare, res[Lead].HeardShare, res[Lead].AnyShare, res[Learn].HeardShare, res[Learn].AnyShare, res[Known].HeardShare, gap, time.Since(t0))
	}
}
