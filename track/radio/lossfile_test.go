package radio

import (
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"

	"foreaim/track/internal/testtable"

	"github.com/google/go-cmp/cmp"
)

const bought = "# an invented filter\nfrequency_mhz,loss_db\n400,30\n437,1.5\n800,41\n"

func TestLossTable(t *testing.T) {
	f, err := ReadLossTable(strings.NewReader(bought), "f.csv")
	if err != nil {
		t.Fatal(err)
	}
	for mhz, want := range map[float64]float64{
		400: 30, 437: 1.5, 800: 41,
		math.Sqrt(437 * 800): (1.5 + 41) / 2, // half way by ratio
		math.Sqrt(400 * 437): (30 + 1.5) / 2,
	} {
		spans(t, "loss", f.LossDB(mhz), want, want, 1e-9)
	}
	for _, mhz := range []float64{399.9, 801} {
		if f.LossDB(mhz) != (Range{0, mostDB}) || f.Covers(mhz) {
			t.Errorf("%v MHz: %v", mhz, f.LossDB(mhz))
		}
	}
	if got, want := f.Words(399), "unknown at 399.0 MHz: the table goes from 400 to 800 MHz"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
	if got, want := f.Words(437), "1.5 dB at 437.0 MHz"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
	// In a chain: at most its loss is unknown, never its help.
	s := Stage{Kind: Filter, Response: f}
	near(t, "leak where unknown", s.assumed(unkind, 437).leakAt(900), 0, 0)
	near(t, "leak where known", s.assumed(unkind, 437).leakAt(800), -41, 0)
}

func TestLossTableRefuses(t *testing.T) {
	for text, want := range map[string]string{
		"frequency_mhz\n1\n":      `f.csv:1:1: column "loss_db" is missing`,
		"frequency_mhz,loss_db\n": "f.csv:1:1: no attenuation is in it",
		bought + "437,2\n":        "f.csv:6:1: 437 MHz is in line 4 already",
		bought + "500,-3\n":       `f.csv:6:5: loss_db is "-3", want a number of dB, 0 to 200`,
		bought + "0,3\n":          `f.csv:6:1: frequency_mhz is "0", want a number of MHz, 0.001 to 1000000`,
	} {
		got, err := ReadLossTable(strings.NewReader(text), "f.csv")
		var fault *FileError
		if got != nil || !errors.As(err, &fault) || err.Error() != want {
			t.Errorf("%v, want %s", err, want)
		}
	}
}

// What is read and written again is read as the same, and each point is told.
func FuzzReadLossTable(f *testing.F) {
	f.Add(bought)
	f.Add("loss_db,frequency_mhz\n-0,1e2\n3e1,4.37e2\n")
	f.Add("frequency_mhz,loss_db\n1,x\x1b[31m\n")
	f.Fuzz(func(t *testing.T, text string) {
		table, err := ReadLossTable(strings.NewReader(text), "f.csv")
		if err != nil {
			if table != nil {
				t.Errorf("%v beside %v", table, err)
			}
			testtable.Fault(t, text, err)
			return
		}
		var b strings.Builder
		b.WriteString("frequency_mhz,loss_db\n")
		for _, p := range table.Points() {
			fmt.Fprintf(&b, "%v,%v\n", p.MHz, p.DB)
		}
		again, err := ReadLossTable(strings.NewReader(b.String()), "f.csv")
		if err != nil {
			t.Fatalf("%v in\n%s", err, b.String())
		}
		if diff := cmp.Diff(table.Points(), again.Points()); diff != "" {
			t.Error(diff)
		}
		all := table.Points()
		for i, p := range all {
			if got := table.LossDB(p.MHz); got != Exactly(p.DB) {
				t.Fatalf("%v MHz: %v, want %v", p.MHz, got, p.DB)
			}
			if i == 0 {
				continue
			}
			a := all[i-1]
			if got := table.LossDB((a.MHz + p.MHz) / 2); got.Low < min(a.DB, p.DB)-1e-9 || got.High > max(a.DB, p.DB)+1e-9 {
				t.Fatalf("between %v and %v: %v", a, p, got)
			}
		}
	})
}
